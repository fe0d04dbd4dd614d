#include "works/shape_loop.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/timing.hpp"
#include "body/sized.hpp"
#include "form/follow.hpp"

namespace skewback {
namespace {

constexpr double kSettled = 5e-3;  // change of thrust and of weight at which form and body agree
constexpr double kStill = 1e-3;    // m; largest move of a vertex from round to round
constexpr int kRounds = 6;

double total(const std::vector<double>& load) {
  return std::accumulate(load.begin(), load.end(), 0.0);
}

bool near(double now, double before) { return std::abs(now - before) <= kSettled * std::abs(now); }

double largest_move(const Form& a, const Form& b) {
  double most = 0;
  for (std::size_t i = 0; i < a.vertices.size(); ++i)
    most = std::max(most, (a.vertices[i] - b.vertices[i]).norm());
  return most;
}

}  // namespace

std::optional<Faults> find_shape(const Brief& brief, Dossier& dossier, const Progress& progress,
                                 bool form_alone) {
  const Regions walkway = walking_surface(brief);
  std::vector<double> load;
  double thrust = 0;
  for (int round = 0; round < kRounds; ++round) {
    progress.checkpoint("form", static_cast<double>(round) / kRounds);
    Stopwatch watch;
    Result<Form> form = find_form(brief, load, progress);
    if (!form) return form.faults();
    dossier.timings_s["form"] += watch.seconds();
    watch = {};
    Result<Body> body = give_body(brief, *form);
    const bool bodiless = !body && form_alone;
    if (bodiless) body = sized_body(brief, *form);
    if (!body) return body.faults();
    dossier.form_move_m = round > 0 ? largest_move(*dossier.form, *form) : HUGE_VAL;
    dossier.form = std::move(form).value();
    dossier.body = std::move(body).value();
    std::vector<double> next =
        vertex_loads(brief, *dossier.body, walkway, solid_share(brief, *dossier.body));
    const bool settled = near(dossier.form->thrust_max_n, thrust) &&
                         near(total(next), total(load)) &&
                         (dossier.form_move_m < kStill || !has_wishes(brief.form));
    thrust = dossier.form->thrust_max_n;
    load = std::move(next);
    dossier.timings_s["body"] += watch.seconds();
    if (!settled && round + 1 < kRounds) continue;
    if (bodiless) dossier.body.reset();
    break;
  }
  return std::nullopt;
}

bool follow_shape(const Brief& brief, const Form& before, int steps, Dossier& dossier,
                  const Progress& progress) {
  if (before.arms.size() != brief.plan.supports.size() + before.spine_arms) return false;
  const Stopwatch watch;
  const Regions walkway = walking_surface(brief);
  const auto weight = [&](const Body& body) {
    return vertex_loads(brief, body, walkway, solid_share(brief, body));
  };
  Form form = before;
  Body body = sized_body(brief, form);
  std::vector<double> load = weight(body);
  for (int round = 0; round < kRounds; ++round) {
    progress.checkpoint("form", static_cast<double>(round) / kRounds);
    // the fit once; then only the weight is brought up to date
    std::optional<Result<Form>> next =
        follow_form(brief, form, load, {.steps = round == 0 ? steps : 0});
    if (!next || !*next) return false;
    dossier.form_move_m = largest_move(form, **next);
    const double thrust = form.thrust_max_n;
    form = std::move(*next).value();
    body = sized_body(brief, form);
    std::vector<double> after = weight(body);
    const bool settled = near(form.thrust_max_n, thrust) && near(total(after), total(load));
    load = std::move(after);
    if (settled) break;
  }
  dossier.form = std::move(form);
  dossier.body = std::move(body);
  dossier.timings_s["form"] = watch.seconds();
  return true;
}

}  // namespace skewback
