#include "survey/fit.hpp"

#include <Eigen/SVD>
#include <algorithm>
#include <cassert>

#include "survey/suspect.hpp"

namespace skewback {
namespace {

using Points = Eigen::Matrix3Xd;

Points columns(const std::vector<Vec3>& points) {
  Points out(3, static_cast<int>(points.size()));
  for (int i = 0; i < out.cols(); ++i) out.col(i) = points[i];
  return out;
}

bool on_a_line(const Points& centred) {
  const Eigen::JacobiSVD<Points> svd(centred);
  return svd.singularValues()[1] <= 1e-9 * svd.singularValues()[0];
}

void add_residuals(const std::vector<Vec3>& designed, const std::vector<Vec3>& measured,
                   RigidFit& fit) {
  double squares = 0;
  for (std::size_t i = 0; i < designed.size(); ++i) {
    fit.residual_m.push_back(measured[i] - fit.X(designed[i]));
    if (std::ranges::find(fit.outliers, static_cast<int>(i)) != fit.outliers.end()) continue;
    const double off = fit.residual_m.back().norm();
    squares += off * off;
    if (fit.worst < 0 || off > fit.worst_m) {
      fit.worst = static_cast<int>(i);
      fit.worst_m = off;
    }
  }
  const std::size_t kept = designed.size() - fit.outliers.size();
  if (kept > 0) fit.rms_m = std::sqrt(squares / static_cast<double>(kept));
}

/// The fit that is being made: points, those in use, and what came out so far.
struct Work {
  const PointPairs& pairs;
  const std::vector<std::string>& names;
  double gate = 3;
  std::vector<char> used;
  WeightedFit fit;
};

/// Points over the gate, worst first.
std::vector<int> over_the_gate(const Work& work) {
  const std::vector<PointTest> tests = point_tests(work.pairs, work.used, work.fit.X);
  std::vector<double> far(tests.size());
  std::vector<int> out;
  for (std::size_t i = 0; i < tests.size(); ++i) {
    far[i] = as_deviations(tests[i].squares, tests[i].rank);
    if (work.used[i] && far[i] > work.gate) out.push_back(static_cast<int>(i));
  }
  std::ranges::stable_sort(out, std::greater(),
                           [&](int i) { return tests[static_cast<std::size_t>(i)].squares; });
  return out;
}

Work without(const Work& work, int i) {
  Work out = work;
  out.used[static_cast<std::size_t>(i)] = 0;
  out.fit = weighted_fit(out.pairs, out.used);
  return out;
}

/// Other points of `over` (beside its first) without which the rest fits nearly as well.
std::vector<int> rivals(const Work& work, const std::vector<int>& over) {
  constexpr double kNearly = 0.9;  // of what the sum of squares falls by
  std::vector<int> out;
  const double fall = work.fit.squares - without(work, over[0]).fit.squares;
  for (std::size_t k = 1; k < over.size(); ++k) {
    const Work other = without(work, over[k]);
    if (other.fit.determined && !too_far(other.fit, work.gate) &&
        work.fit.squares - other.fit.squares > kNearly * fall)
      out.push_back(over[k]);
  }
  return out;
}

std::string cannot_tell(const Work& work, const std::vector<int>& suspects) {
  std::string text;
  for (const int i : suspects)
    text += (text.empty() ? "" : " or ") + work.names[static_cast<std::size_t>(i)];
  return text + " is off; which cannot be told from these points: measure them again";
}

/// Takes outliers out of the work; names them in `found`.
void take_out(Work& work, RigidFit& found) {
  while (true) {
    std::vector<int> over = over_the_gate(work);
    if (over.empty()) return;
    const Work next = without(work, over[0]);
    if (!next.fit.determined) {
      if (found.suspicion.empty()) found.suspicion = cannot_tell(work, over);
      return;
    }
    if (const std::vector<int> others = rivals(work, over); !others.empty()) {
      over.resize(1);
      over.insert(over.end(), others.begin(), others.end());
      if (found.suspicion.empty()) found.suspicion = cannot_tell(work, over);
      return;
    }
    found.outliers.push_back(over[0]);
    work.used = next.used;
    work.fit = next.fit;
  }
}

std::string undetermined(const Work& work) {
  const std::vector<std::string>& names = work.names;
  if (names.empty()) return "no points";
  if (names.size() == 1) return "one point (" + names[0] + ") leaves every turn undetermined";
  const auto at = [&](std::size_t i) { return work.fit.along.dot(work.pairs.designed[i]); };
  std::size_t first = 0, last = 0;
  for (std::size_t i = 1; i < names.size(); ++i) {
    if (at(i) < at(first)) first = i;
    if (at(i) > at(last)) last = i;
  }
  if (first > last) std::swap(first, last);
  const std::string about = "the line from " + names[first] + " to " + names[last];
  if (names.size() == 2) return "two points leave the turn about " + about + " undetermined";
  return "within their accuracy the points lie on one line: the turn about " + about +
         " is undetermined";
}

}  // namespace

RigidFit fit_rigid(const std::vector<Vec3>& designed, const std::vector<Vec3>& measured) {
  assert(designed.size() == measured.size());
  RigidFit fit;
  if (designed.empty()) {
    fit.reason = "no points";
    return fit;
  }
  const Points x = columns(designed), y = columns(measured);
  const Vec3 from = x.rowwise().mean(), to = y.rowwise().mean();
  const Points x0 = x.colwise() - from, y0 = y.colwise() - to;
  if (designed.size() < 3) {
    fit.reason = "fewer than three points leave a turn undetermined";
  } else if (on_a_line(x0) || on_a_line(y0)) {
    fit.reason = "the points lie on one line, a turn about it is undetermined";
  } else {
    const Eigen::JacobiSVD<Mat3> svd(Mat3(y0 * x0.transpose()),
                                     Eigen::ComputeFullU | Eigen::ComputeFullV);
    const Mat3 &U = svd.matrixU(), &V = svd.matrixV();
    const double hand = U.determinant() * V.determinant() < 0 ? -1 : 1;
    fit.X.R = U * Vec3(1, 1, hand).asDiagonal() * V.transpose();
    fit.determined = true;
  }
  fit.X.t = to - fit.X.R * from;
  add_residuals(designed, measured, fit);
  return fit;
}

RigidFit fit_rigid(const std::vector<Vec3>& designed, const std::vector<Vec3>& measured,
                   const std::vector<double>& accuracy_m, double gate,
                   const std::vector<std::string>& names) {
  assert(designed.size() == measured.size() && designed.size() == accuracy_m.size() &&
         designed.size() == names.size());
  const PointPairs pairs{designed, measured, accuracy_m};
  Work work{pairs, names, gate, std::vector<char>(pairs.size(), 1), {}};
  work.fit = weighted_fit(pairs, work.used);
  RigidFit found;
  found.determined = work.fit.determined;
  if (found.determined) {
    Suspicion suspicion;
    if (too_far(work.fit, gate) || upside_down(work.fit))
      suspicion = suspect(pairs, work.fit, gate, names);
    found.suspicion = suspicion.text;
    found.mistake = !suspicion.text.empty();
    if (!suspicion.of_all) take_out(work, found);
    if (work.fit.redundancy() > 0) found.variance_factor = work.fit.squares / work.fit.redundancy();
    found.turn_sd_rad = turn_deviation(pairs, work.used, work.fit.X);
  } else {
    found.reason = undetermined(work);
  }
  found.X = work.fit.X;
  add_residuals(designed, measured, found);
  return found;
}

}  // namespace skewback
