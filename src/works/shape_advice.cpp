#include "works/shape_advice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <optional>

#include "brief/fill.hpp"
#include "brief/outline.hpp"
#include "form/meeting_search.hpp"
#include "works/shape_loop.hpp"

namespace skewback {
namespace {

constexpr double kTried[] = {0.02, 0.05, 0.1, 0.2};  // m
constexpr double kGiven = 0.05;                      // m; edge distance beside a fill
constexpr int kFills = 20;                           // of plan.fill, between 0 and 1
constexpr int kHalf = 8, kMost = 16;                 // of these, the first two tried

std::string text(const char* format, double a, double b) {
  char buffer[160];
  std::snprintf(buffer, sizeof buffer, format, a, b);
  return buffer;
}

/// How far free edges lie from where they are drawn.
double furthest_edge(const Brief& brief, const Form& form) {
  double most = 0;
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    const int edge = form.free_edge_of[v];
    if (edge < 0 || static_cast<std::size_t>(edge) >= brief.plan.free_edges.size()) continue;
    const std::vector<Vec2>& line = brief.plan.free_edges[static_cast<std::size_t>(edge)].line;
    double least = HUGE_VAL;
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      least =
          std::min(least, distance_to_segment(form.vertices[v].head<2>(), line[i], line[i + 1]));
    most = std::max(most, least);
  }
  return most;
}

// As a brief would have it that says where arms meet to the centimetre.
void write_meetings(Plan& plan) {
  for (std::optional<Vec2>* meeting : {&plan.meeting, &plan.second_meeting})
    if (*meeting) *meeting = Vec2((**meeting * 100).array().round() / 100);
}

std::string meetings_in_words(const Plan& drawn, const Plan& written) {
  const auto same = [](const std::optional<Vec2>& a, const std::optional<Vec2>& b) {
    return !a || (*a - *b).norm() < 1e-9;
  };
  if (same(drawn.meeting, written.meeting) && same(drawn.second_meeting, written.second_meeting))
    return {};
  if (!written.second_meeting) return ", " + as_written(*written.meeting) + " under [plan]";
  return ", " + as_written(std::array{*written.meeting, *written.second_meeting}) + " under [plan]";
}

std::string distance_advice(const Brief& brief, const Progress& progress) {
  for (const double distance : kTried) {
    Brief trial = brief;
    trial.form.edge_distance_m = distance;
    Dossier found;
    if (find_shape(trial, found, progress)) continue;
    return text(
        "form.edge_distance = \"%.0f mm\": tried, it stays apart, its free edges up to %.0f mm off "
        "the lines drawn; or ",
        1000 * distance, 1000 * furthest_edge(brief, *found.form));
  }
  return {};
}

struct Filled {
  Brief brief;
  DrawnOut drawn;
};

Filled filled(const Brief& brief, double fill) {
  Filled out{brief, {}};
  Plan& plan = out.brief.plan;
  write_meetings(plan);
  out.drawn = draw_out(plan, 1 - (1 - fill) / (1 - plan.fill));
  plan.fill = fill;
  if (brief.form.edge_distance_m == 0) out.brief.form.edge_distance_m = kGiven;
  return out;
}

/// The least plan.fill that helps: in halves between the last that does not and the first that
/// does.
std::string fill_advice(const Brief& brief, const Progress& progress) {
  const auto helps = [&](int step) {
    Dossier found;
    return !find_shape(filled(brief, double(step) / kFills).brief, found, progress);
  };
  int none = int(std::floor(brief.plan.fill * kFills + 1e-9)), good = std::max(none + 1, kHalf);
  while (good < kFills && !helps(good)) {
    none = good;
    good = good < kMost ? kMost : kFills;
  }
  if (good >= kFills) return {};
  while (good - none > 1) {
    const int middle = (none + good) / 2;
    (helps(middle) ? good : none) = middle;
  }
  const Filled least = filled(brief, double(good) / kFills);
  const Plan& plan = least.brief.plan;
  const FreeEdge& edge = plan.free_edges[static_cast<std::size_t>(least.drawn.free_edge)];
  char words[240];
  std::snprintf(words, sizeof words, "plan.fill = %.2f", plan.fill);
  std::string out = words;
  if (brief.form.edge_distance_m == 0)
    out += text(" with form.edge_distance = \"%.0f mm\"", 1000 * kGiven, 0);
  out += meetings_in_words(brief.plan, plan);
  std::snprintf(words, sizeof words,
                ": tried, it stays apart, its free edges drawn out by up to %.2f m (%s-%s at "
                "(%.2f, %.2f)); or ",
                least.drawn.most_m, plan.supports[static_cast<std::size_t>(edge.from)].id.c_str(),
                plan.supports[static_cast<std::size_t>(edge.to)].id.c_str(), least.drawn.place.x(),
                least.drawn.place.y());
  return out + words;
}

}  // namespace

std::string shape_advice(const Brief& brief, const Faults& faults, const Progress& progress) {
  const bool crosses = std::ranges::any_of(faults, [](const Fault& f) { return f.key == "body"; });
  if (!crosses) return {};
  std::string none;
  if (brief.form.edge_distance_m == 0) {
    if (std::string distance = distance_advice(brief, progress); !distance.empty()) return distance;
    none = text("a form.edge_distance from %.0f to %.0f mm", 1000 * kTried[0],
                1000 * kTried[std::size(kTried) - 1]);
  }
  if (std::string fill = fill_advice(brief, progress); !fill.empty()) return fill;
  return "(" + none + (none.empty() ? "" : ", and ") +
         text("a plan.fill up to %.2f, were tried and do not help) ", double(kMost) / kFills, 0);
}

}  // namespace skewback
