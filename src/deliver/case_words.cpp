#include "deliver/case_words.hpp"

#include <algorithm>

namespace skewback::deliver {

std::string case_words(const Dossier& dossier, const std::string& id) {
  const auto note = std::ranges::find(dossier.notes, id, &CaseNote::id);
  const bool more = note != dossier.notes.end() && !note->words.empty();
  return more ? id + " (" + note->words + ")" : id;
}

}  // namespace skewback::deliver
