#include "survey/in_place.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "survey/weighted.hpp"

namespace skewback {
namespace {

constexpr double kFarInPlace = 10e-3;  // m (ours)
constexpr double kAtAnother = 0.25;    // of how far it is from its own place
constexpr double kNearAnother = 0.05;  // m

/// One mark of a block, measured.
struct BackMark {
  std::string name;
  Vec3 drawn, wanted, measured;
  double accuracy_m = 0;
  int number = 0;  // of the block's marks
};

std::string signed_mm(double m) {
  char text[32];
  std::snprintf(text, sizeof text, "%+.1f", 1e3 * m);
  return std::string(text) == "-0.0" ? "+0.0" : text;
}

std::string whole_mm(double m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f mm", 1e3 * m);
  return text;
}

int number_in(const std::string& mark) { return mark.empty() ? 0 : mark.back() - '0'; }

/// Where each block's marks are to lie, by their numbers.
using Places = std::map<std::string, std::map<int, Vec3>>;

double mean_off(const std::vector<BackMark>& marks, const std::map<int, Vec3>& places) {
  double sum = 0;
  for (const BackMark& mark : marks) {
    const auto at = places.find(mark.number);
    if (at == places.end()) return INFINITY;
    sum += (mark.measured - at->second).norm();
  }
  return sum / static_cast<double>(marks.size());
}

std::string another_place(const std::string& own, const std::vector<BackMark>& marks,
                          const Places& places) {
  const double here = mean_off(marks, places.at(own));
  std::string best;
  double least = std::min(kNearAnother, kAtAnother * here);
  for (const auto& [block, of_block] : places) {
    const double there = block == own ? INFINITY : mean_off(marks, of_block);
    if (there >= least) continue;
    least = there;
    best = block;
  }
  return best;
}

std::string finding_of(const BlockInPlace& b) {
  std::string out = "lies " + signed_mm(b.off_m.x()) + ", " + signed_mm(b.off_m.y()) + ", " +
                    signed_mm(b.off_m.z()) + " mm (x, y, z) from where it is to lie, " + b.worst +
                    " by " + whole_mm(b.worst_m);
  if (!b.lies_at.empty())
    out += "; it lies where " + b.lies_at + " is to lie: blocks or names exchanged";
  return out;
}

BlockInPlace judged(const std::string& block, const std::vector<BackMark>& marks,
                    const Places& places, double gate) {
  BlockInPlace out;
  out.block = block;
  out.marks = static_cast<int>(marks.size());
  const double n = static_cast<double>(marks.size());
  Vec3 off_drawn = Vec3::Zero();
  double variance = 0;
  for (const BackMark& mark : marks) {
    const Vec3 off = mark.measured - mark.wanted;
    out.off_m += off / n;
    off_drawn += (mark.measured - mark.drawn) / n;
    variance += mark.accuracy_m * mark.accuracy_m / (n * n);
    const double squares = off.squaredNorm() / (mark.accuracy_m * mark.accuracy_m);
    out.beyond = out.beyond || as_deviations(squares, 3) > gate;
    if (!out.worst.empty() && off.norm() <= out.worst_m) continue;
    out.worst_m = off.norm();
    out.worst = mark.name;
  }
  out.off_drawn_m = off_drawn.norm();
  out.beyond = out.beyond || as_deviations(out.off_m.squaredNorm() / variance, 3) > gate;
  out.far = out.beyond && std::max(out.off_m.norm(), out.worst_m) > kFarInPlace;
  if (out.far) out.lies_at = another_place(block, marks, places);
  out.finding = finding_of(out);
  return out;
}

}  // namespace

std::vector<BlockInPlace> blocks_in_place(const std::vector<Mark>& drawn,
                                          const std::vector<Mark>& wanted,
                                          const std::vector<MeasuredPoint>& measured, double gate) {
  std::map<std::string, const MeasuredPoint*> by_name;
  for (const MeasuredPoint& point : measured) by_name.emplace(point.mark, &point);
  Places places;
  std::vector<std::pair<std::string, std::vector<BackMark>>> blocks;
  for (std::size_t i = 0; i < drawn.size() && i < wanted.size(); ++i) {
    const Mark& mark = drawn[i];
    if (mark.kind != MarkKind::kBlock) continue;
    const int number = number_in(mark.name);
    places[mark.of][number] = wanted[i].designed;
    const auto at = by_name.find(mark.name);
    if (at == by_name.end()) continue;
    if (blocks.empty() || blocks.back().first != mark.of) blocks.emplace_back(mark.of, 0);
    blocks.back().second.push_back({mark.name, mark.designed, wanted[i].designed, at->second->at,
                                    at->second->accuracy_m, number});
  }
  std::vector<BlockInPlace> out;
  for (const auto& [block, marks] : blocks) out.push_back(judged(block, marks, places, gate));
  return out;
}

std::string in_place_in_words(const std::vector<BlockInPlace>& blocks, const std::string& to_lie) {
  if (blocks.empty()) return "";
  double worst = 0;
  for (const BlockInPlace& block : blocks) worst = std::max(worst, block.worst_m);
  const auto beyond = std::ranges::count_if(blocks, &BlockInPlace::beyond);
  const std::string all = std::to_string(blocks.size()) +
                          (blocks.size() == 1 ? " block was" : " blocks were") +
                          " measured in place, ";
  if (beyond == 0)
    return all + "within the accuracy of its marks from where it is to lie " + to_lie +
           ", by up to " + whole_mm(worst);
  return all + std::to_string(beyond) +
         " beyond the accuracy of the marks from where it is to lie " + to_lie + ", by up to " +
         whole_mm(worst) + "; packers and proofs are of blocks that lie where they are to";
}

}  // namespace skewback
