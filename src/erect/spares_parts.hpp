#pragma once
// Steps of plan_spares. Private to erect/.

#include <set>

#include "erect/spares.hpp"

namespace skewback {

inline constexpr double kDay_s = 86400;

/// How a block comes to be: times on the calendar.
struct Making {
  std::string kind;             // "print", "cast"; empty: it is there already
  Vec3 times_s = Vec3::Zero();  // least, likely, most; of printing: in its place in the order
  Vec3 again_s = Vec3::Zero();  // of another, alone
  double cure_s = 0;
};
/// One a block of the assembly; blocks of the ground have none. A block that is not in `print` is
/// there already; another is printed as long as its volume takes at the brief's flow, and cures.
[[nodiscard]] std::vector<Making> makings(const Brief& brief, const Assembly& assembly,
                                          const PrintSet* print);
/// One a slot of the plan: the blocks of a day share its 24 hours.
[[nodiscard]] std::vector<Vec3> printing_times(const PrintRequest& cell, const PrintSet& set,
                                               const PrintPlan& plan);

/// Blocks (indices) of each journey, in order; every block of `order` is in one of them.
[[nodiscard]] std::vector<std::vector<int>> journeys(const Brief& brief, const Assembly& assembly,
                                                     const std::vector<int>& order,
                                                     const Transport* transport);

/// Blocks in the order of placing.
[[nodiscard]] std::vector<int> placing_order(const Assembly& assembly, const Programme& programme);

/// works_network with the blocks in `twice` printed again, each right after the first of its kind,
/// cured and on the same lorry: "print s3 again", "cure s3 again".
[[nodiscard]] Network network_with_spares(const Brief& brief, const Assembly& assembly,
                                          const Programme& programme, const PrintSet* print,
                                          const Transport* transport, const std::set<int>& twice);

/// Worst check of each block itself, over lifting and the road; what a crane or a sling is held to
/// breaks no block. Empty: neither is known.
[[nodiscard]] std::vector<double> handling_utilisations(const Assembly& assembly,
                                                        const LiftPlan* lifts,
                                                        const Transport* transport);

/// Phi((ln u + shift)/s), s of a lognormal strength with `variation`, shift such that their mean
/// is `mean`. All alike when `utilisations` are.
[[nodiscard]] std::vector<double> break_shares(const std::vector<double>& utilisations, double mean,
                                               double variation);
inline constexpr double kStrengthVariation = 0.25;  // ours; docs/theory/spares.md

/// Fills spared_s of every risk: its share times what a spare of it alone takes off the mean
/// finish, over `draws`. breakages[k] is that of risks[k].
void value_spares(const Network& network, const std::vector<Breakage>& breakages, int draws,
                  std::uint64_t seed, std::vector<BlockRisk>& risks);

/// Trials for 0, 1, 2, ... spares, chosen in the order of `breakages`; `mass_kg` one a breakage.
[[nodiscard]] std::vector<SparesTrial> try_spares(const Network& network,
                                                  const std::vector<Breakage>& breakages,
                                                  const std::vector<double>& mass_kg, int draws,
                                                  std::uint64_t seed);

/// What was assumed, and what the figures say, in words.
void add_spares_remarks(const Brief& brief, const PrintSet* print, const LiftPlan* lifts,
                        const Transport* transport, const BreakCount& count, Spares& spares);

}  // namespace skewback
