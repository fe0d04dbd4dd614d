// A rigid-body engine of another make, ODE (Smith, Open Dynamics Engine), as a second opinion on
// arches let go in time. It is given the points where blocks touch, the corners of every joint, and
// how soft they are; its own search for contacts is not used. Its friction is a pyramid, ours a
// cone; its steps are implicit, ours explicit.

#include <gtest/gtest.h>
#include <ode/ode.h>

#include <algorithm>
#include <cstdio>
#include <vector>

#include "assembly/sample_arch.hpp"
#include "base/constants.hpp"
#include "motion/motion.hpp"

namespace skewback {
namespace {

struct End {
  bool stands = false;
  double moved_m = 0;
};

class OdeArch {
 public:
  OdeArch(const Assembly& assembly, double step_s) : assembly_(assembly), step_s_(step_s) {
    world_ = dWorldCreate();
    dWorldSetGravity(world_, 0, 0, -kGravity);
    group_ = dJointGroupCreate(0);
    for (const Block& block : assembly.blocks)
      bodies_.push_back(block.fixed ? nullptr : add(block));
  }
  ~OdeArch() {
    dJointGroupDestroy(group_);
    dWorldDestroy(world_);
  }
  OdeArch(const OdeArch&) = delete;
  OdeArch& operator=(const OdeArch&) = delete;

  /// Until the time is over or a block has gone `far_m`.
  End go(double seconds, double far_m) {
    End end;
    for (double time = 0; time < seconds && end.moved_m < far_m; time += step_s_) {
      dJointGroupEmpty(group_);
      for (const Joint& joint : assembly_.joints) meet(joint);
      dWorldStep(world_, step_s_);
      for (std::size_t i = 0; i < bodies_.size(); ++i)
        if (bodies_[i] != nullptr)
          end.moved_m =
              std::max(end.moved_m, (at(static_cast<int>(i), start(i)) - start(i)).norm());
    }
    end.stands = end.moved_m < far_m;
    return end;
  }

 private:
  [[nodiscard]] Vec3 start(std::size_t i) const { return assembly_.blocks[i].mass.centroid; }

  dBodyID add(const Block& block) {
    const Mat3 inertia = block.density * block.mass.inertia;
    dMass mass;
    dMassSetParameters(&mass, mass_kg(block), 0, 0, 0, inertia(0, 0), inertia(1, 1), inertia(2, 2),
                       inertia(0, 1), inertia(0, 2), inertia(1, 2));
    dBodyID body = dBodyCreate(world_);
    dBodySetMass(body, &mass);
    const Vec3& c = block.mass.centroid;
    dBodySetPosition(body, c.x(), c.y(), c.z());
    return body;
  }

  [[nodiscard]] Vec3 turned(int block, const Vec3& v) const {
    dBodyID body = bodies_[static_cast<std::size_t>(block)];
    if (body == nullptr) return v;
    dVector3 out;
    dBodyVectorToWorld(body, v.x(), v.y(), v.z(), out);
    return {out[0], out[1], out[2]};
  }
  /// Where a point of a block is now that was at `p` at the start.
  [[nodiscard]] Vec3 at(int block, const Vec3& p) const {
    dBodyID body = bodies_[static_cast<std::size_t>(block)];
    if (body == nullptr) return p;
    const Vec3 r = p - start(static_cast<std::size_t>(block));
    dVector3 out;
    dBodyGetRelPointPos(body, r.x(), r.y(), r.z(), out);
    return {out[0], out[1], out[2]};
  }

  void meet(const Joint& joint) {
    const Vec3 n = turned(joint.a, joint.frame.z), along = turned(joint.a, joint.frame.x);
    for (const Vec2& corner : joint.contact[0].outer) {
      const Vec3 p = joint.frame.to_world(corner), on_a = at(joint.a, p), on_b = at(joint.b, p);
      const double depth = -(on_b - on_a).dot(n);
      if (depth > 0) push(joint, on_b, n, along, depth);
    }
  }

  void push(const Joint& joint, const Vec3& p, const Vec3& n, const Vec3& along, double depth) {
    // a spring and a dashpot at the corner, as ODE's manual puts them into error and softness
    const double spring = joint.pad->kn * area(joint.contact) / 4,
                 dashpot = 0.02 * spring;  // strong: it is the end that is looked for
    dContact contact{};
    contact.surface.mode = dContactSoftERP | dContactSoftCFM | dContactApprox1 | dContactFDir1;
    contact.surface.mu = joint.friction;
    contact.surface.soft_erp = step_s_ * spring / (step_s_ * spring + dashpot);
    contact.surface.soft_cfm = 1 / (step_s_ * spring + dashpot);
    contact.geom.depth = depth;
    for (int k = 0; k < 3; ++k) {
      contact.geom.pos[k] = p[k];
      contact.geom.normal[k] = n[k];
      contact.fdir1[k] = along[k];
    }
    dJointAttach(dJointCreateContact(world_, group_, &contact),
                 bodies_[static_cast<std::size_t>(joint.b)],
                 bodies_[static_cast<std::size_t>(joint.a)]);
  }

  const Assembly& assembly_;
  double step_s_;
  dWorldID world_;
  dJointGroupID group_;
  std::vector<dBodyID> bodies_;
};

// Semicircles of 11 voussoirs: the least t/R of a continuous one is 0.1075 (Milankovitch 1907), of
// few voussoirs a little less; with mu 0.2 none stands (0.31 is needed).
TEST(ForeignMotion, ArchesEndAsInAnotherEngine) {
  dInitODE();
  const struct {
    double thickness, friction;
  } all[] = {{0.20, 0.7}, {0.12, 0.7}, {0.10, 0.7}, {0.08, 0.7}, {0.20, 0.2}, {0.12, 0.2}};
  std::printf("  t/R    mu   ODE                   ours\n");
  for (const auto& one : all) {
    sample::Arch shape{11, 5, one.thickness * 5, 1, 2400, one.friction};
    Assembly arch = sample::arch_assembly(shape);
    for (Joint& joint : arch.joints) joint.pad = Pad{0, 2e9, 8e8};
    const End theirs = OdeArch(arch, 2e-3).go(3, 0.5);
    const Motion ours = let_go(arch, arch.cases[0]);
    std::printf("  %.2f  %.2f  %-8s %8.4f m   %-10s %8.4f m\n", one.thickness, one.friction,
                theirs.stands ? "stands" : "falls", theirs.moved_m, word(ours.ending),
                ours.moved_max_m);
    EXPECT_NE(ours.ending, Ending::kNotSettled) << ours.reason;
    EXPECT_EQ(theirs.stands, ours.ending == Ending::kAtRest);
  }
  dCloseODE();
}

}  // namespace
}  // namespace skewback
