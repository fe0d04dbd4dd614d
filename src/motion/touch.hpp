#pragma once
// Private to motion/: what two blocks do to one another at the points where they may touch.
// A frame goes with block a: e1, e2 along the face, n from a into b. A point belongs to block b;
// its gap is its height over a's plane, so what the forces do on the blocks is what the springs
// take (docs/theory/motion.md).

#include <new>
#include <utility>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback::motion {

inline constexpr int kLanes = 8;

template <class T>
struct Aligned {
  using value_type = T;
  Aligned() = default;
  template <class U>
  Aligned(const Aligned<U>&) {}
  T* allocate(std::size_t n) {
    return static_cast<T*>(::operator new (n * sizeof(T), std::align_val_t{64}));
  }
  void deallocate(T* p, std::size_t) { ::operator delete (p, std::align_val_t{64}); }
  bool operator==(const Aligned&) const { return true; }
};

/// Columns of one touch, `padded` long, padding without stiffness.
enum Column { kX, kY, kZ, kAnchor1, kAnchor2, kKn, kKs, kColumns };

/// From and to the loop over points.
struct TouchStep {
  double* column[kColumns];
  int padded = 0;
  double turn[9];   // rows e1, e2, n of a: times b's own axes (column by column of b's frame)
  double shift[3];  // from a's origin to b's, along e1, e2, n
  double friction = 0;
  // of b against a, at a's origin, along e1, e2, n; the dashpots' time; the step
  double v[3], w[3], dash_s = 0, step_s = 0;
  // on b: force, moment about a's origin; of it the dashpots'; energy of the springs; rubbed in
  // this step
  double force[3], moment[3], dash_force[3], dash_moment[3], strain = 0, rubbed = 0;
};

struct TouchKernel {
  const char* name;
  void (*springs)(TouchStep&);  // without dashpots
  void (*dashpots)(TouchStep&);
};
[[nodiscard]] const TouchKernel& best_touch_kernel();
/// "plain", "avx2", "avx512"; null where the machine has none of that name. The same bits from all.
[[nodiscard]] const TouchKernel* touch_kernel_named(const char* name);

struct Touch {
  int a = -1, b = -1;  // bodies
  int joint = -1;      // of the assembly; -1: a pusher, a ball, or faces that met
  int pusher = -1;
  bool gone = false;
  // the frame (columns e1, e2, n) and its origin, as a sees it and as b sees it, from their centres
  // and in their own axes
  Mat3 axes_a = Mat3::Identity(), axes_b = Mat3::Identity();
  Vec3 origin_a = Vec3::Zero(), origin_b = Vec3::Zero();
  double kn = 0, ks = 0;  // Pa/m
  double friction = 0, dash_s = 0;
  int points = 0, padded = 0;
  double size = 0;                            // m, of the box of its points
  double slid_before = 0;                     // m, until it was last found again
  std::vector<double, Aligned<double>> data;  // kColumns x padded
  // faces of find_again; -1: the contact itself is taken for it, -2: not looked up yet
  int facet_a = -1, facet_b = -1;

  Vec3 force = Vec3::Zero();                              // on b, world, of the last step
  Vec3 moment_a = Vec3::Zero(), moment_b = Vec3::Zero();  // about the centres, on a, on b
  Vec3 dash_force = Vec3::Zero();                         // of these, the dashpots'
  Vec3 dash_moment_a = Vec3::Zero(), dash_moment_b = Vec3::Zero();
  double strain = 0, rubbed = 0;

  [[nodiscard]] double* column(int which) { return data.data() + which * padded; }
  [[nodiscard]] const double* column(int which) const { return data.data() + which * padded; }
  [[nodiscard]] Vec3 at(int i) const { return {column(kX)[i], column(kY)[i], column(kZ)[i]}; }
};

struct TouchPoint {
  Vec3 at = Vec3::Zero();      // in b's frame of the touch
  double area = 0;             // m2 that it stands for
  Vec2 anchor = Vec2::Zero();  // along e1, e2, from a's origin: where it would rub nothing
};
void put_points(Touch& touch, const std::vector<TouchPoint>& points);

/// Points and areas that sum whatever is at most quadratic over a contact exactly: corners of the
/// triangles (a twelfth each) and their middles (three quarters). Joint frame.
[[nodiscard]] std::vector<TouchPoint> points_of(const Regions& contact, double edge_most_m);
/// Least and greatest of its corners.
[[nodiscard]] std::pair<Vec2, Vec2> box_of(const Regions& contact);
/// A length of a contact: root of its box, and no less than a third of its diagonal.
[[nodiscard]] double extent_of(const Regions& contact);

}  // namespace skewback::motion
