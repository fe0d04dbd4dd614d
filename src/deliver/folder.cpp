#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <system_error>

#include "deliver/files.hpp"

namespace skewback {
namespace deliver {
namespace {

namespace fs = std::filesystem;

Fault folder_fault(const fs::path& path, const std::string& found, const std::string& expected,
                   const std::string& change) {
  Fault fault;
  fault.file = path.string();
  fault.key = "output folder";
  fault.found = found;
  fault.expected = expected;
  fault.change = change;
  return fault;
}

// Gone when it goes out of scope, whatever happened.
struct TemporaryFolder {
  fs::path path;
  explicit TemporaryFolder(fs::path p) : path(std::move(p)) {}
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path, ignored);
  }
};

bool write_file(const fs::path& path, const std::string& bytes) {
  std::ofstream stream(path, std::ios::binary);
  stream.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  stream.close();
  return stream.good();
}

bool may_replace(const fs::path& out) {
  std::error_code error;
  return fs::is_directory(out, error) &&
         (fs::is_empty(out, error) || fs::exists(out / "summary.json", error));
}

// With an `out` already there the two folders change places, so that there is always one complete
// folder under the name.
bool swap_in(const fs::path& ready, const fs::path& out) {
  if (::renameat2(AT_FDCWD, ready.c_str(), AT_FDCWD, out.c_str(), RENAME_NOREPLACE) == 0) {
    return true;
  }
  if (errno == EEXIST || errno == ENOTEMPTY) {
    if (::renameat2(AT_FDCWD, ready.c_str(), AT_FDCWD, out.c_str(), RENAME_EXCHANGE) == 0) {
      return true;
    }
  }
  if (errno != EINVAL && errno != ENOSYS) return false;
  // File systems that know neither flag: two steps.
  const fs::path old = ready.string() + "-old";
  std::error_code error;
  if (fs::exists(out)) fs::rename(out, old, error);
  if (error) return false;
  fs::rename(ready, out, error);
  if (error) {
    std::error_code ignored;
    fs::rename(old, out, ignored);
    return false;
  }
  fs::remove_all(old, error);
  return true;
}

}  // namespace

Result<std::vector<std::string>> place_folder(const std::vector<OutputFile>& files,
                                              const fs::path& out_given, const Progress& progress) {
  std::error_code error;
  fs::path out = fs::absolute(out_given, error).lexically_normal();
  if (out.filename().empty()) out = out.parent_path();
  if (fs::exists(out, error) && !may_replace(out)) {
    return folder_fault(out, "something that no earlier run wrote (no summary.json in it)",
                        "a new name, an empty folder, or the folder of an earlier run",
                        "choose another name with --out");
  }
  const fs::path parent = out.parent_path();
  fs::create_directories(parent, error);
  const TemporaryFolder temporary(
      parent / ("." + out.filename().string() + ".part-" + std::to_string(::getpid())));
  fs::remove_all(temporary.path, error);
  std::vector<std::string> written;
  for (const OutputFile& file : files) {
    progress.checkpoint("deliver", 0.9 + 0.1 * static_cast<double>(written.size()) /
                                             static_cast<double>(files.size()));
    const fs::path path = temporary.path / file.path;
    fs::create_directories(path.parent_path(), error);
    if (error || !write_file(path, file.bytes)) {
      return folder_fault(path, "could not be written", "a place with room and permission to write",
                          "choose another folder with --out");
    }
    written.push_back(file.path);
  }
  progress.checkpoint("deliver", 1.0);
  if (!swap_in(temporary.path, out)) {
    return folder_fault(out, std::string("could not be put in place: ") + std::strerror(errno),
                        "a folder that may be renamed", "choose another folder with --out");
  }
  return written;
}

}  // namespace deliver

Result<std::vector<std::string>> write_folder(const Dossier& dossier,
                                              const std::filesystem::path& out,
                                              const Progress& progress) {
  return deliver::place_folder(deliver::make_files(dossier, progress), out, progress);
}

}  // namespace skewback
