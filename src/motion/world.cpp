#include "motion/world.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

namespace skewback::motion {
namespace {

/// The block and what it carries as one rigid body.
void put_mass(const Block& block, Body& body) {
  body.mass = mass_kg(block);
  body.centre = centre_of_gravity(block);
  Mat3 inertia = block.density * block.mass.inertia;
  const auto add_point = [&](double kg, const Vec3& at) {
    const Vec3 d = at - body.centre;
    inertia += kg * (d.squaredNorm() * Mat3::Identity() - d * d.transpose());
  };
  add_point(block.density * block.mass.volume, block.mass.centroid);
  for (const CarriedMass& carried : block.carried) add_point(carried.mass_kg, carried.point);
  Eigen::SelfAdjointEigenSolver<Mat3> own(inertia);
  Mat3 axes = own.eigenvectors();
  if (axes.determinant() < 0) axes.col(0) = -axes.col(0);
  body.inertia = own.eigenvalues();
  body.heft = body.mass;
  body.q = Quaternion(axes).normalized();
}

Body body_of(const Block& block, bool there) {
  Body body;
  body.there = there;
  body.free = !block.fixed && there;
  if (block.fixed) {
    body.mass = 0;
    body.centre = block.mass.centroid;
  } else {
    put_mass(block, body);
  }
  body.R = body.q.toRotationMatrix();
  body.start = body.centre;
  body.q_start = body.q;
  return body;
}

/// Puts the touch's frame (world) into the axes of its two bodies.
void see_frame(const World& world, const Frame& frame, Touch& touch) {
  Mat3 axes;
  axes << frame.x, frame.y, frame.z;
  const Body& a = world.bodies[static_cast<std::size_t>(touch.a)];
  const Body& b = world.bodies[static_cast<std::size_t>(touch.b)];
  touch.axes_a = a.R.transpose() * axes;
  touch.axes_b = b.R.transpose() * axes;
  touch.origin_a = a.R.transpose() * (frame.origin - a.centre);
  touch.origin_b = b.R.transpose() * (frame.origin - b.centre);
}

void add_joints(const Assembly& assembly, World& world) {
  const MotionOptions& o = world.options;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const Body& a = world.bodies[static_cast<std::size_t>(joint.a)];
    const Body& b = world.bodies[static_cast<std::size_t>(joint.b)];
    if (!a.there || !b.there || (!a.free && !b.free)) continue;
    Touch touch;
    touch.a = joint.a;
    touch.b = joint.b;
    touch.joint = static_cast<int>(j);
    touch.friction = world.scene.friction.value_or(joint.friction);
    const bool soft = joint.pad && joint.pad->kn > 0;
    const double give = soft ? 1 + o.creep : 1;
    touch.kn = (soft ? joint.pad->kn : o.dry_kn) / give;
    touch.ks = (soft ? (joint.pad->ks > 0 ? joint.pad->ks : 0.4 * joint.pad->kn) : o.dry_ks) / give;
    touch.facet_a = touch.facet_b = -2;
    see_frame(world, joint.frame, touch);
    auto points = points_of(joint.contact, o.edge_share * extent_of(joint.contact));
    if (!world.scene.gap_m.empty())
      for (TouchPoint& p : points) p.at.z() += world.scene.gap_m[j];
    if (points.empty()) continue;
    put_points(touch, points);
    touch.dash_s = dash_time(world, touch);
    world.touches.push_back(std::move(touch));
  }
}

void add_pushers(World& world) {
  for (std::size_t i = 0; i < world.scene.pushers.size(); ++i) {
    const Pusher& pusher = world.scene.pushers[i];
    if (!world.bodies[static_cast<std::size_t>(pusher.block)].free) continue;
    Body stand;  // of its own, so that it can be lowered
    stand.there = true;
    stand.centre = stand.start = pusher.point;
    Touch touch;
    touch.a = static_cast<int>(world.bodies.size());
    touch.b = pusher.block;
    touch.pusher = static_cast<int>(i);
    touch.friction = pusher.friction;
    touch.kn = world.options.prop_kn;
    touch.ks = world.options.prop_kn / 2;
    world.bodies.push_back(stand);
    see_frame(world, frame_on({pusher.point, pusher.direction}), touch);
    put_points(touch, {{Vec3::Zero(), 1, Vec2::Zero()}});
    touch.dash_s = dash_time(world, touch);
    if (pusher.lowered_m != 0) {
      Moving down;
      down.body = touch.a;
      down.shift = -pusher.lowered_m * Vec3::UnitZ();
      world.moving.push_back(down);
    }
    world.touches.push_back(std::move(touch));
  }
}

void add_balls(World& world) {
  for (const Drop& drop : world.scene.drops) {
    const Vec3 up = drop.up.normalized();
    Body ball;
    ball.mass = ball.heft = drop.mass_kg;
    // touches where its weight is: a centre above the one point of contact would topple over it
    ball.centre = ball.start = drop.point + Vec3(0, 0, drop.height_m);
    ball.inertia = Vec3::Constant(0.01 * drop.mass_kg);  // never turned
    Touch touch;
    touch.a = drop.block;
    touch.b = static_cast<int>(world.bodies.size());
    touch.friction = 0.5;
    touch.kn = drop.kn;
    touch.ks = drop.kn / 2;
    world.bodies.push_back(ball);
    const Frame frame = frame_on({drop.point, up});
    see_frame(world, frame, touch);
    put_points(touch, {{frame.to_local(ball.centre), 1, Vec2::Zero()}});
    touch.dash_s = dash_time(world, touch);
    touch.gone = true;  // until it is let go
    world.touches.push_back(std::move(touch));
  }
}

void add_loads(const LoadCase& load, World& world) {
  for (const LiveForce& live : load.live) {
    Body& body = world.bodies[static_cast<std::size_t>(live.block)];
    body.live += live.force;
    body.live_arms += body.R.transpose() * (live.point - body.centre) * live.force.transpose();
  }
}

std::shared_ptr<const Shapes> shapes_of(const Assembly& assembly, const World& world) {
  auto shapes = std::make_shared<Shapes>();
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    shapes->solids.push_back(assembly.blocks[i].solid);
    double reach = 0;
    for (const Vec3& v : shapes->solids.back().vertices)
      reach = std::max(reach, (v - world.bodies[i].start).norm());
    shapes->reach.push_back(reach);
  }
  double least = 1e300;
  for (const Joint& joint : assembly.joints) {
    shapes->contacts.push_back(joint.contact);
    least = std::min(least, joint.friction);
  }
  if (!assembly.joints.empty()) shapes->friction = least;
  if (world.scene.friction) shapes->friction = *world.scene.friction;
  return shapes;
}

void put_sizes(const Assembly& assembly, World& world) {
  double weight = 0, volume = 0;
  int count = 0;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (!world.bodies[i].free) continue;
    weight += world.bodies[i].mass * world.gravity.norm();
    volume += assembly.blocks[i].mass.volume;
    ++count;
  }
  if (count == 0) return;
  world.mean_size = std::cbrt(volume / count);
  if (weight > 0) world.mean_weight = weight / count;
  if (world.options.far_m <= 0) world.options.far_m = world.mean_size / 2;
}

}  // namespace

double dash_time(const World& world, const Touch& touch) {
  const MotionOptions& o = world.options;
  if (o.damping != Damping::kRocking) return 0;
  double mass = 0;
  for (const int i : {touch.a, touch.b}) {
    const Body& body = world.bodies[static_cast<std::size_t>(i)];
    if (body.mass > 0 && (mass == 0 || body.mass < mass)) mass = body.mass;
  }
  double stiffness = 0;
  for (int i = 0; i < touch.points; ++i) stiffness += touch.column(kKn)[i];
  return stiffness > 0 ? 2 * o.rocking * std::sqrt(mass / stiffness) : 0;
}

void index_sides(World& world) {
  world.sides.assign(world.bodies.size(), {});
  for (std::size_t t = 0; t < world.touches.size(); ++t) {
    const Touch& touch = world.touches[t];
    if (touch.gone) continue;
    world.sides[static_cast<std::size_t>(touch.a)].push_back({static_cast<int>(t), false});
    world.sides[static_cast<std::size_t>(touch.b)].push_back({static_cast<int>(t), true});
  }
}

void index_moves(World& world) {
  world.moves_of.assign(world.bodies.size(), {});
  for (std::size_t m = 0; m < world.moving.size(); ++m)
    world.moves_of[static_cast<std::size_t>(world.moving[m].body)].push_back(static_cast<int>(m));
}

void rest_anchors(const World& world, Touch& touch) {
  const Sight s = sight(world, touch);
  for (int i = 0; i < touch.points; ++i) {
    const Vec3 r = s(touch.at(i));
    touch.column(kAnchor1)[i] = r.x();
    touch.column(kAnchor2)[i] = r.y();
  }
}

World build_world(const Assembly& assembly, const LoadCase& load, const Scene& scene,
                  const MotionOptions& options) {
  World world;
  world.options = options;
  world.scene = scene;
  world.gravity = load.gravity;
  world.live_acceleration = load.live_acceleration;
  world.blocks_of_assembly = static_cast<int>(assembly.blocks.size());
  world.joints_of_assembly = static_cast<int>(assembly.joints.size());
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i)
    world.bodies.push_back(
        body_of(assembly.blocks[i], scene.present.empty() || scene.present[i] != 0));
  put_sizes(assembly, world);
  add_loads(load, world);
  add_joints(assembly, world);
  add_pushers(world);
  add_balls(world);
  index_sides(world);
  if (options.damping == Damping::kSettling && options.even) even_out(world);
  put_step(world);
  const double asks =
      200 + 40 * std::sqrt(static_cast<double>(std::max<std::size_t>(1, world.touches.size())));
  world.put_on_s = options.put_on_s > 0 ? options.put_on_s : asks * world.step_s;
  world.factor_to = scene.load_factor;
  world.factor_over_s = world.put_on_s;
  for (Moving& moving : world.moving) moving.over_s = world.put_on_s;
  for (const GroundMove& move : scene.moves) {
    world.moving.push_back({move.block, move.shift, move.turn, move.about, move.from_s,
                            move.over_s > 0 ? move.over_s : world.put_on_s});
  }
  index_moves(world);
  if (options.find_again) world.shapes = shapes_of(assembly, world);
  world.facets.resize(assembly.blocks.size());
  for (const Body& body : world.bodies) world.swept_at.push_back({body.centre, body.q});
  return world;
}

}  // namespace skewback::motion
