#include "survey/packing_pads.hpp"

#include <algorithm>
#include <numeric>

#include "assembly/pad_rules.hpp"
#include "survey/packing_program.hpp"
#include "survey/packing_stock.hpp"

namespace skewback {
namespace {

constexpr double kWorth = 0.5;      // of a sheet's thickness, that it has to save
constexpr double kLeast_m = 0.001;  // that it has to save: for less no pad is cut anew
constexpr std::size_t kTried = 8;   // sheets tried before one is put in
constexpr int kPrograms = 150;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Tried {
  ThickerPad pad;
  double most_saved_m = 0;  // no more than this, by the multipliers
};

class PadSearch {
 public:
  PadSearch(const StackModel& model, const AsMade& made, const PackingRequest& packing)
      : model_(model), made_(made), packing_(packing), stock_(packing) {}

  std::vector<ThickerPad> run() {
    now_ = solved({}, lie_with(model_, made_, {}));
    while (now_.converged && put_one()) {
    }
    std::ranges::sort(pads_, {}, &ThickerPad::joint);
    return pads_;
  }

 private:
  [[nodiscard]] PackSolution solved(const std::vector<ThickerPad>& pads,
                                    const std::vector<SmallMove>& from) {
    --left_;
    program_ = pack_program(model_, with_pads(model_, made_, pads), packing_, false);
    return solve_packing(program_, from);
  }

  /// Of the sum, per metre that the pad of a joint is thicker: rows of an opening give way, those
  /// of tightness close in.
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
  [[nodiscard]] std::vector<ThickerPad> sheets_for(int joint, const JointLie& lie) const {
    const double middle =
        std::accumulate(lie.gap_m.begin(), lie.gap_m.end(), 0.0) / double(lie.gap_m.size());
    std::vector<ThickerPad> out;
    for (const auto& pieces :
         {stock_.fill(lie.gap_min_m()), stock_.fill(middle), stock_.fill(lie.gap_max_m())}) {
      if (!pieces.empty() && (out.empty() || out.back().from_stock != pieces))
        out.push_back({joint, pieces});
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
      if (!joint.pad || joint.contact.empty() || saved[j] < kWorth ||
          std::ranges::find(pads_, index, &ThickerPad::joint) != pads_.end())
        continue;
      for (ThickerPad& pad : sheets_for(index, joints[j])) {
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
    std::vector<ThickerPad> best;
    PackSolution found;
    PackProgram program;
    for (std::size_t k = 0; k < order.size() && k < kTried && left_ > 0; ++k) {
      const ThickerPad& pad = order[k].pad;
      if (order[k].most_saved_m <= best_m) break;
      std::vector<ThickerPad> pads = pads_;
      pads.push_back(pad);
      PackSolution there = solved(pads, now_.moves);
      const double saved = now_.objective_m - there.objective_m;
      if (!there.converged || saved <= best_m || saved < kLeast_m || saved < kWorth * pad.by_m())
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
  std::vector<ThickerPad> pads_;
  PackProgram program_;
  PackSolution now_;
  int left_ = kPrograms;
};

}  // namespace

double ThickerPad::by_m() const {
  return std::accumulate(from_stock.begin(), from_stock.end(), 0.0);
}

std::vector<ThickerPad> choose_pads(const StackModel& model, const AsMade& made,
                                    const PackingRequest& packing) {
  return PadSearch(model, made, packing).run();
}

AsMade with_pads(const StackModel& model, AsMade made, const std::vector<ThickerPad>& pads) {
  made.pad_m.resize(model.assembly().joints.size(), 0.0);
  for (const ThickerPad& pad : pads) made.pad_m[at(pad.joint)] += pad.by_m();
  return made;
}

Pad thicker(const Pad& pad, const Regions& contact, double by_m) {
  const auto stiffness = [&](double t) {  // but for the modulus, which both share
    return pad_modulus_pa(1, pad_shape(contact, t)) / t;
  };
  Pad out = pad;
  out.thickness_m += by_m;
  out.kn *= stiffness(out.thickness_m) / stiffness(pad.thickness_m);
  out.ks *= pad.thickness_m / out.thickness_m;
  return out;
}

std::vector<double> closing_with(const StackModel& model, std::vector<double> closing_m,
                                 const std::vector<ThickerPad>& pads) {
  if (closing_m.empty()) return closing_m;
  for (const ThickerPad& put : pads) {
    const Joint& joint = model.assembly().joints[at(put.joint)];
    closing_m[at(put.joint)] *= joint.pad->kn / thicker(*joint.pad, joint.contact, put.by_m()).kn;
  }
  return closing_m;
}

std::string too_thick(const StackModel& model, const PackingRequest& packing,
                      const Packed& packed) {
  for (const ThickerPad& pad : packed.pads) {
    for (const Packer& packer : packed.packers) {
      const double both = pad.by_m() + packer.thickness_m();
      if (packer.joint == pad.joint && both > packing.most_m + kLieNear_m)
        return "the joint " + joint_name(model.assembly(), pad.joint) +
               " would take sheet and packers of " + in_mm(both) + ", over " +
               in_mm(packing.most_m);
    }
  }
  return "";
}

}  // namespace skewback
