#pragma once
// Blocks of a bridge that was taken down: which are good, what is to be done with each.

#include "deliver/deliver.hpp"

namespace skewback::deliver {

/// What is to be done with a block before it is used: "make anew", "look at it", "use it", "take it
/// down".
[[nodiscard]] std::string to_do(const StockedBlock& block);
/// asbuilt/blocks-again.csv: a block a row, in the order in which they were placed.
[[nodiscard]] std::string blocks_again_csv(const Stock& stock);
/// Which support is which in the brief of this site; empty where all are called the same.
[[nodiscard]] std::string supports_again_words(const BlocksAgain& again);
/// For the report; empty where the blocks are the brief's own.
[[nodiscard]] std::string blocks_again_words(const Dossier& dossier);

}  // namespace skewback::deliver
