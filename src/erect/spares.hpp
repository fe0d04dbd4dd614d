#pragma once
// Which blocks may break, what that holds back, and which to make twice. Theory:
// docs/theory/spares.md.

#include <optional>
#include <string>
#include <vector>

#include "erect/lifting.hpp"
#include "erect/schedule.hpp"
#include "erect/transport.hpp"

namespace skewback {

/// What the daybook counted so far.
struct BreakCount {
  int handled = 0, broken = 0;
};

struct BlockRisk {
  int block = -1;
  std::string id;
  double utilisation = 0;            // worst of lifting and transport
  double share = 0;                  // chance that it breaks
  double again_s = 0;                // print, cure and journey of another, mean times
  double cure_s = 0;                 // of that, what runs every day
  double journey_s = 0;              // and what comes after it
  double delay_s = 0;                // of the whole, if it breaks and there is no spare
  double expected_s = 0;             // share x delay
  double spared_s = 0;               // of the expected delay, taken away by a spare
  bool spare = false;                // chosen
  std::optional<double> again_cost;  // of another, where the rates are given; rates.currency
};
struct SparesTrial {
  int spares = 0;
  double expected_delay_s = 0;  // chosen by this tool, the others by the same draws
  double by_mass_s = 0, at_random_s = 0;
  double late_share = 0;       // chance that a broken block holds the work back
  std::optional<double> cost;  // of the spares, of the delay and of table_s, where all are priced
  double table_s = 0;  // how much later the whole is done as the table prints them too, mean times
};
struct Spares {
  std::vector<BlockRisk> risks;     // greatest spared_s first
  double broken_share = 0;          // mean used, after the daybook's count
  std::vector<SparesTrial> trials;  // for 0, 1, 2, ... spares
  int chosen = 0;
  Network network;                  // the chosen spares are printed in it
  PrintPlan printing;               // and here; empty: no print step
  std::vector<Breakage> breakages;  // with the chosen spares
  Draws without, with;              // finish without any spares, and with the chosen
  PertResult plan;
  std::vector<std::string> remarks;
  bool shares_alike = false;  // no margin is known: every block breaks as easily
  int needed_if_alike = 0;    // spares for the same risk of waiting, if they did
  int soonest = 0;            // number of spares with the least of expected delay and table_s
};

/// Prior broken_share worth known_blocks of experience, updated by the count (beta-binomial).
[[nodiscard]] double updated_share(double prior, double known_blocks, const BreakCount& count);

/// The network of the brief's works: footings, printing in its order, curing, journeys by lorry,
/// centring, placing in order, striking, walkway. No spares in it.
[[nodiscard]] Network works_network(const Brief& brief, const Assembly& assembly,
                                    const Programme& programme, const PrintSet* print,
                                    const Transport* transport);

/// `print`: blocks that are not in it are there already; none: how blocks are made is not known.
/// `transport`: the chosen spares are put on its lorries.
[[nodiscard]] Spares plan_spares(const Brief& brief, const Assembly& assembly,
                                 const Programme& programme, const PrintSet* print,
                                 const LiftPlan* lifts, Transport* transport,
                                 const BreakCount& count = {}, const Progress& progress = {});

/// spares.count asks for more than there are blocks. None: it does not.
[[nodiscard]] std::optional<Fault> too_many_spares(const Brief& brief, const Assembly& assembly);

/// Least s with P(at most s of good + s break) >= wanted, alike blocks (binomial); share and wanted
/// below 1.
[[nodiscard]] int spares_for_alike(int good, double share, double wanted);
/// Newsvendor: least s with P(broken <= s) >= under/(under + over), of n alike.
[[nodiscard]] int newsvendor(int n, double share, double cost_under, double cost_over);

}  // namespace skewback
