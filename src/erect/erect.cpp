#include "erect/erect.hpp"

#include <algorithm>
#include <atomic>
#include <map>
#include <set>
#include <tuple>

#include "base/parallel.hpp"
#include "centring/soffit.hpp"
#include "erect/working.hpp"

namespace skewback {
namespace {

constexpr int kContactPoints =
    12;  // fewer than for the finished bridge: on the safe side, and quick

bool is_key(const Block& block) { return block.place.arm < 0; }

/// Blocks in the order of work, in groups that go together: a course of every arm, keys last.
std::vector<std::vector<int>> groups_of(const Assembly& assembly) {
  std::vector<int> order;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    if (!assembly.blocks[i].fixed) order.push_back(i);
  }
  const auto group = [&](int i) {
    const Block& block = assembly.blocks[i];
    return std::pair(is_key(block), block.place.course);
  };
  std::ranges::stable_sort(order, {}, [&](int i) {
    const BlockPlace& place = assembly.blocks[i].place;
    return std::tuple(group(i), place.arm, place.place);
  });
  std::vector<std::vector<int>> groups;
  for (const int i : order) {
    if (groups.empty() || group(groups.back().front()) != group(i)) groups.emplace_back();
    groups.back().push_back(i);
  }
  return groups;
}

LoadCase dead_load(const Assembly& assembly) {
  const auto it = std::ranges::find_if(assembly.cases, [](const auto& c) { return !c.has_live(); });
  if (it != assembly.cases.end()) return *it;
  LoadCase dead;
  dead.id = "dead";
  return dead;
}

Stage stage_of(const Assembly& assembly, int step, const char* what,
               const std::vector<int>& group) {
  Stage stage;
  stage.step = step;
  stage.what = what;
  for (const int i : group) stage.blocks.push_back(assembly.blocks[i].id);
  return stage;
}

/// By the pads, where they have a state.
double largest_seat_force(const CaseProof& proof) {
  const auto* forces =
      proof.pads && proof.pads->found ? &proof.pads->forces : std::get_if<Forces>(&proof.evidence);
  double largest = 0;
  for (const PropForce& seat : forces == nullptr ? std::vector<PropForce>{} : forces->props)
    largest = std::max(largest, seat.force.norm());
  return largest;
}

/// The pads stage after stage, each going on from the one before: slips stay, a new block is laid
/// without pressure on its neighbours as they have moved. Ends where a stage has no state. Returns
/// what each stage leaves.
std::vector<PadHistory> settle_in_order(const Brief& brief, const Assembly& assembly,
                                        const LoadCase& dead, Programme& programme,
                                        const Progress& progress) {
  std::vector<PadHistory> left;
  PadHistory history;
  history.placed.assign(assembly.blocks.size(), 0);
  history.moves.resize(assembly.blocks.size());
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    progress.checkpoint("erect: pads",
                        static_cast<double>(i) / static_cast<double>(programme.stages.size()));
    CaseProof& proof = programme.stages[i].proof;
    const StandOptions options = stage_options(brief, assembly, programme, i);
    PadState state = PadModel(assembly, options).solve(dead, {}, &history);
    const bool found = state.found;
    if (found) history = state.after;
    join_views(assembly, std::move(state), proof);
    if (!found) break;
    left.push_back(history);
  }
  return left;
}

void try_building_loads(const Brief& brief, const Assembly& assembly,
                        const std::vector<PadHistory>& left, Programme& programme,
                        const Progress& progress) {
  const BuildingLoads loads(brief, assembly);
  std::atomic<std::size_t> done = 0;
  for_each_index(programme.stages.size(), [&](std::size_t i) {
    const StandOptions options = stage_options(brief, assembly, programme, i);
    programme.stages[i].working = under_building_loads(assembly, options, loads.on(options.present),
                                                       i < left.size() ? &left[i] : nullptr);
    progress.checkpoint("erect: people and wind",
                        static_cast<double>(++done) / static_cast<double>(programme.stages.size()));
  });
}

}  // namespace

StandOptions stage_options(const Brief& brief, const Assembly& assembly, const Programme& programme,
                           std::size_t stage) {
  std::set<std::string> placed, seated;
  for (std::size_t i = 0; i <= stage; ++i) {
    for (const std::string& id : programme.stages[i].blocks) {
      if (programme.stages[i].what == "place") {
        placed.insert(id);
        seated.insert(id);
      } else {
        seated.erase(id);
      }
    }
  }
  StandOptions options;
  options.contact_points_max = kContactPoints;
  options.load_factor_cap = brief.loads.cap;
  for (const Block& block : assembly.blocks) {
    options.present.push_back(block.fixed || placed.contains(block.id));
  }
  for (const Prop& seat : programme.seats) {
    if (seated.contains(assembly.blocks[seat.block].id)) options.props.push_back(seat);
  }
  return options;
}

Programme plan_erection(const Brief& brief, const Assembly& assembly, const Progress& progress) {
  Programme programme;
  const auto groups = groups_of(assembly);
  int step = 0;
  std::vector<int> order;
  for (const auto& group : groups) order.insert(order.end(), group.begin(), group.end());
  const std::vector<Entry> entries = entry_directions(assembly, order);
  auto entry = entries.begin();
  for (const auto& group : groups) {
    for (const int i : group) {
      programme.order.push_back(assembly.blocks[i].id);
      const auto seats = seats_of(assembly, i, brief.centring.friction);
      programme.seats.insert(programme.seats.end(), seats.begin(), seats.end());
    }
    programme.stages.push_back(stage_of(assembly, ++step, "place", group));
    const auto size = static_cast<std::ptrdiff_t>(group.size());
    programme.stages.back().entry.assign(entry, entry + size);
    entry += size;
  }
  for (auto group = groups.rbegin(); group != groups.rend(); ++group) {
    programme.stages.push_back(stage_of(assembly, ++step, "strike", *group));
  }

  const LoadCase dead = dead_load(assembly);
  std::atomic<std::size_t> done = 0;
  for_each_index(programme.stages.size(), [&](std::size_t i) {
    Stage& stage = programme.stages[i];
    stage.proof = limit_load(assembly, dead, stage_options(brief, assembly, programme, i));
    progress.checkpoint("erect: limit",
                        static_cast<double>(++done) / static_cast<double>(programme.stages.size()));
  });
  const std::vector<PadHistory> left = settle_in_order(brief, assembly, dead, programme, progress);
  for (Stage& stage : programme.stages) stage.seat_force_max_n = largest_seat_force(stage.proof);
  try_building_loads(brief, assembly, left, programme, progress);
  return programme;
}

}  // namespace skewback
