#include <algorithm>
#include <cmath>
#include <limits>

#include "strength/checks.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double ratio(double demand, double resistance) {
  if (demand <= 0) return 0;
  return resistance > 0 ? demand / resistance : std::numeric_limits<double>::infinity();
}

struct Made {
  Check check;
  double demand, resistance;
  const char *place, *source;
};

void add(CheckedBlock& block, const CaseInput& input, const Made& made) {
  block.worst.add(made.check,
                  {block.view->block, name(made.check), input.id, made.demand, made.resistance,
                   "Pa", ratio(made.demand, made.resistance), made.place, made.source});
}

/// Joint shear on the section: A S / (I b), never under the code's 1.5, each way, over the area
/// under pressure.
double shear_stress(const Regions& section, const Vec2& shear, double compressed_m2) {
  const ShearShape shape = shear_shape(section);
  const Vec2 each(std::max(shape.along_x, 1.5) * shear.x(),
                  std::max(shape.along_y, 1.5) * shear.y());
  return each.norm() / compressed_m2;
}

/// Shear stress of a twist on the section: a closed tube by its outer wall (Bredt 1896), a solid
/// one as the rectangle of its depth and area, T (3 + 1.8 b / d) / (b^2 d) (Timoshenko, from
/// memory).
double twist_stress(const BlockView& view, const Regions& section, double twist_nm) {
  const Box2 box = extents(section);
  const double deep = box.high.y() - box.low.y(), A = area(section);
  if (view.cells.empty()) {
    const double other = A / deep, b = std::min(deep, other), d = std::max(deep, other);
    return twist_nm * (3 + 1.8 * b / d) / (b * b * d);
  }
  double thin = std::numeric_limits<double>::max(), whole = 0, rim = 0;
  for (const Cell& cell : view.cells) {
    thin = std::min(thin, cell.leaf_m);
    if (cell.outer_low) thin = std::min(thin, cell.web_low_m);
    if (cell.outer_high) thin = std::min(thin, cell.web_high_m);
  }
  for (const Region& region : section) {
    whole += std::abs(area(region.outer));
    for (std::size_t i = 0; i < region.outer.size(); ++i)
      rim += (region.outer[(i + 1) % region.outer.size()] - region.outer[i]).norm();
  }
  return twist_nm / (2 * (whole - rim * thin / 2) * thin);
}

/// About the flow, through the centroid of the section.
double twist_on(const BlockCut& cut, const Resultant& front) {
  const Mat3 m = moments(cut.section);
  const Vec2 c(m(0, 1) / m(0, 0), m(0, 2) / m(0, 0));
  const Vec3 arm = c.x() * cut.frame.x + c.y() * cut.frame.y;
  return std::abs((front.moment - arm.cross(front.force)).dot(cut.frame.z));
}

const char* side_word(const Vec2& p, const Box2& box) {
  const Vec2 from = (p - (box.low + box.high) / 2).cwiseQuotient(box.high - box.low);
  if (std::abs(from.y()) >= std::abs(from.x()) - 0.05)
    return from.y() > 0 ? "middle section, at the extrados" : "middle section, at the intrados";
  return from.x() > 0 ? "middle section, at the left side" : "middle section, at the right side";
}

/// EN 1992-1-1 12.6.5.2, braced at springing and key: depth the wall's, area the net one, e the
/// thrust's off the middle and l_0 / 400.
void note_slender(const CaseInput& input, const BlockCut& cut, const Vec3& load,
                  CheckedBlock& block) {
  const double N = load[0], deep = block.view->depth_m;
  if (block.view->key || !(block.arm_m > 0) || !(N > 0)) return;
  const Mat3 m = moments(cut.section);
  const double off = std::abs(load[2] / N - m(0, 2) / m(0, 0));
  const double carries = input.concrete.compression_pa * area(cut.section) *
                         slender_factor(off + block.arm_m / 400, deep, block.arm_m);
  const double used = carries > 0 ? N / carries : std::numeric_limits<double>::infinity();
  if (used <= block.slender) return;
  block.slender = used;
  block.slender_case = input.id;
}

void check_cut(const CaseInput& input, const BlockCut& cut, const Resultant& front,
               CheckedBlock& block) {
  const Vec3 load = section_load(cut, front);
  const LinearStress linear = linear_stress(cut.section, load);
  const double N = load[0], A = area(cut.section);
  note_slender(input, cut, load, block);
  block.least_pressure_pa = std::min(block.least_pressure_pa, linear.least_pa);
  const char* where = side_word(linear.least_at, extents(cut.section));
  add(block, input,
      {Check::kLayers, std::max(-linear.least_pa, 0.0), input.concrete.layer_pa, where,
       "linear stress on the net section, uncracked; EN 1992-1-1 12.3.1 with the strength between "
       "layers"});
  LinearPressure pressure{Vec3::Zero(), linear.greatest_pa, A};
  if (linear.least_pa < 0) {
    const auto found = N > 0 ? linear_pressure(cut.section, N, load.tail<2>() / N) : std::nullopt;
    if (found) {
      pressure = *found;
    } else if (N > 1e-3 * std::abs(linear.least_pa) * A) {
      block.beyond = true;
    }
  }
  add(block, input,
      {Check::kMiddle, std::max(pressure.peak_pa, 0.0), input.concrete.compression_pa,
       "middle section",
       "linear pressure without tension on the net section; EN 1992-1-1 12.3.1, 12.6.1"});
  const Vec2 shear(front.force.dot(cut.frame.x), front.force.dot(cut.frame.y));
  const double sheared = shear_stress(cut.section, shear, pressure.compressed_m2);
  const double strength = shear_strength_pa(N / pressure.compressed_m2, input.concrete.layer_pa,
                                            input.concrete.compression_pa);
  add(block, input,
      {Check::kShear, sheared, strength, "middle section",
       "EN 1992-1-1 (12.3) to (12.7), 1.5 V/A or A S/(I b) if greater"});
  add(block, input,
      {Check::kTwist, sheared + twist_stress(*block.view, cut.section, twist_on(cut, front)),
       strength, "middle section, twist with shear",
       "outer wall as a tube (Bredt 1896), a solid section as a rectangle; uncracked, EN 1992-1-1 "
       "12.6.4, (12.5) to (12.7)"});
}

}  // namespace

void check_beds(const Assembly& assembly, const CaseInput& input, CheckedBlock& block) {
  for (const int j : block.view->joints) {
    const JointLoad& load = input.joints[at(j)];
    const Joint& joint = assembly.joints[at(j)];
    const int other = joint.a == block.view->block ? joint.b : joint.a;
    const double resistance = input.concrete.compression_pa;
    block.worst.add(Check::kBed,
                    {block.view->block, name(Check::kBed), input.id, load.peak_pa, resistance, "Pa",
                     ratio(load.peak_pa, resistance), "joint with " + assembly.blocks[at(other)].id,
                     "peak of the pads on the net section; EN 1992-1-1 12.3.1"});
  }
}

void check_middle(const Brief& brief, const Assembly& assembly, const CaseInput& input,
                  CheckedBlock& block) {
  for (const BlockCut& cut : block.view->middles) {
    if (area(cut.section) <= 0) continue;
    const Resultant front =
        in_front(brief, assembly, block.view->joints, *input.load, input.joints, cut, Vec3::Zero());
    check_cut(input, cut, front, block);
  }
}

namespace {

/// Roof and floor of a tube share the shear between the webs and bend as the legs of a frame do.
double frame_stress(const Cell& cell, double shear, double length_m) {
  return 1.5 * shear * (cell.x1 - cell.x0) / (length_m * cell.leaf_m * cell.leaf_m);
}

std::string across_place(const BlockView& view, std::size_t i, double in_plan, double frame) {
  const std::size_t tubes = view.cells.size(), planes = view.across.size();
  if (view.key) return "through the middle, square to bed " + std::to_string(i + 1);
  const auto percent = [](double share) { return std::to_string(std::lround(100 * share)) + " %"; };
  const std::string where =
      i < tubes ? "tube " + std::to_string(tubes - i) + " of " + std::to_string(tubes)
                : std::to_string(100 * (planes - i) / (planes + 1)) + " % of its width";
  std::string words = where + " from the left, ";
  words += 2 * in_plan > 1 ? "bent in the plane of the deck by its beds (" + percent(in_plan)
                           : "bent by loads and their shear (in the plane of the deck " +
                                 percent(std::max(in_plan, 0.0));
  return words + " of it, roof and floor as a frame " + percent(frame) + ")";
}

}  // namespace

void check_across(const Brief& brief, const Assembly& assembly, const CaseInput& input,
                  CheckedBlock& block) {
  const BlockView& view = *block.view;
  for (std::size_t i = 0; i < view.across.size(); ++i) {
    const BlockCut& cut = view.across[i];
    if (area(cut.section) <= 0) continue;
    const Resultant front =
        in_front(brief, assembly, view.joints, *input.load, input.joints, cut, cut.frame.z);
    const Vec3 load = section_load(cut, front);
    const Vec2 size = extents(cut.section).high - extents(cut.section).low;
    const double linear = -linear_stress(cut.section, load).least_pa;
    const double in_plan = -linear_stress(cut.section, Vec3(load[0], load[1], 0)).least_pa;
    const double frame =
        i < view.cells.size()
            ? frame_stress(view.cells[i], std::abs(front.force.dot(cut.frame.y)), size.x())
            : 0;
    const double demand = std::max(linear + frame, 0.0),
                 resistance = input.concrete.tension_pa * flexural_gain(size.maxCoeff());
    block.worst.add(
        Check::kAcross,
        {view.block, name(Check::kAcross), input.id, demand, resistance, "Pa",
         ratio(demand, resistance),
         across_place(view, i, demand > 0 ? in_plan / demand : 0, demand > 0 ? frame / demand : 0),
         "bending as a beam across the flow, roof and floor of tubes as a frame; EN "
         "1992-1-1 12.3.1 and (3.23)"});
  }
}

}  // namespace skewback
