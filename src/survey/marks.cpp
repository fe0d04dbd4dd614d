#include "survey/marks.hpp"

namespace skewback {

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

}  // namespace skewback
