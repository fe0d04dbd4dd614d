#include "survey/footings.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <tuple>

#include "survey/mix_up.hpp"

namespace skewback {
namespace {

constexpr double kOtherDatum = 0.1;  // m; shifts beyond this are the survey's own coordinates
constexpr double kNoFooting =
    0.05;                          // m; residuals of one footing's marks beyond this are a mistake
constexpr double kNoPlace = 0.25;  // m; a footing further off was not cast so (ours)
constexpr double kUpright = 0.9;   // cosine of the tilt of any footing
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

Mistake mistake_in(const Marks& marks, const RigidFit& fit) {
  const std::size_t worst = static_cast<std::size_t>(std::max(0, fit.worst));
  if (!fit.suspicion.empty() && fit.worst_m > kNoFooting) return {fit.suspicion, worst};
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
Mistake mistake_of_all(const Marks& marks, RigidFit fit) {
  if (fit.suspicion.empty()) fit.worst_m = 0;
  return mistake_in(marks, fit);
}

Rigid datum_of(const Marks& all, double gate) {
  const RigidFit fit = fitted(all, gate);
  double largest = 0;
  for (const Vec3& p : all.drawn) largest = std::max(largest, (fit.X(p) - p).norm());
  return largest > kOtherDatum ? plumb_fit(all.drawn, all.measured) : Rigid{};
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
    const Mistake what = mistake_of_all(all, fitted(all, brief_.survey->gate));
    if (!what.words.empty())
      refuse("", all, what.mark, what.words, "look at names, axes and unit, and measure again");
  }

  void of_each_support() {
    for (std::size_t s = 0; s < of_.size(); ++s) {
      const std::string& id = brief_.plan.supports[s].id;
      const Mistake what = mistake_in(of_[s], fitted(of_[s], brief_.survey->gate));
      if (!what.words.empty())
        refuse(id, of_[s], what.mark, what.words, "measure the marks of " + id + " again");
    }
  }

  void of_each_place() {
    const double gate = brief_.survey->gate;
    const Rigid back = inverse(datum_of(marks_of(brief_, points_, drawn_, ""), gate));
    for (std::size_t s = 0; s < of_.size(); ++s) {
      const Marks& marks = of_[s];
      Vec3 off = Vec3::Zero();
      for (std::size_t i = 0; i < marks.drawn.size(); ++i)
        off += (back(marks.measured[i]) - marks.drawn[i]) / static_cast<double>(marks.drawn.size());
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
  if (!fit.suspicion.empty()) unfit(fit.suspicion);
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
  found.datum = datum_of(all, gate);
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
  }
  return found;
}

}  // namespace skewback
