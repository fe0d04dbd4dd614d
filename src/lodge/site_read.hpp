#pragma once
// Messages of the phone, read with care: what is wrong with one comes back as faults.

#include <string>

#include "daybook/daybook.hpp"

namespace skewback::lodge {

struct RecordMessage {
  std::vector<Entered> entries;
  bool even_so = false;
};
struct CancelMessage {
  std::int64_t number = 0;
  std::string who, note;
  bool even_so = false;
};

constexpr std::size_t kEntriesMost = 200, kNameMost = 80, kWhoMost = 80, kNoteMost = 1000;

/// {"entries": [{"block", "what", "at"?, "who"?, "note"?}], "even_so"?}. Texts count characters of
/// UTF-8 and are kept as they are, but for a zero, which is refused. A photo is not taken in.
[[nodiscard]] Result<RecordMessage> read_record(const std::string& body);
/// {"number", "who"?, "note"?, "even_so"?}
[[nodiscard]] Result<CancelMessage> read_cancel(const std::string& body);

}  // namespace skewback::lodge
