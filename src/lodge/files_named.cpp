#include "lodge/files_named.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <map>

namespace skewback::lodge {
namespace {

namespace fs = std::filesystem;
using Named = std::multimap<std::string, std::string>;  // key and what it names

void collect(const toml::node& node, const std::string& path, Named& named) {
  if (const toml::table* table = node.as_table()) {
    for (const auto& [key, value] : *table) {
      const std::string name(key.str()), below = path.empty() ? name : path + "." + name;
      if (name == "file" && value.is_string())
        named.emplace(below, value.as_string()->get());
      else
        collect(value, below, named);
    }
  } else if (const toml::array* array = node.as_array()) {
    for (std::size_t i = 0; i < array->size(); ++i)
      collect((*array)[i], path + "[" + std::to_string(i + 1) + "]", named);
  }
}

Named files_of(const std::string& text) {
  Named named;
  try {
    collect(toml::parse(text), "", named);
  } catch (const toml::parse_error&) {
    named.clear();  // whoever reads it as a brief says where it is wrong
  }
  return named;
}

bool inside(const std::string& written, const fs::path& folder) {
  if (written.find('\0') != std::string::npos) return false;
  std::error_code error;
  const fs::path home = fs::canonical(folder, error);
  if (error) return false;
  const fs::path file = fs::weakly_canonical(home / written, error);
  if (error) return false;
  return std::mismatch(home.begin(), home.end(), file.begin(), file.end()).first == home.end();
}

}  // namespace

std::optional<Faults> names_elsewhere(const std::string& before, const std::string& changed,
                                      const fs::path& folder) {
  const Named was = files_of(before);
  Faults faults;
  for (const auto& [key, written] : files_of(changed)) {
    const bool stood = std::any_of(was.begin(), was.end(),
                                   [&](const auto& file) { return file.second == written; });
    if (!stood && !inside(written, folder))
      faults.push_back({"", 0, 0, key, written, "a file in the folder of the brief", ""});
  }
  if (faults.empty()) return std::nullopt;
  return faults;
}

}  // namespace skewback::lodge
