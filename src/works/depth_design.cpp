#include "works/depth_design.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "works/states.hpp"

namespace skewback {
namespace {

constexpr double kLeastVoid = 0.06;  // m, between two leaves; and of solid stone
constexpr int kRounds = 5;           // of the shape
constexpr int kTaperRounds = 2;      // of those that also look for the taper
constexpr int kTapers = 5;           // tried in a round
constexpr double kSettled = 0.02;    // change of a depth from round to round
constexpr int kProofs = 8;           // deepened in between
constexpr int kLessen = 4;           // proofs of less, once one holds
constexpr double kDeeper = 1.06;
constexpr double kStep = 0.005;   // m, depths are whole multiples
constexpr int kDepthPoints = 12;  // corners a joint keeps in the search for the least depth
constexpr std::array kMended{"live_factor", "combinations", "joint_stress"};

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double up(double depth) { return kStep * std::ceil(depth / kStep - 1e-6); }

struct Bounds {
  double least, greatest;
  [[nodiscard]] double in(double depth) const { return std::clamp(depth, least, greatest); }
};

Bounds bounds_of(const Brief& brief, const DepthWish& wish) {
  const Section& s = brief.section;
  Bounds out{wish.least_m, wish.greatest_m};
  if (out.least <= 0) out.least = s.hollow ? 2 * s.leaf_m + kLeastVoid : kLeastVoid;
  if (out.greatest <= 0) out.greatest = 2 * std::max(s.depth_crown_m, s.depth_springing_m);
  return out;
}

Faults wrong_wish(const Brief& brief, const DepthWish& wish) {
  const Bounds bounds = bounds_of(brief, wish);
  const Section& s = brief.section;
  char text[96];
  if (bounds.least > bounds.greatest) {
    std::snprintf(text, sizeof text, "from %.3f m to %.3f m", bounds.least, bounds.greatest);
    return Faults{
        Fault{.key = "depths", .found = text, .expected = "a least depth under the greatest"}};
  }
  if (s.hollow && bounds.least <= 2 * s.leaf_m) {
    std::snprintf(text, sizeof text, "%.3f m, no more than two leaves", bounds.least);
    return Faults{
        Fault{.key = "depths", .found = text, .expected = "room for a void between the leaves"}};
  }
  return {};
}

/// What one section needs of itself.
struct Need {
  std::optional<double> patterns, dead;  // shares; none: the full depth does not hold
  std::string governs;                   // case
};

Need need_of(const Assembly& assembly, const Dossier& dossier, const Progress& progress) {
  StandOptions options = dossier.stand_options;
  options.contact_points_max = kDepthPoints;
  DepthOptions wanted;
  wanted.live_factor = dossier.brief.required.live_factor;
  const DepthNeeds needs = depth_needed(assembly, wanted, options, progress);
  Need out;
  out.patterns = needs.share;
  if (needs.unheld.empty() && !needs.share) out.patterns = wanted.share_least;
  if (needs.governing >= 0) out.governs = needs.cases[at(needs.governing)].id;
  for (std::size_t i = 0; i < assembly.cases.size(); ++i) {
    if (assembly.cases[i].has_live()) continue;
    out.dead = needs.cases[i].share;
    break;
  }
  return out;
}

/// Share of the section that everything together asks for; none: more than all of it.
std::optional<double> share_needed(const Need& need, const Dossier& dossier,
                                   const DepthWish& wish) {
  if (!need.patterns || !need.dead) return std::nullopt;
  return std::max(*need.patterns * wish.reserve,
                  *need.dead * dossier.brief.required.geometric_safety);
}

/// Mean depth over the joints, by their width.
double mean_depth(const Assembly& assembly, const std::vector<double>& rise, double crown,
                  double springing) {
  double sum = 0, widths = 0;
  for (std::size_t j = 0; j < rise.size(); ++j) {
    double low = 1e300, high = -1e300;
    for (const Region& region : assembly.joints[j].contact)
      for (const Vec2& p : region.outer) low = std::min(low, p.x()), high = std::max(high, p.x());
    const double width = std::max(0.0, high - low);
    sum += width * (springing + (crown - springing) * rise[j]);
    widths += width;
  }
  return widths > 0 ? sum / widths : crown;
}

struct Pair {
  double crown, springing;
};

/// The taper whose section, made as deep as it needs to be, is least in the mean.
struct Taken {
  Pair depths;
  Need need;  // of the section as it was tried
  bool found = false;
};
Taken least_section(const Dossier& dossier, const DepthWish& wish, bool any_taper,
                    const Progress& progress) {
  const Assembly assembly = with_patterns_only(dossier);
  const Section& now = dossier.brief.section;
  const std::vector<double> rise = rise_of_joints(*dossier.form, assembly);
  const double mean = mean_depth(assembly, rise, now.depth_crown_m, now.depth_springing_m);
  Taken best;
  double least = HUGE_VAL;
  const auto attempt = [&](double taper) {
    const double crown = mean / mean_depth(assembly, rise, 1, taper);
    const Need need =
        need_of(redrawn(assembly, rise, now, crown, crown * taper), dossier, progress);
    const std::optional<double> share = share_needed(need, dossier, wish);
    const double cost = share ? *share * mean : 2 * mean;
    if (!best.found || cost < least) {
      least = cost;
      const double scale = share.value_or(1.25);
      best = {{crown * scale, crown * taper * scale}, need, true};
    }
    return cost;
  };
  const double as_is = now.depth_springing_m / now.depth_crown_m;
  attempt(as_is);
  if (!any_taper) return best;
  // golden section on the logarithm
  const double golden = 0.5 * (std::sqrt(5.0) - 1);
  double low = std::log(wish.taper_least), high = std::log(wish.taper_greatest);
  double a = high - golden * (high - low), b = low + golden * (high - low);
  double at_a = attempt(std::exp(a)), at_b = attempt(std::exp(b));
  for (int i = 2; i < kTapers; ++i) {
    if (at_a <= at_b) {
      high = b, b = a, at_b = at_a;
      at_a = attempt(std::exp(a = high - golden * (high - low)));
    } else {
      low = a, a = b, at_a = at_b;
      at_b = attempt(std::exp(b = low + golden * (high - low)));
    }
  }
  return best;
}

DepthRow row_of(const Dossier& dossier) {
  DepthRow row;
  row.crown_m = dossier.brief.section.depth_crown_m;
  row.springing_m = dossier.brief.section.depth_springing_m;
  for (const Block& block : dossier.cut->assembly.blocks)
    if (!block.fixed) row.mass_kg += concrete_mass_kg(block);
  row.thrust_n = dossier.form->thrust_max_n;
  return row;
}

void note(const Need& need, const Dossier& dossier, const DepthWish& wish, DepthRow& row) {
  row.patterns_need = need.patterns;
  row.dead_needs = need.dead;
  const bool dead =
      need.patterns && need.dead &&
      *need.dead * dossier.brief.required.geometric_safety > *need.patterns * wish.reserve;
  row.enough = share_needed(need, dossier, wish).value_or(2) <= 1;
  row.governs = dead || need.governs.empty() ? "dead load" : need.governs;
}

/// Checks that a greater depth could mend.
void judge(const Dossier& dossier, DepthRow& row) {
  for (const RequiredCheck& check : required_checks(dossier)) {
    if (std::ranges::find(kMended, check.name) == kMended.end()) continue;
    if (check.name == "live_factor") row.live_factor = check.value;
    if (check.name == "joint_stress") row.stress_reserve = check.value;
    if (!check.passes.value_or(false)) row.fails += (row.fails.empty() ? "" : ", ") + check.name;
  }
}

Result<Dossier> run_with(Brief& brief, const Pair& depths, const char* until, int jobs,
                         const Progress& progress) {
  brief.section.depth_crown_m = depths.crown;
  brief.section.depth_springing_m = depths.springing;
  return run_works(brief, {jobs, until, false}, progress);
}

std::string ruled(const DepthRow& row, const Bounds& bounds) {
  if (row.crown_m <= bounds.least + 1e-9 && row.springing_m <= bounds.least + 1e-9)
    return "the least depth";
  std::string out = row.governs;
  if (row.crown_m <= bounds.least + 1e-9) out += "; the least depth at the crown";
  if (std::max(row.crown_m, row.springing_m) >= bounds.greatest - 1e-9)
    out += "; the greatest depth is reached";
  return out;
}

/// The least of the shapes that by their own needs are deep enough, or else what the rounds came
/// to.
Pair first_to_prove(const std::vector<DepthRow>& rows, const Pair& settled) {
  Pair best = settled;
  for (const DepthRow& row : rows)
    if (row.enough && row.crown_m + row.springing_m < best.crown + best.springing)
      best = {row.crown_m, row.springing_m};
  return best;
}

class Proving {
 public:
  Proving(const Brief& brief, const DepthWish& wish, const Bounds& bounds, const Progress& progress,
          DepthDesign& out)
      : brief_(brief), wish_(wish), bounds_(bounds), progress_(progress), out_(out) {}

  /// Deeper until it holds.
  Faults deepen(const Pair& first) {
    depths_ = in_steps(first, 1);
    for (int i = 0; i < kProofs; ++i) {
      if (Faults faults = prove(depths_); !faults.empty()) return faults;
      if (holds()) return {};
      least_ = depths_;
      if (depths_.crown >= bounds_.greatest && depths_.springing >= bounds_.greatest) break;
      depths_ = in_steps(depths_, kDeeper);
    }
    return {};
  }

  /// Less, by halves towards what did not hold.
  Faults lessen() {
    if (!holds()) return {};
    for (int i = 0; i < kLessen; ++i) {
      const Pair next = least_ ? in_steps({(least_->crown + depths_.crown) / 2,
                                           (least_->springing + depths_.springing) / 2},
                                          1)
                               : in_steps(depths_, 1 / kDeeper);
      if (same(next, depths_) || (least_ && same(next, *least_))) return {};
      std::optional<Dossier> kept = std::move(run_);
      if (Faults faults = prove(next); !faults.empty()) return faults;
      if (holds()) {
        depths_ = next;
        continue;
      }
      least_ = next;
      run_ = std::move(kept);
      std::swap(*(out_.rows.end() - 1), *(out_.rows.end() - 2));  // what was found stays last
    }
    return {};
  }

  void settle() {
    if (run_) out_.net = net_under_patterns(*run_, brief_.required.live_factor, progress_);
  }

 private:
  [[nodiscard]] bool holds() const { return out_.rows.back().fails.empty(); }
  [[nodiscard]] Pair in_steps(const Pair& depths, double scale) const {
    return {bounds_.in(up(scale * depths.crown)), bounds_.in(up(scale * depths.springing))};
  }
  static bool same(const Pair& a, const Pair& b) {
    return std::abs(a.crown - b.crown) + std::abs(a.springing - b.springing) < kStep / 10;
  }

  Faults prove(const Pair& depths) {
    Result<Dossier> run = run_with(brief_, depths, "stand", wish_.jobs, progress_);
    if (!run) return run.faults();
    DepthRow row = row_of(*run);
    const Need need = need_of(with_patterns_only(*run), *run, progress_);
    note(need, *run, wish_, row);
    judge(*run, row);
    const auto fails = [&](const char* what) {
      row.fails += (row.fails.empty() ? "" : ", ") + std::string(what);
    };
    if (!need.dead || *need.dead * run->brief.required.geometric_safety > 1)
      fails("geometric_safety");
    if (!need.patterns || *need.patterns * wish_.reserve > 1) fails("reserve");
    out_.rows.push_back(row);
    run_ = std::move(run).value();
    return {};
  }

  Brief brief_;
  const DepthWish& wish_;
  const Bounds& bounds_;
  const Progress& progress_;
  DepthDesign& out_;
  Pair depths_{};
  std::optional<Pair> least_;  // the deepest that did not hold
  std::optional<Dossier> run_;
};

}  // namespace

std::vector<double> rise_of_joints(const Form& form, const Assembly& assembly) {
  const std::vector<double> top = greatest_phi(form);
  const auto rise_of = [&](int b) {
    const Block& block = assembly.blocks[at(b)];
    if (block.fixed) return 0.0;
    if (block.place.arm < 0) return 1.0;
    return std::clamp(block.place.phi_m / top[at(block.place.arm)], 0.0, 1.0);
  };
  std::vector<double> out;
  for (const Joint& joint : assembly.joints) {
    const bool ground = assembly.blocks[at(joint.a)].fixed || assembly.blocks[at(joint.b)].fixed;
    out.push_back(ground ? 0 : (rise_of(joint.a) + rise_of(joint.b)) / 2);
  }
  return out;
}

Assembly redrawn(const Assembly& assembly, const std::vector<double>& rise, const Section& from,
                 double crown_m, double springing_m) {
  Assembly out = assembly;
  for (std::size_t j = 0; j < out.joints.size(); ++j) {
    const auto depth = [&](double crown, double springing) {
      return springing + (crown - springing) * rise[j];
    };
    const double share =
        depth(crown_m, springing_m) / depth(from.depth_crown_m, from.depth_springing_m);
    double low = 1e300, high = -1e300;
    for (const Region& region : out.joints[j].contact)
      for (const Vec2& p : region.outer) low = std::min(low, p.y()), high = std::max(high, p.y());
    const auto draw = [&](Polygon& polygon) {
      for (Vec2& p : polygon) p.y() = (low + high) / 2 + share * (p.y() - (low + high) / 2);
    };
    for (Region& region : out.joints[j].contact) {
      draw(region.outer);
      for (Polygon& hole : region.holes) draw(hole);
    }
  }
  return out;
}

Result<DepthDesign> depth_from_thrust(const Brief& asked, const DepthWish& wish,
                                      const Progress& progress) {
  if (Faults faults = wrong_wish(asked, wish); !faults.empty()) return faults;
  const Bounds bounds = bounds_of(asked, wish);
  Brief brief = asked;
  brief.section.depth = kDepthAsGiven;
  Pair depths{bounds.in(brief.section.depth_crown_m), bounds.in(brief.section.depth_springing_m)};
  DepthDesign out;
  for (int round = 0; round < kRounds; ++round) {
    const Result<Dossier> run = run_with(brief, depths, "loads", wish.jobs, progress);
    if (!run) return run.faults();
    const Taken taken = least_section(*run, wish, round < kTaperRounds, progress);
    DepthRow row = row_of(*run);
    const Assembly as_cut = with_patterns_only(*run);
    note(need_of(as_cut, *run, progress), *run, wish, row);
    out.rows.push_back(row);
    const Pair next{bounds.in(taken.depths.crown), bounds.in(taken.depths.springing)};
    const double change = std::max(std::abs(next.crown / depths.crown - 1),
                                   std::abs(next.springing / depths.springing - 1));
    depths = next;
    if (change < kSettled) break;
  }
  Proving proving(brief, wish, bounds, progress, out);
  if (Faults faults = proving.deepen(first_to_prove(out.rows, depths)); !faults.empty())
    return faults;
  if (Faults faults = proving.lessen(); !faults.empty()) return faults;
  proving.settle();
  const DepthRow& last = out.rows.back();
  out.crown_m = last.crown_m;
  out.springing_m = last.springing_m;
  out.holds = last.fails.empty();
  out.ruled_by = ruled(last, bounds);
  return out;
}

}  // namespace skewback
