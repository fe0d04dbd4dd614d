#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "base/constants.hpp"
#include "survey/survey.hpp"

namespace skewback {
namespace {

const std::vector<Vec3> kTripod = {{0, 0, 0}, {400, 0, 0}, {0, 300, 0}, {0, 0, 200}};
const std::vector<Vec3> kTurned = {{100, 50, 20}, {100, 450, 20}, {-200, 50, 20}, {100, 50, 220}};

double angle_deg(const Mat3& R) { return Eigen::AngleAxisd(R).angle() * 180 / kPi; }

// Quarter turn about z and a shift, exact by construction.
TEST(FitRigid, QuarterTurn) {
  const RigidFit fit = fit_rigid(kTripod, kTurned);
  ASSERT_TRUE(fit.determined);
  const Mat3 quarter = Eigen::AngleAxisd(kPi / 2, Vec3::UnitZ()).toRotationMatrix();
  EXPECT_NEAR((fit.X.R - quarter).norm(), 0, 1e-12);
  EXPECT_NEAR((fit.X.t - Vec3(100, 50, 20)).norm(), 0, 1e-9);
  EXPECT_NEAR(fit.rms_m, 0, 1e-9);
}

// One target 1 off. Figures: scipy.spatial.transform.Rotation.align_vectors of SciPy 1.10.1.
TEST(FitRigid, OneTargetOff) {
  std::vector<Vec3> measured = kTurned;
  measured[1].y() = 451;
  const RigidFit fit = fit_rigid(kTripod, measured);
  EXPECT_NEAR(angle_deg(fit.X.R), 90.02445, 1e-5);
  EXPECT_NEAR((fit.X.t - Vec3(100.04116, 50.30107, 19.95965)).norm(), 0, 1e-5);
  EXPECT_NEAR(fit.rms_m, 0.418014, 1e-6);
  EXPECT_NEAR(fit.worst_m, 0.7197, 1e-4);
  EXPECT_EQ(fit.worst, 1);
}

// Closed form: tan of the turn -0.1, rms sqrt((16.16 - 2 sqrt(64.64)) / 4).
TEST(FitRigid, ShearedSquare) {
  const RigidFit fit = fit_rigid({{1, 1, 0}, {-1, 1, 0}, {-1, -1, 0}, {1, -1, 0}},
                                 {{1.2, 1, 0}, {-.8, 1, 0}, {-1.2, -1, 0}, {.8, -1, 0}});
  ASSERT_TRUE(fit.determined);
  EXPECT_NEAR(std::atan2(fit.X.R(1, 0), fit.X.R(0, 0)), std::atan(-0.1), 1e-12);
  EXPECT_NEAR(fit.X.t.norm(), 0, 1e-12);
  EXPECT_NEAR(fit.rms_m, std::sqrt((16.16 - 2 * std::sqrt(64.64)) / 4), 1e-9);
}

// Mirrored data must not be matched by a mirror. The rms: align_vectors of SciPy 1.10.1.
TEST(FitRigid, NeverReflects) {
  std::vector<Vec3> mirrored = kTripod;
  for (Vec3& p : mirrored) p.x() = -p.x();
  const RigidFit fit = fit_rigid(kTripod, mirrored);
  EXPECT_NEAR(fit.X.R.determinant(), 1, 1e-12);
  EXPECT_NEAR(fit.rms_m, 126.744, 1e-3);
}

TEST(FitRigid, SaysWhenATurnIsUndetermined) {
  const std::vector<Vec3> line = {{0, 0, 0}, {1, 1, 0}, {3, 3, 0}};
  const RigidFit on_line = fit_rigid(line, line);
  EXPECT_FALSE(on_line.determined);
  EXPECT_NE(on_line.reason.find("one line"), std::string::npos);
  EXPECT_FALSE(fit_rigid({{0, 0, 0}, {1, 0, 0}}, {{0, 0, 0}, {1, 0, 0}}).determined);
  EXPECT_FALSE(fit_rigid({}, {}).determined);
}

}  // namespace
}  // namespace skewback
