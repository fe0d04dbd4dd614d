#pragma once
// Private to lodge/: what a desk keeps, and its working thread.

#include <array>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <thread>

#include "base/progress.hpp"
#include "lodge/desk.hpp"

namespace skewback::lodge {

/// Tells without reading it whether a file may be another.
struct FileStamp {
  std::filesystem::path file;
  std::filesystem::file_time_type written;
  std::uintmax_t bytes = 0;
  bool operator==(const FileStamp&) const = default;
};

inline constexpr std::array<Part, 4> kParts{Part::kShape, Part::kBlocks, Part::kProof,
                                            Part::kWhole};

struct Desk::Inside {
  using Clock = std::chrono::steady_clock;

  Inside(const Options& options, Brief first);

  std::mutex changing;  // one change of the brief at a time; taken before `mutex`

  // --- the brief; all below under `mutex` ---
  mutable std::mutex mutex;
  Options options;
  std::filesystem::path file;
  std::shared_ptr<const Brief> brief;
  int revision = 1;
  std::string kept;                      // text of the file as read, or last saved
  std::string disk = "same";             // the file against that: "same", "changed", "gone"
  std::vector<std::string> past, later;  // texts to go back to, and forward
  std::vector<std::string> last_keys;    // changed last, and when
  Clock::time_point last_change;
  std::array<Known, 4> parts;

  // --- the work ---
  std::condition_variable wake;
  bool closing = false, want_live = true, want_whole = false, tell = false, stopped = false;
  bool working = false;
  int on_live = 0, on_whole = 0;  // revision that is being worked on; 0: none
  std::string stage;              // while working
  double fraction = 0;
  Listener listener;
  const std::int64_t since_ms = std::chrono::duration_cast<std::chrono::milliseconds>(
                                    std::chrono::system_clock::now().time_since_epoch())
                                    .count();
  mutable std::string last_state;  // as state() gave it, and how many there were
  mutable std::int64_t told_states = 0;
  std::atomic<bool> stop{false};
  Clock::time_point last_told;
  std::shared_ptr<const Dossier> sought;  // form to follow from; of the working thread alone
  FileStamp stamp;                        // of the file when it was last looked at; likewise
  Clock::time_point last_look;            // likewise
  std::thread::id worker_id;
  std::thread worker;

  [[nodiscard]] Known& part(Part which) { return parts[static_cast<std::size_t>(which)]; }
  [[nodiscard]] const Known& part(Part which) const {
    return parts[static_cast<std::size_t>(which)];
  }
  [[nodiscard]] nlohmann::ordered_json state() const;
  /// The newest brief becomes this; work on the one before ends. `mutex` is held.
  void take(Brief next);
  /// For undo: what was there before a change of these keys. `mutex` is held.
  void remember(const std::string& before, std::vector<std::string> keys);
  /// To the last text of `from`; the present one goes to `to`. `way`: "undo", for the fault.
  [[nodiscard]] std::optional<Faults> go(const std::string& way, std::vector<std::string>& from,
                                         std::vector<std::string>& to);
  [[nodiscard]] std::filesystem::path place() const;

  /// Whether the file is still what is kept; `lock` is let go meanwhile. Of the working thread.
  void look_at_disk(std::unique_lock<std::mutex>& lock);
  void work();  // until closing
  void work_live(const std::shared_ptr<const Brief>& of, int at);
  void work_whole(const std::shared_ptr<const Brief>& of, int at);
  void publish(Part which, int at, Dossier dossier, double took_s, const std::string& draft = "");
  void share_whole(int at);  // it holds the other three parts too
  void fail(Part from, Part to, int at, const std::string& why);
  void tell_state();
  void went_on(const std::string& now, double share);
  [[nodiscard]] Progress progress();
};

}  // namespace skewback::lodge
