#include "deliver/centring_model.hpp"
#include "deliver/facts.hpp"
#include "lodge/arrays.hpp"
#include "lodge/shell.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

void add_timber(const Brief& brief, const Centring& centring, Sheaf& sheaf) {
  Json feet = Json::array(), checks = Json::array(), parts = Json::array();
  Shell shell;
  for (const deliver::NamedSolid& part :
       deliver::centring_solids(centring, brief.centring.sheet_thickness_m)) {
    shell.add(part.solid, static_cast<std::uint32_t>(parts.size()));
    parts.push_back({{"id", part.id}, {"kind", part.kind}});
  }
  for (const CentringFoot& foot : centring.feet)
    feet.push_back({{"id", foot.id}, {"at", json(foot.at)}, {"head", json(foot.head)}});
  for (const CentringCheck& c : centring.checks) {
    checks.push_back(
        {{"name", c.name}, {"utilisation", c.utilisation}, {"place", c.place}, {"stage", c.stage}});
  }
  sheaf.head["parts"] = std::move(parts);
  sheaf.head["feet"] = std::move(feet);
  sheaf.head["checks"] = std::move(checks);
  shell.move_to(sheaf, "part");
}

}  // namespace

/// Without a centring of its own, a programme's bare seats.
std::optional<Sheaf> centring_view(const Dossier& dossier) {
  if (!dossier.centring && !dossier.programme) return std::nullopt;
  Json seats = Json::array();
  const auto add = [&](const Prop& prop) {
    seats.push_back({{"at", json(prop.point)}, {"block", prop.block}});
  };
  if (dossier.centring) {
    for (const Seat& seat : dossier.centring->seats) add(seat.prop);
  } else {
    for (const Prop& seat : dossier.programme->seats) add(seat);
  }
  Sheaf sheaf;
  sheaf.head = {{"view", "centring"}, {"parts", Json::array()}};
  add_timber(dossier.brief, dossier.centring.value_or(Centring{}), sheaf);
  sheaf.head["seats"] = std::move(seats);
  sheaf.head["reason"] = dossier.centring_reason;
  return sheaf;
}

}  // namespace skewback::lodge
