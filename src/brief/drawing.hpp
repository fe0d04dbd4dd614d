#pragma once
// Drawings: files that hold a plan (DXF, GeoJSON, SVG, OBJ) or a surface (OBJ, PLY, STL). They are
// read for lines with names on them; what the names mean is settled in plan_file.cpp.

#include <filesystem>
#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct Drawn {
  std::string role;        // name of the layer, group or element, as role_name makes it
  std::vector<Vec2> line;  // m, x east, y north, curves sampled to kChord; one point: a point
  bool closed = false;     // then the first is not repeated
  std::string element;     // "LINE on layer support-west"
  int line_number = 0;     // in the file; 0: not known
};
using Drawing = std::vector<Drawn>;

/// The file on its way in, and what its readers need beside its text.
struct DrawingFile {
  std::string file;  // for messages
  std::string text;
  std::string unit;  // of the brief: "mm", "cm", "m", "in", "ft"; empty: none given
  [[nodiscard]] Fault fault(int line, const std::string& element, const std::string& found,
                            const std::string& expected, const std::string& change) const;
};

[[nodiscard]] std::string ending(const std::filesystem::path& file);  // ".dxf", lower case
/// Faults: no such file, no ordinary file, more than 64 MB.
[[nodiscard]] Result<DrawingFile> read_file(const std::filesystem::path& file,
                                            const std::string& unit);

/// By the ending of its name: .dxf, .geojson, .json, .svg, .obj. Faults name file, line or element,
/// layer, found and expected.
[[nodiscard]] Result<Drawing> read_drawing(const std::filesystem::path& file,
                                           const std::string& unit);

[[nodiscard]] Result<Drawing> read_dxf(const DrawingFile& file);      // ASCII, R12 to 2013
[[nodiscard]] Result<Drawing> read_geojson(const DrawingFile& file);  // RFC 7946, but in metres
[[nodiscard]] Result<Drawing> read_svg(const DrawingFile& file);      // y is turned up
[[nodiscard]] Result<Drawing> read_flat_obj(const DrawingFile& file);

/// Faces fanned into triangles; .obj, .ply or .stl, heights along z. In metres.
[[nodiscard]] Result<TriangleMesh3> read_surface(const std::filesystem::path& file,
                                                 const std::string& unit);

/// Lower case, '-' for '_' and blanks: "Support_West" is "support-west".
[[nodiscard]] std::string role_name(const std::string& layer);
/// "outline", "support-NAME", "opening...", "meeting", "walk..."
[[nodiscard]] bool is_role(const std::string& name);

/// Metres in one of these units; 0: not one of them.
[[nodiscard]] double unit_in_metres(const std::string& unit);
/// The unit to go by: of the file if it has one, else of the brief. A fault if both are there and
/// differ, or neither. `of_file` is 0 where the file has none.
[[nodiscard]] Result<double> settle_unit(const DrawingFile& file, double of_file,
                                         const std::string& where);

/// All of `text` as one finite number, whatever the locale.
[[nodiscard]] bool read_number(std::string_view text, double& out);

}  // namespace skewback
