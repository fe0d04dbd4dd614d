#include "survey/packing.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <numeric>

#include "survey/packing_beds.hpp"
#include "survey/packing_program.hpp"
#include "survey/packing_stock.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

using CornerGaps = std::vector<std::array<double, 4>>;

/// What one call works on.
struct Packing {
  const StackModel& model;
  const PackingRequest& request;
  PackerStock stock;
  AsMade made;  // with springers made to fit
  Packed out;
  std::vector<std::vector<PackerPlace>> places;  // per joint; empty: judged at its corners
  std::vector<std::vector<double>> thickness;    // of the same place
};

struct Trouble {
  double by_m = 0;
  std::string words;
  void add(double by, const std::string& text) {
    if (by <= kLieNear_m || by <= by_m) return;
    by_m = by;
    words = text;
  }
};

std::string at_joint(const StackModel& model, std::size_t j) {
  return "the joint " + joint_name(model.assembly(), static_cast<int>(j));
}

/// Worst of what does not hold where blocks lie with their packers.
Trouble trouble_of(const Packing& pack, const std::vector<SmallMove>& moves) {
  const PackingRequest& request = pack.request;
  const std::vector<JointLie> joints = lies(pack.model, pack.made, moves);
  Trouble out;
  const auto gap = [&](std::size_t j, double gap_m, double held_m) {
    const double open = gap_m - held_m;
    out.add(-open - request.squeeze_m, at_joint(pack.model, j) + " is too tight by " +
                                           in_mm(-open) + " with packers of the stock");
    out.add(open - request.slack_m, at_joint(pack.model, j) + " stays open by " + in_mm(open) +
                                        " with packers of the stock");
  };
  for (std::size_t j = 0; j < joints.size(); ++j) {
    const JointLie& lie = joints[j];
    out.add(lie.step_max_m() - request.step_m,
            at_joint(pack.model, j) + " is out of line by " + in_mm(lie.step_max_m()));
    if (pack.places[j].empty()) {
      for (const double g : lie.gap_m) gap(j, g, 0);
      continue;
    }
    out.add(-lie.gap_min_m() - request.squeeze_m,
            at_joint(pack.model, j) + " is too tight by " + in_mm(-lie.gap_min_m()));
    for (std::size_t i = 0; i < pack.places[j].size(); ++i)
      gap(j, gap_at(pack.places[j][i], lie.gap_m), pack.thickness[j][i]);
  }
  return out;
}

/// Plane through the gaps at a joint's corners in least squares, as a bed.
BedError plane_of(const JointCorners& corners, const std::array<double, 4>& gap_m) {
  Mat3 m = Mat3::Zero();
  Vec3 v = Vec3::Zero();
  for (std::size_t k = 0; k < 4; ++k) {
    const Vec3 row(1, corners[k].x(), corners[k].y());
    m += row * row.transpose();
    v += gap_m[k] * row;
  }
  const Vec3 p = m.fullPivLu().solve(v);
  return {p[0], {p[1], p[2]}, {}};
}

void make_springers(Packing& pack, const PackProgram& program, const PackSolution& found) {
  const Assembly& assembly = pack.model.assembly();
  const std::vector<JointLie> joints = lies(pack.model, pack.made, found.moves);
  for (std::size_t h = 0; h < program.hinges.size(); ++h) {
    const Hinge& hinge = program.hinges[h];
    const Joint& joint = assembly.joints[at(hinge.joint)];
    const Block& a = assembly.blocks[at(joint.a)];
    const Block& b = assembly.blocks[at(joint.b)];
    if (hinge.kind != HingeKind::kTight || found.tau_m[h] <= kLieNear_m || a.fixed == b.fixed)
      continue;
    const std::vector<BedError>& beds = a.fixed ? pack.made.on_b : pack.made.on_a;
    const BedError old = beds.empty() ? BedError{} : beds[at(hinge.joint)];
    const JointCorners& corners = pack.model.corners()[at(hinge.joint)];
    std::array<double, 4> wanted = joints[at(hinge.joint)].gap_m;
    for (std::size_t k = 0; k < 4; ++k) {
      const double now = old.height_m + old.slope.dot(corners[k]) + old.corner_m[k];
      wanted[k] = now - (a.fixed ? 1 : -1) * wanted[k];
    }
    pack.out.springers.push_back(a.fixed ? a.place.arm : b.place.arm);
    pack.out.springer.push_back(plane_of(corners, wanted));
    pack.out.springer_joints.push_back(hinge.joint);
  }
  pack.made = with_springers(pack.model, std::move(pack.made), pack.out);
}

/// What the program says cannot be, at the moves that come nearest.
Trouble beyond(const Packing& pack, const PackProgram& program, const PackSolution& found) {
  const std::vector<JointLie> joints = lies(pack.model, pack.made, found.moves);
  Trouble out;
  for (std::size_t h = 0; h < program.hinges.size(); ++h) {
    const Hinge& hinge = program.hinges[h];
    const JointLie& lie = joints[at(hinge.joint)];
    const bool made_to_fit =
        std::ranges::find(pack.out.springer_joints, hinge.joint) != pack.out.springer_joints.end();
    if (hinge.kind == HingeKind::kPackers || made_to_fit) continue;
    const std::string where = at_joint(pack.model, at(hinge.joint));
    if (hinge.kind == HingeKind::kStep) {
      out.add(found.tau_m[h], where + " is out of line by " + in_mm(lie.step_max_m()) + ", over " +
                                  in_mm(pack.request.step_m));
    } else if (-lie.gap_min_m() > pack.request.squeeze_m + found.tau_m[h] / 2) {
      out.add(found.tau_m[h], where + " is too tight by " + in_mm(-lie.gap_min_m()) + ", over " +
                                  in_mm(pack.request.squeeze_m));
    } else {
      out.add(found.tau_m[h], where + " would take packers of " + in_mm(lie.gap_max_m()) +
                                  ", over " + in_mm(pack.request.most_m));
    }
  }
  return out;
}

void choose_packers(Packing& pack, const PackProgram& program, const PackSolution& found) {
  const std::vector<JointLie> joints = lies(pack.model, pack.made, found.moves);
  for (std::size_t h = 0; h < program.hinges.size(); ++h) {
    const std::size_t j = at(program.hinges[h].joint);
    const bool made_to_fit = std::ranges::find(pack.out.springer_joints, program.hinges[h].joint) !=
                             pack.out.springer_joints.end();
    if (program.hinges[h].kind != HingeKind::kPackers || found.tau_m[h] <= kLieNear_m ||
        made_to_fit)
      continue;
    std::vector<PackerPlace> places = packer_places(pack.model.corners()[j], pack.request);
    std::vector<double> thickness;
    for (const PackerPlace& place : places) {
      const std::vector<double> pieces = pack.stock.fill(gap_at(place, joints[j].gap_m));
      thickness.push_back(std::accumulate(pieces.begin(), pieces.end(), 0.0));
      if (pieces.empty()) continue;
      pack.out.packers.push_back({static_cast<int>(j), place.upper, place.along_m, 0, pieces});
    }
    pack.out.held_m[j] = held_open(places, thickness);
    pack.places[j] = std::move(places);
    pack.thickness[j] = std::move(thickness);
  }
}

std::vector<SmallMove> between(const std::vector<SmallMove>& from, const std::vector<SmallMove>& to,
                               double share) {
  std::vector<SmallMove> out = from;
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i].shift += share * (to[i].shift - from[i].shift);
    out[i].turn += share * (to[i].turn - from[i].turn);
  }
  return out;
}

/// Least squares, or as far from the program's moves towards them as every limit holds: limits are
/// convex, and timber holds blocks where they are put.
void lie_and_judge(Packing& pack, const PackSolution& found, Trouble trouble) {
  Packed& out = pack.out;
  out.moves = lie_with(pack.model, pack.made, out);
  if (trouble.words.empty()) {
    trouble = trouble_of(pack, out.moves);
    if (!trouble.words.empty() && trouble_of(pack, found.moves).words.empty()) {
      double holds = 0, fails = 1;
      while (fails - holds > 1e-3) {
        const double middle = (holds + fails) / 2;
        const bool good = trouble_of(pack, between(found.moves, out.moves, middle)).words.empty();
        (good ? holds : fails) = middle;
      }
      out.moves = between(found.moves, out.moves, holds);
      out.least_squares_share = holds;
      trouble = {};
    }
  }
  out.goes_in = trouble.words.empty();
  out.reason = trouble.words;
}

void sum_up(Packing& pack) {
  Packed& out = pack.out;
  out.joints = lies(pack.model, pack.made, out.moves);
  for (Packer& packer : out.packers) {
    for (const PackerPlace& place : pack.places[at(packer.joint)])
      if (place.upper == packer.upper && place.along_m == packer.along_m)
        packer.gap_m = gap_at(place, out.joints[at(packer.joint)].gap_m);
    out.thickest_m = std::max(out.thickest_m, packer.thickness_m());
  }
  std::ranges::stable_sort(out.packers, [](const Packer& p, const Packer& q) {
    return std::tuple(p.joint, p.along_m, p.upper) < std::tuple(q.joint, q.along_m, q.upper);
  });
  for (std::size_t j = 0; j < pack.places.size(); ++j) {
    if (std::ranges::none_of(pack.thickness[j], [](double t) { return t > 0; })) continue;
    ++out.packed_joints;
    out.packers_m += out.joints[j].gap_max_m();
  }
}

}  // namespace

double Packer::thickness_m() const {
  return std::accumulate(from_stock.begin(), from_stock.end(), 0.0);
}

AsMade with_springers(const StackModel& model, AsMade made, const Packed& packed) {
  const Assembly& assembly = model.assembly();
  for (std::size_t i = 0; i < packed.springer_joints.size(); ++i) {
    const std::size_t j = at(packed.springer_joints[i]);
    const bool is_b = assembly.blocks[at(assembly.joints[j].a)].fixed;
    std::vector<BedError>& beds = is_b ? made.on_b : made.on_a;
    beds.resize(assembly.joints.size());
    beds[j] = packed.springer[i];
  }
  return made;
}

std::vector<SmallMove> lie_with(const StackModel& model, const AsMade& made, const Packed& packed) {
  std::vector<SmallMove> moves = footing_moves(model, made);
  CornerGaps held = packed.held_m;
  held.resize(model.plan().rows.size());
  lie_in_least_squares(model, with_springers(model, made, packed), held, moves);
  return moves;
}

Packed pack_up(const StackModel& model, const AsMade& made, const PackingRequest& packing,
               const PackOptions& options) {
  const std::size_t joints = model.plan().rows.size();
  Packing pack{model, packing, PackerStock(packing), made, {}, {}, {}};
  pack.places.resize(joints);
  pack.thickness.resize(joints);
  pack.out.held_m.resize(joints);
  pack.out.moves = lie_with(model, made, pack.out);
  Trouble trouble = trouble_of(pack, pack.out.moves);
  if (trouble.words.empty()) {
    pack.out.goes_in = true;
    sum_up(pack);
    return pack.out;
  }
  const PackProgram program = pack_program(model, made, packing, options.springers);
  const PackSolution found = solve_packing(program, pack.out.moves);
  pack.out.objective_m = found.objective_m;
  pack.out.bound_m = found.bound_m;
  make_springers(pack, program, found);
  trouble = beyond(pack, program, found);
  if (!found.converged) trouble.add(1, "the program of packing did not converge");
  choose_packers(pack, program, found);
  lie_and_judge(pack, found, trouble);
  sum_up(pack);
  return pack.out;
}

}  // namespace skewback
