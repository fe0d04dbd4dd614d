// What the cut is worth, brief by brief: joints against the thrust, masses, staggering, what a
// printer asks, and seconds; form and body before it.
//   bench_cut BRIEF...
#include <algorithm>
#include <cstdio>
#include <string>

#include "base/timing.hpp"
#include "works/joint_angles.hpp"
#include "works/works.hpp"

namespace {

using namespace skewback;

struct Angles {  // degrees, over courses that carry a tenth of the greatest force or more
  double dead_median = 0, dead_most = 0, most = 0;
  std::string where = "-";  // case of the last
  std::size_t without = 0;  // cases whose pads were not found to hold
};

Angles angles_of(const Dossier& dossier) {
  Angles out;
  bool dead = false;
  const auto& cases = dossier.cut->assembly.cases;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const auto angles = joint_angles(dossier, i);
    if (!angles) {
      ++out.without;
      continue;
    }
    if (!cases[i].has_live() && !dead) {
      dead = true;
      out.dead_median = angles->median_deg;
      out.dead_most = angles->greatest_deg;
    }
    if (angles->greatest_deg > out.most) out.most = angles->greatest_deg, out.where = cases[i].id;
  }
  return out;
}

bool measure(const char* file) {
  const auto brief = read_brief(file);
  if (!brief) {
    std::fprintf(stderr, "%s\n", describe(brief.faults().front()).c_str());
    return false;
  }
  WorksOptions options;
  options.until = "stand";
  options.depth = false;
  const auto dossier = run_works(*brief, options, {});
  if (!dossier) {
    std::printf("%-14s %s\n", brief->name.c_str(), describe(dossier.faults().front()).c_str());
    return false;
  }
  const CutReport& report = dossier->cut->report;
  std::size_t blocks = 0;
  double heaviest = 0;
  for (const Block& block : dossier->cut->assembly.blocks) {
    if (block.fixed) continue;
    ++blocks;
    heaviest = std::max(heaviest, concrete_mass_kg(block));
  }
  const Angles angles = angles_of(*dossier);
  const auto seconds = [&](const char* stage) {
    const auto it = dossier->timings_s.find(stage);
    return it == dossier->timings_s.end() ? 0.0 : it->second;
  };
  std::printf(
      "%-14s %6zu %6.0f %7.2f %7.2f %7.2f  %-18s %6.2f %6.2f %6.2f %8.1e %7.2f %6.2f %6.2f\n",
      brief->name.c_str(), blocks, heaviest, angles.dead_median, angles.dead_most, angles.most,
      angles.where.c_str(), report.mass_spread, report.stagger_min, report.height_ratio_max,
      report.volume_error_rel, seconds("form"), seconds("body"), seconds("cut"));
  if (angles.without > 0)
    std::printf("%-14s   %zu of %zu cases have no state of the pads and are left out\n", "",
                angles.without, dossier->cut->assembly.cases.size());
  for (const std::string& remark : report.remarks) std::printf("%-14s   %s\n", "", remark.c_str());
  std::fflush(stdout);
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::fprintf(stderr, "usage: bench_cut BRIEF...\n");
    return 2;
  }
  std::printf("%-14s %6s %6s %7s %7s %7s  %-18s %6s %6s %6s %8s %7s %6s %6s\n", "brief", "blocks",
              "kg max", "dead md", "dead mx", "all mx", "in case", "spread", "stagg", "height",
              "volume", "form s", "body s", "cut s");
  std::printf(
      "angle of joint to resultant in degrees, over courses with a tenth of the greatest force or "
      "more: dead\nload, median and largest; largest of all cases. Spread: largest mass over "
      "median. Stagger: least distance\nof head joints in blocks. Height: longest over shortest "
      "flow line of a block.\n");
  bool all = true;
  for (int i = 1; i < argc; ++i) all = measure(argv[i]) && all;
  return all ? 0 : 1;
}
