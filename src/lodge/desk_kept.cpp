#include "brief/by_key.hpp"
#include "lodge/desk_inside.hpp"

namespace skewback::lodge {

namespace {
constexpr std::size_t kMostPast = 300;  // steps that can be undone
}  // namespace

Desk::Inside::Inside(const Options& asked, Brief first)
    : options(asked), file(asked.brief), kept(first.text) {
  brief = std::make_shared<const Brief>(std::move(first));
}

nlohmann::ordered_json Desk::Inside::state() const {
  nlohmann::ordered_json json{{"name", brief->name},
                              {"title", brief->title},
                              {"file", file.filename().string()},
                              {"folder", file.parent_path().string()},
                              {"revision", revision},
                              {"saved", brief->text == kept},
                              {"disk", disk},
                              {"undo", !past.empty()},
                              {"redo", !later.empty()},
                              {"busy", nullptr},
                              {"daybook", false}};
  if (working) {
    json["busy"] = {{"stage", stage}, {"fraction", fraction}};
  } else if (want_live || want_whole) {
    json["busy"] = {{"stage", "waiting"}, {"fraction", 0}};
  }
  constexpr std::array kNames{"shape", "blocks", "proof", "whole"};
  for (const Part which : kParts) {
    const Known& known = part(which);
    const bool fresh = known.of == revision && known.failed.empty() && known.draft.empty();
    nlohmann::ordered_json of = nullptr;
    if (known.of > 0) of = known.of;
    json["parts"][kNames[static_cast<std::size_t>(which)]] = {{"of", std::move(of)},
                                                              {"fresh", fresh},
                                                              {"failed", known.failed},
                                                              {"draft", known.draft},
                                                              {"took_s", known.took_s}};
  }
  if (std::string text = json.dump(); text != last_state) {
    last_state = std::move(text);
    ++told_states;
  }
  json["since"] = since_ms;
  json["told"] = told_states;
  return json;
}

void Desk::Inside::look_at_disk(std::unique_lock<std::mutex>& lock) {
  const std::filesystem::path at = file;
  const std::string was = kept;
  last_look = Clock::now();
  lock.unlock();
  std::error_code error;
  FileStamp now{at, std::filesystem::last_write_time(at, error), 0};
  std::string found = "gone";
  if (!error) now.bytes = std::filesystem::file_size(at, error);
  if (!error && now == stamp) {
    lock.lock();
    return;
  }
  if (!error) {
    const Result<std::string> text = text_of_brief(at);
    found = text && *text == was ? "same" : "changed";
  }
  lock.lock();
  // saved or taken up meanwhile: the next look will tell
  if (file != at || kept != was) return;
  stamp = error ? FileStamp{} : now;
  tell = tell || disk != found;
  disk = found;
}

std::filesystem::path Desk::Inside::place() const {
  const std::lock_guard lock(mutex);
  return file;
}

void Desk::Inside::take(Brief next) {
  brief = std::make_shared<const Brief>(std::move(next));
  ++revision;
  for (Known& known : parts) known.failed.clear();
  want_live = true;
  stopped = false;
  stop = true;  // what is on the way is of the brief before
  wake.notify_all();
}

void Desk::Inside::remember(const std::string& before, std::vector<std::string> keys) {
  const auto now = Clock::now();
  const bool same_move =
      keys == last_keys && later.empty() && !past.empty() &&
      std::chrono::duration<double>(now - last_change).count() < options.one_move_s;
  if (!same_move) past.push_back(before);
  if (past.size() > kMostPast) past.erase(past.begin());
  later.clear();
  last_keys = std::move(keys);
  last_change = now;
}

std::optional<Faults> Desk::Inside::go(const std::string& way, std::vector<std::string>& from,
                                       std::vector<std::string>& to) {
  const std::lock_guard alone(changing);
  std::string text;
  std::filesystem::path at;
  {
    const std::lock_guard lock(mutex);
    if (from.empty())
      return Faults{{"", 0, 0, "revision", "revision " + std::to_string(revision),
                     "one with a change to " + way, ""}};
    text = from.back();
    at = file;
  }
  // what the brief names beside it may have changed since
  Result<Brief> next = read_brief_text(text, at);
  if (!next) return next.faults();
  const std::lock_guard lock(mutex);
  from.pop_back();
  to.push_back(brief->text);
  take(std::move(next).value());
  last_keys.clear();
  return std::nullopt;
}

}  // namespace skewback::lodge
