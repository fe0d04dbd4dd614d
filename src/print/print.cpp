#include "print/print.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "print/fan.hpp"
#include "print/print_parts.hpp"

namespace skewback {

double width_m(const Pose& pose) {
  return pose.share_m > 0
             ? static_cast<double>(pose.share_m) + kRound * static_cast<double>(pose.height_m)
             : 0;
}

double section_m2(const Pose& pose) {
  return static_cast<double>(pose.share_m) * static_cast<double>(pose.height_m);
}

PrintSet print_blocks(const Brief&, const Assembly& assembly, const std::vector<CaseProof>&,
                      const Progress&) {
  PrintSet set;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(i)];
    if (block.fixed) continue;
    BlockPrint out;
    out.block = i;
    out.id = block.id;
    out.reason = "not laid out";
    set.blocks.push_back(std::move(out));
  }
  return set;
}

}  // namespace skewback
