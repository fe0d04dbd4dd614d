#include "survey/packing_pads.hpp"

#include <algorithm>
#include <numeric>

#include "assembly/pad_rules.hpp"
#include "survey/packing_program.hpp"
#include "survey/packing_stock.hpp"

namespace skewback {
namespace {

constexpr double kWorth = 0.5;       // of what a pad changes by, that it has to save
constexpr double kLeast_m = 0.001;   // that it has to save: for less no pad is cut anew
constexpr double kAlike_m = 5e-5;    // savings that differ by less: the smaller change
constexpr double kThinnest = 0.5;    // of the drawn pad
constexpr double kThinner_m = 5e-4;  // steps in which thinner pads are looked for in the stock
constexpr std::size_t kTried = 8;    // changes tried before one is made
constexpr int kPrograms = 150;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Tried {
  OtherPad pad;
  double most_saved_m = 0;  // no more than this, by the multipliers
};

class PadSearch {
 public:
  PadSearch(const StackModel& model, const AsMade& made, const PackingRequest& packing)
      : model_(model), made_(made), packing_(packing), stock_(packing) {}

  std::vector<OtherPad> run() {
    now_ = solved({}, lie_with(model_, made_, {}));
    while (now_.converged && put_one()) {
    }
    std::ranges::sort(pads_, {}, &OtherPad::joint);
    return pads_;
  }

 private:
  [[nodiscard]] PackSolution solved(const std::vector<OtherPad>& pads,
                                    const std::vector<SmallMove>& from) {
    --left_;
    program_ = pack_program(model_, with_pads(model_, made_, pads), packing_, false);
    return solve_packing(program_, from);
  }

  /// Of the sum, per metre that the pad of a joint is thicker (below 0: thinner): rows of an
  /// opening give way, those of tightness close in.
  [[nodiscard]] std::vector<double> saved_per_metre() const {
    std::vector<double> out(model_.plan().rows.size(), 0);
    for (std::size_t h = 0; h < program_.hinges.size(); ++h) {
      const Hinge& hinge = program_.hinges[h];
      if (hinge.kind == HingeKind::kStep) continue;
      for (std::size_t k = 0; k < hinge.rows; ++k)
        out[at(hinge.joint)] += hinge.a[k].x() * now_.dual[h][k];
    }
    return out;
  }

  /// For the least of the gap, for its middle and for its most.
  [[nodiscard]] std::vector<OtherPad> sheets_for(int joint, const JointLie& lie) const {
    const double middle =
        std::accumulate(lie.gap_m.begin(), lie.gap_m.end(), 0.0) / double(lie.gap_m.size());
    std::vector<OtherPad> out;
    for (const auto& pieces :
         {stock_.fill(lie.gap_min_m()), stock_.fill(middle), stock_.fill(lie.gap_max_m())}) {
      if (!pieces.empty() && (out.empty() || out.back().from_stock != pieces))
        out.push_back({joint, pieces});
    }
    return out;
  }

  /// What the stock gives between half the pad and less than all of it, the thickest first.
  [[nodiscard]] std::vector<OtherPad> thinner_for(int joint, double pad_m) const {
    std::vector<OtherPad> out;
    for (double t = pad_m - kThinner_m; t >= kThinnest * pad_m - 1e-9; t -= kThinner_m) {
      OtherPad pad{joint, stock_.nearest(t), pad_m};
      const double now = pad_m + pad.by_m();
      if (pad.from_stock.empty() || now > pad_m - kThinner_m / 2 || now < kThinnest * pad_m - 1e-9)
        continue;
      if (out.empty() || out.back().from_stock != pad.from_stock) out.push_back(std::move(pad));
    }
    return out;
  }

  [[nodiscard]] std::vector<Tried> promising() const {
    const std::vector<double> saved = saved_per_metre();
    const std::vector<JointLie> joints = lies(model_, with_pads(model_, made_, pads_), now_.moves);
    std::vector<Tried> out;
    for (std::size_t j = 0; j < saved.size(); ++j) {
      const Joint& joint = model_.assembly().joints[j];
      const int index = static_cast<int>(j);
      if (!joint.pad || joint.contact.empty() || std::abs(saved[j]) < kWorth ||
          std::ranges::find(pads_, index, &OtherPad::joint) != pads_.end())
        continue;
      for (OtherPad& pad : saved[j] > 0 ? sheets_for(index, joints[j])
                                        : thinner_for(index, joint.pad->thickness_m)) {
        const double most = saved[j] * pad.by_m();
        if (most >= kLeast_m) out.push_back({std::move(pad), most});
      }
    }
    std::ranges::stable_sort(out, std::ranges::greater{}, &Tried::most_saved_m);
    return out;
  }

  bool put_one() {
    const std::vector<Tried> order = promising();
    double best_m = 0;
    std::vector<OtherPad> best;
    PackSolution found;
    PackProgram program;
    for (std::size_t k = 0; k < order.size() && k < kTried && left_ > 0; ++k) {
      const OtherPad& pad = order[k].pad;
      if (order[k].most_saved_m <= best_m - kAlike_m) break;
      std::vector<OtherPad> pads = pads_;
      pads.push_back(pad);
      PackSolution there = solved(pads, now_.moves);
      const double saved = now_.objective_m - there.objective_m;
      const bool better = saved > best_m + kAlike_m ||
                          (!best.empty() && saved > best_m - kAlike_m &&
                           std::abs(pad.by_m()) < std::abs(best.back().by_m()) - kAlike_m);
      if (!there.converged || !better || saved < kLeast_m || saved < kWorth * std::abs(pad.by_m()))
        continue;
      best_m = saved;
      best = std::move(pads);
      found = std::move(there);
      program = program_;
    }
    if (best_m <= 0) return false;
    pads_ = std::move(best);
    now_ = std::move(found);
    program_ = std::move(program);
    return true;
  }

  const StackModel& model_;
  const AsMade& made_;
  const PackingRequest& packing_;
  PackerStock stock_;
  std::vector<OtherPad> pads_;
  PackProgram program_;
  PackSolution now_;
  int left_ = kPrograms;
};

}  // namespace

double OtherPad::by_m() const {
  return std::accumulate(from_stock.begin(), from_stock.end(), -in_place_of_m);
}

std::vector<OtherPad> choose_pads(const StackModel& model, const AsMade& made,
                                  const PackingRequest& packing) {
  return PadSearch(model, made, packing).run();
}

AsMade with_pads(const StackModel& model, AsMade made, const std::vector<OtherPad>& pads) {
  made.pad_m.resize(model.assembly().joints.size(), 0.0);
  for (const OtherPad& pad : pads) made.pad_m[at(pad.joint)] += pad.by_m();
  return made;
}

Pad other_pad(const Pad& pad, const Regions& contact, double by_m) {
  Pad out = pad;
  out.thickness_m += by_m;
  const double modulus = pad.kn * pad.thickness_m;
  const bool rubber = modulus < kRubberBulk_pa;  // else by its shape neither softer nor stiffer
  const double now =
      rubber ? pad_modulus_pa(pad_shear_modulus_of(modulus, pad_shape(contact, pad.thickness_m)),
                              pad_shape(contact, out.thickness_m))
             : modulus;
  out.kn = now / out.thickness_m;
  out.ks *= pad.thickness_m / out.thickness_m;
  return out;
}

std::vector<double> closing_with(const StackModel& model, std::vector<double> closing_m,
                                 const std::vector<OtherPad>& pads) {
  if (closing_m.empty()) return closing_m;
  for (const OtherPad& put : pads) {
    const Joint& joint = model.assembly().joints[at(put.joint)];
    closing_m[at(put.joint)] *= joint.pad->kn / other_pad(*joint.pad, joint.contact, put.by_m()).kn;
  }
  return closing_m;
}

std::string too_thick(const StackModel& model, const PackingRequest& packing,
                      const Packed& packed) {
  for (const OtherPad& pad : packed.pads) {
    for (const Packer& packer : packed.packers) {
      const double both = pad.by_m() + packer.thickness_m();
      if (packer.joint == pad.joint && both > packing.most_m + kLieNear_m)
        return "the joint " + joint_name(model.assembly(), pad.joint) +
               " would take sheets and packers of " + in_mm(both) + ", over " +
               in_mm(packing.most_m);
    }
  }
  return "";
}

}  // namespace skewback
