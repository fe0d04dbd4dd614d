#pragma once
// Private to works/: a question made into blocks, loads and movements of the feet.

#include "works/ask.hpp"

namespace skewback {

/// What all questions about one bridge share. The dossier has its blocks cut.
struct AskedBridge {
  std::shared_ptr<const Dossier> dossier;
  Regions surface;                // that people may walk on
  std::vector<Regions> outlines;  // per block, of what it carries
  std::vector<int> ground;        // block per support, -1: none
  std::vector<Tie> ties;          // as laid
  [[nodiscard]] const Assembly& assembly() const { return dossier->cut->assembly; }
  [[nodiscard]] const Brief& brief() const { return dossier->brief; }
};
[[nodiscard]] AskedBridge asked_bridge(std::shared_ptr<const Dossier> dossier);

/// Everything that is wrong with a question, keys as in its JSON.
[[nodiscard]] Faults faults_of(const AskedBridge& bridge, const Question& question);

/// The bridge without blocks, with another friction in every joint; no cases.
struct AskedBlocks {
  Assembly assembly;
  std::vector<int> block_of, joint_of;  // index in the bridge
  std::vector<int> now;                 // per block of the bridge: index here, -1: taken away
};
[[nodiscard]] AskedBlocks blocks_of(const AskedBridge& bridge, const Question& question);

struct AskedLoad {
  LoadCase load;                   // on AskedBlocks; what is asked has factor 1 on it
  std::vector<std::string> words;  // what crowds come to; what went with blocks taken away
};
[[nodiscard]] AskedLoad load_of(const AskedBridge& bridge, const AskedBlocks& blocks,
                                const Question& question);

/// Of the ground blocks in AskedBlocks.
[[nodiscard]] std::vector<BlockMove> pushed_feet(const AskedBridge& bridge,
                                                 const AskedBlocks& blocks,
                                                 const std::vector<Question::Push>& pushes);

[[nodiscard]] const LoadCase* case_of(const Assembly& assembly, const std::string& id);

/// printf of one number.
[[nodiscard]] std::string figure_as(const char* format, double value);

}  // namespace skewback
