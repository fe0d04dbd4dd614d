#include "deliver/motion_asked.hpp"

#include "deliver/motion_rose.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

Json maybe(const std::optional<double>& v) { return v ? Json(*v) : Json(nullptr); }

Json id_of(const Assembly& assembly, int block) {
  return block < 0 ? Json(nullptr) : Json(assembly.blocks[static_cast<std::size_t>(block)].id);
}

Json between(const Between& b) {
  return {{"low", b.low}, {"high", b.high}, {"together", b.together}};
}

}  // namespace

Json raised_json(const Assembly& assembly, const std::vector<RaisedCase>& cases) {
  Json all = Json::array();
  for (const RaisedCase& c : cases)
    all.push_back(
        {{"id", c.id},
         {"held", maybe(c.collapse.held)},
         {"moved_off", maybe(c.collapse.moved_off)},
         {"not_settled", maybe(c.collapse.not_settled)},
         {"at_least", c.collapse.at_least},
         {"found", c.collapse.found()},
         {"falling_block",
          c.collapse.moved_off ? id_of(assembly, c.collapse.falling.moved_block) : Json(nullptr)},
         {"tries", c.collapse.tries}});
  return {{"asked", "raise"}, {"cases", all}};
}

Json drawn_json(const Assembly& assembly, const std::vector<DrawnCase>& cases) {
  Json all = Json::array();
  for (const DrawnCase& c : cases) {
    Json draws = Json::array();
    for (const OneDraw& d : c.ensemble.draws)
      draws.push_back({{"ending", word(d.ending)},
                       {"time_s", d.time_s},
                       {"moved_max_m", d.moved_max_m},
                       {"moved_block", id_of(assembly, d.moved_block)},
                       {"friction_mean", d.friction_mean},
                       {"friction_least", d.friction_least},
                       {"gap_max_m", d.gap_max_m}});
    all.push_back({{"id", c.id},
                   {"seed", c.asked.seed},
                   {"friction_times", between(c.asked.friction)},
                   {"stiffness_times", between(c.asked.stiffness)},
                   {"gap_m", between(c.asked.gap_m)},
                   {"confidence", c.asked.confidence},
                   {"at_rest", c.ensemble.at_rest},
                   {"moving_off", c.ensemble.moving_off},
                   {"not_settled", c.ensemble.not_settled},
                   {"probability", c.ensemble.probability},
                   {"low", c.ensemble.low},
                   {"high", c.ensemble.high},
                   {"worst", c.ensemble.worst},
                   {"draws", draws}});
  }
  return {{"asked", "draws"}, {"cases", all}};
}

Json footings_json(const Assembly& assembly, const std::vector<FootingsCase>& cases) {
  Json all = Json::array();
  for (const FootingsCase& c : cases) {
    Json one = {{"id", c.id}};
    one.update(motion_reach_json(assembly, c.reaches));
    all.push_back(std::move(one));
  }
  return {{"asked", "footings"}, {"cases", all}};
}

}  // namespace skewback::deliver
