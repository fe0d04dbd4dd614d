#pragma once
// What the copies of one block say of the plan's own activities. Private to daybook/.

#include <optional>
#include <string>
#include <vector>

#include "daybook/life.hpp"

namespace skewback {

/// 1: "print s3", "cure s3"; 2: "print s3 again", "cure s3 again", those of a planned spare.
[[nodiscard]] int copy_of(const Activity& activity);

class Copies {
 public:
  Copies() = default;
  /// `lives`: of this block. `planned`: how many the plan makes, 1 or 2. `start`: of the programme.
  Copies(std::vector<CopyLife> lives, int planned, std::string start);

  /// When copy 1 or 2 of the plan had got so far. Where the plan makes only one, the first of the
  /// good copies counts as it, or else the one that broke last.
  [[nodiscard]] std::optional<double> reached(int copy, Standing standing) const;
  /// Made, and broken since.
  [[nodiscard]] bool is_broken(int copy) const;
  [[nodiscard]] double broke_s(int copy) const;

  /// When the one that is in its place was placed.
  [[nodiscard]] std::optional<double> placed() const;
  /// First to be so far, broken ones too: they prove what went before.
  [[nodiscard]] std::optional<double> first(Standing standing) const;
  /// Last to have been sent off, broken ones too.
  [[nodiscard]] std::optional<double> last_left() const;

  /// What its placing waits for.
  struct Next {
    Standing standing = Standing::kBroken;  // broken: there is none, and the plan makes no other
    int copy = 0;                           // of the plan; 0: one more than it makes
    double since_s = 0;                     // printed, or sent off
  };
  /// The good copy that can be here first; `of_the_plan`: only of those that the plan makes, if
  /// there is one.
  [[nodiscard]] Next next(bool of_the_plan) const;
  [[nodiscard]] bool any(Standing standing) const;
  /// Good ones, those included that the plan has still to make.
  [[nodiscard]] int good() const;
  [[nodiscard]] bool any_broken() const;

 private:
  [[nodiscard]] double clock(const Moment& m) const;
  [[nodiscard]] std::vector<CopyLife> in_slot(int copy) const;
  [[nodiscard]] std::optional<double> when(const CopyLife& life, Standing standing) const;
  std::vector<CopyLife> made_;
  bool any_broken_ = false;
  int planned_ = 1;
  std::string start_;
};

}  // namespace skewback
