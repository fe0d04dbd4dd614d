#include "access/sticks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "access/parts.hpp"
#include "base/constants.hpp"

namespace skewback::access {
namespace {

constexpr double kBending = 24e6, kShear = 4.0e6, kStiffness = 11e9;  // C24
constexpr double kShort = 0.70, kGamma = 1.3, kCracks = 0.67, kSagShare = 1.0 / 300;
constexpr double kBoardWidth = 0.20;
constexpr std::array<double, 6> kBoards = {0.04, 0.05, 0.06, 0.075, 0.09, 0.10};
constexpr std::array<std::array<double, 2>, 6> kBearers = {
    {{0.06, 0.12}, {0.06, 0.14}, {0.08, 0.16}, {0.08, 0.18}, {0.10, 0.20}, {0.10, 0.24}}};
constexpr int kBearersMost = 6, kPostsMost = 5;

struct Loading {
  double people_pa = 0, people_gamma = 1, patch_n = 0, patch_m = 0, own_gamma = 1;
};

Loading loading(const Brief& brief) {
  return {brief.loads.people_pa, brief.factors.people, brief.loads.patch_n,
          brief.loads.patch_side_m, brief.factors.dead_high};
}

const StickUse& worse(const StickUse& a, const StickUse& b) {
  return b.utilisation > a.utilisation ? b : a;
}

/// Under people on `wide_m`, or the concentrated load; `own` in N/m.
StickUse worst_of_both(const Loading& on, double b, double h, double span, double wide_m,
                       double own) {
  const double weight = on.own_gamma * own;
  StickUse crowd = stick_use(b, h, span, {weight + on.people_gamma * on.people_pa * wide_m, 0, 0});
  StickUse patch = stick_use(b, h, span, {weight, on.people_gamma * on.patch_n, on.patch_m});
  crowd.what += ", people";
  patch.what += ", concentrated load";
  return worse(crowd, patch);
}

double sag(const Loading& on, double b, double h, double span, double wide_m, double own) {
  const double stiff = kStiffness * b * h * h * h / 12;
  const auto even = [&](double q) { return 5 * q * std::pow(span, 4) / (384 * stiff); };
  return std::max(even(own + on.people_pa * wide_m),
                  even(own) + on.patch_n * std::pow(span, 3) / (48 * stiff));
}

/// A board on `bearers`; by its thickness alone.
std::optional<double> least_board(const Loading& on, double between, StickUse& use) {
  for (const double t : kBoards) {
    use = worst_of_both(on, kBoardWidth, t, between, kBoardWidth,
                        kTimber * kGravity * t * kBoardWidth);
    if (use.utilisation <= 1) return t;
  }
  return std::nullopt;
}

void size_bearer(const Loading& on, double wide_m, Sticks& sticks) {
  for (const auto& [b, h] : kBearers) {
    const double own = kTimber * kGravity * (b * h + sticks.board_m * wide_m);
    sticks.bearer_width_m = b;
    sticks.bearer_depth_m = h;
    sticks.bearer = worst_of_both(on, b, h, kBay, wide_m, own);
    sticks.sag_m = sag(on, b, h, kBay, wide_m, own);
    const double by_sag = sticks.sag_m / sticks.sag_limit_m;
    if (by_sag > sticks.bearer.utilisation) sticks.bearer = {by_sag, "sag"};
    if (sticks.bearer.utilisation <= 1) return;
  }
}

void size_posts(const Loading& on, double width, Sticks& sticks) {
  const double deck = deck_kg_per_m2(sticks, width) * kGravity * kBay;
  for (sticks.posts = 2;; ++sticks.posts) {
    const double span = (width - kPost) / (sticks.posts - 1);
    sticks.cap = worst_of_both(on, kPost, kPost, span, kBay, deck);
    if (sticks.cap.utilisation <= 1 || sticks.posts == kPostsMost) return;
  }
}

bool carries(const Sticks& s) { return s.board.utilisation <= 1 && s.bearer.utilisation <= 1; }

}  // namespace

StickUse stick_use(double b, double h, double span, const StickLoad& load) {
  const double moment = load.even_n_per_m * span * span / 8 +
                        load.patch_n * (span / 4 - std::min(load.patch_m, span) / 8);
  const double near = std::clamp(1 - (h + load.patch_m / 2) / span, 0.5, 1.0);
  const double shear = load.even_n_per_m * span / 2 + near * load.patch_n;
  const double deep = std::clamp(std::pow(0.15 / h, 0.2), 1.0, 1.3);
  const double bending = 6 * moment / (b * h * h) / (deep * kShort * kBending / kGamma);
  const double sheared = 1.5 * shear / (kCracks * b * h) / (kShort * kShear / kGamma);
  return bending >= sheared ? StickUse{bending, "bending"} : StickUse{sheared, "shear"};
}

Sticks size_sticks(const Brief& brief) {
  const Loading on = loading(brief);
  const double width = brief.walkway.width_m;
  std::optional<Sticks> best;
  for (int bearers = width > kThirdBearer ? 3 : 2; bearers <= kBearersMost; ++bearers) {
    Sticks tried;
    tried.bearers = bearers;
    tried.sag_limit_m = kSagShare * kBay;
    const double between = (width - kBearerWidth) / (bearers - 1);
    tried.board_m = least_board(on, between, tried.board).value_or(kBoards.back());
    size_bearer(on, between, tried);
    const auto mass = [&](const Sticks& s) { return deck_kg_per_m2(s, width); };
    if (!best || (carries(tried) && !carries(*best)) ||
        (carries(tried) == carries(*best) && mass(tried) < mass(*best) - 1e-9))
      best = tried;
  }
  size_posts(on, width, *best);
  return *best;
}

}  // namespace skewback::access
