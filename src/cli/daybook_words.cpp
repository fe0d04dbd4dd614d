#include "cli/daybook_words.hpp"

#include <map>
#include <set>

#include "brief/text.hpp"
#include "cli/table.hpp"
#include "daybook/event_json.hpp"

namespace skewback::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDay_s = 86400;

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& w : words) text += (text.empty() ? "" : ", ") + w;
  return text;
}

/// "49 blocks, 51 copies: 36 not made, 15 placed.", in the order of a block's life.
std::string count_by_standing(const DayPlan& plan, const std::vector<CopyLife>& all) {
  std::map<Standing, int> count;
  for (const CopyLife& life : all) ++count[life.standing];
  std::string text = std::to_string(plan.blocks.size()) + " blocks";
  if (all.size() != plan.blocks.size()) text += ", " + std::to_string(all.size()) + " copies";
  const char* before = ": ";
  for (const auto& [standing, n] : count) {
    text += before + std::to_string(n) + " " + word(standing);
    before = ", ";
  }
  return text + ".\n";
}

std::string until(double seconds) {
  if (seconds <= 0) return "should be here by now";
  if (seconds < kDay_s) return "could be here in " + fixed(seconds / 3600, 1) + " hours";
  return "could be here in " + fixed(seconds / kDay_s, 1) + " days";
}

}  // namespace

Json events_json(const std::vector<BlockEvent>& events) {
  Json list = Json::array();
  for (const BlockEvent& e : events) list.push_back(event_json(e));
  return list;
}

std::string events_table(const std::vector<BlockEvent>& events) {
  std::set<std::int64_t> taken_back;
  for (const BlockEvent& e : events)
    if (e.cancels) taken_back.insert(*e.cancels);
  std::vector<Row> rows{{"no.", "block", "event", "when", "who", "note", "photo"}};
  for (const BlockEvent& e : events) {
    std::string what = e.cancels ? "takes back " + std::to_string(*e.cancels) : word(e.what);
    if (taken_back.contains(e.number)) what += " (taken back)";
    rows.push_back({std::to_string(e.number), copy_name(e.block, e.copy), what, moment_text(e.at),
                    e.who, e.note, e.photo});
  }
  return table(rows);
}

std::vector<CopyLife> copies_to_list(const DayPlan& plan, const std::vector<BlockEvent>& events) {
  const std::vector<CopyLife> written = lives(plan, events);
  std::vector<CopyLife> out;
  for (const PlannedBlock& block : plan.blocks) {
    bool found = false;
    for (const CopyLife& life : written) {
      if (life.block != block.id) continue;
      out.push_back(life);
      found = true;
    }
    if (!found) {
      out.emplace_back();
      out.back().block = block.id;
    }
  }
  return out;
}

Json lives_json(const DayPlan& plan, const std::vector<CopyLife>& all) {
  Json list = Json::array();
  for (const CopyLife& life : all) {
    const PlannedBlock* block = find_block(plan, life.block);
    list.push_back(
        {{"block", life.block},
         {"copy", life.copy},
         {"order", block == nullptr ? Json(nullptr) : Json(block->order)},
         {"standing", word(life.standing)},
         {"checked", life.checked},
         {"since",
          life.standing == Standing::kNotMade ? Json(nullptr) : Json(moment_text(life.since))}});
  }
  return list;
}

std::string lives_table(const DayPlan& plan, const std::vector<CopyLife>& all) {
  std::vector<Row> rows{{"order", "block", "kg", "standing", "checked", "since"}};
  for (const CopyLife& life : all) {
    const PlannedBlock* block = find_block(plan, life.block);
    rows.push_back({block == nullptr ? "-" : std::to_string(block->order),
                    copy_name(life.block, life.copy),
                    block == nullptr ? "-" : fixed(block->mass_kg, 0), word(life.standing),
                    life.checked ? "yes" : "-",
                    life.standing == Standing::kNotMade ? "-" : moment_text(life.since)});
  }
  return table(rows) + count_by_standing(plan, all);
}

Json now_json(const NowReport& r) {
  Json missing = nullptr, placed_over = Json::array(), under = Json::array(),
       lacking = Json::array();
  for (const UnderPlaced& u : r.under_placed)
    under.push_back({{"name", u.name}, {"take_down_first", u.first}});
  for (const LackingBlock& b : r.struck_without)
    lacking.push_back({{"block", b.block}, {"standing", word(b.standing)}});
  for (const PlacedOver& p : r.placed_over)
    placed_over.push_back({{"block", p.block}, {"missing", p.missing}});
  if (r.missing)
    missing = {{"block", r.missing->block},
               {"copy", r.missing->copy},
               {"standing", word(r.missing->standing)},
               {"ready_s", r.missing->ready_s},
               {"held_back", r.missing->held_back},
               {"held_on_site", r.missing->held_on_site}};
  return {{"ok", true},
          {"blocks", r.blocks},
          {"placed", r.placed},
          {"on_site", r.on_site},
          {"broken", r.broken},
          {"next", r.next ? Json(*r.next) : Json(nullptr)},
          {"struck", r.struck},
          {"walkway_laid", r.walkway_laid},
          {"can_be_placed", r.can_be_placed},
          {"for_centring", r.for_centring},
          {"not_yet", r.not_yet},
          {"placed_over", placed_over},
          {"under_placed", under},
          {"struck_without", lacking},
          {"works_before", r.works_before},
          {"missing", missing}};
}

std::string now_words(const DayPlan& plan, const NowReport& r) {
  std::string text = alarm_words(r);
  if (!text.empty()) text += "\n";
  text +=
      plan.title + ": " + std::to_string(r.placed) + " of " + std::to_string(r.blocks) +
      " placed, " + std::to_string(r.on_site) + " more on site" +
      (r.broken > 0 ? ", " + std::to_string(r.broken) + " broken without another" : std::string()) +
      ".\n";
  for (const PlacedOver& p : r.placed_over)
    text +=
        "WARNING: " + p.block +
        " is recorded as placed, but what must be there before it is not: " + listed(p.missing) +
        ". Look on site, then correct what is written or what is built.\n";
  if (const std::string first = centring_words(r); !first.empty()) text += first + "\n";
  if (!r.next) return text + "All are in place.\n";
  text += "Next in order: " + *r.next + ".\n";
  if (!r.works_before.empty())
    text +=
        "Before anything is placed, and not recorded as done: " + listed(r.works_before) + ".\n";
  text += r.can_be_placed.empty() ? "Nothing on site can be placed now.\n"
                                  : "Can be placed now: " + listed(r.can_be_placed) + ".\n";
  if (!r.for_centring.empty())
    text += "On site, and could be placed but for that: " + listed(r.for_centring) + ".\n";
  for (const UnderPlaced& under : r.under_placed) text += under_words(under) + "\n";
  if (!r.not_yet.empty())
    text += "On site, but something it needs is missing: " + listed(r.not_yet) + ".\n";
  if (!r.missing) return text + "All that is left is on site.\n";
  const Waiting& w = *r.missing;
  text +=
      "First that is missing: " + w.block + ", " + word(w.standing) +
      (w.copy > 1 ? " (copy " + std::to_string(w.copy) + ")" : "") + "; " + until(w.ready_s) +
      " by the likely times" +
      (w.standing == Standing::kNotMade || w.standing == Standing::kBroken ? ", if it is made next"
                                                                           : "") +
      ".\n";
  if (w.held_back > 0)
    text += "  " + std::to_string(w.held_back) + " cannot be placed before it, " +
            std::to_string(w.held_on_site) + " of them on site.\n";
  else
    text += "  No other block waits for it.\n";
  return text + "A design aid: the licensed engineer and the person in charge on site decide.\n";
}

Fault unknown_block(const DayPlan& plan, const std::string& name) {
  std::vector<std::string> names = works_of(plan);
  for (const PlannedBlock& block : plan.blocks) names.push_back(block.id);
  const std::string near = nearest_word(name, names);
  return {"",
          0,
          0,
          "block",
          '"' + name + "\", no such block",
          "a block of " + plan.bridge,
          near.empty() ? "see skewback daybook DIR list" : "did you mean \"" + near + "\"?"};
}

}  // namespace skewback::cli
