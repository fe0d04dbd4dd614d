#include "stand/program.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "assembly/contact_mesh.hpp"

namespace skewback {

namespace {

constexpr double kCellShare = 0.12;  // longest edge of a cell, of the contact's extent

/// Drops the corner whose triangle with its neighbours is smallest until few enough are left.
Polygon thinned(Polygon hull, int most) {
  while (most > 2 && static_cast<int>(hull.size()) > most) {
    const std::size_t n = hull.size();
    std::size_t least = 0;
    double least_area = 1e300;
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 u = hull[(i + n - 1) % n] - hull[i], v = hull[(i + 1) % n] - hull[i];
      const double twice = std::abs(u.x() * v.y() - u.y() * v.x());
      if (twice < least_area) {
        least_area = twice;
        least = i;
      }
    }
    hull.erase(hull.begin() + static_cast<std::ptrdiff_t>(least));
  }
  return hull;
}

std::vector<Vec2> outline(const Regions& contact) {
  std::vector<Vec2> points;
  for (const Region& part : contact) {
    points.insert(points.end(), part.outer.begin(), part.outer.end());
  }
  return points;
}

bool carries_load(const Assembly& assembly, const StandOptions& options, int block) {
  return is_present(options, block) && !assembly.blocks[static_cast<std::size_t>(block)].fixed;
}

void number_blocks(const Assembly& assembly, const StandOptions& options, Program& program) {
  program.slot.assign(assembly.blocks.size(), -1);
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (!carries_load(assembly, options, static_cast<int>(i))) continue;
    program.slot[i] = static_cast<int>(program.blocks.size());
    program.blocks.push_back(static_cast<int>(i));
    program.centre.push_back(centre_of_gravity(assembly.blocks[i]));
  }
}

/// Adds force f at point p to the six rows of a block.
void add_load(const Program& program, int block, const Vec3& p, const Vec3& f, VectorX& rows) {
  const int slot = block < 0 ? -1 : program.slot[static_cast<std::size_t>(block)];
  if (slot < 0) return;
  const Vec3 arm = p - program.centre[static_cast<std::size_t>(slot)];
  rows.segment<3>(6 * slot) += f;
  rows.segment<3>(6 * slot + 3) += arm.cross(f);
}

VectorX weight_rows(const Assembly& assembly, const LoadCase& load, const Program& program) {
  VectorX rows = VectorX::Zero(6 * static_cast<Eigen::Index>(program.blocks.size()));
  for (std::size_t s = 0; s < program.blocks.size(); ++s) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(program.blocks[s])];
    add_load(program, program.blocks[s], program.centre[s], mass_kg(block) * load.gravity, rows);
  }
  return rows;
}

VectorX live_rows(const Assembly& assembly, const LoadCase& load, const Program& program) {
  VectorX rows = VectorX::Zero(6 * static_cast<Eigen::Index>(program.blocks.size()));
  for (std::size_t s = 0; s < program.blocks.size(); ++s) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(program.blocks[s])];
    add_load(program, program.blocks[s], program.centre[s], mass_kg(block) * load.live_acceleration,
             rows);
  }
  for (const LiveForce& live : load.live) {
    add_load(program, live.block, live.point, live.force, rows);
  }
  return rows;
}

void choose_units(Program& program) {
  const auto n = static_cast<double>(program.blocks.size());
  const auto mean_force = [&](const VectorX& rows) {
    double sum = 0;
    for (Eigen::Index i = 0; i < rows.size(); i += 6) sum += rows.segment<3>(i).norm();
    return n > 0 ? sum / n : 0.0;
  };
  const double weight = mean_force(program.weight), live = mean_force(program.live);
  program.force_unit = weight > 0 ? weight : (live > 0 ? live : 1);

  double square = 0;
  int count = 0;
  for (const Contact& c : program.contacts) {
    for (const int block : {c.a, c.b}) {
      const int slot = block < 0 ? -1 : program.slot[static_cast<std::size_t>(block)];
      if (slot < 0) continue;
      square += (c.point - program.centre[static_cast<std::size_t>(slot)]).squaredNorm();
      ++count;
    }
  }
  program.length_unit = square > 0 ? std::sqrt(square / count) : 1;
}

void scale(const Program& program, VectorX& rows) {
  for (Eigen::Index i = 0; i < rows.size(); i += 6) {
    rows.segment<3>(i) /= program.force_unit;
    rows.segment<3>(i + 3) /= program.force_unit * program.length_unit;
  }
}

Mat3 cross_matrix(const Vec3& r) {
  Mat3 m;
  m << 0, -r.z(), r.y(), r.z(), 0, -r.x(), -r.y(), r.x(), 0;
  return m;
}

void fill_cones(Program& program) {
  program.cones.reserve(program.contacts.size());
  for (const Contact& c : program.contacts) {
    ConeContact cone;
    Mat3 axes;
    axes << c.n, c.x, c.y;
    const auto lever = [&](int slot) {
      Eigen::Matrix<double, 6, 3> rows;
      const Vec3 arm = c.point - program.centre[static_cast<std::size_t>(slot)];
      rows << axes, cross_matrix(arm) * axes / program.length_unit;
      return rows;
    };
    if (c.a >= 0) cone.a = program.slot[static_cast<std::size_t>(c.a)];
    if (c.b >= 0) cone.b = program.slot[static_cast<std::size_t>(c.b)];
    if (cone.a >= 0) cone.on_a = -lever(cone.a);
    if (cone.b >= 0) cone.on_b = lever(cone.b);
    cone.friction = c.friction;
    program.cones.push_back(cone);
  }
}

Graph graph_of(const Program& program) {
  std::vector<std::array<int, 2>> pairs;
  for (const ConeContact& cone : program.cones) {
    const std::array<int, 2> pair{cone.a, cone.b};
    if (cone.a >= 0 && cone.b >= 0 && (pairs.empty() || pairs.back() != pair)) {
      pairs.push_back(pair);
    }
  }
  const int nodes = static_cast<int>(program.blocks.size());
  const std::shared_ptr<const BlockPattern> pattern = analyse(nodes, pairs);
  return {std::make_shared<const ConeSolver>(pattern), pattern};
}

void add_cells(const Joint& joint, Contact contact, std::vector<Contact>& out) {
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const Vec2& p : outline(joint.contact)) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  const double edge = kCellShare * std::sqrt((high - low).prod());
  const ContactMesh mesh = mesh_contact(joint.contact, edge);
  for (const auto& t : mesh.triangles) {
    const Vec2 &p = mesh.points[static_cast<std::size_t>(t[0])],
               &q = mesh.points[static_cast<std::size_t>(t[1])],
               &r = mesh.points[static_cast<std::size_t>(t[2])];
    contact.point = joint.frame.to_world(Vec2((p + q + r) / 3));
    contact.area = std::abs((q - p).x() * (r - p).y() - (q - p).y() * (r - p).x()) / 2;
    out.push_back(contact);
  }
}

}  // namespace

bool is_present(const StandOptions& options, int block) {
  return options.present.empty() || options.present[static_cast<std::size_t>(block)] != 0;
}

std::vector<Contact> contacts_of(const Assembly& assembly, const StandOptions& options, int most) {
  std::vector<Contact> contacts;
  contacts.reserve(options.joint_strength_pa ? 0 : 4 * assembly.joints.size());
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    if (!is_present(options, joint.a) || !is_present(options, joint.b)) continue;
    if (!carries_load(assembly, options, joint.a) && !carries_load(assembly, options, joint.b)) {
      continue;
    }
    const double friction = options.friction.value_or(joint.friction);
    Contact contact{
        static_cast<int>(j), -1,      joint.a, joint.b, Vec3::Zero(), joint.frame.x, joint.frame.y,
        joint.frame.z,       friction};
    if (options.joint_strength_pa) {
      add_cells(joint, contact, contacts);
      continue;
    }
    for (const Vec2& p : thinned(convex_hull(outline(joint.contact)), most)) {
      contact.point = joint.frame.to_world(p);
      contacts.push_back(contact);
    }
  }
  for (std::size_t i = 0; i < options.props.size(); ++i) {
    const Prop& prop = options.props[i];
    if (!carries_load(assembly, options, prop.block)) continue;
    const Frame frame = frame_on({prop.point, prop.direction});
    contacts.push_back({-1, static_cast<int>(i), -1, prop.block, prop.point, frame.x, frame.y,
                        frame.z, prop.friction});
  }
  return contacts;
}

VectorX rows_of(const Program& program, const VectorX& f) {
  VectorX rows = VectorX::Zero(program.weight.size());
  for (std::size_t i = 0; i < program.cones.size(); ++i) {
    const ConeContact& cone = program.cones[i];
    const Vec3 force = f.segment<3>(3 * static_cast<Eigen::Index>(i));
    if (cone.a >= 0) rows.segment<6>(6 * cone.a) += cone.on_a * force;
    if (cone.b >= 0) rows.segment<6>(6 * cone.b) += cone.on_b * force;
  }
  return rows;
}

Vec3 world_force(const Contact& c, const VectorX& f, std::size_t index) {
  const Vec3 force = f.segment<3>(3 * static_cast<Eigen::Index>(index));
  return force[0] * c.n + force[1] * c.x + force[2] * c.y;
}

Program build(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
              const Graph* graph) {
  Program program;
  program.contacts = contacts_of(assembly, options, options.contact_points_max);
  number_blocks(assembly, options, program);
  program.weight = weight_rows(assembly, load, program);
  program.live = live_rows(assembly, load, program);
  choose_units(program);
  scale(program, program.weight);
  scale(program, program.live);
  fill_cones(program);
  if (options.joint_strength_pa) {
    for (std::size_t i = 0; i < program.cones.size(); ++i) {
      const double area = program.contacts[i].area;
      if (area > 0)
        program.cones[i].n_most = *options.joint_strength_pa * area / program.force_unit;
    }
  }
  program.graph = graph != nullptr ? *graph : graph_of(program);
  return program;
}

void put_live(const Assembly& assembly, const LoadCase& load, Program& program) {
  program.live = live_rows(assembly, load, program);
  scale(program, program.live);
}

Forces forces_of(const Program& program, const VectorX& f, double load_factor) {
  Forces forces;
  forces.load_factor = load_factor;
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    const Contact& c = program.contacts[i];
    const Vec3 force = program.force_unit * world_force(c, f, i);
    if (c.prop >= 0) {
      forces.props.push_back({c.prop, force});
    } else {
      forces.contacts.push_back({c.joint, c.point, force});
    }
  }
  return forces;
}

double residual_of(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
                   const Forces& forces, double length_unit) {
  Program loads;
  number_blocks(assembly, options, loads);
  VectorX rows = weight_rows(assembly, load, loads);
  double largest = 0;
  for (Eigen::Index i = 0; i < rows.size(); i += 6) {
    largest = std::max(largest, rows.segment<3>(i).norm());
  }
  if (forces.load_factor != 0) rows += forces.load_factor * live_rows(assembly, load, loads);
  for (const ContactForce& c : forces.contacts) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(c.joint)];
    add_load(loads, joint.b, c.point, c.force, rows);
    add_load(loads, joint.a, c.point, -c.force, rows);
  }
  for (const PropForce& p : forces.props) {
    const Prop& prop = options.props[static_cast<std::size_t>(p.prop)];
    add_load(loads, prop.block, prop.point, p.force, rows);
  }
  double worst = 0;
  for (Eigen::Index i = 0; i < rows.size(); i += 6) {
    worst = std::max({worst, rows.segment<3>(i).lpNorm<Eigen::Infinity>(),
                      rows.segment<3>(i + 3).lpNorm<Eigen::Infinity>() / length_unit});
  }
  return largest > 0 ? worst / largest : worst;
}

}  // namespace skewback
