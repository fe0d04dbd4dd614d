#include "deliver/facts.hpp"
#include "lodge/arrays.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

Json those(const std::vector<char>& there) {
  Json out = Json::array();
  for (std::size_t i = 0; i < there.size(); ++i)
    if (there[i] != 0) out.push_back(i);
  return out;
}

Verdict verdict_of(const Stage& stage) {
  if (stage.proof.verdict != Verdict::kStands || !stage.working) return stage.proof.verdict;
  return stage.working->verdict;
}

Json stage_json(const Stage& stage) {
  return {{"step", stage.step},
          {"what", stage.what},
          {"words", stage.words},
          {"verdict", word(verdict_of(stage))},
          {"blocks", those(stage.state.present)},
          {"seats", those(stage.state.seated)},
          {"crown_drop_m", stage.crown_drop_m},
          {"opening_m", stage.opening_max_m},
          {"tie_n", stage.tie_n},
          {"people", stage.working.has_value()},
          {"placed", stage.blocks},
          {"lowered_m", stage.lowered_m},
          {"seat_load_n", stage.seat_load_n},
          {"laid", stage.state.laid}};
}

/// The first at which every block is there.
Json key_stage(const Programme& programme) {
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    const auto& present = programme.stages[i].state.present;
    if (std::ranges::all_of(present, [](char c) { return c != 0; })) return i;
  }
  return nullptr;
}

}  // namespace

std::optional<Sheaf> stages_view(const Dossier& dossier) {
  if (!dossier.programme) return std::nullopt;
  Json stages = Json::array();
  for (const Stage& stage : dossier.programme->stages) stages.push_back(stage_json(stage));
  Sheaf sheaf;
  sheaf.head = {{"view", "stages"},
                {"stages", std::move(stages)},
                {"key_stage", key_stage(*dossier.programme)}};
  return sheaf;
}

}  // namespace skewback::lodge
