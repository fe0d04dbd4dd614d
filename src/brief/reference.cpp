#include <cmath>
#include <sstream>

#include "brief/text.hpp"
#include "brief/values.hpp"

namespace skewback {
namespace {

const char* const kPreface = R"(# The brief

Made by `skewback --keys` from the table that the reader itself uses; do not edit by hand.

A brief is a text file in TOML (UTF-8). Every quantity is a string with its unit: `"5 kPa"`, `"2.6 m"`,
`"8 ft"`, `"0.9 kN/m"`, `"2250 kg/m3"`. Any unit that UDUNITS-2 knows will do, if its dimension is right;
capitals matter (kN, MPa, mm). A bare number is an error wherever a unit is needed, and only there.
Points are pairs of lengths, x to the east and y to the north: `["1.2 m", "0.5 m"]`. Heights are over the
same level as the supports' `level`. In messages, items of a list count from 1: `plan.outline[3]`.

`skewback check BRIEF` reports every fault at once. Nothing is written while there is one.

## Plans from files

`plan.file` names a drawing. What is on a layer (DXF), has a property `role`, `layer` or `name` (GeoJSON), an id of its
own or of a group round it (SVG), or is in a group (OBJ) called one of these is taken; the rest is passed over. Capitals
do not matter; `_` and blanks count as `-`.

| name | what |
|---|---|
| `outline` | one closed line, or pieces whose ends meet within 1 mm; of a line drawn twice one counts, here and below |
| `support-NAME` | a springing line, both ends on the outline; NAME is the support's id, in small letters; one of more than two points is taken as `between`, a point as `at` |
| `opening...` | closed lines |
| `meeting` | a point, or a circle about it; two where arms meet at both ends of a spine |
| `walk...` | walking lines |

DXF: ASCII, R12 to 2013; LINE, LWPOLYLINE, POLYLINE, ARC, CIRCLE, POINT; unit from `$INSUNITS`. GeoJSON: RFC 7946, but
with coordinates in lengths, which `file_unit` has to say. SVG 1.1: path, polygon, polyline, line, rect, circle,
transforms; unit from width and viewBox; y points down there and is turned up, x stays. OBJ: a flat mesh, whose rim is the
outline and whose holes are openings; lines and points for the rest. Curves become chords no farther than 5 mm from them.
)";

const char* kind_name(const Key& key) {
  switch (key.kind) {
    case Kind::kQuantity:
      return "quantity";
    case Kind::kNumber:
      return "number";
    case Kind::kInteger:
      return "whole number";
    case Kind::kFlag:
      return "true or false";
    case Kind::kText:
      return "text";
    case Kind::kName:
      return "name";
    case Kind::kNames:
      return "list of names";
    case Kind::kQuantities:
      return "list of quantities";
    case Kind::kChoice:
      return "choice";
    case Kind::kPoint:
      return "point";
    case Kind::kPointOrTwo:
      return "point, or list of two";
    case Kind::kPoint3:
      return key.unit == "s" ? "three times" : "point with height";
    case Kind::kPoints:
      return "list of points";
    case Kind::kPoints3:
      return "list of points with heights";
    case Kind::kLines:
      return "list of lists of points";
    case Kind::kLines3:
      return "list of lists of points with heights";
  }
  return "";
}

std::string what(const Key& key) {
  if (key.kind == Kind::kQuantity) {
    const std::string name = dimension_name(key.unit);
    return name.substr(name.find(' ') + 1);
  }
  std::string text = kind_name(key);
  for (std::size_t i = 0; i < key.choices.size(); ++i)
    text += (i == 0 ? ": `\"" : ", `\"") + key.choices[i] + "\"`";
  return text;
}

// What a brief that leaves the key out gets: read from the same structs that the reader fills.
std::string default_text(const Key& key, const Units& units) {
  if (key.required) return "required";
  if (!key.instead.empty()) return "required, or " + key.instead;
  Draft blank;
  if (const Heading* list = find_heading(section_of(key.path)); list->resize != nullptr)
    list->resize(blank, 1);
  const Slot slot = key.slot(blank, 0);
  if (const auto* real = std::get_if<double*>(&slot))
    return key.range.holds(**real) ? value_text(**real, key, units) : "none";
  if (const auto* whole = std::get_if<int*>(&slot))
    return key.range.holds(**whole) ? std::to_string(**whole) : "none";
  if (const auto* flag = std::get_if<bool*>(&slot)) return **flag ? "true" : "false";
  if (const auto* times = std::get_if<Vec3*>(&slot); times != nullptr && key.unit == "s") {
    const bool days = (*times)->x() >= 86400;
    const Vec3 shown = **times / (days ? 86400.0 : 60.0);
    return number(shown.x()) + ", " + number(shown.y()) + " and " + number(shown.z()) +
           (days ? " days" : " min");
  }
  if (const auto* text = std::get_if<std::string*>(&slot))
    return (*text)->empty() ? "none" : "`\"" + **text + "\"`";
  if (const auto* names = std::get_if<std::vector<std::string>*>(&slot)) {
    std::string list;
    for (const std::string& name : **names) list += (list.empty() ? "`[\"" : ", \"") + name + "\"";
    return list.empty() ? "none" : list + "]`";
  }
  return "none";
}

}  // namespace

std::string brief_reference() {
  const Units units;
  std::ostringstream out;
  out << kPreface;
  for (const Heading& section : headings()) {
    const bool list = section.path.ends_with("[]");
    const std::string name = list ? section.path.substr(0, section.path.size() - 2) : section.path;
    out << "\n## " << (list ? "[[" + name + "]]" : "[" + name + "]") << "\n\n"
        << section.meaning << (section.required ? " Required." : "") << "\n\n"
        << "| key | what | default | range | meaning | example |\n|---|---|---|---|---|---|\n";
    for (const Key& key : keys()) {
      if (section_of(key.path) != section.path) continue;
      const bool place = key.kind != Kind::kQuantity && key.unit == "m" &&
                         !(std::isfinite(key.range.high) && key.range.high != kFar);
      out << "| `" << leaf_of(key.path) << "` | " << what(key) << " | " << default_text(key, units)
          << " | " << (place ? "within 10 km" : range_text(key, units)) << " | " << key.meaning
          << " | `" << key.example << "` |\n";
    }
  }
  return out.str();
}

}  // namespace skewback
