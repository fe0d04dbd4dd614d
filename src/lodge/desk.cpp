#include "lodge/desk.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

#include "brief/by_key.hpp"
#include "lodge/desk_inside.hpp"
#include "lodge/files_named.hpp"
#include "lodge/keys_json.hpp"

namespace skewback::lodge {
namespace {

constexpr std::size_t kLargestText = 4 << 20;  // as of a brief's file

Fault fault_of(const std::string& key, const std::string& found, const std::string& expected) {
  Fault fault;
  fault.key = key;
  fault.found = found;
  fault.expected = expected;
  return fault;
}

std::optional<Faults> not_newest(int revision, int newest) {
  if (revision == newest) return std::nullopt;
  return Faults{fault_of("revision", "revision " + std::to_string(revision),
                         "the newest, " + std::to_string(newest))};
}

bool good_name(const std::string& name) {
  const auto good = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  };
  return !name.empty() && name.size() <= 80 && std::all_of(name.begin(), name.end(), good);
}

// A file that was not there; never one that is.
std::optional<Fault> write_new(const std::filesystem::path& file, const std::string& bytes) {
  const int out = ::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
  if (out < 0) {
    if (errno == EEXIST)
      return fault_of("name", "a file of that name is there already", "another name");
    return fault_of("name", std::strerror(errno), "a folder that can be written to");
  }
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t wrote = ::write(out, bytes.data() + done, bytes.size() - done);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0) break;
    done += static_cast<std::size_t>(wrote);
  }
  const std::string why = done < bytes.size() ? std::strerror(errno) : "";
  if (::close(out) == 0 && done == bytes.size()) return {};
  ::unlink(file.c_str());
  return fault_of("name", "the file could not be written: " + why, "room on the disk");
}

}  // namespace

Result<std::unique_ptr<Desk>> Desk::open(const Options& options) {
  std::error_code error;
  Options whole = options;
  whole.brief = std::filesystem::absolute(options.brief, error);
  if (error) whole.brief = options.brief;
  Result<Brief> brief = read_brief(whole.brief);
  if (!brief) return brief.faults();
  return std::unique_ptr<Desk>(new Desk(std::make_unique<Inside>(whole, std::move(brief).value())));
}

Desk::Desk(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {
  inside_->worker = std::thread([this] { inside_->work(); });
}

Desk::~Desk() {
  {
    const std::lock_guard lock(inside_->mutex);
    inside_->closing = true;
    inside_->stop = true;
  }
  inside_->wake.notify_all();
  inside_->worker.join();
}

nlohmann::ordered_json Desk::state() const {
  const std::lock_guard lock(inside_->mutex);
  return inside_->state();
}

nlohmann::ordered_json Desk::keys() const {
  std::shared_ptr<const Brief> brief;
  nlohmann::ordered_json json;
  {
    const std::lock_guard lock(inside_->mutex);
    brief = inside_->brief;
    json["revision"] = inside_->revision;
  }
  json["groups"] = key_groups(brief->text);
  return json;
}

Known Desk::known(Part part) const {
  const std::lock_guard lock(inside_->mutex);
  return inside_->part(part);
}

int Desk::revision() const {
  const std::lock_guard lock(inside_->mutex);
  return inside_->revision;
}

std::filesystem::path Desk::folder() const { return inside_->place().parent_path(); }

Brief Desk::brief() const {
  std::shared_ptr<const Brief> brief;
  {
    const std::lock_guard lock(inside_->mutex);
    brief = inside_->brief;
  }
  return *brief;
}

std::optional<Faults> Desk::edit(int revision, const std::vector<KeyChange>& changes) {
  Inside& in = *inside_;
  const std::lock_guard alone(in.changing);
  const std::filesystem::path file = in.place();
  const std::string before = brief().text;
  if (auto faults = not_newest(revision, this->revision())) return faults;
  const Result<std::string> text = patch_text(before, changes, file.filename().string());
  if (!text) return text.faults();
  if (*text == before) return {};
  if (auto faults = names_elsewhere(before, *text, file.parent_path())) return faults;
  if (text->size() > kLargestText)
    return Faults{fault_of("", "a brief of more than 4 MB", "a shorter one")};
  Result<Brief> next = read_brief_text(*text, file);
  if (!next) return next.faults();

  std::vector<std::string> keys;
  for (const KeyChange& change : changes) keys.push_back(change.key);
  const std::lock_guard lock(in.mutex);
  in.take(std::move(next).value());
  in.remember(before, std::move(keys));
  return {};
}

std::optional<Faults> Desk::reread(int revision) {
  Inside& in = *inside_;
  const std::lock_guard alone(in.changing);
  const std::filesystem::path file = in.place();
  const std::string before = brief().text;
  if (auto faults = not_newest(revision, this->revision())) return faults;
  const Result<std::string> text = text_of_brief(file);
  if (!text) return text.faults();
  if (auto faults = names_elsewhere(before, *text, file.parent_path())) return faults;
  Result<Brief> next = read_brief_text(*text, file);
  if (!next) return next.faults();
  const std::lock_guard lock(in.mutex);
  in.kept = *text;
  in.disk = "same";
  if (*text == before) {
    in.tell = true;
    in.wake.notify_all();
    return {};
  }
  in.take(std::move(next).value());
  in.remember(before, {});
  return {};
}

std::optional<Faults> Desk::undo() { return inside_->go("undo", inside_->past, inside_->later); }
std::optional<Faults> Desk::redo() { return inside_->go("redo", inside_->later, inside_->past); }

Result<std::filesystem::path> Desk::save(const std::string& name) {
  const bool ends = name.ends_with(".toml");
  const std::string stem = ends ? name.substr(0, name.size() - 5) : name;
  if (!good_name(stem))
    return fault_of("name", "a name that cannot be taken",
                    "letters, figures, '-' and '_', 80 at most");
  Inside& in = *inside_;
  const std::lock_guard alone(in.changing);
  const std::lock_guard lock(in.mutex);
  const std::filesystem::path file = in.file.parent_path() / (stem + ".toml");
  if (std::optional<Fault> fault = write_new(file, in.brief->text)) return *fault;
  in.kept = in.brief->text;
  in.file = file;
  in.disk = "same";
  in.tell = true;
  in.wake.notify_all();
  return file;
}

void Desk::run_whole() {
  Inside& in = *inside_;
  const std::lock_guard lock(in.mutex);
  const Known& whole = in.part(Part::kWhole);
  if (in.want_whole || (in.on_whole == in.revision && !in.stop)) return;
  if (whole.of == in.revision && whole.failed.empty()) return;
  in.part(Part::kWhole).failed.clear();
  in.want_whole = true;
  in.wake.notify_all();
}

void Desk::run_proof() {
  Inside& in = *inside_;
  const std::lock_guard lock(in.mutex);
  const Known& proof = in.part(Part::kProof);
  if (in.want_live || (in.on_live == in.revision && !in.stop) ||
      (proof.of == in.revision && proof.failed.empty() && proof.draft.empty()))
    return;
  in.want_live = true;
  in.wake.notify_all();
}

void Desk::stop() {
  Inside& in = *inside_;
  const std::lock_guard lock(in.mutex);
  // before it began
  for (const Part part : kParts) {
    if (!(part == Part::kWhole ? in.want_whole : in.want_live)) continue;
    in.part(part).failed = "stopped";
    in.part(part).let_go = true;
  }
  in.tell = in.tell || in.want_whole || in.want_live;
  in.want_whole = in.want_live = false;
  in.wake.notify_all();
  in.stopped = in.working;
  in.stop = in.working;
}

void Desk::listen(Listener listener) {
  const std::lock_guard lock(inside_->mutex);
  inside_->listener = std::move(listener);
}

}  // namespace skewback::lodge
