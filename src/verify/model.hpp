#pragma once
// Private to verify/: the assembly and the evidence as this folder reads them.

#include <Eigen/Core>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

namespace skewback::audit {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;

struct PointMass {
  double kg = 0;
  Vec3 at = Vec3::Zero();
};

struct Body {
  std::string id;
  bool fixed = false;
  std::vector<Vec3> vertices;
  std::vector<std::vector<int>> faces;
  std::vector<PointMass> masses;  // its own first, then what it carries
  Vec3 low, high;                 // of its vertices
  [[nodiscard]] double radius() const { return (high - low).norm() / 2; }
  [[nodiscard]] Vec3 middle() const { return (high + low) / 2; }
};

struct ListedJoint {
  int a = -1, b = -1;
  double friction = 0;
  double pad = 0;            // thickness, m; 0: the blocks touch
  double gap_tolerance = 0;  // above 0: as built, the gap is filled by packers
  Vec3 point = Vec3::Zero(), normal = Vec3::Zero();  // of its plane; either sense
};

struct Load {
  int body = -1;
  Vec3 at = Vec3::Zero(), newtons = Vec3::Zero();
};

struct LoadSet {
  Vec3 gravity = {0, 0, -9.81};
  std::vector<Load> live;
  Vec3 live_acceleration = Vec3::Zero();
  [[nodiscard]] bool has_live() const { return !live.empty() || !live_acceleration.isZero(0); }
};

struct Model {
  std::vector<Body> bodies;
  std::map<std::string, int> index;
  std::vector<ListedJoint> joints;
  std::map<std::string, LoadSet> cases;
  std::optional<double> friction;
  double tolerance = 1e-3;
  std::vector<Vec3> points;  // that evidence names by their places
};

struct Prop {
  int body = -1;
  Vec3 at = Vec3::Zero(), direction = Vec3::Zero();
  double friction = 0;
};

struct Evidence {
  std::string case_id, kind;
  std::optional<double> load_factor;
  std::vector<char> present;  // per body
  std::optional<double> friction;
  std::vector<Prop> props;
  // per body, in place of what the assembly says it carries
  std::optional<std::vector<std::vector<PointMass>>> carried;
  struct Force {
    int a = -1, b = -1;  // b feels it
    Vec3 at = Vec3::Zero(), newtons = Vec3::Zero();
  };
  std::vector<Force> contacts;
  std::vector<std::pair<int, Vec3>> prop_forces;
  struct Motion {
    Vec3 v = Vec3::Zero(), w = Vec3::Zero();  // point p moves at v + w x p
    [[nodiscard]] Vec3 at(const Vec3& p) const { return v + w.cross(p); }
  };
  std::vector<Motion> motions;  // per body
};

/// The body's own mass, and what it carries in the situation of the evidence.
[[nodiscard]] std::vector<PointMass> masses_of(const Model& model, const Evidence& evidence,
                                               int body);

// Both throw std::runtime_error that says what is wrong.
/// `points`: the file beside it; none where there is none.
[[nodiscard]] Model read_model(const std::filesystem::path& file,
                               const std::filesystem::path& points);
[[nodiscard]] Evidence read_evidence(const std::filesystem::path& file, const Model& model);

}  // namespace skewback::audit
