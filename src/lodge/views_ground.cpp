#include <algorithm>

#include "lodge/arrays.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

Vec2 middle(const Support& s) { return (s.a + s.b) / 2; }

Json tie_json(const Plan& plan, const Tie& tie, const Groundworks& ground) {
  const Vec2 from = middle(plan.supports[static_cast<std::size_t>(tie.from)]);
  const Vec2 to = middle(plan.supports[static_cast<std::size_t>(tie.to)]);
  Json out = {{"id", tie.id},
              {"from", json(Vec3(from.x(), from.y(), tie.level_m))},
              {"to", json(Vec3(to.x(), to.y(), tie.level_m))},
              {"force_n", nullptr},
              {"diameter_m", nullptr},
              {"rods", tie.rods},
              {"spacing_m", tie.spacing_m},
              {"thread", ""}};
  const auto found = std::ranges::find(ground.ties, tie.id, &TieForce::id);
  if (found == ground.ties.end()) return out;
  out["force_n"] = found->force_n;
  out["diameter_m"] = found->diameter_m;
  out["thread"] = found->thread;
  return out;
}

/// The underside's corners, counter-clockwise from above, then those at the level of the springing.
Json corners_json(const Support& s, const FootingSize& size) {
  const Vec2 along = (s.b - s.a).normalized(), out(along.y(), -along.x());
  const Vec2 half = size.length_m / 2 * along, m = middle(s);
  const std::array<Vec2, 4> plan = {m - half - size.inner_m * out, m - half + size.outer_m * out,
                                    m + half + size.outer_m * out, m + half - size.inner_m * out};
  Json corners = Json::array();
  for (const double down : {size.depth_m, 0.0})
    for (const Vec2& p : plan) corners.push_back(json(Vec3(p.x(), p.y(), s.level_m - down)));
  return corners;
}

std::optional<double> share_of(const FootingReport& footing) {
  std::optional<double> share;
  const auto take = [&](int worst, std::optional<double> FootingCase::*used) {
    if (worst < 0) return;
    const auto& value = footing.cases[static_cast<std::size_t>(worst)].*used;
    if (value && (!share || *value > *share)) share = value;
  };
  take(footing.worst_bearing, &FootingCase::bearing_used);
  take(footing.worst_sliding, &FootingCase::sliding_used);
  return share;
}

}  // namespace

std::optional<Sheaf> ground_view(const Dossier& dossier) {
  if (!dossier.ground) return std::nullopt;
  const Groundworks& ground = *dossier.ground;
  const Plan& plan = dossier.brief.plan;
  Json ties = Json::array(), footings = Json::array();
  for (const Tie& tie : ground.laid.empty() ? dossier.brief.ground.ties : ground.laid)
    ties.push_back(tie_json(plan, tie, ground));
  for (const FootingReport& footing : ground.footings) {
    const auto support = std::ranges::find(plan.supports, footing.id, &Support::id);
    if (support == plan.supports.end()) continue;
    footings.push_back({{"support", footing.id},
                        {"corners", corners_json(*support, footing.size)},
                        {"share", json(share_of(footing))},
                        {"cleared", footing.cleared}});
  }
  Sheaf sheaf;
  sheaf.head = {{"view", "ground"}, {"ties", std::move(ties)}, {"footings", std::move(footings)}};
  return sheaf;
}

}  // namespace skewback::lodge
