#pragma once
// From each block to what a printing cell can run: layers square to the flow of force, one path a
// layer, poses of the nozzle, and whether it can be printed. Theory: docs/theory/print.md.

#include <Eigen/Geometry>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "stand/stand.hpp"

namespace skewback {

/// The nozzle's tip at one moment, table frame: origin in the middle of the table's top, x along
/// the table, z up. The bead of a pose reaches to the next one.
struct Pose {
  double time_s = 0;                    // from the first bead of the block
  Vec3 tip = Vec3::Zero();              // m, on the top of the bead
  Eigen::Vector4f turn = {0, 0, 0, 1};  // quaternion x, y, z, w: table from tool; tool z runs from
                                        // the tip back into the nozzle
  float speed_m_s = 0;                  // until the next pose
  float share_m = 0;       // width of wall that the bead stands for; 0: travels, lays nothing
  float height_m = 0;      // of the bead
  float overhang_rad = 0;  // of the wall at this place, positive where it leans outward
  int layer = 0;           // from 0
};
/// Width over all of a bead with rounded sides: share + (1 - pi/4) height.
[[nodiscard]] double width_m(const Pose& pose);
/// Section of the bead, share x height, m2; times speed: what leaves the nozzle, m3/s.
[[nodiscard]] double section_m2(const Pose& pose);

struct LayerFacts {
  double height_min_m = 0, height_max_m = 0;  // over the layer
  double area_m2 = 0, volume_m3 = 0;          // of the section; of the slice of the block
  double laid_m3 = 0, path_m = 0, time_s = 0;
  double gap_share = 0, overfill_share = 0;  // of the section: bare, laid twice
  double overhang_max_rad = 0;
  double stress_pa = 0, yield_pa = 0;  // when it carries most for its age: weight above, what holds
  int strokes = 0;                     // paths; 1 where the topology allows
};

/// One thing that a block is held to.
struct PrintCheck {
  std::string name;  // "layer height", "overhang", ...
  double value = 0, limit = 0;
  std::string unit;       // of both
  bool at_least = false;  // the value must not be under the limit; otherwise not over it
  std::string place;      // in words
  std::string change;     // setting to change if it fails
  bool setting = false;   // mix, pace or size of the cell is in the way, not the block's shape
  bool sought = false;    // the planner goes up to the limit by itself: to be near it says nothing
  bool waiting = false;   // would hold with BlockPrint::layer_time_needed_s
  [[nodiscard]] bool passes() const {
    const double near = 1e-6 * limit;  // poses hold what they are checked for as floats
    return at_least ? value >= limit - near : value <= limit + near;
  }
};

enum class PrintWay { kBedToBed, kFlat, kCast, kNone };
struct BlockPrint {
  int block = -1;
  std::string id;
  PrintWay way = PrintWay::kNone;
  bool printable = false;
  std::string reason;    // why not printable; of a cast block: why it is cast
  std::string on_table;  // which face lies on the table, which way up, on what, and why
  Rigid to_table;        // world to table frame
  double stand_rad = 0;  // slope of the stand under it; 0: flat on the table
  std::string field;     // "planes", "parallel planes", "harmonic", "between faces"
  std::vector<LayerFacts> layers;
  double layer_min_m = 0, layer_max_m = 0;
  double overhang_max_rad = 0;
  double path_m = 0, time_s = 0, volume_m3 = 0;  // volume_m3: laid
  double solid_m3 = 0;                           // of the block
  double grind_m = 0, ground_m3 = 0;  // laid over the far bed, to be ground off; in volume_m3
  double turns = 0;  // of a nozzle that turns with the path, about its axis, from end to end
  double far_bed_error_m = 0;       // greatest distance of the last layer from the plane of its bed
  double normal_to_thrust_rad = 0;  // under the dead load, middle layer
  double normal_to_thrust_max_rad = 0;  // over all cases
  std::string normal_to_thrust_case;
  // least print.layer_time_min with which its fresh mix stands, where it does not
  std::optional<double> layer_time_needed_s;
  std::vector<PrintCheck> checks;
  std::vector<Pose> poses;
  std::vector<std::string> warnings;  // what is no failure, but to be watched
};

/// How often the nozzle stops laying and travels on before the block is done.
[[nodiscard]] int stops(const BlockPrint& block);

/// What leaves the nozzle while it lays, m3/s.
struct FlowRange {
  double least_m3_s = 0, greatest_m3_s = 0;
  double low_m = 0;  // path laid at less than a tenth of the greatest
};
[[nodiscard]] FlowRange flow_range(const BlockPrint& block);

struct Batch {
  std::vector<std::string> blocks;
  double volume_m3 = 0;
  int coupons = 0;
  int day = 0;                  // working day, from 1
  double from_s = 0, to_s = 0;  // in use, from the start of that day
};
struct PrintSlot {
  int block = -1;
  int day = 0;         // working day, from 1
  double start_s = 0;  // from the start of that day
  int ready_day =
      0;  // first day on which it may be lifted, counted as `day` if all days are worked
  bool again = false;  // the spare of its block
};
struct PrintPlan {
  std::vector<PrintSlot> order;  // course by course, in each leg after leg; keys last
  std::vector<Batch> batches;    // a spare of "o3" is "o3 again"
  double print_s = 0;            // nozzle's time
  int days = 0;                  // worked ones
};
struct PrintSet : PrintPlan {      // every block once
  std::vector<BlockPrint> blocks;  // in the order of the assembly, ground left out
  double normal_to_thrust_median_rad = 0;
  std::vector<std::string> remarks;
};

/// `proofs` of the assembly's cases; without pads' forces those of view 1 are taken. Blocks in
/// parallel. A block that breaks a limit says
/// so; its poses show where, and are not to be run.
[[nodiscard]] PrintSet print_blocks(const Brief& brief, const Assembly& assembly,
                                    const std::vector<CaseProof>& proofs,
                                    const Progress& progress = {});

/// Days and batches of the same order with the blocks (indices) in `twice` printed again, each
/// right after the first of its kind.
[[nodiscard]] PrintPlan with_spares(const PrintRequest& request, const PrintSet& set,
                                    const std::set<int>& twice);

/// First day, counted from 1 at second 0, on which what is cured at this time may be lifted: within
/// the hours of the shift.
[[nodiscard]] int day_of_lift(double cured_s, double shift_s);

}  // namespace skewback
