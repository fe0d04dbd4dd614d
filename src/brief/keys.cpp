#include "brief/keys.hpp"

#include <algorithm>

namespace skewback {

const std::vector<Key>& keys() {
  static const std::vector<Key> all = [] {
    std::vector<Key> list;
    for (const auto& part : {bridge_and_plan(), shape_and_stuff(), loads_on_it(), ground_and_ties(),
                             making_and_checking(), printing(), actions_and_factors(),
                             strength_and_soil(), access_and_price(), centring_keys(),
                             lifting_and_transport(), spares_and_time(), survey_and_packing()})
      list.insert(list.end(), part.begin(), part.end());
    return list;
  }();
  return all;
}

const std::vector<Heading>& headings() {
  static const std::vector<Heading> all = {
      {"bridge", true, "What it is called.", nullptr},
      {"plan", true, "The bridge seen from above: x east, y north, lengths in plan.", nullptr},
      {"plan.support[]", false,
       "One table for each springing line; two or more. Of lines in the plan's file only what is "
       "not "
       "drawn: the level.",
       [](Draft& d, std::size_t n) { d.supports.resize(n); }},
      {"plan.round_opening[]", false, "One table for each round hole through the deck.",
       [](Draft& d, std::size_t n) { d.round_openings.resize(n); }},
      {"form", true, "The shape to be found.", nullptr},
      {"form.height[]", false,
       "One table for each point that the middle surface is to pass through.",
       [](Draft& d, std::size_t n) { d.brief.form.heights.resize(n); }},
      {"form.stay_under[]", false, "One table for each line that the extrados is to stay under.",
       [](Draft& d, std::size_t n) { d.brief.form.stay_under.resize(n); }},
      {"form.thrust[]", false, "One table for each support that may take no more than some thrust.",
       [](Draft& d, std::size_t n) { d.thrusts.resize(n); }},
      {"section", true, "The depth of the blocks, and what is inside them.", nullptr},
      {"material", true, "What the blocks are made of.", nullptr},
      {"blocks", true, "How the body is divided.", nullptr},
      {"joints", false, "What is between the blocks.", nullptr},
      {"walkway", false, "The carried deck that people walk on.", nullptr},
      {"parapet", false, "Parapets along the free edges: carried, or an upstand of the blocks.",
       nullptr},
      {"loads", false, "What comes and goes.", nullptr},
      {"required", false, "What must be met for the run to end with exit code 0.", nullptr},
      {"ground", false, "Footings and what ties them together.", nullptr},
      {"ground.tie[]", false, "One table for each tie drawn between two footings.",
       [](Draft& d, std::size_t n) { d.ties.resize(n); }},
      {"factors", false,
       "Partial factors and combination values. The defaults are no choice of the place where you "
       "build: its national annex rules.",
       nullptr},
      {"strength", false, "What a block is held to.", nullptr},
      {"soil", false, "The ground under the footings.", nullptr},
      {"access", false, "What the walk is held to.", nullptr},
      {"rates", false, "Your own prices; what is left out is not priced.", nullptr},
      {"carbon", false,
       "kg CO2e per kg from a declaration of the product, in place of the built-in range.",
       nullptr},
      {"print", false,
       "The printing cell: bead, robot, table, fresh mix. Layers run from bed to bed.", nullptr},
      {"centring", false,
       "What carries the blocks until the last is in: timber cut from sheets, on posts.", nullptr},
      {"erect", false, "The order of work.", nullptr},
      {"lifting", false, "Crane, slings, and a block's strength when it is lifted.", nullptr},
      {"lifting.chart[]", false, "One table for each line of the crane's chart.",
       [](Draft& d, std::size_t n) { d.brief.lifting.chart.resize(n); }},
      {"transport", false, "Pallets, lorries, the road.", nullptr},
      {"spares", false, "Which blocks are made twice.", nullptr},
      {"programme", false,
       "How long things take; three figures are the least, the likely and the most.", nullptr},
      {"site", false, "Where the bridge lies in the coordinates of the site.", nullptr},
      {"survey", false, "The footings as they were really built.", nullptr},
      {"survey.point[]", false, "One table for each measured mark.",
       [](Draft& d, std::size_t n) { d.survey.points.resize(n); }},
      {"packing", false, "What may put a joint right.", nullptr},
      {"tolerances", false,
       "How far each trade may be off: every error is drawn, and the bridge packed, many times.",
       nullptr},
  };
  return all;
}

const Key* find_key(const std::string& path) {
  const auto it =
      std::find_if(keys().begin(), keys().end(), [&](const Key& k) { return k.path == path; });
  return it == keys().end() ? nullptr : &*it;
}

const Heading* find_heading(const std::string& path) {
  const auto it = std::find_if(headings().begin(), headings().end(),
                               [&](const Heading& s) { return s.path == path; });
  return it == headings().end() ? nullptr : &*it;
}

std::string leaf_of(const std::string& path) {
  std::string leaf = path.substr(path.rfind('.') + 1);  // npos + 1 is 0
  if (leaf.ends_with("[]")) leaf.resize(leaf.size() - 2);
  return leaf;
}

std::string section_of(const std::string& path) {
  const auto dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
}

}  // namespace skewback
