#include "brief/by_key.hpp"

#include <algorithm>
#include <cctype>

#include "brief/keys.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

struct Place {
  std::string path;   // "plan.support[].level"
  int members = 0;    // numbers in brackets at the end
  bool sound = true;  // brackets hold whole numbers
};

// Numbers of tables become "[]"; those at the end are of members.
Place place_of(const std::string& key) {
  Place place;
  for (std::size_t i = 0; i < key.size();) {
    if (key[i] != '[') {
      place.path += key[i++];
      continue;
    }
    const std::size_t close = key.find(']', i);
    if (close == std::string::npos || close == i + 1) return {key, 0, false};
    for (std::size_t k = i + 1; k < close; ++k)
      place.sound = place.sound && std::isdigit(static_cast<unsigned char>(key[k])) != 0;
    i = close + 1;
    if (i < key.size() && key[i] == '.') {
      place.path += "[]";
    } else {
      ++place.members;
      if (i < key.size() && key[i] != '[') place.sound = false;
    }
  }
  return place;
}

int depth_of(Kind kind) {  // of lists within lists
  switch (kind) {
    case Kind::kNames:
    case Kind::kQuantities:
    case Kind::kPoint:
    case Kind::kPointOrTwo:
    case Kind::kPoint3:
      return 1;
    case Kind::kPoints:
    case Kind::kPoints3:
      return 2;
    case Kind::kLines:
    case Kind::kLines3:
      return 3;
    default:
      return 0;
  }
}

KeyFacts::Written written(const Key& key, int members) {
  const int depth = depth_of(key.kind);
  if (members < depth || key.kind == Kind::kNames) return KeyFacts::Written::kOther;
  if (depth > 0 || key.kind == Kind::kQuantity) return KeyFacts::Written::kQuantity;
  if (key.kind == Kind::kNumber) return KeyFacts::Written::kNumber;
  if (key.kind == Kind::kInteger) return KeyFacts::Written::kWhole;
  return KeyFacts::Written::kOther;
}

}  // namespace

std::optional<KeyFacts> key_facts(const std::string& key) {
  const Place place = place_of(key);
  const Key* found = place.sound ? find_key(place.path) : nullptr;
  if (found == nullptr || place.members > depth_of(found->kind)) return {};
  return KeyFacts{written(*found, place.members), found->unit, found->meaning, found->example};
}

std::string nearest_key(const std::string& key) {
  std::vector<std::string> all;
  for (const Key& k : keys()) all.push_back(k.path);
  return nearest_word(place_of(key).path, all);
}

}  // namespace skewback
