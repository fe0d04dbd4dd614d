#include "survey/feet.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "survey/marks.hpp"

namespace skewback {
namespace {

constexpr double kGapTold = 5e-4;  // m
constexpr double kNoMove = 5e-5;   // m; less is rounding of the instrument
constexpr double kKink = 1e-2;     // weight of a kink at a foot: feet that no seat tells of follow
constexpr double kSteep = 0.1;     // rise of the soffit's normal, below which it is a wall

std::string millimetres(double m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f mm", m * 1e3);
  return text;
}

/// How much higher the soffit lies over the same spot of the plan.
double rise_at(const Seat& seat, const Rigid& X) {
  const Vec3& from = seat.prop.point;
  const Vec3 to = X(from), up = X.R * seat.prop.direction;
  if (std::abs(up.z()) < kSteep) return to.z() - from.z();
  const Vec2 away = (from - to).head<2>();
  return to.z() - away.dot(up.head<2>()) / up.z() - from.z();
}

/// Per foot its part in the height of a rib at x: straight between feet, on past the last.
Eigen::RowVectorXd parts_at(const std::vector<double>& feet, double x) {
  Eigen::RowVectorXd parts = Eigen::RowVectorXd::Zero(static_cast<int>(feet.size()));
  if (feet.size() < 2) {
    parts.setOnes();
    return parts;
  }
  int k = 0;
  while (k + 2 < parts.size() && x > feet[static_cast<std::size_t>(k) + 1]) ++k;
  const double left = feet[static_cast<std::size_t>(k)],
               right = feet[static_cast<std::size_t>(k) + 1], t = (x - left) / (right - left);
  parts[k] = 1 - t;
  parts[k + 1] = t;
  return parts;
}

struct SeatRise {
  const Seat* seat;
  double rise_m;
};

/// Heights of the feet of one rib: least squares over its seats.
Eigen::VectorXd heights(const Rib& rib, const std::vector<SeatRise>& seats) {
  const int n = static_cast<int>(rib.feet.size()), kinks = std::max(0, n - 2);
  const int rows = static_cast<int>(seats.size());
  Eigen::MatrixXd A = Eigen::MatrixXd::Zero(rows + kinks, n);
  Eigen::VectorXd b = Eigen::VectorXd::Zero(rows + kinks);
  for (int i = 0; i < rows; ++i) {
    const SeatRise& s = seats[static_cast<std::size_t>(i)];
    A.row(i) = parts_at(rib.feet, s.seat->along_m);
    b[i] = s.rise_m;
  }
  for (int k = 0; k < kinks; ++k) {
    const auto f = static_cast<std::size_t>(k);
    const double t = (rib.feet[f + 1] - rib.feet[f]) / (rib.feet[f + 2] - rib.feet[f]);
    A.block<1, 3>(rows + k, k) = kKink * Eigen::RowVector3d(1 - t, -1, t);
  }
  if (A.rows() == 0) return Eigen::VectorXd::Zero(n);
  return Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd>(A).solve(b);
}

struct FootStart {
  double up_m = 0, aside_m = 0;  // from where it is drawn
};
std::map<std::string, FootStart> measured_starts(const Centring& centring, const Assembly& assembly,
                                                 const PointFile* measured, double settlement_m) {
  std::map<std::string, FootStart> starts;
  if (measured == nullptr) return starts;
  std::map<std::string, std::vector<Vec3>> off;
  std::map<std::string, double> head_up_m;
  Brief brief;
  brief.centring.settlement_m = settlement_m;
  for (const Mark& mark : setting_out(brief, assembly, &centring)) {
    if (mark.kind != MarkKind::kFoot) continue;
    for (const MeasuredPoint& point : measured->points) {
      if (point.mark != mark.name) continue;
      off[mark.of].emplace_back(point.at - mark.designed);
      if (mark.name.ends_with(" 2")) head_up_m[mark.of] = off[mark.of].back().z();
    }
  }
  for (const auto& [foot, moves] : off) {
    FootStart& start = starts[foot];
    for (const Vec3& move : moves) {
      start.up_m += move.z() / static_cast<double>(moves.size());
      start.aside_m = std::max(start.aside_m, move.head<2>().norm());
    }
    if (const auto head = head_up_m.find(foot); head != head_up_m.end()) start.up_m = head->second;
  }
  return starts;
}

FootSetting setting_of(const CentringFoot& foot, double raise_m, double start_m, double trim_most) {
  FootSetting out;
  out.foot = foot.id;
  out.raise_m = std::abs(raise_m) < kNoMove ? 0 : raise_m;
  const double needed = std::abs(out.raise_m - start_m) < kNoMove ? 0 : out.raise_m - start_m;
  out.by_wedge_m = std::clamp(needed, -foot.down_m, foot.up_m);
  const double rest = needed - out.by_wedge_m;
  out.trim_m = std::max(0.0, -rest);
  out.pack_m = std::max(0.0, rest);
  out.within = out.trim_m <= trim_most;
  return out;
}

void add_remarks(const Centring& centring, std::size_t on_others, FeetSet& set) {
  if (on_others > 0) {
    set.remarks.push_back(std::to_string(on_others) +
                          " seats lie on ribs without feet of their own, or on cross ribs: they "
                          "go with the ribs that carry these and are not in the figures");
  }
  const CentringFoot* least = nullptr;
  double left = 0;
  for (std::size_t f = 0; f < centring.feet.size(); ++f) {
    const double stays = centring.feet[f].down_m + std::min(0.0, set.feet[f].by_wedge_m);
    if (set.feet[f].by_wedge_m >= 0 || (least != nullptr && stays >= left)) continue;
    least = &centring.feet[f];
    left = stays;
  }
  if (least != nullptr) {
    set.remarks.push_back("foot " + least->id + " keeps " + millimetres(left) + " of its " +
                          millimetres(least->down_m) + " of travel down for striking");
  }
}

}  // namespace

FeetSet set_feet(const Centring& centring, const Assembly& assembly, const std::vector<Rigid>& laid,
                 const PointFile* measured, const PackingRequest& packing, double settlement_m) {
  FeetSet out;
  const auto starts = measured_starts(centring, assembly, measured, settlement_m);
  std::map<std::string, double> raise;
  std::size_t judged_seats = 0;
  for (const Rib& rib : centring.ribs) {
    if (rib.is_cross || rib.feet.empty()) continue;
    std::vector<SeatRise> seats;
    for (const Seat& seat : centring.seats) {
      if (seat.rib == rib.id)
        seats.push_back({&seat, rise_at(seat, laid[static_cast<std::size_t>(seat.prop.block)])});
    }
    judged_seats += seats.size();
    const Eigen::VectorXd h = heights(rib, seats);
    for (int f = 0; f < h.size(); ++f) raise[rib.id + "-" + std::to_string(f + 1)] = h[f];
    for (const SeatRise& s : seats) {
      const double gap = s.rise_m - parts_at(rib.feet, s.seat->along_m).dot(h);
      out.gap_max_m = std::max(out.gap_max_m, std::abs(gap));
      if (std::abs(gap) <= kGapTold) continue;
      const Block& block = assembly.blocks[static_cast<std::size_t>(s.seat->prop.block)];
      out.gaps.push_back({rib.id, block.id, s.seat->along_m, gap});
    }
  }
  for (const CentringFoot& foot : centring.feet) {
    const auto wanted = raise.find(foot.id);
    const auto start = starts.find(foot.id);
    const FootStart stands = start == starts.end() ? FootStart{} : start->second;
    out.feet.push_back(
        setting_of(foot, wanted == raise.end() ? 0 : wanted->second, stands.up_m, packing.trim_m));
    out.feet.back().aside_m = stands.aside_m;
  }
  std::ranges::stable_sort(out.gaps, std::ranges::greater{},
                           [](const SeatGap& gap) { return std::abs(gap.gap_m); });
  add_remarks(centring, centring.seats.size() - judged_seats, out);
  return out;
}

std::string foot_device(const Brief& brief) {
  return brief.centring.feet == "jacks" ? "jack" : "wedge";
}

}  // namespace skewback
