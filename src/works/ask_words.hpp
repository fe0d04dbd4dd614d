#pragma once
// Private to works/: what was found, in plain sentences.

#include "works/ask_ties.hpp"

namespace skewback {

struct AskedProof {
  const AskedBridge& bridge;
  const AskedBlocks& blocks;
  const Question& question;
  const AskedLoad& load;
  const CaseProof& proof;
  bool quick = false;
  const CaseProof* unasked = nullptr;  // the case as it is; null: not proved yet
  std::optional<TiesOut> ties;
  std::optional<double> friction_least;  // where the friction asked does not do
};

/// The greatest share of what can be measured.
[[nodiscard]] std::vector<Measure> measures(const AskedProof& found);  // greatest share first
[[nodiscard]] std::vector<std::string> words_of(const AskedProof& found,
                                                const std::vector<Measure>& measured);

}  // namespace skewback
