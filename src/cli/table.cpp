#include "cli/table.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <numeric>

#include "deliver/facts.hpp"

namespace skewback::cli {
namespace {

std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

const char* const kLimitOnly =
    "  limit only: some set of forces within friction balances every block; neither the state of "
    "the\n"
    "  pads nor motion was computed.\n";

}  // namespace

std::string table(const std::vector<Row>& rows) {
  std::vector<std::size_t> widths;
  for (const Row& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t k = 0; k < row.size(); ++k)
      widths[k] = std::max(widths[k], characters(row[k]));
  }
  std::string text;
  for (const Row& row : rows) {
    std::string line = " ";
    for (std::size_t k = 0; k < row.size(); ++k)
      line += " " + row[k] + std::string(widths[k] - characters(row[k]) + 1, ' ');
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

std::string fixed(double value, int decimals) {
  std::array<char, 64> buffer{};
  std::snprintf(buffer.data(), buffer.size(), "%.*f", decimals, value);
  return buffer.data();
}

std::string or_dash(const std::optional<double>& value, double times, int decimals) {
  return value ? fixed(times * *value, decimals) : "-";
}

std::string scientific(double value) {
  std::array<char, 64> buffer{};
  std::snprintf(buffer.data(), buffer.size(), "%.1e", value);
  return buffer.data();
}

std::string verdict_text(const CaseProof& proof) {
  const bool limit_only =
      proof.verdict == Verdict::kStands && proof.views == std::vector<std::string>{"limit"};
  return std::string(word(proof.verdict)) + (limit_only ? " (limit only)" : "");
}

std::string load_factor_text(const CaseProof& proof) {
  if (!proof.load_factor) return "-";
  if (proof.pads_load_factor && !proof.pads_at_cap)
    return fixed(*proof.load_factor, 2) + ", pads " + fixed(*proof.pads_load_factor, 2);
  return (proof.at_cap ? "at least " : "") + fixed(*proof.load_factor, 2);
}

std::string joint_text(const Assembly& assembly, int joint) {
  if (joint < 0 || joint >= static_cast<int>(assembly.joints.size())) return "-";
  const Joint& j = assembly.joints[static_cast<std::size_t>(joint)];
  return assembly.blocks[static_cast<std::size_t>(j.a)].id + " | " +
         assembly.blocks[static_cast<std::size_t>(j.b)].id;
}

std::string verdicts(const Assembly& assembly, const std::vector<CaseProof>& proofs,
                     std::size_t most) {
  std::vector<Row> rows{{"case", "verdict", "load factor", "friction needed", "peak pressure",
                         "at joint", "opens", "moves"}};
  std::string reasons;
  std::vector<std::size_t> shown(proofs.size());
  std::iota(shown.begin(), shown.end(), std::size_t{0});
  if (most > 0 && proofs.size() > most) {
    const auto worry = [&](const CaseProof& p) { return p.verdict != Verdict::kStands; };
    shown = deliver::worst_first(proofs);
    const auto keep = std::max<std::size_t>(
        most, static_cast<std::size_t>(std::count_if(proofs.begin(), proofs.end(), worry)));
    shown.resize(std::min(keep, shown.size()));
    if (std::ranges::find(shown, std::size_t{0}) == shown.end()) shown.insert(shown.begin(), 0);
  }
  for (const std::size_t i : shown) {
    const CaseProof& proof = proofs[i];
    const auto& stress = proof.joint_stress_max_pa;
    const PadState* pads = proof.pads && proof.pads->found ? &*proof.pads : nullptr;
    rows.push_back({proof.id, verdict_text(proof), load_factor_text(proof),
                    proof.friction_needed ? fixed(*proof.friction_needed, 3) : "-",
                    stress ? fixed(*stress / 1e6, 2) + " MPa" : "-",
                    joint_text(assembly, proof.governing_joint),
                    pads != nullptr ? fixed(pads->opening_max_m * 1e3, 2) + " mm" : "-",
                    pads != nullptr ? fixed(pads->move_max_m * 1e3, 1) + " mm" : "-"});
    if (proof.verdict != Verdict::kStands && !proof.reason.empty())
      reasons += "  " + proof.id + ": " + proof.reason + "\n";
  }
  const bool limit_only = std::any_of(proofs.begin(), proofs.end(), [](const CaseProof& p) {
    return p.verdict == Verdict::kStands && p.views.size() == 1;
  });
  const std::string rest = shown.size() < proofs.size()
                               ? "  and " + std::to_string(proofs.size() - shown.size()) +
                                     " more cases; summary.json has them all\n"
                               : "";
  return table(rows) + rest + (limit_only ? kLimitOnly : "") +
         (reasons.empty() ? "" : "\n" + reasons);
}

}  // namespace skewback::cli
