#include "verify/contacts.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <set>

#include "verify/overlap.hpp"

namespace skewback::audit {
namespace {

constexpr double kOnePlane = 1e-5;      // m: faces this near a plane belong to it
constexpr double kOpposed = 1e-3;       // rad
constexpr double kPackedCosine = 0.99;  // of the askew faces of a packed joint

Vec3 twice_area(const Body& body, const std::vector<int>& face) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 2; i < face.size(); ++i) {
    const Vec3& p = body.vertices[face[0]];
    sum += (body.vertices[face[i - 1]] - p).cross(body.vertices[face[i]] - p);
  }
  return sum;
}

struct Flat {  // all faces of a body in one plane that look one way
  Vec3 point, normal;
  std::vector<int> faces;
};

bool in_plane(const Body& body, const std::vector<int>& face, const Vec3& point, const Vec3& normal,
              double reach) {
  return std::all_of(face.begin(), face.end(), [&](int i) {
    return std::abs(normal.dot(body.vertices[i] - point)) <= reach;
  });
}

bool near_box(const Body& body, const std::vector<int>& face, const Body& other, double gap) {
  Vec3 low = body.vertices[face[0]], high = low;
  for (int i : face) {
    low = low.cwiseMin(body.vertices[i]);
    high = high.cwiseMax(body.vertices[i]);
  }
  return (low.array() <= other.high.array() + gap).all() &&
         (other.low.array() <= high.array() + gap).all();
}

// Faces near the other body, by plane, each plane set by its largest face.
std::vector<Flat> flats_towards(const Body& body, const Body& other, double gap) {
  std::vector<std::pair<double, int>> by_size;
  for (std::size_t f = 0; f < body.faces.size(); ++f) {
    const double size = twice_area(body, body.faces[f]).norm();
    if (size > 0 && near_box(body, body.faces[f], other, gap)) by_size.emplace_back(-size, f);
  }
  std::sort(by_size.begin(), by_size.end());
  std::vector<Flat> flats;
  std::vector<Vec3> sums;
  for (const auto& [size, f] : by_size) {
    const Vec3 area = twice_area(body, body.faces[f]);
    std::size_t k = 0;
    while (k < flats.size() &&
           !(area.dot(flats[k].normal) > 0.99 * -size &&
             in_plane(body, body.faces[f], flats[k].point, flats[k].normal, kOnePlane))) {
      ++k;
    }
    if (k == flats.size()) {
      flats.push_back({body.vertices[body.faces[f][0]], area.normalized(), {}});
      sums.push_back(Vec3::Zero());
    }
    flats[k].faces.push_back(f);
    sums[k] += area;
  }
  for (std::size_t k = 0; k < flats.size(); ++k) flats[k].normal = sums[k].normalized();
  return flats;
}

// Edges that two faces of the flat share are inside it and dropped.
Patch patch_of(const Body& body, const std::vector<int>& faces, const Contact& frame) {
  std::multiset<std::pair<int, int>> edges;
  for (int f : faces) {
    const auto& face = body.faces[f];
    for (std::size_t i = 0; i < face.size(); ++i) {
      const int from = face[i], to = face[(i + 1) % face.size()];
      const auto twin = edges.find({to, from});
      if (twin != edges.end()) {
        edges.erase(twin);
      } else {
        edges.emplace(from, to);
      }
    }
  }
  const auto flat = [&](int i) {
    const Vec3 d = body.vertices[i] - frame.origin;
    return Vec2(d.dot(frame.x), d.dot(frame.y));
  };
  Patch patch;
  for (const auto& [from, to] : edges) patch.push_back({flat(from), flat(to)});
  return patch;
}

void set_plane(Contact& contact, const Vec3& origin, const Vec3& normal) {
  contact.origin = origin;
  contact.normal = normal;
  contact.x = normal.unitOrthogonal();
  contact.y = normal.cross(contact.x);
}

Vec3 middle_of(const Contact& contact) {
  Vec2 sum = Vec2::Zero();
  for (const Vec2& p : contact.hull) sum += p;
  return contact.world(sum / static_cast<double>(contact.hull.size()));
}

bool joins(const ListedJoint& joint, int a, int b) {
  return (joint.a == a && joint.b == b) || (joint.a == b && joint.b == a);
}

bool lies_on(const ListedJoint& joint, const Vec3& point, const Vec3& normal, double reach) {
  return std::abs(joint.normal.dot(normal)) > kPackedCosine &&
         std::abs(joint.normal.dot(point - joint.point)) <= reach;
}

// The stand-off that the file allows here and the frictions that go with it; false: not a contact.
bool set_friction(const Model& model, const Vec3& at, double gap, Contact& contact) {
  bool listed = false;
  double low = 1e300, high = 0, all_low = 1e300, all_high = 0;
  for (const ListedJoint& joint : model.joints) {
    all_low = std::min(all_low, joint.friction);
    all_high = std::max(all_high, joint.friction);
    if (!joins(joint, contact.a, contact.b) || std::abs(gap - joint.pad) > model.tolerance)
      continue;
    if (!lies_on(joint, at, contact.normal, joint.pad / 2 + model.tolerance)) continue;
    listed = true;
    low = std::min(low, joint.friction);
    high = std::max(high, joint.friction);
  }
  if (!listed) {  // not in the file: the file's friction, else anything that it uses elsewhere
    if (std::abs(gap) > model.tolerance) return false;
    const bool stated = model.friction.has_value() || model.joints.empty();
    low = stated ? model.friction.value_or(0.6) : all_low;
    high = stated ? model.friction.value_or(0.6) : all_high;
  }
  contact.friction_low = low;
  contact.friction_high = high;
  return true;
}

bool packed_here(const Model& model, const Contact& contact, const Vec3& at) {
  return std::any_of(model.joints.begin(), model.joints.end(), [&](const ListedJoint& joint) {
    return joint.gap_tolerance > 0 && joins(joint, contact.a, contact.b) &&
           lies_on(joint, at, contact.normal, joint.pad / 2 + joint.gap_tolerance);
  });
}

void add_parallel(const Model& model, int a, int b, double reach, std::vector<Contact>& all) {
  const Body &body_a = model.bodies[a], &body_b = model.bodies[b];
  const auto flats_a = flats_towards(body_a, body_b, reach);
  const auto flats_b = flats_towards(body_b, body_a, reach);
  for (const Flat& fa : flats_a) {
    for (const Flat& fb : flats_b) {
      if ((fa.normal + fb.normal).norm() > kOpposed) continue;
      const double lean = kOpposed * (body_a.radius() + body_b.radius()) * 2;
      if (std::abs(fa.normal.dot(fb.point - fa.point)) > reach + lean) continue;
      Contact contact;
      contact.a = a;
      contact.b = b;
      set_plane(contact, fa.point, (fa.normal - fb.normal).normalized());
      contact.hull =
          overlap_hull(patch_of(body_a, fa.faces, contact), patch_of(body_b, fb.faces, contact));
      if (contact.hull.empty()) continue;
      const Vec3 here = middle_of(contact);
      const double height_a = fa.normal.dot(fa.point - here) / fa.normal.dot(contact.normal);
      const double height_b = fb.normal.dot(fb.point - here) / fb.normal.dot(contact.normal);
      contact.origin += (height_a + height_b) / 2 * contact.normal;
      const Vec3 at = middle_of(contact);
      if (packed_here(model, contact, at)) continue;
      if (set_friction(model, at, height_b - height_a, contact)) all.push_back(std::move(contact));
    }
  }
}

std::vector<int> faces_along(const Body& body, const Vec3& point, const Vec3& normal,
                             double reach) {
  std::vector<int> faces;
  for (std::size_t f = 0; f < body.faces.size(); ++f) {
    const Vec3 area = twice_area(body, body.faces[f]);
    if (area.dot(normal) > kPackedCosine * area.norm() &&
        in_plane(body, body.faces[f], point, normal, reach)) {
      faces.push_back(static_cast<int>(f));
    }
  }
  return faces;
}

// Askew faces either side of the listed plane, with packers between them.
void add_packed(const Model& model, const ListedJoint& joint, std::vector<Contact>& all) {
  const double reach = joint.pad / 2 + joint.gap_tolerance;
  for (const Vec3& normal : {joint.normal, Vec3(-joint.normal)}) {
    Contact contact;
    contact.a = joint.a;
    contact.b = joint.b;
    set_plane(contact, joint.point, normal);
    const auto faces_a = faces_along(model.bodies[joint.a], joint.point, normal, reach);
    const auto faces_b = faces_along(model.bodies[joint.b], joint.point, -normal, reach);
    contact.hull = overlap_hull(patch_of(model.bodies[joint.a], faces_a, contact),
                                patch_of(model.bodies[joint.b], faces_b, contact));
    if (contact.hull.empty()) continue;
    contact.friction_low = contact.friction_high = joint.friction;
    all.push_back(std::move(contact));
  }
}

}  // namespace

double Contact::outside(const Vec3& p) const {
  const Vec2 q((p - origin).dot(x), (p - origin).dot(y));
  bool in = true;
  double nearest = 1e300;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec2 from = hull[i], along = hull[(i + 1) % hull.size()] - from, to = q - from;
    if (along.x() * to.y() - along.y() * to.x() < 0) in = false;
    const double t = std::clamp(to.dot(along) / along.squaredNorm(), 0.0, 1.0);
    nearest = std::min(nearest, (to - t * along).norm());
  }
  return in ? 0 : nearest;
}

std::vector<Contact> derive_contacts(const Model& model) {
  double reach = model.tolerance;
  for (const ListedJoint& joint : model.joints) {
    reach = std::max(reach, joint.pad + model.tolerance);
  }
  std::vector<Contact> all;
  const int count = static_cast<int>(model.bodies.size());
  for (int a = 0; a < count; ++a) {
    for (int b = a + 1; b < count; ++b) {
      const Body &p = model.bodies[a], &q = model.bodies[b];
      if (p.fixed && q.fixed) continue;
      if ((p.low.array() > q.high.array() + reach).any()) continue;
      if ((q.low.array() > p.high.array() + reach).any()) continue;
      add_parallel(model, a, b, reach, all);
    }
  }
  for (const ListedJoint& joint : model.joints) {
    if (joint.gap_tolerance > 0) add_packed(model, joint, all);
  }
  return all;
}

}  // namespace skewback::audit
