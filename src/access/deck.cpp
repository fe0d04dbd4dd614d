#include "access/deck.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "access/parts.hpp"

namespace skewback {
namespace {

using namespace access;

constexpr double kStepRise = 0.16;  // m; common practice, from memory (ADA 2010, 504.2: 100 to 180)
constexpr int kStepsMost = 3;

/// Over the leg, with a level landing over the meeting.
Profile with_landing(Profile walk, double half_m) {
  const double top = *std::ranges::max_element(walk.z_m), from = walk.s_m.back() - half_m;
  const auto next = std::ranges::lower_bound(walk.s_m, from - 1e-9);
  const auto i = next - walk.s_m.begin();
  if (next != walk.s_m.end() && *next > from + 1e-6 && i > 0) {
    walk.z_m.insert(walk.z_m.begin() + i, top);
    walk.s_m.insert(walk.s_m.begin() + i, from);
  }
  for (std::size_t k = static_cast<std::size_t>(i); k < walk.z_m.size(); ++k) walk.z_m[k] = top;
  return walk;
}

double end_height(const Profile& walk, const Profile& deck) {
  return deck.z_m.front() - walk.z_m.front();
}

/// The gradient at which the deck ends `height` over the bank; the end falls as the gradient rises.
double gradient_to_end_at(const Profile& walk, const Profile& landed, double height) {
  double gentle = 0, steep = 10;
  for (int i = 0; i < 60; ++i) {
    const double middle = (gentle + steep) / 2;
    (end_height(walk, no_steeper(landed, middle)) > height ? gentle : steep) = middle;
  }
  return steep;
}

/// As few steps as meet the gradient, else kStepsMost.
std::pair<Profile, int> framed(const Profile& walk, const Profile& landed, double gradient_max) {
  for (int n = 0;; ++n) {
    const double g = gradient_to_end_at(walk, landed, n * kStepRise);
    if (g <= gradient_max || n == kStepsMost) return {no_steeper(landed, g), n};
  }
}

/// The leg's path with new heights, in the direction of its line in the brief.
std::vector<Vec3> drawn(const WalkLine& line, const Profile& deck, bool backward) {
  std::vector<Vec3> out;
  for (std::size_t i = 0; i < deck.s_m.size(); ++i) {
    const double s = deck.s_m[i];
    const auto next = std::ranges::find_if(
        line.stations, [&](const WalkStation& station) { return station.along_m >= s - 1e-9; });
    const auto after = next == line.stations.end() ? next - 1 : next;
    const auto before = after == line.stations.begin() ? after : after - 1;
    const double run = after->along_m - before->along_m;
    const double t = run > 0 ? std::clamp((s - before->along_m) / run, 0.0, 1.0) : 0;
    const Vec2 p = before->point.head<2>() + t * (after->point - before->point).head<2>();
    if (out.empty() || (out.back().head<2>() - p).norm() > 2e-3)
      out.emplace_back(p.x(), p.y(), deck.z_m[i]);
  }
  if (backward) std::reverse(out.begin(), out.end());
  return out;
}

void add_surface(Deck& deck, std::size_t line, std::vector<Vec3> points) {
  if (deck.surface.size() <= line) deck.surface.resize(line + 1);
  std::vector<Vec3>& whole = deck.surface[line];
  for (Vec3& p : points)
    if (whole.empty() || (whole.back() - p).head<2>().norm() > 2e-3) whole.push_back(p);
}

double frame_kg(const Sticks& timber, const Profile& walk, const Profile& deck, double width_m) {
  double kg = 0;
  for (std::size_t i = 0; i + 1 < deck.s_m.size(); ++i) {
    const double a = deck.z_m[i] - walk.at(deck.s_m[i]),
                 b = deck.z_m[i + 1] - walk.at(deck.s_m[i + 1]);
    kg += frame_density(timber, width_m) * width_m * (deck.s_m[i + 1] - deck.s_m[i]) *
          std::max(0.0, (a + b) / 2);
  }
  return kg;
}

void add_approach(const Brief& brief, DeckLine& line, Deck& deck) {
  if (line.end_height_m <= kStepMost) return;
  const RampPlan plan = plan_ramp(line.end_height_m, brief.access);
  line.approach_runs = plan.runs;
  line.approach_m = plan.total_m;
  const double width = brief.walkway.width_m, mean_height = line.end_height_m / 2;
  const Sticks timber = size_sticks(brief);
  deck.approach_m += line.approach_m;
  deck.approach_m2 += line.approach_m * width;
  deck.approach_kg += line.approach_m * width *
                      (deck_kg_per_m2(timber, width) + frame_density(timber, width) * mean_height);
}

void lay_over(const Brief& brief, const Leg& leg, std::size_t line_index, Deck& deck) {
  const Profile walk = profile_of(leg.line);
  DeckLine line;
  line.name = leg.line.name;
  if (deck.kind == DeckKind::kBack) {
    line.gradient_max = leg.line.gradient_max;
    deck.gradient_max = std::max(deck.gradient_max, line.gradient_max);
    deck.lines.push_back(line);
    return;
  }
  const Profile landed = with_landing(walk, brief.access.landing_m / 2);
  Profile over;
  if (deck.kind == DeckKind::kRamps) {
    over = no_steeper(landed, brief.access.gradient_max);
  } else {
    std::tie(over, line.steps) = framed(walk, landed, brief.access.gradient_max);
    deck.step_free = deck.step_free && line.steps == 0;
  }
  line.gradient_max = std::abs(steepest(over).gradient);
  line.end_height_m = end_height(walk, over);
  if (line.steps > 0) line.step_m = line.end_height_m / line.steps;
  if (deck.kind == DeckKind::kRamps) add_approach(brief, line, deck);
  deck.frame_kg += frame_kg(size_sticks(brief), walk, over, brief.walkway.width_m);
  deck.gradient_max = std::max(deck.gradient_max, line.gradient_max);
  add_surface(deck, line_index, drawn(leg.line, over, leg.backward));
  deck.lines.push_back(line);
}

}  // namespace

const char* word(DeckKind kind) {
  switch (kind) {
    case DeckKind::kBack:
      return "on the back";
    case DeckKind::kFrames:
      return "frames";
    case DeckKind::kRamps:
      return "ramps";
  }
  return "";
}

Deck design_deck(const Brief& brief, const Assembly& assembly, DeckKind kind) {
  Brief bare = brief;
  bare.walkway.surface.clear();
  bare.walkway.fill_density = 0;
  const std::vector<Leg> legs = walk_legs(bare, BackHeight(assembly));
  Deck deck;
  deck.kind = kind;
  double length = 0;
  for (const Leg& leg : legs) {
    lay_over(bare, leg, static_cast<std::size_t>(std::max(0, leg.line.line)), deck);
    length += leg.line.length_m;
  }
  if (kind == DeckKind::kBack) return deck;
  deck.frame_density = frame_density(size_sticks(brief), brief.walkway.width_m);
  if (length > 0 && brief.walkway.width_m > 0)
    deck.frame_kg_per_m2 = deck.frame_kg / (length * brief.walkway.width_m);
  return deck;
}

Brief with_deck(const Brief& brief, const Deck& deck) {
  Brief out = brief;
  out.walkway.surface = deck.surface;
  out.walkway.fill_density = deck.frame_density;
  return out;
}

}  // namespace skewback
