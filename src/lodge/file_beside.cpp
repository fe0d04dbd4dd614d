#include "lodge/file_beside.hpp"

namespace skewback::lodge {
namespace {

namespace fs = std::filesystem;
constexpr std::uintmax_t kBriefMost_bytes = 10'000'000;

Fault refused(const std::string& name, const std::string& expected) {
  return {"", 0, 0, "with", name, expected, ""};
}

}  // namespace

Result<fs::path> file_beside(const fs::path& folder, const std::string& name) {
  const bool plain = !name.empty() && name.size() <= 200 && name.front() != '.' &&
                     name.find_first_of(std::string("/\\\0", 3)) == std::string::npos &&
                     name.ends_with(".toml");
  if (!plain) return refused(name, "the name of a brief beside this one, such as flatter.toml");
  std::error_code error;
  const fs::path home = fs::canonical(folder, error);
  if (error) return refused(name, "a folder that is there");
  const fs::path file = fs::canonical(home / name, error);
  if (error || !fs::is_regular_file(file, error))
    return refused(name, "a file that is in this folder");
  if (file.parent_path() != home) return refused(name, "a file of this folder, no link out of it");
  if (fs::file_size(file, error) > kBriefMost_bytes || error)
    return refused(name, "a brief of at most 10 MB");
  return file;
}

}  // namespace skewback::lodge
