#include "print/poses.hpp"

#include <algorithm>
#include <cmath>

#include "print/axes.hpp"
#include "print/pace.hpp"
#include "print/spin.hpp"
#include "print/winding.hpp"

namespace skewback {
namespace {

constexpr double kLayersOfLift = 2;

std::vector<Vec3> tips_of(const std::vector<WayPoint>& way) {
  std::vector<Vec3> tips;
  for (const WayPoint& w : way) tips.push_back(w.tip);
  return tips;
}

std::vector<Vec3> picked(const std::vector<Vec3>& all, const std::vector<std::size_t>& kept) {
  std::vector<Vec3> out;
  for (const std::size_t i : kept) out.push_back(all[i]);
  return out;
}

std::vector<Piece> pieces_of(const std::vector<WayPoint>& way, const std::vector<Vec3>& axis,
                             const std::vector<Vec3>& x, double bead_max_m) {
  std::vector<Piece> out;
  for (std::size_t i = 0; i + 1 < way.size(); ++i) {
    Piece piece;
    piece.length_m = (way[i + 1].tip - way[i].tip).norm();
    piece.section_m2 = piece.length_m > 0 ? way[i].volume_m3 / piece.length_m : 0;
    // chords are shorter than the path: by so much less is laid where the bead is at its widest
    piece.section_m2 = std::min(piece.section_m2, bead_max_m * std::max(way[i].height_m, 0.0));
    piece.tilt_rad = std::atan2(axis[i].cross(axis[i + 1]).norm(), axis[i].dot(axis[i + 1]));
    piece.spin_rad = std::abs(spin_rad(x[i], axis[i], x[i + 1], axis[i + 1]));
    if (piece.spin_rad < 1e-9) piece.spin_rad = 0;  // rounding
    piece.layer = way[i].layer;
    out.push_back(piece);
  }
  return out;
}

/// Poses one after the other, each a piece's time after the one before.
class Writer {
 public:
  explicit Writer(PoseRun* run) : run_(run) {}

  void add(const WayPoint& w, const Eigen::Quaterniond& turn, const Piece& piece, double speed) {
    Pose pose = place(w, turn, piece.layer);
    pose.speed_m_s = static_cast<float>(speed);
    const double height = w.height_m > 0 ? w.height_m : 0;
    if (piece.section_m2 > 0 && height > 0) {
      pose.share_m = static_cast<float>(piece.section_m2 / height);
      pose.height_m = static_cast<float>(height);
      pose.overhang_rad = static_cast<float>(w.overhang_rad);
    }
    run_->poses.push_back(pose);
    const double time = piece.length_m > 0 ? piece.length_m / speed : 0;
    time_ += time;
    account(piece, speed, time);
  }

  /// At the end of `layer`, lifted clear for `wait_s` in all.
  void wait(const WayPoint& w, const Eigen::Quaterniond& turn, int layer, double lift, double speed,
            double wait_s) {
    const double up_s = lift / speed, hold_s = std::max(0.0, wait_s - 2 * up_s);
    Pose pose = place(w, turn, layer);
    pose.speed_m_s = static_cast<float>(speed);
    run_->poses.push_back(pose);
    pose.tip += lift * turn.toRotationMatrix().col(2);
    pose.time_s = time_ += up_s;
    pose.speed_m_s = 0;
    run_->poses.push_back(pose);
    pose.time_s = time_ += hold_s;
    pose.speed_m_s = static_cast<float>(speed);
    run_->poses.push_back(pose);
    time_ += up_s;
    run_->waited_s += hold_s + 2 * up_s;
    run_->layer_time_s[static_cast<std::size_t>(layer)] += hold_s + 2 * up_s;
    laying_ = false;
  }

  void end(const WayPoint& w, const Eigen::Quaterniond& turn) {
    run_->poses.push_back(place(w, turn, w.layer));
  }

 private:
  Pose place(const WayPoint& w, const Eigen::Quaterniond& turn, int layer) const {
    Pose pose;
    pose.time_s = time_;
    pose.tip = w.tip;
    pose.turn = turn.coeffs().cast<float>();
    pose.layer = layer;
    return pose;
  }

  void account(const Piece& piece, double speed, double time) {
    const auto layer = static_cast<std::size_t>(piece.layer);
    run_->layer_time_s[layer] += time;
    if (time > 0) {
      run_->tilt_rate_max_rad_s = std::max(run_->tilt_rate_max_rad_s, piece.tilt_rad / time);
      run_->spin_rate_max_rad_s = std::max(run_->spin_rate_max_rad_s, piece.spin_rad / time);
    }
    const bool lays = piece.section_m2 > 0;
    if (lays) {
      const double flow = piece.section_m2 * speed;
      const bool first = run_->strokes == 0;
      if (!laying_) ++run_->strokes;
      run_->layer_path_m[layer] += piece.length_m;
      run_->layer_laid_m3[layer] += piece.section_m2 * piece.length_m;
      if (first || speed < run_->speed_min_m_s)
        run_->speed_min_m_s = speed, run_->speed_min_layer = piece.layer;
      run_->speed_max_m_s = first ? speed : std::max(run_->speed_max_m_s, speed);
      run_->flow_min_m3_s = first ? flow : std::min(run_->flow_min_m3_s, flow);
      run_->flow_max_m3_s = first ? flow : std::max(run_->flow_max_m3_s, flow);
    }
    laying_ = lays;
  }

  PoseRun* run_;
  double time_ = 0;
  bool laying_ = false;
};

}  // namespace

PoseRun run_poses(const PrintRequest& cell, const std::vector<SpaceLayer>& layers,
                  const Rigid& to_table) {
  PoseRun run;
  for (auto* per_layer : {&run.layer_time_s, &run.layer_path_m, &run.layer_laid_m3})
    per_layer->assign(layers.size(), 0);
  Winding winding = wind(cell, layers, to_table);
  std::vector<WayPoint>& way = winding.points;
  if (way.size() < 2) return run;
  const Axes axes = smooth_axes(way, cell.tilt_max_rad);
  Following along;
  if (cell.nozzle_follows) along = following(tips_of(way), axes.axis, Vec3::UnitX());
  const std::vector<std::size_t> kept = thin(way, axes.axis, cell.step_m);
  const std::vector<Vec3> axis = picked(axes.axis, kept);
  const std::vector<Vec3> x =
      cell.nozzle_follows ? picked(along.x, kept) : least_spin(axis, Vec3::UnitX());
  const std::vector<Eigen::Quaterniond> turn = turns(axis, x);
  const std::vector<Piece> pieces = pieces_of(way, axis, x, cell.bead_max_m);
  const Pace speeds = pace(cell, pieces, layers.size());

  Writer writer(&run);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (i > 0 && pieces[i - 1].layer != pieces[i].layer) {
      const int layer = pieces[i - 1].layer;
      const double wait = speeds.wait_s[static_cast<std::size_t>(layer)];
      const double lift = kLayersOfLift * std::max(way[i - 1].height_m, way[i].height_m);
      if (wait > 0) writer.wait(way[i], turn[i], layer, lift, cell.speed_max_m_s, wait);
    }
    writer.add(way[i], turn[i], pieces[i], speeds.speed_m_s[i]);
  }
  writer.end(way.back(), turn.back());
  run.tilt_max_rad = axes.tilt_max_rad;
  run.tilt_layer = axes.tilt_layer;
  run.slowed_s = speeds.slowed_s;
  run.turns = along.turns;
  run.drift_m = winding.drift_m;
  run.drift_layer = winding.drift_layer;
  return run;
}

Vec3 axis_of(const Pose& pose) {
  const Eigen::Quaterniond q(pose.turn.cast<double>());
  return q.normalized().toRotationMatrix().col(2);
}

}  // namespace skewback
