#include "deliver/report_ground.hpp"

#include <algorithm>
#include <cmath>

#include "deliver/text.hpp"

namespace skewback::deliver {
std::string thickness_words(const FootingReport& f) {
  const bool far = std::ranges::any_of(f.cases, &FootingCase::far);
  if (far && !(f.pressure_needed_pa > 0))
    return "thickness without reinforcement: none, load off the base or beyond a third of it in "
           "every case.";
  std::string text = "without reinforcement " + fixed(f.plain_depth_m, 2) +
                     " m thick at least for its overhang of " + fixed(f.overhang_m, 2) +
                     " m (EN 1992-1-1 12.9.3, concrete C25/30)";
  if (f.plain_depth_m > f.size.depth_m)
    text += ": more than the " + fixed(f.size.depth_m, 2) +
            " m drawn, so thicken it (ground.footing_depth) or reinforce it";
  if (far) text += "; cases whose load is off the base or beyond a third of it aside";
  return text + ".";
}

std::string settlement_words(const FootingReport& f) {
  constexpr double kTiltSaid = 5e-6;  // less is 0.00 mm per m
  if (!f.settlement_m) return "";
  std::string text = " Settles " + fixed(*f.settlement_m * 1e3, 1) + " mm under the dead load";
  if (f.settled_at_once < 1)
    text += ", " + fixed(f.settled_at_once * *f.settlement_m * 1e3, 1) +
            " mm of it at once and the rest as water leaves";
  if (f.tilt_rad) {
    text += ", tilting " + fixed(std::abs(f.tilt_rad->x()) * 1e3, 2) + " mm per m " +
            (f.tilt_rad->x() < 0 ? "inwards" : "outwards");
    if (std::abs(f.tilt_rad->y()) >= kTiltSaid)
      text += " and " + fixed(std::abs(f.tilt_rad->y()) * 1e3, 2) + " along its line";
  }
  return text + " (elastic half-space; creep of the soil is not in it).";
}

namespace {

std::string kn(double newton) { return fixed(newton / 1e3, 1); }
std::string kpa(double pascal) { return fixed(pascal / 1e3, 0); }
std::string mm(double metre) { return fixed(metre * 1e3, 0); }
std::string share(const std::optional<double>& used) { return fixed(used, 2); }

std::string by(double a, double b) { return fixed(a, 2) + " x " + fixed(b, 2); }

std::string size_words(const FootingSize& size) { return by(size.length_m, size.width_m()); }

std::string pressure_words(const FootingReport& f) {
  const bool none = !(f.pressure_needed_pa > 0) && std::ranges::any_of(f.cases, &FootingCase::far);
  return none ? "none: off it" : kpa(f.pressure_needed_pa);
}

const FootingCase* at(const FootingReport& f, int place) {
  return place >= 0 && place < static_cast<int>(f.cases.size())
             ? &f.cases[static_cast<std::size_t>(place)]
             : nullptr;
}

std::string name_of(const FootingCase* c) {
  return c == nullptr ? "" : c->case_id + ", " + c->approach;
}

void add_footings(Pages& pages, const Groundworks& ground) {
  if (ground.footings.empty()) return;
  pages.subheading("Footings");
  pages.paragraph(
      "Plain concrete blocks of 24 kN/m3, Design Approaches 1 (both combinations) and 2 of "
      "EN 1997-1, Annex D, with dead load high and low; factors as recommended, from memory. "
      "What people, wind, snow and warmth each add to the dead load has its own factor. "
      "Length along the springing line; width from the inner edge of the bed outwards. What would "
      "do, length x width x thickness: least concrete that holds, has room for the plate of the "
      "shoe and needs no bars.");
  std::vector<Row> rows;
  for (const FootingReport& f : ground.footings) {
    const FootingCase *b = at(f, f.worst_bearing), *s = at(f, f.worst_sliding);
    rows.push_back(
        {{f.id, size_words(f.size), pressure_words(f), b != nullptr ? share(b->bearing_used) : "",
          name_of(b), s != nullptr ? share(s->sliding_used) : "", name_of(s),
          f.cleared ? "yes" : "no",
          f.proposed ? size_words(*f.proposed) + " x " + fixed(f.proposed->depth_m, 2)
                     : "none found"},
         {}});
  }
  pages.table({{"footing", 1},
               {"length x width (m)", 1.2},
               {"pressure (kPa)", 1.15, true},
               {"bearing used", 1, true},
               {"case", 1.85},
               {"sliding used", 0.95, true},
               {"case", 1.6},
               {"cleared", 1},
               {"would do (m)", 1.5}},
              rows);
  for (const FootingReport& f : ground.footings) {
    if (!f.cleared) pages.bullet(f.id + ": " + f.reason + ".");
    const FootingCase* e = at(f, f.worst_eccentric);
    if (e != nullptr && e->gap)
      pages.bullet(f.id + ": the load lies " + fixed(std::abs(e->eccentricity_m.x()), 2) +
                   (e->eccentricity_m.x() < 0 ? " m in and " : " m out and ") +
                   fixed(std::abs(e->eccentricity_m.y()), 2) + " m along from its middle in case " +
                   name_of(e) + (e->far ? ", beyond a third of it." : ": its edge lifts."));
    pages.bullet(f.id + ": " + thickness_words(f) + settlement_words(f));
    if (!f.holdfast) continue;
    pages.bullet(f.id + ": " + kn(f.holdfast->thrust_n) + " kN of thrust left to the ground: " +
                 (f.holdfast->deadman_m ? "a deadman as long as the footing and " +
                                              fixed(*f.holdfast->deadman_m, 2) + " m high, or "
                                        : "soil unknown, no deadman sized; ") +
                 "a pair of piles raked 1 in 3 with " + kn(f.holdfast->pile_push_n) +
                 " kN of push and " + kn(f.holdfast->pile_pull_n) + " kN of pull.");
  }
}

void add_thrusts(Pages& pages, const Groundworks& ground) {
  if (ground.thrusts.empty()) return;
  pages.subheading("Thrust of the springings");
  pages.paragraph(
      "Level, square to the springing line, without factors. Statics leaves it open: dry joints "
      "hold "
      "many states. Least and greatest are of all that balance with no pull and within friction. "
      "Ties "
      "and footings are sized for the state of the pads, which hangs on how stiff joints and "
      "ground "
      "are; feet that give bring the thrust down towards the least, ties drawn up or feet pressed "
      "together bring it up. The form's own thrust (Form) is that of its middle surface.");
  const auto cell = [](const std::optional<double>& n) { return n ? kn(*n) : "no bound found"; };
  std::vector<Row> rows;
  for (const SpringingThrust& t : ground.thrusts)
    rows.push_back({{t.id, t.case_id, t.pads_n ? kn(*t.pads_n) : "no state", cell(t.least_n),
                     cell(t.greatest_n)},
                    {}});
  pages.table({{"springing", 1.4},
               {"case", 1},
               {"pads (kN)", 1, true},
               {"least (kN)", 1, true},
               {"greatest (kN)", 1, true}},
              rows);
}

void add_raft(Pages& pages, const Groundworks& ground) {
  if (!ground.raft) return;
  const Raft& r = *ground.raft;
  pages.subheading("One raft instead");
  pages.paragraph(
      "A slab under all springings, which takes their thrusts against each other. Bearing and "
      "sliding as for a footing, on a rectangle of the same area and shape; pull and bending on "
      "straight cuts in eight directions under linear pressure; B500, C30. Punching, shear, cracks "
      "and laps are not checked.");
  const auto used = [](const std::optional<double>& u, const std::string& where) {
    return share(u) + (where.empty() ? "" : ", " + where);
  };
  pages.table(
      {{"", 1.6}, {"", 3}},
      {{{"plan, thickness", fixed(r.area_m2, 1) + " m2, " + fixed(r.thickness_m, 2) + " m"}, {}},
       {{"bearing used", used(r.bearing_used, r.bearing_case)}, {}},
       {{"sliding used", used(r.sliding_used, r.sliding_case)}, {}},
       {{"pressure", kpa(r.pressure_pa) + " kPa" + (r.gap ? ", an edge lifts" : "")}, {}},
       {{"section that asks most", kn(r.pull_n) + " kN of pull and " + kn(r.moment_nm) +
                                       " kN m on " + fixed(r.section_m, 2) + " m, " + r.steel_case},
        {}},
       {{"steel", fixed(r.steel_m2_per_m * 1e4, 1) + " cm2 per metre, both faces; " +
                      fixed(r.steel_kg, 0) + " kg if everywhere and both ways"},
        {}},
       {{"cleared", r.cleared ? "yes" : "no: " + r.reason}, {}}});
}

void add_threads(Pages& pages, const Groundworks& ground) {
  if (ground.ties.empty()) return;
  pages.subheading("Rods and threads");
  std::vector<Row> rows;
  for (const TieForce& tie : ground.ties) {
    rows.push_back({{tie.id, tie.thread.empty() ? "none found" : tie.thread, kn(tie.governing_n),
                     kn(tie.resistance_n), tie.thread_governs ? "thread" : "shank", tie.governing},
                    {}});
  }
  pages.table({{"tie", 2},
               {"rod", 0.8},
               {"one rod, worst case, factored (kN)", 1.6, true},
               {"resists (kN)", 1, true},
               {"by its", 0.8},
               {"governed by", 2.2}},
              rows);
}

std::string ties_in_words(const Layout& layout) {
  std::vector<std::string> words;
  for (const LaidTie& tie : layout.ties)
    words.push_back(tie.id + " " + std::to_string(tie.rods) + " " +
                    (tie.thread.empty() ? "rods of no size found" : tie.thread));
  return joined(words, ", ");
}

void add_layout(Pages& pages, const Brief& brief, const Groundworks& ground) {
  const TieLayout& layout = ground.layout;
  if (!layout.best) return;
  pages.subheading("Tie lines");
  pages.paragraph(
      "Ties with the least steel for all patterns of people together (linear program over " +
      counted(layout.candidates.size(), "tie line") +
      "); kg of shank as exactly needed, and with the sizes of the series. What combinations "
      "ask for on top is in the rods above, not here.");
  std::vector<Row> rows;
  const auto add = [&](const std::string& name, const std::optional<Layout>& which) {
    if (which)
      rows.push_back(
          {{name, ties_in_words(*which), fixed(which->steel_kg, 0), fixed(which->thread_kg, 0)},
           {}});
  };
  add("best", layout.best);
  add("second", layout.second);
  add("every pair, equal rods", layout.every_pair);
  pages.table(
      {{"layout", 1.2}, {"ties", 4}, {"needed (kg)", 0.9, true}, {"of the series (kg)", 0.9, true}},
      rows);
  if (!layout.second) pages.bullet("No second layout: " + layout.second_reason + ".");
  for (const std::string& text : layout.refused) pages.bullet("Not a tie line: " + text + ".");
  if (!layout.unheld.empty())
    pages.bullet("No tie lines hold, and left out: " + joined(layout.unheld, ", ") + ".");
  pages.figure(feet_plan(brief, ground, pages.width_mm(), 110), "");
}

void add_losses(Pages& pages, const Groundworks& ground) {
  if (ground.losses.empty()) return;
  pages.subheading("One tie or rod lost");
  pages.paragraph(
      "Accident: dead load and characteristic live load, no factor on steel; reactions as before "
      "the loss, so that another state of the bridge might still hold.");
  std::vector<Row> rows;
  for (const LossState& loss : ground.losses) {
    rows.push_back(
        {{loss.tie, loss.rod < 0 ? "all" : std::to_string(loss.rod + 1),
          std::to_string(loss.cases_held) + " of " + std::to_string(loss.cases),
          loss.cases_held > 0 ? fixed(loss.used, 2) : "", loss.held ? loss.governing : loss.reason},
         {}});
  }
  pages.table({{"tie", 1.3},
               {"rod", 0.5},
               {"cases held", 0.8},
               {"used", 0.6, true},
               {"governing, or why not", 4}},
              rows);
}

void add_shoes(Pages& pages, const Groundworks& ground) {
  if (ground.shoes.empty()) return;
  pages.subheading("Shoes");
  pages.paragraph(
      "Plates of S235 under the first beds: 50 mm past the bed all round, bending as a cantilever; "
      "friction 0.2 of steel on mortar, the rest of the shear by class 8.8 bolts (EN 1993-1-8, "
      "from memory), four at least.");
  std::vector<Row> rows;
  for (const Shoe& s : ground.shoes) {
    rows.push_back({{s.id, fixed(s.slope_deg, 1), by(s.plate_along_m, s.plate_across_m),
                     mm(s.plate_thickness_m), fixed(s.pressure_pa / 1e6, 2), kn(s.shear_left_n),
                     std::to_string(s.bolts) + " " + s.bolt, "±" + mm(s.levelling_m), kn(s.tie_n)},
                    {}});
  }
  pages.table({{"shoe", 1.1},
               {"bed slope (°)", 0.8, true},
               {"plate (m)", 1.2},
               {"thick (mm)", 0.7, true},
               {"bed pressure (MPa)", 1, true},
               {"shear left (kN)", 0.9, true},
               {"bolts", 0.8},
               {"levelling (mm)", 0.9},
               {"tie (kN)", 0.8, true}},
              rows);
}

}  // namespace

void add_feet(Pages& pages, const Brief& brief, const Groundworks& ground) {
  add_thrusts(pages, ground);
  add_footings(pages, ground);
  add_raft(pages, ground);
  add_threads(pages, ground);
  add_layout(pages, brief, ground);
  add_losses(pages, ground);
  add_shoes(pages, ground);
}

}  // namespace skewback::deliver
