// Supports given by a corner or along a curve: the outline is cut straight where they stand.

#include <algorithm>
#include <cmath>
#include <limits>

#include "brief/checks.hpp"
#include "brief/drawing.hpp"
#include "brief/outline.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr double kFlat = 0.02;    // m: the wiggle of a line that is meant to be straight
constexpr double kArc = 0.25;     // of its chord: an arc bows no more
constexpr double kHardly = 0.17;  // of twice a unit vector: corners over 170 degrees

class Cutter {
 public:
  Cutter(Draft& draft, std::size_t index)
      : draft_(draft),
        support_(draft.supports[index]),
        key_(numbered("plan.support", index)),
        outline_(draft.outline) {}

  void cut_corner() {
    const Vec2 at = *support_.at;
    const double width = support_.width_m;
    const std::size_t n = outline_.size();
    std::size_t corner = 0;
    for (std::size_t i = 0; i < n; ++i)
      if ((outline_[i] - at).norm() < (outline_[corner] - at).norm()) corner = i;
    if ((outline_[corner] - at).norm() > kOn)
      return fault(".at", place_text(at) + ", where the outline has no corner",
                   "a corner of the outline",
                   "the nearest is " + place_text(outline_[corner]) +
                       "; along a side give the line's `ends`");
    const Vec2 back = (outline_[(corner + n - 1) % n] - at).normalized(),
               on = (outline_[(corner + 1) % n] - at).normalized();
    const double turn = back.x() * on.y() - back.y() * on.x();
    if ((back + on).norm() < kHardly || turn * area(outline_) > 0)
      return fault(".at",
                   (back + on).norm() < kHardly ? "a corner that hardly turns"
                                                : "a corner that points into the plan",
                   "a corner that points outwards", "give the springing line's `ends`");
    const Vec2 along = (back + on).normalized(), across(-along.y(), along.x());
    const Side before = side(corner, n - 1, along, across), after = side(corner, 1, along, across);
    // The gap between the sides grows evenly from one corner of either to the next.
    std::vector<double> stops;
    for (const Side* s : {&before, &after})
      for (const Vec2& p : s->points) stops.push_back(p.x());
    std::sort(stops.begin(), stops.end());
    const double reach = std::min(before.points.back().x(), after.points.back().x());
    double low = 0, high = 0, gap_low = 0, gap_high = 0, widest = 0;
    for (const double stop : stops) {
      if (stop > reach) break;
      low = high, gap_low = gap_high;
      high = stop, gap_high = std::abs(before.at(stop) - after.at(stop));
      widest = std::max(widest, gap_high);
      if (gap_high >= width) break;
    }
    if (gap_high < width)
      return fault(".width", metres(width) + " where the sides leave room for " + metres(widest),
                   "a springing line within the two sides of its corner", "make it narrower");
    const double depth = low + (width - gap_low) / (gap_high - gap_low) * (high - low);
    const auto point = [&](const Side& s) -> Vec2 {
      return outline_[corner] + depth * along + s.at(depth) * across;
    };
    replace(point(before), point(after), (corner + n - before.within(depth)) % n,
            before.within(depth) + after.within(depth) + 1);
  }

  void straighten() {
    const std::vector<Vec2>& between = support_.between;
    std::array<NearestOnOutline, 2> on;
    for (std::size_t e = 0; e < 2; ++e) {
      on[e] = nearest_on_outline(outline_, between[e]);
      if (on[e].distance_m > kOn)
        return fault(".between",
                     place_text(between[e]) + ", " + metres(on[e].distance_m) + " off the outline",
                     "points on the outline", "the nearest is " + place_text(on[e].point));
    }
    const Stretch forth = stretch(on[0], on[1]), back = stretch(on[1], on[0]);
    const Stretch& flatter = back.bow < forth.bow ? back : forth;
    const double chord = (flatter.line.back() - flatter.line.front()).norm();
    const double in = inward_bow(flatter);
    if (in > kFlat)
      return fault(".between",
                   "an outline that bows " + metres(in) + " into the plan from its chord",
                   "a springing line straight to " + metres(kFlat) + ", or an arc bowed outward",
                   "draw it straight, " + metres(in) + " further in, or divide it into " +
                       std::to_string(pieces(flatter)) + " supports of equal length");
    if (flatter.bow > std::max(kFlat, kArc * chord))
      return fault(".between", "an arc that bows " + metres(flatter.bow) + " from its chord",
                   "no more than " + metres(kArc * chord) + ", a quarter of its chord",
                   "divide it into two supports, or draw it flatter");
    if (flatter.bow > kFlat) support_.bow_m = flatter.bow;
    replace(flatter.line.front(), flatter.line.back(), flatter.first, flatter.line.size() - 2);
  }

 private:
  struct Side {  // outline from the corner, x along the bisector of the corner, y across it
    std::vector<Vec2> points;
    [[nodiscard]] double at(double x) const {
      std::size_t i = 1;
      while (i + 1 < points.size() && points[i].x() < x) ++i;
      const Vec2 &a = points[i - 1], &b = points[i];
      return a.y() + (x - a.x()) / (b.x() - a.x()) * (b.y() - a.y());
    }
    [[nodiscard]] std::size_t within(double x) const {  // corners cut away, beside the first
      std::size_t count = 0;
      while (count + 1 < points.size() && points[count + 1].x() < x + kOn) ++count;
      return count;
    }
  };
  struct Stretch {
    std::vector<Vec2> line;
    std::size_t first = 0;  // corner after its start
    double bow = 0;
  };

  void fault(const std::string& leaf, const std::string& found, const std::string& expected,
             const std::string& change) {
    draft_.fault(key_ + leaf, found, expected, change);
  }

  // As far as it leads away from the corner, and no farther than half round.
  [[nodiscard]] Side side(std::size_t corner, std::size_t step, const Vec2& along,
                          const Vec2& across) const {
    Side s{{Vec2::Zero()}};
    for (std::size_t k = 1; k <= outline_.size() / 2; ++k) {
      const Vec2 d = outline_[(corner + k * step) % outline_.size()] - outline_[corner];
      const Vec2 p(d.dot(along), d.dot(across));
      if (p.x() <= s.points.back().x()) break;
      s.points.push_back(p);
    }
    return s;
  }

  [[nodiscard]] Stretch stretch(const NearestOnOutline& from, const NearestOnOutline& to) const {
    const std::vector<double> along = distances_along(outline_);
    const auto onward = [&](double s) {
      const double d = s - from.along_m;
      return d < 0 ? d + along.back() : d;
    };
    Stretch result{{from.point}, 0, 0};
    const std::size_t n = outline_.size();
    std::size_t start = 0;
    while (start < n && along[start] <= from.along_m) ++start;
    result.first = start % n;
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t i = (start + k) % n;
      if (onward(along[i]) >= onward(to.along_m)) break;
      result.line.push_back(outline_[i]);
      result.bow = std::max(result.bow, distance_to_segment(outline_[i], from.point, to.point));
    }
    result.line.push_back(to.point);
    return result;
  }

  // How far it stands on the plan's side of its chord.
  [[nodiscard]] double inward_bow(const Stretch& stretch) const {
    const Vec2 from = stretch.line.front(), way = stretch.line.back() - from;
    const double side = area(outline_) > 0 ? 1 : -1;  // of the plan, seen along the stretch
    double most = 0;
    for (const Vec2& p : stretch.line) {
      const Vec2 d = p - from;
      most = std::max(most, side * (way.x() * d.y() - way.y() * d.x()) / way.norm());
    }
    return most;
  }

  // The fewest equal lengths of it that are each flat enough.
  [[nodiscard]] static int pieces(const Stretch& stretch) {
    const std::vector<Vec2>& line = stretch.line;
    std::vector<double> along{0};
    for (std::size_t i = 1; i < line.size(); ++i)
      along.push_back(along.back() + (line[i] - line[i - 1]).norm());
    const auto point = [&](double s) -> Vec2 {
      std::size_t i = 1;
      while (i + 1 < line.size() && along[i] < s) ++i;
      const double t = (s - along[i - 1]) / std::max(along[i] - along[i - 1], 1e-12);
      return line[i - 1] + t * (line[i] - line[i - 1]);
    };
    for (int n = 2; n < 100; ++n) {
      double bow = 0;
      for (int k = 0; k < n; ++k) {
        const double from = along.back() * k / n, to = along.back() * (k + 1) / n;
        for (std::size_t i = 0; i < line.size(); ++i)
          if (along[i] > from && along[i] < to)
            bow = std::max(bow, distance_to_segment(line[i], point(from), point(to)));
      }
      if (bow <= kFlat) return n;
    }
    return 100;
  }

  // Two new corners in place of `count` old ones that start at `first`.
  void replace(const Vec2& a, const Vec2& b, std::size_t first, std::size_t count) {
    constexpr std::size_t kNew = std::numeric_limits<std::size_t>::max();
    Polygon outline{a, b};
    std::vector<std::size_t> numbers{kNew, kNew};
    const std::size_t n = outline_.size();
    for (std::size_t k = 0; k < n - std::min(count, n); ++k) {
      const std::size_t i = (first + count + k) % n;
      if ((outline_[i] - a).norm() < kOn || (outline_[i] - b).norm() < kOn) continue;
      outline.push_back(outline_[i]);
      numbers.push_back(draft_.outline_numbers[i]);
    }
    draft_.outline = std::move(outline);
    draft_.outline_numbers = std::move(numbers);
    support_.ends = {a, b};
    draft_.sound[key_ + ".ends"] = true;
    draft_.spots[key_ + ".ends"] = draft_.spot(key_ + (support_.at ? ".at" : ".between"));
  }

  Draft& draft_;
  SupportDraft& support_;
  std::string key_;
  Polygon outline_;
};

// One way of saying where it stands; returns whether there is one and it can be taken.
bool check_way(Draft& draft, std::size_t index) {
  const std::string key = numbered("plan.support", index);
  int ways = 0;
  bool sound = true;
  for (const char* way : {".ends", ".at", ".between"})
    if (draft.spots.contains(key + way)) ++ways, sound &= draft.has(key + way);
  if (draft.has(key + ".width") && !draft.spots.contains(key + ".at"))
    draft.fault(key + ".width", "a width without `at`", "the corner it is cut from",
                "write `at`, or take `width` out");
  if (ways == 1 && sound) return true;
  if (ways == 0)
    draft.fault(key + ".ends",
                draft.plan_file.empty()
                    ? "nothing"
                    : "nothing, and no line called support-" + role_name(draft.supports[index].id) +
                          " in " + draft.plan_file,
                "the two ends of the springing line, or `at` and `width`, or `between`",
                "add a line such as ends = [[\"-4.5 m\", \"0.95 m\"], [\"-4.5 m\", \"-0.95 m\"]] "
                "under [[plan.support]]");
  if (ways > 1)
    draft.fault(key, "more than one of `ends`, `at` and `between`", "one of them",
                "take the others out");
  return false;
}

}  // namespace

bool settle_ends(Draft& draft, bool outline_good) {
  const std::size_t before = draft.faults.size();
  draft.outline_numbers.resize(draft.outline.size());
  for (std::size_t i = 0; i < draft.outline.size(); ++i) draft.outline_numbers[i] = i;
  bool whole = true;
  for (std::size_t i = 0; i < draft.supports.size(); ++i) {
    const std::string key = numbered("plan.support", i);
    const SupportDraft& support = draft.supports[i];
    if (!check_way(draft, i)) {
      whole = false;
      continue;
    }
    if (support.at && !draft.spots.contains(key + ".width"))
      draft.fault(key + ".at", "a corner and no width", "the width of the springing line",
                  "add a line such as width = \"0.9 m\"");
    else if (support.at && !draft.has(key + ".width"))
      whole = false;
    else if (support.at && outline_good)
      Cutter(draft, i).cut_corner();
    if (!draft.has(key + ".between")) continue;
    if (support.between.size() != 2)
      draft.fault(key + ".between", std::to_string(support.between.size()) + " points",
                  "two points of the outline", "give two points");
    else if (outline_good)
      Cutter(draft, i).straighten();
  }
  return whole && draft.faults.size() == before;
}

}  // namespace skewback
