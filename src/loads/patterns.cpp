#include "loads/patterns.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "brief/meetings.hpp"
#include "loads/actions.hpp"
#include "loads/loads.hpp"

namespace skewback {

Regions half_plane(const Vec2& point, const Vec2& normal) {
  const Vec2 n = normal.normalized(), t(-n.y(), n.x());
  constexpr double kFar = 1e3;
  return {{{point - kFar * t, point - kFar * t + kFar * n, point + kFar * t + kFar * n,
            point + kFar * t},
           {}}};
}

namespace {

Regions oriented(Regions regions) {
  for (Region& r : regions) {
    if (area(r.outer) < 0) std::reverse(r.outer.begin(), r.outer.end());
  }
  return regions;
}

/// The part of the surface nearer to this support's walking line end than to the others: its arm.
Regions arm_region(const Brief& brief, std::size_t k, const Regions& surface) {
  const std::optional<Vec2> own = meeting_of(brief.plan, k);
  const Vec2 middle = own ? *own : centroid(Region{brief.plan.outline, {}});
  const auto towards = [&](const Vec2& p) {
    const Vec2 d = p - middle;
    return std::atan2(d.y(), d.x());
  };
  const std::vector<int> of = meetings_of_supports(brief.plan);
  const auto bearing = [&](std::size_t i) {  // of an arm at this meeting; others: of the spine
    const Support& s = brief.plan.supports[i];
    return of[i] == of[k] ? towards((s.a + s.b) / 2)
                          : towards(of[k] == 0 ? *brief.plan.second_meeting : *brief.plan.meeting);
  };
  const std::size_t n = brief.plan.supports.size();
  const auto before = [&](std::size_t i, std::size_t j) {  // counter-clockwise angle from i to j
    double a = bearing(j) - bearing(i);
    while (a <= 0) a += 2 * kPi;
    return a;
  };
  const double left = bearing(k) + before(k, (k + 1) % n) / 2,
               right = bearing(k) - before((k + n - 1) % n, k) / 2;
  constexpr double kFar = 1e3;
  Polygon wedge{middle};
  for (int i = 0; i <= 8; ++i) {
    const double b = right + (left - right) * i / 8;
    wedge.push_back(middle + kFar * Vec2(std::cos(b), std::sin(b)));
  }
  return intersect(surface, {{wedge, {}}});
}

double length_of(const std::vector<Vec2>& line) {
  double sum = 0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += (line[i] - line[i - 1]).norm();
  return sum;
}

/// The stretch of a line between two shares of its length.
std::vector<Vec2> stretch(const std::vector<Vec2>& line, double from, double to) {
  const double whole = length_of(line);
  std::vector<Vec2> out;
  double along = 0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const double step = (line[i] - line[i - 1]).norm();
    const double a = std::max(from * whole, along), b = std::min(to * whole, along + step);
    if (b > a) {
      const auto point = [&](double s) {
        return Vec2(line[i - 1] + (s - along) / step * (line[i] - line[i - 1]));
      };
      if (out.empty()) out.push_back(point(a));
      out.push_back(point(b));
    }
    along += step;
  }
  return out;
}

class Patterns {
 public:
  Patterns(const Brief& brief, const Regions& surface) : brief_(brief), surface_(surface) {
    double length = 0;
    for (const auto& line : lines_) length += length_of(line);
    width_m_ = brief.walkway.width_m > 0 ? brief.walkway.width_m
                                         : (length > 0 ? area(surface) / length : 1.0);
  }

  void add(const std::string& id, const std::string& words, const Regions& where) {
    if (area(where) >= 1e-3) found.push_back({id, words, where, area(where) / width_m_});
  }

  void arms() {
    const std::size_t n = brief_.plan.supports.size();
    for (std::size_t k = 0; k < n; ++k) {
      const std::string& id = brief_.plan.supports[k].id;
      add("arm-" + id, "on the arm to " + id, arm_region(brief_, k, surface_));
    }
    for (std::size_t k = 0; n > 2 && k < n; ++k) {
      const std::string& id = brief_.plan.supports[k].id;
      add("all-but-" + id, "everywhere but on the arm to " + id,
          subtract(surface_, arm_region(brief_, k, surface_)));
    }
    if (!brief_.plan.second_meeting) return;
    Regions spine = surface_;
    for (std::size_t k = 0; k < n; ++k) spine = subtract(spine, arm_region(brief_, k, surface_));
    add("spine", "on the spine", spine);
    add("all-but-spine", "everywhere but on the spine", subtract(surface_, spine));
  }

  [[nodiscard]] std::string suffix(std::size_t k) const {
    return lines_.size() > 1 ? "-" + std::to_string(k + 1) : "";
  }

  void sides() {
    for (std::size_t k = 0; k < lines_.size(); ++k) {
      add("left-side" + suffix(k), "left of walking line " + std::to_string(k + 1),
          side(k, 0, 1, 1));
      add("right-side" + suffix(k), "right of walking line " + std::to_string(k + 1),
          side(k, 0, 1, -1));
    }
  }

  /// Whether a line runs along the spine: its whole length is the middle of the bridge.
  [[nodiscard]] bool along_spine(std::size_t k) const {
    const auto& line = lines_[k];
    const auto ends_at = [&](const Vec2& p) {
      double least = HUGE_VAL;
      for (const Support& s : brief_.plan.supports)
        least = std::min(least, ((s.a + s.b) / 2 - p).norm());
      return (p - *nearest_meeting(brief_.plan, p)).norm() < least;
    };
    return brief_.plan.second_meeting && ends_at(line.front()) && ends_at(line.back());
  }

  /// Shares of each line are from its start: at a support. With several lines they end at the
  /// meeting, and the middle of the bridge is their end.
  void windows() {
    const bool through = lines_.size() == 1;
    Regions middle, ends, chequer[2];
    const auto put = [](Regions& sum, const Regions& part) {
      sum.insert(sum.end(), part.begin(), part.end());
    };
    for (std::size_t k = 0; k < lines_.size(); ++k) {
      const double from = along_spine(k) ? 0 : through ? 1.0 / 3 : 2.0 / 3;
      put(middle, window(k, from, through ? 2.0 / 3 : 1));
      if (from > 0) put(ends, window(k, 0, from));
      if (through) put(ends, window(k, 2.0 / 3, 1));
      for (int i = 0; i < 2; ++i) {
        put(chequer[i], side(k, 0, 0.5, i == 0 ? 1 : -1));
        put(chequer[i], side(k, 0.5, 1, i == 0 ? -1 : 1));
      }
    }
    add("middle", "on the middle third", unite(middle));
    add("ends", "everywhere but on the middle third", subtract(unite(ends), unite(middle)));
    add("chequer-a", "left and right in turn along each walking line", unite(chequer[0]));
    add("chequer-b", "right and left in turn along each walking line", unite(chequer[1]));
    for (std::size_t k = 0; k < lines_.size(); ++k) {
      const double wide = through ? 0.25 : 0.5, step = wide / 2;
      int n = 0;
      for (double from = 0; from + wide <= 1 + 1e-9; from += step) {
        add("patch" + suffix(k) + "-" + std::to_string(++n),
            "on a patch of walking line " + std::to_string(k + 1), window(k, from, from + wide));
      }
    }
  }

  std::vector<Pattern> found;

 private:
  [[nodiscard]] Regions window(std::size_t k, double from, double to) const {
    const double width = brief_.walkway.width_m > 0 ? brief_.walkway.width_m : 2 * kWide;
    return intersect(strip_along(stretch(lines_[k], from, to), width), surface_);
  }
  [[nodiscard]] Regions side(std::size_t k, double from, double to, int sign) const {
    const auto& line = lines_[k];
    const Vec2 along = line.back() - line.front();
    const Vec2 left(-along.y(), along.x());
    return intersect(window(k, from, to), oriented(half_plane(line.front(), sign * left)));
  }

  static constexpr double kWide = 100;  // m; wider than any plan
  const Brief& brief_;
  const Regions& surface_;
  std::vector<std::vector<Vec2>> lines_ = walking_lines(brief_);
  double width_m_ = 1;
};

}  // namespace

std::vector<Pattern> people_patterns(const Brief& brief, const Regions& surface) {
  if (surface.empty() || brief.loads.people_pa <= 0) return {};
  Patterns patterns(brief, surface);
  patterns.add("full", "everywhere", surface);
  patterns.arms();
  patterns.sides();
  patterns.windows();
  return std::move(patterns.found);
}

double people_pa(const Brief& brief, const Pattern& pattern) {
  const double p = brief.loads.people_pa;
  return brief.loads.people_by_length ? std::min(p, crowd_pa(pattern.length_m)) : p;
}

}  // namespace skewback
