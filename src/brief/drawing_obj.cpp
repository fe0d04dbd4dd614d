// A plan as a flat mesh: the rims of its faces are the outline and the openings; lines and points
// in groups are the rest.

#include <algorithm>
#include <cmath>
#include <map>

#include "brief/obj_file.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr double kFlat = 1e-3;  // m: heights may differ by no more

using Place = std::pair<double, double>;
Place place(const Vec3& v) { return {v.x(), v.y()}; }

class FlatMesh {
 public:
  FlatMesh(const DrawingFile& file, const ObjFile& obj, double metres)
      : file_(file), obj_(obj), metres_(metres) {}

  Result<Drawing> read() {
    if (const auto fault = uneven()) return *fault;
    for (const ObjItem& item : obj_.items) {
      const std::string role = role_name(item.group);
      if (item.kind == 'f' || !is_role(role)) continue;
      Drawn drawn{role, {}, false, "group " + printable(item.group), item.line};
      for (const std::size_t i : item.corners) drawn.line.push_back(flat(obj_.vertices[i]));
      if (item.kind == 'l' && drawn.line.size() > 2 && drawn.line.front() == drawn.line.back()) {
        drawn.line.pop_back();
        drawn.closed = true;
      }
      drawing_.push_back(std::move(drawn));
    }
    if (const auto fault = rims()) return *fault;
    return drawing_;
  }

 private:
  [[nodiscard]] Vec2 flat(const Vec3& v) const { return metres_ * v.head<2>(); }

  [[nodiscard]] std::optional<Fault> uneven() const {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (const Vec3& v : obj_.vertices) low = std::min(low, v.z()), high = std::max(high, v.z());
    if (metres_ * (high - low) <= kFlat) return std::nullopt;
    return file_.fault(0, "vertices", "heights that differ by " + metres(metres_ * (high - low)),
                       "a flat mesh", "draw the plan at one height");
  }

  // Faces of a group that is called outline; or, without one, of those that have no role.
  [[nodiscard]] std::vector<const ObjItem*> plan_faces() const {
    std::vector<const ObjItem*> named, others;
    for (const ObjItem& item : obj_.items) {
      if (item.kind != 'f') continue;
      const std::string role = role_name(item.group);
      if (role == "outline")
        named.push_back(&item);
      else if (!is_role(role))
        others.push_back(&item);
    }
    return named.empty() ? others : named;
  }

  // Edges that one face has alone, walked into closed rims.
  std::optional<Fault> rims() {
    const auto faces = plan_faces();
    if (faces.empty()) return std::nullopt;
    std::map<std::pair<Place, Place>, int> uses;
    for (const ObjItem* face : faces)
      for (std::size_t k = 0; k < face->corners.size(); ++k) {
        const Place a = place(obj_.vertices[face->corners[k]]),
                    b = place(obj_.vertices[face->corners[(k + 1) % face->corners.size()]]);
        if (a != b && ++uses[std::minmax(a, b)] > 2)
          return file_.fault(face->line, "faces of the outline",
                             "three faces on one edge, at " + at(a), "two faces at most",
                             "take the doubled face out");
      }
    std::map<Place, std::vector<Place>> next;
    for (const auto& [edge, count] : uses) {
      if (count != 1) continue;
      next[edge.first].push_back(edge.second);
      next[edge.second].push_back(edge.first);
    }
    for (const auto& [from, to] : next)
      if (to.size() != 2)
        return file_.fault(faces.front()->line, "faces of the outline",
                           "rims that touch at " + at(from), "rims apart from each other",
                           "weld or part the faces there");
    std::vector<Drawn> loops;
    while (!next.empty()) {
      Drawn loop{"opening", {}, true, "rim of the faces", faces.front()->line};
      Place here = next.begin()->first, before = next.begin()->second[1];
      while (next.contains(here)) {
        loop.line.push_back(metres_ * Vec2(here.first, here.second));
        const auto ends = next[here];
        next.erase(here);
        const Place onward = ends[0] == before ? ends[1] : ends[0];
        before = here;
        here = onward;
      }
      loops.push_back(std::move(loop));
    }
    const auto widest =
        std::max_element(loops.begin(), loops.end(), [](const Drawn& a, const Drawn& b) {
          return std::abs(area(a.line)) < std::abs(area(b.line));
        });
    if (widest != loops.end()) widest->role = "outline";
    drawing_.insert(drawing_.end(), loops.begin(), loops.end());
    return std::nullopt;
  }

  [[nodiscard]] std::string at(const Place& p) const {
    return place_text(metres_ * Vec2(p.first, p.second));
  }
  [[nodiscard]] static std::string metres(double m) { return skewback::metres(m); }

  const DrawingFile& file_;
  const ObjFile& obj_;
  double metres_;
  Drawing drawing_;
};

}  // namespace

Result<Drawing> read_flat_obj(const DrawingFile& file) {
  const Result<ObjFile> obj = read_obj(file);
  if (!obj) return obj.faults();
  const Result<double> unit = settle_unit(file, 0, "coordinates");
  if (!unit) return unit.faults();
  return FlatMesh(file, *obj, *unit).read();
}

}  // namespace skewback
