#include "base/constants.hpp"
#include "deliver/facts.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/survey_sheets.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

Json vector(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }
double degrees(double rad) { return rad * 180 / kPi; }

Json footings_json(const Dossier& dossier) {
  const Refit& refit = *dossier.refit;
  const auto found = footings_found(dossier);
  const std::vector<MarkFound> marks = marks_found(dossier.brief, refit);
  Json out = Json::array();
  for (std::size_t k = 0; k < refit.footings.size() && k < refit.supports.size(); ++k) {
    const RigidFit& fit = refit.footings[k];
    Json left_out = Json::array();
    for (const MarkFound& mark : marks)
      if (mark.support == refit.supports[k] && mark.outlier) left_out.push_back(mark.name);
    out.push_back({{"id", refit.supports[k]},
                   {"fit_rms_m", fit.rms_m},
                   {"moved_m", vector(found[k].moved)},
                   {"turned_deg", found[k].turn_deg},
                   {"residual_max_m", fit.worst_m},
                   {"left_out", left_out},
                   {"suspicion", fit.suspicion}});
  }
  return out;
}

Json blocks_json(const Assembly& assembly, const MeasuredBlocks& measured) {
  Json out = Json::array();
  for (const MeasuredBlock& m : measured.blocks)
    out.push_back({{"id", assembly.blocks[static_cast<std::size_t>(m.block)].id},
                   {"length_error_m", m.length_m},
                   {"wedge_deg", degrees(m.wedge_rad)},
                   {"twist_deg", degrees(m.twist_rad)},
                   {"bow_m", m.bow_m},
                   {"warp_m", m.warp_m},
                   {"finding", m.finding}});
  return out;
}

Json in_place_json(const std::vector<BlockInPlace>& blocks) {
  Json out = Json::array();
  for (const BlockInPlace& b : blocks)
    out.push_back({{"id", b.block},
                   {"marks", b.marks},
                   {"off_m", vector(b.off_m)},
                   {"worst_m", b.worst_m},
                   {"worst", b.worst},
                   {"off_drawn_m", b.off_drawn_m},
                   {"beyond", b.beyond},
                   {"lies_at", b.lies_at},
                   {"finding", b.finding}});
  return out;
}

Json packing_json(const Assembly& assembly, const Packed& packed) {
  Json stock = Json::array(), joints = Json::array();
  for (const StockNeed& need : stock_needed(packed))
    stock.push_back(
        {{"thickness_m", need.thickness_m}, {"used", need.used}, {"to_have", need.to_have}});
  for (const int j : packed_joints(packed)) {
    int places = 0;
    double thickest = 0;
    for (const Packer& packer : packed.packers) {
      if (packer.joint != j) continue;
      ++places;
      thickest = std::max(thickest, packer.thickness_m());
    }
    joints.push_back(
        {{"joint", joint_name(assembly, j)}, {"places", places}, {"thickest_m", thickest}});
  }
  Json pads = Json::array();
  for (const OtherPad& pad : packed.pads)
    pads.push_back({{"joint", joint_name(assembly, pad.joint)},
                    {"by_m", pad.by_m()},
                    {"in_place_of_m", pad.in_place_of_m},
                    {"sheets_m", pad.from_stock}});
  const Json fewest = packed.fewest ? Json{{"edge_places", packed.fewest->places},
                                           {"no_fewer_than", packed.fewest->bound}}
                                    : Json(nullptr);
  return {{"goes_in", packed.goes_in},
          {"reason", packed.reason},
          {"fewest", fewest},
          {"packed_joints", packed.packed_joints},
          {"gaps_m", packed.packers_m},
          {"thickest_m", packed.thickest_m},
          {"other_pads", pads},
          {"stock", stock},
          {"joints", joints}};
}

Json springers_json(const std::vector<Support>& supports, const Assembly& assembly,
                    const Packed& packed) {
  Json out = Json::array();
  for (std::size_t k = 0; k < packed.springers.size() && k < packed.springer.size(); ++k) {
    const BedError& bed = packed.springer[k];
    const auto s = static_cast<std::size_t>(packed.springers[k]);
    out.push_back(
        {{"support", s < supports.size() ? supports[s].id : ""},
         {"joint",
          k < packed.springer_joints.size() ? joint_name(assembly, packed.springer_joints[k]) : ""},
         {"height_m", bed.height_m},
         {"slope", {bed.slope.x(), bed.slope.y()}},
         {"corner_m", bed.corner_m}});
  }
  return out;
}

Json feet_json(const FeetSet& feet) {
  Json list = Json::array(), open = Json::array();
  for (const FootSetting& foot : feet.feet)
    list.push_back({{"id", foot.foot},
                    {"raise_m", foot.raise_m},
                    {"by_wedge_m", foot.by_wedge_m},
                    {"trim_m", foot.trim_m},
                    {"pack_m", foot.pack_m},
                    {"within", foot.within},
                    {"aside_m", foot.aside_m}});
  for (const SeatGap& gap : feet.gaps)
    open.push_back(
        {{"rib", gap.rib}, {"block", gap.block}, {"along_m", gap.along_m}, {"gap_m", gap.gap_m}});
  return {{"set", list}, {"gap_max_m", feet.gap_max_m}, {"open", open}, {"remarks", feet.remarks}};
}

Json trials_json(const std::vector<RemedyTrial>& trials) {
  Json out = Json::array();
  for (const RemedyTrial& t : trials)
    out.push_back({{"name", t.name},
                   {"goes_in", t.goes_in},
                   {"chosen", t.chosen},
                   {"other_pads", t.other_pads},
                   {"packers", t.packers},
                   {"packed_joints", t.packed_joints},
                   {"gaps_m", t.packers_m},
                   {"thickest_m", t.thickest_m},
                   {"feet_trimmed", t.feet_trimmed},
                   {"reason", t.reason}});
  return out;
}

Json gaps_json(const Refit& refit) {
  if (refit.proofs.empty()) return nullptr;
  return {{"cases", refit.gaps.cases},
          {"balanced", refit.gaps.balanced},
          {"reason", refit.gaps.reason},
          {"drop_m", refit.gaps.drop_m},
          {"joint_stress_max_pa", refit.gaps.peak_pa},
          {"joint", refit.gaps.peak_joint}};
}

Json table_json(const std::vector<Before>& table) {
  Json out = Json::array();
  for (const Before& row : table)
    out.push_back({{"what", row.what},
                   {"key_goes_in", row.key_goes_in},
                   {"load_factor", number(row.load_factor)},
                   {"governing", row.governing},
                   {"joint_stress_max_pa", number(row.joint_stress_max_pa)},
                   {"friction_needed", number(row.friction_needed)},
                   {"verdict", row.verdict}});
  return out;
}

Json again_json(const BlocksAgain& again) {
  Json out = {{"bridge", again.bridge}, {"daybook", again.stock.has_value()}};
  Json& supports = out["supports"] = Json::array();
  for (const SupportAgain& s : again.supports)
    supports.push_back({{"id", s.before}, {"here", s.here}});
  if (!again.stock) return out;
  out["missing"] = again.stock->missing();
  out["unchecked"] = again.stock->unchecked();
  out["in_place"] = again.stock->in_place();
  return out;
}

}  // namespace

Json survey_json(const Dossier& dossier) {
  const Refit& refit = *dossier.refit;
  const Assembly* drawn = assembly_of(dossier);
  const Assembly& names = drawn != nullptr ? *drawn : refit.as_built;
  Json out = {
      {"fit_rms_m", refit.whole.rms_m},
      {"offset_max_m", refit.offset_max_m},
      {"packers", refit.packers},
      {"load_factor_after", number(refit.load_factor_after)},
      {"key_goes_in", refit.key_goes_in},
      {"finding", refit.finding},
      {"shifted", refit.shifted},
      {"shift_m", vector(refit.axes.t)},
      {"footings", footings_json(dossier)},
      {"stacked", {{"key_goes_in", refit.stack.key_goes_in}, {"finding", refit.stack.finding}}},
      {"packing", packing_json(names, refit.packed)},
      {"springers", springers_json(dossier.brief.plan.supports, names, refit.packed)},
      {"blocks", blocks_json(names, refit.blocks)},
      {"blocks_in_place", in_place_json(refit.in_place)},
      {"trials", trials_json(refit.trials)},
      {"table", table_json(refit.table)},
      {"gaps", gaps_json(refit)},
      {"crown_lower_m", refit.crown_lower_m},
      {"measure_again", refit.measure_again},
      {"unfit", refit.unfit}};
  if (refit.stages > 0) {
    out["stages"] = refit.stages;
    out["stages_standing"] = refit.stages_standing;
  }
  if (dossier.again) out["blocks_again"] = again_json(*dossier.again);
  out["remarks"] = refit.remarks;
  out["feet"] = refit.feet ? feet_json(*refit.feet) : Json(nullptr);
  return out;
}

}  // namespace skewback::deliver
