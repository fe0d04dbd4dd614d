#pragma once
// For tests only: small bridges made by hand, as a dossier that questions can be put to.

#include "assembly/sample_arch.hpp"
#include "works/ask.hpp"

namespace skewback::sample {

inline Support springing(const std::string& id, const Vec2& a, const Vec2& b) {
  Support out;
  out.id = id;
  out.a = a;
  out.b = b;
  return out;
}

inline std::shared_ptr<const Dossier> dossier_of(Brief brief, Assembly assembly) {
  auto out = std::make_shared<Dossier>();
  out->brief = std::move(brief);
  out->brief.material.fck_pa = 30e6;
  out->proofs = prove_all(assembly);
  for (const LoadCase& load : assembly.cases) out->notes.push_back({.id = load.id, .words = ""});
  out->cut.emplace();
  out->cut->assembly = std::move(assembly);
  return out;
}

/// Soil of friction angle 30 degrees; one tie of two rods, 0.3 m below the springings.
inline Brief arch_brief(const Arch& arch) {
  const double x = arch.radius, y = arch.width / 2;
  Brief brief;
  brief.plan.outline = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
  brief.plan.supports = {springing("west", {-x, y}, {-x, -y}), springing("east", {x, -y}, {x, y})};
  Tie tie{"west-east", 0, 1};
  tie.level_m = -0.3;
  tie.spacing_m = 0.5;
  brief.ground.ties = {tie};
  brief.soil.kind = SoilKind::kDrained;
  brief.soil.phi_rad = brief.soil.phi_cv_rad = kPi / 6;
  return brief;
}

/// Cases dead and full, 5 kPa everywhere.
inline std::shared_ptr<const Dossier> arch_dossier(const Arch& arch, Brief brief) {
  Assembly assembly = arch_assembly(arch);
  LoadCase full = assembly.cases.front();
  full.id = "full";
  full.live = pressure_on_blocks(assembly, walking_surface(brief), 5000);
  assembly.cases.push_back(full);
  return dossier_of(std::move(brief), std::move(assembly));
}
inline std::shared_ptr<const Dossier> arch_dossier(const Arch& arch) {
  return arch_dossier(arch, arch_brief(arch));
}

/// A block of 1 x 1 x 0.5 m on another on the ground; beds lean by `slope`.
inline std::shared_ptr<const Dossier> column_dossier(double slope, double friction) {
  Assembly assembly;
  const Eigen::AngleAxisd lean(slope, Vec3::UnitY());
  const auto add = [&](const std::string& id, double from, double to, bool fixed) {
    Block block;
    block.id = id;
    block.solid =
        moved(box({-0.5, -0.5, from}, {0.5, 0.5, to}), {lean.toRotationMatrix(), Vec3::Zero()});
    block.density = 2000;
    block.fixed = fixed;
    block.place.arm = fixed ? 0 : -1;
    assembly.blocks.push_back(block);
  };
  add("ground", -1, 0, true);
  add("low", 0, 0.5, false);
  add("high", 0.5, 1, false);
  assembly.joints = detect_joints(assembly.blocks, friction);
  measure(assembly);
  LoadCase dead;
  dead.id = "dead";
  assembly.cases = {dead};
  Brief brief;
  brief.plan.outline = {{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}};
  brief.plan.supports = {springing("foot", {0.5, -0.5}, {0.5, 0.5})};
  return dossier_of(std::move(brief), std::move(assembly));
}

}  // namespace skewback::sample
