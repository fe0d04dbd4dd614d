#include "works/shape_advice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <optional>
#include <utility>
#include <vector>

#include "brief/fill.hpp"
#include "brief/outline.hpp"
#include "form/meeting_search.hpp"
#include "form/objectives.hpp"
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

/// How far free edges lie from where they are drawn, as the wish for a distance has it; nothing if
/// that is not held to.
std::optional<double> edges_held(const Form& form) {
  for (const Achieved& wish : form.achieved)
    if (wish.name == kEdgesWish) return wish.met ? std::optional(wish.got) : std::nullopt;
  return std::nullopt;
}

/// Each wish of the brief by name, with the brief that does without it.
std::vector<std::pair<std::string, Brief>> with_one_wish_less(const Brief& brief) {
  std::vector<std::pair<std::string, Brief>> out;
  const auto each = [&](const std::string& key, auto FormRequest::*list) {
    for (std::size_t k = 0; k < (brief.form.*list).size(); ++k) {
      out.emplace_back(key + "[" + std::to_string(k + 1) + "]", brief);
      auto& left = out.back().second.form.*list;
      left.erase(left.begin() + std::ptrdiff_t(k));
    }
  };
  each("form.height", &FormRequest::heights);
  each("form.stay_under", &FormRequest::stay_under);
  each("form.thrust", &FormRequest::thrusts);
  const auto one = [&](const char* key, bool asked) -> FormRequest* {
    if (!asked) return nullptr;
    out.emplace_back(key, brief);
    return &out.back().second.form;
  };
  if (FormRequest* left = one("form.target", !brief.form.target.triangles.empty()))
    left->target = {};
  if (FormRequest* left = one("form.edge_distance", brief.form.edge_distance_m > 0))
    left->edge_distance_m = 0;
  if (FormRequest* left = one("form.evenness", brief.form.evenness != 1)) left->evenness = 1;
  return out;
}

/// Which wish to leave out, where without it, or without any, there is a shape.
std::string wish_advice(const Brief& brief, const Progress& progress) {
  if (!has_wishes(brief.form)) return {};
  const auto helps = [&](const Brief& trial) {
    Dossier found;
    return !find_shape(trial, found, progress);
  };
  Brief plain = brief;
  plain.form.heights.clear();
  plain.form.stay_under.clear();
  plain.form.thrusts.clear();
  plain.form.target = {};
  plain.form.edge_distance_m = 0;
  plain.form.evenness = 1;
  if (!helps(plain)) return {};
  const auto singles = with_one_wish_less(brief);
  for (const auto& [key, trial] : singles)
    if (singles.size() == 1 || helps(trial))
      return "leave out " + key + ": tried, without it the shell stays apart; or ";
  std::string all;
  for (const auto& [key, trial] : singles) all += (all.empty() ? "" : ", ") + key;
  return "leave out all of " + all + ": tried, without them the shell stays apart; or ";
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
    const std::optional<double> off = edges_held(*found.form);
    if (!off) continue;
    return text(
        "form.edge_distance = \"%.0f mm\": tried, it stays apart, its free edges up to %.0f mm off "
        "the lines drawn; or ",
        1000 * distance, 1000 * *off);
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
  const bool folds =
      std::ranges::any_of(faults, [](const Fault& f) { return f.key == "form: equilibrium"; });
  if (crosses || folds)
    if (std::string wish = wish_advice(brief, progress); !wish.empty()) return wish;
  if (!crosses) return {};
  std::vector<std::string> tried;
  if (brief.form.edge_distance_m == 0) {
    if (std::string distance = distance_advice(brief, progress); !distance.empty()) return distance;
    tried.push_back(text("a form.edge_distance from %.0f to %.0f mm", 1000 * kTried[0],
                         1000 * kTried[std::size(kTried) - 1]));
  }
  if (std::string fill = fill_advice(brief, progress); !fill.empty()) return fill;
  tried.push_back(text("a plan.fill up to %.2f", double(kMost) / kFills, 0));
  return "(tried, and of no help: " + tried.front() +
         (tried.size() > 1 ? ", and " + tried.back() : "") + ") ";
}

}  // namespace skewback
