#include "assembly/json_places.hpp"

#include <algorithm>
#include <unordered_map>
#include <vector>

namespace skewback {
namespace {

constexpr std::size_t kNowhere = std::string::npos;

using Places = std::unordered_map<std::string, std::size_t>;  // of paths, in bytes

/// "blocks[3].faces[0]", "blocks[3].faces", "blocks[3]", "blocks", "".
std::string shorter(const std::string& path) {
  const std::size_t cut = path.find_last_of(".[");
  return cut == kNowhere ? "" : path.substr(0, cut);
}

class Walk {
 public:
  Walk(const std::string& text, Places& places) : text_(text), places_(places) {}

  void value() {
    skip(" \t\r\n");
    if (const auto place = places_.find(path_); place != places_.end() && place->second == kNowhere)
      place->second = at_;
    if (here() == '{') {
      members();
    } else if (here() == '[') {
      elements();
    } else if (here() == '"') {
      word();
    } else {
      at_ = std::min(text_.find_first_of(",]} \t\r\n", at_), text_.size());
    }
  }

 private:
  [[nodiscard]] char here() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  void skip(const char* what) { at_ = std::min(text_.find_first_not_of(what, at_), text_.size()); }
  std::string word() {
    const std::size_t from = ++at_;
    while (here() != '"' && here() != '\0') at_ += here() == '\\' ? 2 : 1;
    const std::size_t to = std::min(at_, text_.size());
    at_ = std::min(to + 1, text_.size());
    return text_.substr(from, to - from);
  }
  void members() {
    const std::size_t whole = path_.size();
    for (++at_; skip(" \t\r\n,"), here() == '"';) {
      const std::string key = word();
      skip(" \t\r\n:");
      if (whole > 0) path_ += '.';
      path_ += key;
      value();
      path_.resize(whole);
    }
    ++at_;
  }
  void elements() {
    const std::size_t whole = path_.size();
    std::size_t index = 0;
    for (++at_; skip(" \t\r\n,"), here() != ']' && here() != '\0'; ++index) {
      path_ += "[" + std::to_string(index) + "]";
      value();
      path_.resize(whole);
    }
    ++at_;
  }

  const std::string& text_;
  Places& places_;
  std::string path_;
  std::size_t at_ = 0;
};

}  // namespace

void put_places(const std::string& text, Faults& faults) {
  Places places;
  for (const Fault& fault : faults) {
    for (std::string path = fault.key; places.emplace(path, kNowhere).second && !path.empty();)
      path = shorter(path);
  }
  Walk(text, places).value();
  std::vector<std::size_t> starts{0};  // of lines
  for (std::size_t i = text.find('\n'); i != kNowhere; i = text.find('\n', i + 1))
    starts.push_back(i + 1);
  for (Fault& fault : faults) {
    std::string path = fault.key;
    while (places.at(path) == kNowhere && !path.empty()) path = shorter(path);
    const std::size_t at = places.at(path);
    if (fault.line > 0 || at == kNowhere) continue;
    const auto after = std::ranges::upper_bound(starts, at);
    fault.line = static_cast<int>(after - starts.begin());
    fault.column = static_cast<int>(at - *(after - 1)) + 1;
  }
}

}  // namespace skewback
