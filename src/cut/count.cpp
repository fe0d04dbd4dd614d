#include "cut/count.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace skewback {
namespace {

constexpr double kNear = 0.1;  // of the count asked for
constexpr int kTries = 8;
constexpr double kShortest = 0.05, kLongest = 10;  // m

/// True area of the middle surface over the count, in blocks as wide as they may be.
double first_length(const Brief& brief, const Body& body) {
  const Form& form = body.form;
  double area = 0;
  for (const auto& t : form.triangles) {
    const auto p = [&](int corner) { return form.vertices[static_cast<std::size_t>(t[corner])]; };
    area += (p(1) - p(0)).cross(p(2) - p(0)).norm() / 2;
  }
  double width = 0;
  for (const Support& s : brief.plan.supports)
    width += (s.b - s.a).norm() / static_cast<double>(brief.plan.supports.size());
  if (brief.blocks.width_max_m > 0) width /= std::ceil(width / brief.blocks.width_max_m - 1e-9);
  return area / (brief.blocks.count * width);
}

int blocks_of(const Cut& cut) {
  return static_cast<int>(std::count_if(cut.assembly.blocks.begin(), cut.assembly.blocks.end(),
                                        [](const Block& b) { return !b.fixed; }));
}

}  // namespace

bool counts_all_blocks(const Brief& brief) {
  return brief.blocks.count > 0 && (brief.plan.supports.size() > 2 || !brief.plan.openings.empty());
}

Result<Cut> cut_to_count(const Brief& brief, const Body& body,
                         const std::function<Result<Cut>(const Brief&)>& cut) {
  const double wanted = brief.blocks.count;
  Brief trial = brief;
  trial.blocks.count = 0;
  double shorter = kShortest, longer = kLongest;  // too many blocks at one, too few at the other
  bool below = false, above = false;              // whether either was tried
  double length = std::clamp(first_length(brief, body), kShortest, kLongest);
  std::optional<Result<Cut>> best;
  double best_off = HUGE_VAL;
  for (int i = 0; i < kTries; ++i) {
    trial.blocks.length_m = length;
    Result<Cut> made = cut(trial);
    if (!made && best) break;
    const double share = made ? blocks_of(*made) / wanted : 1;
    const double off = made ? std::abs(share - 1) : HUGE_VAL;
    if (!best || off < best_off) {
      best = std::move(made);
      best_off = off;
    }
    if (best_off <= kNear || !*best) break;
    (share > 1 ? shorter : longer) = length;
    (share > 1 ? below : above) = true;
    // by proportion while the count is still on one side, then halving
    length = below && above ? std::sqrt(shorter * longer)
                            : std::clamp(length * share, kShortest, kLongest);
    if (length <= shorter || length >= longer) break;
  }
  if (*best && best_off > kNear) {
    Cut& found = best->value();
    found.report.remarks.push_back(
        std::to_string(blocks_of(found)) + " blocks, " + std::to_string(brief.blocks.count) +
        " asked for: no length of blocks that was tried comes nearer, within blocks.mass_max" +
        (brief.blocks.width_max_m > 0 ? " and blocks.width_max" : ""));
  }
  return std::move(*best);
}

}  // namespace skewback
