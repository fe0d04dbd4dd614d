#include "lodge/body_json.hpp"

#include <limits>
#include <set>

namespace skewback::lodge {
namespace {

constexpr int kDeepest = 12;
struct TooDeep {};
struct Twice {
  std::string key;
};

Fault fault(const std::string& key, const std::string& found, const std::string& expected) {
  return {"", 0, 0, key, found, expected, ""};
}

std::string kind(const nlohmann::json& object, const std::string& key) {
  return object.contains(key) ? object.at(key).type_name() : "nothing";
}

}  // namespace

Result<nlohmann::json> read_json_body(const std::string& body) {
  using nlohmann::json;
  using Event = json::parse_event_t;
  std::vector<std::set<std::string>> keys;  // of each object that is open
  const auto look = [&keys](int depth, Event event, json& parsed) {
    const bool opens = event == Event::object_start || event == Event::array_start;
    if (opens && depth >= kDeepest) throw TooDeep{};
    if (event == Event::object_start) keys.emplace_back();
    if (event == Event::object_end) keys.pop_back();
    if (event == Event::key && !keys.back().insert(parsed.get<std::string>()).second)
      throw Twice{parsed.get<std::string>()};
    return true;
  };
  try {
    json read = json::parse(body, look);
    if (!read.is_object()) return fault("message", read.type_name(), "an object");
    return read;
  } catch (const TooDeep&) {
    return fault("message", "lists in lists in lists", "JSON at most 12 deep");
  } catch (const Twice& twice) {
    return fault(twice.key, "this key twice in one object", "it once");
  } catch (const json::parse_error& error) {
    return fault("message", "no JSON at byte " + std::to_string(error.byte), "a JSON object");
  } catch (const json::exception&) {
    return fault("message", "a number out of range", "a JSON object");
  }
}

Result<std::string> text_of(const nlohmann::json& object, const std::string& key) {
  if (!object.contains(key) || !object.at(key).is_string())
    return fault(key, kind(object, key), "a text");
  return object.at(key).get<std::string>();
}

Result<int> whole_of(const nlohmann::json& object, const std::string& key) {
  if (!object.contains(key) || !object.at(key).is_number_integer())
    return fault(key, kind(object, key), "a whole number");
  if (object.at(key).is_number_unsigned() &&
      object.at(key).get<std::uint64_t>() > std::numeric_limits<int>::max())
    return fault(key, "a large number", "a whole number below 2^31");
  const auto value = object.at(key).get<std::int64_t>();
  if (value < 0 || value > std::numeric_limits<int>::max())
    return fault(key, std::to_string(value), "a whole number from 0, below 2^31");
  return static_cast<int>(value);
}

}  // namespace skewback::lodge
