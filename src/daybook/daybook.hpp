#pragma once
// What happened to every block: an SQLite file, DIR/daybook.sqlite, that is only ever added to.
// Format and rules: docs/daybook.md.

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "daybook/clock.hpp"
#include "daybook/life.hpp"
#include "daybook/plan.hpp"

namespace skewback {

/// Handed in to be written down.
struct Entered {
  std::string block;  // "o4", "o4/2": a copy; also the name of a piece of work: "footings"
  Happened what = Happened::kNote;
  std::optional<Moment> at;  // none: now
  std::string who, note;
  std::filesystem::path photo;  // copied into DIR/photos; empty: none
};

/// Safe with several processes at once: each call is one transaction, one writer at a time (others
/// wait up to 10 s). What a call has returned is on the disk: a kill or a power cut after it loses
/// nothing, one before it leaves nothing behind. Nothing is ever changed or deleted.
class Daybook {
 public:
  /// Makes the folder and the file if need be, and takes in a plan: later ones replace it. A plan
  /// of other blocks than those already written of is refused, unless `even_so`; one of another
  /// bridge always.
  [[nodiscard]] static Result<Daybook> begin(const std::filesystem::path& folder,
                                             const std::string& plan_text,
                                             const std::string& plan_file, bool even_so);
  /// Faults: no daybook there, not a daybook, or of a later format.
  [[nodiscard]] static Result<Daybook> open(const std::filesystem::path& folder);

  /// All or none, in this order. Faults: unknown block, a copy out of turn, text that is not UTF-8,
  /// or what life.hpp does not allow; with `even_so` steps may be left out, curing may be shorter
  /// than the plan has it, neighbours, footings and centring may be missing, but a broken block
  /// stays broken.
  [[nodiscard]] Result<std::vector<BlockEvent>> record(const std::vector<Entered>& entered,
                                                       bool even_so);
  /// A further event that takes back an earlier one: the last of its block that is not taken back.
  [[nodiscard]] Result<BlockEvent> cancel(std::int64_t number, const std::string& who,
                                          const std::string& note, bool even_so);

  [[nodiscard]] const DayPlan& plan() const;
  [[nodiscard]] std::vector<BlockEvent> events() const;  // by number, those taken back too
  [[nodiscard]] std::string integrity() const;           // SQLite's integrity_check: "ok"

  Daybook(Daybook&&) noexcept;
  Daybook& operator=(Daybook&&) noexcept;
  ~Daybook();

 private:
  struct Inside;
  explicit Daybook(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace skewback
