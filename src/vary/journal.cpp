#include "vary/journal.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <system_error>

namespace skewback {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

std::string head_line(const JournalHead& head) {
  const Json line = {{"journal", "skewback vary"},
                     {"of", head.hash},
                     {"runs", head.runs},
                     {"shard", {head.shard, head.shards}}};
  return line.dump() + "\n";
}

Fault fault(const fs::path& file, const std::string& found, const std::string& expected,
            const std::string& change) {
  return {file.string(), 0, 0, "", found, expected, change};
}

void write_all(int file, const std::string& bytes) {
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t n = ::write(file, bytes.data() + done, bytes.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) throw std::system_error(errno, std::generic_category(), "writing the journal");
    done += static_cast<std::size_t>(n);
  }
  if (::fsync(file) != 0)
    throw std::system_error(errno, std::generic_category(), "writing the journal");
}

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

struct Lines {
  std::map<std::uint64_t, RunFound> found;
  std::size_t sound_bytes = 0;  // up to the end of the last whole line
};

// The same but for the time it took.
bool same(RunFound a, const RunFound& b) {
  a.seconds = b.seconds;
  return to_line(a) == to_line(b);
}

std::optional<Fault> take(const fs::path& file, std::size_t number, const std::string& line,
                          std::map<std::uint64_t, RunFound>& all) {
  const auto found = from_line(line);
  if (!found)
    return fault(file, "line " + std::to_string(number) + " that is none of a journal",
                 "a line of JSON per run", "the file is damaged: take the line out, or start anew");
  const auto [there, is_new] = all.try_emplace(found->run, *found);
  if (!is_new && !same(there->second, *found))
    return fault(file, "run " + std::to_string(found->run) + " with two different findings",
                 "the same finding wherever it was run", "");
  return {};
}

/// Head and runs of a journal's text. A last line without its end is what a killed process left.
Result<Lines> read_lines(const fs::path& file, const std::string& text, const std::string& head) {
  Lines lines;
  for (std::size_t at = 0, number = 1; at < text.size(); ++number) {
    const std::size_t end = text.find('\n', at);
    if (end == std::string::npos) break;
    const std::string line = text.substr(at, end + 1 - at);
    if (number == 1) {
      if (line != head)
        return fault(file,
                     "a journal of another brief, another --over file, another version, or "
                     "another part of the runs",
                     "the journal of these", "choose another folder with --out");
    } else if (const auto wrong = take(file, number, line, lines.found)) {
      return *wrong;
    }
    at = lines.sound_bytes = end + 1;
  }
  return lines;
}

}  // namespace

std::string JournalHead::file_name() const {
  if (shards == 1) return "journal.jsonl";
  return "journal-" + std::to_string(shard) + "-of-" + std::to_string(shards) + ".jsonl";
}

Journal::~Journal() {
  if (file_ >= 0) ::close(file_);
}

Journal::Journal(Journal&& other) noexcept
    : file_(std::exchange(other.file_, -1)),
      found_(std::move(other.found_)),
      lock_(std::move(other.lock_)) {}

Result<Journal> Journal::open(const fs::path& folder, const JournalHead& head, bool resume) {
  std::error_code error;
  fs::create_directories(folder, error);
  const fs::path path = folder / head.file_name();
  if (error) return fault(folder, error.message(), "a folder to write to", "");
  if (!resume && fs::exists(path))
    return fault(path, "a journal of earlier runs", "none",
                 "go on with --resume, or choose another folder with --out");
  Journal journal;
  journal.file_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0644);
  if (journal.file_ < 0)
    return fault(path, std::generic_category().message(errno), "a file to write to", "");
  if (::flock(journal.file_, LOCK_EX | LOCK_NB) != 0)
    return fault(path, "a journal that another process is writing", "a free one",
                 "wait for it, or choose another folder with --out");
  const std::string text = text_of(path), first = head_line(head);
  Result<Lines> lines = read_lines(path, text, first);
  if (!lines) return lines.faults();
  if (::ftruncate(journal.file_, static_cast<off_t>(lines->sound_bytes)) != 0)
    return fault(path, std::generic_category().message(errno), "a file to write to", "");
  if (lines->sound_bytes == 0) write_all(journal.file_, first);
  journal.found_ = std::move(lines.value().found);
  return journal;
}

void Journal::add(const std::vector<RunFound>& found) {
  std::string lines;
  for (const RunFound& one : found) lines += to_line(one);
  const std::lock_guard guard(*lock_);
  write_all(file_, lines);
  for (const RunFound& one : found) found_.emplace(one.run, one);
}

Result<std::map<std::uint64_t, RunFound>> join_journals(const std::vector<fs::path>& folders,
                                                        const JournalHead& head) {
  std::map<std::uint64_t, RunFound> all;
  for (const fs::path& folder : folders) {
    std::vector<fs::path> files;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder, error)) {
      const std::string name = entry.path().filename().string();
      if (name.starts_with("journal") && name.ends_with(".jsonl")) files.push_back(entry.path());
    }
    if (files.empty())
      return fault(folder, "no journal", "a folder that `vary` wrote", "check the path");
    std::sort(files.begin(), files.end());
    for (const fs::path& file : files) {
      const std::string text = text_of(file);
      JournalHead own = head;
      const auto first = Json::parse(text.substr(0, text.find('\n')), nullptr, false);
      if (first.is_object() && first.contains("shard") && first["shard"].size() == 2 &&
          first["shard"][0].is_number_unsigned() && first["shard"][1].is_number_unsigned()) {
        own.shard = first["shard"][0].get<std::uint64_t>();
        own.shards = first["shard"][1].get<std::uint64_t>();
      }
      const Result<Lines> lines = read_lines(file, text, head_line(own));
      if (!lines) return lines.faults();
      for (const auto& [run, found] : lines->found) {
        const auto [there, is_new] = all.try_emplace(run, found);
        if (!is_new && !same(there->second, found))
          return fault(file, "run " + std::to_string(run) + " with two different findings",
                       "the same finding wherever it was run", "");
      }
    }
  }
  return all;
}

}  // namespace skewback
