#pragma once
// Private to strength/: the checks, one block and one case at a time.

#include <array>

#include "strength/block_view.hpp"
#include "strength/concrete.hpp"
#include "strength/strength.hpp"

namespace skewback {

enum class Check {
  kBed,
  kMiddle,
  kLayers,
  kShear,
  kTwist,
  kPatch,
  kPeople,
  kBursting,
  kAcross,
  kUpstand,
  kCount
};
[[nodiscard]] const char* name(Check check);

struct CaseInput {  // a design case made ready for all blocks
  std::string id;
  const LoadCase* load = nullptr;
  DesignCase design;
  std::vector<JointLoad> joints;
  ConcreteDesign concrete;
};

/// Keeps the worst of each check of one block.
class Worst {
 public:
  void add(Check check, BlockFinding finding);
  [[nodiscard]] const std::optional<BlockFinding>& of(Check check) const {
    return found_[static_cast<std::size_t>(check)];
  }

 private:
  std::array<std::optional<BlockFinding>, static_cast<std::size_t>(Check::kCount)> found_;
};

struct CheckedBlock {  // what the cases add up to
  const BlockView* view = nullptr;
  Worst worst;
  double least_pressure_pa = 1e300;  // on any corner of the middle section; below zero: tension
  double skin_inside = 0;            // utilisation of the skin, no load at a bed
  double arm_m = 0;                  // bed to bed, all courses of its arm; 0: none
  double slender = 0;                // thrust over N_Rd of a wall as long as the arm
  std::string slender_case;
  bool may_lie_flat = false;  // printed with its layers along the thrust
  bool beyond = false;        // a resultant left the section: no pressure without tension
};

void check_beds(const Assembly& assembly, const CaseInput& input, CheckedBlock& block);
void check_middle(const Brief& brief, const Assembly& assembly, const CaseInput& input,
                  CheckedBlock& block);
void check_across(const Brief& brief, const Assembly& assembly, const CaseInput& input,
                  CheckedBlock& block);
/// After all cases, which give the pressure along the flow.
void check_skin(const Brief& brief, const std::vector<const CaseInput*>& inputs, double density,
                CheckedBlock& block);
void check_upstand(const Brief& brief, const Assembly& assembly, CheckedBlock& block);

/// Transverse tension over the greatest pressure, behind a bed that the pad covers in part.
/// `bed`: the concrete, `contact`: what the pad covers; the same frame.
[[nodiscard]] double bursting_share(const Regions& bed, const Regions& contact);
/// Behind a strip of width a, `off` from the middle of the width b that it feeds: tie over force,
/// EN 1992-1-1 (6.58) and, off the middle, the couple of force and spread reaction at depth b.
[[nodiscard]] double tie_share(double a, double b, double off);
/// Greatest tension of a tie, spread as a parabola over 0.8 b.
[[nodiscard]] double tie_stress_share(double a, double b, double off);  // over the strip's pressure
[[nodiscard]] std::vector<double> bursting_shares(const Assembly& assembly, const BlockView& view);
void check_bursting(const Assembly& assembly, const CaseInput& input,
                    const std::vector<double>& shares, CheckedBlock& block);

/// With leaves and webs such that every skin check of `views` is met; none if none is found.
[[nodiscard]] std::optional<SectionProposal> propose_section(
    const Brief& brief, const std::vector<const CaseInput*>& inputs,
    const std::vector<CheckedBlock>& blocks, const Assembly& assembly);

struct SkinLoads {
  double patch_n = 0, even_pa = 0;  // factored
};
struct SkinUse {  // of the skin over a cell
  double demand_pa = 0, resistance_pa = 0, utilisation = 0;
  double inside = 0;  // utilisation without loads at the beds
  bool across_layers = false, at_web = false, at_bed = false;
};
/// `pressure_pa`: along the flow, not counted on when negative.
[[nodiscard]] SkinUse skin_use(const SkinUnits& units, double leaf_m, const SkinLoads& loads,
                               const ConcreteDesign& concrete, double pressure_pa);
[[nodiscard]] SkinLoads patch_loads(const Brief& brief, const DesignCase& design, double density,
                                    double leaf_m);
[[nodiscard]] SkinLoads people_loads(const Brief& brief, const DesignCase& design, double density,
                                     double leaf_m);

}  // namespace skewback
