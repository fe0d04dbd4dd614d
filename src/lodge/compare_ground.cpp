#include <cmath>

#include "deliver/text.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

const Support* support_of(const Brief& brief, const std::string& id) {
  for (const Support& s : brief.plan.supports)
    if (s.id == id) return &s;
  return nullptr;
}

std::optional<Vec3> middle_of(const Brief& brief, const std::string& id) {
  const Support* s = support_of(brief, id);
  if (s == nullptr) return {};
  const Vec2 m = (s->a + s->b) / 2;
  return Vec3(m.x(), m.y(), s->level_m);
}

std::string rods(const TieForce& tie) {
  const std::string each =
      tie.thread.empty() ? deliver::fixed(1e3 * tie.diameter_m, 0) + " mm" : tie.thread;
  return std::to_string(tie.rod_force_n.size()) + " of " + each;
}

void tell_tie(const TieForce& was, const TieForce& is, Told& told) {
  const Change at{"", "", "tie", is.id, {}, "footings"};
  if (const auto says = more_or_less("the pull in the tie " + is.id + " under the dead load",
                                     was.force_n / 1e3, is.force_n / 1e3, 1, "kN")) {
    Change change = at;
    change.says = *says;
    told.tell(share_changed(was.force_n, is.force_n), change);
  }
  if (rods(was) != rods(is)) {
    Change change = at;
    change.says = "the rods of the tie " + is.id + " are " + rods(is) + ", they were " + rods(was);
    told.tell(5, change);
  }
}

void tell_reaction(const Brief& brief, const SupportReaction& was, const SupportReaction& is,
                   Told& told) {
  const auto tell = [&](const std::string& name, double a, double b) {
    if (const auto says = more_or_less(name, a / 1e3, b / 1e3, 1, "kN"))
      told.tell(share_changed(a, b),
                {"", *says + ", dead load", "support", is.id, middle_of(brief, is.id), "footings"});
  };
  tell("the thrust on the support " + is.id, was.thrust_n, is.thrust_n);
  tell("the weight on the support " + is.id, was.force.z(), is.force.z());
}

void tell_footing(const Brief& brief, const FootingReport& was, const FootingReport& is,
                  Told& told) {
  Change change{"", "", "foot", is.id, middle_of(brief, is.id), "footings"};
  if (was.cleared != is.cleared) {
    change.says = "the footing " + is.id +
                  (is.cleared ? " holds now" : " is no longer cleared: " + is.reason);
    told.tell(is.cleared ? 8 : 10, change);
  }
  if (const auto says =
          more_or_less("the pressure the footing " + is.id + " asks of the soil",
                       was.pressure_needed_pa / 1e3, is.pressure_needed_pa / 1e3, 0, "kPa")) {
    change.says = *says;
    told.tell(share_changed(was.pressure_needed_pa, is.pressure_needed_pa), change);
  }
}

}  // namespace

std::vector<Change> ground_changes(const Dossier& before, const Dossier& now) {
  if (!before.ground || !now.ground) return {};
  const Groundworks &a = *before.ground, &b = *now.ground;
  Told told("ground");
  const auto id = [](const auto& one) { return one.id; };
  for (const Pair& pair : paired_by(a.ties, b.ties, id)) {
    if (pair.before && pair.now) {
      tell_tie(a.ties[*pair.before], b.ties[*pair.now], told);
    } else if (pair.now) {
      const TieForce& tie = b.ties[*pair.now];
      told.tell(
          20,
          {"", "the tie " + tie.id + " is new, rods " + rods(tie), "tie", tie.id, {}, "footings"});
    } else {
      told.tell(20, {"", "the tie " + a.ties[*pair.before].id + " is gone"});
    }
  }
  for (const Pair& pair : paired_by(a.supports, b.supports, id))
    if (pair.before && pair.now)
      tell_reaction(now.brief, a.supports[*pair.before], b.supports[*pair.now], told);
  for (const Pair& pair : paired_by(a.footings, b.footings, id))
    if (pair.before && pair.now)
      tell_footing(now.brief, a.footings[*pair.before], b.footings[*pair.now], told);
  return told.in_order();
}

}  // namespace skewback::lodge
