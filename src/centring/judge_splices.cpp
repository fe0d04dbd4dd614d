// A rib's pieces meet: a plate on each side, bolted.

#include <algorithm>
#include <cmath>
#include <map>

#include "centring/judge_parts.hpp"
#include "centring/judge_timber.hpp"

namespace skewback {
namespace {

constexpr double kPlateReach = 0.3;      // m, from the joint to the middle of its plates
constexpr double kHolePlay = 1e-3;       // m, of a hole over its bolt
constexpr double kBoltStrength = 400e6;  // f_u of grade 4.6
constexpr double kGammaJoint = 1.3;      // of connections, EN 1995-1-1 table 2.3, from memory

struct Plates {
  int count = 0;
  double height_m = 0;
  std::vector<Vec2> holes, own;  // in the rib's x and y; in the plate's
  double middle_m = 0;           // y of its middle in its own frame
  double hole_m = 0;             // diameter
};

Vec2 in_rib(const Rib& rib, const SheetPart& part, const Vec2& p) {
  return rib.place.to_local(part.place.to_world(p)).head<2>();
}

Plates plates_at(const Centring& centring, const Rib& rib, double x) {
  Plates out;
  for (const SheetPart& part : centring.parts) {
    if (part.kind != "splice" || part.rib != rib.id) continue;
    if (std::abs(in_rib(rib, part, centroid(part.outline)).x() - x) > kPlateReach) continue;
    double low = 1e300, high = -1e300;
    for (const Vec2& p : part.outline.outer) {
      low = std::min(low, p.y());
      high = std::max(high, p.y());
    }
    ++out.count;
    out.height_m = out.count == 1 ? high - low : std::min(out.height_m, high - low);
    if (out.count > 1) continue;
    out.middle_m = (low + high) / 2;
    for (const Polygon& hole : part.outline.holes) {
      out.own.push_back(centroid({Polygon(hole.rbegin(), hole.rend()), {}}));
      out.holes.push_back(in_rib(rib, part, out.own.back()));
      out.hole_m = std::sqrt(4 * std::abs(area(hole)) / std::acos(-1.0));
    }
  }
  return out;
}

struct Bolts {
  std::vector<Vec2> at;
  Vec2 middle = Vec2::Zero();
};

Bolts side_of(const Plates& plates, double x, double side) {
  Bolts out;
  for (const Vec2& hole : plates.holes) {
    if ((hole.x() - x) * side <= 0) continue;
    out.at.push_back(hole);
    out.middle += hole;
  }
  if (!out.at.empty()) out.middle /= static_cast<double>(out.at.size());
  return out;
}

/// Greatest force on a bolt: shares of N and V, and M about the middle of the group by distance.
double bolt_force(const Bolts& bolts, double x, const BeamCut& cut) {
  double spread = 0, farthest = 0;
  for (const Vec2& p : bolts.at) {
    spread += (p - bolts.middle).squaredNorm();
    farthest = std::max(farthest, (p - bolts.middle).norm());
  }
  const auto count = static_cast<double>(bolts.at.size());
  const double moment = std::abs(cut.moment_nm) + std::abs(cut.shear_n * (bolts.middle.x() - x));
  const double turned = spread > 0 ? moment * farthest / spread : 0;
  return turned + std::hypot(cut.axial_n, cut.shear_n) / count;
}

/// Second moment of one plate through its fullest column of holes.
double net_inertia(const Plates& plates) {
  const double h = plates.height_m, d = plates.hole_m;
  std::map<long, std::vector<double>> columns;  // by mm
  for (const Vec2& p : plates.own)
    columns[std::lround(p.x() * 1e3)].push_back(p.y() - plates.middle_m);
  double most = 0;
  for (const auto& [x, ys] : columns) {
    double lost = 0;
    for (const double y : ys) lost += d * d * d / 12 + d * y * y;
    most = std::max(most, lost);
  }
  return h * h * h / 12 - most;
}

}  // namespace

void check_splices(const Brief& brief, const Centring& centring, const RibState& state,
                   Judged& out) {
  const Rib& rib = centring.ribs[static_cast<std::size_t>(state.on.rib)];
  const auto& shape = state.on.beam->shape();
  for (const std::size_t point : state.on.splice_at) {
    const double x = shape.axis[point].x();
    const Plates plates = plates_at(centring, rib, x);
    if (plates.count < 2) continue;
    const BeamCut& cut = state.state.cuts[std::min(point, state.state.cuts.size() - 1)][0];
    const double t = shape.thickness_m, h = plates.height_m;
    const std::string place = rib.id + ", splice at " + metres_of(x);
    const double stress = std::abs(cut.moment_nm) * h / 2 / (2 * t * net_inertia(plates)) +
                          std::abs(cut.axial_n) / (2 * t * h);
    const auto both = [&](const CentringCheck& check) {
      out.worst.offer(check);
      out.of_rib[static_cast<std::size_t>(state.on.rib)].offer(check);
    };
    both(check_of("splice plates", stress, design_pa(brief, brief.centring.bending_strength_pa),
                  "Pa", place, state.from.stage,
                  "the pair of plates carries all, net of holes (EN 1995-1-1, 5.2)"));
    for (const double side : {-1.0, 1.0}) {
      const Bolts bolts = side_of(plates, x, side);
      if (bolts.at.empty()) continue;
      const double carries =
          2 * bolt_in_three_n(t, brief.centring.density, plates.hole_m - kHolePlay, kBoltStrength) *
          brief.centring.k_mod / std::max(brief.centring.gamma_m, kGammaJoint);
      const double force = bolt_force(bolts, x, cut);
      out.asks.splice_bolts = std::max(out.asks.splice_bolts, force / carries);
      both(check_of("splice bolts", force, carries, "N", place, state.from.stage,
                    "greatest force on a bolt of grade 4.6, hole less 1 mm, two shear planes "
                    "(EN 1995-1-1, (8.7), (8.30), (8.36), from memory)"));
    }
  }
}

std::vector<std::string> splice_remarks(const Centring& centring) {
  std::vector<std::string> out;
  for (const Rib& rib : centring.ribs) {
    for (const double x : rib.splices) {
      const Plates plates = plates_at(centring, rib, x);
      const std::string place = "The splice of " + rib.id + " at " + metres_of(x);
      if (plates.count < 2) {
        out.push_back(place + " has no pair of plates: not checked.");
      } else if (side_of(plates, x, -1).at.empty() || side_of(plates, x, 1).at.empty()) {
        out.push_back(place + " has plates without holes: its bolts were not checked.");
      }
    }
  }
  return out;
}

}  // namespace skewback
