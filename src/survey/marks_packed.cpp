#include "survey/marks_packed.hpp"

#include <algorithm>

#include "survey/poses.hpp"

namespace skewback {
namespace {

/// Of a springing or, "tie support", of a shoe; as drawn where none was found.
Rigid footing_of(const Refit& found, const std::string& of) {
  for (std::size_t s = 0; s < found.supports.size() && s < found.footings.size(); ++s)
    if (of == found.supports[s] || of.ends_with(" " + found.supports[s]))
      return found.footings[s].X;
  return {};
}

double head_raise_m(const Refit& found, const Mark& mark) {
  if (!found.feet || !mark.name.ends_with(" 2")) return 0;
  const auto foot = std::ranges::find(found.feet->feet, mark.of, &FootSetting::foot);
  return foot == found.feet->feet.end() ? 0 : foot->raise_m;
}

}  // namespace

std::vector<Mark> marks_as_packed(const Brief& brief, const Assembly& assembly,
                                  const Centring* centring, const Refit& found) {
  std::vector<Mark> marks = setting_out(brief, assembly, centring);
  if (!found.key_goes_in) return marks;
  const std::vector<Rigid> poses = poses_of(assembly, found.laid, found.axes);
  for (Mark& mark : marks) {
    Vec3& at = mark.designed;
    if (mark.kind == MarkKind::kSpringing || mark.kind == MarkKind::kShoe) {
      at = footing_of(found, mark.of)(at);
    } else if (mark.kind == MarkKind::kFoot) {
      at.z() += head_raise_m(found, mark);
    } else {
      const auto block = std::ranges::find(assembly.blocks, mark.of, &Block::id);
      at = poses[static_cast<std::size_t>(block - assembly.blocks.begin())](at);
    }
  }
  return marks;
}

}  // namespace skewback
