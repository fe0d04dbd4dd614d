#include "form/search.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <utility>

#include "form/objectives.hpp"
#include "form/plain_search.hpp"
#include "form/search_wish.hpp"
#include "form/shape_fit.hpp"
#include "form/start_net.hpp"
#include "form/weight.hpp"

namespace skewback {
namespace {

constexpr int kRounds = 4;  // of the fit, the weight brought up to date in between
constexpr int kFirstSteps = 20, kLaterSteps = 10, kOtherSteps = 12;
constexpr int kWeightRounds = 40;        // weight follows the shape, forces kept
constexpr double kWeightSettled = 1e-6;  // of the weight

double total(const std::vector<double>& load) {
  double sum = 0;
  for (double p : load) sum += p;
  return sum;
}

bool near(const std::vector<double>& a, const std::vector<double>& b) {
  double change = 0, whole = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    change += std::abs(a[i] - b[i]);
    whole += a[i];
  }
  return change <= kWeightSettled * whole;
}

// The net that carries the first guess of its own weight, then, from there, any other load.
class Search {
 public:
  Search(const Brief& brief, const FibreMesh& mesh,
         const std::vector<std::array<int, 3>>& triangles, double crown_z)
      : brief_(brief),
        mesh_(mesh),
        triangles_(triangles),
        crown_z_(crown_z),
        net_(start_net(brief, mesh, crown_z)),
        load_(spread(first_weight(brief, mesh, triangles, net_.points))) {}

  [[nodiscard]] std::optional<Faults> own_weight(const Progress& progress) {
    if (auto faults = lift()) return faults;
    wish_ = wish_for(brief_, mesh_, net_, crown_z_);
    for (int round = 0; round < kRounds; ++round) {
      progress.checkpoint("form", double(round) / (kRounds + 1));
      wish_objectives(brief_, mesh_, triangles_, round > 0 ? net_ : as_drawn(), wish_);
      auto fit =
          fit_shape(net_, load_, wish_, {.steps_max = round == 0 ? kFirstSteps : kLaterSteps});
      if (!fit) return fit.faults();
      note(*fit);
      net_ = std::move(fit->net);
      load_ = spread(first_weight(brief_, mesh_, triangles_, net_.points));
    }
    for (int round = 0; round < kWeightRounds; ++round) {
      if (auto faults = lift()) return faults;
      std::vector<double> next = spread(first_weight(brief_, mesh_, triangles_, net_.points));
      if (near(next, load_)) break;
      load_ = std::move(next);
    }
    return std::nullopt;
  }

  // Keeps the shape, so that a little more load is a little more force and nothing else moves.
  [[nodiscard]] std::optional<Faults> other_load(const std::vector<double>& vertex_load_n) {
    const double ratio = total(vertex_load_n) / total(load_);
    for (double& p : load_) p *= ratio;
    std::vector<double> change = vertex_load_n;  // only what is new is spread
    for (std::size_t i = 0; i < change.size(); ++i) change[i] -= load_[i];
    change = spread(change);
    for (std::size_t i = 0; i < change.size(); ++i) load_[i] += change[i];
    wish_objectives(brief_, mesh_, triangles_, net_, wish_);
    const ShapeWish keep = keeping_shape(wish_, net_, ratio);
    for (NetEdge& e : net_.edges) e.q *= ratio;
    auto fit = fit_shape(net_, load_, keep, {.steps_max = kOtherSteps});
    if (!fit) return fit.faults();
    note(*fit);
    net_ = std::move(fit->net);
    return lift();
  }

  // Before own_weight: forces of the least load path in place of the plain ones.
  [[nodiscard]] std::optional<Faults> begin_by_load_path() {
    auto start = start_by_load_path(brief_, mesh_, load_, crown_z_);
    if (!start) return start.faults();
    net_ = std::move(start).value();
    by_load_path_ = true;
    return std::nullopt;
  }

  [[nodiscard]] long wishes_missed() const {
    Form probe;
    probe.vertices = net_.points;
    probe.triangles = triangles_;
    probe.support_of = mesh_.support_of;
    probe.free_edge_of = mesh_.free_edge_of;
    probe.rise_m = brief_.form.rise_m;
    probe.reaction_n.assign(net_.points.size(), Vec3::Zero());
    const std::vector<Vec3> rest = unbalanced(net_, as_forces(load_));
    for (std::size_t i = 0; i < rest.size(); ++i)
      if (net_.fixed[i]) probe.reaction_n[i] = -rest[i];
    return std::ranges::count(achievements(brief_, mesh_, probe), false, &Achieved::met);
  }

  /// True if what was asked, or all that the fit weighs, is missed by more than `other` does.
  [[nodiscard]] bool further_than(const Net& other) const {
    const auto [all, asked] = misses(net_);
    const auto [other_all, other_asked] = misses(other);
    return all > other_all || asked > other_asked;
  }

  void also_cost(const SearchCost& other) {
    cost_.steps += other.steps;
    cost_.inner_steps += other.inner_steps;
  }
  [[nodiscard]] const SearchCost& cost() const { return cost_; }

  [[nodiscard]] FoundNet take() {
    return {std::move(net_), std::move(load_), cost_, by_load_path_};
  }

 private:
  // Half the sum of squares: of all, and of heights, lines, ceilings and target alone.
  [[nodiscard]] std::pair<double, double> misses(const Net& net) const {
    ShapeWish wish = wish_;
    wish_objectives(brief_, mesh_, triangles_, net, wish);
    const double all = residuals(net, wish).squaredNorm();
    wish.spots.clear();
    wish.thrusts.clear();
    return {0.5 * all, 0.5 * (all - residuals(net, wish).squaredNorm())};
  }

  [[nodiscard]] std::vector<double> spread(const std::vector<double>& load) const {
    const Section& s = brief_.section;
    return spread_across(mesh_, 0.5 * (s.depth_crown_m + s.depth_springing_m), load);
  }

  void note(const ShapeFit& fit) {
    cost_.steps += fit.steps;
    cost_.inner_steps += fit.inner_steps;
  }

  [[nodiscard]] std::optional<Faults> lift() {
    auto lifted = equilibrium_with_height(net_, load_, mesh_.crown, crown_z_);
    if (!lifted) return lifted.faults();
    net_ = std::move(lifted).value();
    return std::nullopt;
  }

  [[nodiscard]] Net as_drawn() const {
    Net net = net_;
    for (std::size_t i = 0; i < net.points.size(); ++i) net.points[i].head<2>() = mesh_.points[i];
    return net;
  }

  const Brief& brief_;
  const FibreMesh& mesh_;
  const std::vector<std::array<int, 3>>& triangles_;
  double crown_z_;
  Net net_;
  std::vector<double> load_;
  ShapeWish wish_;
  SearchCost cost_;
  bool by_load_path_ = false;
};

// The search that carries its own weight, from one start.
struct Tried {
  std::unique_ptr<Search> search;
  Faults faults;  // none: it got there
};

Tried tried(std::unique_ptr<Search> search, bool by_load_path, const Progress& progress) {
  std::optional<Faults> faults;
  if (by_load_path) faults = search->begin_by_load_path();
  if (!faults) faults = search->own_weight(progress);
  return {std::move(search), faults.value_or(Faults{})};
}

// The form without wishes, where the search missed some and that form is nearer to them.
std::optional<FoundNet> plain_if_nearer(const Brief& brief, const FibreMesh& mesh,
                                        const std::vector<std::array<int, 3>>& triangles,
                                        const std::vector<double>& vertex_load_n,
                                        const Search& search, const Progress& progress) {
  if (search.wishes_missed() == 0) return std::nullopt;
  auto plain = plain::find_net(brief, mesh, triangles, vertex_load_n, progress);
  if (!plain || !search.further_than(plain->net)) return std::nullopt;
  FoundNet kept = std::move(plain).value();
  kept.cost.steps += search.cost().steps;
  kept.cost.inner_steps += search.cost().inner_steps;
  kept.plain_kept = true;
  return kept;
}

}  // namespace

Result<FoundNet> find_net(const Brief& brief, const FibreMesh& mesh,
                          const std::vector<std::array<int, 3>>& triangles,
                          const std::vector<double>& vertex_load_n, const Progress& progress) {
  if (!has_wishes(brief.form))
    return plain::find_net(brief, mesh, triangles, vertex_load_n, progress);
  double mean_level = 0;
  for (const Support& s : brief.plan.supports)
    mean_level += s.level_m / double(brief.plan.supports.size());
  const auto begun = [&] {
    return std::make_unique<Search>(brief, mesh, triangles, mean_level + brief.form.rise_m);
  };
  Tried best = tried(begun(), brief.form.start == kByLoadPath, progress);
  if (brief.form.start == kAsNeeded && (!best.faults.empty() || best.search->wishes_missed() > 0)) {
    Tried other = tried(begun(), true, progress);
    const SearchCost both = best.search->cost();
    if (other.faults.empty() &&
        (!best.faults.empty() || other.search->wishes_missed() < best.search->wishes_missed())) {
      best = std::move(other);
      best.search->also_cost(both);
    } else {
      best.search->also_cost(other.search->cost());
    }
  }
  if (!best.faults.empty()) return best.faults;
  if (auto plain = plain_if_nearer(brief, mesh, triangles, {}, *best.search, progress)) {
    if (vertex_load_n.empty()) return *plain;
    auto loaded = plain::find_net(brief, mesh, triangles, vertex_load_n, progress);
    if (!loaded) return loaded.faults();
    FoundNet kept = std::move(loaded).value();
    kept.plain_kept = true;
    return kept;
  }
  if (vertex_load_n.empty()) return best.search->take();
  if (auto faults = best.search->other_load(vertex_load_n)) return *faults;
  if (auto plain = plain_if_nearer(brief, mesh, triangles, vertex_load_n, *best.search, progress))
    return *plain;
  return best.search->take();
}

}  // namespace skewback
