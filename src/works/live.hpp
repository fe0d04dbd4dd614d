#pragma once
// The stages quickly, for a brief that is being changed: each goes on from what the last brief
// gave. Same results as run_works within the tolerances stated; what is left out is named.

#include <string>

#include "works/works.hpp"

namespace skewback {

/// Reason of a case that live_proof has not come to yet.
inline constexpr const char* kNotProvedYet = "not proved yet";

struct LiveShape {
  Dossier dossier;      // form and body
  bool sought = false;  // the form was sought anew, as run_works does: good to follow from
};
/// `from`: of an earlier brief, its form sought anew, or null. Where the net has as many points and
/// lines, the plan moved or not, its forces are gone on from (follow_form): as they are, else with
/// one step of the fit. The form is sought anew where that cannot be, strays by over a hundredth of
/// the rise from the form followed, lies over 5 mm worse by the drawn free edges than `from` did,
/// or gives no body. A form that follows keeps the pattern of forces it began with: thrust and
/// weight settle as in run_works, heights are near those of the form sought anew, not the same (6
/// mm in the tests). `told` is given the shape as soon as it can be drawn, and what it lacks, in
/// words: the body without its solid, before it is known whether it will do.
[[nodiscard]] Result<LiveShape> live_shape(
    const Brief& brief, const Dossier* from, const Progress& progress,
    const std::function<void(const Dossier&, const std::string& lacks)>& told = {});
/// Cut and loads on top of a shape.
[[nodiscard]] Result<Dossier> live_blocks(Dossier shaped, const Progress& progress);
/// Proofs on top of blocks: weight alone and the cases that governed `before` first, then all, then
/// the friction each needs. `told` (may be empty) is given the first two as soon as they are there,
/// and what they lack, in words; a case not proved yet is undecided and says so. No depth, moved
/// footings or states: run_works has them.
[[nodiscard]] Dossier live_proof(
    Dossier cut, const Dossier* before, const Progress& progress,
    const std::function<void(const Dossier&, const std::string& lacks)>& told = {});

}  // namespace skewback
