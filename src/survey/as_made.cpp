#include "survey/as_made.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "base/constants.hpp"
#include "survey/bed_fit.hpp"
#include "survey/bed_names.hpp"

namespace skewback {
namespace {

constexpr double kShape = 0.005;   // m: how far blocks are off without a slip of measurement
constexpr double kShort = 0.0005;  // m, and
constexpr double kSlight = 0.03 * kPi / 180;  // not worth a word

using Named = std::map<std::string, const MeasuredPoint*>;

/// All measured points of one block.
struct BlockPoints {
  std::vector<Bed> beds;
  std::vector<int> bed, place;  // per point
  std::vector<Vec3> designed, measured;
  std::vector<double> accuracy_m;
  std::vector<std::string> names;
  std::vector<int> lines;
};

BlockPoints points_of(const Assembly& assembly, int index, const Named& named) {
  BlockPoints out;
  out.beds = beds_of(assembly, index);
  for (int b = 0; b < static_cast<int>(out.beds.size()); ++b) {
    const Bed& bed = out.beds[static_cast<std::size_t>(b)];
    const std::array<Vec2, 5> places = bed_places(bed);
    for (int k = 0; k < 5; ++k) {
      const std::string name =
          assembly.blocks[index].id + " " + bed.name + " " + std::to_string(k + 1);
      const auto at = named.find(name);
      if (at == named.end()) continue;
      out.bed.push_back(b);
      out.place.push_back(k);
      out.designed.push_back(bed.on(places[static_cast<std::size_t>(k)]));
      out.measured.push_back(at->second->at);
      out.accuracy_m.push_back(at->second->accuracy_m);
      out.names.push_back(name);
      out.lines.push_back(at->second->line);
    }
  }
  return out;
}

std::vector<BedReading> readings_of(const BlockPoints& points, const RigidFit& fit, int bed) {
  const Frame& frame = points.beds[static_cast<std::size_t>(bed)].frame;
  std::vector<BedReading> out;
  for (std::size_t i = 0; i < points.designed.size(); ++i) {
    if (points.bed[i] != bed) continue;
    if (std::ranges::find(fit.outliers, static_cast<int>(i)) != fit.outliers.end()) continue;
    const Vec3 off = fit.X.R.transpose() * fit.residual_m[i];
    out.push_back({.place = points.place[i],
                   .at = frame.to_local(points.designed[i]).head<2>(),
                   .off = {off.dot(frame.x), off.dot(frame.y), off.dot(frame.z)},
                   .accuracy_m = points.accuracy_m[i]});
  }
  return out;
}

struct ShapedBed {
  const Bed* bed = nullptr;
  BedShape shape;
  [[nodiscard]] double proud() const { return -bed->side * shape.plane(bed->middle); }
  [[nodiscard]] Vec3 shift() const { return shape.shift(bed->frame, bed->middle); }
  [[nodiscard]] Vec3 middle() const { return bed->on(bed->middle); }
};

/// Near against far.
void compare_two(const ShapedBed& near, const ShapedBed& far, MeasuredBlock& out) {
  const Vec3 turn = far.shape.turn(far.bed->frame) - near.shape.turn(near.bed->frame);
  const Vec3 flow = (far.middle() - near.middle()).normalized();
  out.length_m = (far.shift() - near.shift()).dot(flow);
  Vec3 level = flow.cross(Vec3::UnitZ());
  constexpr double kUpright = 1e-3;
  level = level.norm() > kUpright ? level.normalized() : near.bed->frame.x;
  out.wedge_rad = -turn.dot(level);
  out.twist_rad = turn.dot(flow);
  out.skew_rad = turn.dot(level.cross(flow));
}

/// Every bed against the block's fit.
void compare_many(const std::vector<ShapedBed>& beds, MeasuredBlock& out) {
  for (const ShapedBed& bed : beds) {
    out.length_m += 2 * bed.proud() / static_cast<double>(beds.size());
    // About the frame's x; the bed's upper edge out of the block: longer at the back.
    const double wedge = -bed.bed->side * bed.shape.slope.y();
    if (std::abs(wedge) > std::abs(out.wedge_rad)) out.wedge_rad = wedge;
  }
}

std::string words(const char* format, double value, const char* more, const char* less) {
  char text[160];
  std::snprintf(text, sizeof text, format, std::abs(value), value > 0 ? more : less);
  return text;
}

/// Four corners of a plane have one way to be out of it: two across from each other stand out.
std::string warp_in_words(const ShapedBed& bed) {
  double most = 0, one = 0, two = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    const double proud = -bed.bed->side * bed.shape.corner_m[k];
    most = std::max(most, std::abs(proud));
    (k % 2 == 0 ? one : two) += proud;
  }
  if (most < kShort) return "";
  return "bed " + bed.bed->name +
         words(" warped, its corners up to %.1f mm off a plane (%s)",
               1e3 * (one > two ? most : -most), "1 and 3 proud", "2 and 4 proud");
}

std::string in_words(const MeasuredBlock& block, const BlockPoints& points,
                     const std::vector<ShapedBed>& beds) {
  constexpr double kDegrees = 180 / kPi;
  std::string out;
  const auto add = [&](const std::string& text) { out += (out.empty() ? "" : ", ") + text; };
  if (std::abs(block.length_m) >= kShort)
    add(words("%.1f mm too %s", 1e3 * block.length_m, "long", "short"));
  if (std::abs(block.wedge_rad) >= kSlight)
    add(words("beds %.2f degrees out of their angle (longer at the %s)", kDegrees * block.wedge_rad,
              "back", "soffit"));
  if (std::abs(block.twist_rad) >= kSlight)
    add(words("far bed twisted %.2f degrees%s", kDegrees * block.twist_rad, "", ""));
  if (std::abs(block.skew_rad) >= kSlight)
    add(words("beds %.2f degrees out of square in plan%s", kDegrees * block.skew_rad, "", ""));
  if (std::abs(block.bow_m) >= kShort)
    add(words("a bed %.1f mm %s in its middle", 1e3 * block.bow_m, "proud", "hollow"));
  for (const ShapedBed& bed : beds)
    if (const std::string warp = warp_in_words(bed); !warp.empty()) add(warp);
  if (out.empty()) out = "as drawn, to half a millimetre";
  for (const int i : block.fit.outliers) {
    const auto at = static_cast<std::size_t>(i);
    out +=
        "; " + points.names[at] +
        words(" is %.0f mm off: measure it again%s", 1e3 * block.fit.residual_m[at].norm(), "", "");
  }
  return out;
}

/// Why a block stays as drawn; empty: it does not.
std::string unusable(const BlockPoints& points, const RigidFit& fit,
                     const std::vector<ShapedBed>& shaped) {
  if (!fit.determined) return fit.reason;
  if (!fit.suspicion.empty()) return fit.suspicion;
  if (shaped.size() >= 2) return "";
  std::string missing;
  for (const Bed& bed : points.beds) {
    if (std::ranges::any_of(shaped, [&](const ShapedBed& s) { return s.bed == &bed; })) continue;
    missing += (missing.empty() ? "" : ", ") + bed.name;
  }
  return "fewer than three sound points off one line on bed " + missing +
         "; two beds are needed to say how long it is";
}

PointPairs pairs_of(const BlockPoints& points) {
  PointPairs out{points.designed, points.measured, {}};
  for (const double a : points.accuracy_m) out.accuracy_m.push_back(std::hypot(a, kShape));
  return out;
}

RigidFit fit_block(const BlockPoints& points, double gate) {
  const PointPairs pairs = pairs_of(points);
  return fit_rigid(pairs.designed, pairs.measured, pairs.accuracy_m, gate, points.names);
}

/// What simple mistakes would bring all its points within the gate.
std::string mistakes(const BlockPoints& points, const RigidFit& fit, double gate) {
  NamedBeds named;
  for (const Bed& bed : points.beds) {
    const std::array<Vec2, 5> places = bed_places(bed);
    named.beds.push_back(bed.name);
    named.drawn.emplace_back();
    for (std::size_t k = 0; k < 5; ++k) named.drawn.back()[k] = bed.on(places[k]);
  }
  for (std::size_t i = 0; i < points.names.size(); ++i)
    named.measured.emplace_back(points.bed[i], points.place[i]);
  std::string out = fit.mistake ? fit.suspicion : "";
  if (const std::string names = names_exchanged(named, pairs_of(points), gate); !names.empty())
    out += (out.empty() ? "" : "; or ") + names;
  return out;
}

Fault wrong_points(const std::string& file, const std::string& block, const BlockPoints& points,
                   const RigidFit& fit, const std::string& found) {
  std::size_t worst = 0;
  for (std::size_t i = 1; i < fit.residual_m.size(); ++i)
    if (fit.residual_m[i].norm() > fit.residual_m[worst].norm()) worst = i;
  return {.file = file,
          .line = points.lines[worst],
          .key = "survey: block " + block,
          .found = found,
          .expected = "the marks of its beds as drawn, but for what a block is out of shape by",
          .change = "look at names and unit of the points of " + block +
                    ", beginning with this one, or measure it again"};
}

}  // namespace

AsMade as_drawn(const Assembly& assembly, std::size_t supports) {
  AsMade made;
  made.supports.resize(supports);
  made.on_a.resize(assembly.joints.size());
  made.on_b.resize(assembly.joints.size());
  made.pad_m.resize(assembly.joints.size());
  made.timber_m.resize(assembly.blocks.size());
  return made;
}

MeasuredBlocks measure_blocks(const Assembly& assembly, const PointFile& points, double gate,
                              AsMade& made) {
  Named named;
  for (const MeasuredPoint& point : points.points) named.emplace(point.mark, &point);
  MeasuredBlocks out;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    if (assembly.blocks[i].fixed) continue;
    const BlockPoints mine = points_of(assembly, i, named);
    if (mine.names.empty()) continue;
    MeasuredBlock block;
    block.block = i;
    block.fit = fit_block(mine, gate);
    if (const std::string why = mistakes(mine, block.fit, gate); !why.empty()) {
      out.wrong.push_back(wrong_points(points.file, assembly.blocks[i].id, mine, block.fit, why));
      continue;
    }
    std::vector<ShapedBed> shaped;
    for (int b = 0; b < static_cast<int>(mine.beds.size()); ++b) {
      const Bed& bed = mine.beds[static_cast<std::size_t>(b)];
      if (const auto shape = shape_of(bed, readings_of(mine, block.fit, b)))
        shaped.push_back({&bed, *shape});
    }
    if (const std::string why = unusable(mine, block.fit, shaped); !why.empty()) {
      out.remarks.push_back(assembly.blocks[i].id + ": " + why + "; taken as drawn");
      continue;
    }
    const bool arm = assembly.blocks[i].place.arm >= 0;
    if (arm && shaped.size() == 2)
      compare_two(shaped[0], shaped[1], block);
    else
      compare_many(shaped, block);
    for (const ShapedBed& s : shaped) {
      if (std::abs(s.shape.proud_m) > std::abs(block.bow_m)) block.bow_m = s.shape.proud_m;
      for (const double corner : s.shape.corner_m)
        block.warp_m = std::max(block.warp_m, std::abs(corner));
      for (const int j : s.bed->joints) {
        const Joint& joint = assembly.joints[j];
        (joint.a == i ? made.on_a : made.on_b)[j] = error_at(*s.bed, s.shape, joint);
      }
    }
    block.finding = in_words(block, mine, shaped);
    out.blocks.push_back(std::move(block));
  }
  return out;
}

}  // namespace skewback
