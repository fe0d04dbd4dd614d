// Bolts, with their nuts and washers: one in each hole of a pair of splice plates, one in each end
// of a brace.

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/constants.hpp"
#include "centring/bolt.hpp"
#include "centring/brace_room.hpp"
#include "centring/fixings_parts.hpp"
#include "centring/judge_parts.hpp"

namespace skewback {
namespace {

constexpr double kHolePlay_m = 1e-3;  // of a hole over its bolt
constexpr const char* kGrade = "4.6";

struct Bolted {
  std::string where, rule;
  int mm = 0;  // diameter
  double through_m = 0;
  int number = 0;
  std::vector<std::string> at;
};

/// "R3ab" of "R3ab+" and "R3ab-": the plates of one joint.
std::string joint_of(const std::string& plate) {
  return plate.ends_with('+') || plate.ends_with('-') ? plate.substr(0, plate.size() - 1) : plate;
}

double hole_m(const Polygon& hole) { return std::sqrt(4 * std::abs(area(hole)) / kPi); }

void add(std::vector<Bolted>& all, const Bolted& more) {
  const auto alike = std::ranges::find_if(all, [&](const Bolted& b) {
    return b.where == more.where && b.mm == more.mm &&
           std::abs(b.through_m - more.through_m) < 5e-4;
  });
  if (alike == all.end()) {
    all.push_back(more);
    return;
  }
  alike->number += more.number;
  alike->at.insert(alike->at.end(), more.at.begin(), more.at.end());
}

void splices(const Brief& brief, const Centring& centring, std::vector<Bolted>& all, Fixings& out) {
  std::vector<std::pair<std::string, std::vector<const SheetPart*>>> joints;
  for (const SheetPart& part : centring.parts) {
    if (part.kind != "splice") continue;
    const std::string id = joint_of(part.id);
    auto joint = std::ranges::find(joints, id,
                                   &std::pair<std::string, std::vector<const SheetPart*>>::first);
    if (joint == joints.end()) joint = joints.insert(joints.end(), {id, {}});
    joint->second.push_back(&part);
  }
  for (const auto& [id, plates] : joints) {
    const auto& holes = plates.front()->outline.holes;
    if (holes.empty()) {
      out.missing.push_back("Plates of " + id + " have no holes: their bolts are not listed.");
      continue;
    }
    const double bolt_m = hole_m(holes.front()) - kHolePlay_m;
    add(all, {"splice of a rib",
              "one in each hole of a pair of plates, through plates and rib",
              static_cast<int>(std::lround(1e3 * bolt_m)),
              static_cast<double>(plates.size() + 1) * brief.centring.sheet_thickness_m,
              static_cast<int>(holes.size()),
              {id}});
  }
  std::size_t spliced = 0;
  for (const Rib& rib : centring.ribs) spliced += rib.splices.size();
  if (spliced > joints.size())
    out.missing.push_back("Joints of ribs: " + std::to_string(spliced - joints.size()) + " of " +
                          std::to_string(spliced) + " have no plates and no bolts.");
}

void brace_ends(const Brief& brief, const Centring& centring, std::vector<Bolted>& all,
                Fixings& out) {
  int braces = 0;
  for (const Stick& stick : centring.sticks) {
    if (stick.kind != "brace") continue;
    ++braces;
    if (centring.brace_bolt_m <= 0) continue;
    add(all, {"end of a brace",
              "one in each end, through board and post, on the post's axis; heights: parts.csv",
              static_cast<int>(std::lround(1e3 * centring.brace_bolt_m)),
              std::min(stick.width_m, stick.depth_m) + brief.centring.post_m,
              2,
              {stick.id}});
  }
  if (braces > 0 && centring.brace_bolt_m <= 0)
    out.missing.push_back("Ends of braces: " + std::to_string(2 * braces) +
                          ", no bolt was chosen for them.");
}

/// Boards, bolts and packings of braces that lie in one another, boards in posts.
void say_what_meets(const Brief& brief, const Centring& centring, Fixings& out) {
  std::vector<std::pair<const Stick*, std::vector<Box>>> all;
  for (const Stick& stick : centring.sticks)
    if (std::vector<Box> room = room_of_brace(stick, brief.centring.post_m); !room.empty())
      all.emplace_back(&stick, std::move(room));
  std::vector<std::string> named;
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t j = i + 1; j < all.size(); ++j)
      if (in_each_others_way(all[i].second, all[j].second))
        named.push_back(all[i].first->id + " and " + all[j].first->id);
  for (const auto& [brace, room] : all)
    for (const Stick& post : centring.sticks)
      if (brace->kind == "brace" && post.kind == "post" && runs_through(*brace, post))
        named.push_back(brace->id + " and " + post.id);
  if (!named.empty())
    out.missing.push_back(
        "Braces whose boards, bolts or packings are in each other's way: " + named_ids(named) +
        ". One of each two has to be moved, by someone who checks what it then "
        "holds; taller or thicker posts leave more room.");
}

}  // namespace

void list_bolts(const Brief& brief, const Centring& centring, Fixings& out) {
  std::vector<Bolted> all;
  splices(brief, centring, all, out);
  brace_ends(brief, centring, all, out);
  say_what_meets(brief, centring, out);
  std::map<int, int> by_size;
  for (const Bolted& b : all) {
    const BoltSet set = bolt_through(b.mm / 1e3, b.through_m);
    out.rows.push_back({"bolt", b.where, set.name(), kGrade, b.number, b.through_m, 0, b.at,
                        b.rule + "; long enough for two washers, the nut and two turns past it"});
    by_size[b.mm] += b.number;
  }
  for (const auto& [mm, number] : by_size) {
    const BoltSet set = bolt_through(mm / 1e3, 0);
    const std::string name = "M" + std::to_string(mm);
    out.rows.push_back({"nut", "bolts", name, "", number, 0, 0, {}, "one on each bolt"});
    out.rows.push_back({"washer",
                        "bolts",
                        name + ", " + size_in_mm(set.washer_across_m) + " across, " +
                            size_in_mm(set.washer_m) + " thick at least",
                        "",
                        2 * number,
                        0,
                        0,
                        {},
                        "two on each bolt: 3 d across, 0.3 d thick (EN 1995-1-1, 10.4.3, from "
                        "memory)"});
  }
}

}  // namespace skewback
