#include "brief/stl_file.hpp"

#include <bit>
#include <cmath>
#include <cstdint>
#include <map>
#include <sstream>
#include <tuple>

#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr std::size_t kHead = 84, kTriangle = 50;

std::uint32_t word(const std::string& text, std::size_t at) {
  std::uint32_t out = 0;
  for (std::size_t k = 0; k < 4; ++k)
    out |= static_cast<std::uint32_t>(static_cast<unsigned char>(text[at + k])) << (8 * k);
  return out;
}

class Corners {
 public:
  int of(const Vec3& p) {
    const auto [it, fresh] =
        index_.try_emplace({p.x(), p.y(), p.z()}, static_cast<int>(mesh.vertices.size()));
    if (fresh) mesh.vertices.push_back(p);
    return it->second;
  }
  TriangleMesh3 mesh;

 private:
  std::map<std::tuple<double, double, double>, int> index_;
};

Fault bad(const DrawingFile& file, int line, const std::string& found) {
  return file.fault(line, "", found, "STL, binary or text", "save the scan as STL or PLY again");
}

Result<TriangleMesh3> read_binary(const DrawingFile& file) {
  const std::size_t count = word(file.text, 80);
  Corners corners;
  for (std::size_t i = 0; i < count; ++i) {
    std::array<int, 3> triangle;
    for (std::size_t k = 0; k < 3; ++k) {
      Vec3 p;
      for (std::size_t c = 0; c < 3; ++c)
        p[static_cast<int>(c)] =
            std::bit_cast<float>(word(file.text, kHead + kTriangle * i + 12 + 12 * k + 4 * c));
      if (!p.allFinite())
        return bad(file, 0,
                   "triangle " + std::to_string(i + 1) + " with a corner that is no number");
      triangle[k] = corners.of(p);
    }
    corners.mesh.triangles.push_back(triangle);
  }
  return std::move(corners.mesh);
}

Result<TriangleMesh3> read_text(const DrawingFile& file) {
  std::istringstream in(file.text);
  Corners corners;
  std::array<int, 3> triangle{};
  std::size_t have = 0;
  int number = 0;
  for (std::string line; std::getline(in, line);) {
    ++number;
    std::istringstream words(line);
    std::string word, part;
    if (!(words >> word) || word != "vertex") continue;
    Vec3 p;
    for (int c = 0; c < 3; ++c)
      if (!(words >> part) || !read_number(part, p[c]))
        return bad(file, number, "a vertex that is not three numbers");
    triangle[have++] = corners.of(p);
    if (have < 3) continue;
    corners.mesh.triangles.push_back(triangle);
    have = 0;
  }
  if (have != 0) return bad(file, number, "a triangle that is cut short");
  return std::move(corners.mesh);
}

}  // namespace

Result<TriangleMesh3> read_stl(const DrawingFile& file) {
  const std::string& text = file.text;
  // a binary file may begin with "solid" too: its length tells
  const bool binary = text.size() >= kHead && text.size() == kHead + kTriangle * word(text, 80);
  if (!binary && !text.starts_with("solid"))
    return bad(file, 0,
               text.size() >= kHead ? "a length that does not go with its number of triangles"
                                    : "a file that cannot be read as one");
  Result<TriangleMesh3> mesh = binary ? read_binary(file) : read_text(file);
  if (mesh && mesh->triangles.empty()) return bad(file, 0, "no triangle");
  return mesh;
}

}  // namespace skewback
