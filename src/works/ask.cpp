#include "works/ask.hpp"

#include <algorithm>
#include <list>
#include <mutex>
#include <utility>

#include "base/timing.hpp"
#include "stand/prove_steps.hpp"
#include "works/ask_words.hpp"
#include "works/live.hpp"

namespace skewback {
namespace {

/// Blocks as asked and their pads made ready: kept, since a load that is walked about asks for the
/// same again and again.
struct Ready {
  Ready(AskedBlocks made, const StandOptions& options)
      : blocks(std::move(made)), pads(blocks.assembly, options) {}
  AskedBlocks blocks;
  PadModel pads;  // refers to the blocks beside it
};

struct ReadyKey {
  std::vector<std::string> without;
  std::optional<double> friction;
  bool operator==(const ReadyKey&) const = default;
};

const CaseProof* proof_of(const Dossier& dossier, const std::string& id) {
  const auto it = std::ranges::find(dossier.proofs, id, &CaseProof::id);
  return it == dossier.proofs.end() || it->reason == kNotProvedYet ? nullptr : &*it;
}

/// The state of the case unasked is near the one sought. The same question has the same answer,
/// whatever was asked before.
std::optional<PadHistory> guess(const AskedBlocks& blocks, const CaseProof* unasked) {
  if (unasked == nullptr || !unasked->pads || !unasked->pads->found) return std::nullopt;
  std::vector<BlockVelocity> moves;
  for (const int block : blocks.block_of)
    moves.push_back(unasked->pads->moves[static_cast<std::size_t>(block)]);
  return guess_from(blocks.assembly, moves);
}

CaseProof by_pads_alone(const Ready& ready, const LoadCase& load, const PadOptions& pads,
                        const CaseProof* unasked) {
  const std::optional<PadHistory> start = guess(ready.blocks, unasked);
  CaseProof proof;
  proof.id = load.id;
  proof.pads = ready.pads.solve(load, pads, start ? &*start : nullptr);
  proof.views = {"pads"};
  proof.residual_rel = proof.pads->residual_rel;
  if (!proof.pads->found) {
    proof.reason = "no state of the pads was found: " + proof.pads->reason;
    return proof;
  }
  proof.verdict = Verdict::kStands;
  proof.joint_stress_max_pa = proof.pads->peak_pa;
  proof.governing_joint = proof.pads->peak_joint;
  judge_far_moves(ready.blocks.assembly, load, ready.pads, pads, proof);
  return proof;
}

}  // namespace

struct Asker::Inside {
  static constexpr std::size_t kKept = 4;

  std::optional<AskedBridge> bridge;
  std::mutex guard;
  std::list<std::pair<ReadyKey, std::shared_ptr<const Ready>>> kept;  // last asked first

  std::shared_ptr<const Ready> ready_for(const Question& question) {
    ReadyKey key{question.without_blocks, question.friction};
    std::ranges::sort(key.without);
    const std::lock_guard lock(guard);
    const auto it = std::ranges::find(kept, key, [](const auto& entry) { return entry.first; });
    if (it != kept.end()) {
      kept.splice(kept.begin(), kept, it);
    } else {
      kept.emplace_front(key, std::make_shared<const Ready>(blocks_of(*bridge, question),
                                                            bridge->dossier->stand_options));
      if (kept.size() > kKept) kept.pop_back();
    }
    return kept.front().second;
  }
};

Asker::Asker(std::shared_ptr<const Dossier> proved) : inside_(std::make_unique<Inside>()) {
  if (proved && proved->cut) inside_->bridge = asked_bridge(std::move(proved));
}
Asker::~Asker() = default;

Result<Answer> Asker::answer(const Question& question, bool quick) const {
  const Stopwatch watch;
  if (!inside_->bridge)
    return Fault{.found = "a bridge that was not cut into blocks",
                 .expected = "blocks to ask about: wait until they are cut"};
  const AskedBridge& bridge = *inside_->bridge;
  if (Faults faults = faults_of(bridge, question); !faults.empty()) return faults;

  const std::shared_ptr<const Ready> ready = inside_->ready_for(question);
  const AskedLoad load = load_of(bridge, ready->blocks, question);
  const CaseProof* unasked = proof_of(*bridge.dossier, question.case_id);
  PadOptions pads;
  pads.moves = pushed_feet(bridge, ready->blocks, question.pushes);
  Answer out;
  out.assembly = ready->blocks.assembly;
  out.block_of = ready->blocks.block_of;
  out.load = load.load;
  out.proof = quick ? by_pads_alone(*ready, load.load, pads, unasked)
                    : prove(out.assembly, load.load, bridge.dossier->stand_options, pads);

  AskedProof found{bridge, ready->blocks, question, load, out.proof, quick, unasked, {}, {}};
  const bool held = out.proof.pads && out.proof.pads->found;
  if (!question.without_ties.empty() && held) {
    found.ties =
        take_ties_out(bridge, ready->blocks, out.proof.pads->forces, question.without_ties);
    const bool slides = std::ranges::any_of(found.ties->bare, &BareFoot::slides);
    if (!quick && slides && found.ties->soil_known(bridge.brief()))
      found.ties->way =
          give_way(bridge, ready->blocks, ready->pads, load.load,
                   ties_left(bridge, question.without_ties), *out.proof.pads, pads.moves);
    join_ground(bridge.brief(), *found.ties, out.proof);
  }
  if (!quick && question.friction && out.proof.verdict != Verdict::kStands)
    found.friction_least = least_friction(out.assembly, load.load, load.load.has_live() ? 1.0 : 0.0,
                                          bridge.dossier->stand_options);
  const std::vector<Measure> measured = measures(found);
  if (!measured.empty()) out.governing = measured.front();
  out.words = words_of(found, measured);
  out.took_s = watch.seconds();
  return out;
}

}  // namespace skewback
