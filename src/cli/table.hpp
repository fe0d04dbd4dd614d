#pragma once
// Text tables, and how numbers read in them.

#include <optional>
#include <string>
#include <vector>

#include "stand/stand.hpp"

namespace skewback::cli {

using Row = std::vector<std::string>;

/// First row is the heading; columns are as wide as their widest cell (counted in characters).
[[nodiscard]] std::string table(const std::vector<Row>& rows);

[[nodiscard]] std::string fixed(double value, int decimals);
[[nodiscard]] std::string or_dash(const std::optional<double>& value, double times, int decimals);
[[nodiscard]] std::string scientific(double value);              // "1.3e-14"
[[nodiscard]] std::string verdict_text(const CaseProof& proof);  // "stands (limit only)"
[[nodiscard]] std::string load_factor_text(
    const CaseProof& proof);  // "at least 20.00"; "-" for none
[[nodiscard]] std::string joint_text(const Assembly& assembly, int joint);  // "yard-03 | yard-04"

/// The verdict table of an assembly's cases, with reasons below it. With `most`, only so many:
/// those to worry about first; how many more stand is said.
[[nodiscard]] std::string verdicts(const Assembly& assembly, const std::vector<CaseProof>& proofs,
                                   std::size_t most = 0);

}  // namespace skewback::cli
