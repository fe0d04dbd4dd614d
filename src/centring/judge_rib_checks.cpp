// Bending, shear, sideways stability and bearing of a rib in one case.

#include <algorithm>
#include <cmath>

#include "centring/judge_parts.hpp"
#include "centring/judge_timber.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// The two ends of every piece.
template <class Visit>
void visit_cuts(const RibState& of, const Visit& visit) {
  for (std::size_t i = 0; i < of.state.cuts.size(); ++i) {
    for (std::size_t end = 0; end < 2; ++end) visit(i + end, of.state.cuts[i][end]);
  }
}

std::string where(const Centring& centring, const RibState& of, std::size_t point) {
  return centring.ribs[at(of.on.rib)].id + " at " + metres_of(of.on.beam->shape().axis[point].x());
}

bool worse(const RibState& of, const char* name, double utilisation, const Judged& out) {
  return out.of_rib[at(of.on.rib)].worse(name, utilisation);
}

void offer(const RibState& of, const CentringCheck& check, Judged& out) {
  out.worst.offer(check);
  out.of_rib[at(of.on.rib)].offer(check);
}

void check_sections(const Brief& brief, const Centring& centring, const RibState& of, Judged& out) {
  const BeamShape& shape = of.on.beam->shape();
  const double bends = design_pa(brief, brief.centring.bending_strength_pa);
  const double shears = design_pa(brief, brief.centring.shear_strength_pa);
  struct Most {
    double stress = 0;
    std::size_t point = 0;
    bool slot = false;
    void offer(double now, std::size_t i, bool net) {
      if (now > stress) *this = {now, i, net};
    }
  } bending, shear;
  const bool cut_from_below = centring.ribs[at(of.on.rib)].is_cross;
  visit_cuts(of, [&](std::size_t i, const BeamCut& cut) {
    const auto crossing = std::ranges::find(of.on.crossing_at, i);
    const bool slot = crossing != of.on.crossing_at.end();
    double h = shape.depth_m[i], moment = cut.moment_nm;
    if (slot) {
      h = std::min(
          h, of.on.crossing_left_m[at(static_cast<int>(crossing - of.on.crossing_at.begin()))]);
      // the axial force runs in the middle of the whole depth
      const double above = (shape.depth_m[i] - h) / 2 * (cut_from_below ? -1 : 1);
      moment -= cut.axial_n * above;
    }
    const double area = shape.thickness_m * h;
    bending.offer(std::abs(cut.axial_n) / area + 6 * std::abs(moment) / (area * h), i, slot);
    shear.offer(1.5 * std::abs(cut.shear_n) / area, i, slot);
  });
  const auto place = [&](const Most& most) {
    return where(centring, of, most.point) + (most.slot ? ", what a slot leaves" : "");
  };
  offer(
      of,
      check_of("bending", bending.stress, bends, "Pa", place(bending), of.from.stage,
               "6 M / (t h^2) + N / (t h), held against k_mod f_m / gamma_M (EN 1995-1-1, 2.4.1)"),
      out);
  offer(of,
        check_of("shear", shear.stress, shears, "Pa", place(shear), of.from.stage,
                 "1.5 V / (t h), held against k_mod f_v / gamma_M (EN 1995-1-1, 6.1.7)"),
        out);
}

void ask_across(const RibState& of, std::size_t from, std::size_t to, double used, Judged& out) {
  if (used <= 1) return;
  const auto& axis = of.on.beam->shape().axis;
  StretchAsk& ask = out.asks.stretches[{of.on.rib, from}];
  if (used > ask.used) ask = {used, axis[from].x(), axis[to].x()};
}

/// A stretch of rib between two ribs across, that may turn over sideways.
void check_stretch(const Brief& brief, const Centring& centring, const RibState& of,
                   std::size_t from, std::size_t to, Judged& out) {
  const BeamShape& shape = of.on.beam->shape();
  const double low = kLowStiffness * brief.centring.stiffness_pa;
  double length = 0, moment = 0, squeeze = 0, depth = shape.depth_m[from];
  std::size_t point = from;
  for (std::size_t i = from; i < to; ++i) {
    length += (shape.axis[i + 1] - shape.axis[i]).norm();
    for (std::size_t end = 0; end < 2; ++end) {
      const BeamCut& cut = of.state.cuts[i][end];
      squeeze = std::max(squeeze, -cut.axial_n / (shape.thickness_m * shape.depth_m[i + end]));
      if (std::abs(cut.moment_nm) <= moment) continue;
      moment = std::abs(cut.moment_nm);
      depth = shape.depth_m[point = i + end];
    }
  }
  const double t = shape.thickness_m, strength = brief.centring.bending_strength_pa;
  const double critical = critical_bending_pa(t, depth, length, low);
  const double bends = sideways_factor(std::sqrt(strength / critical)) * design_pa(brief, strength);
  const double along = brief.centring.post_strength_pa;
  const double slender = relative_slenderness(length * std::sqrt(12.0) / t, along, low);
  const double presses = buckling_factor(slender) * design_pa(brief, along);
  const double stress = 6 * moment / (t * depth * depth);
  const double used = stress / bends * (stress / bends) + squeeze / presses;
  ask_across(of, from, to, used, out);
  if (!worse(of, "stability sideways", used, out)) return;
  offer(
      of,
      check_of("stability sideways", used, 1, "",
               where(centring, of, point) + ", between ribs across " + metres_of(length) + " apart",
               of.from.stage,
               "(s_m / (k_crit f_m,d))^2 + s_c / (k_c,z f_c,0,d) (EN 1995-1-1, (6.32) to (6.35), "
               "from memory); l_ef the length between ribs across"),
      out);
}

/// Loads square to its plane, carried from one rib across to the next.
void check_flat(const Brief& brief, const Centring& centring, const RibState& of, std::size_t from,
                std::size_t to, bool from_held, bool to_held, Judged& out) {
  const BeamShape& shape = of.on.beam->shape();
  const Rib& rib = centring.ribs[at(of.on.rib)];
  const double a = shape.axis[from].x(), length = shape.axis[to].x() - a;
  struct Push {
    double x, n;
    std::size_t point;
  };
  std::vector<Push> pushes;
  for (std::size_t k = 0; k < of.on.seats.size(); ++k) {
    const std::size_t i = of.on.seat_at[k];
    if (i < from || i > to) continue;  // at a held end it bends nothing
    pushes.push_back(
        {shape.axis[i].x() - a, of.from.force[at(of.on.seats[k])].dot(rib.place.z), i});
  }
  const auto moment_at = [&](double x) {
    double m = 0;
    for (const Push& p : pushes) {
      if (from_held && to_held) {
        m += p.n * (x <= p.x ? (length - p.x) * x : p.x * (length - x)) / length;
      } else if (to_held) {
        m += p.n * std::max(x - p.x, 0.0);
      } else {
        m += p.n * std::max(p.x - x, 0.0);
      }
    }
    return std::abs(m);
  };
  double most = 0;
  std::size_t point = from;
  const auto look = [&](std::size_t i) {
    const double h = shape.depth_m[i], t = shape.thickness_m;
    const double stress = 6 * moment_at(shape.axis[i].x() - a) / (h * t * t);
    if (stress > most) most = stress, point = i;
  };
  for (const Push& p : pushes) look(p.point);
  look(from);
  look(to);
  const double bends = design_pa(brief, brief.centring.bending_strength_pa);
  ask_across(of, from, to, most / bends, out);
  if (most <= 0 || !worse(of, "bending sideways", most / bends, out)) return;
  offer(of,
        check_of("bending sideways", most, bends, "Pa", where(centring, of, point), of.from.stage,
                 "6 M / (h t^2) of a plain beam from rib across to rib across, whole depth (ours)"),
        out);
}

void check_stretches(const Brief& brief, const Centring& centring, const RibState& of,
                     Judged& out) {
  const std::size_t last = of.on.beam->shape().axis.size() - 1;
  std::vector<std::size_t> held = of.on.crossing_at;
  std::ranges::sort(held);
  std::vector<std::size_t> ends = held;
  ends.insert(ends.begin(), 0);
  ends.push_back(last);
  for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
    if (ends[k + 1] <= ends[k]) continue;
    check_stretch(brief, centring, of, ends[k], ends[k + 1], out);
    if (held.empty()) continue;
    check_flat(brief, centring, of, ends[k], ends[k + 1], k > 0, k + 2 < ends.size(), out);
  }
}

void check_seats(const Brief& brief, const Centring& centring, const RibState& of, Judged& out) {
  const bool boards = brief.centring.seats == "laggings";
  const double edge = brief.centring.edge_strength_pa, across = brief.centring.bearing_strength_pa;
  const double bears = design_pa(brief, boards ? std::min(edge, across) : edge);
  for (const int s : of.on.seats) {
    const Seat& seat = centring.seats[at(s)];
    const double n = -of.from.force[at(s)].dot(seat.prop.direction);
    const double carries = bears * seat.length_m * seat.width_m;
    if (n <= 0 || carries <= 0 || !worse(of, "bearing under a seat", n / carries, out)) continue;
    offer(of,
          check_of("bearing under a seat", n, carries, "N",
                   seat.rib + " at " + metres_of(seat.along_m), of.from.stage,
                   "k_mod f / gamma_M on the length that bears (EN 1995-1-1, 6.1.5, k_c,90 1)"),
          out);
  }
}

}  // namespace

void check_rib(const Brief& brief, const Centring& centring, const RibState& state, Judged& out) {
  check_sections(brief, centring, state, out);
  check_stretches(brief, centring, state, out);
  check_seats(brief, centring, state, out);
}

}  // namespace skewback
