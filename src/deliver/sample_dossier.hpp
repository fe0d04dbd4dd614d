#pragma once
// For tests only: a small arch with a form, proofs and works made up by hand. Nothing in it was
// solved; its numbers are there to be found again in the files.

#include <limits>

#include "assembly/sample_arch.hpp"
#include "deliver/deliver.hpp"
#include "deliver/sample_print.hpp"

namespace skewback::sample {

inline Brief small_brief() {
  Brief brief;
  brief.name = "little-arch";
  brief.title = "Little arch <A & B>";
  brief.text = "[bridge]\nname = \"little-arch\"\n";
  brief.plan.outline = {{-3, -0.5}, {3, -0.5}, {3, 0.5}, {-3, 0.5}};
  brief.plan.supports = {{"west", {-3, 0.5}, {-3, -0.5}, 0}, {"east", {3, -0.5}, {3, 0.5}, 0}};
  brief.form.rise_m = 3;
  brief.section = {0.45, 0.45, false, 0.045, 0.045, 0.3};
  brief.material = {2400, 40e6};
  brief.blocks.mass_max_kg = 1700;
  brief.walkway.width_m = 0.8;
  brief.walkway.lines = {{{-3, 0}, {3, 0}}};
  brief.loads.people_pa = 5000;
  brief.ground.ties = {{"west-east", 0, 1, 2, 0.6, -0.3}};
  return brief;
}

/// Net of a semicircle of radius 3, three nodes across; phi counts plan metres from either end.
inline Form small_form() {
  Form form;
  constexpr int kAlong = 12, kAcross = 2;
  for (int i = 0; i <= kAlong; ++i) {
    for (int j = 0; j <= kAcross; ++j) {
      const double x = -3 + 6.0 * i / kAlong, y = -0.5 + 1.0 * j / kAcross;
      form.vertices.emplace_back(x, y, std::sqrt(std::max(0.0, 9 - x * x)));
      form.support_of.push_back(i == 0 ? 0 : i == kAlong ? 1 : -1);
      form.free_edge_of.push_back(j == 0 ? 0 : j == kAcross ? 1 : -1);
      form.load_n.push_back(100);
      form.reaction_n.push_back(Vec3::Zero());
    }
  }
  const auto at = [](int i, int j) { return i * (kAcross + 1) + j; };
  for (int i = 0; i < kAlong; ++i) {
    for (int j = 0; j <= kAcross; ++j) {
      form.edges.push_back({at(i, j), at(i + 1, j), 1000, j == 0 ? 0 : j == kAcross ? 1 : -1});
      if (j == kAcross) continue;
      const int arm = i < kAlong / 2 ? 0 : 1;
      for (const std::array<int, 3> t : {std::array{at(i, j), at(i + 1, j), at(i + 1, j + 1)},
                                         std::array{at(i, j), at(i + 1, j + 1), at(i, j + 1)}}) {
        form.triangles.push_back(t);
        form.arm.push_back(arm);
        form.flow.emplace_back(arm == 0 ? -1.0 : 1.0, 0.0);
        form.flow_strength.push_back(1);
        std::array<double, 3> phi{};
        for (std::size_t k = 0; k < 3; ++k) {
          const double x = form.vertices[static_cast<std::size_t>(t[k])].x();
          phi[k] = arm == 0 ? 3 + x : 3 - x;
        }
        form.phi.push_back(phi);
      }
    }
  }
  form.arms = {{0.9, 0.4, 7}, {0.9, 0.4, 7}};
  form.rise_asked_m = form.rise_m = 3;
  form.residual_rel = 2e-13;
  return form;
}

inline Forces weight_on_joints(const Assembly& assembly) {
  Forces forces;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Frame& frame = assembly.joints[j].frame;
    forces.contacts.push_back({static_cast<int>(j), frame.to_world(Vec2(0, 0.05)), 5000 * frame.z});
  }
  return forces;
}

inline CaseProof small_proof(const std::string& id, Verdict verdict,
                             const std::optional<double>& factor) {
  CaseProof proof;
  proof.id = id;
  proof.verdict = verdict;
  proof.views = {"limit"};
  proof.load_factor = factor;
  proof.residual_rel = 3e-12;
  return proof;
}

inline Dossier small_dossier() {
  Dossier d;
  d.brief = small_brief();
  d.form = small_form();
  Cut cut;
  cut.assembly = arch_assembly({});
  cut.pads.resize(cut.assembly.joints.size());
  cut.report.watertight = true;
  cut.report.designed_volume_m3 = 4.24;
  cut.report.volume_error_rel = std::numeric_limits<double>::quiet_NaN();
  for (const char* id : {"half, west", "half: west"}) {
    LoadCase live;
    live.id = id;
    live.live = {{2, {-1.5, 0, 3}, {0, 0, -1000}}};
    cut.assembly.cases.push_back(live);
  }
  const Forces forces = weight_on_joints(cut.assembly);
  d.proofs = {small_proof("dead", Verdict::kStands, std::nullopt),
              small_proof("half, west", Verdict::kStands, 2.5),
              small_proof("half: west", Verdict::kUndecided, 0.9)};
  for (CaseProof& proof : d.proofs) proof.evidence = forces;
  d.proofs[2].reason = "between the two cones";
  d.dead_resultants = joint_resultants(cut.assembly, forces);
  d.cut = std::move(cut);
  d.ground = Groundworks{};
  d.ground->supports = {{"west", {-3, 0, 0}, {8000, 0, 20000}, Vec3::Zero(), 8000}};
  d.ground->ties = {{"west-east", {4000, 4000}, 8000, 6000, "half, west", 0.016, 6}};
  d.print = small_print(d.cut->assembly);
  d.required = {{"live_factor", 0.9, 1.35, false, "the brief", "least in half: west"},
                {"geometric_safety", std::nullopt, 2, std::nullopt, "the brief", "not computed"},
                {"stages_standing", 1.0, 1, true, "design rule", ""}};
  d.timings_s = {{"form", 0.25}};
  return d;
}

}  // namespace skewback::sample
