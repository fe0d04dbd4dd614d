// Sideways: the least share of the vertical load, and what the seats push.

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/constants.hpp"
#include "centring/judge_parts.hpp"

namespace skewback {
namespace {

constexpr double kAlike = 0.94;   // cosine: ribs within 20 degrees go together
constexpr double kAbreast = 0.2;  // m, that two ribs of one side have in common along their way
constexpr double kNoPush = 1;     // N, of a leg on the others
constexpr double kFriction = 2;   // by which friction and standing width are divided

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Brace {
  int stick = -1;
  Vec2 flat = Vec2::Zero();  // cosine of its slope times its direction in plan
  std::vector<int> feet;     // whose posts it touches
};
struct Leg {  // ribs that run the same way, with their feet and braces
  Vec2 way = Vec2::UnitX();
  std::vector<int> ribs, feet;
  std::vector<Brace> braces;
  int together = 0;  // legs with the same number are tied through their ribs
};

Vec2 flat_way(const Rib& rib) { return rib.place.x.head<2>().normalized(); }

std::vector<Leg> legs_of(const Centring& centring) {
  std::vector<Leg> legs;
  for (std::size_t r = 0; r < centring.ribs.size(); ++r) {
    const Rib& rib = centring.ribs[r];
    std::vector<int> feet;
    for (std::size_t f = 0; f < centring.feet.size(); ++f) {
      if (centring.feet[f].rib == rib.id) feet.push_back(static_cast<int>(f));
    }
    if (rib.is_cross && feet.empty()) continue;
    auto leg = std::ranges::find_if(
        legs, [&](const Leg& l) { return std::abs(l.way.dot(flat_way(rib))) >= kAlike; });
    if (rib.is_cross && leg == legs.end())  // it stands by itself: with the ribs it lies across
      leg = std::ranges::find_if(
          legs, [&](const Leg& l) { return std::abs(l.way.dot(flat_way(rib))) < 1 - kAlike; });
    if (leg == legs.end()) {
      legs.emplace_back().way = flat_way(rib);
      leg = legs.end() - 1;
    }
    leg->ribs.push_back(static_cast<int>(r));
    leg->feet.insert(leg->feet.end(), feet.begin(), feet.end());
  }
  return legs;
}

bool touch(const Rib& a, const Rib& b) {
  const auto reaches = [](const Rib& from, const Rib& to) {
    std::vector<double> xs = from.crossings;
    xs.push_back(from.top.front().x());
    xs.push_back(from.top.back().x());
    return std::ranges::any_of(xs, [&](double x) {
      const Vec3 p = to.place.to_local(from.place.to_world(Vec2(x, from.top.front().y())));
      return std::abs(p.z()) < kRibsMeet && p.x() > to.top.front().x() - kRibsMeet &&
             p.x() < to.top.back().x() + kRibsMeet;
    });
  };
  return reaches(a, b) || reaches(b, a);
}

/// Numbers legs by the ribs, across ones too, that hang together.
void tie_legs(const Centring& centring, std::vector<Leg>& legs) {
  const std::size_t count = centring.ribs.size();
  std::vector<int> group(count);
  std::iota(group.begin(), group.end(), 0);
  for (std::size_t a = 0; a < count; ++a) {
    for (std::size_t b = a + 1; b < count; ++b) {
      const Rib &p = centring.ribs[a], &q = centring.ribs[b];
      if (group[a] == group[b] || p.top.empty() || q.top.empty() || !touch(p, q)) continue;
      const int from = group[b], to = group[a];
      std::ranges::replace(group, from, to);
    }
  }
  for (Leg& leg : legs) leg.together = group[at(leg.ribs.front())];
}

void give_braces(const Centring& centring, std::vector<Leg>& legs) {
  for (std::size_t s = 0; s < centring.sticks.size(); ++s) {
    const Stick& stick = centring.sticks[s];
    const Vec3 way = stick.to - stick.from;
    if (stick.kind != "brace" || way.norm() <= 0) continue;
    Brace brace{static_cast<int>(s), way.head<2>() / way.norm(), {}};
    Leg* of = nullptr;
    for (Leg& leg : legs) {
      for (const int f : leg.feet) {
        const int post = centring.feet[at(f)].post;
        if (post < 0) continue;
        if (std::min(off_stick_m(centring.sticks[at(post)], stick.from),
                     off_stick_m(centring.sticks[at(post)], stick.to)) > kBraceTouches)
          continue;
        if (of == nullptr) of = &leg;
        if (of == &leg) brace.feet.push_back(f);
      }
    }
    if (of != nullptr) of->braces.push_back(brace);
  }
}

/// Ribs of a leg that lie abreast: legs that run the same way from two sides of the middle are one
/// by their way, and lean on each other there.
std::vector<std::vector<int>> sides_of(const Centring& centring, const Leg& leg) {
  struct Side {
    double from, to;
    std::vector<int> ribs;
  };
  std::vector<Side> sides;
  for (const int r : leg.ribs) {
    const Rib& rib = centring.ribs[at(r)];
    if (rib.top.empty()) continue;
    const double a = rib.place.to_world(rib.top.front()).head<2>().dot(leg.way);
    const double b = rib.place.to_world(rib.top.back()).head<2>().dot(leg.way);
    Side side{std::min(a, b), std::max(a, b), {r}};
    std::erase_if(sides, [&](const Side& other) {
      if (std::min(other.to, side.to) - std::max(other.from, side.from) < kAbreast) return false;
      side.from = std::min(side.from, other.from);
      side.to = std::max(side.to, other.to);
      side.ribs.insert(side.ribs.end(), other.ribs.begin(), other.ribs.end());
      return true;
    });
    sides.push_back(std::move(side));
  }
  std::vector<std::vector<int>> out;
  for (Side& side : sides) {
    std::ranges::sort(side.ribs);
    out.push_back(std::move(side.ribs));
  }
  std::ranges::sort(out);
  return out;
}

struct Pushes {
  double vertical_n = 0;
  Vec2 sideways_n = Vec2::Zero();
};

Pushes on_leg(const Centring& centring, const std::vector<int>& rib_leg, int leg,
              const SeatCase& from) {
  Pushes out;
  for (std::size_t s = 0; s < centring.seats.size(); ++s) {
    const auto rib = std::ranges::find(centring.ribs, centring.seats[s].rib, &Rib::id);
    if (rib == centring.ribs.end()) continue;
    if (rib_leg[static_cast<std::size_t>(rib - centring.ribs.begin())] != leg) continue;
    out.vertical_n -= from.force[s].z();
    out.sideways_n += from.force[s].head<2>();
  }
  return out;
}

/// What posts without braces hold by the width they stand on: a thrust from one edge of the foot
/// to the other of the head. Share of the load on them.
double standing_share(const Brief& brief, const Centring& centring, const Leg& leg, bool along) {
  double least = -1;
  for (const int f : leg.feet) {
    const int post = centring.feet[at(f)].post;
    if (post < 0) continue;
    const Stick& stick = centring.sticks[at(post)];
    const double head = along ? stick.width_m : brief.centring.sheet_thickness_m;
    const double share = (stick.width_m + head) / 2 / (stick.to - stick.from).norm();
    least = least < 0 ? share : std::min(least, share);
  }
  return least;
}

class Swaying {
 public:
  Swaying(const Brief& brief, const Centring& centring) : brief_(brief), centring_(centring) {
    legs_ = legs_of(centring);
    tie_legs(centring, legs_);
    give_braces(centring, legs_);
    rib_leg_.assign(centring.ribs.size(), -1);
    for (std::size_t l = 0; l < legs_.size(); ++l) {
      for (const int r : legs_[l].ribs) rib_leg_[at(r)] = static_cast<int>(l);
    }
    out_.foot_extra_n.assign(centring.feet.size(), 0);
    out_.foot_bend_nm.assign(centring.feet.size(), 0);
    slides_.resize(legs_.size());
    for (std::size_t l = 0; l < legs_.size(); ++l) slides_[l].feet = by_braces(legs_[l]);
    rib_side_.assign(centring.ribs.size(), -1);
    for (std::size_t l = 0; l < legs_.size(); ++l) {
      for (const std::vector<int>& side : sides_of(centring, legs_[l])) {
        for (const int r : side) rib_side_[at(r)] = static_cast<int>(inward_.size());
        inward_.push_back({side, 0, {}});
        side_leg_.push_back(l);
      }
    }
  }

  void one_case(const SeatCase& from) {
    out_.case_extra_n.emplace_back(from.design ? centring_.feet.size() : 0, 0.0);
    if (!from.design) return;
    std::vector<Pushes> pushes;
    for (std::size_t l = 0; l < legs_.size(); ++l)
      pushes.push_back(on_leg(centring_, rib_leg_, static_cast<int>(l), from));
    for (std::size_t l = 0; l < legs_.size(); ++l) {
      Pushes tied;  // of the legs that hold each other in the middle
      for (std::size_t k = 0; k < legs_.size(); ++k) {
        if (legs_[k].together != legs_[l].together) continue;
        tied.vertical_n += pushes[k].vertical_n;
        tied.sideways_n += pushes[k].sideways_n;
      }
      if (tied.vertical_n <= 0 || pushes[l].vertical_n <= 0) continue;
      const Vec2 rest = tied.sideways_n * (pushes[l].vertical_n / tied.vertical_n);
      lean(l, tied, from);
      for (const bool along : {true, false}) one_way(l, pushes[l].vertical_n, rest, along, from);
    }
  }

  Sway finish() {
    out_.checks = worst_.all();
    out_.brace_n = brace_n_;
    std::erase_if(inward_, [](const LegPush& leg) { return leg.n <= kNoPush; });
    out_.slides = std::move(slides_);
    if (!inward_.empty()) {
      const LegPush& most = *std::ranges::max_element(inward_, {}, &LegPush::n);
      out_.legs_push_n = most.n;
      out_.remarks.push_back("Legs push each other by up to " + kilonewtons_of(most.n) +
                             " in the middle (" + most.stage +
                             "): their ribs end short of each other and bear on packing between "
                             "them.");
    }
    out_.leg_pushes = std::move(inward_);
    return std::move(out_);
  }

 private:
  /// What each side of a leg presses on the others with, in the middle.
  void lean(std::size_t l, const Pushes& tied, const SeatCase& from) {
    for (std::size_t s = 0; s < inward_.size(); ++s) {
      if (side_leg_[s] != l) continue;
      const Pushes own = on_leg(centring_, rib_side_, static_cast<int>(s), from);
      const Vec2 rest = tied.sideways_n * (own.vertical_n / tied.vertical_n);
      const double inward = (own.sideways_n - rest).norm();
      if (inward <= inward_[s].n) continue;
      inward_[s].n = inward;
      inward_[s].stage = from.stage;
    }
  }

  /// Feet of a leg, those that most braces touch first.
  static std::vector<int> by_braces(const Leg& leg) {
    const auto braces = [&](int foot) {
      return std::ranges::count_if(leg.braces, [&](const Brace& brace) {
        return std::ranges::find(brace.feet, foot) != brace.feet.end();
      });
    };
    std::vector<int> feet = leg.feet;
    std::ranges::stable_sort(feet, std::ranges::greater{}, braces);
    return feet;
  }

  void slide(std::size_t l, double demand_n, double vertical_n, const std::string& place,
             const std::string& stage) {
    const double friction = brief_.centring.friction * vertical_n / kFriction;
    const auto held =
        std::ranges::count_if(legs_[l].feet, [&](int f) { return centring_.feet[at(f)].held; });
    const double holds = static_cast<double>(held) * hold_n(brief_, brief_.centring.foot_hold_n);
    worst_.offer(check_of("feet slide", demand_n, friction + holds, "N", place, stage,
                          "friction of the seats taken for the feet, over 2 (BS 5975, from "
                          "memory), and the holds of feet that are held"));
    SlideAsk& ask = slides_[l];
    if (demand_n - friction <= ask.beyond_n) return;
    ask.beyond_n = demand_n - friction;
    ask.place = place;
    ask.stage = stage;
  }

  void one_way(std::size_t l, double vertical_n, const Vec2& push, bool along,
               const SeatCase& from) {
    const Leg& leg = legs_[l];
    const Vec2 way = along ? leg.way : Vec2(-leg.way.y(), leg.way.x());
    const double demand = brief_.centring.horizontal_share * vertical_n + std::abs(push.dot(way));
    const std::string place = "ribs " + centring_.ribs[at(leg.ribs.front())].id + " to " +
                              centring_.ribs[at(leg.ribs.back())].id +
                              (along ? ", along them" : ", across them");
    slide(l, demand, vertical_n, place, from.stage);
    double flat = 0, strut = 0;
    for (const Brace& brace : leg.braces) {
      const double share = std::abs(brace.flat.dot(way));
      if (share <= kBraceAligned * brace.flat.norm()) continue;
      const double holds = brace_n(brief_, centring_, centring_.sticks[at(brace.stick)]);
      strut = flat > 0 ? std::min(strut, holds) : holds;
      flat += share;
    }
    if (flat > 0) {
      braced(leg, way, demand, flat, strut, place, from);
      return;
    }
    const double share = standing_share(brief_, centring_, leg, along);
    if (share < 0) return;  // no posts: it stands on its wedges
    worst_.offer(check_of(
        "sideways, no braces", demand, share * vertical_n / kFriction, "N", place, from.stage,
        "posts as rocking blocks: width over height of their load, over 2 (ours)"));
  }

  void braced(const Leg& leg, const Vec2& way, double demand, double flat, double strut,
              const std::string& place, const SeatCase& from) {
    const double each = demand / flat;
    if (each > brace_n_) {
      brace_n_ = each;
      out_.brace = {0, std::abs(way.dot(leg.way)) > 0.5, leg.ribs};
    }
    out_.sideways_used = std::max(out_.sideways_used, each / strut);
    worst_.offer(check_of("sideways", demand, strut * flat, "N", place, from.stage,
                          "share of the vertical load (EN 12812 1 %, BS 5975 2.5 %, from memory) "
                          "and what the seats push; braces as struts, equal shares"));
    for (const int f : leg.feet) {
      const int post = centring_.feet[at(f)].post;
      if (post < 0) continue;
      double& bends = out_.foot_bend_nm[at(f)];
      bends = std::max(bends, each * brace_lever_m(centring_, centring_.sticks[at(post)],
                                                   Vec3(way.x(), way.y(), 0)));
    }
    for (const Brace& brace : leg.braces) {
      if (std::abs(brace.flat.dot(way)) <= kBraceAligned * brace.flat.norm()) continue;
      const double rise = std::sqrt(std::max(0.0, 1 - brace.flat.squaredNorm()));
      for (const int f : brace.feet) {
        out_.foot_extra_n[at(f)] = std::max(out_.foot_extra_n[at(f)], each * rise);
        double& now = out_.case_extra_n.back()[at(f)];
        now = std::max(now, each * rise);
      }
    }
  }

  const Brief& brief_;
  const Centring& centring_;
  std::vector<Leg> legs_;
  std::vector<int> rib_leg_;
  std::vector<SlideAsk> slides_;  // per leg
  WorstChecks worst_;
  std::vector<int> rib_side_;
  std::vector<LegPush> inward_;        // per side of a leg
  std::vector<std::size_t> side_leg_;  // per side
  double brace_n_ = 0;
  Sway out_;
};

}  // namespace

Sway check_sway(const Brief& brief, const Centring& centring, const std::vector<SeatCase>& cases) {
  Swaying swaying(brief, centring);
  for (const SeatCase& from : cases) {
    swaying.one_case(from);
  }
  return swaying.finish();
}

}  // namespace skewback
