#include "loads/vehicle.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "geometry/polyline.hpp"
#include "loads/actions.hpp"
#include "loads/edges.hpp"
#include "loads/loads.hpp"
#include "loads/shares.hpp"

namespace skewback {
namespace {

constexpr int kStops = 5;
constexpr double kPush = 0.6;      // of its weight; EN 1991-2:2003, 5.4, from memory
constexpr double kOnWalk = 0.9;    // of each wheel
constexpr double kSearch = 0.025;  // m, how finely the first and last stop are sought
constexpr double kWhole = 0.999;

std::string metres(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2f m", value);
  return text;
}

std::string place(const Vec2& p) {
  char text[64];
  std::snprintf(text, sizeof text, "(%.2f, %.2f)", p.x(), p.y());
  return text;
}

/// On its four wheels: the middle of each axle on the walking line.
struct Stand {
  Vec2 axle[2];
  [[nodiscard]] Vec2 along() const { return (axle[1] - axle[0]).normalized(); }
  [[nodiscard]] Vec2 left() const { return {-along().y(), along().x()}; }
  [[nodiscard]] std::array<Vec2, 2> wheels(const ServiceVehicle& v, int k) const {
    const Vec2 half = v.track_m / 2 * left();
    return {axle[k] + half, axle[k] - half};
  }
  [[nodiscard]] Regions tread(const ServiceVehicle& v, const Vec2& wheel) const {
    const Vec2 a = v.wheel_m / 2 * along(), l = v.wheel_m / 2 * left();
    return {{{wheel - a - l, wheel + a - l, wheel + a + l, wheel - a + l}, {}}};
  }
};

/// A walking line that may bend.
struct Line {
  std::vector<Vec2> points;
  double length_m;

  explicit Line(const std::vector<Vec2>& p) : points(p), length_m(length(p)) {}

  /// Where the second axle is whose first is at `s`: how far along the line. Past its end it is
  /// taken as going on straight.
  [[nodiscard]] double ahead(double s, double wheelbase_m) const {
    const Vec2 from = point_at(points, s);
    double start = 0;
    for (std::size_t i = 1; i < points.size(); ++i) {
      const Vec2 d = points[i] - points[i - 1];
      const double step = d.norm(), first = std::max(0.0, s - start);
      if (first <= step && step > 0 && (points[i] - from).norm() >= wheelbase_m) {
        // |a + t d| = wheelbase, a from the first axle to the beginning of this piece
        const Vec2 a = points[i - 1] - from, way = d / step;
        const double mid = -a.dot(way);
        const double across2 = std::max(0.0, a.squaredNorm() - mid * mid);
        const double t = mid + std::sqrt(std::max(0.0, wheelbase_m * wheelbase_m - across2));
        if (t >= first && t <= step) return start + t;
      }
      start += step;
    }
    return length_m + wheelbase_m - (points.back() - from).norm();
  }
  [[nodiscard]] Line turned() const { return Line({points.rbegin(), points.rend()}); }
  [[nodiscard]] Stand stand(double s, double wheelbase_m) const {
    const double second = ahead(s, wheelbase_m);
    const Vec2 last = points.back() - points[points.size() - 2];
    const Vec2 beyond = std::max(0.0, second - length_m) * last.normalized();
    return {{point_at(points, s), point_at(points, second) + beyond}};
  }
};

class Stops {
 public:
  Stops(const Brief& brief, const Assembly& assembly, const std::vector<Regions>& outlines,
        const Regions& surface, double deck_m)
      : brief_(brief),
        assembly_(assembly),
        outlines_(outlines),
        surface_(surface),
        deck_m_(deck_m) {}

  void along(std::size_t k, const std::vector<Vec2>& points) {
    const Line line(points), from_end = line.turned();
    const std::string name = "vehicle-" + std::to_string(k + 1) + "-";
    const double first = inset(line), end = inset(from_end);
    const double last = line.length_m - from_end.ahead(end, v_.wheelbase_m);  // of the first axle
    const double room = last - first;
    std::string out, why;
    for (int step = 0; step < kStops; ++step) {
      const std::string id = name + std::to_string(step + 1);
      const double at = first + room * step / (kStops - 1);
      const std::string reason = room < 0 ? too_short(line, first + end) : misfit(line, at);
      if (reason.empty()) {
        for (const bool turned : {false, true}) stand(line, at, id, turned);
        continue;
      }
      out += (out.empty() ? "" : ", ") + id;
      if (why.find(reason) == std::string::npos) why += (why.empty() ? "" : "; ") + reason;
    }
    if (!out.empty())
      found.left_out.push_back("the service vehicle does not fit at " + out +
                               ", either way round, and no case has it there: " + why);
  }

  VehicleStops found;

 private:
  [[nodiscard]] double on_walk(const Stand& on, const Vec2& wheel) const {
    return area(intersect(on.tread(v_, wheel), surface_)) / (v_.wheel_m * v_.wheel_m);
  }

  [[nodiscard]] double inset(const Line& line) const {
    const bool long_enough = line.length_m > v_.wheelbase_m;
    for (double in = v_.wheel_m / 2; long_enough && in <= v_.track_m; in += kSearch) {
      const Stand on = line.stand(in, v_.wheelbase_m);
      if (std::ranges::all_of(on.wheels(v_, 0),
                              [&](const Vec2& w) { return on_walk(on, w) > kWhole; }))
        return in;
    }
    return v_.wheel_m / 2;
  }

  [[nodiscard]] std::string too_short(const Line& line, double insets) const {
    return "axles " + metres(v_.wheelbase_m) + " apart, and room for them on " +
           metres(std::max(0.0, line.length_m - insets)) + " of a walking line of " +
           metres(line.length_m);
  }

  /// Empty where it fits.
  [[nodiscard]] std::string misfit(const Line& line, double at) const {
    double least = 1;
    Vec2 worst = Vec2::Zero();
    const Stand there = line.stand(at, v_.wheelbase_m);
    for (const int axle : {0, 1})
      for (const Vec2& wheel : there.wheels(v_, axle)) {
        double on = on_walk(there, wheel);
        if (shares(assembly_, outlines_, intersect(there.tread(v_, wheel), surface_)).empty())
          on = 0;
        if (on < least) least = on, worst = wheel;
      }
    if (least > kOnWalk) return "";
    const double wide = v_.track_m + v_.wheel_m;
    if (brief_.walkway.width_m > 0 && brief_.walkway.width_m < wide - 1e-9)
      return "a walk " + metres(brief_.walkway.width_m) + " wide, and its wheels take " +
             metres(wide);
    return std::to_string(static_cast<int>(100 * least)) + " % of its wheel at " + place(worst) +
           " is on the walk and over blocks";
  }

  void stand(const Line& line, double at, const std::string& id, bool turned) {
    VehicleStop stop{id + (turned ? "-back" : ""), {}, {}};
    const Stand there = line.stand(at, v_.wheelbase_m);
    const Vec3 ahead(there.along().x(), there.along().y(), 0);
    for (const int axle : {0, 1}) {
      const double wheel_n = ((axle == 0) != turned ? v_.front_n : v_.rear_n) / 2;
      for (const Vec2& wheel : there.wheels(v_, axle)) {
        const Regions tread = intersect(there.tread(v_, wheel), surface_);
        const double whole = area(tread);
        for (const Share& share : shares(assembly_, outlines_, tread)) {
          const double n = wheel_n * share.area_m2 / whole;
          const Vec3 foot(share.point.x(), share.point.y(),
                          walk_level(brief_.walkway, share.point, deck_m_));
          stop.down.push_back({share.block, share.point, {0, 0, -n}});
          stop.along.push_back({share.block, foot, kPush * n * ahead});
        }
      }
    }
    found.stops.push_back(std::move(stop));
  }

  const Brief& brief_;
  const Assembly& assembly_;
  const std::vector<Regions>& outlines_;
  const Regions& surface_;
  double deck_m_;
  ServiceVehicle v_;
};

}  // namespace

VehicleStops vehicle_stops(const Brief& brief, const Assembly& assembly,
                           const std::vector<Regions>& outlines, const Regions& surface,
                           double deck_m) {
  Stops stops(brief, assembly, outlines, surface, deck_m);
  const std::vector<std::vector<Vec2>> lines = walking_lines(brief);
  for (std::size_t k = 0; k < lines.size(); ++k) stops.along(k, lines[k]);
  return std::move(stops.found);
}

}  // namespace skewback
