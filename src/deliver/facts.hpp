#pragma once
// Looked up in a dossier by more than one of the files made from it.

#include <cstdint>
#include <string>
#include <vector>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

struct Colour {
  std::uint8_t r = 0, g = 0, b = 0;
};

/// Eight colours that people with any colour vision can tell apart (Okabe and Ito 2008, "Color
/// universal design"); arms take them in turn, black left out.
[[nodiscard]] Colour arm_colour(int arm);
inline constexpr Colour kBlack{0, 0, 0}, kGrey{120, 120, 120}, kGround{176, 172, 164},
    kPad{52, 52, 56}, kKey{240, 228, 66}, kThrust{213, 94, 0};
[[nodiscard]] Colour block_colour(const Block& block);

[[nodiscard]] std::string arm_name(const Brief& brief, int arm);  // "yard", "key"
[[nodiscard]] std::string arm_name(const Brief& brief,
                                   const Block& block);  // "yard", "key", "ground"

/// "yard-3 | yard-4"; empty where there is no such joint.
[[nodiscard]] std::string joint_name(const Assembly& assembly, int joint);

/// Places of the proofs, those to worry about first: falls, undecided, stands; then by load
/// factor (all at the cap alike), then by joint stress.
[[nodiscard]] std::vector<std::size_t> worst_first(const std::vector<CaseProof>& proofs);

/// One file per proof below `folder`, in the order given; never two alike.
[[nodiscard]] std::vector<std::string> evidence_paths(const std::vector<CaseProof>& proofs,
                                                      const std::string& folder);
/// What was cut or given; null if neither.
[[nodiscard]] const Assembly* assembly_of(const Dossier& dossier);

/// Of recorded motion: "evidence/full.json" -> "motion/full.json".
[[nodiscard]] std::string motion_path(const std::string& limit_path);
/// Greatest normal force of a joint in view 3 over that in view 2, less 1. None without both.
[[nodiscard]] std::optional<double> motion_over_pads(const CaseProof& proof);
/// Beside the file of view 1: "evidence/full.json" -> "evidence/full.pads.json".
[[nodiscard]] std::string pads_evidence_path(const std::string& limit_path);
[[nodiscard]] std::vector<std::string> stage_evidence_paths(const Programme& programme);

struct BlockTotals {
  std::size_t blocks = 0, ground_blocks = 0, joints = 0;
  double mass_kg = 0, carried_kg = 0, volume_m3 = 0;  // fixed blocks left out
  double mass_max_kg = 0, mass_min_kg = 0;            // of concrete
  std::string heaviest;
};
[[nodiscard]] BlockTotals totals(const Assembly& assembly);

// In plan: where the arms meet; half way between two meetings.
[[nodiscard]] Vec2 meeting_point(const Dossier& dossier);
[[nodiscard]] Vec2 meeting_point(const Dossier& dossier, std::size_t support);  // its own
/// How a footing was found: the middle of its springing line moved, and its turn.
struct FootingFound {
  Vec3 moved = Vec3::Zero();
  double turn_deg = 0;
};
[[nodiscard]] std::vector<FootingFound> footings_found(
    const Dossier& dossier);  // as Refit::supports

}  // namespace skewback::deliver
