#pragma once
// What the routes reach: the desk and all around it. Each entry may be empty: then it is not there.

#include "lodge/routes.hpp"

namespace skewback::lodge {

/// A sheaf as bytes and the tag of its content.
struct Shown {
  std::string bytes, tag;
};

/// One HTML file; a draft is not to be taken for the last word.
struct Exported {
  std::string html;
  bool draft = false;
};

struct Bench {
  using Json = nlohmann::ordered_json;
  std::function<Json()> state, keys, findings;
  std::function<std::optional<Faults>(int, const std::vector<KeyChange>&)> edit;
  std::function<std::optional<Faults>(int)> reread;
  std::function<std::optional<Faults>()> undo, redo;
  std::function<void()> run_proof, run_whole, stop;
  std::function<Result<std::string>(const std::string&)> save;  // gives the name of the file
  /// None: nothing to show yet. Asked only for view_names().
  std::function<std::optional<Shown>(const std::string& name,
                                     const std::map<std::string, std::string>& query)>
      view;
  std::function<std::optional<Json>(const Vec2&)> node;
  std::function<Reply(const nlohmann::json& question, bool quick)> ask;
  // empty: the briefs there are to compare with
  std::function<Reply(const std::string& file)> compare;
  std::function<std::optional<Exported>()> exported;
  std::function<Reply(const Request&)> daybook;
};

/// The views there are, in the order of docs/lodge.md.
[[nodiscard]] const std::vector<std::string>& view_names();

}  // namespace skewback::lodge
