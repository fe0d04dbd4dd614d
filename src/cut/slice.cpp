#include "cut/slice.hpp"

#include <algorithm>

namespace skewback {
namespace {

constexpr double kPast =
    0.004;  // m a tool reaches past what it cuts, so that no faces are coplanar
constexpr double kOnPlane = 1e-7;

Fault failed(const ArmCuts& cuts, std::size_t plane, Fault fault) {
  fault.key = "cut: arm " + std::to_string(cuts.support + 1) + ", joint " + std::to_string(plane);
  fault.change = "another blocks.length, or a gentler curve of the free edges";
  return fault;
}

/// Slices from the key down to the springing; outer solids only.
Result<ArmPieces> slice_outer(const Solid& arm, const ArmCuts& cuts, double pad,
                              const Progress& progress) {
  ArmPieces out;
  const std::size_t last = cuts.planes.size() - 1;
  out.blocks.resize(last);
  out.pads.resize(last + 1);
  Solid rest = arm;
  for (std::size_t i = last; i >= 1; --i) {
    progress.checkpoint("cut",
                        0.1 + 0.8 * static_cast<double>(last - i) / static_cast<double>(last));
    if (pad > 0) {
      Result<std::pair<Solid, Solid>> parts = split(rest, cuts.planes[i].moved(-pad / 2));
      if (!parts) return failed(cuts, i, parts.faults().front());
      rest = std::move(parts.value().first);
      out.pads[i] = std::move(parts.value().second);
    }
    if (pad <= 0 && i == 1) {  // dry: the arm already ends on its springing bed
      out.blocks[0] = std::move(rest);
      break;
    }
    Result<std::pair<Solid, Solid>> parts = split(rest, cuts.planes[i - 1].moved(pad / 2));
    if (!parts) return failed(cuts, i - 1, parts.faults().front());
    rest = std::move(parts.value().first);
    out.blocks[i - 1] = std::move(parts.value().second);
    if (out.blocks[i - 1].faces.empty()) {
      return failed(
          cuts, i,
          {.found = "a course with nothing in it", .expected = "planes that do not meet inside"});
    }
  }
  if (pad > 0) out.pads[0] = std::move(rest);
  return out;
}

}  // namespace

Result<ArmPieces> slice_arm(const Section& section, const Solid& arm, const ArmCuts& cuts,
                            double pad, const Progress& progress) {
  Result<ArmPieces> sliced = slice_outer(arm, cuts, pad, progress);
  if (!sliced || !section.hollow) return sliced;
  ArmPieces out = std::move(sliced).value();
  const std::size_t last = cuts.planes.size() - 1;
  const int count = tube_count(section, cuts.width_max_m);

  // rings in the middle of each pad; through the pad the tubes run square to it
  std::vector<TubeRings> below, above;
  out.leaf_least_m = 1e9;
  for (std::size_t i = 0; i <= last; ++i) {
    // the bed of the block below plane i, or of the first block on its springing
    const Solid& block = out.blocks[i == 0 ? 0 : i - 1];
    const Frame bed_frame = frame_on(cuts.planes[i].moved(i == 0 ? pad / 2 : -pad / 2));
    const Regions bed = faces_in_plane(block, bed_frame, i == 0 ? -1 : 1, kOnPlane);
    Result<TubeRings> rings = rings_in(section, frame_on(cuts.planes[i]), bed, count);
    if (!rings) return failed(cuts, i, rings.faults().front());
    out.leaf_least_m = std::min(out.leaf_least_m, thinnest_leaf(bed_frame, bed, *rings));
    below.push_back(carried(*rings, -pad / 2 * cuts.planes[i].normal));
    above.push_back(carried(*rings, pad / 2 * cuts.planes[i].normal));
  }
  for (std::size_t i = 0; i < last; ++i) {
    Result<Solid> block = open_tubes(out.blocks[i], cuts.planes[i].moved(pad / 2), above[i],
                                     cuts.planes[i + 1].moved(-pad / 2), below[i + 1]);
    if (!block) return failed(cuts, i, block.faults().front());
    out.blocks[i] = std::move(block).value();
    out.tube_volume_m3 += tube_volume(above[i], below[i + 1]);
  }
  for (std::size_t i = 0; pad > 0 && i <= last; ++i) {
    Result<Solid> slab = open_tubes(out.pads[i], cuts.planes[i].moved(-pad / 2), below[i],
                                    cuts.planes[i].moved(pad / 2), above[i]);
    if (!slab) return failed(cuts, i, slab.faults().front());
    out.pads[i] = std::move(slab).value();
    out.tube_volume_m3 += tube_volume(below[i], above[i]);
  }
  return out;
}

}  // namespace skewback
