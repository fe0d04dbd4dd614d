#include "cut/connected.hpp"

#include <map>
#include <numeric>

namespace skewback {

std::vector<Solid> connected(const Solid& solid) {
  const auto at = [](int i) { return static_cast<std::size_t>(i); };
  std::vector<int> root(solid.vertices.size());
  std::iota(root.begin(), root.end(), 0);
  const auto find = [&](int v) {
    while (root[at(v)] != v) v = root[at(v)] = root[at(root[at(v)])];
    return v;
  };
  for (const auto& face : solid.faces)
    for (std::size_t i = 1; i < face.size(); ++i) root[at(find(face[i]))] = find(face[0]);
  std::map<int, std::size_t> piece_of;  // by root
  std::vector<Solid> out;
  std::vector<int> number(solid.vertices.size(), -1);
  for (const auto& face : solid.faces) {
    const auto [it, fresh] = piece_of.try_emplace(find(face[0]), out.size());
    if (fresh) out.emplace_back();
    Solid& piece = out[it->second];
    piece.faces.emplace_back();
    for (int v : face) {
      if (number[at(v)] < 0) {
        number[at(v)] = static_cast<int>(piece.vertices.size());
        piece.vertices.push_back(solid.vertices[at(v)]);
      }
      piece.faces.back().push_back(number[at(v)]);
    }
  }
  return out;
}

}  // namespace skewback
