#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "deliver/drawings.hpp"
#include "deliver/text.hpp"
#include "stand/joint_movement.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kTitle = 14, kFoot = 6, kViewTitle = 6;
constexpr double kThrow = 0.06;      // greatest movement drawn, over the largest span
constexpr double kCrownDrop = 0.01;  // m; angles are told for this much movement
constexpr Colour kMoved{200, 214, 229};

Vec3 moved(const Vec3& p, const BlockVelocity& m, double scale) {
  return p + scale * (m.v + m.w.cross(p));
}

Solid moved(const Solid& solid, const BlockVelocity& m, double scale) {
  Solid out = solid;
  for (Vec3& p : out.vertices) p = moved(p, m, scale);
  return out;
}

struct Drawing {
  const Assembly& assembly;
  const Mechanism& mechanism;
  double scale = 0;  // m of movement drawn for a unit of the mechanism
};

void add_blocks(Sheet& sheet, const Drawing& d, const Elevation& e,
                const std::vector<Regions>& at_rest, const SheetMap& map) {
  std::vector<Regions> shapes(e.blocks.size());
  for_each_index(e.blocks.size(), [&](std::size_t i) {
    const std::size_t b = e.blocks[i];
    shapes[i] =
        silhouette(moved(d.assembly.blocks[b].solid, d.mechanism.blocks[b], d.scale), e.view);
  });
  for (const Regions& rest : at_rest) sheet.regions(map(rest), {std::nullopt, kGrey, 0.1, 0.8});
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    const bool fixed = d.assembly.blocks[e.blocks[i]].fixed;
    sheet.regions(map(shapes[i]), {fixed ? kGround : kMoved, kBlack, 0.15});
  }
}

/// A hinge as the wedge that opens from it; a slide as an arrow along it.
void add_joint(Sheet& sheet, const Drawing& d, const JointMovement& m, const Elevation& e,
               const SheetMap& map) {
  const Joint& joint = d.assembly.joints[static_cast<std::size_t>(m.joint)];
  const BlockVelocity &a = d.mechanism.blocks[static_cast<std::size_t>(joint.a)],
                      &b = d.mechanism.blocks[static_cast<std::size_t>(joint.b)];
  const auto on_sheet = [&](const Vec3& p, const BlockVelocity& of) {
    return map(e.view(moved(p, of, d.scale)));
  };
  const double angle_deg = m.turn * kCrownDrop * 180 / kPi;
  constexpr double kSeen = 0.02;  // degrees; less is not drawn
  if (m.movement == Movement::kHinge) {
    if (angle_deg < kSeen) return;
    const Vec3 far = 2 * m.middle - m.hinge;
    sheet.path({on_sheet(m.hinge, a), on_sheet(far, a), on_sheet(far, b)}, true,
               {kThrust, kThrust, 0.2});
    sheet.dot(on_sheet(m.hinge, a), 0.8, {kBlack, std::nullopt});
    const Vec2 out = (on_sheet(far, a) - on_sheet(m.hinge, a)).normalized();
    Words words{on_sheet(far, a) + 4 * out + Vec2(0, 0.8), fixed(angle_deg, 2) + "°", 2.6,
                Anchor::kMiddle, true};
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  } else if (m.movement == Movement::kSlide) {
    sheet.arrow(on_sheet(m.hinge, a), on_sheet(m.hinge, b), {kThrust, kThrust, 0.5}, 1.8);
  }
}

bool shown(const Elevation& e, const Joint& joint) {
  const auto in = [&](int b) {
    return std::ranges::find(e.blocks, static_cast<std::size_t>(b)) != e.blocks.end();
  };
  return in(joint.a) && in(joint.b);
}

}  // namespace

std::optional<MechanismShown> mechanism_to_show(const Dossier& dossier) {
  for (const std::size_t i : worst_first(dossier.proofs)) {
    const CaseProof& proof = dossier.proofs[i];
    if (const auto* falls = std::get_if<Mechanism>(&proof.evidence))
      return MechanismShown{&proof, falls};
    if (proof.limit_mechanism) return MechanismShown{&proof, &*proof.limit_mechanism};
  }
  return std::nullopt;
}

Sheet mechanism_sheet(const Dossier& dossier, const Outlines& outlines, const SheetSize& size) {
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  const auto which = mechanism_to_show(dossier);
  if (!which || !dossier.cut || outlines.elevations.empty()) return sheet;
  Drawing d{dossier.cut->assembly, *which->mechanism, 0};
  double span = 0, fastest = 0;
  Extent extent;
  for (const Elevation& e : outlines.elevations) span = std::max(span, e.span_m);
  for (std::size_t b = 0; b < d.assembly.blocks.size(); ++b) {
    for (const Vec3& p : d.assembly.blocks[b].solid.vertices)
      fastest = std::max(fastest, (moved(p, d.mechanism.blocks[b], 1) - p).norm());
  }
  d.scale = fastest > 0 ? kThrow * span / fastest : 0;
  for (const Elevation& e : outlines.elevations) {
    for (const std::size_t b : e.blocks) {
      for (const Vec3& p : d.assembly.blocks[b].solid.vertices) {
        extent.add(e.view(p));
        extent.add(e.view(moved(p, d.mechanism.blocks[b], d.scale)));
      }
    }
  }
  const auto views = static_cast<double>(outlines.elevations.size());
  const double width = size.width_mm - 2 * kMargin;
  double height = (size.height_mm - kTitle - kFoot - kMargin) / views - kViewTitle - 6;
  const double scale = fit(extent, Vec2::Zero(), {width - 16, height}).mm_per_m;
  height = scale * extent.size().y() + 6;
  sheet.height_mm = kMargin + kTitle + kFoot + views * (height + kViewTitle);
  sheet.title = dossier.brief.title + ": how it would go, case " + which->proof->id;
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 8.5},
              "At live factor " + fixed(which->mechanism->load_factor, 2) +
                  ". Dashed: at rest. Wedges: hinges that open; their angle where the fastest "
                  "point has moved 10 mm. Arrows: slides.",
              2.4);
  const auto movements = joint_movements(d.assembly, d.mechanism);
  for (std::size_t v = 0; v < outlines.elevations.size(); ++v) {
    const Elevation& e = outlines.elevations[v];
    const double top = kMargin + kTitle + static_cast<double>(v) * (height + kViewTitle);
    SheetMap map;
    map.mm_per_m = scale;
    map.corner = {kMargin + 8 - scale * extent.low.x(), top + kViewTitle + scale * extent.high.y()};
    sheet.items.emplace_back(
        Words{{kMargin, top + 2}, e.title, 2.8, Anchor::kStart, true, kBlack, false});
    add_blocks(sheet, d, e, outlines.in_elevation[v], map);
    for (const JointMovement& m : movements) {
      if (shown(e, d.assembly.joints[static_cast<std::size_t>(m.joint)]))
        add_joint(sheet, d, m, e, map);
    }
  }
  return sheet;
}

}  // namespace skewback::deliver
