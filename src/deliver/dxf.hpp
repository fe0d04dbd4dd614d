#pragma once
// Drawings for cutting machines: DXF of release 12 (AC1009), ASCII, millimetres, y up. Old, and
// read by every machine. It has no unit of its own: $INSUNITS is written for newer readers, and a
// note should say it to people.

#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback::deliver {

struct DxfLayer {
  std::string name;  // capitals, digits, '_'
  int colour =
      7;  // index into the palette of the format: 1 red, 3 green, 5 blue, 7 black or white, 8 grey
};
struct DxfLine {  // a POLYLINE
  int layer = 0;  // index
  std::vector<Vec2> points;
  bool is_closed = false;
};
struct DxfWords {  // a TEXT
  int layer = 0;
  Vec2 at = Vec2::Zero();  // on the base line: its middle, or its start
  double height_mm = 5;    // of capitals
  double turn_rad = 0;     // counter-clockwise
  bool is_centred = true;
  std::string text;  // what is not ASCII is written '?'
};
struct DxfDrawing {
  std::vector<DxfLayer> layers;
  std::vector<DxfLine> lines;
  std::vector<DxfWords> words;
};

/// The file's text; the same every time. Coordinates to a tenth of a micrometre.
[[nodiscard]] std::string dxf(const DxfDrawing& drawing);

}  // namespace skewback::deliver
