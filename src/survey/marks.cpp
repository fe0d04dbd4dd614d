#include "survey/marks.hpp"

#include <cmath>
#include <cstdio>

#include "base/constants.hpp"
#include "survey/backs.hpp"
#include "survey/beds.hpp"

namespace skewback {
namespace {

constexpr double kBeside = 0.15;  // m: from a foot or a shoe to its third mark

/// Two on the outer rods (0.15 m to either side of a single one), one behind.
void add_shoe(const Brief& brief, const Tie& tie, int support, std::vector<Mark>& marks) {
  const auto middle = [&](int s) -> Vec2 {
    return (brief.plan.supports[s].a + brief.plan.supports[s].b) / 2;
  };
  const int other = support == tie.from ? tie.to : tie.from;
  const Vec2 along = (middle(tie.to) - middle(tie.from)).normalized(),
             across(-along.y(), along.x());
  const Vec2 out = (middle(support) - middle(other)).normalized();
  const double half = tie.rods > 1 ? tie.spacing_m / 2 : kBeside;
  const std::string of = tie.id + " " + brief.plan.supports[support].id;
  int number = 0;
  for (const Vec2& from : {Vec2(-half * across), Vec2(half * across), Vec2(kBeside * out)}) {
    const Vec2 p = middle(support) + from;
    marks.push_back(
        {of + " " + std::to_string(++number), MarkKind::kShoe, of, {p.x(), p.y(), tie.level_m}});
  }
}

/// On the ground under the post, on its head, and on the ground beside it along the rib. The head
/// before it carries, higher by what settles.
void add_foot(const Centring& centring, const CentringFoot& foot, double settlement_m,
              std::vector<Mark>& marks) {
  Vec3 along = Vec3::UnitX();
  for (const Rib& rib : centring.ribs)
    if (rib.id == foot.rib) along = rib.place.x;
  along.z() = 0;
  along = along.norm() > 0 ? Vec3(along.normalized()) : Vec3(Vec3::UnitX());
  int number = 0;
  for (const Vec3& p :
       {foot.at, Vec3(foot.head + settlement_m * Vec3::UnitZ()), Vec3(foot.at + kBeside * along)})
    marks.push_back({foot.id + " " + std::to_string(++number), MarkKind::kFoot, foot.id, p});
}

}  // namespace

std::vector<Mark> springing_marks(const Brief& brief) {
  std::vector<Mark> marks;
  for (const Support& support : brief.plan.supports) {
    const Vec2 along = (support.b - support.a).normalized(), out(along.y(), -along.x());
    const Vec2 back = (support.a + support.b) / 2 + brief.ground.footing_width_m * out;
    const auto add = [&](const char* name, const Vec2& p) {
      marks.push_back({support.id + " " + name,
                       MarkKind::kSpringing,
                       support.id,
                       {p.x(), p.y(), support.level_m}});
    };
    add("right", support.a);
    add("left", support.b);
    add("back", back);
  }
  return marks;
}

std::vector<Mark> setting_out(const Brief& brief, const Assembly& assembly,
                              const Centring* centring) {
  std::vector<Mark> marks = springing_marks(brief);
  for (const Tie& tie : brief.ground.ties) {
    add_shoe(brief, tie, tie.from, marks);
    add_shoe(brief, tie, tie.to, marks);
  }
  if (centring)
    for (const CentringFoot& foot : centring->feet)
      add_foot(*centring, foot, brief.centring.settlement_m, marks);
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed) continue;
    const auto places = places_on_back(block.solid, back_normal(assembly, i));
    if (!places) continue;
    for (int k = 0; k < 3; ++k)
      marks.push_back(
          {block.id + " " + std::to_string(k + 1), MarkKind::kBlock, block.id, (*places)[k]});
  }
  return marks;
}

std::vector<Mark> bed_marks(const Assembly& assembly) {
  std::vector<Mark> marks;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed) continue;
    for (const Bed& bed : beds_of(assembly, i)) {
      int number = 0;
      for (const Vec2& p : bed_places(bed))
        marks.push_back({block.id + " " + bed.name + " " + std::to_string(++number), MarkKind::kBed,
                         block.id, bed.on(p)});
    }
  }
  return marks;
}

Vec3 to_site(const SiteGrid& site, const Vec3& p) {
  const double c = std::cos(site.turn_rad), s = std::sin(site.turn_rad);
  return site.origin + Vec3(c * p.x() - s * p.y(), s * p.x() + c * p.y(), p.z());
}

Vec3 from_site(const SiteGrid& site, const Vec3& east_north_level) {
  const double c = std::cos(site.turn_rad), s = std::sin(site.turn_rad);
  const Vec3 d = east_north_level - site.origin;
  return {c * d.x() + s * d.y(), -s * d.x() + c * d.y(), d.z()};
}

std::string setting_out_csv(const SiteGrid& site, const std::vector<Mark>& marks,
                            const std::string& note) {
  char line[400];
  std::string out = note.empty() ? "" : "# " + note + "\n";
  out += "# date: " + (site.date.empty() ? "not stated" : site.date) + "\n";
  std::snprintf(
      line, sizeof line,
      "# grid: the bridge's origin lies at east %.4f m, north %.4f m, level %.4f m; its x "
      "axis is turned\n# %.6f degrees from east, counter-clockwise\n",
      site.origin.x(), site.origin.y(), site.origin.z(), site.turn_rad * 180 / kPi);
  out += line;
  out += "mark,east_m,north_m,level_m\n";
  for (const Mark& mark : marks) {
    const Vec3 p = to_site(site, mark.designed);
    std::snprintf(line, sizeof line, ",%.4f,%.4f,%.4f\n", p.x() + 0.0, p.y() + 0.0, p.z() + 0.0);
    out += mark.name + line;
  }
  return out;
}

}  // namespace skewback
