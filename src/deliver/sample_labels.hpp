#pragma once
// For tests only: the small arch with an order of placing, slings made up by hand, a programme, and
// a spare of v3.

#include "deliver/sample_dossier.hpp"

namespace skewback::sample {

/// v1 and v7 first, the key v4 last.
inline Dossier dossier_on_site() {
  Dossier d = small_dossier();
  d.programme = Programme{};
  d.programme->order = {"v1", "v7", "v2", "v6", "v3", "v5", "v4"};
  d.lifts = LiftPlan{};
  for (int i = 0; i < 7; ++i) {
    const Joint& bed = d.cut->assembly.joints[static_cast<std::size_t>(i)];  // radial, at v(i+1)
    BlockLift lift;
    lift.block = i;
    lift.id = "v" + std::to_string(i + 1);
    for (const double along : {0.3, 1.0})
      lift.slings.push_back(bed.frame.origin + along * bed.frame.z + Vec3(0, 0.2, 0));
    lift.sling_angle_rad = 0.35;
    lift.leg_force_n = 12.3e3;
    lift.tilt_rad = 0.2;
    lift.wind_m_s = 9.84;
    lift.cradle = i == 2;
    d.lifts->lifts.push_back(lift);
  }
  d.spares = Spares{};
  BlockRisk risk;
  risk.block = 2;
  risk.id = "v3";
  risk.spare = true;
  d.spares->risks = {risk};
  Network& network = d.spares->network;
  network.start = "2027-03-01";
  network.activities.push_back({"footings", "", "footings", 1e5, 2e5, 3e5, {}, false, false, 0});
  for (const std::string& id : d.programme->order) {
    const int before = static_cast<int>(network.activities.size()) - 1;
    network.activities.push_back(
        {"place " + id, id, "place", 900, 1200, 2700, {before}, false, false, 0});
  }
  d.spares->breakages = {{5, 0.03, 7e5, true, 600}};
  return d;
}

}  // namespace skewback::sample
