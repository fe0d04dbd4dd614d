#include "centring/brace_room.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kTouching_m = 1e-3;
// Washers 3 d across, of M16: the largest that a board 100 mm deep has edge distances for.
constexpr double kWasher_m = 0.048, kNut_m = 0.016;

/// Third axis along the stick, first along `first`.
Mat3 axes_of(const Vec3& along, const Vec3& first) {
  Mat3 axes;
  axes.col(2) = along;
  axes.col(0) = (first - first.dot(along) * along).normalized();
  axes.col(1) = along.cross(Vec3(axes.col(0)));
  return axes;
}

Vec3 level_normal(const Vec3& along) {
  const Vec3 normal = Vec3::UnitZ().cross(along);
  return normal.norm() > 1e-9 ? Vec3(normal.normalized()) : Vec3(Vec3::UnitX());
}

Vec3 normal_of(const Stick& brace, const Vec3& along) {
  return brace.beside.norm() > 0 ? Vec3(brace.beside.normalized()) : level_normal(along);
}

Box board_of(const Stick& brace) {
  const Vec3 along = (brace.to - brace.from).normalized();
  return {(brace.from + brace.to) / 2 + brace.beside,
          axes_of(along, normal_of(brace, along)),
          {std::min(brace.width_m, brace.depth_m) / 2, std::max(brace.width_m, brace.depth_m) / 2,
           brace.cut_length_m() / 2}};
}

}  // namespace

bool boxes_meet(const Box& a, const Box& b) {
  const Vec3 apart = b.middle - a.middle;
  const auto parted = [&](const Vec3& axis) {
    const double length = axis.norm();
    if (length < 1e-9) return false;
    const double reach = (a.axes.transpose() * axis).cwiseAbs().dot(a.half) +
                         (b.axes.transpose() * axis).cwiseAbs().dot(b.half);
    return std::abs(apart.dot(axis)) > reach - kTouching_m * length;
  };
  for (int i = 0; i < 3; ++i) {
    if (parted(a.axes.col(i)) || parted(b.axes.col(i))) return false;
    for (int j = 0; j < 3; ++j)
      if (parted(Vec3(a.axes.col(i)).cross(Vec3(b.axes.col(j))))) return false;
  }
  return true;
}

std::vector<Box> room_of_brace(const Stick& stick, double post_m) {
  const Vec3 way = stick.to - stick.from;
  const double length = way.norm();
  if (!(length > 0)) return {};
  const Vec3 along = way / length;
  if (stick.kind == "packing")
    return {{(stick.from + stick.to) / 2,
             axes_of(along, level_normal(along)),
             {stick.depth_m / 2, stick.depth_m / 2, length / 2}}};
  if (stick.kind != "brace") return {};
  std::vector<Box> out{board_of(stick)};
  const Vec3 normal = normal_of(stick, along);
  const double thin = std::min(stick.width_m, stick.depth_m);
  for (const Vec3& end : {stick.from, stick.to})
    out.push_back({end,
                   axes_of(normal, Vec3::UnitZ()),
                   {kWasher_m / 2, kWasher_m / 2, post_m / 2 + thin + kNut_m}});
  return out;
}

bool runs_through(const Stick& brace, const Stick& post) {
  const Vec3 up = post.to - post.from;
  const Vec3 normal = normal_of(brace, (brace.to - brace.from).normalized());
  return boxes_meet(board_of(brace), {(post.from + post.to) / 2,
                                      axes_of(up.normalized(), normal),
                                      {post.width_m / 2, post.depth_m / 2, up.norm() / 2}});
}

bool in_each_others_way(const std::vector<Box>& a, const std::vector<Box>& b) {
  return std::ranges::any_of(a, [&](const Box& one) {
    return std::ranges::any_of(b, [&](const Box& other) { return boxes_meet(one, other); });
  });
}

}  // namespace skewback
