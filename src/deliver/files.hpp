#pragma once
// The content of an output folder as values, before any of it touches the disk.

#include <string>
#include <vector>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

struct OutputFile {
  std::string path;  // relative, with forward slashes
  std::string bytes;
};

/// Every file of the folder, summary.json first. Throws Interrupted when asked to stop.
[[nodiscard]] std::vector<OutputFile> make_files(const Dossier& dossier, const Progress& progress);

/// Writes them beside `out` and moves the folder into place in one step. An existing `out` is
/// replaced only if it is empty or holds a summary.json. Throws Interrupted when asked to stop;
/// `out` is then as it was and nothing is left beside it.
[[nodiscard]] Result<std::vector<std::string>> place_folder(const std::vector<OutputFile>& files,
                                                            const std::filesystem::path& out,
                                                            const Progress& progress);

}  // namespace skewback::deliver
