#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/random.hpp"
#include "survey/deviate.hpp"
#include "survey/tolerance_parts.hpp"

namespace skewback {
namespace {

enum Error : std::size_t {
  kPlan,
  kLevel,
  kTurn,
  kTilt,
  kCentring,
  kLength,
  kBedTilt,
  kFlatness,
  kPadShare,
  kErrors
};

constexpr std::uint32_t kCourses = 1 << 16;  // places kept for the courses of an arm

/// Numbers of one draw: each is a function of its error's name and its place alone.
class Drawn {
 public:
  Drawn(const TolerancesRequest& tolerances, std::uint64_t draw, const std::vector<double>& scale,
        DrawNumbers* kept)
      : seed_(static_cast<std::uint64_t>(tolerances.seed)), draw_(draw), kept_(kept) {
    static_assert(std::tuple_size_v<DrawNumbers> == kErrors);
    figure_ = error_figures(tolerances);
    for (std::size_t e = 0; e < kErrors; ++e) {
      if (!scale.empty()) figure_[e] *= scale[e];
      for (const std::string& name : tolerances.even) is_even_[e] |= name == error_names()[e];
    }
  }
  [[nodiscard]] double operator()(Error error, std::size_t place) const {
    if (figure_[error] == 0) return 0;
    if (kept_ == nullptr || error == kCentring) return figure_[error] * number(error, place);
    std::vector<double>& kept = (*kept_)[error];
    if (place >= kept.size()) kept.resize(place + 1, std::numeric_limits<double>::quiet_NaN());
    if (std::isnan(kept[place])) kept[place] = number(error, place);
    return figure_[error] * kept[place];
  }

 private:
  [[nodiscard]] double number(Error error, std::size_t place) const {
    const double u =
        even(seed_, draw_, static_cast<std::uint32_t>(error), static_cast<std::uint32_t>(place));
    return is_even_[error] ? 2 * u - 1 : normal_deviate(u) / 2;
  }

  std::uint64_t seed_, draw_;
  DrawNumbers* kept_;
  std::vector<double> figure_;
  std::array<bool, kErrors> is_even_{};
};

Rigid footing(const Support& support, std::size_t k, const Drawn& drawn) {
  const Vec2 middle = (support.a + support.b) / 2;
  const Vec3 about(middle.x(), middle.y(), support.level_m);
  SmallMove move;
  move.shift = {drawn(kPlan, 2 * k), drawn(kPlan, 2 * k + 1), drawn(kLevel, k)};
  move.turn = {drawn(kTilt, 2 * k), drawn(kTilt, 2 * k + 1), drawn(kTurn, k)};
  Rigid X;
  const double angle = move.turn.norm();
  if (angle > 0) X.R = Eigen::AngleAxisd(angle, move.turn / angle).toRotationMatrix();
  X.t = about + move.shift - X.R * about;
  return X;
}

/// Surface of a bed, outward from its block: middle, height there, gradient along the bed.
struct Surface {
  Vec3 middle = Vec3::Zero(), gradient = Vec3::Zero();
  double height_m = 0;
};

BedError at_joint(const Surface& surface, const Joint& joint, bool is_a) {
  const double out = is_a ? 1 : -1;  // outward along the frame's z
  BedError error;
  error.height_m =
      out * (surface.height_m + surface.gradient.dot(joint.frame.origin - surface.middle));
  error.slope =
      out * Vec2(surface.gradient.dot(joint.frame.x), surface.gradient.dot(joint.frame.y));
  return error;
}

/// Far beds of blocks: one plane each, whatever number of blocks lies on it.
std::vector<Surface> far_beds(const Assembly& assembly, const Drawn& drawn) {
  const std::size_t n = assembly.blocks.size();
  std::vector<Surface> out(n);
  std::vector<int> joints(n, 0);
  std::vector<const Frame*> frame(n, nullptr);
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    for (const int block : {joint.a, joint.b}) {
      if (bed_role(assembly, static_cast<int>(j), block) != BedRole::kFar) continue;
      const auto i = static_cast<std::size_t>(block);
      out[i].middle += joint.frame.origin;
      if (joints[i]++ == 0) frame[i] = &joint.frame;
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (frame[i] == nullptr) continue;
    out[i].middle /= joints[i];
    out[i].height_m = drawn(kLength, i);
    out[i].gradient =
        drawn(kBedTilt, 2 * i) * frame[i]->x + drawn(kBedTilt, 2 * i + 1) * frame[i]->y;
  }
  return out;
}

Surface own_bed(const Joint& joint, std::size_t blocks, std::size_t side, const Drawn& drawn) {
  const double part = std::sqrt(0.5);
  Surface surface;
  surface.middle = joint.frame.origin;
  surface.height_m = part * drawn(kLength, blocks + side);
  surface.gradient = part * (drawn(kBedTilt, 2 * (blocks + side)) * joint.frame.x +
                             drawn(kBedTilt, 2 * (blocks + side) + 1) * joint.frame.y);
  return surface;
}

bool is_key(const Block& block) { return block.place.arm < 0 && !block.fixed; }
bool is_of_crown(const Block& block) {
  return !block.fixed && block.place.course > 0 && (block.place.crown || is_key(block));
}

}  // namespace

const std::vector<std::string>& error_names() {
  static const std::vector<std::string> names{"footing_plan", "footing_level", "footing_turn",
                                              "footing_tilt", "centring",      "block_length",
                                              "bed_tilt",     "bed_flatness",  "pad"};
  return names;
}

std::vector<double> error_figures(const TolerancesRequest& t) {
  return {t.footing_plan_m, t.footing_level_m, t.footing_turn_rad, t.footing_tilt_rad, t.centring_m,
          t.block_length_m, t.bed_tilt_rad,    t.bed_flatness_m,   t.pad_share};
}

BedRole bed_role(const Assembly& assembly, int index, int block) {
  const Joint& joint = assembly.joints[static_cast<std::size_t>(index)];
  const auto at = [&](int i) -> const Block& {
    return assembly.blocks[static_cast<std::size_t>(i)];
  };
  const Block &self = at(block), &other = at(joint.a == block ? joint.b : joint.a);
  if (self.fixed) return BedRole::kGround;
  if (is_key(self)) return BedRole::kOwn;
  if (other.fixed || lower(other.place, self.place)) return BedRole::kNear;
  if (is_key(other)) return BedRole::kFar;
  if (self.place.arm != other.place.arm) {
    return self.place.crown && other.place.crown ? BedRole::kOwn : BedRole::kFar;
  }
  if (self.place.course == other.place.course) return BedRole::kOwn;
  return BedRole::kFar;
}

AsMade errors_of(const Brief& brief, const Assembly& assembly, std::uint64_t draw,
                 const std::vector<double>& scale, DrawNumbers* kept) {
  const Drawn drawn(brief.tolerances, draw, scale, kept);
  const std::size_t blocks = assembly.blocks.size(), joints = assembly.joints.size();
  AsMade made;
  for (std::size_t k = 0; k < brief.plan.supports.size(); ++k)
    made.supports.push_back(footing(brief.plan.supports[k], k, drawn));
  made.on_a.resize(joints);
  made.on_b.resize(joints);
  made.pad_m.resize(joints);
  const std::vector<Surface> far = far_beds(assembly, drawn);
  for (std::size_t j = 0; j < joints; ++j) {
    const Joint& joint = assembly.joints[j];
    if (joint.pad) made.pad_m[j] = joint.pad->thickness_m * drawn(kPadShare, j);
    for (const bool is_a : {true, false}) {
      const int block = is_a ? joint.a : joint.b;
      const std::size_t side = 2 * j + (is_a ? 0 : 1);
      const BedRole role = bed_role(assembly, static_cast<int>(j), block);
      BedError& error = is_a ? made.on_a[j] : made.on_b[j];
      if (role == BedRole::kGround) continue;
      if (role == BedRole::kFar)
        error = at_joint(far[static_cast<std::size_t>(block)], joint, is_a);
      if (role == BedRole::kOwn) error = at_joint(own_bed(joint, blocks, side, drawn), joint, is_a);
      for (std::size_t c = 0; c < 4; ++c) error.corner_m[c] = drawn(kFlatness, 4 * side + c);
    }
  }
  for (const Block& block : assembly.blocks) {
    const auto course = static_cast<std::uint32_t>(std::max(0, block.place.course));
    made.timber_m.push_back(
        block.fixed ? 0
                    : drawn(kCentring,
                            static_cast<std::uint32_t>(block.place.arm + 1) * kCourses + course));
  }
  return made;
}

AsMade draw_errors(const Brief& brief, const StackModel& model, std::uint64_t draw,
                   const std::vector<double>& scale) {
  return errors_of(brief, model.assembly(), draw, scale);
}

std::vector<int> key_joints(const Assembly& assembly, const std::vector<int>& order) {
  std::vector<int> of_crown, between_arms, of_last;
  for (int j = 0; j < static_cast<int>(assembly.joints.size()); ++j) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(j)];
    const Block &a = assembly.blocks[static_cast<std::size_t>(joint.a)],
                &b = assembly.blocks[static_cast<std::size_t>(joint.b)];
    if (is_of_crown(a) || is_of_crown(b)) of_crown.push_back(j);
    if (!is_key(a) && !is_key(b) && a.place.arm != b.place.arm) between_arms.push_back(j);
    if (!order.empty() && (joint.a == order.back() || joint.b == order.back()))
      of_last.push_back(j);
  }
  if (!of_crown.empty()) return of_crown;
  return between_arms.empty() ? of_last : between_arms;
}

}  // namespace skewback
