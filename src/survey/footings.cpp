#include "survey/footings.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <tuple>

#include "base/constants.hpp"
#include "survey/footing_move.hpp"
#include "survey/mix_up.hpp"
#include "survey/one_off.hpp"

namespace skewback {
namespace {

constexpr double kOtherDatum = 0.1;  // m; every support shifted by more: the survey's own axes
constexpr double kNoFooting =
    0.05;                          // m; residuals of one footing's marks beyond this are a mistake
constexpr double kNoPlace = 0.25;  // m; a footing further off was not cast so (ours)
constexpr double kUpright = 0.9;   // cosine of the tilt of any footing
constexpr double kAlike = 0.025;   // m; all footings off in level by more the same way (ours)
constexpr double kTilts = 3;       // times tolerances.footing_tilt: three marks may be wrong (ours)
constexpr double kNoGate = 1e9;    // the error is shared, none of it thrown out

struct Marks {
  std::vector<Vec3> drawn, measured;
  std::vector<double> accuracy_m;
  std::vector<std::string> names;
  std::vector<std::pair<std::string, int>> rows;  // file and line of each
};

/// Line of a [[survey.point]] of the brief; 0 where it is written in another way.
int line_in(const Brief& brief, std::size_t point) {
  std::size_t at = 0;
  for (std::size_t i = 0; i <= point; ++i) {
    at = brief.text.find("[[survey.point]]", i == 0 ? 0 : at + 1);
    if (at == std::string::npos) return 0;
  }
  return 1 + static_cast<int>(std::count(
                 brief.text.begin(), brief.text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

/// Of one support, or of all (`support` empty).
Marks marks_of(const Brief& brief, const PointFile* points, const std::vector<Mark>& drawn,
               const std::string& support) {
  Marks out;
  const auto add = [&](const Mark& mark, const Vec3& at, double accuracy, const std::string& file,
                       int line) {
    out.drawn.push_back(mark.designed);
    out.measured.push_back(at);
    out.accuracy_m.push_back(accuracy);
    out.names.push_back(mark.name);
    out.rows.emplace_back(file, line);
  };
  for (const Mark& mark : drawn) {
    if (!support.empty() && support != mark.of) continue;
    if (points != nullptr) {
      const auto it = std::ranges::find(points->points, mark.name, &MeasuredPoint::mark);
      if (it != points->points.end()) {
        add(mark, it->at, it->accuracy_m > 0 ? it->accuracy_m : brief.survey->accuracy_m,
            points->file, it->line);
        continue;
      }
    }
    for (std::size_t i = 0; i < brief.survey->points.size(); ++i) {
      const SurveyPoint& point = brief.survey->points[i];
      if (point.support + " " + point.mark != mark.name) continue;
      add(mark, point.measured, brief.survey->accuracy_m, brief.file.string(), line_in(brief, i));
      break;
    }
  }
  return out;
}

RigidFit fitted(const Marks& marks, double gate) {
  return fit_rigid(marks.drawn, marks.measured, marks.accuracy_m, gate, marks.names);
}

std::string millimetres(double m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f mm", m * 1e3);
  return text;
}

/// What cannot be a footing's error; no words: nothing.
struct Mistake {
  std::string words;
  std::size_t mark = 0;  // to be looked at first
};

/// Of three marks that a fit cannot tell apart.
Mistake suspected(const Marks& marks, const RigidFit& fit, double gate) {
  const auto worst = static_cast<std::size_t>(std::max(0, fit.worst));
  const auto one =
      fit.mistake ? std::nullopt : one_off(marks.drawn, marks.measured, marks.accuracy_m, gate);
  if (fit.suspicion.empty() || !one) return {fit.suspicion, worst};
  std::string others;
  for (std::size_t i = 0; i < 3; ++i)
    if (i != *one) others += (others.empty() ? "" : " and ") + marks.names[i];
  return {marks.names[*one] + " looks off, by the distances: from it to " + others +
              " both are wrong, between those two it is right",
          *one};
}

Mistake mistake_in(const Marks& marks, const RigidFit& fit, double gate) {
  const std::size_t worst = static_cast<std::size_t>(std::max(0, fit.worst));
  if (!fit.suspicion.empty() && fit.worst_m > kNoFooting) return suspected(marks, fit, gate);
  if (fit.X.R(2, 2) < kUpright)
    return {
        "the marks fit only mirrored: two of them look exchanged, or two axes, or one axis is "
        "negated"};
  if (fit.worst < 0 || fit.worst_m < kNoFooting) return {};
  return {"the mark " + marks.names[worst] + " is " + millimetres(fit.worst_m) +
              " from where the others have it",
          worst};
}

/// A footing that moved is no mistake of one mark.
Mistake mistake_of_all(const Marks& marks, RigidFit fit, double gate) {
  if (fit.suspicion.empty()) fit.worst_m = 0;
  return mistake_in(marks, fit, gate);
}

/// Of its marks, on the axes they were written in.
Vec3 mean_move(const Marks& marks) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 0; i < marks.drawn.size(); ++i) sum += marks.measured[i] - marks.drawn[i];
  return sum / static_cast<double>(std::max<std::size_t>(1, marks.drawn.size()));
}

bool on_the_grid(const Brief& brief, const PointFile* points) {
  const SiteGrid& site = brief.site;
  return points != nullptr && points->site_axes &&
         (!site.origin.isZero(0) || site.turn_rad != 0 || !site.date.empty());
}

/// A survey on the grid of the brief stays on it. Another is on axes of its own only where no
/// support lies near its place: one footing that is far off moves no axes.
Rigid datum_of(const Brief& brief, const PointFile* points, const std::vector<Mark>& drawn) {
  if (on_the_grid(brief, points)) return {};
  for (const Support& support : brief.plan.supports)
    if (mean_move(marks_of(brief, points, drawn, support.id)).norm() <= kOtherDatum) return {};
  const Marks all = marks_of(brief, points, drawn, "");
  return plumb_fit(all.drawn, all.measured);
}

/// Marks that lie far off but fit once shifted and turned together, in words; else empty.
std::string all_off(const Marks& all) {
  const Rigid X = plumb_fit(all.drawn, all.measured);
  double off = 0;
  for (std::size_t i = 0; i < all.drawn.size(); ++i) {
    if ((all.measured[i] - X(all.drawn[i])).norm() > kNoPlace) return "";
    off = std::max(off, (all.measured[i] - all.drawn[i]).norm());
  }
  if (off <= kNoPlace) return "";
  char text[200];
  std::snprintf(text, sizeof text,
                "all footings lie off their places alike: shifted by %.3f, %.3f, %.3f m (x, y, z) "
                "and turned by %.3f degrees",
                X.t.x(), X.t.y(), X.t.z(), std::atan2(X.R(1, 0), X.R(0, 0)) * 180 / kPi);
  return text;
}

class Refusing {
 public:
  Refusing(const Brief& brief, const PointFile* points, const std::vector<Mark>& drawn)
      : brief_(brief), points_(points), drawn_(drawn) {
    for (const Support& support : brief.plan.supports)
      of_.push_back(marks_of(brief, points, drawn, support.id));
  }

  Faults faults() {
    of_missing_marks();
    if (faults_.empty()) of_mixed_names_and_axes();
    if (faults_.empty()) of_all();
    if (faults_.empty()) of_each_support();
    if (faults_.empty()) of_each_place();
    return faults_;
  }

 private:
  void refuse(const std::string& support, const Marks& marks, std::size_t mark,
              const std::string& found, const std::string& change) {
    Fault fault{.key = "survey" + (support.empty() ? "" : ": support " + support),
                .found = found,
                .expected = "left, right and back, as drawn but for the footing's error",
                .change = change};
    if (mark < marks.rows.size())
      std::tie(fault.file, fault.line) = marks.rows[mark];
    else
      fault.file = points_ != nullptr ? points_->file : brief_.file.string();
    faults_.push_back(std::move(fault));
  }

  void of_missing_marks() {
    for (std::size_t s = 0; s < of_.size(); ++s) {
      const std::string& id = brief_.plan.supports[s].id;
      const Marks& marks = of_[s];
      const RigidFit fit = fit_rigid(marks.drawn, marks.measured);
      if (fit.determined) continue;
      refuse(id, marks, 0,
             std::to_string(marks.drawn.size()) +
                 (marks.drawn.size() == 1 ? " mark: " : " marks: ") + fit.reason,
             "measure all three marks of " + id);
    }
  }

  void of_mixed_names_and_axes() {
    Springings all;
    for (std::size_t s = 0; s < of_.size(); ++s) {
      all.supports.push_back(brief_.plan.supports[s].id);
      all.drawn.emplace_back();
      all.measured.emplace_back();
      for (std::size_t k = 0; k < 3; ++k) {
        all.drawn[s][k] = of_[s].drawn[k];
        all.measured[s][k] = of_[s].measured[k];
      }
    }
    const bool of_site = points_ != nullptr && points_->site_axes;
    const MixUp mixed = mix_up(all, {of_site ? &brief_.site : nullptr}, kOtherDatum);
    if (mixed.found.empty()) return;
    if (mixed.mark) {
      const auto [s, k] = *mixed.mark;
      return refuse(brief_.plan.supports[s].id, of_[s], k, mixed.found, mixed.change);
    }
    if (mixed.supports.empty()) return refuse("", of_.front(), 0, mixed.found, mixed.change);
    for (const std::size_t s : mixed.supports)
      refuse(brief_.plan.supports[s].id, of_[s], 0, mixed.found, mixed.change);
  }

  void of_all() {
    const Marks all = marks_of(brief_, points_, drawn_, "");
    const Mistake what = mistake_of_all(all, fitted(all, brief_.survey->gate), brief_.survey->gate);
    if (!what.words.empty())
      refuse("", all, what.mark, what.words, "look at names, axes and unit, and measure again");
  }

  void of_each_support() {
    for (std::size_t s = 0; s < of_.size(); ++s) {
      const std::string& id = brief_.plan.supports[s].id;
      const Mistake what =
          mistake_in(of_[s], fitted(of_[s], brief_.survey->gate), brief_.survey->gate);
      if (!what.words.empty())
        refuse(id, of_[s], what.mark, what.words, "measure the marks of " + id + " again");
    }
  }

  void of_each_place() {
    const Rigid back = inverse(datum_of(brief_, points_, drawn_));
    std::vector<Vec3> moves;
    for (const Marks& marks : of_) {
      Marks found = marks;
      for (Vec3& p : found.measured) p = back(p);
      moves.push_back(mean_move(found));
    }
    Marks all = marks_of(brief_, points_, drawn_, "");
    for (Vec3& p : all.measured) p = back(p);
    if (const std::string words = all_off(all); !words.empty())
      return refuse("", of_.front(), 0, words,
                    "look at the benchmark and the instrument's station: columns east, north and "
                    "level are on the grid of [site]; points on axes of their own are x, y and z");
    for (std::size_t s = 0; s < of_.size(); ++s) {
      const Marks& marks = of_[s];
      const Vec3& off = moves[s];
      if (off.norm() <= kNoPlace) continue;
      const std::string& id = brief_.plan.supports[s].id;
      refuse(id, marks, 0,
             "the footing lies " + millimetres(off.head<2>().norm()) + " off in plan and " +
                 millimetres(std::abs(off.z())) + (off.z() < 0 ? " low" : " high"),
             "measure again; if it does lie there, draw the bridge to it");
    }
  }

  const Brief& brief_;
  const PointFile* points_;
  const std::vector<Mark>& drawn_;
  std::vector<Marks> of_;  // per support
  Faults faults_;
};

/// Three marks cannot tell a tilt from a wrong level.
void doubt_tilt(const Brief& brief, const Support& support, const RigidFit& fit,
                FootingsFound& found) {
  const double tilt = footing_move(support, fit.X).tilt_rad;
  const double most = std::max(kTilts * brief.tolerances.footing_tilt_rad,
                               brief.survey->gate * fit.turn_sd_rad.value_or(0));
  if (tilt <= most) return;
  char text[300];
  std::snprintf(text, sizeof text,
                "the footing %s would be tilted by %.2f degrees, over %.2f: by three marks alone, "
                "and one wrong level looks the same. Lay a level on its bed; if it is so tilted, "
                "say so in tolerances.footing_tilt",
                support.id.c_str(), tilt * 180 / kPi, most * 180 / kPi);
  found.doubtful.emplace_back(text);
  found.unfit.emplace_back(text);
}

/// A wrong benchmark lowers or lifts all of them.
void doubt_level(const Brief& brief, FootingsFound& found) {
  double least = std::numeric_limits<double>::infinity(), sign = 0;
  for (std::size_t s = 0; s < found.footings.size(); ++s) {
    const double up = footing_move(brief.plan.supports[s], found.footings[s].X).up_m;
    if (sign != 0 && up * sign <= 0) return;
    sign = up;
    least = std::min(least, std::abs(up));
  }
  if (!(least > kAlike)) return;
  found.doubtful.push_back("the levels: every footing is " + millimetres(least) + " or more too " +
                           (sign > 0 ? "high" : "low") +
                           ", as a wrong benchmark would have it; look at that first");
}

void doubt(const std::string& support, const Marks& marks, const RigidFit& fit, double gate,
           FootingsFound& found) {
  std::vector<std::string>& doubtful = found.doubtful;
  for (const int i : fit.outliers) {
    const auto at = static_cast<std::size_t>(i);
    doubtful.push_back("mark " + marks.names[at] + ": " + millimetres(fit.residual_m[at].norm()) +
                       " off, left out");
  }
  const auto unfit = [&](const std::string& words) {
    doubtful.push_back("the marks of " + support + ": " + words);
    found.unfit.push_back(doubtful.back());
  };
  if (!fit.suspicion.empty()) unfit(suspected(marks, fit, gate).words);
  if (fit.worst < 0 || !fit.outliers.empty()) return;
  const auto worst = static_cast<std::size_t>(fit.worst);
  if (fit.worst_m <= gate * marks.accuracy_m[worst]) return;
  unfit(marks.names[worst] + " is " + millimetres(fit.worst_m) +
        " from where the others have it, more than " + millimetres(gate * marks.accuracy_m[worst]));
}

}  // namespace

Rigid after(const Rigid& second, const Rigid& first) {
  return {second.R * first.R, second.R * first.t + second.t};
}

Rigid inverse(const Rigid& X) { return {X.R.transpose(), -(X.R.transpose() * X.t)}; }

Result<FootingsFound> find_footings(const Brief& brief, const PointFile* points,
                                    const std::vector<Mark>& drawn) {
  if (!brief.survey || (brief.survey->points.empty() && points == nullptr)) {
    return Fault{.file = brief.file.string(),
                 .key = "survey",
                 .found = "no measured points",
                 .expected = "three marks of every support",
                 .change = "add [[survey.point]] for left, right and back"};
  }
  if (Faults faults = Refusing(brief, points, drawn).faults(); !faults.empty()) return faults;
  FootingsFound found;
  found.marks = drawn;
  const double gate = brief.survey->gate;
  Marks all = marks_of(brief, points, drawn, "");
  found.datum = datum_of(brief, points, drawn);
  const Rigid back = inverse(found.datum);
  const auto into_bridge = [&](Marks& marks) {
    for (Vec3& p : marks.measured) p = back(p);
  };
  into_bridge(all);
  found.whole = fitted(all, kNoGate);
  for (const Support& support : brief.plan.supports) {
    Marks marks = marks_of(brief, points, drawn, support.id);
    into_bridge(marks);
    found.footings.push_back(fitted(marks, gate));
    doubt(support.id, marks, found.footings.back(), gate, found);
    doubt_tilt(brief, support, found.footings.back(), found);
  }
  doubt_level(brief, found);
  return found;
}

}  // namespace skewback
