#include "survey/mix_up.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

#include "survey/marks.hpp"

namespace skewback {
namespace {

constexpr std::size_t kAllOrders = 6;  // supports whose names are tried in every order
constexpr double kFarBetter = 5;
constexpr std::size_t kMostSaid = 4;

using Order = std::vector<std::size_t>;  // per name, the support that was measured under it
using Points = std::vector<Vec3>;

Points in_a_row(const std::vector<std::array<Vec3, 3>>& marks, const Order& order) {
  Points out;
  for (const std::size_t s : order) out.insert(out.end(), marks[s].begin(), marks[s].end());
  return out;
}

Order as_named(std::size_t n) {
  Order out(n);
  std::iota(out.begin(), out.end(), 0);
  return out;
}

double farthest(const Points& drawn, const Points& measured, const Rigid& X) {
  double most = 0;
  for (std::size_t i = 0; i < drawn.size(); ++i)
    most = std::max(most, (measured[i] - X(drawn[i])).norm());
  return most;
}

std::size_t moved(const Order& order) {
  std::size_t out = 0;
  for (std::size_t s = 0; s < order.size(); ++s) out += order[s] != s ? 1 : 0;
  return out;
}

/// Every one but the names as they are.
std::vector<Order> other_orders(std::size_t n) {
  std::vector<Order> out;
  Order order = as_named(n);
  if (n <= kAllOrders) {
    while (std::ranges::next_permutation(order).found) out.push_back(order);
    return out;
  }
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = a + 1; b < n; ++b) {
      std::swap(order[a], order[b]);
      out.push_back(order);
      std::swap(order[a], order[b]);
    }
  }
  return out;
}

/// Those that do with the fewest names exchanged.
std::vector<Order> orders_that_do(const Springings& marks,
                                  const std::function<bool(const Points& drawn)>& does) {
  std::vector<Order> out;
  for (const Order& order : other_orders(marks.supports.size())) {
    if (!out.empty() && moved(order) > moved(out.front())) continue;
    if (!does(in_a_row(marks.drawn, order))) continue;
    if (!out.empty() && moved(order) < moved(out.front())) out.clear();
    out.push_back(order);
  }
  if (out.size() > kMostSaid) out.resize(kMostSaid);
  return out;
}

std::string in_words(const Springings& marks, const Order& order) {
  std::string pair, row;
  for (std::size_t s = 0; s < order.size(); ++s) {
    if (order[s] == s) continue;
    pair += (pair.empty() ? "" : " and ") + marks.supports[s];
    row += (row.empty() ? "" : ", ") +
           ("what is named " + marks.supports[s] + " lies at " + marks.supports[order[s]]);
  }
  if (moved(order) == 2) return "the names of the supports " + pair + " look swapped";
  return "names of supports look exchanged: " + row;
}

MixUp swapped(const Springings& marks, const std::vector<Order>& orders) {
  MixUp out;
  if (orders.empty()) return out;
  for (const Order& order : orders)
    out.found += (out.found.empty() ? "" : "; or ") + in_words(marks, order);
  for (std::size_t s = 0; s < marks.supports.size(); ++s)
    if (orders.front()[s] != s) out.supports.push_back(s);
  return out;
}

struct Mirror {
  const char *site, *bridge;
  Vec3 (*undo)(const Vec3&);
};
constexpr std::array<Mirror, 4> kMirrors = {{
    {"east and north look exchanged", "x and y look exchanged",
     [](const Vec3& p) { return Vec3(p.y(), p.x(), p.z()); }},
    {"east looks negated", "x looks negated",
     [](const Vec3& p) { return Vec3(-p.x(), p.y(), p.z()); }},
    {"north looks negated", "y looks negated",
     [](const Vec3& p) { return Vec3(p.x(), -p.y(), p.z()); }},
    {"level looks negated", "z looks negated",
     [](const Vec3& p) { return Vec3(p.x(), p.y(), -p.z()); }},
}};

Points undone(Points measured, const WrittenAxes& axes, const Mirror& mirror) {
  for (Vec3& p : measured) {
    p = axes.site != nullptr ? from_site(*axes.site, mirror.undo(to_site(*axes.site, p)))
                             : mirror.undo(p);
  }
  return measured;
}

std::string mirrored_on_the_axes(const Points& drawn, const Points& measured,
                                 const WrittenAxes& axes, double near_m) {
  std::string out;
  for (const Mirror& mirror : kMirrors) {
    if (farthest(drawn, undone(measured, axes, mirror), {}) > near_m) continue;
    const bool site = axes.site != nullptr;
    out += (out.empty() ? "the points are mirrored: " : ", or ");
    out += site ? mirror.site : mirror.bridge;
  }
  return out;
}

/// Names of two marks exchanged.
MixUp of_two_marks(const Springings& marks, const Points& measured,
                   const std::function<bool(const Points& measured)>& does) {
  constexpr std::array<const char*, 3> kMarks = {"right", "left", "back"};
  const auto name = [&](std::size_t i) { return marks.supports[i / 3] + " " + kMarks[i % 3]; };
  MixUp out;
  std::size_t said = 0;
  Points other = measured;
  for (std::size_t i = 0; i < measured.size(); ++i) {
    for (std::size_t j = i + 1; j < measured.size(); ++j) {
      std::swap(other[i], other[j]);
      if (does(other) && ++said <= kMostSaid) {
        out.found += (said == 1 ? "marks " : "; or ") + name(i) + " and " + name(j) +
                     (said == 1 ? " look swapped" : "");
        if (!out.mark) out.mark = std::pair(i / 3, i % 3);
      }
      std::swap(other[i], other[j]);
    }
  }
  if (said > 0) out.change = "look at the names of these marks";
  return out;
}

}  // namespace

Rigid plumb_fit(const std::vector<Vec3>& drawn, const std::vector<Vec3>& measured) {
  Vec3 from = Vec3::Zero(), to = Vec3::Zero();
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    from += drawn[i];
    to += measured[i];
  }
  from /= static_cast<double>(drawn.size());
  to /= static_cast<double>(drawn.size());
  double along = 0, across = 0;
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    const Vec3 p = drawn[i] - from, q = measured[i] - to;
    along += p.x() * q.x() + p.y() * q.y();
    across += p.x() * q.y() - p.y() * q.x();
  }
  Rigid X;
  X.R = Eigen::AngleAxisd(std::atan2(across, along), Vec3::UnitZ()).toRotationMatrix();
  X.t = to - X.R * from;
  return X;
}

MixUp mix_up(const Springings& marks, const WrittenAxes& axes, double near_m) {
  const Order named = as_named(marks.supports.size());
  const Points drawn = in_a_row(marks.drawn, named), measured = in_a_row(marks.measured, named);
  if (farthest(drawn, measured, {}) <= near_m) return {};
  const auto plumb = [&](const Points& from, const Points& to) {
    return farthest(from, to, plumb_fit(from, to));
  };
  const char* const kNames = "look at the names: marks of which support are these?";
  MixUp out = swapped(marks, orders_that_do(marks, [&](const Points& other) {
                        return farthest(other, measured, {}) <= near_m;
                      }));
  if (!out.found.empty()) {
    out.change = kNames;
    if (plumb(drawn, measured) <= near_m)
      out.change += " Where they are right, the survey's axes are turned: turn them to the " +
                    std::string(axes.site != nullptr ? "site's" : "bridge's");
    return out;
  }
  out.found = mirrored_on_the_axes(drawn, measured, axes, near_m);
  if (!out.found.empty()) {
    out.change = "look at the columns of the file and at the instrument's axes";
    return out;
  }
  out = of_two_marks(marks, measured,
                     [&](const Points& other) { return farthest(drawn, other, {}) <= near_m; });
  if (!out.found.empty()) return out;
  const double as_named_m = plumb(drawn, measured);
  if (as_named_m <= near_m) return out;
  const auto far_better = [&](double off_m) {
    return off_m <= near_m && kFarBetter * off_m <= as_named_m;
  };
  out = swapped(marks, orders_that_do(marks, [&](const Points& other) {
                  return far_better(plumb(other, measured));
                }));
  if (!out.found.empty()) {
    out.change = kNames;
    return out;
  }
  out = of_two_marks(marks, measured,
                     [&](const Points& other) { return far_better(plumb(drawn, other)); });
  if (!out.found.empty()) return out;
  if (far_better(plumb(drawn, undone(measured, {}, kMirrors[1])))) {
    out.found =
        "the points are mirrored: east and north (x and y) look exchanged, or one of "
        "them negated";
  } else if (far_better(plumb(drawn, undone(measured, {}, kMirrors[3])))) {
    out.found = "the points are mirrored: the level (z) looks negated";
  }
  if (!out.found.empty())
    out.change = "look at the columns of the file and at the instrument's axes";
  return out;
}

}  // namespace skewback
