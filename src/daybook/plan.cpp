#include "daybook/plan.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>
#include <utility>

namespace skewback {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFormat = 2;  // 1: "cradle" for "held_by"

constexpr std::array<std::pair<const char*, const char*>, 2> kUndone = {
    {{"walkway", kWalkwayUp}, {"striking", kCentringBack}}};  // by kind

/// Said of the file as it is read; becomes one fault.
struct PlanFault : std::runtime_error {
  std::string key;
  PlanFault(std::string at, const std::string& what)
      : std::runtime_error(what), key(std::move(at)) {}
};

Json point_json(const Vec3& p) { return {p.x(), p.y(), p.z()}; }

template <typename T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json block_json(const PlannedBlock& block) {
  Json slings = Json::array();
  for (const Vec3& p : block.slings) slings.push_back(point_json(p));
  return {{"id", block.id},
          {"order", block.order},
          {"mass_kg", block.mass_kg},
          {"made", block.made},
          {"needs", block.needs},
          {"joints", block.joints},
          {"up", block.up},
          {"centre_m", point_json(block.centre)},
          {"slings_m", slings},
          {"held_by", block.held_by.empty() ? Json(nullptr) : Json(block.held_by)},
          {"strap_n", block.strap_n},
          {"wind_m_s", or_null(block.wind_m_s)},
          {"print_s", block.print_s},
          {"cure_s", block.cure_s},
          {"journey_s", block.journey_s},
          {"lead_s", block.lead_s()}};
}

Json network_json(const DayPlan& plan) {
  const Network& network = *plan.network;
  Json activities = Json::array(), breakages = Json::array();
  for (const Activity& a : network.activities) {
    Json after = Json::array();
    for (const int i : a.after) after.push_back(network.activities[static_cast<std::size_t>(i)].id);
    activities.push_back({{"id", a.id},
                          {"block", a.block},
                          {"kind", a.kind},
                          {"least_s", a.least_s},
                          {"likely_s", a.likely_s},
                          {"most_s", a.most_s},
                          {"after", after}});
  }
  for (const PlannedBreakage& b : plan.breakages)
    breakages.push_back({{"place", b.place},
                         {"share", b.share},
                         {"again_s", b.again_s},
                         {"cure_s", b.cure_s},
                         {"journey_s", b.journey_s},
                         {"spare", b.spare},
                         {"swap_s", b.swap_s}});
  return {{"start", network.start},
          {"week", network.calendar.week()},
          {"holidays", network.calendar.holidays()},
          {"activities", activities},
          {"breakages", breakages}};
}

// ---- reading -----------------------------------------------------------------------------------

template <typename T>
T get(const Json& from, const std::string& key, const std::string& at) {
  const auto it = from.find(key);
  if (it == from.end()) throw PlanFault(at + key, "nothing");
  try {
    return it->template get<T>();
  } catch (const Json::exception&) {
    throw PlanFault(at + key, it->dump());
  }
}

/// Null, or not there in a plan of before it was written.
template <typename T>
std::optional<T> get_if_said(const Json& from, const std::string& key, const std::string& at) {
  const auto it = from.find(key);
  if (it == from.end() || it->is_null()) return std::nullopt;
  return get<T>(from, key, at);
}

double amount(const Json& from, const std::string& key, const std::string& at) {
  const auto value = get<double>(from, key, at);
  if (!(value >= 0)) throw PlanFault(at + key, from.at(key).dump());
  return value;
}

Vec3 point(const Json& from, const std::string& at) {
  if (!from.is_array() || from.size() != 3) throw PlanFault(at, from.dump());
  for (const Json& number : from)
    if (!number.is_number()) throw PlanFault(at, from.dump());
  return {from[0].get<double>(), from[1].get<double>(), from[2].get<double>()};
}

PlannedBlock read_block(const Json& from, const std::string& at) {
  PlannedBlock block;
  block.id = get<std::string>(from, "id", at);
  if (block.id.empty() || block.id.find('/') != std::string::npos)
    throw PlanFault(at + "id", '"' + block.id + '"');
  block.order = get<int>(from, "order", at);
  block.mass_kg = amount(from, "mass_kg", at);
  block.made = get<std::string>(from, "made", at);
  block.needs = get<std::vector<std::string>>(from, "needs", at);
  block.joints = get<std::vector<std::string>>(from, "joints", at);
  block.up = get<std::string>(from, "up", at);
  block.centre = point(get<Json>(from, "centre_m", at), at + "centre_m");
  for (const Json& p : get<Json>(from, "slings_m", at))
    block.slings.push_back(point(p, at + "slings_m"));
  if (from.contains("strap_n")) block.strap_n = amount(from, "strap_n", at);
  block.held_by = get_if_said<std::string>(from, "held_by", at).value_or("");
  if (!block.held_by.empty() && block.held_by != "slings" && block.held_by != "slings and straps" &&
      block.held_by != "cradle")
    throw PlanFault(at + "held_by", from.at("held_by").dump());
  if (const auto cradle = get_if_said<bool>(from, "cradle", at))  // of format 1: slings do not
    block.held_by = !*cradle ? "slings" : block.strap_n > 0 ? "slings and straps" : "cradle";
  block.wind_m_s = get_if_said<double>(from, "wind_m_s", at);
  if (block.wind_m_s && *block.wind_m_s < 0)
    throw PlanFault(at + "wind_m_s", from.at("wind_m_s").dump());
  block.print_s = amount(from, "print_s", at);
  block.cure_s = amount(from, "cure_s", at);
  block.journey_s = amount(from, "journey_s", at);
  return block;
}

void read_blocks(const Json& from, DayPlan& plan) {
  const Json list = get<Json>(from, "blocks", "");
  if (!list.is_array() || list.empty()) throw PlanFault("blocks", "no blocks");
  std::set<std::string> seen;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const std::string at = "blocks[" + std::to_string(i + 1) + "].";
    PlannedBlock block = read_block(list[i], at);
    for (const std::string& need : block.needs)
      if (!seen.contains(need)) throw PlanFault(at + "needs", '"' + need + "\", not placed before");
    if (!seen.insert(block.id).second) throw PlanFault(at + "id", "\"" + block.id + "\" twice");
    if (block.order != static_cast<int>(i) + 1)
      throw PlanFault(at + "order", std::to_string(block.order));
    plan.blocks.push_back(std::move(block));
  }
}

Calendar read_calendar(const Json& from, const std::string& start) {
  using Names = std::vector<std::string>;
  const Names week = get_if_said<Names>(from, "week", "network.").value_or(Names());
  const Names holidays = get_if_said<Names>(from, "holidays", "network.").value_or(Names());
  for (const std::string& day : week)
    if (std::ranges::find(kWeekdays, day) == kWeekdays.end())
      throw PlanFault("network.week", '"' + day + '"');
  for (const std::string& date : holidays)
    if (!day_number(date)) throw PlanFault("network.holidays", '"' + date + '"');
  return {start, week, holidays};
}

void read_network(const Json& from, DayPlan& plan) {
  Network network;
  network.start = get<std::string>(from, "start", "network.");
  network.calendar = read_calendar(from, network.start);
  std::map<std::string, int> index;
  for (const Json& one : get<Json>(from, "activities", "network.")) {
    const std::string at =
        "network.activities[" + std::to_string(network.activities.size() + 1) + "].";
    Activity a;
    a.id = get<std::string>(one, "id", at);
    a.block = get<std::string>(one, "block", at);
    a.kind = get<std::string>(one, "kind", at);
    a.least_s = amount(one, "least_s", at);
    a.likely_s = amount(one, "likely_s", at);
    a.most_s = amount(one, "most_s", at);
    for (const auto& before : get<std::vector<std::string>>(one, "after", at)) {
      const auto it = index.find(before);
      if (it == index.end()) throw PlanFault(at + "after", '"' + before + "\", not named before");
      a.after.push_back(it->second);
    }
    if (!index.emplace(a.id, static_cast<int>(network.activities.size())).second)
      throw PlanFault(at + "id", "\"" + a.id + "\" twice");
    network.activities.push_back(std::move(a));
  }
  for (const Json& one : get<Json>(from, "breakages", "network.")) {
    const std::string at = "network.breakages.";
    PlannedBreakage b{get<std::string>(one, "place", at),
                      amount(one, "share", at),
                      amount(one, "again_s", at),
                      amount(one, "swap_s", at),
                      get<bool>(one, "spare", at),
                      get_if_said<double>(one, "cure_s", at).value_or(0),
                      get_if_said<double>(one, "journey_s", at).value_or(0)};
    if (!(b.cure_s >= 0 && b.cure_s <= b.again_s))
      throw PlanFault(at + "cure_s", one.at("cure_s").dump());
    if (!(b.journey_s >= 0 && b.cure_s + b.journey_s <= (1 + 1e-12) * b.again_s))
      throw PlanFault(at + "journey_s", one.at("journey_s").dump());
    if (!index.contains(b.place)) throw PlanFault(at + "place", '"' + b.place + '"');
    plan.breakages.push_back(std::move(b));
  }
  plan.network = std::move(network);
}

}  // namespace

std::string write_plan(const DayPlan& plan) {
  Json blocks = Json::array();
  for (const PlannedBlock& block : plan.blocks) blocks.push_back(block_json(block));
  Json out = {{"format", kFormat},
              {"bridge", plan.bridge},
              {"title", plan.title},
              {"assembly_sha256", plan.assembly_sha256},
              {"blocks", blocks}};
  if (plan.network) out["network"] = network_json(plan);
  return out.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Result<DayPlan> read_plan(const std::string& text, const std::string& file) {
  const std::string change = "give erect/plan.json of a run of this program";
  const Json from = Json::parse(text, nullptr, false);
  if (from.is_discarded() || !from.is_object())
    return Fault{file, 0, 0, "plan", "not a JSON object", "the plan of a run", change};
  try {
    const int format = get<int>(from, "format", "");
    if (format < 1 || format > kFormat)
      return Fault{file,  0, 0, "format", std::to_string(format), "1 to " + std::to_string(kFormat),
                   change};
    DayPlan plan;
    plan.bridge = get<std::string>(from, "bridge", "");
    plan.title = get<std::string>(from, "title", "");
    plan.assembly_sha256 = get<std::string>(from, "assembly_sha256", "");
    read_blocks(from, plan);
    if (from.contains("network")) read_network(from.at("network"), plan);
    return plan;
  } catch (const PlanFault& fault) {
    return Fault{file, 0, 0, fault.key, fault.what(), "as docs/daybook.md says", change};
  }
}

const PlannedBlock* find_block(const DayPlan& plan, const std::string& id) {
  const auto it = std::ranges::find(plan.blocks, id, &PlannedBlock::id);
  return it == plan.blocks.end() ? nullptr : &*it;
}

std::vector<std::string> all_needs(const DayPlan& plan, const std::string& block) {
  std::set<std::string> needed = {block};
  std::vector<std::string> out;
  for (std::size_t i = plan.blocks.size(); i-- > 0;) {  // needs come earlier in the order
    const PlannedBlock& b = plan.blocks[i];
    if (!needed.contains(b.id)) continue;
    needed.insert(b.needs.begin(), b.needs.end());
    if (b.id != block) out.push_back(b.id);
  }
  std::ranges::reverse(out);
  return out;
}

std::vector<std::string> all_that_need(const DayPlan& plan, const std::string& block) {
  std::set<std::string> held = {block};
  std::vector<std::string> out;
  for (const PlannedBlock& b : plan.blocks) {
    if (std::ranges::none_of(b.needs, [&](const auto& need) { return held.contains(need); }))
      continue;
    held.insert(b.id);
    out.push_back(b.id);
  }
  return out;
}

std::vector<std::string> works_of(const DayPlan& plan) {
  std::vector<std::string> out;
  if (plan.network)
    for (const Activity& a : plan.network->activities)
      if (a.block.empty()) out.push_back(a.id);
  for (const auto& [kind, own] : kUndone)
    if (!work_of_kind(plan, kind).empty() && std::ranges::find(out, std::string(own)) == out.end())
      out.emplace_back(own);
  return out;
}

std::string work_of_kind(const DayPlan& plan, const std::string& kind) {
  if (plan.network)
    for (const Activity& a : plan.network->activities)
      if (a.block.empty() && a.kind == kind) return a.id;
  return "";
}

std::string undone_by(const DayPlan& plan, const std::string& work) {
  for (const auto& [kind, own] : kUndone) {
    const std::string planned = work_of_kind(plan, kind);
    if (!planned.empty() && work == planned) return own;
    if (work == own) return planned;
  }
  return "";
}

}  // namespace skewback
