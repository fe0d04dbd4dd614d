#include "lodge/compare.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {

std::optional<Sheaf> compare_view(const Dossier& before, const Dossier& now) {
  std::optional<Sheaf> sheaf = blocks_view(before);
  if (!sheaf) return {};
  sheaf->head["view"] = "compare";
  sheaf->head["with"] = before.brief.file.filename().string();
  sheaf->head["changes"] = changes_json(changes(before, now));
  sheaf->head["back"] = changes_json(changes(now, before));
  return sheaf;
}

}  // namespace skewback::lodge
