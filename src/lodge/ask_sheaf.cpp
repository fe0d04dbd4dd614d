#include "lodge/ask_json.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {

Sheaf answer_sheaf(const Answer& answer) {
  Sheaf sheaf = proof_sheaf(answer.assembly, answer.load, answer.proof);
  auto& head = sheaf.head;
  head["words"] = answer.words;
  head["governing"] = nullptr;
  if (const auto& governing = answer.governing) {
    auto& out = head["governing"] = nlohmann::ordered_json::object();
    out["what"] = governing->what;
    out["share"] = governing->share;
    out["joint"] = nullptr;
    if (governing->joint >= 0) out["joint"] = governing->joint;
    out["says"] = governing->says;
  }
  head["took_s"] = answer.took_s;
  head["block_of"] = answer.block_of;
  return sheaf;
}

}  // namespace skewback::lodge
