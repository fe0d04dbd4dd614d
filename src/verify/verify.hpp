#pragma once
// Re-checks evidence from the block shapes alone, sharing no code with what produced it: own
// reader, own volumes, own contacts. Theory and tolerances: docs/theory/verify.md.

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace skewback {

struct EvidenceVerdict {
  std::string file;  // relative to the folder
  std::string case_id;
  std::string kind;  // "forces", "mechanism", "motion", "none"; empty if the file cannot be read
  bool ok = false;   // what the file claims is true of the blocks
  std::optional<double> load_factor;
  // forces: worst imbalance over the largest block weight; motion: over the mean block weight
  double residual_rel = 0;
  double worst_cone = 0;  // forces: greatest |t| - mu n over the largest block weight; <= 0 inside
  // forces: the imbalance can be taken up inside the cones, so that exact balance exists
  // (absorb.hpp)
  bool rigorous = false;
  double margin_used = 0;    // greatest change of a force over its distance to the cone's edge
  double left_rel = 0;       // imbalance after it: rounding
  std::string not_rigorous;  // what is missing
  double worst_penetration =
      0;  // mechanism: greatest mu |v_t| - v_n over the largest speed; <= 0 none
  double power_rel =
      0;  // mechanism: power of the loads over (largest block weight x largest speed)
  std::vector<std::string>
      assumes;  // what the file takes for granted: props, friction, blocks left out
  std::vector<std::string> reasons;  // why not ok
};

struct VerifyReport {
  std::vector<EvidenceVerdict> files;        // sorted by name
  [[nodiscard]] std::size_t failed() const;  // claims that are not true, files that cannot be read
  [[nodiscard]] std::size_t unclaimed() const;  // kind "none": undecided cases, nothing to check
  [[nodiscard]] bool ok() const;                // none failed and one at least was checked
};

/// Checks folder/evidence/*.json and folder/motion/*.json against folder/assembly.json, and the
/// same in each subfolder that has both. Faults: no such folder, no evidence in it, an assembly
/// that is missing or cannot be read.
[[nodiscard]] Result<VerifyReport> verify_folder(const std::filesystem::path& folder);

}  // namespace skewback
