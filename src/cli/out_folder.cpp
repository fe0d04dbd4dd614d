#include "cli/out_folder.hpp"

#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <system_error>

#include "cli/commands.hpp"

namespace skewback::cli {
namespace {

namespace fs = std::filesystem;

bool holds_our_summary(const fs::path& folder) {
  std::ifstream in(folder / "summary.json", std::ios::binary);
  const auto summary = nlohmann::json::parse(in, nullptr, false);
  return summary.is_object() && summary.contains("ok") && summary.contains("required");
}

bool lies_in(const fs::path& file, const fs::path& folder) {
  std::error_code error;
  const fs::path relative =
      fs::proximate(fs::weakly_canonical(file, error), fs::weakly_canonical(folder, error), error);
  return !error && !relative.empty() && *relative.begin() != "..";
}

}  // namespace

std::optional<Fault> out_fault(const fs::path& out, const fs::path& brief) {
  std::error_code error;
  const fs::file_status status = fs::status(out, error);
  if (!fs::exists(status)) return std::nullopt;
  const Fault fault{out.string(),
                    0,
                    0,
                    "",
                    "",
                    "a new name, an empty folder, or the folder of an earlier run",
                    "choose another with --out"};
  Fault found = fault;
  if (!fs::is_directory(status))
    found.found = "a file of that name";
  else if (lies_in(brief, out))
    found.found = "the folder that the brief is in, which would be replaced";
  else if (!fs::is_empty(out, error) && !holds_our_summary(out))
    found.found = "a folder with other things in it";
  else
    return std::nullopt;
  return found;
}

int write_and_tell(const Dossier& dossier, const fs::path& out, bool json, ProgressLine& line,
                   const std::function<void(std::size_t files)>& report) {
  const Result<std::vector<std::string>> files = write_folder(dossier, out, line.progress());
  line.clear();
  if (!files) {
    print_faults(files.faults(), json);
    return kBadInput;
  }
  if (json)
    std::cout << summary_json(dossier, true);
  else
    report(files->size());
  return dossier.all_required_pass() ? kDone : kNotPassed;
}

}  // namespace skewback::cli
