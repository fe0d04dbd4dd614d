// Loops cut open and linked: arcs are followed from link to link.
#include <algorithm>
#include <array>
#include <tuple>

#include "print/fill_lines.hpp"

namespace skewback::filling {
namespace {

struct Arc {
  int loop;
  double from, to;
  std::array<int, 2> link;  // at from, at to
  bool used = false;
};

/// Each joint has four ends of links: 4 joint + 2 (inner) + 1 (of its second loop). The other end
/// of a link differs in the last bit.
int link_end(const Joining& joint, const Cut& cut, int loop, bool low) {
  return 4 * cut.joint + (cut.outer_low == low ? 0 : 2) + (joint.a != loop ? 1 : 0);
}

std::vector<Arc> arcs_of(int loop, double length, std::vector<Cut> cuts,
                         const std::vector<Joining>& joints) {
  std::sort(cuts.begin(), cuts.end(), [](const Cut& x, const Cut& y) { return x.low < y.low; });
  std::vector<Arc> arcs;
  for (std::size_t k = 0; k < cuts.size(); ++k) {
    const Cut &here = cuts[k], &next = cuts[(k + 1) % cuts.size()];
    const double to = next.low + (k + 1 == cuts.size() ? length : 0);
    const auto joint = [&](const Cut& cut) { return joints[static_cast<std::size_t>(cut.joint)]; };
    arcs.push_back(
        {loop,
         here.high,
         std::max(to, here.high),
         {link_end(joint(here), here, loop, false), link_end(joint(next), next, loop, true)}});
  }
  return arcs;
}

Polygon points_of(const Arc& arc, const Line& line) {
  Polygon piece{line.at(arc.from)};
  for (int round = 0; round < 3; ++round) {  // an arc may run on over the loop's first point
    for (std::size_t k = 0; k < line.points.size(); ++k) {
      const double s = line.start[k] + round * line.length;
      if (s > arc.from + 1e-7 && s < arc.to - 1e-7) piece.push_back(line.points[k]);
    }
  }
  if (arc.to > arc.from + 1e-7) piece.push_back(line.at(arc.to));
  return piece;
}

}  // namespace

Cut cut_of(const Line& line, double outer, double inner, int joint) {
  const double low = std::min(outer, inner), high = std::max(outer, inner);
  const double start = line.wrap(low);
  return {start, start + high - low, joint, outer <= inner};
}

std::vector<Polygon> trace(const std::vector<Line>& lines,
                           const std::vector<std::vector<Cut>>& cuts,
                           const std::vector<Joining>& joints) {
  std::vector<Arc> arcs;
  std::vector<Polygon> out;
  for (std::size_t l = 0; l < lines.size(); ++l) {
    if (cuts[l].empty()) out.push_back(lines[l].points);
    for (Arc& arc : arcs_of(static_cast<int>(l), lines[l].length, cuts[l], joints)) {
      arcs.push_back(arc);
    }
  }
  std::vector<std::pair<std::size_t, int>> at(4 * joints.size());  // link's end to an arc's end
  for (std::size_t i = 0; i < arcs.size(); ++i) {
    at[static_cast<std::size_t>(arcs[i].link[0])] = {i, 0};
    at[static_cast<std::size_t>(arcs[i].link[1])] = {i, 1};
  }
  for (std::size_t first = 0; first < arcs.size(); ++first) {
    Polygon path;
    std::size_t i = first;
    int entry = 0;
    while (!arcs[i].used) {
      arcs[i].used = true;
      Polygon piece = points_of(arcs[i], lines[static_cast<std::size_t>(arcs[i].loop)]);
      if (entry == 1) std::reverse(piece.begin(), piece.end());
      path.insert(path.end(), piece.begin(), piece.end());
      const int leaving = arcs[i].link[static_cast<std::size_t>(1 - entry)];
      std::tie(i, entry) = at[static_cast<std::size_t>(leaving ^ 1)];
    }
    if (!path.empty()) out.push_back(std::move(path));
  }
  for (Polygon& path : out) {
    if (area(path) < 0) std::reverse(path.begin(), path.end());
  }
  return out;
}

}  // namespace skewback::filling
