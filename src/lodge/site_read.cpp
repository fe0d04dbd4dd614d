#include "lodge/site_read.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "brief/text.hpp"
#include "lodge/body_json.hpp"

namespace skewback::lodge {
namespace {

using Json = nlohmann::json;

std::size_t characters(const std::string& utf8) {
  return static_cast<std::size_t>(std::ranges::count_if(
      utf8, [](char c) { return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U; }));
}

class Reader {
 public:
  explicit Reader(Faults& faults) : faults_(faults) {}

  void refuse(const std::string& key, const std::string& found, const std::string& expected,
              const std::string& change = "") {
    faults_.push_back({"", 0, 0, key, found, expected, change});
  }
  [[nodiscard]] bool object(const Json& json, const std::string& key,
                            const std::vector<std::string>& allowed) {
    if (!json.is_object()) {
      refuse(key, shown(json), "an object");
      return false;
    }
    for (const auto& [name, value] : json.items())
      if (std::ranges::find(allowed, name) == allowed.end()) {
        std::string all;
        for (const std::string& a : allowed) all += (all.empty() ? "" : ", ") + a;
        refuse(key, "a key " + in_quotes(name), "only " + all,
               name == "photo" ? "photos are taken in with skewback daybook" : "");
      }
    return true;
  }
  [[nodiscard]] std::string text(const Json& from, const std::string& name, const std::string& at,
                                 std::size_t most, bool needed) {
    const auto it = from.find(name);
    if (it == from.end() || it->is_null()) {
      if (needed) refuse(at + name, "nothing", "a text");
      return "";
    }
    if (!it->is_string()) {
      refuse(at + name, shown(*it), "a text");
      return "";
    }
    const auto& said = it->get_ref<const std::string&>();
    if (said.find('\0') == std::string::npos && characters(said) <= most &&
        !(needed && said.empty()))
      return said;
    if (said.find('\0') != std::string::npos)
      refuse(at + name, "a zero in the text", "a text without one");
    else if (said.empty())
      refuse(at + name, "an empty text", "a text");
    else
      refuse(at + name, std::to_string(characters(said)) + " characters",
             "at most " + std::to_string(most));
    return "";
  }
  [[nodiscard]] bool flag(const Json& from, const std::string& name) {
    const auto it = from.find(name);
    if (it == from.end()) return false;
    if (!it->is_boolean()) refuse(name, shown(*it), "true or false");
    return it->is_boolean() && it->get<bool>();
  }
  static std::string shown(const Json& json) {
    if (json.is_structured()) return json.is_array() ? "a list" : "an object";
    return printable(json.dump(-1, ' ', false, Json::error_handler_t::replace));
  }

 private:
  Faults& faults_;
};

Entered read_entry(Reader& reader, const Json& from, const std::string& key) {
  Entered out;
  if (!reader.object(from, key, {"block", "what", "at", "who", "note"})) return out;
  const std::string at = key + ".";
  out.block = reader.text(from, "block", at, kNameMost, true);
  out.who = reader.text(from, "who", at, kWhoMost, false);
  out.note = reader.text(from, "note", at, kNoteMost, false);
  const std::string what = reader.text(from, "what", at, kNameMost, true);
  const auto event = happened(what);
  if (event && *event != Happened::kCancel) {
    out.what = *event;
  } else if (!what.empty()) {
    std::string all;
    for (const std::string& w : words_to_record()) all += (all.empty() ? "" : ", ") + w;
    const std::string near = nearest_word(what, words_to_record());
    reader.refuse(at + "what", in_quotes(what), all,
                  near.empty() ? "" : "did you mean \"" + near + "\"?");
  }
  const std::string moment = reader.text(from, "at", at, kNameMost, false);
  if (moment.empty()) return out;
  out.at = parse_moment(moment);
  if (!out.at)
    reader.refuse(at + "at", in_quotes(moment),
                  "a moment with its zone, such as 2027-03-05T14:20:00+01:00");
  return out;
}

}  // namespace

Result<RecordMessage> read_record(const std::string& body) {
  const Result<nlohmann::json> json = read_json_body(body);
  if (!json) return json.faults();
  Faults faults;
  Reader reader(faults);
  RecordMessage out;
  if (!reader.object(*json, "message", {"entries", "even_so"})) return faults;
  out.even_so = reader.flag(*json, "even_so");
  const auto list = json->find("entries");
  if (list == json->end() || !list->is_array() || list->empty() || list->size() > kEntriesMost) {
    const bool is_list = list != json->end() && list->is_array();
    reader.refuse("entries",
                  is_list               ? std::to_string(list->size()) + " entries"
                  : list == json->end() ? "nothing"
                                        : Reader::shown(*list),
                  "a list of 1 to " + std::to_string(kEntriesMost) + " entries");
    return faults;
  }
  for (std::size_t i = 0; i < list->size(); ++i)
    out.entries.push_back(read_entry(reader, (*list)[i], numbered("entries", i)));
  if (!faults.empty()) return faults;
  return out;
}

Result<CancelMessage> read_cancel(const std::string& body) {
  const Result<nlohmann::json> json = read_json_body(body);
  if (!json) return json.faults();
  Faults faults;
  Reader reader(faults);
  CancelMessage out;
  if (!reader.object(*json, "message", {"number", "who", "note", "even_so"})) return faults;
  const auto number = json->find("number");
  const bool counts = number != json->end() && number->is_number_unsigned();
  if (counts) out.number = static_cast<std::int64_t>(number->get<std::uint64_t>());
  if (out.number <= 0)  // what is more than a signed number holds turned negative
    reader.refuse("number", number == json->end() ? "nothing" : Reader::shown(*number),
                  "the number of an event");
  out.who = reader.text(*json, "who", "", kWhoMost, false);
  out.note = reader.text(*json, "note", "", kNoteMost, false);
  out.even_so = reader.flag(*json, "even_so");
  if (!faults.empty()) return faults;
  return out;
}

}  // namespace skewback::lodge
