// SVG 1.1 shapes: path, polygon, polyline, line, rect, circle. An element's own id names it, else
// that of the nearest group round it that names anything.

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstring>
#include <pugixml.hpp>

#include "brief/curves.hpp"
#include "brief/drawing.hpp"
#include "brief/svg_path.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr int kDeepest = 64;

// The largest singular value: root of the larger root of s^2 - tr(M) s + det(M), M = A'A.
double largest_stretch(const Eigen::Affine2d& a) {
  const Eigen::Matrix2d m = a.linear().transpose() * a.linear();
  const double half = m.trace() / 2;
  return std::sqrt(half + std::sqrt(std::max(0.0, half * half - m.determinant())));
}

class SvgReader {
 public:
  explicit SvgReader(const DrawingFile& file) : file_(file) {}

  Result<Drawing> read() {
    pugi::xml_document document;
    const pugi::xml_parse_result parsed =
        document.load_buffer(file_.text.data(), file_.text.size());
    if (!parsed)
      return file_.fault(line_at(parsed.offset), "", "text that is not XML", "an SVG file",
                         parsed.description());
    const pugi::xml_node root = document.child("svg");
    if (!root) return file_.fault(0, "", "XML without an svg element", "an SVG file", "");
    const Result<double> unit = metres(root);
    if (!unit) return unit.faults();
    metres_ = *unit;
    walk(root, Eigen::Affine2d::Identity(), "", 0);
    if (!faults_.empty()) return faults_;
    return drawing_;
  }

 private:
  [[nodiscard]] int line_at(std::ptrdiff_t offset) const {
    const auto end =
        file_.text.begin() + std::clamp<std::ptrdiff_t>(offset, 0, std::ssize(file_.text));
    return 1 + static_cast<int>(std::count(file_.text.begin(), end, '\n'));
  }

  void fault(const pugi::xml_node& node, const std::string& role, const std::string& found,
             const std::string& expected, const std::string& change) {
    faults_.push_back(
        file_.fault(line_at(node.offset_debug()), name(node, role), found, expected, change));
  }

  [[nodiscard]] static std::string name(const pugi::xml_node& node, const std::string& role) {
    return std::string(node.name()) + (role.empty() ? "" : " of " + printable(role));
  }

  [[nodiscard]] Result<double> metres(const pugi::xml_node& root) const {
    const auto box = svg_numbers(root.attribute("viewBox").value());
    const double width = svg_length_m(root.attribute("width").value()),
                 height = svg_length_m(root.attribute("height").value());
    const std::string stated = root.attribute("width").value();
    double unit = 0;
    if (width > 0 && box && box->size() == 4 && (*box)[2] > 0) unit = width / (*box)[2];
    if (unit > 0 && height > 0 && std::abs(height / (*box)[3] - unit) > 1e-3 * unit)
      return file_.fault(line_at(root.offset_debug()), "svg",
                         "a width and height that stretch the viewBox unevenly", "one scale",
                         "give width and height the proportions of the viewBox");
    const bool strange = !(width > 0) && !stated.empty() && std::isalpha(stated.back() & 0x7f);
    if (strange && !stated.ends_with("px") && file_.unit.empty())
      return file_.fault(line_at(root.offset_debug()), "width of svg",
                         "\"" + printable(stated) + "\", a unit that SVG does not have",
                         "mm, cm, in, pt or pc",
                         "write the width in one of them, or say file_unit = \"m\" in the brief "
                         "if the numbers of the drawing are metres");
    return settle_unit(file_, unit, "width and viewBox of svg");
  }

  void walk(const pugi::xml_node& node, const Eigen::Affine2d& outer,
            const std::string& role_around, int depth) {
    if (depth > kDeepest)
      return fault(node, role_around, "groups nested more than 64 deep", "a plain drawing",
                   "flatten the groups");
    for (const pugi::xml_node& child : node.children()) {
      if (child.type() != pugi::node_element || is_definition(child.name()) ||
          std::strcmp(child.attribute("display").value(), "none") == 0)
        continue;
      const std::string own = role_name(child.attribute("id").value());
      const std::string role = is_role(own) ? own : role_around;
      const auto transform = svg_transform(child.attribute("transform").value());
      if (!transform) {
        fault(child, role, in_quotes(child.attribute("transform").value()), "a transform",
              "mend it, or draw without it");
        continue;
      }
      const Eigen::Affine2d inner = outer * *transform;
      if (std::strcmp(child.name(), "g") == 0 || std::strcmp(child.name(), "a") == 0)
        walk(child, inner, role, depth + 1);
      else if (!role.empty())
        draw(child, inner, role);
    }
  }

  [[nodiscard]] static bool is_definition(const std::string& name) {
    for (const char* one : {"defs", "symbol", "clipPath", "mask", "pattern", "marker", "metadata",
                            "style", "title", "desc", "text"})
      if (name == one) return true;
    return false;
  }

  void draw(const pugi::xml_node& node, const Eigen::Affine2d& to_root, const std::string& role) {
    const double chord = kChord / (metres_ * std::max(largest_stretch(to_root), 1e-12));
    const auto parts = shapes(node, role, chord);
    for (const SvgPart& part : parts) {
      Drawn drawn{role, {}, part.closed, name(node, role), line_at(node.offset_debug())};
      for (const Vec2& p : part.line) {
        const Vec2 q = to_root * p;
        drawn.line.push_back(metres_ * Vec2(q.x(), -q.y()));
      }
      drawing_.push_back(std::move(drawn));
    }
  }

  std::vector<SvgPart> shapes(const pugi::xml_node& node, const std::string& role, double chord) {
    const std::string kind = node.name();
    const auto value = [&](const char* key) {
      double number = 0;
      const std::string text = node.attribute(key).value();
      if (!text.empty() && !read_number(text, number))
        fault(node, role, std::string(key) + " = " + in_quotes(text), "a plain number",
              "write it in the drawing's own units");
      return number;
    };
    if (kind == "path") {
      const auto parts = svg_path(node.attribute("d").value(), chord);
      if (parts) return *parts;
      fault(node, role, "path data that cannot be read", "path data (SVG 1.1, chapter 8)",
            "draw it again");
    } else if (kind == "polygon" || kind == "polyline") {
      const auto numbers = svg_numbers(node.attribute("points").value());
      if (numbers && numbers->size() >= 4 && numbers->size() % 2 == 0) {
        SvgPart part{{}, kind == "polygon"};
        for (std::size_t i = 0; i < numbers->size(); i += 2)
          part.line.emplace_back((*numbers)[i], (*numbers)[i + 1]);
        return {part};
      }
      fault(node, role, "points that are no list of pairs", "pairs of numbers", "mend them");
    } else if (kind == "line") {
      return {{{{value("x1"), value("y1")}, {value("x2"), value("y2")}}, false}};
    } else if (kind == "rect") {
      const Vec2 at(value("x"), value("y")), size(value("width"), value("height"));
      if (value("rx") == 0 && value("ry") == 0)
        return {{{at, at + Vec2(size.x(), 0), at + size, at + Vec2(0, size.y())}, true}};
      fault(node, role, "a rect with rounded corners", "square corners, or a path",
            "turn it into a path");
    } else if (kind == "circle") {
      const Vec2 centre(value("cx"), value("cy"));
      const double radius = value("r");
      if (radius > 0) return {{circle_corners(centre, radius, chord), true}};
      fault(node, role, "a circle without radius", "a radius over 0", "mend it");
    } else {
      fault(node, role, "an element " + in_quotes(kind),
            "path, polygon, polyline, line, rect or circle", "turn it into a path");
    }
    return {};
  }

  const DrawingFile& file_;
  double metres_ = 1;
  Drawing drawing_;
  Faults faults_;
};

}  // namespace

Result<Drawing> read_svg(const DrawingFile& file) { return SvgReader(file).read(); }

}  // namespace skewback
