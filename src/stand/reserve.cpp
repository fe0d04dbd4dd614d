#include <algorithm>

#include "stand/limit.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

constexpr double kLeastShare = 0.02;
constexpr double kNear = 0.01;  // relative width of the bracket at which it is narrow enough

/// The same joint with its contact drawn together in depth.
Joint shallower(const Joint& joint, double share) {
  double low = 1e300, high = -1e300;
  for (const Region& region : joint.contact) {
    for (const Vec2& p : region.outer) {
      low = std::min(low, p.y());
      high = std::max(high, p.y());
    }
  }
  const double middle = (low + high) / 2;
  Joint out = joint;
  const auto draw = [&](Polygon& polygon) {
    for (Vec2& p : polygon) p.y() = middle + share * (p.y() - middle);
  };
  for (Region& region : out.contact) {
    draw(region.outer);
    for (Polygon& hole : region.holes) draw(hole);
  }
  return out;
}

}  // namespace

std::optional<DepthReserve> geometric_safety(const Assembly& assembly, const LoadCase& load,
                                             const StandOptions& options) {
  Assembly thinned = assembly;
  const auto stands = [&](double share) {
    for (std::size_t j = 0; j < thinned.joints.size(); ++j) {
      thinned.joints[j] = shallower(assembly.joints[j], share);
    }
    // forces inside the cone or not is all that is asked: no mechanism, no finer cone
    return least_support(build(thinned, load, options, Cone::kInner), options.tolerance).found;
  };
  if (!stands(1)) return std::nullopt;
  if (stands(kLeastShare)) return DepthReserve{1 / kLeastShare, true};
  double falls = kLeastShare, holds = 1;
  while (holds - falls > kNear * holds) {
    const double share = (falls + holds) / 2;
    (stands(share) ? holds : falls) = share;
  }
  return DepthReserve{1 / holds, false};
}

}  // namespace skewback
