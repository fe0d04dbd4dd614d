#pragma once
// A question and its answer as they go over the wire (docs/lodge.md, "Question").

#include "lodge/sheaf.hpp"
#include "works/ask.hpp"

namespace skewback::lodge {

/// Every key may be left out. Every fault of the form at once: keys that are not known, wrong
/// types, lists that are too long; what only the bridge can tell, Asker::answer does.
[[nodiscard]] Result<Question> read_question(const nlohmann::json& message);

/// As the view `proof` of the blocks asked about; head also `words` (a list), `governing` {"what",
/// "share", "joint" of these blocks or null, "says"} or null, `took_s`, `block_of`, `views`.
[[nodiscard]] Sheaf answer_sheaf(const Answer& answer);

}  // namespace skewback::lodge
