#include "survey/packing_fewest.hpp"

#include <algorithm>
#include <numeric>

#include "survey/packing_beds.hpp"

namespace skewback {
namespace {

constexpr double kMm = 1e3;
constexpr int kSharper = 4;      // rounds in which thin packers are made dear
constexpr long kNodes = 200000;  // of the choice that keeps all cuts
constexpr double kThin_m = 1e-4;

class Count {
 public:
  Count(const StackModel& model, const AsMade& made, const PackingRequest& packing, int most)
      : model_(model), made_(made), packing_(packing), most_(most) {
    for (const JointCorners& corners : model.corners()) {
      const auto places = packer_places(corners, packing);
      const auto upper = std::ranges::count_if(places, &PackerPlace::upper);
      cost_.push_back(static_cast<int>(static_cast<long>(places.size()) - upper));
      cost_.push_back(static_cast<int>(upper));
    }
  }

  Fewest run(const PackSolution& first) {
    const std::size_t joints = model_.corners().size();
    if (!try_open(EdgesOpen(joints, {1, 1}), first.moves)) return std::move(best_);
    sharper();
    drop();
    bound_ = 0;
    while (bound_ < best_.places && best_.programs < most_) {
      const LeastChoice next = least_choice(cost_, cuts_, bound_, best_.places, kNodes);
      bound_ = next.cost;
      if (!next.choice) break;
      EdgesOpen open(joints);
      for (std::size_t e = 0; e < cost_.size(); ++e) open[e / 2][e % 2] = (*next.choice)[e];
      if (try_open(open, best_.found.moves)) break;  // as few as the cuts allow
    }
    best_.bound = std::min(bound_, best_.places);
    thinnest();
    return std::move(best_);
  }

 private:
  void thinnest() {
    PackProgram program = pack_program(model_, made_, packing_, false, {}, best_.open);
    PackSolution found = solve_packing(program, best_.found.moves);
    ++best_.programs;
    if (!holds(program, found)) return;
    best_.program = std::move(program);
    best_.found = std::move(found);
  }

  [[nodiscard]] int places(const EdgesOpen& open) const {
    int out = 0;
    for (std::size_t e = 0; e < cost_.size(); ++e)
      if (open[e / 2][e % 2] != 0) out += cost_[e];
    return out;
  }

  /// Edges of `open` that are opened there.
  [[nodiscard]] EdgesOpen opened(const EdgesOpen& open, const std::vector<JointLie>& joints) const {
    EdgesOpen out(open.size());
    const double most = packing_.slack_m + kLieNear_m;
    for (std::size_t j = 0; j < open.size(); ++j) {
      const auto& gap = joints[j].gap_m;
      out[j] = {static_cast<char>(open[j][0] != 0 && std::max(gap[0], gap[1]) > most),
                static_cast<char>(open[j][1] != 0 && std::max(gap[2], gap[3]) > most)};
    }
    return out;
  }

  [[nodiscard]] static bool holds(const PackProgram& program, const PackSolution& found) {
    for (std::size_t h = 0; h < program.hinges.size(); ++h)
      if (program.hinges[h].kind != HingeKind::kPackers && found.tau_m[h] > kLieNear_m)
        return false;
    return found.converged;
  }

  /// Takes it if it holds and has fewer places; else keeps what its multipliers say.
  bool try_open(const EdgesOpen& open, const std::vector<SmallMove>& from) {
    PackProgram program = pack_program(model_, made_, packing_, false, {}, open);
    return take(std::move(program), open, from);
  }

  bool take(PackProgram program, const EdgesOpen& open, const std::vector<SmallMove>& from) {
    ++best_.programs;
    PackSolution found = solve_packing(program, from);
    add_cut(program, found);
    if (!holds(program, found)) {
      if (found.converged) add_more_than(open);
      return false;
    }
    const EdgesOpen now = opened(open, lies(model_, made_, found.moves));
    const int here = places(now);
    if (!best_.open.empty() && here >= best_.places) return true;
    best_.open = now;
    best_.places = here;
    best_.program = std::move(program);
    best_.found = std::move(found);
    return true;
  }

  /// For all moves: sum over rows of z (a . r - most) >= the dual objective; a row of an edge's
  /// corner is over by no more than `most` and by nothing where the edge is closed.
  void add_cut(const PackProgram& program, const PackSolution& found) {
    const double whole = kMm * found.bound_m;
    if (!found.converged || whole < 1e-3) return;
    EdgeCut cut{std::vector<double>(cost_.size(), 0)};
    for (std::size_t h = 0; h < program.hinges.size(); ++h) {
      const Hinge& hinge = program.hinges[h];
      for (std::size_t k = 0; k < hinge.rows; ++k)
        if (hinge.edge[k] >= 0)
          cut.share[static_cast<std::size_t>(2 * hinge.joint + hinge.edge[k])] +=
              found.dual[h][k] * kMm * packing_.most_m / (whole * (1 - 1e-6));
    }
    for (double& share : cut.share) share = std::min(share, 1.0);
    cuts_.push_back(std::move(cut));
  }
  /// What does not do with these does not do with fewer of them.
  void add_more_than(const EdgesOpen& open) {
    EdgeCut cut{std::vector<double>(cost_.size(), 0)};
    for (std::size_t e = 0; e < cost_.size(); ++e) cut.share[e] = open[e / 2][e % 2] != 0 ? 0 : 1;
    cuts_.push_back(std::move(cut));
  }

  /// The sum again with each joint's cost over what it took (Candes, Wakin and Boyd 2008).
  void sharper() {
    for (int round = 0; round < kSharper && best_.programs < most_; ++round) {
      PackProgram program = best_.program;
      for (std::size_t h = 0; h < program.hinges.size(); ++h) {
        Hinge& hinge = program.hinges[h];
        if (hinge.kind != HingeKind::kPackers) continue;
        const auto j = static_cast<std::size_t>(hinge.joint);
        hinge.cost = (cost_[2 * j] + cost_[2 * j + 1]) * 1e-4 / (best_.found.tau_m[h] + kThin_m);
      }
      const int before = best_.places;
      EdgesOpen all(cost_.size() / 2, {1, 1});
      take(std::move(program), all, best_.found.moves);
      if (best_.places == before) return;
    }
  }

  /// Each edge left out that can be, dearest first.
  void drop() {
    for (bool better = true; better && best_.programs < most_;) {
      better = false;
      std::vector<std::size_t> edges;
      for (std::size_t e = 0; e < cost_.size(); ++e)
        if (best_.open[e / 2][e % 2] != 0) edges.push_back(e);
      std::ranges::stable_sort(edges,
                               [&](std::size_t a, std::size_t b) { return cost_[a] > cost_[b]; });
      for (const std::size_t e : edges) {
        if (best_.programs >= most_) return;
        EdgesOpen open = best_.open;
        open[e / 2][e % 2] = 0;
        const int before = best_.places;
        if (try_open(open, best_.found.moves) && best_.places < before) {
          better = true;
          break;
        }
      }
    }
  }

  const StackModel& model_;
  const AsMade& made_;
  const PackingRequest& packing_;
  int most_;
  std::vector<int> cost_;  // per edge
  std::vector<EdgeCut> cuts_;
  int bound_ = 0;
  Fewest best_;
};

}  // namespace

Fewest fewest_edges(const StackModel& model, const AsMade& made, const PackingRequest& packing,
                    const PackSolution& first, int most_programs) {
  return Count(model, made, packing, most_programs).run(first);
}

}  // namespace skewback
