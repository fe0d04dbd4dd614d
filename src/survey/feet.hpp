#pragma once
// How the feet of the centring are set, trimmed or packed so that the blocks come to lie where they
// are to.

#include <cmath>

#include "centring/centring.hpp"
#include "survey/stack.hpp"

namespace skewback {

struct FootSetting {
  std::string foot;       // "R3-2"
  double raise_m = 0;     // from where it is drawn, < 0 lower
  double by_wedge_m = 0;  // of that, by its wedge or jack, within its travel
  double trim_m = 0;      // cut off the post, where the travel does not do
  double pack_m = 0;      // or put under it
  bool within = true;     // trim no more than packing.trim
  double aside_m = 0;     // measured: most that a mark of it is out of its place in plan
  /// From where it stands, measured or as drawn.
  [[nodiscard]] double to_move_m() const { return by_wedge_m + pack_m - trim_m; }
};
/// To be set otherwise than drawn by 0.1 mm or more, or from where it was measured by 0.5 mm.
[[nodiscard]] inline bool is_set(const FootSetting& foot) {
  return std::abs(foot.raise_m) >= 1e-4 || std::abs(foot.to_move_m()) >= 5e-4;
}
/// Its post is cut or packed.
[[nodiscard]] inline bool post_changes(const FootSetting& foot) {
  return foot.trim_m >= 1e-4 || foot.pack_m >= 1e-4;
}
/// What a foot is set by: "wedge" or "jack".
[[nodiscard]] std::string foot_device(const Brief& brief);

struct SeatGap {  // what is left between timber and block when the feet are set
  std::string rib, block;
  double along_m = 0;  // along the rib, from where its x begins
  double gap_m = 0;    // < 0: the block would stand proud of where it is to lie
};
struct FeetSet {
  std::vector<FootSetting> feet;  // as Centring::feet
  std::vector<SeatGap> gaps;      // over 0.5 mm, worst first
  double gap_max_m = 0;
  std::vector<std::string> remarks;
};

/// Ribs stay straight between their feet. Each foot is set by least squares over the seats; posts
/// stand on ground as drawn unless their feet were `measured`, in bridge axes: the mark on a head
/// tells its height, the mean of those on the ground where that is missing. `laid`: pose of
/// every block when it is laid, drawn to wanted. `settlement_m`: of the brief, as for setting_out.
[[nodiscard]] FeetSet set_feet(const Centring& centring, const Assembly& assembly,
                               const std::vector<Rigid>& laid, const PointFile* measured,
                               const PackingRequest& packing, double settlement_m);

}  // namespace skewback
