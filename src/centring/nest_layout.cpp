#include "centring/nest_layout.hpp"

#include <algorithm>

namespace skewback::nest {
namespace {

namespace cl = ClipperLib;

Paths moved(const Paths& paths, const IntPoint& by) {
  Paths out = paths;
  for (Path& path : out) {
    for (IntPoint& p : path) p = {p.X + by.X, p.Y + by.Y};
  }
  return out;
}

Paths united(const Paths& paths) {
  cl::Clipper clipper;
  clipper.AddPaths(paths, cl::ptSubject, true);
  Paths out;
  clipper.Execute(cl::ctUnion, out, cl::pftNonZero, cl::pftNonZero);
  return out;
}

/// Sums of all pieces. United for each moving piece first: the sweep's cost grows with the square
/// of the edges that it has before it.
Paths minkowski(const Shape& fixed, const Shape& moving, const Turn& turn) {
  Paths sum;
  for (const Path& piece : moving.pieces) {
    Path mirrored = turned(piece, turn);
    for (IntPoint& p : mirrored) p = {-p.X, -p.Y};
    Paths of_piece;
    for (const Path& other : fixed.pieces) of_piece.push_back(convex_sum(other, mirrored));
    if (of_piece.size() > 1) of_piece = united(of_piece);
    sum.insert(sum.end(), of_piece.begin(), of_piece.end());
  }
  return moving.pieces.size() > 1 ? united(sum) : sum;
}

/// Where the origin may lie so that the shape is on the sheet. What fits but for rounding fits.
std::optional<Box> reach(const Stock& stock, const Box& box) {
  Box out{{stock.edge - box.low.X, stock.edge - box.low.Y},
          {stock.length - stock.edge - box.high.X, stock.width - stock.edge - box.high.Y}};
  constexpr cl::cInt kRounding = 2;
  if (out.high.X < out.low.X - kRounding || out.high.Y < out.low.Y - kRounding) return std::nullopt;
  out.high = {std::max(out.high.X, out.low.X), std::max(out.high.Y, out.low.Y)};
  return out;
}

/// A micrometre wider, so that what fits exactly has room.
Paths widened(const std::optional<Box>& box) {
  if (!box) return {};
  const cl::cInt x0 = box->low.X - 1, x1 = box->high.X + 1;
  const cl::cInt y0 = box->low.Y - 1, y1 = box->high.Y + 1;
  return {{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}};
}

double middle_height(const Path& part) {
  double moment = 0, twice = 0;
  for (std::size_t i = 0; i < part.size(); ++i) {
    const IntPoint &a = part[i], &b = part[(i + 1) % part.size()];
    const double c = static_cast<double>(a.X) * static_cast<double>(b.Y) -
                     static_cast<double>(b.X) * static_cast<double>(a.Y);
    twice += c;
    moment += c * static_cast<double>(a.Y + b.Y) / 3;
  }
  return twice != 0 ? moment / twice : 0;
}

}  // namespace

const Paths& NoFit::at(int fixed, const Turn& fixed_turn, int moving, const Turn& moving_turn) {
  const auto key = std::tuple{fixed, fixed_turn.index(), moving, moving_turn.index()};
  if (const auto found = turned_.find(key); found != turned_.end()) return found->second;
  const Turn against = after(undo(fixed_turn), moving_turn);
  if (fixed <= moving) {
    const Paths& found = upright(fixed, moving, against);
    return turned_.emplace(key, turned(found, fixed_turn)).first->second;
  }
  // seen from the other: the same region, pointing the other way
  const Turn about = after(fixed_turn, after(against, {2, false}));
  const Paths& found = upright(moving, fixed, undo(against));
  return turned_.emplace(key, turned(found, about)).first->second;
}

const Paths& NoFit::upright(int fixed, int moving, const Turn& against) {
  const auto key = std::tuple{fixed, moving, against.index()};
  if (const auto found = upright_.find(key); found != upright_.end()) return found->second;
  const auto shape = [&](int i) -> const Shape& { return (*shapes_)[static_cast<std::size_t>(i)]; };
  return upright_.emplace(key, minkowski(shape(fixed), shape(moving), against)).first->second;
}

const Paths& LaidSheet::room(const std::vector<Shape>& shapes, NoFit& no_fit, int shape,
                             const Turn& turn) {
  const auto key = std::pair{shape, turn.index()};
  auto found = rooms_.find(key);
  if (found == rooms_.end()) {
    const Box box = bounds(turned(shapes[static_cast<std::size_t>(shape)].part, turn));
    found = rooms_.emplace(key, Room{widened(reach(stock_, box)), 0}).first;
  }
  Room& room = found->second;
  if (room.seen == placed_.size() || room.region.empty()) return room.region;
  cl::Clipper clipper;
  clipper.AddPaths(room.region, cl::ptSubject, true);
  for (; room.seen < placed_.size(); ++room.seen) {
    const Placed& there = placed_[room.seen];
    clipper.AddPaths(moved(no_fit.at(there.shape, there.turn, shape, turn), there.at), cl::ptClip,
                     true);
  }
  Paths left;
  clipper.Execute(cl::ctDifference, left, cl::pftEvenOdd, cl::pftNonZero);
  room.region = std::move(left);
  return room.region;
}

std::optional<Placed> LaidSheet::place_for(const std::vector<Shape>& shapes, NoFit& no_fit,
                                           int shape, const std::vector<Turn>& turns,
                                           const Liking& liking) {
  std::optional<Placed> best;
  double least = 0;
  for (const Turn& turn : turns) {
    const Paths& region = room(shapes, no_fit, shape, turn);
    if (region.empty()) continue;
    const Path part = turned(shapes[static_cast<std::size_t>(shape)].part, turn);
    const Box box = bounds(part), in = *reach(stock_, box);
    const double middle = middle_height(part);
    for (const Path& path : region) {
      for (const IntPoint& corner : path) {
        const IntPoint at(std::clamp(corner.X, in.low.X, in.high.X),
                          std::clamp(corner.Y, in.low.Y, in.high.Y));
        const double cost = liking.top * static_cast<double>(at.Y + box.high.Y) +
                            liking.right * static_cast<double>(at.X + box.high.X) +
                            liking.middle * (static_cast<double>(at.Y) + middle);
        if (best && cost >= least) continue;
        least = cost;
        best = Placed{-1, shape, turn, at};
      }
    }
  }
  return best;
}

}  // namespace skewback::nest
