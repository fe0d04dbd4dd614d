// Poses and clearance of a block of 40 layers with a path of about 12 m each: seconds, poses,
// memory.
//   bench_poses [REPEATS]
#include "print/poses.hpp"

#include <sys/resource.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "base/constants.hpp"
#include "base/timing.hpp"
#include "print/clearance.hpp"
#include "print/reach.hpp"

namespace {

using namespace skewback;

constexpr double kLength = 2.655, kDepth = 0.375;  // m, of the path
constexpr int kLayers = 40, kWebs = 8;

void corner(std::vector<Vec2>& path, const Vec2& centre, double r, double from, double to) {
  for (int i = 0; i <= 4; ++i) {
    const double a = from + (to - from) * i / 4;
    path.push_back(centre + r * Vec2(std::cos(a), std::sin(a)));
  }
}

/// One closed curve: a leaf, the far leaf with a web of two beads hung into it at each tube.
std::vector<Vec2> ladder() {
  const double r = 0.02, half_web = 0.01125;
  std::vector<Vec2> path;
  corner(path, {r, r}, r, kPi, 1.5 * kPi);
  corner(path, {kLength - r, r}, r, 1.5 * kPi, 2 * kPi);
  corner(path, {kLength - r, kDepth - r}, r, 0, kPi / 2);
  for (int k = kWebs; k >= 1; --k) {
    const double x = kLength * k / (kWebs + 1);
    corner(path, {x + half_web + r, kDepth - r}, r, kPi / 2, kPi);
    corner(path, {x, 0.05 + half_web}, half_web, 0, -kPi);
    corner(path, {x - half_web - r, kDepth - r}, r, 0, kPi / 2);
  }
  corner(path, {r, kDepth - r}, r, kPi / 2, kPi);
  return path;
}

/// Planes of a fan about an axis along x, 1.2 m from the middle of the block, `angle` in all.
std::vector<SpaceLayer> wedge(double angle) {
  std::vector<SpaceLayer> layers;
  for (int k = 1; k <= kLayers; ++k) {
    const double turn = angle * k / kLayers;
    SpaceStroke stroke;
    stroke.closed = true;
    for (const Vec2& q : ladder()) {
      const double far = 1.2 + q.y() - kDepth / 2;
      SpacePoint p;
      p.p = {q.x() - kLength / 2, far * std::cos(turn) - 1.2, far * std::sin(turn)};
      p.normal = {0, -std::sin(turn), std::cos(turn)};
      p.height_m = far * angle / kLayers;
      p.share_m = 0.04;
      stroke.points.push_back(p);
    }
    layers.push_back({{stroke}});
  }
  return layers;
}

void run(const char* name, const PrintRequest& cell, double angle, const Rigid& X, int repeats) {
  const std::vector<SpaceLayer> layers = wedge(angle);
  Stopwatch watch;
  PoseRun out;
  for (int i = 0; i < repeats; ++i) out = run_poses(cell, layers, X);
  const double poses_s = watch.seconds() / repeats;
  watch = Stopwatch();
  ToolClearance clear;
  for (int i = 0; i < repeats; ++i) clear = check_clearance(cell, out.poses);
  const double clear_s = watch.seconds() / repeats;
  rusage usage;
  getrusage(RUSAGE_SELF, &usage);
  std::printf(
      "%-22s %zu poses, %.2f m a layer, poses %.4f s, clearance %.4f s (%zu places, %.1f mm to "
      "%s), "
      "%ld MB\n",
      name, out.poses.size(), out.layer_path_m[1], poses_s, clear_s, clear.checked,
      clear.least_m * 1e3, clear.against.empty() ? "nothing" : clear.against.c_str(),
      usage.ru_maxrss / 1024);
}

}  // namespace

int main(int argc, char** argv) {
  const int repeats = argc > 1 ? std::atoi(argv[1]) : 5;
  PrintRequest cell;
  run("wedge of 20 degrees", cell, 20 * kPi / 180, {}, repeats);
  run("wedge of 45 degrees", cell, 45 * kPi / 180, {}, repeats);  // leant back from 30
  const Rigid stand{Eigen::AngleAxisd(-10 * kPi / 180, Vec3::UnitX()).toRotationMatrix(),
                    {0, 0, 0.05}};
  run("the first on a stand", cell, 20 * kPi / 180, stand, repeats);
  return 0;
}
