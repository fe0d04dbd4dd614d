#pragma once
// Private to works/: a changed brief shaped and cut again for a trial, which a run has to bear out.

#include <set>

#include "works/works.hpp"

namespace skewback {

/// Form and body of changed briefs: roughly, gone on from a bridge's own form (live_shape), and as
/// a run finds them. The last of each is kept for briefs that differ in what the cut does.
class TrialShapes {
 public:
  /// `of` and `progress` must outlive it.
  TrialShapes(const Dossier& of, const Progress& progress) : of_(of), progress_(progress) {}
  /// Null: there is none, and `faults` say why.
  const Dossier* rough(const Brief& changed, Faults& faults);
  const Dossier* sought(const Brief& changed, Faults& faults);

 private:
  const Dossier* kept(std::optional<Dossier>& shape, const Dossier* from, const Brief& changed,
                      Faults& faults);

  const Dossier& of_;
  const Progress& progress_;
  std::optional<Dossier> rough_, sought_;
};

/// Blocks without loads, cut by plain arithmetic. `shaped`: form and body, of a brief that differs
/// in what the cut does.
[[nodiscard]] Result<Dossier> cut_for(const Brief& brief, const Dossier& shaped,
                                      const Progress& progress);
/// Loads, of the cases whose ids are in `only`; empty: all.
void put_loads_of(const std::set<std::string>& only, Dossier& dossier);

}  // namespace skewback
