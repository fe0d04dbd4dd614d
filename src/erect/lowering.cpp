#include "erect/lowering.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

#include "erect/order.hpp"

namespace skewback {
namespace {

double height_at(const Rib& rib, double x) {
  const auto right = std::ranges::find_if(rib.top, [&](const Vec2& p) { return p.x() >= x; });
  if (right == rib.top.begin()) return rib.top.front().y();
  if (right == rib.top.end()) return rib.top.back().y();
  const Vec2 &a = *std::prev(right), &b = *right;
  return a.y() + (x - a.x()) / (b.x() - a.x()) * (b.y() - a.y());
}

constexpr double kLevel = 0.01;   // m: what differs by less goes down together
constexpr double kFacing = 0.25;  // of the rib's height over its feet, the same across the crown

/// Per foot of the rib its row, from 0 at the crown: feet under places as high share one, and so do
/// two to either side of the crown that differ by little, so that no side goes first.
std::vector<std::size_t> rows_of(const Rib& rib) {
  if (rib.feet.empty()) return {};
  std::vector<double> height;
  for (const double x : rib.feet)
    height.push_back(rib.place.to_world(Vec2(x, height_at(rib, x))).z());
  std::vector<std::size_t> order(rib.feet.size());
  std::iota(order.begin(), order.end(), 0U);
  std::ranges::stable_sort(order, std::ranges::greater{}, [&](std::size_t f) { return height[f]; });
  std::vector<std::size_t> row(order.size());
  double crown_x = 0, crown_z = -1e300;
  for (const Vec2& p : rib.top) {
    const double z = rib.place.to_world(p).z();
    if (z > crown_z) crown_x = p.x(), crown_z = z;
  }
  const double facing = kFacing * (crown_z - height[order.back()]);
  std::size_t rows = 0, first = 0;  // of the row: its highest foot
  for (std::size_t k = 0; k < order.size(); ++k) {
    const double lower = height[order[first]] - height[order[k]];
    const auto left = [&](std::size_t i) { return rib.feet[order[i]] < crown_x; };
    bool faces = lower <= facing;  // none of its own side in the row
    for (std::size_t i = first; i < k; ++i) faces = faces && left(i) != left(k);
    if (k == 0 || (lower > kLevel && !faces)) {
      first = k;
      ++rows;
    }
    row[order[k]] = rows - 1;
  }
  return row;
}

/// Per foot its part in the movement of a rib at x.
std::vector<double> parts_at(const Rib& rib, double x) {
  std::vector<double> parts(rib.feet.size(), 0);
  if (parts.size() < 2) {
    std::ranges::fill(parts, 1);
    return parts;
  }
  std::size_t k = 0;
  while (k + 2 < parts.size() && x > rib.feet[k + 1]) ++k;
  const double t = (x - rib.feet[k]) / (rib.feet[k + 1] - rib.feet[k]);
  parts[k] = 1 - t;
  parts[k + 1] = t;
  return parts;
}

std::vector<double> shares_of(const Centring& centring, const Rib& rib, std::size_t foot) {
  std::vector<double> share(centring.seats.size(), 0);
  for (std::size_t s = 0; s < centring.seats.size(); ++s) {
    if (centring.seats[s].rib == rib.id) share[s] = parts_at(rib, centring.seats[s].along_m)[foot];
  }
  return share;
}

void finish(const std::vector<Prop>& seats, std::vector<LoweringRow>& rows) {
  for (LoweringRow& row : rows) {
    std::set<int> blocks;
    for (std::size_t s = 0; s < seats.size(); ++s) {
      if (row.share[s] != 0) blocks.insert(seats[s].block);
    }
    row.blocks.assign(blocks.begin(), blocks.end());
  }
}

std::vector<LoweringRow> by_feet(const Centring& centring) {
  std::map<std::string, const Rib*> ribs;
  std::size_t count = 1;
  for (const Rib& rib : centring.ribs) {
    ribs[rib.id] = &rib;
    for (const std::size_t row : rows_of(rib)) count = std::max(count, row + 1);
  }
  std::vector<LoweringRow> rows(count);
  for (LoweringRow& row : rows) row.share.assign(centring.seats.size(), 0);
  for (std::size_t s = 0; s < centring.seats.size(); ++s) {
    const Seat& seat = centring.seats[s];
    const auto rib = ribs.find(seat.rib);
    if (rib == ribs.end() || rib->second->feet.empty()) {  // lies on others: goes with the first
      rows[0].share[s] = 1;
      continue;
    }
    const std::vector<std::size_t> row = rows_of(*rib->second);
    const std::vector<double> parts = parts_at(*rib->second, seat.along_m);
    for (std::size_t f = 0; f < parts.size(); ++f) rows[row[f]].share[s] += parts[f];
  }
  for (const Rib& rib : centring.ribs) {
    const std::vector<std::size_t> row = rows_of(rib);
    for (std::size_t f = 0; f < row.size(); ++f)
      rows[row[f]].feet.push_back(
          {rib.id + "-" + std::to_string(f + 1), shares_of(centring, rib, f)});
  }
  for (std::size_t k = 0; k < count; ++k) {
    rows[k].words = "row " + std::to_string(k + 1) + " of the feet, from the crown: ";
    for (const LoweringFoot& foot : rows[k].feet)
      rows[k].words += (&foot == rows[k].feet.data() ? "" : ", ") + foot.id;
  }
  return rows;
}

}  // namespace

std::vector<LoweringRow> lowering_rows(const Assembly& assembly, const Centring* centring,
                                       const std::vector<Prop>& seats) {
  std::vector<LoweringRow> rows;
  if (centring != nullptr) {
    rows = by_feet(*centring);
  } else {
    for (const std::vector<int>& group : groups_of_lowering(assembly)) {
      LoweringRow& row = rows.emplace_back();
      row.words = "seats under ";
      for (const int i : group)
        row.words +=
            (i == group.front() ? "" : ", ") + assembly.blocks[static_cast<std::size_t>(i)].id;
      for (const int i : group) {
        LoweringFoot& foot = row.feet.emplace_back();
        foot.id = "seats under " + assembly.blocks[static_cast<std::size_t>(i)].id;
        for (const Prop& seat : seats) foot.share.push_back(seat.block == i ? 1 : 0);
      }
      const std::set<int> blocks(group.begin(), group.end());
      for (const Prop& seat : seats) row.share.push_back(blocks.contains(seat.block) ? 1 : 0);
    }
  }
  finish(seats, rows);
  return rows;
}

}  // namespace skewback
