#include <algorithm>

#include "base/constants.hpp"
#include "deliver/report_centring.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

Json point(const Vec3& p) { return Json::array({p.x(), p.y(), p.z()}); }

Json checks_json(const Centring& centring) {
  Json out = Json::array();
  for (const CentringCheck& check : centring.checks)
    out.push_back({{"name", check.name},
                   {"demand", check.demand},
                   {"resistance", check.resistance},
                   {"unit", check.unit},
                   {"utilisation", check.utilisation},
                   {"place", check.place},
                   {"stage", check.stage},
                   {"source", check.source}});
  return out;
}

Json ribs_json(const Centring& centring) {
  Json out = Json::array();
  for (const RibFinding& rib : centring.rib_findings)
    out.push_back({{"rib", rib.rib},
                   {"load_n", rib.load_n},
                   {"deflection_m", rib.deflection_m},
                   {"camber_m", rib.camber_m},
                   {"utilisation", rib.utilisation},
                   {"governs", rib.governs}});
  return out;
}

Json feet_json(const Centring& centring) {
  Json out = Json::array();
  for (const CentringFoot& foot : centring.feet) {
    const auto found = std::ranges::find(centring.foot_findings, foot.id, &FootFinding::foot);
    const bool judged = found != centring.foot_findings.end();
    const auto value = [&](double FootFinding::*member) {
      return judged ? Json((*found).*member) : Json(nullptr);
    };
    out.push_back({{"id", foot.id},
                   {"rib", foot.rib},
                   {"at", point(foot.at)},
                   {"head", point(foot.head)},
                   {"down_m", foot.down_m},
                   {"up_m", foot.up_m},
                   {"load_max_n", value(&FootFinding::load_max_n)},
                   {"design_n", value(&FootFinding::design_n)},
                   {"utilisation", value(&FootFinding::utilisation)},
                   {"held", foot.held},
                   {"held_down", foot.held_down},
                   {"hold_n", value(&FootFinding::hold_n)},
                   {"hold_up_n", value(&FootFinding::hold_up_n)}});
  }
  return out;
}

Json sheets_json(const Centring& centring) {
  Json out = Json::array();
  for (const CutSheet& sheet : centring.sheets) {
    Json parts = Json::array();
    for (const NestedPart& nested : sheet.parts)
      parts.push_back(centring.parts[static_cast<std::size_t>(nested.part)].id);
    out.push_back(
        {{"id", sheet.id}, {"used_share", sheet.used_share}, {"parts", std::move(parts)}});
  }
  return out;
}

Json held_json(const std::vector<SelfHeld>& held) {
  Json list = Json::array();
  for (const SelfHeld& h : held)
    list.push_back({{"block", h.block},
                    {"bed_slope_deg", h.slope_rad * 180 / kPi},
                    {"by_friction", h.by_friction},
                    {"by_weight", h.by_weight},
                    {"timber_saved_m2", h.timber_saved_m2}});
  return list;
}

Json packings_json(const Centring& centring) {
  Json list = Json::array();
  for (const LegPacking& packing : centring.leg_packings)
    list.push_back({{"id", packing.id},
                    {"rib", packing.rib},
                    {"against", packing.other},
                    {"from", point(packing.from)},
                    {"to", point(packing.to)},
                    {"length_m", Json::array({packing.short_m, packing.long_m})},
                    {"width_m", packing.width_m},
                    {"height_m", packing.height_m},
                    {"force_n", packing.force_n}});
  return list;
}

}  // namespace

Json centring_json(const Centring& centring, const std::vector<SelfHeld>& held) {
  double worst = 0;
  for (const CentringCheck& check : centring.checks) worst = std::max(worst, check.utilisation);
  return {{"ribs", centring.ribs.size()},
          {"sheets", centring.sheets.size()},
          {"load_max_n", centring.load_max_n},
          {"deflection_max_m", centring.deflection_max_m},
          {"parts", centring.parts.size()},
          {"sticks", centring.sticks.size()},
          {"seats", centring.seats.size()},
          {"parts_m2", centring.plywood_m2},
          {"timber_m3", centring.timber_m3},
          {"mass_kg", centring.mass_kg},
          {"used_share", centring.used_share},
          {"utilisation", centring.checks.empty() ? Json(nullptr) : Json(worst)},
          {"cut", sheets_json(centring)},
          {"checks", checks_json(centring)},
          {"rib_findings", ribs_json(centring)},
          {"feet", feet_json(centring)},
          {"legs_push_n", centring.legs_push_n},
          {"leg_packings", packings_json(centring)},
          {"self_held", held_json(held)},
          {"remarks", centring.remarks}};
}

}  // namespace skewback::deliver
