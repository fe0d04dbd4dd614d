#include "survey/packing_dive.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace skewback {
namespace {

constexpr int kLevels = 3;        // thicknesses tried at each end of an edge
constexpr std::size_t kMost = 8;  // choices tried for a joint

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Choice {
  double off = 0;  // how far from what the program asks, squared
  PackedBed bed;
  std::array<double, 4> held_m{};
};

class Dive {
 public:
  Dive(const Packing& pack, int programs)
      : pack_(pack), open_(pack.beds.size(), {1, 1}), left_(programs) {
    pack_.beds.assign(pack.beds.size(), {});
    pack_.out.held_m.assign(pack.beds.size(), {});
  }

  bool deeper(const PackProgram& program, const PackSolution& now) {
    const int joint = widest(program, now);
    if (joint < 0) {
      moves_ = now.moves;
      return trouble_of(pack_, now.moves).words.empty();
    }
    for (const Choice& choice : choices(joint, now.moves)) {
      if (left_-- <= 0) break;
      put(joint, choice.bed, choice.held_m, 0);
      const PackProgram next =
          pack_program(pack_.model, pack_.made, pack_.request, false, pack_.out.held_m, open_);
      const PackSolution then = solve_packing(next, now.moves);
      if (then.converged && beyond(pack_, next, then).words.empty() && deeper(next, then))
        return true;
    }
    put(joint, {}, {}, 1);
    return false;
  }
  [[nodiscard]] const Packing& pack() const { return pack_; }
  [[nodiscard]] const std::vector<SmallMove>& moves() const { return moves_; }

 private:
  void put(int joint, const PackedBed& bed, const std::array<double, 4>& held_m, char open) {
    pack_.beds[at(joint)] = bed;
    pack_.out.held_m[at(joint)] = held_m;
    open_[at(joint)] = {open, open};
  }

  /// Of those that are still free; none: -1.
  [[nodiscard]] int widest(const PackProgram& program, const PackSolution& now) const {
    int joint = -1;
    double most = kLieNear_m;
    for (std::size_t h = 0; h < program.hinges.size(); ++h) {
      const Hinge& hinge = program.hinges[h];
      const auto& fitted = pack_.out.springer_joints;
      if (hinge.kind != HingeKind::kPackers || open_[at(hinge.joint)][0] == 0 ||
          now.tau_m[h] <= most || std::ranges::find(fitted, hinge.joint) != fitted.end())
        continue;
      most = now.tau_m[h];
      joint = hinge.joint;
    }
    return joint;
  }

  /// Ends of both edges at every combination of the nearest thicknesses, straight between them.
  [[nodiscard]] std::vector<Choice> choices(int joint, const std::vector<SmallMove>& moves) const {
    const std::vector<PackerPlace> places =
        packer_places(pack_.model.corners()[at(joint)], pack_.request);
    const auto gap_m = lies(pack_.model, pack_.made, moves)[at(joint)].gap_m;
    std::vector<std::size_t> ends;
    for (std::size_t i = 0; i < places.size(); ++i) {
      const bool first = i == 0 || places[i - 1].upper != places[i].upper;
      const bool last = i + 1 == places.size() || places[i + 1].upper != places[i].upper;
      if (first || last) ends.push_back(i);
    }
    std::vector<std::vector<double>> levels;
    for (const std::size_t i : ends)
      levels.push_back(pack_.stock.around(gap_at(places[i], gap_m), kLevels));
    std::vector<Choice> out;
    std::vector<std::size_t> digit(ends.size(), 0);
    while (true) {
      std::vector<double> thickness(places.size(), 0.0);
      for (std::size_t k = 0; k < ends.size(); ++k) thickness[ends[k]] = levels[k][digit[k]];
      if (auto choice = straight(places, ends, thickness, gap_m)) out.push_back(*std::move(choice));
      std::size_t k = 0;
      while (k < digit.size() && ++digit[k] == levels[k].size()) digit[k++] = 0;
      if (k == digit.size()) break;
    }
    std::ranges::stable_sort(out, {}, &Choice::off);
    if (out.size() > kMost) out.resize(kMost);
    return out;
  }

  /// Packers between the ends of each edge as near to its line as the stock has them; none: not
  /// within slack and squeeze.
  [[nodiscard]] std::optional<Choice> straight(const std::vector<PackerPlace>& places,
                                               const std::vector<std::size_t>& ends,
                                               std::vector<double> thickness,
                                               const std::array<double, 4>& gap_m) const {
    Choice out;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (std::ranges::find(ends, i) == ends.end()) {
        std::size_t a = i, b = i;
        while (std::ranges::find(ends, a) == ends.end()) --a;
        while (std::ranges::find(ends, b) == ends.end()) ++b;
        const double share = (places[i].at - places[a].at) / (places[b].at - places[a].at);
        const double line = thickness[a] + share * (thickness[b] - thickness[a]);
        thickness[i] = pack_.stock.around(line, 1).front();
        if (line - thickness[i] > pack_.request.slack_m ||
            thickness[i] - line > pack_.request.squeeze_m)
          return std::nullopt;
      }
      const double off = thickness[i] - gap_at(places[i], gap_m);
      out.off += off * off;
      out.bed.pieces.push_back(pack_.stock.nearest(thickness[i]));
    }
    out.bed.places = places;
    out.held_m = held_open(places, thickness);
    return out;
  }

  Packing pack_;
  EdgesOpen open_;
  int left_;
  std::vector<SmallMove> moves_;
};

}  // namespace

std::optional<std::vector<SmallMove>> dive_for_packers(Packing& pack, const PackProgram& program,
                                                       const PackSolution& found, int programs) {
  if (programs <= 0) return std::nullopt;
  Dive dive(pack, programs);
  if (!dive.deeper(program, found)) return std::nullopt;
  pack.beds = dive.pack().beds;
  pack.out.held_m = dive.pack().out.held_m;
  return dive.moves();
}

}  // namespace skewback
