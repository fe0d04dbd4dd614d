// DXF: pairs of lines, a group code and a value (the format's published reference, group codes in
// numerical order). Entities in model space only; those on layers without a role are passed over.

#include <cmath>
#include <map>
#include <optional>

#include "base/constants.hpp"
#include "brief/curves.hpp"
#include "brief/drawing.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

struct Group {
  int code = 0, line = 0;  // of the value
  std::string value;
};

struct Entity {
  std::string kind, layer;
  int line = 0;
  std::vector<Group> groups;
  [[nodiscard]] std::string name() const { return kind + " on layer " + printable(layer); }
};

class DxfReader {
 public:
  explicit DxfReader(const DrawingFile& file) : file_(file) {}

  Result<Drawing> read() {
    if (file_.text.find("Binary DXF") < 24)
      return file_.fault(0, "", "a binary DXF file", "an ASCII one", "save it as ASCII DXF");
    if (!read_groups() || !read_sections()) return faults_;
    if (!metres_) {
      const Result<double> unit = settle_unit(file_, 0, "$INSUNITS");
      if (!unit) return unit.faults();
      metres_ = *unit;
    }
    for (std::size_t i = 0; i < entities_.size();) i += draw(i);
    if (!faults_.empty()) return faults_;
    return drawing_;
  }

 private:
  bool fault(int line, const std::string& element, const std::string& found,
             const std::string& expected, const std::string& change) {
    faults_.push_back(file_.fault(line, element, found, expected, change));
    return false;
  }

  bool read_groups() {
    std::size_t at = 0;
    int line = 0;
    const auto next = [&](std::string& out) {
      if (at >= file_.text.size()) return false;
      const std::size_t end = std::min(file_.text.find('\n', at), file_.text.size());
      out = trimmed(std::string_view(file_.text).substr(at, end - at));
      at = end + 1;
      ++line;
      return true;
    };
    std::string code, value;
    while (next(code)) {
      double number = 0;
      if (code.empty() && at >= file_.text.size()) break;
      if (!read_number(code, number) || number != std::floor(number) || std::abs(number) > 1e5)
        return fault(line, "", in_quotes(code), "a group code, a whole number",
                     "save the drawing again as ASCII DXF");
      if (!next(value))
        return fault(line, "", "the end of the file after a group code", "its value",
                     "the file is cut short: copy it again");
      if (number != 999) groups_.push_back({static_cast<int>(number), line, value});
      if (number == 0 && value == "EOF") break;
    }
    if (groups_.empty() || groups_.back().value != "EOF")
      return fault(line, "", "a file that ends without EOF", "a whole DXF file",
                   "the file is cut short: copy it again");
    return true;
  }

  bool read_sections() {
    std::string section;
    for (std::size_t i = 0; i < groups_.size(); ++i) {
      const Group& g = groups_[i];
      if (g.code == 0 && g.value == "SECTION" && i + 1 < groups_.size())
        section = groups_[i + 1].value;
      else if (g.code == 0 && g.value == "ENDSEC")
        section.clear();
      else if (section == "HEADER" && g.code == 9 && g.value == "$INSUNITS" &&
               i + 1 < groups_.size()) {
        if (!read_unit(groups_[i + 1])) return false;
      } else if (section == "ENTITIES") {
        if (g.code == 0)
          entities_.push_back({g.value, "0", g.line, {}});
        else if (!entities_.empty()) {
          if (g.code == 8) entities_.back().layer = g.value;
          entities_.back().groups.push_back(g);
        }
      }
    }
    return true;
  }

  bool read_unit(const Group& g) {
    static const std::map<std::string, double> units = {
        {"1", 0.0254}, {"2", 0.3048},  {"4", 1e-3}, {"5", 1e-2},
        {"6", 1},      {"10", 0.9144}, {"14", 0.1}};
    if (g.value == "0") return true;  // no unit
    const auto it = units.find(g.value);
    if (it == units.end())
      return fault(g.line, "$INSUNITS", in_quotes(g.value),
                   "1 (inches), 2 (feet), 4 (mm), 5 (cm), 6 (m), 10 (yards) or 14 (dm)",
                   "set the drawing's unit to one of these");
    const Result<double> unit = settle_unit(file_, it->second, "$INSUNITS");
    if (!unit) {
      faults_ = unit.faults();
      return false;
    }
    metres_ = *unit;
    return true;
  }

  // Draws the entity at `i`; how many entities it took.
  std::size_t draw(std::size_t i) {
    const Entity& e = entities_[i];
    std::size_t taken = 1;
    if (e.kind == "POLYLINE") {
      while (i + taken < entities_.size() && entities_[i + taken].kind == "VERTEX") ++taken;
      if (i + taken < entities_.size() && entities_[i + taken].kind == "SEQEND") ++taken;
    }
    if (!is_role(role_name(e.layer)) || text(e, 67) == "1") return taken;
    const std::optional<double> mirror = facing(e);
    if (!mirror) return taken;
    if (e.kind == "LINE")
      draw_line(e);
    else if (e.kind == "POINT")
      add(e, {{number(e, 10), number(e, 20)}}, false);
    else if (e.kind == "LWPOLYLINE")
      draw_light_polyline(e, *mirror);
    else if (e.kind == "POLYLINE")
      draw_polyline(i, taken, *mirror);
    else if (e.kind == "CIRCLE" || e.kind == "ARC")
      draw_round(e, *mirror);
    else if (e.kind != "TEXT" && e.kind != "MTEXT" && e.kind != "DIMENSION" && e.kind != "HATCH" &&
             e.kind != "VERTEX" && e.kind != "SEQEND")
      fault(e.line, e.name(), "a " + printable(e.kind),
            "LINE, LWPOLYLINE, POLYLINE, ARC, CIRCLE or POINT",
            e.kind == "INSERT" ? "explode the block" : "turn it into a polyline");
    return taken;
  }

  [[nodiscard]] static const std::string* find(const Entity& e, int code) {
    for (const Group& g : e.groups)
      if (g.code == code) return &g.value;
    return nullptr;
  }
  [[nodiscard]] static std::string text(const Entity& e, int code) {
    const std::string* value = find(e, code);
    return value == nullptr ? "" : *value;
  }

  double read(const Group& g, const Entity& e) {
    double value = 0;
    if (!read_number(g.value, value))
      fault(g.line, e.name(), in_quotes(g.value), "a finite number", "mend that value");
    return value;
  }

  double number(const Entity& e, int code, std::optional<double> otherwise = std::nullopt) {
    for (const Group& g : e.groups)
      if (g.code == code) return read(g, e);
    if (otherwise) return *otherwise;
    fault(e.line, e.name(), "no group " + std::to_string(code), "its value",
          "save the drawing again");
    return 0;
  }

  // Seen from above, 1; drawn in a plane turned upside down, -1 (x is mirrored).
  std::optional<double> facing(const Entity& e) {
    const double x = number(e, 210, 0), y = number(e, 220, 0), z = number(e, 230, 1);
    const bool flat = std::abs(x) < 1e-9 && std::abs(y) < 1e-9 && std::abs(std::abs(z) - 1) < 1e-9;
    if (e.kind == "LINE" || e.kind == "POINT" || flat) return z < 0 ? -1 : 1;
    fault(e.line, e.name(), "a plane that is not level", "a drawing in the plane of x and y",
          "draw it flat");
    return std::nullopt;
  }

  void add(const Entity& e, std::vector<Vec2> line, bool closed) {
    for (Vec2& p : line) p *= metres_.value();
    drawing_.push_back({role_name(e.layer), std::move(line), closed, e.name(), e.line});
  }

  void draw_line(const Entity& e) {
    const Vec2 a(number(e, 10), number(e, 20)), b(number(e, 11), number(e, 21));
    add(e, {a, b}, false);
  }

  void draw_round(const Entity& e, double mirror) {
    const Vec2 centre(mirror * number(e, 10), number(e, 20));
    const double radius = number(e, 40), chord = kChord / metres_.value();
    if (!(radius > 0)) {
      fault(e.line, e.name(), "a radius of " + text(e, 40), "a radius over 0", "mend it");
      return;
    }
    if (e.kind == "CIRCLE") return add(e, circle_corners(centre, radius, chord), true);
    double from = number(e, 50) * kPi / 180, sweep = number(e, 51) * kPi / 180 - from;
    while (sweep <= 1e-12) sweep += 2 * kPi;
    while (sweep > 2 * kPi + 1e-12) sweep -= 2 * kPi;
    if (mirror < 0) from = kPi - from, sweep = -sweep;
    std::vector<Vec2> line{centre + radius * Vec2(std::cos(from), std::sin(from))};
    append_arc(line, centre, radius, from, sweep, chord);
    add(e, std::move(line), false);
  }

  struct Corner {
    Vec2 at = Vec2::Zero();
    double bulge = 0;  // tangent of a quarter of the angle of the arc to the next; ccw positive
  };

  void draw_light_polyline(const Entity& e, double mirror) {
    std::vector<Corner> corners;
    for (const Group& g : e.groups) {
      if (g.code == 10) corners.push_back({{mirror * read(g, e), 0}, 0});
      if (corners.empty()) continue;
      if (g.code == 20) corners.back().at.y() = read(g, e);
      if (g.code == 42) corners.back().bulge = mirror * read(g, e);
    }
    draw_corners(e, corners);
  }

  void draw_polyline(std::size_t i, std::size_t taken, double mirror) {
    std::vector<Corner> corners;
    const Entity& e = entities_[i];
    const int flags = static_cast<int>(number(e, 70, 0));
    if ((flags & 0x56) != 0) {  // curve-fitted, splined, mesh
      fault(e.line, e.name(), "a fitted curve or a mesh", "a plain polyline",
            "turn it into a plain polyline");
      return;
    }
    for (std::size_t k = i + 1; k < i + taken; ++k) {
      const Entity& v = entities_[k];
      if (v.kind != "VERTEX") continue;
      corners.push_back({{mirror * number(v, 10), number(v, 20)}, mirror * number(v, 42, 0)});
    }
    draw_corners(e, corners);
  }

  void draw_corners(const Entity& e, const std::vector<Corner>& corners) {
    const bool closed = (static_cast<int>(number(e, 70, 0)) & 1) != 0;
    if (corners.size() < 2) {
      fault(e.line, e.name(), std::to_string(corners.size()) + " corners", "two or more",
            "take it out");
      return;
    }
    std::vector<Vec2> line{corners.front().at};
    for (std::size_t k = 0; k + (closed ? 0 : 1) < corners.size(); ++k) {
      const Vec2 &a = corners[k].at, &b = corners[(k + 1) % corners.size()].at;
      const double bulge = corners[k].bulge;
      if (std::abs(bulge) > 1e-9 && (b - a).norm() > 0) {
        const Vec2 along = b - a, left(-along.y(), along.x());
        const Vec2 centre = (a + b) / 2 + (1 - bulge * bulge) / (4 * bulge) * left;
        const Vec2 out = a - centre;
        append_arc(line, centre, out.norm(), std::atan2(out.y(), out.x()), 4 * std::atan(bulge),
                   kChord / metres_.value());
        line.back() = b;
      } else {
        line.push_back(b);
      }
    }
    if (closed) line.pop_back();
    add(e, std::move(line), closed);
  }

  const DrawingFile& file_;
  std::vector<Group> groups_;
  std::vector<Entity> entities_;
  std::optional<double> metres_;
  Drawing drawing_;
  Faults faults_;
};

}  // namespace

Result<Drawing> read_dxf(const DrawingFile& file) { return DxfReader(file).read(); }

}  // namespace skewback
