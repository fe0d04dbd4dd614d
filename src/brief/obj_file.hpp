#pragma once
// OBJ text: vertices, faces, lines and points with the groups they are in.

#include <string>
#include <vector>

#include "brief/drawing.hpp"

namespace skewback {

struct ObjItem {
  char kind = 'f';    // 'f', 'l' or 'p'
  std::string group;  // of the last `g` or `o`, as written
  std::vector<std::size_t> corners;
  int line = 0;
};
struct ObjFile {
  std::vector<Vec3> vertices;  // in the file's unit
  std::vector<ObjItem> items;
};

/// Faults: numbers that are none, corners that do not exist, faces of fewer than three.
[[nodiscard]] Result<ObjFile> read_obj(const DrawingFile& file);

}  // namespace skewback
