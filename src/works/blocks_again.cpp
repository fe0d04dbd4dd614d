#include "works/blocks_again.hpp"

#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr std::size_t kMarks = 3;   // of a springing
constexpr double kAsGood_m = 1e-6;  // of fits as good the first, in the order of both briefs

struct Upright {  // p -> turned about the vertical, then shifted
  double turn_rad = 0;
  Vec3 shift = Vec3::Zero();
  double rms_m = std::numeric_limits<double>::infinity();
  [[nodiscard]] Vec3 operator()(const Vec3& p) const {
    return Eigen::AngleAxisd(turn_rad, Vec3::UnitZ()) * p + shift;
  }
};

/// Least squares; the turn is that of the plan (Umeyama 1991 in two dimensions).
Upright fit_upright(const std::vector<Vec3>& from, const std::vector<Vec3>& to) {
  Vec3 a = Vec3::Zero(), b = Vec3::Zero();
  const auto n = static_cast<double>(from.size());
  for (std::size_t i = 0; i < from.size(); ++i) {
    a += from[i] / n;
    b += to[i] / n;
  }
  double dot = 0, cross = 0;
  for (std::size_t i = 0; i < from.size(); ++i) {
    const Vec3 p = from[i] - a, q = to[i] - b;
    dot += p.x() * q.x() + p.y() * q.y();
    cross += p.x() * q.y() - p.y() * q.x();
  }
  Upright fit;
  fit.turn_rad = std::atan2(cross, dot);
  fit.shift = b - Eigen::AngleAxisd(fit.turn_rad, Vec3::UnitZ()) * a;
  double squares = 0;
  for (std::size_t i = 0; i < from.size(); ++i) squares += (to[i] - fit(from[i])).squaredNorm();
  fit.rms_m = std::sqrt(squares / n);
  return fit;
}

/// Springing marks of `fresh`, in the order of springing_marks, where they were measured or, if
/// not, are drawn.
std::vector<Vec3> where_they_are(const Brief& fresh) {
  std::vector<Vec3> at;
  for (const Mark& mark : springing_marks(fresh)) {
    at.push_back(mark.designed);
    if (!fresh.survey) continue;
    for (const SurveyPoint& point : fresh.survey->points)
      if (point.support + " " + point.mark == mark.name) at.back() = point.measured;
  }
  return at;
}

/// What of `fresh` does not hang on the shape of the bridge, but for what lies in its plan.
void take_site(const Brief& fresh, Brief& brief) {
  brief.name = fresh.name;
  brief.title = fresh.title;
  brief.loads = fresh.loads;
  brief.factors = fresh.factors;
  brief.required = fresh.required;
  brief.soil = fresh.soil;
  brief.packing = fresh.packing;
  brief.tolerances = fresh.tolerances;
  brief.erect = fresh.erect;
  brief.programme = fresh.programme;
  brief.transport = fresh.transport;
  brief.rates = fresh.rates;
  brief.carbon = fresh.carbon;
  if (fresh.lifting.wanted) brief.lifting = fresh.lifting;
  if (fresh.spares.wanted) brief.spares = fresh.spares;
}

/// What of the fresh site lies in its plan: ground, ties, where no foot may stand. `first`: support
/// of `fresh` that is the first of `brief`.
void take_ground(const Brief& fresh, const Upright& X, std::size_t first, Brief& brief) {
  const double up = X.shift.z();
  const std::size_t n = fresh.plan.supports.size();
  const auto there = [&](int support) {
    return static_cast<int>((static_cast<std::size_t>(support) + n - first) % n);
  };
  brief.ground = fresh.ground;
  for (Tie& tie : brief.ground.ties) {
    tie.from = there(tie.from);
    tie.to = there(tie.to);
    tie.level_m += up;
  }
  brief.centring.ground_level_m = fresh.centring.ground_level_m + up;
  brief.centring.no_feet = fresh.centring.no_feet;
  for (std::vector<Vec2>& ring : brief.centring.no_feet)
    for (Vec2& p : ring) p = X(Vec3(p.x(), p.y(), 0)).head<2>();
}

/// As many supports on both.
struct Turned {
  Upright best;             // fresh to before
  std::size_t first = 0;    // support of `fresh` that is the first of `before`
  std::vector<Mark> marks;  // springings of `before`
  std::vector<Vec3> there;  // of each, where it is on the fresh site
};
Turned turn_to(const Brief& before, const Brief& fresh) {
  Brief seen = before;  // the back of a springing is a footing's width behind it
  seen.ground.footing_width_m = fresh.ground.footing_width_m;
  Turned out;
  out.marks = springing_marks(seen);
  const std::vector<Vec3> there = where_they_are(fresh);
  std::vector<Vec3> to_there;
  for (const Mark& mark : out.marks) to_there.push_back(mark.designed);
  for (std::size_t first = 0; first < before.plan.supports.size(); ++first) {
    std::vector<Vec3> turned;
    for (std::size_t i = 0; i < there.size(); ++i)
      turned.push_back(there[(i + first * kMarks) % there.size()]);
    const Upright fit = fit_upright(turned, to_there);
    if (fit.rms_m > out.best.rms_m - kAsGood_m) continue;
    out.best = fit;
    out.there = turned;
    out.first = first;
  }
  return out;
}

}  // namespace

Result<Brief> blocks_again(const Brief& before, const Brief& fresh) {
  const std::size_t supports = before.plan.supports.size();
  if (fresh.plan.supports.size() != supports) {
    return Fault{fresh.file.string(),
                 0,
                 0,
                 "plan.support",
                 std::to_string(fresh.plan.supports.size()) + " supports",
                 std::to_string(supports) + ", as many as the bridge whose blocks are used again",
                 "these blocks do not make a bridge here"};
  }
  const Turned turned = turn_to(before, fresh);
  Brief brief = before;
  take_site(fresh, brief);
  const Upright& best = turned.best;
  take_ground(fresh, best, turned.first, brief);
  // the site's grid seen from the axes of `before`
  brief.site = fresh.site;
  const auto back = Eigen::AngleAxisd(-best.turn_rad, Vec3::UnitZ());
  brief.site.origin = to_site(fresh.site, Vec3(-(back * best.shift)));
  brief.site.turn_rad = fresh.site.turn_rad - best.turn_rad;
  brief.survey = fresh.survey.value_or(SurveyRequest{});
  brief.survey->points.clear();
  if (!brief.survey->file.empty()) return brief;  // where they are is in it
  for (std::size_t i = 0; i < turned.marks.size(); ++i) {
    const Mark& mark = turned.marks[i];
    brief.survey->points.push_back(
        {mark.of, mark.name.substr(mark.of.size() + 1), best(turned.there[i])});
  }
  return brief;
}

std::vector<SupportAgain> supports_again(const Brief& before, const Brief& fresh) {
  const std::size_t n = before.plan.supports.size(), first = turn_to(before, fresh).first;
  std::vector<SupportAgain> out;
  for (std::size_t k = 0; k < n; ++k)
    out.push_back({before.plan.supports[k].id, fresh.plan.supports[(k + first) % n].id});
  return out;
}

}  // namespace skewback
