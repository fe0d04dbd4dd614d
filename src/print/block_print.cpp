#include "print/block_print.hpp"

#include <algorithm>
#include <cstdio>
#include <limits>
#include <optional>

namespace skewback {
namespace {

std::string in_words(const BlockPrint& block, const PrintCheck& check) {
  char text[96];
  std::snprintf(text, sizeof text, " %.4g%s against %.4g", check.value,
                (check.unit.empty() ? "" : " " + check.unit).c_str(), check.limit);
  std::string others;
  for (const PrintCheck& other : block.checks)
    if (!other.passes() && &other != &check) others += (others.empty() ? "" : ", ") + other.name;
  return check.name + text + " (" + check.place + "); to change: " + check.change +
         (others.empty() ? "" : "; also beyond their limits: " + others);
}

/// Over 1 beyond the limit.
double beyond_limit(const PrintCheck& check) {
  const double over = check.at_least ? check.limit : check.value,
               under = check.at_least ? check.value : check.limit;
  return under > 0 ? over / under : check.passes() ? 0 : std::numeric_limits<double>::infinity();
}

/// The one farthest beyond its limit, as a share of it; of the shape before settings.
const PrintCheck* worst_failed(const BlockPrint& block) {
  const PrintCheck* found = nullptr;
  for (const PrintCheck& check : block.checks) {
    if (check.passes()) continue;
    const bool worse =
        found == nullptr || (found->setting && !check.setting) ||
        (found->setting == check.setting && beyond_limit(check) > beyond_limit(*found));
    if (worse) found = &check;
  }
  return found;
}

/// Failed by so little that a layer more or less may mend it.
bool near_miss(const BlockPrint& block) {
  constexpr double kNear = 1.1;
  return std::ranges::all_of(
      block.checks, [](const PrintCheck& c) { return c.passes() || beyond_limit(c) <= kNear; });
}

/// A block that only settings are in the way of is not cast for it: they are to be changed.
bool shape_in_the_way(const BlockPrint& block) {
  const PrintCheck* failed = worst_failed(block);
  return failed == nullptr || !failed->setting;
}

void add_angles(const Assembly& assembly, const BlockLayout& layout,
                const std::vector<CaseJointForces>& forces, BlockPrint& block) {
  const Vec3 normal = layout.field->frame_at(0.5, layout.along).z;
  const NormalToThrust angle =
      normal_to_thrust(assembly, block.block, layout.low_bed, layout.high_bed, normal, forces);
  block.normal_to_thrust_rad = angle.dead_rad;
  block.normal_to_thrust_max_rad = angle.greatest_rad;
  block.normal_to_thrust_case = angle.greatest_case;
}

/// Carries a layout out; false, with the reason, if it breaks a limit.
bool try_layout(const Brief& brief, const Assembly& assembly, const BlockLayout& layout,
                const std::vector<CaseJointForces>& forces, BlockPrint& block) {
  block.way = layout.way;
  if (!layout.trouble.empty()) {
    block.reason = layout.trouble;
    return false;
  }
  block.reason = carry_out(brief, assembly, layout, block);
  if (!block.reason.empty()) return false;
  if (layout.way == PrintWay::kBedToBed) add_angles(assembly, layout, forces, block);
  const PrintCheck* failed = worst_failed(block);
  if (failed != nullptr) block.reason = in_words(block, *failed);
  return failed == nullptr;
}

}  // namespace

BlockPrint print_block(const Brief& brief, const Assembly& assembly, int block,
                       const std::vector<CaseJointForces>& forces) {
  const Block& self = assembly.blocks[static_cast<std::size_t>(block)];
  BlockPrint blank;
  blank.block = block;
  blank.id = self.id;
  blank.solid_m3 = self.mass.volume;
  const BlockBeds beds = block_beds(assembly, block);
  std::string tried;
  std::optional<BlockPrint> first;  // that broke a limit: shown if nothing else does
  const auto attempt = [&](const char* name, const BlockLayout& layout) {
    BlockPrint out = blank;
    out.printable = try_layout(brief, assembly, layout, forces, out);
    if (!out.printable && layout.trouble.empty() && shape_in_the_way(out) && near_miss(out)) {
      for (const int count : {layout.count - 1, layout.count + 1}) {
        if (count < layout.fewest || count > layout.most) continue;
        BlockLayout other = layout;
        other.count = count;
        BlockPrint again = blank;
        again.printable = try_layout(brief, assembly, other, forces, again);
        if (again.printable) return again;
      }
    }
    if (!out.printable) tried += (tried.empty() ? "" : "; ") + (name + (": " + out.reason));
    return out;
  };
  if (beds.beds.size() <= 2) {
    first = attempt("bed to bed", bed_to_bed(brief.print, assembly, block, beds));
    if (first->printable || !shape_in_the_way(*first)) return *std::move(first);
  } else {
    tried = std::to_string(beds.beds.size()) + " beds, and layers lie square to one flow only";
  }
  for (const std::string& way : brief.print.otherwise) {
    if (way == "divide" && beds.beds.size() > 2)
      tried += "; divide: the cut made no parts of it, each with a bed of its own";
    if (way == "flat") {
      BlockPrint flat = attempt("flat", laid_flat(brief.print, assembly, block, beds));
      if (flat.printable) {
        flat.warnings.push_back("laid flat because of " + tried);
        return flat;
      }
      if (!shape_in_the_way(flat)) return flat;
      if (!first) first = std::move(flat);
    }
    if (way == "cast") {
      blank.way = PrintWay::kCast;
      blank.reason = "cast because of " + tried;
      if (first) blank.checks = std::move(first->checks);  // what was in the way
      return blank;
    }
  }
  BlockPrint out = first ? *std::move(first) : blank;
  if (!first) out.way = PrintWay::kNone;
  out.reason = tried;
  return out;
}

}  // namespace skewback
