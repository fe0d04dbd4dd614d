#pragma once
// What runs have found so far, on disk: a line of JSON each, safe there before the next begins.

#include <map>
#include <mutex>

#include "vary/run.hpp"

namespace skewback {

/// Whose journal it is; all must agree before a line is added or joined.
struct JournalHead {
  std::string hash;
  std::uint64_t runs = 0;
  std::uint64_t shard = 1, shards = 1;          // runs with number % shards == shard - 1
  [[nodiscard]] std::string file_name() const;  // "journal.jsonl", "journal-2-of-4.jsonl"
};

[[nodiscard]] std::string to_line(const RunFound& found);
/// None: no line of a journal.
[[nodiscard]] std::optional<RunFound> from_line(const std::string& line);

/// Adds to one file. Only one process at a time can hold it.
class Journal {
 public:
  Journal() = default;
  ~Journal();
  Journal(Journal&& other) noexcept;
  Journal& operator=(Journal&&) = delete;

  /// A new one; or, with `resume`, goes on with one that is there. What a killed process left of a
  /// last line is cut off. Faults: one is there and `resume` is not set, it is of other input or
  /// damaged, or another process holds it.
  [[nodiscard]] static Result<Journal> open(const std::filesystem::path& folder,
                                            const JournalHead& head, bool resume);

  /// Returns when the lines are on disk, brought there together. Safe from several threads. Throws
  /// if they cannot be written.
  void add(const std::vector<RunFound>& found);
  [[nodiscard]] const std::map<std::uint64_t, RunFound>& found() const { return found_; }

 private:
  int file_ = -1;
  std::map<std::uint64_t, RunFound> found_;
  std::unique_ptr<std::mutex> lock_ = std::make_unique<std::mutex>();
};

/// All runs in the journals of these folders. Faults: no journal there, one of other input, or two
/// that found different things for one run.
[[nodiscard]] Result<std::map<std::uint64_t, RunFound>> join_journals(
    const std::vector<std::filesystem::path>& folders, const JournalHead& head);

}  // namespace skewback
