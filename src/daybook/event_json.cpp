#include "daybook/event_json.hpp"

namespace skewback {

using Json = nlohmann::ordered_json;

Json event_json(const BlockEvent& e) {
  const auto text_or_null = [](const std::string& text) {
    return text.empty() ? Json(nullptr) : Json(text);
  };
  return {{"number", e.number},
          {"block", e.block},
          {"copy", e.copy},
          {"event", word(e.what)},
          {"when", moment_text(e.at)},
          {"written", moment_text(e.written)},
          {"who", text_or_null(e.who)},
          {"photo", text_or_null(e.photo)},
          {"note", text_or_null(e.note)},
          {"cancels", e.cancels ? Json(*e.cancels) : Json(nullptr)}};
}

}  // namespace skewback
