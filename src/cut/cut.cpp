#include "cut/cut.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "base/parallel.hpp"
#include "cut/count.hpp"
#include "cut/footing.hpp"
#include "cut/joints.hpp"
#include "cut/key_parts.hpp"
#include "cut/pieces.hpp"
#include "cut/plainly.hpp"
#include "cut/stars.hpp"

namespace skewback {
namespace {

constexpr double kOnPlane = 1e-7;     // m
constexpr double kShift = 0.14;       // of a part, either way: head joints 0.28 of a block apart
constexpr double kStagger = 0.25;     // of a part, least distance of head joints over a bed
constexpr double kMassMargin = 1.03;  // the section rule against the exact block
constexpr double kShortest = 0.15;    // m: shorter courses are divided across instead
constexpr double kStep = 0.005, kCourse = 0.05;  // of the mass a course may have, less at a try
constexpr double kUnchanged = 1e-4;              // of a mass
constexpr int kTries = 6;
constexpr double kLostMost = 1e-6;  // of the body, lost or had twice between blocks and pads
constexpr double kLeafShare = 0.7;  // of a leaf beside which a side curves in between the beds

std::size_t at(int i) { return static_cast<std::size_t>(i); }

TubeLimits tube_limits(const Brief& brief, int arm) {
  TubeLimits limits;
  if (arm < 0 || brief.parapet.works_on(arm))
    limits.upstand_width_m = brief.parapet.upstand_width_m;
  limits.leaf_least_share = kLeafShare;
  return limits;
}

/// Places of head joints over a course's width.
std::vector<double> shares(int across, double shift) {
  std::vector<double> out;
  for (int i = 1; i < across; ++i) out.push_back((i + shift) / across);
  return out;
}

/// The shift whose head joints keep furthest from those of the courses beside it; of equals the
/// first. Other shifts make parts less alike: only where the usual ones are too near.
double best_shift(const std::vector<double>& beside, int across) {
  double best = kShift, furthest = -1;
  const auto attempt = [&](double shift) {
    double least = 1;
    for (double a : beside)
      for (double b : shares(across, shift)) least = std::min(least, std::abs(a - b));
    if (least > furthest + 1e-9) furthest = least, best = shift;
  };
  for (const double shift : {kShift, -kShift, 0.0}) attempt(shift);
  const int finer = std::max(across, static_cast<int>(beside.size()) + 1);
  if (furthest * finer < kStagger)
    for (const double shift : {0.07, -0.07, 0.2, -0.2, 0.25, -0.25}) attempt(shift);
  return best;
}

/// The head joints of the course below where they meet the bed of `above`, as shares of its width:
/// the two need not be equally wide, as where the ridges cut into a crown.
std::vector<double> seen_from(const Cutting& below, const Course& above, double pad) {
  double low = std::numeric_limits<double>::max(), high = -low;
  for (const Region& r : bed_of(above.solid, above.low, pad, -1))
    for (const Vec2& p : r.outer) low = std::min(low, p.x()), high = std::max(high, p.x());
  std::vector<double> out;
  for (double x : ends_in(below, above.low)) out.push_back((x - low) / (high - low));
  return out;
}

/// A key of three sides or more.
bool is_lone_key(const Course& course) { return course.arm < 0 && !course.beds; }

/// One course divided in `across` parts, hollow where the section says so and there is room.
/// `beside`: where the head joints of its neighbours are.
Result<Cutting> cut_course(const Brief& brief, const Body& body, const Course& course,
                           const std::vector<ArmCuts>& arms, int across,
                           const std::vector<double>& beside, bool plainly) {
  const double pad = brief.joints.pad_thickness_m;
  const bool trunk = !course.crown && course.arm >= 0;
  Cutting out;
  out.course = &course;
  const double shift = best_shift(beside, across);
  out.shares = shares(across, shift);
  Result<Parts> parts = is_lone_key(course) && across > 1
                            ? divide_key(course, arms, pad, across)
                            : divide_across(course, pad, across, shift, plainly);
  if (!parts) return parts.faults();
  out.parts = std::move(parts).value();
  for (const Solid& part : out.parts.solids) {
    Hollowed block{part, 0, 0};
    if (body.section.hollow && course.beds) {
      const double width =
          trunk && across == 1 ? arms[at(course.arm)].width_max_m : width_of(part, course.low, pad);
      // where a free edge curves in between two beds, leaves have to be thicker to stay leaves
      Section section = body.section;
      const auto attempt = [&] {
        return hollowed(section, course, part, pad, tube_count(body.section, width),
                        tube_limits(brief, course.arm));
      };
      Result<Hollowed> hollow = attempt();
      for (const double more : {0.02, 0.04, 0.07, 0.1}) {
        if (hollow) break;
        section.leaf_m = body.section.leaf_m + more;
        Result<Hollowed> thicker = attempt();
        if (thicker) hollow = std::move(thicker);
      }
      if (hollow) {
        block = std::move(hollow).value();
      } else if (trunk) {
        Fault fault = hollow.faults().front();
        fault.key +=
            ", arm " + std::to_string(course.arm + 1) + ", course " + std::to_string(course.number);
        return fault;
      } else {
        out.solid_for_want_of_room = true;
      }
    }
    out.blocks.push_back(std::move(block));
  }
  return out;
}

double heaviest(const Cutting& cutting, double density) {
  double most = 0;
  for (const Hollowed& block : cutting.blocks)
    most = std::max(most, mass_properties(block.solid).volume * density);
  return most;
}

/// Of a course that is divided in n across.
double course_mass_most(const Brief& brief, int n) {
  return brief.blocks.mass_max_kg * n / (n > 1 ? 1 + kShift : 1) / kMassMargin;
}

/// Parts across the trunk of each arm.
std::vector<int> trunk_parts(const Brief& brief, const Body& body) {
  std::vector<int> out;
  const double shortest = std::max(brief.blocks.length_min_m, kShortest);
  for (const ArmField& arm : arm_fields(body.form)) {
    double width = 0, mass = 0;
    for (int i = 1; i <= 12; ++i) {
      const Level level = level_at(body, arm, arm.border_phi_m * i / 12.5);
      width = std::max(width, level.width_m);
      mass = std::max(mass, mass_per_metre(body, level));
    }
    int n = parts_across(brief.blocks, width);
    while (brief.blocks.count == 0 && n < 200 &&
           mass * shortest * kMassMargin > brief.blocks.mass_max_kg * n)
      ++n;
    out.push_back(n);
  }
  return out;
}

Result<Pieces> cut_all(const Brief& brief, const Body& body, const std::vector<ArmLimits>& limits,
                       const std::vector<int>& across, bool plainly, const Progress& progress) {
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
  for_each_index(first.size(), [&](std::size_t k) {
    std::vector<double> beside;
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

/// Shortest and longest way from one bed to the other, over the corners of both.
void measure_flow_lines(Block& block, const Plane& low, const Plane& high, double half_pad) {
  const Vec3 way = (low.normal + high.normal).normalized();
  double least = 1e9, most = 0;
  for (const auto& [from, to, sign] :
       {std::tuple{low.moved(half_pad), high.moved(-half_pad), 1},
        std::tuple{high.moved(-half_pad), low.moved(half_pad), -1}}) {
    for (const Region& r : faces_in_plane(block.solid, frame_on(from), -sign, kOnPlane)) {
      for (const Vec2& p : r.outer) {
        const double length =
            std::abs(to.distance(frame_on(from).to_world(p)) / to.normal.dot(way));
        least = std::min(least, length);
        most = std::max(most, length);
      }
    }
  }
  block.place.phi_length_min_m = least;
  block.place.phi_length_max_m = most;
}

/// What was cut as one, and what its courses become in the assembly.
struct Lot {
  struct Arm {
    int arm = -1;  // as in BlockPlace
    std::string name;
    bool turned = false;  // courses were counted down the flow, from the key of a spine
  };
  Pieces pieces;
  std::vector<Arm> arms;
  std::string key = "key";
  int before = 0;        // of a spine: the number of the key it goes on from
  int key_number = 0;    // 0: as cut
  double key_phi_m = 0;  // where it is not as cut
  double top_phi_m = 0;  // of a spine: phi where its courses were counted from
};

bool turned(const Lot& lot, const Course& course) {
  return course.arm >= 0 && lot.arms[at(course.arm)].turned;
}

/// The number of courses of a spine.
int count_turned(const Lot& lot) {
  int most = 0;
  for (const Cutting& cutting : lot.pieces.cuttings)
    if (turned(lot, *cutting.course)) most = std::max(most, cutting.course->number);
  return most;
}

BlockPlace place_of(const Lot& lot, const Course& course, std::size_t part, std::size_t parts) {
  BlockPlace place;
  place.crown = course.crown;
  place.course = course.number;
  place.phi_m = course.phi_m;
  place.place = static_cast<int>(part) + 1;
  if (course.arm < 0) {
    if (lot.key_number > 0) {
      place.course = lot.key_number;
      place.phi_m = lot.key_phi_m;
    }
    return place;
  }
  place.arm = lot.arms[at(course.arm)].arm;
  if (turned(lot, course)) {
    place.course = lot.before + count_turned(lot) + 1 - course.number;
    place.phi_m = lot.top_phi_m - course.phi_m;
    place.place = static_cast<int>(parts - part);
  }
  return place;
}

std::string name_of(const Lot& lot, const Course& course, const BlockPlace& place,
                    std::size_t parts) {
  std::string name = lot.key;
  if (course.arm >= 0) {
    char number[16];
    std::snprintf(number, sizeof number, "-%02d",
                  place.course - (turned(lot, course) ? lot.before : 0));
    name = lot.arms[at(course.arm)].name + number;
  }
  return parts == 1 ? name : name + "-" + std::to_string(place.place);
}

void add_grounds(const Brief& brief, const Body& body, Assembly& assembly) {
  for (std::size_t k = 0; k < brief.plan.supports.size(); ++k)
    assembly.blocks.push_back(ground_block(brief, body, static_cast<int>(k)));
}

/// Blocks of each course.
std::vector<std::vector<int>> add_blocks(const Brief& brief, const Body& body, Lot& lot,
                                         Assembly& assembly, const Progress& progress) {
  std::vector<std::vector<int>> out;
  std::vector<const Course*> course_of(assembly.blocks.size(), nullptr);
  for (Cutting& cutting : lot.pieces.cuttings) {
    const Course& course = *cutting.course;
    out.emplace_back();
    for (std::size_t p = 0; p < cutting.blocks.size(); ++p) {
      Block block;
      block.place = place_of(lot, course, p, cutting.blocks.size());
      block.id = name_of(lot, course, block.place, cutting.blocks.size());
      block.solid = std::move(cutting.blocks[p].solid);
      block.density = body.density;
      out.back().push_back(static_cast<int>(assembly.blocks.size()));
      assembly.blocks.push_back(std::move(block));
      course_of.push_back(&course);
    }
  }
  for_each_index(assembly.blocks.size(), [&](std::size_t i) {
    progress.checkpoint("cut", 1);
    if (course_of[i] == nullptr || !course_of[i]->beds) return;
    measure_flow_lines(assembly.blocks[i], course_of[i]->low, course_of[i]->high,
                       brief.joints.pad_thickness_m / 2);
  });
  return out;
}

/// Joints of a lot. `key_of_spine`: the blocks that a spine's first course, as cut, stands against.
void add_joints(const Brief& brief, const Lot& lot, const std::vector<std::vector<int>>& blocks,
                const std::vector<int>& key_of_spine, Cut& cut, const Progress& progress) {
  const Pieces& pieces = lot.pieces;
  std::vector<std::vector<Joint>> found;
  struct Meeting {
    Plane mid;
    std::vector<int> below, above;
  };
  std::vector<Meeting> meetings;
  const int arms = static_cast<int>(pieces.planes.arms.size());
  std::vector<std::vector<int>> crown(at(arms));  // blocks of each arm in the crown
  const bool key = pieces.cuttings.back().course->arm < 0;
  for (std::size_t i = 0; i < pieces.cuttings.size(); ++i) {
    const Course& course = *pieces.cuttings[i].course;
    for (std::size_t w = 0; w < pieces.cuttings[i].parts.walls.size(); ++w)
      meetings.push_back({pieces.cuttings[i].parts.walls[w], {blocks[i][w]}, {blocks[i][w + 1]}});
    if (course.arm < 0) continue;
    const bool turn = turned(lot, course);
    const auto bed = [&](const Plane& mid, const std::vector<int>& below,
                         const std::vector<int>& above) {
      if (turn)
        meetings.push_back({mid.opposite(), above, below});
      else
        meetings.push_back({mid, below, above});
    };
    const std::vector<Plane>& planes = pieces.planes.arms[at(course.arm)].planes;
    bed(course.low,
        course.number > 1 ? blocks[i - 1]
        : turn            ? key_of_spine
                          : std::vector<int>{lot.arms[at(course.arm)].arm},
        blocks[i]);
    const bool last =
        i + 1 == pieces.cuttings.size() || pieces.cuttings[i + 1].course->arm != course.arm;
    if (last && key) bed(planes.back(), blocks[i], blocks.back());
    if (course.crown)
      crown[at(course.arm)].insert(crown[at(course.arm)].end(), blocks[i].begin(), blocks[i].end());
  }
  for (std::size_t k = 0; k < pieces.planes.walls.size(); ++k)
    meetings.push_back({pieces.planes.walls[k], crown[k], crown[(k + 1) % crown.size()]});
  found.resize(meetings.size());
  for_each_index(meetings.size(), [&](std::size_t i) {
    progress.checkpoint("cut", 1);
    const Meeting& m = meetings[i];
    found[i] = Facing(brief.joints, cut.assembly, m.mid, m.below, m.above).joints();
  });
  for (std::vector<Joint>& joints : found)
    for (Joint& joint : joints) cut.assembly.joints.push_back(std::move(joint));
}

/// Limits are tightened until the exact masses fit.
Result<Pieces> settled(const Brief& brief, const Body& body, bool plainly,
                       const Progress& progress) {
  const std::vector<int> across = trunk_parts(brief, body);
  std::vector<ArmLimits> limits;
  for (int n : across) limits.push_back({course_mass_most(brief, n)});
  Result<Pieces> pieces = cut_all(brief, body, limits, across, plainly, progress);
  std::vector<double> before(limits.size(), 0), step(limits.size(), kStep);
  for (int tries = 0; pieces && tries < kTries && brief.blocks.count == 0; ++tries) {
    const std::vector<double> over = overweight(brief, body, *pieces);
    if (std::all_of(over.begin(), over.end(), [](double share) { return share <= 1; })) break;
    for (std::size_t k = 0; k < limits.size(); ++k) {
      // a course more is needed where the last step changed nothing
      step[k] = std::abs(over[k] - before[k]) < kUnchanged ? std::max(2 * step[k], kCourse) : kStep;
      if (over[k] > 1) limits[k].course_mass_most_kg /= over[k] * (1 + step[k]);
      before[k] = over[k];
    }
    pieces = cut_all(brief, body, limits, across, plainly, progress);
  }
  return pieces;
}

/// A star plan is one lot. A plan with two meetings is three: the key in the middle of the spine,
/// then each star with its half of the spine.
Result<std::vector<Lot>> lots_of(const Brief& brief, const Body& body, bool plainly,
                                 const Progress& progress) {
  std::vector<Lot> lots(1);
  if (body.form.spine_arms == 0) {
    Result<Pieces> pieces = settled(brief, body, plainly, progress);
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
    Result<Pieces> pieces = settled(star.brief, star.body, plainly, progress);
    if (!pieces) return pieces.faults();
    Lot lot;
    lot.pieces = std::move(pieces).value();
    for (int k : star.supports) lot.arms.push_back({k, brief.plan.supports[at(k)].id, false});
    lot.arms.push_back({supports + m, star.brief.plan.supports.back().id, true});
    lot.key = m == 0 ? "key-a" : "key-b";
    lot.top_phi_m = star.top_phi_m;
    for (const Cutting& cutting : lot.pieces.cuttings) {
      const Course& course = *cutting.course;
      if (course.arm < 0 || turned(lot, course)) continue;
      lot.before = std::max(lot.before, course.number + 1);
      lot.key_phi_m = std::max(lot.key_phi_m, course.phi_m);
    }
    lot.key_number = lot.before;
    for (const Cutting& cutting : lot.pieces.cuttings)
      if (turned(lot, *cutting.course) && cutting.course->number == 1)
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
    key.key_number = std::max(key.key_number, lot.before + count_turned(lot) + 1);
    key.key_phi_m = std::max(key.key_phi_m, lot.top_phi_m);
  }
  return lots;
}

/// All lots as one, for the report.
Pieces together(std::vector<Lot>& lots) {
  Pieces all;
  all.planes = lots[0].pieces.planes;
  for (Lot& lot : lots) {
    all.taken.slab_volume_m3 += lot.pieces.taken.slab_volume_m3;
    for (Cutting& cutting : lot.pieces.cuttings) all.cuttings.push_back(std::move(cutting));
  }
  return all;
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
