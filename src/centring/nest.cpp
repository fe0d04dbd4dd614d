#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <set>

#include "base/constants.hpp"
#include "centring/centring.hpp"
#include "centring/nest_search.hpp"

namespace skewback {
namespace {

using nest::Item;
using nest::Job;
using nest::Placed;
using nest::Turn;

/// Parts that fit exactly must have room on the grid: so much of the gap is given away, m.
constexpr double kGiven = 5e-6;
constexpr double kCoarse = 1.5e-3;  // m that outlines may go outward for fewer corners
constexpr double kSlot = 0.03;      // m: narrower slots hold no part

std::vector<Turn> turns_of(bool grain) {
  std::vector<Turn> turns;
  for (const bool flipped : {false, true}) {
    for (const int quarters : {0, 2, 1, 3})
      if (!grain || quarters % 2 == 0) turns.push_back({quarters, flipped});
  }
  return turns;
}

/// From its lowest leftmost corner on, which comes to lie at the origin.
std::vector<std::array<std::int64_t, 2>> canonical(const nest::Path& path) {
  const auto first = std::ranges::min_element(
      path, [](const auto& a, const auto& b) { return a.X < b.X || (a.X == b.X && a.Y < b.Y); });
  std::vector<std::array<std::int64_t, 2>> out;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const auto& p = path[(static_cast<std::size_t>(first - path.begin()) + i) % path.size()];
    out.push_back({p.X - first->X, p.Y - first->Y});
  }
  return out;
}

std::vector<Turn> unlike(const nest::Path& path, const std::vector<Turn>& turns) {
  std::vector<Turn> out;
  std::set<std::vector<std::array<std::int64_t, 2>>> seen;
  for (const Turn& turn : turns)
    if (seen.insert(canonical(nest::turned(path, turn))).second) out.push_back(turn);
  return out;
}

std::optional<Fault> fits_alone(const Brief& brief, const SheetPart& part) {
  const CentringRequest& ask = brief.centring;
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const Vec2& p : part.outline.outer) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  const Vec2 size = high - low;
  const double length = ask.sheet_length_m - 2 * ask.part_gap_m + 1e-9,
               width = ask.sheet_width_m - 2 * ask.part_gap_m + 1e-9;
  const bool along = size.x() <= length && size.y() <= width;
  const bool across = !part.grain_along_x && size.y() <= length && size.x() <= width;
  if (part.outline.outer.size() >= 3 && (along || across)) return std::nullopt;
  const auto mm = [](double m) { return std::to_string(std::lround(1000 * m)); };
  Fault fault;
  fault.file = brief.file.string();
  fault.key = "centring: part " + part.id;
  fault.found = part.outline.outer.size() < 3
                    ? "no outline"
                    : mm(size.x()) + " mm x " + mm(size.y()) + " mm, for sheets of " +
                          mm(ask.sheet_length_m) + " mm x " + mm(ask.sheet_width_m) + " mm";
  fault.expected = "at most " + mm(length) + " mm along the grain and " + mm(width) +
                   " mm across it, centring.part_gap kept to the edges";
  fault.change =
      "larger sheets (centring.sheet_length, centring.sheet_width), or a smaller "
      "centring.rib_depth";
  return fault;
}

Job make_job(const Brief& brief, const Centring& centring, const Progress& progress) {
  const CentringRequest& ask = brief.centring;
  const double grow = std::max(0.0, ask.part_gap_m / 2 - kGiven);
  Job job;
  job.stock = {std::llround(ask.sheet_length_m * nest::kGrid),
               std::llround(ask.sheet_width_m * nest::kGrid),
               std::llround(ask.part_gap_m * nest::kGrid)};
  job.sheet_m2 = ask.sheet_length_m * ask.sheet_width_m;
  std::map<std::vector<std::array<std::int64_t, 2>>, int> known;
  double whole = 0;
  for (const SheetPart& part : centring.parts) {
    const nest::Path path = nest::to_path(part.outline.outer);
    Item item{-1, {}, 0, area(part.outline), {}};
    const std::vector<Turn> allowed = turns_of(part.grain_along_x);
    const nest::Box box = nest::bounds(path);
    item.length_m =
        static_cast<double>(std::max(box.high.X - box.low.X, box.high.Y - box.low.Y)) / nest::kGrid;
    for (const Turn& turn : allowed) {  // the same as one before, turned?
      const auto found = known.find(canonical(nest::turned(path, nest::undo(turn))));
      if (found == known.end()) continue;
      item.shape = found->second;
      item.turn = turn;
      break;
    }
    if (item.shape < 0) {
      progress.checkpoint("cutting sheets", 0);
      item.shape = static_cast<int>(job.shapes.size());
      known.emplace(canonical(path), item.shape);
      job.shapes.push_back(nest::make_shape(part.outline.outer, grow, kSlot, kCoarse));
    }
    item.turns = unlike(job.shapes[static_cast<std::size_t>(item.shape)].part, allowed);
    whole += item.area_m2;
    job.items.push_back(item);
  }
  const double room =
      (ask.sheet_length_m - 2 * ask.part_gap_m) * (ask.sheet_width_m - 2 * ask.part_gap_m);
  job.sheets_least = static_cast<std::size_t>(std::ceil(whole / room - 1e-9));
  return job;
}

/// Where the part's frame lies so that its outline covers the shape as placed.
NestedPart nested(const Job& job, const SheetPart& part, const Placed& placed) {
  const Item& item = job.items[static_cast<std::size_t>(placed.item)];
  const Turn turn = nest::after(placed.turn, nest::undo(item.turn));
  NestedPart out;
  out.part = placed.item;
  out.turn_rad = turn.quarters * kPi / 2;
  out.flipped = turn.flipped;
  const nest::Box is = nest::bounds(
      nest::turned(job.shapes[static_cast<std::size_t>(placed.shape)].part, placed.turn));
  const nest::Box origin = nest::bounds(nest::turned(nest::to_path(part.outline.outer), turn));
  out.at = Vec2(static_cast<double>(placed.at.X + is.low.X - origin.low.X),
                static_cast<double>(placed.at.Y + is.low.Y - origin.low.Y)) /
           nest::kGrid;
  return out;
}

}  // namespace

std::optional<Fault> nest_parts(const Brief& brief, Centring& centring, const Progress& progress) {
  centring.sheets.clear();
  centring.used_share = 0;
  for (const SheetPart& part : centring.parts) {
    if (auto fault = fits_alone(brief, part)) return fault;
  }
  if (centring.parts.empty()) return std::nullopt;
  const Job job = make_job(brief, centring, progress);
  const nest::Layout layout = nest::search(job, progress);
  double whole = 0;
  for (std::size_t s = 0; s < layout.sheets.size(); ++s) {
    CutSheet sheet{"sheet " + std::to_string(s + 1), {}, 0};
    for (const Placed& placed : layout.sheets[s].placed()) {
      sheet.parts.push_back(
          nested(job, centring.parts[static_cast<std::size_t>(placed.item)], placed));
      sheet.used_share += job.items[static_cast<std::size_t>(placed.item)].area_m2 / job.sheet_m2;
    }
    whole += sheet.used_share;
    centring.sheets.push_back(std::move(sheet));
  }
  centring.used_share = whole / static_cast<double>(centring.sheets.size());
  return std::nullopt;
}

}  // namespace skewback
