#include <algorithm>
#include <cmath>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "geometry/simplify.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

using deliver::fixed;

Vec2 middle(const Support& support) { return (support.a + support.b) / 2; }
Vec3 middle_at(const Support& support) {
  const Vec2 m = middle(support);
  return {m.x(), m.y(), support.level_m};
}
std::vector<Pair> supports(const Dossier& before, const Dossier& now) {
  return paired_by(before.brief.plan.supports, now.brief.plan.supports,
                   [](const Support& s) { return s.id; });
}

void tell_supports(const Dossier& before, const Dossier& now, Told& told) {
  for (const Pair& pair : supports(before, now)) {
    if (!pair.now) {
      const std::string& id = before.brief.plan.supports[*pair.before].id;
      told.tell(3, {"", "the support " + id + " is gone"});
      continue;
    }
    const Support& s = now.brief.plan.supports[*pair.now];
    Change change{"", "the support " + s.id + " is new", "support", s.id, middle_at(s), "shaped"};
    if (!pair.before) {
      told.tell(3, change);
      continue;
    }
    const Support& was = before.brief.plan.supports[*pair.before];
    if (const auto says =
            more_or_less("the level of the springing " + s.id, was.level_m, s.level_m, 3, "m")) {
      change.says = *says;
      told.tell(0.5, change);
    }
    const double moved = std::max((s.a - was.a).norm(), (s.b - was.b).norm());
    if (moved < 0.5e-3) continue;
    change.says =
        "the springing line " + s.id + " moved, an end of it by " + fixed(moved, 3) + " m";
    told.tell(moved, change);
  }
}

// Two legs: from springing to springing; more: each from the meeting to its springing.
void tell_spans(const Dossier& before, const Dossier& now, Told& told) {
  const auto& was = before.brief.plan.supports;
  const auto& is = now.brief.plan.supports;
  if (was.size() == 2 && is.size() == 2) {
    const double a = (middle(was[0]) - middle(was[1])).norm();
    const double b = (middle(is[0]) - middle(is[1])).norm();
    if (const auto says = more_or_less("the span", a, b, 2, "m"))
      told.tell(1 + share_changed(a, b), {"", *says, "none", "", {}, "shaped"});
    return;
  }
  for (const Pair& pair : supports(before, now)) {
    if (!pair.before || !pair.now) continue;
    const Support& s = is[*pair.now];
    const Vec2 from_was = deliver::meeting_point(before, *pair.before),
               from = deliver::meeting_point(now, *pair.now);
    const double a = (middle(was[*pair.before]) - from_was).norm(), b = (middle(s) - from).norm();
    if (const auto says =
            more_or_less("the leg " + s.id + ", from the meeting to its springing,", a, b, 2, "m"))
      told.tell(1 + share_changed(a, b), {"", *says, "support", s.id, middle_at(s), "shaped"});
  }
}

std::string edge_name(const Plan& plan, std::size_t k) {
  if (k >= plan.free_edges.size())
    return "of opening " + std::to_string(k - plan.free_edges.size() + 1);
  const auto id = [&](int s) { return plan.supports[static_cast<std::size_t>(s)].id; };
  return id(plan.free_edges[k].from) + " to " + id(plan.free_edges[k].to);
}
std::vector<std::string> edge_names(const Plan& plan) {
  std::vector<std::string> names;
  for (std::size_t k = 0; k < plan.free_edges.size() + plan.openings.size(); ++k)
    names.push_back(edge_name(plan, k));
  return names;
}

struct Farthest {
  double off_m = 0;
  Vec3 at = Vec3::Zero();
};
// Of the nodes on an edge of `now`, in plan, from the same edge of `before`.
Farthest farthest(const Form& before, int edge_before, const Form& now, int edge_now) {
  Farthest worst;
  for (std::size_t v = 0; v < now.vertices.size(); ++v) {
    if (now.free_edge_of[v] != edge_now) continue;
    double nearest = -1;
    for (const NetEdge& e : before.edges) {
      if (e.free_edge != edge_before) continue;
      const auto end = [&](int i) -> Vec2 {
        return before.vertices[static_cast<std::size_t>(i)].head<2>();
      };
      const double d = off_segment(now.vertices[v].head<2>(), end(e.a), end(e.b));
      if (nearest < 0 || d < nearest) nearest = d;
    }
    if (nearest > worst.off_m) worst = {nearest, now.vertices[v]};
  }
  return worst;
}

void tell_edges(const Dossier& before, const Dossier& now, Told& told) {
  for (const Pair& pair : paired(edge_names(before.brief.plan), edge_names(now.brief.plan))) {
    if (!pair.before || !pair.now) continue;
    const Farthest far = farthest(*before.form, static_cast<int>(*pair.before), *now.form,
                                  static_cast<int>(*pair.now));
    if (far.off_m < 5e-3) continue;
    told.tell(far.off_m, {"",
                          "the free edge " + edge_name(now.brief.plan, *pair.now) + " lies up to " +
                              fixed(far.off_m, 2) + " m from where it was",
                          "none", "", far.at, "shaped"});
  }
}

std::optional<Vec3> highest(const Form& form) {
  const auto top = std::max_element(form.vertices.begin(), form.vertices.end(),
                                    [](const Vec3& a, const Vec3& b) { return a.z() < b.z(); });
  return top == form.vertices.end() ? std::nullopt : std::optional(*top);
}

}  // namespace

std::vector<Change> form_changes(const Dossier& before, const Dossier& now) {
  Told told("form");
  tell_supports(before, now, told);
  tell_spans(before, now, told);
  if (before.form && now.form) {
    const Form &a = *before.form, &b = *now.form;
    if (const auto says = more_or_less("the rise", a.rise_m, b.rise_m, 2, "m"))
      told.tell(2 + share_changed(a.rise_m, b.rise_m),
                {"", *says, "none", "", highest(b), "shaped"});
    if (const auto says = more_or_less("the greatest thrust on a support", a.thrust_max_n / 1e3,
                                       b.thrust_max_n / 1e3, 1, "kN"))
      told.tell(1 + share_changed(a.thrust_max_n, b.thrust_max_n),
                {"", *says, "none", "", {}, "shaped"});
    if (const auto says = more_or_less("the greatest tension in the net", a.tension_max_n,
                                       b.tension_max_n, 0, "N"))
      told.tell(0.1, {"", *says, "none", "", {}, "shaped"});
    tell_edges(before, now, told);
  }
  return told.in_order();
}

std::vector<Change> body_changes(const Dossier& before, const Dossier& now) {
  Told told("body");
  const auto tell = [&](const std::string& name, double a, double b, int decimals,
                        const std::string& unit, const std::string& moment) {
    if (const auto says = more_or_less(name, a, b, decimals, unit))
      told.tell(share_changed(a, b), {"", *says, "none", "", {}, moment});
  };
  const Section &was = before.brief.section, &is = now.brief.section;
  tell("the depth at the crown", 1e3 * was.depth_crown_m, 1e3 * is.depth_crown_m, 0, "mm",
       "shaped");
  tell("the depth at the springings", 1e3 * was.depth_springing_m, 1e3 * is.depth_springing_m, 0,
       "mm", "shaped");
  if (before.body && now.body) {
    tell("the least depth", 1e3 * before.body->thickness_min_m, 1e3 * now.body->thickness_min_m, 0,
         "mm", "shaped");
    tell("the greatest depth", 1e3 * before.body->thickness_max_m, 1e3 * now.body->thickness_max_m,
         0, "mm", "shaped");
    tell("the body's volume over all, hollows not taken out,", before.body->outer_volume_m3,
         now.body->outer_volume_m3, 2, "m\u00b3", "shaped");
  }
  const Assembly *a = deliver::assembly_of(before), *b = deliver::assembly_of(now);
  if (a != nullptr && b != nullptr) {
    const deliver::BlockTotals ta = deliver::totals(*a), tb = deliver::totals(*b);
    tell("the concrete of the blocks", ta.volume_m3, tb.volume_m3, 2, "m\u00b3", "cut");
    tell("the mass of the blocks", ta.mass_kg, tb.mass_kg, 0, "kg", "cut");
    tell("what they carry", ta.carried_kg, tb.carried_kg, 0, "kg", "cut");
  }
  return told.in_order();
}

}  // namespace skewback::lodge
