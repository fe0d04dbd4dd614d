#include "deliver/motion_json.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/constants.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;  // numbers are written as short as reads back the same

Json json(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }

const std::string& name(const RecordedMotion& r, int block) {
  static const std::string none;
  return block < 0 ? none : r.assembly->blocks[static_cast<std::size_t>(block)].id;
}

Json case_json(const RecordedMotion& r) {
  Json live = Json::array();
  for (const LiveForce& f : r.load->live)
    live.push_back(
        {{"block", name(r, f.block)}, {"point", json(f.point)}, {"force", json(f.force)}});
  return {{"id", r.load->id},
          {"gravity", json(r.load->gravity)},
          {"live", live},
          {"live_acceleration", json(r.load->live_acceleration)}};
}

Json present_json(const RecordedMotion& r) {
  if (r.scene.present.empty()) return nullptr;
  Json ids = Json::array();
  for (std::size_t i = 0; i < r.scene.present.size(); ++i)
    if (r.scene.present[i] != 0) ids.push_back(r.assembly->blocks[i].id);
  return ids;
}

Json props_json(const RecordedMotion& r) {
  Json all = Json::array();
  for (std::size_t i = 0; i < r.scene.pushers.size(); ++i) {
    const Pusher& p = r.scene.pushers[i];
    Json one = {{"block", name(r, p.block)},
                {"point", json(p.point)},
                {"direction", json(p.direction)},
                {"friction", p.friction},
                {"lowered_m", p.lowered_m}};
    if (i < r.motion.pushers.size()) {
      one["force_n"] = json(r.motion.pushers[i].force);
      one["at"] = json(r.motion.pushers[i].point);
    }
    all.push_back(std::move(one));
  }
  return all;
}

Json carried_json(const RecordedMotion& r) {
  if (!r.own_carried) return nullptr;
  Json all = Json::array();
  for (const Block& block : r.assembly->blocks)
    for (const CarriedMass& mass : block.carried)
      all.push_back({{"block", block.id}, {"mass", mass.mass_kg}, {"point", json(mass.point)}});
  return all;
}

Json shaking_json(const Shaking& shaking) {
  Json accelerations = Json::array();
  for (const Vec3& a : shaking.acceleration) accelerations.push_back(json(a));
  return {{"time_s", shaking.time_s}, {"acceleration_m_s2", accelerations}};
}

Json scene_json(const RecordedMotion& r) {
  const Scene& s = r.scene;
  Json moves = Json::array(), removals = Json::array(), drops = Json::array();
  for (const GroundMove& m : s.moves)
    moves.push_back({{"block", name(r, m.block)},
                     {"shift_m", json(m.shift)},
                     {"turn_rad", json(m.turn)},
                     {"about", json(m.about)},
                     {"from_s", m.from_s},
                     {"over_s", m.over_s}});
  for (const Removal& m : s.removals)
    removals.push_back({{"block", name(r, m.block)}, {"at_s", m.at_s}});
  for (const Drop& d : s.drops)
    drops.push_back({{"block", name(r, d.block)},
                     {"point", json(d.point)},
                     {"up", json(d.up)},
                     {"mass_kg", d.mass_kg},
                     {"height_m", d.height_m},
                     {"at_s", d.at_s},
                     {"kn", d.kn}});
  Json out = {{"words", r.words},
              {"load_factor", s.load_factor},
              {"ground", moves},
              {"removals", removals},
              {"drops", drops}};
  out["shaking"] = s.shaking.time_s.empty() ? Json(nullptr) : shaking_json(s.shaking);
  out["friction"] = s.friction ? Json(*s.friction) : Json(nullptr);
  out["present"] = present_json(r);
  out["props"] = props_json(r);
  out["carried"] = carried_json(r);
  return out;
}

Json options_json(const MotionOptions& o) {
  return {{"damping", word(o.damping)}, {"settling", o.settling},
          {"rocking", o.rocking},       {"dry_kn", o.dry_kn},
          {"dry_ks", o.dry_ks},         {"creep", o.creep},
          {"edge_share", o.edge_share}, {"step_share", o.step_share},
          {"put_on_s", o.put_on_s},     {"time_most_s", o.time_most_s},
          {"steps_most", o.steps_most}, {"rest_share", o.rest_share},
          {"far_m", o.far_m},           {"find_again", o.find_again}};
}

Json energy_json(const EnergyLedger& e) {
  return {{"kinetic", e.kinetic}, {"strain", e.strain},     {"brought", e.brought},
          {"ground", e.ground},   {"contacts", e.contacts}, {"settled", e.settled},
          {"rubbed", e.rubbed},   {"dashed", e.dashed},     {"found_again", e.found_again},
          {"error_rel", e.error}};
}

Json figures_json(const RecordedMotion& r) {
  const Motion& m = r.motion;
  return {{"ending", word(m.ending)},
          {"reason", m.reason},
          {"time_s", m.time_s},
          {"step_s", m.step_s},
          {"steps", m.steps},
          {"points", m.points},
          {"contact_updates", m.contact_updates},
          {"moved_max_m", m.moved_max_m},
          {"moved_block", m.moved_block < 0 ? Json(nullptr) : Json(name(r, m.moved_block))},
          {"turned_max_rad", m.turned_max_rad},
          {"speed_max_m_s", m.speed_max},
          {"unbalanced_rel", m.unbalanced},
          {"found_again", m.found_again},
          {"new_contacts", m.new_contacts},
          {"slips", m.slips},
          {"energy_j", energy_json(m.energy)}};
}

Json joint_json(const RecordedMotion& r, std::size_t j) {
  const Joint& joint = r.assembly->joints[j];
  const JointMotion& m = r.motion.joints[j];
  return {{"a", name(r, joint.a)},       {"b", name(r, joint.b)},
          {"force_n", json(m.force)},    {"origin", json(m.origin)},
          {"moment_nm", json(m.moment)}, {"normal_n", m.normal_n},
          {"shear_n", m.shear_n},        {"slid_m", m.slid_m},
          {"opened_m", m.opened_m},      {"slipping_share", m.slipping_share}};
}

Json frame_json(const MotionFrame& frame) {
  Json poses = Json::array();
  for (const BlockPose& p : frame.blocks)
    poses.push_back(
        {p.centre.x(), p.centre.y(), p.centre.z(), p.turn.w(), p.turn.x(), p.turn.y(), p.turn.z()});
  return {{"time_s", frame.time_s}, {"poses", poses}};
}

/// One entry a line.
template <class Entry>
std::string lines(std::size_t count, Entry entry) {
  std::string text = "[";
  for (std::size_t i = 0; i < count; ++i) text += (i == 0 ? "\n    " : ",\n    ") + entry(i).dump();
  return text + "\n  ]";
}

std::string millimetres(double metres) { return figures(1e3 * metres, 3) + " mm"; }

std::string millions(double count) {
  return count < 1e6 ? figures(count / 1e3, 3) + " thousand" : figures(count / 1e6, 3) + " million";
}

}  // namespace

std::string motion_json(const RecordedMotion& r) {
  Json blocks = Json::array();
  for (const Block& block : r.assembly->blocks) blocks.push_back(block.id);
  std::string text = "{\n  \"format\": \"recorded motion\",\n  \"version\": 1";
  const auto add = [&](const std::string& key, const std::string& value) {
    text += ",\n  \"" + key + "\": " + value;
  };
  add("case", case_json(r).dump());
  add("scene", scene_json(r).dump());
  add("options", options_json(r.options).dump());
  const Json figures = figures_json(r);
  for (const auto& [key, value] : figures.items()) add(key, value.dump());
  add("joints", lines(r.motion.joints.size(), [&](std::size_t j) { return joint_json(r, j); }));
  add("blocks", blocks.dump());
  add("frames",
      lines(r.motion.frames.size(), [&](std::size_t k) { return frame_json(r.motion.frames[k]); }));
  return text + "\n}\n";
}

std::string motion_figures_json(const std::vector<RecordedMotion>& records) {
  Json cases = Json::array();
  for (const RecordedMotion& r : records) {
    Json one = {{"id", r.load->id}, {"load_factor", r.scene.load_factor}};
    one["damping"] = word(r.options.damping);
    one.update(figures_json(r));
    cases.push_back(std::move(one));
  }
  const bool rest = std::ranges::all_of(
      records, [](const RecordedMotion& r) { return r.motion.ending == Ending::kAtRest; });
  return Json{
             {"recorded_motion", true}, {"ok", rest}, {"required", Json::array()}, {"cases", cases}}
             .dump(2) +
         "\n";
}

std::string motion_words(const RecordedMotion& r) {
  const Motion& m = r.motion;
  std::string text =
      m.ending == Ending::kAtRest      ? "comes to rest after " + figures(m.time_s, 3) + " s; "
      : m.ending == Ending::kMovingOff ? "MOVES OFF: after " + figures(m.time_s, 3) + " s "
                                       : "NOT SETTLED after " + figures(m.time_s, 3) + " s; ";
  if (m.moved_block >= 0) {
    const bool off = m.ending == Ending::kMovingOff;
    text += name(r, m.moved_block) + (off ? " has gone " : " is ") + millimetres(m.moved_max_m) +
            (off ? "" : " from its place");
    if (m.ending != Ending::kAtRest)
      text += ", the fastest block goes at " + figures(m.speed_max, 2) + " m/s";
  }
  if (m.turned_max_rad > 1e-3)
    text += "; a block has turned " + figures(m.turned_max_rad * 180 / kPi, 2) + " degrees";
  if (m.ending == Ending::kNotSettled) text += "; " + m.reason;
  return text + "; energy error " + scientific(m.energy.error) + ", " +
         millions(m.contact_updates) + " contact updates";
}

}  // namespace skewback::deliver
