#include "base/result.hpp"

namespace skewback {

std::string describe(const Fault& f) {
  std::string text;
  if (!f.file.empty()) {
    text += f.file;
    if (f.line > 0) text += ":" + std::to_string(f.line);
    if (f.column > 0) text += ":" + std::to_string(f.column);
    text += ": ";
  }
  if (!f.key.empty()) text += f.key + ": ";
  if (!f.found.empty()) text += "found " + f.found;
  if (!f.expected.empty()) text += (f.found.empty() ? "expected " : "; expected ") + f.expected;
  if (!f.change.empty()) text += (f.found.empty() && f.expected.empty() ? "" : "; ") + f.change;
  return text;
}

}  // namespace skewback
