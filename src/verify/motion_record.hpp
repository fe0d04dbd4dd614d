#pragma once
// Private to verify/: a recorded motion (docs/motion.md) as this folder reads it.

#include <Eigen/Geometry>

#include "verify/model.hpp"

namespace skewback::audit {

struct Pose {
  Vec3 at = Vec3::Zero();
  Eigen::Quaterniond q = Eigen::Quaterniond::Identity();
};

struct JointRecord {
  int a = -1, b = -1;
  Vec3 force = Vec3::Zero(), origin = Vec3::Zero(), moment = Vec3::Zero();  // on b, about origin
  double slid = 0;
};

struct PropRecord {
  Prop prop;
  double lowered = 0;                            // m, straight down
  Vec3 force = Vec3::Zero(), at = Vec3::Zero();  // on the block, at the end
};

struct MotionRecord {
  std::string case_id, ending;
  double load_factor = 1, rest_share = 0, moved_max = 0, error = 0;
  std::optional<double> friction;
  std::vector<char> there;    // per body, at the start
  std::vector<char> present;  // per body, at the end
  // per body, in place of what the assembly says it carries
  std::optional<std::vector<std::vector<PointMass>>> carried;
  std::vector<PropRecord> props;
  int moved = -1, drops = 0, met = 0;
  std::vector<JointRecord> joints;
  std::vector<std::vector<Pose>> frames;  // by body of the model
};

/// Throws std::exception that says what is wrong.
[[nodiscard]] MotionRecord read_motion_record(const std::filesystem::path& file,
                                              const Model& model);

}  // namespace skewback::audit
