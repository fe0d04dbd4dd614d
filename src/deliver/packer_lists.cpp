#include <algorithm>
#include <cmath>
#include <map>

#include "deliver/survey_sheets.hpp"

namespace skewback::deliver {
namespace {

/// When a block is laid: the ground first, keys last.
std::pair<double, double> turn_of(const Assembly& assembly, const std::vector<int>& order,
                                  int block) {
  const Block& b = assembly.blocks[static_cast<std::size_t>(block)];
  if (b.fixed) return {-1, 0};
  if (const auto i = static_cast<std::size_t>(block); i < order.size())
    return {0, static_cast<double>(order[i])};
  return {b.place.arm < 0 ? 2 : 1, b.place.phi_m};
}

}  // namespace

double BedView::from_left_m(double along_m) const {
  return mirrored ? bed.high.x() - along_m : along_m - bed.low.x();
}

BedView bed_view(const Assembly& assembly, const std::vector<int>& order, int joint) {
  const Joint& j = assembly.joints[static_cast<std::size_t>(joint)];
  BedView view;
  view.joint = joint;
  const bool from_a = turn_of(assembly, order, j.a) <= turn_of(assembly, order, j.b);
  view.laid = from_a ? j.a : j.b;
  view.comes = from_a ? j.b : j.a;
  view.mirrored = from_a;  // right of an eye along +z with y up: z x y = -x
  for (const Region& region : j.contact)
    for (const Vec2& p : region.outer) view.bed.add(p);
  return view;
}

std::vector<NumberedPacker> numbered(const BedView& view, const Packed& packed) {
  std::vector<NumberedPacker> out;
  for (const Packer& packer : packed.packers)
    if (packer.joint == view.joint) out.push_back({0, &packer, view.from_left_m(packer.along_m)});
  std::ranges::stable_sort(out, [](const NumberedPacker& a, const NumberedPacker& b) {
    return std::pair(a.packer->upper, a.from_left_m) < std::pair(b.packer->upper, b.from_left_m);
  });
  for (std::size_t i = 0; i < out.size(); ++i) out[i].number = static_cast<int>(i) + 1;
  return out;
}

std::vector<StockNeed> stock_needed(const Packed& packed) {
  constexpr int kPerTenth = 10;
  std::map<long long, StockNeed, std::greater<>> by_micrometre;
  for (const Packer& packer : packed.packers) {
    for (const double t : packer.from_stock) {
      StockNeed& need = by_micrometre[std::llround(1e6 * t)];
      need.thickness_m = t;
      ++need.used;
    }
  }
  std::vector<StockNeed> out;
  for (auto& [um, need] : by_micrometre) {
    need.to_have = need.used + (need.used + kPerTenth - 1) / kPerTenth;
    out.push_back(need);
  }
  return out;
}

std::vector<int> packed_joints(const Packed& packed) {
  std::vector<int> out;
  for (const Packer& packer : packed.packers) out.push_back(packer.joint);
  std::ranges::sort(out);
  out.erase(std::ranges::unique(out).begin(), out.end());
  return out;
}

}  // namespace skewback::deliver
