#include "works/asked_depth.hpp"

#include "base/timing.hpp"
#include "works/depth_design.hpp"

namespace skewback {

std::optional<Faults> take_asked_depth(Dossier& dossier, int jobs, const Progress& progress) {
  Section& section = dossier.brief.section;
  if (section.depth != kDepthFromThrust) return std::nullopt;
  const Stopwatch watch;
  DepthWish wish;
  wish.jobs = jobs;
  const Result<DepthDesign> design = depth_from_thrust(dossier.brief, wish, progress);
  if (!design) return design.faults();
  section.depth = kDepthAsGiven;
  section.depth_crown_m = design->crown_m;
  section.depth_springing_m = design->springing_m;
  dossier.depth_found = DepthFound{design->crown_m,  design->springing_m,
                                   design->holds,    design->rows.back().fails,
                                   design->ruled_by, static_cast<int>(design->rows.size())};
  dossier.timings_s["depth"] = watch.seconds();
  return std::nullopt;
}

}  // namespace skewback
