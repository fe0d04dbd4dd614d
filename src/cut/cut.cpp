#include "cut/cut.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "base/parallel.hpp"
#include "cut/count.hpp"
#include "cut/joints.hpp"
#include "cut/key_parts.hpp"
#include "cut/lots.hpp"
#include "cut/one_course.hpp"
#include "cut/plainly.hpp"
#include "cut/stars.hpp"
#include "cut/trunk_parts.hpp"

namespace skewback {
namespace {

constexpr double kStep = 0.005, kCourse = 0.05;  // of the mass a course may have, less at a try
constexpr double kUnchanged = 1e-4;              // of a mass
constexpr int kTries = 6;
constexpr std::size_t kFiner = 3;   // times as many courses as at first
constexpr double kLostMost = 1e-6;  // of the body, lost or had twice between blocks and pads

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Of a course that is divided in n across.
double course_mass_most(const Brief& brief, int n) {
  return brief.blocks.mass_max_kg * n / (n > 1 ? 1 + kShift : 1) / kMassMargin;
}

/// `turned_arm` begins with the other sign of the shift; -1: none has to.
Result<Pieces> cut_all(const Brief& brief, const Body& body, const std::vector<ArmLimits>& limits,
                       const std::vector<int>& across, int turned_arm, bool plainly,
                       const Progress& progress) {
  Pieces out;
  Result<JointPlanes> planes = joint_planes(brief, body, limits);
  if (!planes) return planes.faults();
  out.planes = std::move(planes).value();
  const double pad = brief.joints.pad_thickness_m;
  Result<Taken> taken = take_apart(body, out.planes, pad, plainly, progress);
  if (!taken) return taken.faults();
  out.taken = std::move(taken).value();
  const std::vector<Course>& courses = out.taken.courses;
  std::vector<Result<Cutting>> cut(courses.size(), Result<Cutting>(Cutting{}));
  const auto cut_one = [&](std::size_t i, const std::vector<double>& beside) {
    progress.checkpoint("cut",
                        0.8 + 0.2 * static_cast<double>(i) / static_cast<double>(courses.size()));
    const Course& course = courses[i];
    const bool trunk = course.arm >= 0 && !course.crown;
    const bool lone = is_lone_key(course);
    const std::vector<ArmCuts>& arms = out.planes.arms;
    int n = trunk ? across[at(course.arm)] : 1;
    if (!trunk && !lone)
      n = course.arm < 0 ? across[0]
                         : parts_across(brief.blocks, width_of(course.solid, course.low, pad));
    cut[i] = cut_course(brief, body, course, arms, n, beside, plainly);
    // a key of three sides is made as small as it has to be
    const bool divisible = lone ? arms.size() > 3 : !trunk;
    for (int more = 1; divisible && cut[i] && more <= 8 && brief.blocks.count == 0 &&
                       heaviest(*cut[i], body.density) > brief.blocks.mass_max_kg;
         ++more)
      cut[i] = cut_course(brief, body, course, arms, n + more, beside, plainly);
  };
  // up each arm, so that each course knows the one below; then the key, which is one more course
  std::vector<std::size_t> first, last;
  for (std::size_t i = 0; i < courses.size() && courses[i].arm >= 0; ++i) {
    if (i == 0 || courses[i].arm != courses[i - 1].arm) first.push_back(i);
    if (i + 1 == courses.size() || courses[i].arm != courses[i + 1].arm) last.push_back(i);
  }
  // signs of the shift change from course to course: the second arm begins so that those beside the
  // key, which sees it from the other side, are alike
  const bool bedded_key = courses.back().arm < 0 && courses.back().beds && first.size() == 2;
  if (bedded_key && (last[0] - first[0]) % 2 == (last[1] - first[1]) % 2) turned_arm = 1;
  for_each_index(first.size(), [&](std::size_t k) {
    std::vector<double> beside;
    const int arm = courses[first[k]].arm;
    if (const int n = across[at(arm)]; arm == turned_arm && n > 1) beside = {(1 + kShift) / n};
    for (std::size_t i = first[k]; i <= last[k]; ++i) {
      cut_one(i, beside);
      if (!cut[i]) return;
      if (i < last[k]) beside = seen_from(*cut[i], courses[i + 1], pad);
    }
  });
  if (courses.back().arm < 0) {
    std::vector<double> beside;
    for (std::size_t i : last) {
      if (!cut[i]) return cut[i].faults();
      // the key's bed in the second arm is seen from the other side
      for (double share : cut[i]->shares) beside.push_back(i == last[0] ? share : 1 - share);
    }
    cut_one(courses.size() - 1, beside);
  }
  for (Result<Cutting>& c : cut) {
    if (!c) return c.faults();
    out.cuttings.push_back(std::move(c).value());
  }
  return out;
}

/// Least share by which the mass of each arm's courses is over the limit; 1 if none is.
std::vector<double> overweight(const Brief& brief, const Body& body, const Pieces& pieces) {
  std::vector<double> out(pieces.planes.arms.size(), 1);
  for (const Cutting& cutting : pieces.cuttings) {
    if (cutting.course->arm < 0) {
      if (!cutting.course->beds) continue;
      for (double& share : out)
        share = std::max(share, heaviest(cutting, body.density) / brief.blocks.mass_max_kg);
      continue;
    }
    double& share = out[at(cutting.course->arm)];
    share = std::max(share, heaviest(cutting, body.density) / brief.blocks.mass_max_kg);
  }
  return out;
}

/// Tightens the limits of arms until the masses fit.
class Settling {
 public:
  Settling(const Brief& brief, const Body& body, int turned_arm)
      : brief_(brief), body_(body), turned_arm_(turned_arm), across_(trunk_parts(brief, body)) {
    for (int n : across_) limits_.push_back({course_mass_most(brief, n)});
    before_.assign(limits_.size(), 0);
    step_.assign(limits_.size(), kStep);
  }

  [[nodiscard]] Result<Pieces> cut(bool plainly, const Progress& progress) {
    for (;;) {
      Result<Pieces> pieces =
          cut_all(brief_, body_, limits_, across_, turned_arm_, plainly, progress);
      if (!pieces || !tightened(*pieces)) return pieces;
    }
  }

 private:
  /// False where no block is too heavy, or no use is left in trying.
  [[nodiscard]] bool tightened(const Pieces& pieces) {
    const std::vector<ArmCuts>& arms = pieces.planes.arms;
    if (first_.empty())
      for (const ArmCuts& arm : arms) first_.push_back(arm.trunk);
    if (tries_ == kTries || brief_.blocks.count > 0) return false;
    const std::vector<double> over = overweight(brief_, body_, pieces);
    if (std::all_of(over.begin(), over.end(), [](double share) { return share <= 1; }))
      return false;
    // a block that stays too heavy in so many courses has another reason: it is named
    for (std::size_t k = 0; k < first_.size(); ++k)
      if (arms[k].trunk > kFiner * first_[k]) return false;
    for (std::size_t k = 0; k < limits_.size(); ++k) {
      // a course more is needed where the last step changed nothing
      const bool same = std::abs(over[k] - before_[k]) < kUnchanged;
      step_[k] = same ? std::max(2 * step_[k], kCourse) : kStep;
      if (over[k] > 1) limits_[k].course_mass_most_kg /= over[k] * (1 + step_[k]);
      before_[k] = over[k];
    }
    ++tries_;
    return true;
  }

  const Brief& brief_;
  const Body& body_;
  int turned_arm_;
  std::vector<int> across_;
  std::vector<ArmLimits> limits_;
  std::vector<double> before_, step_;  // the share over the limit last seen; what it was let past
  std::vector<std::size_t> first_;     // courses of each trunk at first
  int tries_ = 0;
};

/// Booleans are dear: plain arithmetic finds the limits, and what is kept is cut exactly.
Result<Pieces> settled(const Brief& brief, const Body& body, int turned_arm, bool plainly,
                       const Progress& progress) {
  Settling settling(brief, body, turned_arm);
  if (plainly) return settling.cut(true, progress);
  if (brief.blocks.count == 0) (void)settling.cut(true, progress);
  return settling.cut(false, progress);
}

/// A star plan is one lot. A plan with two meetings is three: the key in the middle of the spine,
/// then each star with its half of the spine.
Result<std::vector<Lot>> lots_of(const Brief& brief, const Body& body, bool plainly,
                                 const Progress& progress) {
  std::vector<Lot> lots(1);
  if (body.form.spine_arms == 0) {
    Result<Pieces> pieces = settled(brief, body, -1, plainly, progress);
    if (!pieces) return pieces.faults();
    lots[0].pieces = std::move(pieces).value();
    for (std::size_t k = 0; k < brief.plan.supports.size(); ++k)
      lots[0].arms.push_back({static_cast<int>(k), brief.plan.supports[k].id, false});
    return lots;
  }
  const std::vector<int> across = trunk_parts(brief, body);
  const int over_spine = std::max(across[across.size() - 2], across.back());
  Result<SpineCut> spine = cut_at_spine(brief, body, course_mass_most(brief, over_spine));
  if (!spine) return spine.faults();
  const int supports = static_cast<int>(brief.plan.supports.size());
  std::vector<double> beside;
  for (int m : {0, 1}) {
    const Star& star = spine->stars[at(m)];
    // so that the key, which sees the second star's half of the spine from the other side, finds
    // the courses beside it alike
    const int turned_arm = m == 1 ? static_cast<int>(star.supports.size()) : -1;
    Result<Pieces> pieces = settled(star.brief, star.body, turned_arm, plainly, progress);
    if (!pieces) return pieces.faults();
    Lot lot;
    lot.pieces = std::move(pieces).value();
    for (int k : star.supports) lot.arms.push_back({k, brief.plan.supports[at(k)].id, false});
    lot.arms.push_back({supports + m, star.brief.plan.supports.back().id, true});
    lot.key = m == 0 ? "key-a" : "key-b";
    lot.top_phi_m = star.top_phi_m;
    for (const Cutting& cutting : lot.pieces.cuttings) {
      const Course& course = *cutting.course;
      if (course.arm < 0 || lot.turned(course)) continue;
      lot.before = std::max(lot.before, course.number + 1);
      lot.key_phi_m = std::max(lot.key_phi_m, course.phi_m);
    }
    lot.key_number = lot.before;
    for (const Cutting& cutting : lot.pieces.cuttings)
      if (lot.turned(*cutting.course) && cutting.course->number == 1)
        for (double share : cutting.shares) beside.push_back(m == 0 ? 1 - share : share);
    lots.push_back(std::move(lot));
  }
  Lot& key = lots[0];
  key.pieces.taken.courses.emplace_back();
  Course& course = key.pieces.taken.courses.back();
  course.crown = true;
  course.low = spine->beds[0].opposite();
  course.high = spine->beds[1];
  course.solid = std::move(spine->key);
  Result<Cutting> cutting = cut_course(brief, body, course, {}, over_spine, beside, plainly);
  for (int more = 1; cutting && more <= 8 && brief.blocks.count == 0 &&
                     heaviest(*cutting, body.density) > brief.blocks.mass_max_kg;
       ++more)
    cutting = cut_course(brief, body, course, {}, over_spine + more, beside, plainly);
  if (!cutting) return cutting.faults();
  key.pieces.cuttings.push_back(std::move(cutting).value());
  for (int m : {0, 1}) {
    const Lot& lot = lots[at(m) + 1];
    key.key_number = std::max(key.key_number, lot.before + lot.spine_courses() + 1);
    key.key_phi_m = std::max(key.key_phi_m, lot.top_phi_m);
  }
  return lots;
}

Result<Cut> blocks_of(const Brief& brief, const Body& body, bool plainly,
                      const Progress& progress) {
  Result<std::vector<Lot>> made = lots_of(brief, body, plainly, progress);
  if (!made) return made.faults();
  std::vector<Lot> lots = std::move(made).value();
  Cut cut;
  add_grounds(brief, body, cut.assembly);
  std::vector<std::vector<std::vector<int>>> blocks;
  for (Lot& lot : lots) blocks.push_back(add_blocks(brief, body, lot, cut.assembly, progress));
  measure(cut.assembly);
  for (std::size_t i = 0; i < lots.size(); ++i)
    add_joints(brief, lots[i], blocks[i], blocks[0].front(), cut, progress);
  leave_small_open(cut.assembly, cut.report);
  for (const Joint& joint : cut.assembly.joints) cut.pads.push_back(pad_solid(joint));
  const Pieces taken = together(lots);
  double volume = 0;
  for (const Block& block : cut.assembly.blocks) volume += block.fixed ? 0 : block.mass.volume;
  add_report(brief, body, taken, volume, cut);
  if (!(cut.report.volume_error_rel <= kLostMost)) {
    char found[120];
    std::snprintf(found, sizeof found, "blocks and pads that are off the whole body by %.4f m3",
                  cut.report.volume_error_rel * cut.report.designed_volume_m3);
    return Fault{.key = "blocks",
                 .found = found,
                 .expected = "blocks and pads that fill it, none of it lost or had twice",
                 .change =
                     "plan.meeting nearer the middle of the opening, or legs more alike: a "
                     "plan that skewback cannot cut yet"};
  }
  return cut;
}

}  // namespace

Result<Cut> cut_blocks(const Brief& brief, const Body& body, const Progress& progress) {
  const auto cut = [&](const Brief& b) { return blocks_of(b, body, false, progress); };
  return counts_all_blocks(brief) ? cut_to_count(brief, body, cut) : cut(brief);
}

Result<Cut> cut_blocks_plainly(const Brief& brief, const Body& body, const Progress& progress) {
  const auto cut = [&](const Brief& b) { return blocks_of(b, body, true, progress); };
  return counts_all_blocks(brief) ? cut_to_count(brief, body, cut) : cut(brief);
}

}  // namespace skewback
