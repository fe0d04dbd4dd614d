#include <algorithm>
#include <fstream>

#include "lodge/compare.hpp"

namespace skewback::lodge {
namespace {

// A line that opens the plan: "[plan]", "[[plan.support]]", "plan.outline = ...".
bool speaks_of_a_plan(const std::filesystem::path& file) {
  std::ifstream stream(file);
  std::string line;
  while (std::getline(stream, line)) {
    const auto first = line.find_first_not_of(" \t[");
    if (first != std::string::npos && line.compare(first, 4, "plan") == 0) return true;
  }
  return false;
}

}  // namespace

std::vector<std::string> briefs_beside(const std::filesystem::path& folder,
                                       const std::string& open) {
  std::vector<std::string> names;
  std::error_code error;
  for (std::filesystem::directory_iterator at(folder, error), end; !error && at != end;
       at.increment(error)) {
    const std::string name = at->path().filename().string();
    std::error_code of_file;
    if (at->path().extension() == ".toml" && name != open && at->is_regular_file(of_file) &&
        speaks_of_a_plan(at->path()))
      names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace skewback::lodge
