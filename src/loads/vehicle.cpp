#include "loads/vehicle.hpp"

#include <algorithm>
#include <array>
#include <cstdio>

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

struct Line {
  Vec2 from, along;
  double length_m;

  Line(const Vec2& a, const Vec2& b)
      : from(a), along((b - a).normalized()), length_m((b - a).norm()) {}
  [[nodiscard]] Vec2 left() const { return {-along.y(), along.x()}; }
  /// Of an axle at a distance along it.
  [[nodiscard]] std::array<Vec2, 2> wheels(const ServiceVehicle& v, double at) const {
    const Vec2 middle = from + at * along, half = v.track_m / 2 * left();
    return {middle + half, middle - half};
  }
  [[nodiscard]] Regions tread(const ServiceVehicle& v, const Vec2& wheel) const {
    const Vec2 a = v.wheel_m / 2 * along, l = v.wheel_m / 2 * left();
    return {{{wheel - a - l, wheel + a - l, wheel + a + l, wheel - a + l}, {}}};
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
    const Line line(points.front(), points.back());
    const std::string name = "vehicle-" + std::to_string(k + 1) + "-";
    const double first = inset(line, true), last = line.length_m - inset(line, false);
    const double room = last - first - v_.wheelbase_m;
    std::string out, why;
    for (int step = 0; step < kStops; ++step) {
      const std::string id = name + std::to_string(step + 1);
      const double at = first + room * step / (kStops - 1);
      const std::string reason = room < 0 ? too_short(line, first, last) : misfit(line, at);
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
  [[nodiscard]] double on_walk(const Line& line, const Vec2& wheel) const {
    return area(intersect(line.tread(v_, wheel), surface_)) / (v_.wheel_m * v_.wheel_m);
  }

  [[nodiscard]] double inset(const Line& line, bool front) const {
    const bool long_enough = line.length_m > v_.wheelbase_m;
    for (double in = v_.wheel_m / 2; long_enough && in <= v_.track_m; in += kSearch) {
      const auto wheels = line.wheels(v_, front ? in : line.length_m - in);
      if (std::ranges::all_of(wheels, [&](const Vec2& w) { return on_walk(line, w) > kWhole; }))
        return in;
    }
    return v_.wheel_m / 2;
  }

  [[nodiscard]] std::string too_short(const Line& line, double first, double last) const {
    return "axles " + metres(v_.wheelbase_m) + " apart, and room for them on " +
           metres(std::max(0.0, last - first)) + " of a walking line of " + metres(line.length_m);
  }

  /// Empty where it fits.
  [[nodiscard]] std::string misfit(const Line& line, double at) const {
    double least = 1;
    Vec2 worst = Vec2::Zero();
    for (const double axle : {at, at + v_.wheelbase_m})
      for (const Vec2& wheel : line.wheels(v_, axle)) {
        double on = on_walk(line, wheel);
        if (shares(assembly_, outlines_, intersect(line.tread(v_, wheel), surface_)).empty())
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
    const Vec3 ahead(line.along.x(), line.along.y(), 0);
    for (const int axle : {0, 1}) {
      const double wheel_n = ((axle == 0) != turned ? v_.front_n : v_.rear_n) / 2;
      for (const Vec2& wheel : line.wheels(v_, at + axle * v_.wheelbase_m)) {
        const Regions tread = intersect(line.tread(v_, wheel), surface_);
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
