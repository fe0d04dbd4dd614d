#include "strength/block_view.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

#include "base/parallel.hpp"

namespace skewback {
namespace {

constexpr int kPlanesAcross = 7;  // of a block without tubes
std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Bed {                                         // all joints on one side taken together
  Vec3 normal = Vec3::Zero(), point = Vec3::Zero();  // outward
  double area = 0;
  void add(const Joint& joint, bool on_a) {
    const double a = skewback::area(joint.contact);
    normal += (on_a ? a : -a) * joint.frame.z;
    point += a * joint.frame.origin;
    area += a;
  }
  [[nodiscard]] Plane plane() const { return {point / area, normal.normalized()}; }
};

enum class Side { kLow, kHigh, kHead };

Side side_of(const Block& block, const Block& other) {
  const BlockPlace &p = block.place, &q = other.place;
  if (other.fixed) return Side::kLow;
  if (p.course == q.course && (p.arm == q.arm || (p.crown && q.crown))) return Side::kHead;
  return lower(q, p) ? Side::kLow : Side::kHigh;
}

struct Beds {
  Plane low, high;
};

std::optional<Beds> beds_of(const Assembly& assembly, const BlockView& view) {
  const Block& block = assembly.blocks[at(view.block)];
  if (block.place.arm < 0) return std::nullopt;
  Bed low, high;
  for (const int j : view.joints) {
    const Joint& joint = assembly.joints[at(j)];
    const bool on_a = joint.a == view.block;
    const Side side = side_of(block, assembly.blocks[at(on_a ? joint.b : joint.a)]);
    if (side == Side::kLow) low.add(joint, on_a);
    if (side == Side::kHigh) high.add(joint, on_a);
  }
  if (low.area <= 0 || high.area <= 0) return std::nullopt;
  const Beds beds{low.plane(), high.plane()};
  if (beds.low.normal.dot(beds.high.normal) > -0.5) return std::nullopt;
  return beds;
}

double along_to(const Plane& plane, const Vec3& from, const Vec3& way) {
  return std::abs(plane.distance(from) / plane.normal.dot(way));
}

struct Wall {
  double thickness_m = 0;
  bool outer = false;
};
/// The wall beside a tube whose side is at x: `below` on its low side.
Wall wall(const std::vector<std::pair<double, double>>& pieces, double x, bool below) {
  Wall out;
  double nearest = std::numeric_limits<double>::max();
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const auto& [from, to] = pieces[i];
    const double gap = std::abs((below ? to : from) - x);
    if (gap >= nearest) continue;
    nearest = gap;
    out = {to - from, i == (below ? 0 : pieces.size() - 1)};
  }
  return out;
}

std::vector<Cell> cells_of(const BlockCut& middle, const Beds& beds) {
  constexpr int kSamples = 9;
  std::vector<Cell> cells;
  for (const Region& region : middle.section) {
    for (const Polygon& hole : region.holes) {
      const Box2 box = extents({{hole, {}}});
      Cell cell;
      cell.x0 = box.low.x();
      cell.x1 = box.high.x();
      cell.leaf_m = cell.height_m = std::numeric_limits<double>::max();
      double top = box.high.y();
      for (int i = 0; i < kSamples; ++i) {
        const double x = cell.x0 + (cell.x1 - cell.x0) * (i + 0.5) / kSamples;
        const auto whole = chords({{region.outer, {}}}, 0, x), open = chords({{hole, {}}}, 0, x);
        if (whole.empty() || open.empty()) continue;
        cell.leaf_m = std::min(cell.leaf_m, whole.back().second - open.back().second);
        cell.height_m = std::min(cell.height_m, open.back().second - open.front().first);
        top = whole.back().second;
      }
      const double level = (box.low.y() + std::min(box.high.y(), top)) / 2;
      const auto pieces = chords({region}, 1, level);
      const Wall low = wall(pieces, cell.x0, true), high = wall(pieces, cell.x1, false);
      cell.web_low_m = low.thickness_m;
      cell.web_high_m = high.thickness_m;
      cell.outer_low = low.outer;
      cell.outer_high = high.outer;
      const Vec3 p = middle.frame.to_world(Vec2((cell.x0 + cell.x1) / 2, top));
      cell.length_m =
          along_to(beds.low, p, middle.frame.z) + along_to(beds.high, p, middle.frame.z);
      cells.push_back(cell);
    }
  }
  std::sort(cells.begin(), cells.end(), [](const Cell& a, const Cell& b) { return a.x0 < b.x0; });
  return cells;
}

void cut_across(const Assembly& assembly, BlockView& view) {
  const Frame& f = view.middles.front().frame;
  const Box2 box = extents(view.middles.front().section);
  std::vector<double> places;
  for (const Cell& cell : view.cells) places.push_back((cell.x0 + cell.x1) / 2);
  for (int i = 1; view.cells.empty() && i <= kPlanesAcross; ++i)
    places.push_back(box.low.x() + (box.high.x() - box.low.x()) * i / (kPlanesAcross + 1));
  for (const double x : places) {
    Frame frame;
    frame.z = f.x;
    frame.y = f.y;
    frame.x = f.y.cross(f.x);
    frame.origin = f.to_world(Vec2(x, (box.low.y() + box.high.y()) / 2));
    view.across.push_back(cut_block(assembly, view.block, frame));
  }
}

void cut_key(const Assembly& assembly, BlockView& view) {
  const Block& block = assembly.blocks[at(view.block)];
  view.key = true;
  for (const int j : view.joints) {
    const Joint& joint = assembly.joints[at(j)];
    const Vec3 out = joint.a == view.block ? joint.frame.z : Vec3(-joint.frame.z);
    view.middles.push_back(cut_block(assembly, view.block, frame_on({block.mass.centroid, out})));
    const Frame& f = view.middles.back().frame;
    Frame square;
    square.z = f.x;
    square.y = f.y;
    square.x = f.y.cross(f.x);
    square.origin = f.origin;
    view.across.push_back(cut_block(assembly, view.block, square));
  }
}

}  // namespace

std::vector<BlockView> view_blocks(const Assembly& assembly) {
  std::vector<BlockView> views;
  std::vector<int> index(assembly.blocks.size(), -1);
  std::map<std::pair<int, int>, int> last;  // place in a course
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    const Block& block = assembly.blocks[b];
    if (block.fixed) continue;
    int& most = last[{block.place.arm, block.place.course}];
    most = std::max(most, block.place.place);
    index[b] = static_cast<int>(views.size());
    views.emplace_back().block = static_cast<int>(b);
  }
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    for (const int b : {assembly.joints[j].a, assembly.joints[j].b}) {
      if (index[at(b)] >= 0) views[at(index[at(b)])].joints.push_back(static_cast<int>(j));
    }
  }
  for_each_index(views.size(), [&](std::size_t v) {
    BlockView& view = views[v];
    const BlockPlace& place = assembly.blocks[at(view.block)].place;
    view.left_edge = place.arm >= 0 && place.place == 1;
    view.right_edge = place.arm >= 0 && place.place == last.at({place.arm, place.course});
    const std::optional<Beds> beds = beds_of(assembly, view);
    if (!beds) {
      cut_key(assembly, view);
      return;
    }
    const Vec3 n = (beds->high.normal - beds->low.normal).normalized();
    const Plane middle{(beds->low.point + beds->high.point) / 2, n};
    view.middles.push_back(cut_block(assembly, view.block, frame_on(middle)));
    view.length_m = along_to(beds->low, middle.point, n) + along_to(beds->high, middle.point, n);
    const Box2 box = extents(view.middles.front().section);
    view.width_m = box.high.x() - box.low.x();
    view.depth_m = box.high.y() - box.low.y();
    view.cells = cells_of(view.middles.front(), *beds);
    cut_across(assembly, view);
  });
  return views;
}

SkinShape skin_of(const BlockView& view, std::size_t i) {
  const Cell& cell = view.cells[i];
  const double span = cell.x1 - cell.x0;
  const auto next = [&](bool outer, std::size_t j) {
    return outer || j >= view.cells.size() ? 0.0 : view.cells[j].x1 - view.cells[j].x0;
  };
  return {span, cell.length_m, cell.leaf_m,
          turning(cell.leaf_m, span, next(cell.outer_low, i - 1), cell.web_low_m, cell.height_m),
          turning(cell.leaf_m, span, next(cell.outer_high, i + 1), cell.web_high_m, cell.height_m)};
}

}  // namespace skewback
