#pragma once
// The kinds of change, each by itself; `changes` puts them one after the other.

#include <functional>

#include "lodge/compare.hpp"

namespace skewback::lodge {

/// Kept until all of a kind are there: the weightiest is told first, those alike as they came.
class Told {
 public:
  explicit Told(std::string of) : of_(std::move(of)) {}
  void tell(double weight, Change change);
  [[nodiscard]] std::vector<Change> in_order();

 private:
  std::string of_;
  std::vector<std::pair<double, Change>> told_;
};

/// "the rise is 1.62 m, 0.07 m more"; none where the difference shows no figure.
/// A name that ends in ':' takes no "is".
[[nodiscard]] std::optional<std::string> more_or_less(const std::string& name, double before,
                                                      double now, int decimals,
                                                      const std::string& unit);
/// The same to three figures of the greater.
[[nodiscard]] std::optional<std::string> more_or_less(const std::string& name, double before,
                                                      double now, const std::string& unit);
/// Decimals that show so many figures of a value.
[[nodiscard]] int decimals_of(double value, int figures = 3);
/// |now - before| over the greater: how weighty a change is.
[[nodiscard]] double share_changed(double before, double now);
/// "a, b, c and 4 more"
[[nodiscard]] std::string named(const std::vector<std::string>& ids, std::size_t most = 8);

/// Members of two lists that are the same by name: place in each, or none.
struct Pair {
  std::optional<std::size_t> before, now;
};
/// In the order of `now`; then those that are gone. Of names that come twice the nth is paired with
/// the nth.
[[nodiscard]] std::vector<Pair> paired(const std::vector<std::string>& before,
                                       const std::vector<std::string>& now);
template <class List, class Name>
std::vector<Pair> paired_by(const List& before, const List& now, Name name) {
  std::vector<std::string> a, b;
  for (const auto& one : before) a.push_back(name(one));
  for (const auto& one : now) b.push_back(name(one));
  return paired(a, b);
}

[[nodiscard]] std::vector<Change> form_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> body_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> block_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> joint_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> verdict_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> check_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> strength_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> ground_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> print_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> centring_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> programme_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> quantity_changes(const Dossier& before, const Dossier& now);
[[nodiscard]] std::vector<Change> key_changes(const Dossier& before, const Dossier& now);

}  // namespace skewback::lodge
