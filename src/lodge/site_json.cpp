#include "lodge/site_json.hpp"

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <set>

#include "brief/text.hpp"
#include "daybook/event_json.hpp"
#include "daybook/work_order.hpp"
#include "deliver/labels.hpp"

namespace skewback::lodge {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kLastEvents = 50;

struct CopyName {
  std::string block;
  int copy = 1;
};
std::optional<CopyName> split_name(const std::string& name) {
  const std::size_t slash = name.find('/');
  CopyName out{name.substr(0, slash), 1};
  if (slash == std::string::npos) return out;
  const char* const end = name.data() + name.size();
  const auto read = std::from_chars(name.data() + slash + 1, end, out.copy);
  if (read.ec != std::errc{} || read.ptr != end || out.copy < 1 || out.copy > 999)
    return std::nullopt;
  return out;
}

CopyLife life_of(const std::vector<CopyLife>& all, const CopyName& name) {
  for (const CopyLife& life : all)
    if (life.block == name.block && life.copy == name.copy) return life;
  CopyLife none;
  none.block = name.block;
  none.copy = name.copy;
  return none;
}

Json life_json(const CopyLife& life) {
  return {{"name", copy_name(life.block, life.copy)},
          {"copy", life.copy},
          {"standing", word(life.standing)},
          {"checked", life.checked},
          {"since",
           life.standing == Standing::kNotMade ? Json(nullptr) : Json(moment_text(life.since))}};
}

/// Copies that were written of; copy 1 where none was.
Json copies_json(const std::vector<CopyLife>& all, const std::string& block) {
  Json list = Json::array();
  for (const CopyLife& life : all)
    if (life.block == block) list.push_back(life_json(life));
  if (list.empty()) list.push_back(life_json(life_of(all, {block, 1})));
  return list;
}

Json point_json(const Vec3& p) { return {p.x(), p.y(), p.z()}; }

/// What the plan says of a block, and which of its copies counts.
Json planned_json(const PlannedBlock& block, const std::vector<CopyLife>& all) {
  const CopyLife life = foremost(all, block.id);
  return {{"id", block.id},
          {"order", block.order},
          {"mass_kg", block.mass_kg},
          {"made", block.made},
          {"up", block.up},
          {"centre_m", point_json(block.centre)},
          {"needs", block.needs},
          {"joints", block.joints},
          {"standing", word(life.standing)},
          {"name", copy_name(life.block, life.copy)},
          {"copies", copies_json(all, block.id)}};
}

std::optional<BlockEvent> done_event(const DayPlan& plan, const std::vector<BlockEvent>& events,
                                     const std::string& work) {
  return done_as_it_is(plan, in_force(events), work);
}

Json missing_json(const std::optional<Waiting>& missing) {
  if (!missing) return nullptr;
  return {{"name", copy_name(missing->block, missing->copy)},
          {"standing", word(missing->standing)},
          {"ready_s", missing->ready_s},
          {"held_back", missing->held_back},
          {"held_on_site", missing->held_on_site}};
}

/// What the plan has for a block, or for the work, with when it would be over if each took its
/// likely time.
Json steps_json(const DayPlan& plan, const std::string& of, const std::vector<BlockEvent>& events) {
  Json list = Json::array();
  if (!plan.network) return list;
  const std::vector<Activity>& all = plan.network->activities;
  std::vector<double> likely;
  for (const Activity& a : all) likely.push_back(a.likely_s);
  const std::vector<double> finish = finishes(*plan.network, likely);
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].block.empty() ? all[i].id != of : all[i].block != of) continue;
    Json after = Json::array();
    for (const int k : all[i].after) {
      const Activity& before = all[static_cast<std::size_t>(k)];
      after.push_back({{"id", before.id},
                       {"work", before.block.empty()},
                       {"done", before.block.empty() && done_event(plan, events, before.id)}});
    }
    const std::string end = clock_after(plan.network->start, finish[i]);
    list.push_back({{"id", all[i].id},
                    {"kind", all[i].kind},
                    {"after", after},
                    {"likely_end", end.empty() ? Json(nullptr) : Json(end)}});
  }
  return list;
}

Json fault_json(const Fault& fault) {
  const Fault plain = for_phone(fault);
  return {{"found", plain.found}, {"expected", plain.expected}, {"says", describe(plain)}};
}

/// Every event, allowed or not, and whether saying "even so" would let it through.
Json next_json(const DayPlan& plan, const std::vector<BlockEvent>& events, const CopyName& name,
               const Moment& now) {
  Json list = Json::array();
  for (const std::string& said : words_to_record()) {
    BlockEvent next;
    next.block = name.block;
    next.copy = name.copy;
    next.what = *happened(said);
    next.at = next.written = now;
    const bool is_block = find_block(plan, name.block) != nullptr;
    const bool for_both = next.what == Happened::kNote;
    if (!for_both && is_block == (next.what == Happened::kDone)) continue;
    const auto wrong = objection(plan, events, next, false);
    list.push_back({{"event", said},
                    {"allowed", !wrong},
                    {"even_so", wrong && !objection(plan, events, next, true)},
                    {"objection", wrong ? fault_json(*wrong) : Json(nullptr)}});
  }
  return list;
}

std::vector<BlockEvent> events_of(const std::vector<BlockEvent>& events, const CopyName& name,
                                  bool every_copy) {
  std::vector<BlockEvent> out;
  for (const BlockEvent& e : events)
    if (e.block == name.block && (every_copy || e.copy == name.copy)) out.push_back(e);
  return out;
}

/// First number no copy has yet: a spare is recorded under it.
int next_copy(const std::vector<BlockEvent>& events, const std::string& block) {
  int last = 1;
  for (const BlockEvent& e : events)
    if (e.block == block) last = std::max(last, e.copy);
  return last + 1;
}

Json neighbours_json(const DayPlan& plan, const std::vector<CopyLife>& all,
                     const std::vector<std::string>& names) {
  Json list = Json::array();
  for (const std::string& name : names) {
    const bool ground = find_block(plan, name) == nullptr;
    const Standing standing = foremost(all, name).standing;
    list.push_back({{"id", name},
                    {"ground", ground},
                    {"standing", ground ? Json(nullptr) : Json(word(standing))},
                    {"in_place", ground || standing == Standing::kPlaced}});
  }
  return list;
}

Json work_json(const DayPlan& plan, const std::vector<BlockEvent>& events, const std::string& work,
               const Moment& now) {
  const auto done = done_event(plan, events, work);
  return {{"name", work},
          {"work", true},
          {"standing", done ? "done" : "not done"},
          {"since", done ? Json(moment_text(done->at)) : Json(nullptr)},
          {"steps", steps_json(plan, work, events)},
          {"next", next_json(plan, events, {work, 1}, now)},
          {"events", events_json(events_of(events, {work, 1}, true), events)}};
}

}  // namespace

Json events_json(const std::vector<BlockEvent>& of_these, const std::vector<BlockEvent>& all) {
  std::set<std::int64_t> taken_back;
  for (const BlockEvent& e : all)
    if (e.cancels) taken_back.insert(*e.cancels);
  Json list = Json::array();
  for (const BlockEvent& e : of_these) {
    Json event = event_json(e);
    event["name"] = copy_name(e.block, e.copy);
    event["taken_back"] = taken_back.contains(e.number);
    list.push_back(std::move(event));
  }
  return list;
}

Json site_json(const DayPlan& plan, const std::vector<BlockEvent>& events, const Moment& now) {
  const std::vector<CopyLife> all = lives(plan, events);
  const NowReport report = what_now(plan, events, now);
  Json blocks = Json::array(), works = Json::array(), placed_over = Json::array(),
       under = Json::array();
  for (const UnderPlaced& u : report.under_placed) under.push_back(under_words(u));
  for (const PlacedOver& p : report.placed_over)
    placed_over.push_back({{"block", p.block}, {"missing", p.missing}});
  for (const PlannedBlock& block : plan.blocks) blocks.push_back(planned_json(block, all));
  for (const std::string& work : works_of(plan))
    works.push_back({{"id", work}, {"done", done_event(plan, events, work).has_value()}});
  const std::size_t from = events.size() > kLastEvents ? events.size() - kLastEvents : 0;
  return {{"bridge", plan.bridge},
          {"title", plan.title},
          {"assembly", plan.assembly_sha256.substr(0, 12)},
          {"now", moment_text(now)},
          {"number", events.empty() ? 0 : events.back().number},
          {"placed", report.placed},
          {"on_site", report.on_site},
          {"broken", report.broken},
          {"next", report.next ? Json(*report.next) : Json(nullptr)},
          {"alarm", alarm_words(report)},
          {"centring", centring_words(report)},
          {"can_be_placed", report.can_be_placed},
          {"for_centring", report.for_centring},
          {"not_yet", report.not_yet},
          {"placed_over", placed_over},
          {"under_placed", under},
          {"works_before", report.works_before},
          {"missing", missing_json(report.missing)},
          {"blocks", blocks},
          {"works", works},
          {"events", events_json({events.begin() + static_cast<std::ptrdiff_t>(from), events.end()},
                                 events)}};
}

Json copy_json(const DayPlan& plan, const std::vector<BlockEvent>& events, const std::string& name,
               const Moment& now) {
  const CopyName asked = split_name(name).value_or(CopyName{name, 1});
  const PlannedBlock* const block = find_block(plan, asked.block);
  if (block == nullptr) return work_json(plan, events, name, now);
  const std::vector<CopyLife> all = lives(plan, events);
  std::vector<std::string> on, then;
  for (const std::string& neighbour : block->joints) {
    const PlannedBlock* const other = find_block(plan, neighbour);
    (other != nullptr && other->order > block->order ? then : on).push_back(neighbour);
  }
  Json slings = Json::array();
  for (const Vec3& p : block->slings) slings.push_back(point_json(p));
  Json out = life_json(life_of(all, asked));
  out.update({{"work", false},
              {"block", block->id},
              {"order", block->order},
              {"of", plan.blocks.size()},
              {"mass_kg", block->mass_kg},
              {"made", block->made},
              {"up", block->up},
              {"centre_m", point_json(block->centre)},
              {"on", neighbours_json(plan, all, on)},
              {"then", neighbours_json(plan, all, then)},
              {"needs", neighbours_json(plan, all, block->needs)},
              {"slings_m", slings},
              {"held_by", block->held_by.empty() ? Json(nullptr) : Json(block->held_by)},
              {"strap_n", block->strap_n},
              {"wind_m_s", block->wind_m_s ? Json(*block->wind_m_s) : Json(nullptr)},
              {"label", deliver::label_code(plan, *block, copy_name(asked.block, asked.copy))},
              {"copies", copies_json(all, block->id)},
              {"next_copy", copy_name(block->id, next_copy(events, block->id))},
              {"steps", steps_json(plan, block->id, events)},
              {"next", next_json(plan, events, asked, now)},
              {"events", events_json(events_of(events, asked, true), events)}});
  return out;
}

std::optional<Fault> no_such_name(const DayPlan& plan, const std::string& name) {
  std::vector<std::string> names = works_of(plan);
  if (std::ranges::find(names, name) != names.end()) return std::nullopt;
  const auto asked = split_name(name);
  if (asked && find_block(plan, asked->block) != nullptr) return std::nullopt;
  for (const PlannedBlock& block : plan.blocks) names.push_back(block.id);
  const std::string near = nearest_word(asked ? asked->block : name, names);
  return Fault{"",
               0,
               0,
               "block",
               in_quotes(name),
               "a block of " + plan.bridge + ", or a copy of one: o4/2",
               near.empty() ? "see the list" : "did you mean \"" + near + "\"?"};
}

Fault for_phone(Fault fault) {
  fault.file = std::filesystem::path(fault.file).filename().string();
  const auto put = [&](const std::string& from, const std::string& to) {
    const std::size_t at = fault.change.find(from);
    if (at != std::string::npos) fault.change.replace(at, from.size(), to);
  };
  put("--when", "its time");
  put("--even-so", "even so");
  if (fault.change.starts_with("see skewback daybook")) fault.change = "see the list";
  if (fault.change.find(" begin --plan") != std::string::npos)
    fault.change = "it is begun on the machine itself";
  return fault;
}

}  // namespace skewback::lodge
