#include <algorithm>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <system_error>

#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/starters.hpp"

namespace skewback::cli {

int new_command(const NewOptions& options) {
  const std::filesystem::path file = options.folder / "brief.toml";
  const auto refuse = [&](const std::string& found, const std::string& change) {
    print_faults({{file.string(), 0, 0, "", found, "a new brief to be written", change}},
                 options.json);
    return kBadInput;
  };
  std::error_code error;
  if (std::filesystem::exists(std::filesystem::symlink_status(file, error)))
    return refuse("a brief that is there already", "name another folder, or move that brief away");
  std::filesystem::create_directories(options.folder, error);
  if (error)
    return refuse("no folder, and none can be made: " + error.message(), "name another folder");

  const auto& all = starters();
  const auto starter = std::find_if(all.begin(), all.end(),
                                    [&](const Starter& s) { return s.name == options.from; });
  std::ofstream out(file, std::ios::binary);
  out << starter->brief;
  out.close();
  if (!out) return refuse("a place that cannot be written to", "name another folder");
  if (options.json)
    std::cout << nlohmann::ordered_json{{"ok", true},
                                        {"brief", file.string()},
                                        {"from", options.from}}
                     .dump(2)
              << "\n";
  else
    std::cout << "Wrote " << file.string() << " (a copy of " << options.from << ").\n"
              << "Next: skewback check " << file.string() << "\n"
              << "      skewback run " << file.string() << "\n";
  return kDone;
}

}  // namespace skewback::cli
