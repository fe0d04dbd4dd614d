#include "survey/remedies.hpp"

#include <algorithm>

#include "base/parallel.hpp"
#include "survey/packing_pads.hpp"
#include "survey/poses.hpp"

namespace skewback {
namespace {

constexpr const char* kPackersAlone = "packers alone";
constexpr const char* kThinnest = "packers alone, the thinnest";
constexpr const char* kFilled = "packers in every gap that the stock fills";
constexpr const char* kOtherPads = "other pads, then packers";
constexpr double kHalf = 0.5;      // of the packers, that makes a shift worth its trouble
constexpr int kPrograms = 150;     // solved for the fewest packers
constexpr double kNoShift = 1e-4;  // m; axes that differ by less are the same

AsMade about_axes(const AsMade& made, const FootingsFound& found, const Rigid& axes) {
  AsMade out = made;
  out.supports.clear();
  for (const RigidFit& fit : found.footings) out.supports.push_back(after(inverse(axes), fit.X));
  return out;
}

std::string name_of(const Brief& brief, const std::string& axes, const Packed& packed,
                    bool springers) {
  if (!springers) return axes;
  std::string names;
  for (std::size_t s = 0; s < brief.plan.supports.size(); ++s) {
    if (std::ranges::find(packed.springers, static_cast<int>(s)) == packed.springers.end())
      continue;
    names += (names.empty() ? "" : " and ") + brief.plan.supports[s].id;
  }
  return names.empty() ? axes : "a new springer at " + names + ", " + axes;
}

/// A way of putting it right.
struct Way {
  std::string name = "";
  Rigid axes = {};
  bool springers = false, thinnest = false, pads = false, filled = false;
};

/// Half of the thinnest sheet: what is less cannot be filled.
PackingRequest filling_all(PackingRequest packing) {
  if (!packing.stock_m.empty())
    packing.slack_m = std::min(packing.slack_m, std::ranges::min(packing.stock_m) / 2);
  return packing;
}

void fill_in_trial(const Brief& brief, const Way& way, bool centring, Remedy& out) {
  RemedyTrial& trial = out.trial;
  trial.name = name_of(brief, way.name, out.packed, way.springers);
  if (way.name == kPackersAlone && out.packed.goes_in && out.packed.packers.empty() &&
      !way.springers)
    trial.name = centring ? "the feet set, no packers" : "no packers";
  trial.goes_in = out.packed.goes_in;
  trial.packers = static_cast<int>(out.packed.packers.size());
  trial.packed_joints = out.packed.packed_joints;
  trial.packers_m = out.packed.packers_m;
  trial.thickest_m = out.packed.thickest_m;
  trial.other_pads = static_cast<int>(out.packed.pads.size());
  trial.reason = out.packed.reason;
}

Remedy tried(const RefitInput& input, const StackModel& model, const FootingsFound& found,
             const AsMade& made, const Way& way) {
  const Brief& brief = *input.brief;
  const Assembly& assembly = model.assembly();
  Remedy out;
  out.axes = way.axes;
  out.springers = way.springers;
  out.thinnest = way.thinnest;
  out.pads = way.pads;
  out.filled = way.filled;
  out.made = about_axes(made, found, way.axes);
  out.stack = stack_up(model, out.made, brief.packing);
  std::vector<OtherPad> pads;
  if (way.pads) pads = choose_pads(model, out.made, brief.packing);
  const AsMade on_pads = with_pads(model, out.made, pads);
  const int fewest = way.thinnest || way.filled ? 0 : kPrograms;
  out.packed = pack_up(model, on_pads, way.filled ? filling_all(brief.packing) : brief.packing,
                       {.springers = way.springers, .fewest = fewest, .coarse = kPrograms});
  out.packed.pads = pads;
  if (const std::string why = too_thick(model, brief.packing, out.packed); !why.empty()) {
    out.packed.goes_in = false;
    out.packed.reason = why;
  }
  out.as_laid = with_springers(model, on_pads, out.packed);
  AsMade uncompressed = on_pads;
  const std::vector<double> closing = closing_with(model, input.closing_m, pads);
  for (std::size_t j = 0; j < closing.size(); ++j) uncompressed.pad_m[j] += closing[j];
  out.laid = lie_with(model, uncompressed, out.packed);
  if (input.centring != nullptr) {
    out.feet = set_feet(*input.centring, assembly, poses_of(assembly, out.laid, way.axes),
                        input.points, brief.packing, brief.centring.settlement_m);
    out.trial.feet_trimmed = static_cast<int>(
        std::ranges::count_if(out.feet->feet, [](const FootSetting& f) { return f.trim_m > 0; }));
  }
  fill_in_trial(brief, way, input.centring != nullptr, out);
  return out;
}

PointFile in_bridge_axes(PointFile file, const Rigid& datum) {
  const Rigid back = inverse(datum);
  for (MeasuredPoint& point : file.points) point.at = back(point.at);
  return file;
}

/// In plan and level only: the middle of the marks to where they are found.
Rigid shift_only(const FootingsFound& found, const std::vector<Mark>& marks) {
  Vec3 middle = Vec3::Zero();
  for (const Mark& mark : marks) middle += mark.designed / static_cast<double>(marks.size());
  return {Mat3::Identity(), found.whole.X(middle) - middle};
}

bool apart(const Rigid& a, const Rigid& b, const std::vector<Mark>& marks) {
  return std::ranges::any_of(marks, [&](const Mark& mark) {
    return (a(mark.designed) - b(mark.designed)).norm() > kNoShift;
  });
}

/// Packers, and what pads change by.
double together_m(const Remedy& remedy) {
  double out = remedy.trial.packers_m;
  for (const OtherPad& pad : remedy.packed.pads) out += std::abs(pad.by_m());
  return out;
}

double worst_lie(const Remedy& remedy, const PackingRequest& packing) {
  double worst = 0;
  for (const JointLie& lie : remedy.packed.joints) {
    worst = std::max({worst, -lie.gap_min_m() - packing.squeeze_m, lie.gap_max_m() - packing.most_m,
                      lie.step_max_m() - packing.step_m});
  }
  return worst;
}

}  // namespace

std::vector<Remedy> try_remedies(const RefitInput& input, const StackModel& model,
                                 const FootingsFound& found, const AsMade& made) {
  const std::vector<Mark>& marks = found.marks;
  const Rigid drawn, shifted = shift_only(found, marks);
  std::vector<Way> ways{{.name = kPackersAlone, .axes = drawn},
                        {.name = kOtherPads, .axes = drawn, .pads = true}};
  if (apart(shifted, drawn, marks))
    ways.push_back({.name = "the bridge shifted in plan and level first", .axes = shifted});
  if (apart(found.whole.X, drawn, marks) && apart(found.whole.X, shifted, marks))
    ways.push_back({.name = "the bridge shifted and turned first", .axes = found.whole.X});
  RefitInput mine = input;
  std::optional<PointFile> points;
  if (input.points != nullptr)
    mine.points = &points.emplace(in_bridge_axes(*input.points, found.datum));
  std::vector<Remedy> out;
  out.resize(ways.size());
  for_each_index(ways.size(),
                 [&](std::size_t k) { out[k] = tried(mine, model, found, made, ways[k]); });
  if (out.front().packed.fewest && !out.front().packed.packers.empty()) {
    Remedy thin =
        tried(mine, model, found, made, {.name = kThinnest, .axes = drawn, .thinnest = true});
    if (thin.packed.packers.size() != out.front().packed.packers.size())
      out.insert(out.begin() + 1, std::move(thin));
  }
  if (out.front().packed.goes_in) {
    Remedy filled =
        tried(mine, model, found, made, {.name = kFilled, .axes = drawn, .filled = true});
    if (filled.packed.packers.size() > out.front().packed.packers.size())
      out.push_back(std::move(filled));
  }
  std::erase_if(out, [](const Remedy& r) { return r.pads && r.packed.pads.empty(); });
  if (std::ranges::any_of(out, [](const Remedy& r) { return r.trial.goes_in; })) return out;
  for (Way& way : ways) {
    if (way.pads) continue;
    way.springers = true;
    out.push_back(tried(mine, model, found, made, way));
  }
  std::erase_if(out, [](const Remedy& r) { return r.springers && r.packed.springers.empty(); });
  return out;
}

std::size_t choose(const std::vector<Remedy>& remedies, const PackingRequest& packing) {
  const auto in = [](const Remedy& r) { return r.trial.goes_in && !r.thinnest && !r.filled; };
  const auto first = std::ranges::find_if(remedies, in);
  if (first == remedies.end()) {
    const auto nearest = std::ranges::min_element(
        remedies, {}, [&](const Remedy& r) { return worst_lie(r, packing); });
    return static_cast<std::size_t>(nearest - remedies.begin());
  }
  auto best = first;
  for (auto it = first + 1; it != remedies.end(); ++it) {
    if (in(*it) && together_m(*it) < kHalf * together_m(*best)) best = it;
  }
  return static_cast<std::size_t>(best - remedies.begin());
}

std::vector<std::size_t> instead(const std::vector<Remedy>& remedies, std::size_t chosen) {
  std::vector<std::size_t> out;
  for (const auto kind : {&Remedy::pads, &Remedy::thinnest, &Remedy::filled}) {
    for (std::size_t k = 0; k < remedies.size(); ++k)
      if (k != chosen && remedies[k].trial.goes_in && remedies[k].*kind) out.push_back(k);
  }
  return out;
}

}  // namespace skewback
