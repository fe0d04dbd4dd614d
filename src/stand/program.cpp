#include "stand/program.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {

namespace {

using Triplets = std::vector<Eigen::Triplet<double>>;

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

void add_column(const Program& program, int block, const Vec3& p, const Vec3& f, int column,
                Triplets& entries) {
  const int slot = block < 0 ? -1 : program.slot[static_cast<std::size_t>(block)];
  if (slot < 0) return;
  const Vec3 arm = p - program.centre[static_cast<std::size_t>(slot)];
  const Vec3 moment = arm.cross(f) / program.length_unit;
  for (int i = 0; i < 3; ++i) {
    entries.emplace_back(6 * slot + i, column, f[i]);  // zeros too: one pattern for all rays
    entries.emplace_back(6 * slot + 3 + i, column, moment[i]);
  }
}

void fill_matrix(Program& program) {
  Triplets entries;
  int column = 0;
  for (const Contact& c : program.contacts) {
    for (int ray = 0; ray < program.rays; ++ray, ++column) {
      const Vec3 g = generator(program, c, ray);
      add_column(program, c.b, c.point, g, column, entries);
      add_column(program, c.a, c.point, -g, column, entries);
    }
  }
  program.A.resize(6 * static_cast<Eigen::Index>(program.blocks.size()), column);
  program.A.setFromTriplets(entries.begin(), entries.end());
}

}  // namespace

bool is_present(const StandOptions& options, int block) {
  return options.present.empty() || options.present[static_cast<std::size_t>(block)] != 0;
}

std::vector<Contact> contacts_of(const Assembly& assembly, const StandOptions& options, int most) {
  std::vector<Contact> contacts;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    if (!is_present(options, joint.a) || !is_present(options, joint.b)) continue;
    if (!carries_load(assembly, options, joint.a) && !carries_load(assembly, options, joint.b)) {
      continue;
    }
    const double friction = options.friction.value_or(joint.friction);
    for (const Vec2& p : thinned(convex_hull(outline(joint.contact)), most)) {
      contacts.push_back({static_cast<int>(j), -1, joint.a, joint.b, joint.frame.to_world(p),
                          joint.frame.x, joint.frame.y, joint.frame.z, friction});
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

Vec3 generator(const Program& program, const Contact& c, int ray) {
  const bool inner = program.cone == Cone::kInner;
  const double half = kPi / program.rays;
  const double t = kPi / 2 + (2 * ray + (inner ? 0 : 1)) * half;
  const double radius = inner ? c.friction : c.friction / std::cos(half);
  return c.n + radius * (std::cos(t) * c.x + std::sin(t) * c.y);
}

Program build(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
              Cone cone) {
  Program program;
  program.rays = std::max(8, options.rays + options.rays % 2);
  program.cone = cone;
  program.contacts =
      contacts_of(assembly, options, cone == Cone::kInner ? options.contact_points_max : 0);
  number_blocks(assembly, options, program);
  program.weight = weight_rows(assembly, load, program);
  program.live = live_rows(assembly, load, program);
  choose_units(program);
  scale(program, program.weight);
  scale(program, program.live);
  fill_matrix(program);
  return program;
}

void put_live(const Assembly& assembly, const LoadCase& load, Program& program) {
  program.live = live_rows(assembly, load, program);
  scale(program, program.live);
}

Forces forces_of(const Program& program, const VectorX& x, double load_factor) {
  Forces forces;
  forces.load_factor = load_factor;
  Eigen::Index column = 0;
  for (const Contact& c : program.contacts) {
    Vec3 f = Vec3::Zero();
    for (int ray = 0; ray < program.rays; ++ray, ++column) {
      f += x[column] * program.force_unit * generator(program, c, ray);
    }
    if (c.prop >= 0) {
      forces.props.push_back({c.prop, f});
    } else {
      forces.contacts.push_back({c.joint, c.point, f});
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
