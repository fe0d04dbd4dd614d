#include "survey/footings.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kOtherDatum = 0.1;  // m; shifts beyond this are the survey's own coordinates
constexpr double kNoFooting =
    0.05;                         // m; residuals of one footing's marks beyond this are a mistake
constexpr double kUpright = 0.9;  // cosine of the tilt of any footing
constexpr double kNoGate = 1e9;   // the error is shared, none of it thrown out

struct Marks {
  std::vector<Vec3> drawn, measured;
  std::vector<double> accuracy_m;
  std::vector<std::string> names;
};

/// Of one support, or of all (`support` empty).
Marks marks_of(const Brief& brief, const PointFile* points, const std::vector<Mark>& drawn,
               const std::string& support) {
  Marks out;
  const auto add = [&](const Mark& mark, const Vec3& at, double accuracy) {
    out.drawn.push_back(mark.designed);
    out.measured.push_back(at);
    out.accuracy_m.push_back(accuracy);
    out.names.push_back(mark.name);
  };
  for (const Mark& mark : drawn) {
    if (!support.empty() && support != mark.of) continue;
    if (points != nullptr) {
      const auto it = std::ranges::find(points->points, mark.name, &MeasuredPoint::mark);
      if (it != points->points.end()) {
        add(mark, it->at, it->accuracy_m > 0 ? it->accuracy_m : brief.survey->accuracy_m);
        continue;
      }
    }
    for (const SurveyPoint& point : brief.survey->points) {
      if (point.support + " " + point.mark != mark.name) continue;
      add(mark, point.measured, brief.survey->accuracy_m);
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

/// What cannot be a footing's error, in words; empty: nothing.
std::string mistake_in(const Marks& marks, const RigidFit& fit) {
  if (!fit.suspicion.empty() && fit.worst_m > kNoFooting) return fit.suspicion;
  if (fit.X.R(2, 2) < kUpright)
    return "the marks fit only upside down: two of them, or two axes, look exchanged";
  if (fit.worst < 0 || fit.worst_m < kNoFooting) return "";
  return "the mark " + marks.names[static_cast<std::size_t>(fit.worst)] + " is " +
         millimetres(fit.worst_m) + " from where the others have it";
}

/// A footing that moved is no mistake of one mark.
std::string mistake_of_all(const Marks& marks, RigidFit fit) {
  if (fit.suspicion.empty()) fit.worst_m = 0;
  return mistake_in(marks, fit);
}

Faults faults_of(const Brief& brief, const PointFile* points, const std::vector<Mark>& drawn) {
  Faults faults;
  const auto refuse = [&](const std::string& support, const std::string& found,
                          const std::string& change) {
    faults.push_back({.key = "survey" + (support.empty() ? "" : ": support " + support),
                      .found = found,
                      .expected = "left, right and back, as drawn but for the footing's error",
                      .change = change});
  };
  const Marks all = marks_of(brief, points, drawn, "");
  for (const Support& support : brief.plan.supports) {
    const Marks marks = marks_of(brief, points, drawn, support.id);
    const RigidFit fit = fit_rigid(marks.drawn, marks.measured);
    if (!fit.determined) {
      refuse(support.id,
             std::to_string(marks.drawn.size()) +
                 (marks.drawn.size() == 1 ? " mark: " : " marks: ") + fit.reason,
             "measure all three marks of " + support.id);
    }
  }
  if (!faults.empty()) return faults;
  if (const std::string what = mistake_of_all(all, fitted(all, brief.survey->gate));
      !what.empty()) {
    refuse("", what, "look at names, axes and unit, and measure again");
    return faults;
  }
  for (const Support& support : brief.plan.supports) {
    const Marks marks = marks_of(brief, points, drawn, support.id);
    const std::string what = mistake_in(marks, fitted(marks, brief.survey->gate));
    if (!what.empty()) refuse(support.id, what, "measure the marks of " + support.id + " again");
  }
  return faults;
}

/// Best turn about the vertical and shift: heights of a survey are plumb.
Rigid plumb_fit(const Marks& marks) {
  Vec3 from = Vec3::Zero(), to = Vec3::Zero();
  for (std::size_t i = 0; i < marks.drawn.size(); ++i) {
    from += marks.drawn[i];
    to += marks.measured[i];
  }
  from /= static_cast<double>(marks.drawn.size());
  to /= static_cast<double>(marks.drawn.size());
  double along = 0, across = 0;
  for (std::size_t i = 0; i < marks.drawn.size(); ++i) {
    const Vec3 p = marks.drawn[i] - from, q = marks.measured[i] - to;
    along += p.x() * q.x() + p.y() * q.y();
    across += p.x() * q.y() - p.y() * q.x();
  }
  Rigid X;
  X.R = Eigen::AngleAxisd(std::atan2(across, along), Vec3::UnitZ()).toRotationMatrix();
  X.t = to - X.R * from;
  return X;
}

Rigid datum_of(const Marks& all, double gate) {
  const RigidFit fit = fitted(all, gate);
  double largest = 0;
  for (const Vec3& p : all.drawn) largest = std::max(largest, (fit.X(p) - p).norm());
  return largest > kOtherDatum ? plumb_fit(all) : Rigid{};
}

void doubt(const std::string& support, const Marks& marks, const RigidFit& fit, double gate,
           std::vector<std::string>& doubtful) {
  for (const int i : fit.outliers) {
    const auto at = static_cast<std::size_t>(i);
    doubtful.push_back("mark " + marks.names[at] + ": " + millimetres(fit.residual_m[at].norm()) +
                       " off, left out");
  }
  if (!fit.suspicion.empty()) doubtful.push_back("the marks of " + support + ": " + fit.suspicion);
  if (fit.worst < 0 || !fit.outliers.empty()) return;
  const auto worst = static_cast<std::size_t>(fit.worst);
  if (fit.worst_m <= gate * marks.accuracy_m[worst]) return;
  doubtful.push_back("the marks of " + support + ": " + marks.names[worst] + " is " +
                     millimetres(fit.worst_m) + " from where the others have it, more than " +
                     millimetres(gate * marks.accuracy_m[worst]));
}

}  // namespace

Rigid after(const Rigid& second, const Rigid& first) {
  return {second.R * first.R, second.R * first.t + second.t};
}

Rigid inverse(const Rigid& X) { return {X.R.transpose(), -(X.R.transpose() * X.t)}; }

Result<FootingsFound> find_footings(const Brief& brief, const PointFile* points,
                                    const std::vector<Mark>& drawn) {
  if (!brief.survey || (brief.survey->points.empty() && points == nullptr)) {
    return Fault{.key = "survey",
                 .found = "no measured points",
                 .expected = "three marks of every support",
                 .change = "add [[survey.point]] for left, right and back"};
  }
  if (Faults faults = faults_of(brief, points, drawn); !faults.empty()) return faults;
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
    doubt(support.id, marks, found.footings.back(), gate, found.doubtful);
  }
  return found;
}

}  // namespace skewback
