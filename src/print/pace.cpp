#include "print/pace.hpp"

#include <algorithm>

#include "print/bead.hpp"

namespace skewback {
namespace {

constexpr int kHalvings = 60;

/// With this share of the flow.
double free_speed(const PrintRequest& cell, const Piece& piece, double flow) {
  if (piece.section_m2 <= 0) return cell.speed_max_m_s;
  return std::clamp(flow * nozzle_flow_m3_s(cell) / piece.section_m2, cell.speed_min_m_s,
                    cell.speed_max_m_s);
}

double held_by_turning(const PrintRequest& cell, const Piece& piece, double speed) {
  if (piece.tilt_rad > 0)
    speed = std::min(speed, cell.tilt_rate_max_rad_s * piece.length_m / piece.tilt_rad);
  if (piece.spin_rad > 0)
    speed = std::min(speed, cell.spin_rate_max_rad_s * piece.length_m / piece.spin_rad);
  return speed;
}

/// Pieces [first, end) of one layer, to take `least_s` in all by less flow; the time still short.
double stretch(const PrintRequest& cell, const std::vector<Piece>& pieces, std::size_t first,
               std::size_t end, std::vector<double>& speed) {
  const auto eased = [&](std::size_t i, double factor) {
    return std::min(speed[i], free_speed(cell, pieces[i], factor));
  };
  const auto time = [&](double factor) {
    double t = 0;
    for (std::size_t i = first; i < end; ++i)
      if (pieces[i].length_m > 0) t += pieces[i].length_m / eased(i, factor);
    return t;
  };
  const double least_s = cell.layer_time_min_s;
  if (time(1) >= least_s) return 0;
  double low = 0, high = 1;
  if (time(0) > least_s) {
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (low + high) / 2;
      (time(middle) > least_s ? low : high) = middle;
    }
  }
  const double factor = low;
  const double short_s = std::max(0.0, least_s - time(factor));
  for (std::size_t i = first; i < end; ++i) speed[i] = eased(i, factor);
  return short_s;
}

}  // namespace

Pace pace(const PrintRequest& cell, const std::vector<Piece>& pieces, std::size_t layers) {
  Pace out;
  out.wait_s.assign(layers, 0);
  for (const Piece& piece : pieces) {
    const double free = free_speed(cell, piece, 1);
    const double held = held_by_turning(cell, piece, free);
    out.speed_m_s.push_back(held);
    if (held < free) out.slowed_s += piece.length_m / held - piece.length_m / free;
  }
  for (std::size_t first = 0; first < pieces.size();) {
    std::size_t end = first;
    while (end < pieces.size() && pieces[end].layer == pieces[first].layer) ++end;
    const double short_s = stretch(cell, pieces, first, end, out.speed_m_s);
    if (end < pieces.size()) out.wait_s[static_cast<std::size_t>(pieces[first].layer)] = short_s;
    first = end;
  }
  return out;
}

}  // namespace skewback
