#include "print/winding.hpp"

#include <algorithm>
#include <cmath>

#include "print/loop.hpp"

namespace skewback {
namespace {

constexpr double kWindow = 0.3;      // m
constexpr double kWindowOfLoop = 8;  // at most an eighth of the way round
constexpr double kFirstRise = 0.2;   // of the first layer's height, where it begins
constexpr int kWindowPieces = 12;    // so that the ramp has fine steps
constexpr double kLayersOfLift = 2;
constexpr double kSame = 1e-5;  // m: no step between two places

/// Of a layer, how much is laid as the window is passed for the first time: from + (1 - from) u.
struct Rise {
  double from = 0;
  [[nodiscard]] double at(double u) const { return from + (1 - from) * u; }
};

class Winder {
 public:
  Winder(double step_m, Winding* out) : step_(step_m), out_(out) {}

  /// The first loop of a spiral over its window.
  void ramp_up(const Loop& loop, double window, const Rise& rise, int layer) {
    pieces(cuts(loop, nullptr, 0, window), [&](double a, double b) {
      const SpacePoint here = at(loop, a), mid = at(loop, (a + b) / 2);
      const double up = rise.at(a / window);
      WayPoint w = laid(here, mid, layer);
      w.tip = here.p - (1 - up) * here.height_m * here.normal;
      w.height_m = rise.at((a + b) / 2 / window) * mid.height_m;
      w.volume_m3 = volume(loop, a, b, [&](double s) { return rise.at(s / window); });
      out_->points.push_back(w);
    });
  }

  /// From one loop to the next over the window.
  void climb(const Loop& below, const Loop& next, double window, const Rise& rise_below,
             int layer) {
    pieces(cuts(below, &next, 0, window), [&](double a, double b) {
      const double m = (a + b) / 2, u = a / window, um = m / window;
      const SpacePoint p = at(below, a), q = at(next, a);
      const SpacePoint pm = at(below, m), qm = at(next, m);
      WayPoint w = laid(q, qm, layer);
      w.tip = (1 - u) * p.p + u * q.p;
      w.normal = ((1 - u) * p.normal + u * q.normal).normalized();
      w.height_m = (1 - rise_below.at(um)) * pm.height_m + um * qm.height_m;
      w.overhang_rad = (1 - um) * pm.overhang_rad + um * qm.overhang_rad;
      w.volume_m3 = volume(below, a, b, [&](double s) { return 1 - rise_below.at(s / window); }) +
                    volume(next, a, b, [&](double s) { return s / window; });
      out_->points.push_back(w);
    });
  }

  void round(const Loop& loop, double from, int layer) {
    pieces(cuts(loop, nullptr, from, loop.length()), [&](double a, double b) {
      WayPoint w = laid(at(loop, a), at(loop, (a + b) / 2), layer);
      w.volume_m3 = volume(loop, a, b, [](double) { return 1.0; });
      out_->points.push_back(w);
    });
  }

  /// The window once more on top of the last loop.
  void ramp_down(const Loop& loop, double window, const Rise& rise, int layer) {
    pieces(cuts(loop, nullptr, 0, window), [&](double a, double b) {
      const double m = (a + b) / 2;
      WayPoint w = laid(at(loop, a), at(loop, m), layer);
      w.height_m *= 1 - rise.at(m / window);
      w.volume_m3 = volume(loop, a, b, [&](double s) { return 1 - rise.at(s / window); });
      out_->points.push_back(w);
    });
    stop(at(loop, window), layer);
  }

  void open_stroke(const SpaceStroke& stroke, const Rigid& to_table, int layer) {
    std::vector<SpacePoint> points;
    for (SpacePoint q : stroke.points) {
      q.p = to_table(q.p);
      q.normal = (to_table.R * q.normal).normalized();
      if (points.empty() || (q.p - points.back().p).norm() > kSame) points.push_back(q);
    }
    if (points.size() < 2) return;
    travel_to(points.front(), layer);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) straight(points[i], points[i + 1], layer);
    stop(points.back(), layer);
  }

  /// Up, over and down again, if the tip is not there.
  void travel_to(const SpacePoint& start, int layer) {
    if (out_->points.empty()) return;
    WayPoint from = out_->points.back();
    out_->points.pop_back();
    if ((from.tip - start.p).norm() < kSame) return;  // the bead runs on
    from.layer = layer;
    const WayPoint to = laid(start, start, layer);
    const double lift = kLayersOfLift * std::max(to.height_m, from.height_m);
    WayPoint up = from, over = to;
    up.tip += lift * from.normal;
    over.tip += lift * to.normal;
    move(from, up);
    move(up, over);
    move(over, to);
  }

  /// The end of a bead; what follows, if anything, travels from here.
  void stop(const SpacePoint& end, int layer) {
    WayPoint w = laid(end, end, layer);
    w.height_m = end.height_m;
    out_->points.push_back(w);
  }

 private:
  static WayPoint laid(const SpacePoint& here, const SpacePoint& mid, int layer) {
    WayPoint w;
    w.tip = here.p;
    w.normal = here.normal;
    w.height_m = mid.height_m;
    w.overhang_rad = mid.overhang_rad;
    w.layer = layer;
    return w;
  }

  /// Ends of the pieces between two ways: every corner of either loop, and steps where it is far
  /// from one to the next.
  [[nodiscard]] std::vector<double> cuts(const Loop& a, const Loop* b, double from,
                                         double to) const {
    std::vector<double> ends = {from, to};
    for (const Loop* loop : {&a, b}) {
      if (loop == nullptr) continue;
      for (double s : loop->s)
        if (s > from && s < to) ends.push_back(s);
    }
    std::sort(ends.begin(), ends.end());
    const double step = from > 0 ? step_ : std::min(step_, to / kWindowPieces);
    std::vector<double> all = {from};
    for (std::size_t i = 1; i < ends.size(); ++i) {
      const double length = ends[i] - ends[i - 1];
      if (length < 1e-9) continue;
      const int parts = static_cast<int>(std::ceil(length / step - 1e-9));
      for (int j = 1; j <= parts; ++j) all.push_back(ends[i - 1] + length * j / parts);
    }
    return all;
  }

  template <class Piece>
  static void pieces(const std::vector<double>& ends, Piece piece) {
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) piece(ends[i], ends[i + 1]);
  }

  /// Simpson's rule, which is exact: share is the same over a piece, height and weight are linear.
  template <class Weight>
  static double volume(const Loop& loop, double a, double b, Weight weight) {
    const double m = (a + b) / 2;
    const SpacePoint mid = at(loop, m);
    const auto f = [&](double s) { return weight(s) * at(loop, s).height_m; };
    return mid.share_m * (b - a) * (f(a) + 4 * weight(m) * mid.height_m + f(b)) / 6;
  }

  void straight(const SpacePoint& a, const SpacePoint& b, int layer) {
    const double length = (b.p - a.p).norm();
    const int parts = static_cast<int>(std::ceil(length / step_ - 1e-9));
    for (int j = 0; j < parts; ++j) {
      const double t = static_cast<double>(j) / parts, m = t + 0.5 / parts;
      WayPoint w = laid(a, a, layer);
      w.tip = a.p + t * (b.p - a.p);
      w.normal = ((1 - t) * a.normal + t * b.normal).normalized();
      w.height_m = (1 - m) * a.height_m + m * b.height_m;
      w.overhang_rad = (1 - m) * a.overhang_rad + m * b.overhang_rad;
      w.volume_m3 = a.share_m * w.height_m * length / parts;
      out_->points.push_back(w);
    }
  }

  /// Travels from a towards b, b left out.
  void move(const WayPoint& a, const WayPoint& b) {
    const double length = (b.tip - a.tip).norm();
    if (length < kSame) return;
    const int parts = static_cast<int>(std::ceil(length / step_ - 1e-9));
    for (int j = 0; j < parts; ++j) {
      const double t = static_cast<double>(j) / parts;
      WayPoint w;
      w.tip = a.tip + t * (b.tip - a.tip);
      w.normal = ((1 - t) * a.normal + t * b.normal).normalized();
      w.layer = b.layer;
      out_->points.push_back(w);
    }
  }

  double step_;
  Winding* out_;
};

/// The loop of a layer that is one closed stroke; else empty.
Loop single_loop(const SpaceLayer& layer, const Rigid& to_table) {
  if (layer.strokes.size() != 1 || !layer.strokes.front().closed) return {};
  return loop_of(layer.strokes.front(), to_table);
}

void wind_strokes(const SpaceLayer& layer, const Rigid& to_table, int k, Winder& winder) {
  for (const SpaceStroke& stroke : layer.strokes) {
    SpaceStroke open = stroke;
    if (stroke.closed && !stroke.points.empty()) open.points.push_back(stroke.points.front());
    winder.open_stroke(open, to_table, k);
  }
}

/// Loops of successive layers from `first` on, to `end` or to the first that lies more than
/// `drift_most` off the one below; gives where it stopped.
std::size_t wind_spiral(std::vector<Loop>& loops, std::size_t first, std::size_t end,
                        double drift_most, Winder& winder, Winding& out) {
  const double window = out.window_m;
  const auto layer = [](std::size_t k) { return static_cast<int>(k); };
  Rise rise{kFirstRise};
  SpacePoint start = loops[first].points.front();
  start.p -= (1 - rise.from) * start.height_m * start.normal;
  winder.travel_to(start, layer(first));
  winder.ramp_up(loops[first], window, rise, layer(first));
  winder.round(loops[first], window, layer(first));
  for (std::size_t k = first + 1; k < end; ++k) {
    Loop next = led_on(loops[k - 1], loops[k], window);
    const double drift = drift_m(loops[k - 1], next, window);
    if (drift > drift_most) {
      end = k;
      break;
    }
    loops[k] = std::move(next);
    if (drift > out.drift_m) out.drift_m = drift, out.drift_layer = layer(k);
    winder.climb(loops[k - 1], loops[k], window, rise, layer(k));
    winder.round(loops[k], window, layer(k));
    rise = {};
  }
  winder.ramp_down(loops[end - 1], window, rise, layer(end - 1));
  return end;
}

}  // namespace

Winding wind(const PrintRequest& cell, const std::vector<SpaceLayer>& layers,
             const Rigid& to_table) {
  Winding out;
  std::vector<Loop> loops;
  for (const SpaceLayer& layer : layers) {
    loops.push_back(single_loop(layer, to_table));
    if (loops.back().points.empty()) continue;
    const double window = std::min(kWindow, loops.back().length() / kWindowOfLoop);
    out.window_m = out.window_m > 0 ? std::min(out.window_m, window) : window;
  }
  Winder winder(cell.step_m, &out);
  for (std::size_t k = 0; k < layers.size();) {
    std::size_t end = k;
    while (end < layers.size() && !loops[end].points.empty()) ++end;
    if (end > k) {
      k = wind_spiral(loops, k, end, cell.bead_m / 2, winder, out);
    } else {
      wind_strokes(layers[k], to_table, static_cast<int>(k), winder);
      ++k;
    }
  }
  return out;
}

}  // namespace skewback
