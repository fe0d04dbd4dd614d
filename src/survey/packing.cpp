#include "survey/packing.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

#include "survey/packing_dive.hpp"
#include "survey/packing_fewest.hpp"
#include "survey/packing_judge.hpp"

namespace skewback {
namespace {

constexpr int kRounds = 4;  // of choosing packers again where the first choice does not do

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool made_to_fit(const Packed& packed, int joint) {
  return std::ranges::find(packed.springer_joints, joint) != packed.springer_joints.end();
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
    pack.out.springer.push_back(bed_through(corners, wanted));
    pack.out.springer_joints.push_back(hinge.joint);
  }
  pack.made = with_springers(pack.model, std::move(pack.made), pack.out);
}

/// For every joint that the program opens.
void choose_packers(Packing& pack, const PackProgram& program, const PackSolution& found,
                    bool nearest) {
  const std::vector<JointLie> joints = lies(pack.model, pack.made, found.moves);
  for (std::size_t h = 0; h < program.hinges.size(); ++h) {
    const int joint = program.hinges[h].joint;
    if (program.hinges[h].kind != HingeKind::kPackers || found.tau_m[h] <= kLieNear_m ||
        made_to_fit(pack.out, joint))
      continue;
    PackedBed& bed = pack.beds[at(joint)];
    bed = {packer_places(pack.model.corners()[at(joint)], pack.request), {}};
    std::vector<double> thickness;
    for (const PackerPlace& place : bed.places) {
      const double gap = gap_at(place, joints[at(joint)].gap_m);
      bed.pieces.push_back(nearest ? pack.stock.nearest(gap) : pack.stock.fill(gap));
      thickness.push_back(bed.thickness_m(bed.pieces.size() - 1));
    }
    pack.out.held_m[at(joint)] = held_open(bed.places, thickness);
  }
}

/// Thicknesses of the stock between the limits where there are some. Where not, the nearest, and
/// the program again with these in place, so that other joints give way to them; where that does
/// not do either, joint by joint. Moves that hold every limit, or those of the program.
std::vector<SmallMove> choose_packers(Packing& pack, const PackProgram& program,
                                      const PackSolution& found, int coarse) {
  choose_packers(pack, program, found, false);
  if (trouble_of(pack, found.moves).words.empty()) return found.moves;
  Packing again = pack;
  again.beds.assign(pack.beds.size(), {});
  again.out.held_m.assign(pack.beds.size(), {});
  PackProgram next = program;
  PackSolution now = found;
  for (int round = 0; round < kRounds; ++round) {
    choose_packers(again, next, now, true);
    next = pack_program(again.model, again.made, again.request, false, again.out.held_m);
    now = solve_packing(next, now.moves);
    if (!trouble_of(again, now.moves).words.empty()) continue;
    pack.beds = again.beds;
    pack.out.held_m = again.out.held_m;
    return now.moves;
  }
  return dive_for_packers(pack, program, found, coarse).value_or(found.moves);
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
void lie_and_judge(Packing& pack, const std::vector<SmallMove>& found, Trouble trouble) {
  Packed& out = pack.out;
  out.moves = lie_with(pack.model, pack.made, out);
  if (trouble.words.empty()) {
    trouble = trouble_of(pack, out.moves);
    if (!trouble.words.empty() && trouble_of(pack, found).words.empty()) {
      double holds = 0, fails = 1;
      while (fails - holds > 1e-3) {
        const double middle = (holds + fails) / 2;
        const bool good = trouble_of(pack, between(found, out.moves, middle)).words.empty();
        (good ? holds : fails) = middle;
      }
      out.moves = between(found, out.moves, holds);
      out.least_squares_share = holds;
      trouble = {};
    }
    if (!trouble.words.empty()) trouble.words += ", with packers of the stock in place";
  }
  out.goes_in = trouble.words.empty();
  out.reason = trouble.words;
}

void sum_up(Packing& pack) {
  Packed& out = pack.out;
  out.joints = lies(pack.model, pack.made, out.moves);
  for (std::size_t j = 0; j < pack.beds.size(); ++j) {
    const PackedBed& bed = pack.beds[j];
    if (!bed.any()) continue;
    ++out.packed_joints;
    out.packers_m += out.joints[j].gap_max_m();
    const std::size_t first = out.packers.size();
    for (std::size_t i = 0; i < bed.places.size(); ++i) {
      const PackerPlace& place = bed.places[i];
      if (bed.pieces[i].empty()) continue;
      out.packers.push_back({static_cast<int>(j), place.upper, place.along_m,
                             gap_at(place, out.joints[j].gap_m), bed.pieces[i]});
      out.thickest_m = std::max(out.thickest_m, bed.thickness_m(i));
    }
    std::sort(out.packers.begin() + static_cast<std::ptrdiff_t>(first), out.packers.end(),
              [](const Packer& p, const Packer& q) {
                return std::tuple(p.along_m, p.upper) < std::tuple(q.along_m, q.upper);
              });
  }
}

/// On the fewest places, where the stock has thicknesses for that. None: it has not.
std::optional<Packed> on_fewest(Packing pack, const PackSolution& first, int most_programs) {
  const Fewest fewest = fewest_edges(pack.model, pack.made, pack.request, first, most_programs);
  if (fewest.open.empty()) return std::nullopt;
  lie_and_judge(pack, choose_packers(pack, fewest.program, fewest.found, 0), {});
  if (!pack.out.goes_in) return std::nullopt;
  pack.out.objective_m = fewest.found.objective_m;
  pack.out.bound_m = fewest.found.bound_m;
  pack.out.fewest = PackerCount{fewest.places, fewest.bound};
  sum_up(pack);
  return pack.out;
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
  std::vector<std::array<double, 4>> held = packed.held_m;
  held.resize(model.plan().rows.size());
  lie_in_least_squares(model, with_springers(model, made, packed), held, moves);
  return moves;
}

Packed pack_up(const StackModel& model, const AsMade& made, const PackingRequest& packing,
               const PackOptions& options) {
  const std::size_t joints = model.plan().rows.size();
  Packing pack{model, packing, PackerStock(packing), made, std::vector<PackedBed>(joints), {}};
  pack.out.held_m.resize(joints);
  pack.out.moves = lie_with(model, made, pack.out);
  if (trouble_of(pack, pack.out.moves).words.empty()) {
    pack.out.goes_in = true;
    sum_up(pack);
    return pack.out;
  }
  const PackProgram program = pack_program(model, made, packing, options.springers);
  const PackSolution found = solve_packing(program, pack.out.moves);
  pack.out.objective_m = found.objective_m;
  pack.out.bound_m = found.bound_m;
  if (options.springers) make_springers(pack, program, found);
  Trouble trouble = beyond(pack, program, found);
  if (!found.converged) trouble.add(1, "the program of packing did not converge");
  std::optional<Packed> fewest;
  if (trouble.words.empty() && options.fewest > 0 && pack.out.springer_joints.empty())
    fewest = on_fewest(pack, found, options.fewest);
  if (trouble.words.empty()) {
    lie_and_judge(pack, choose_packers(pack, program, found, options.coarse), trouble);
  } else {
    choose_packers(pack, program, found, false);
    lie_and_judge(pack, found.moves, trouble);
  }
  sum_up(pack);
  if (!fewest) return pack.out;
  const std::size_t now = fewest->packers.size(), then = pack.out.packers.size();
  if (!pack.out.goes_in || now < then || (now == then && fewest->packers_m <= pack.out.packers_m))
    return *std::move(fewest);
  return pack.out;
}

}  // namespace skewback
