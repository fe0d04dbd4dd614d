#include "assembly/fields.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

namespace skewback {

using nlohmann::json;

std::string Cursor::path() const {
  if (parent == nullptr) return "";
  std::string text = parent->path();
  if (name.empty()) return text + "[" + std::to_string(index) + "]";
  if (!text.empty()) text += ".";
  return text += name;
}

std::optional<Cursor> Cursor::member(std::string_view key) const {
  const auto it = value->find(std::string(key));
  if (it == value->end()) return std::nullopt;
  return Cursor{&*it, this, key, 0};
}

namespace {

std::string shown(const json& value) {
  std::string text = value.dump(-1, ' ', false, json::error_handler_t::replace);
  if (text.size() > 60) text = text.substr(0, 57) + "...";
  return text;
}

}  // namespace

void Fields::fault(const Cursor& at, std::string found, std::string expected) {
  faults_.push_back({.file = file_,
                     .key = at.path(),
                     .found = std::move(found),
                     .expected = std::move(expected),
                     .change = {}});
}

void Fields::add_where(std::size_t from, const std::string& words) {
  for (std::size_t i = from; i < faults_.size(); ++i) faults_[i].expected += " (" + words + ")";
}

bool Fields::object(const Cursor& at, std::initializer_list<std::string_view> known) {
  if (!at.value->is_object()) {
    fault(at, shown(*at.value), "an object");
    return false;
  }
  std::string list;
  for (std::string_view key : known) list += (list.empty() ? "" : ", ") + std::string(key);
  for (const auto& [key, value] : at.value->items()) {
    if (std::find(known.begin(), known.end(), key) != known.end()) continue;
    fault(Cursor{&value, &at, key, 0}, "an unknown key", "one of " + list);
  }
  return true;
}

bool Fields::array(const Cursor& at, std::size_t least) {
  if (at.value->is_array() && at.size() >= least) return true;
  fault(at, at.value->is_array() ? std::to_string(at.size()) + " elements" : shown(*at.value),
        least > 0 ? "a list of at least " + std::to_string(least) : "a list");
  return false;
}

std::optional<Cursor> Fields::required(const Cursor& at, std::string_view key) {
  auto found = at.member(key);
  if (!found) fault(Cursor{nullptr, &at, key, 0}, "nothing", "this key");
  return found;
}

std::optional<double> Fields::number(const Cursor& at) {
  if (at.value->is_number()) {
    const double x = at.value->get<double>();
    if (std::isfinite(x)) return x;
  }
  fault(at, shown(*at.value), "a finite number");
  return std::nullopt;
}

std::optional<double> Fields::number_above(const Cursor& at, double low, bool or_equal) {
  const auto x = number(at);
  if (!x || *x > low || (or_equal && *x == low)) return x;
  std::ostringstream limit;
  limit << "a number " << (or_equal ? "of at least " : "above ") << low;
  fault(at, shown(*at.value), limit.str());
  return std::nullopt;
}

std::optional<int> Fields::integer(const Cursor& at) {
  if (at.value->is_number_integer()) {
    const auto x = at.value->get<long long>();
    if (std::abs(x) < (1LL << 30)) return static_cast<int>(x);
  }
  fault(at, shown(*at.value), "a whole number");
  return std::nullopt;
}

std::optional<bool> Fields::boolean(const Cursor& at) {
  if (at.value->is_boolean()) return at.value->get<bool>();
  fault(at, shown(*at.value), "true or false");
  return std::nullopt;
}

std::optional<std::string> Fields::text(const Cursor& at) {
  if (at.value->is_string() && !at.value->get_ref<const std::string&>().empty()) {
    return at.value->get<std::string>();
  }
  fault(at, shown(*at.value), "a text that is not empty");
  return std::nullopt;
}

std::optional<Vec3> Fields::vec3(const Cursor& at) {
  if (!at.value->is_array() || at.size() != 3) {
    fault(at, shown(*at.value), "three numbers [x, y, z]");
    return std::nullopt;
  }
  const auto x = number(at.element(0)), y = number(at.element(1)), z = number(at.element(2));
  if (!x || !y || !z) return std::nullopt;
  return Vec3(*x, *y, *z);
}

std::optional<std::vector<Vec3>> Fields::points(const Cursor& at, std::size_t least) {
  if (!array(at, least)) return std::nullopt;
  std::vector<Vec3> all;
  for (std::size_t i = 0; i < at.size(); ++i) {
    if (const auto p = vec3(at.element(i))) all.push_back(*p);
  }
  if (all.size() < at.size()) return std::nullopt;
  return all;
}

namespace {

constexpr int kDeepest = 50;  // lists within lists; an assembly has seven

// The library keeps the last of two equal keys without a word; this one remembers them. What is
// nested too deeply is left out, before anything recursive meets it.
class TwiceSeen {
 public:
  bool operator()(int depth, json::parse_event_t event, json& parsed) {
    too_deep_ = too_deep_ || depth > kDeepest;
    if (too_deep_) return false;
    if (event == json::parse_event_t::object_start) open_.emplace_back();
    if (event == json::parse_event_t::object_end) open_.pop_back();
    if (event == json::parse_event_t::key &&
        !open_.back().insert(parsed.get<std::string>()).second) {
      twice_.push_back(parsed.get<std::string>());
    }
    return true;
  }
  [[nodiscard]] const std::vector<std::string>& keys() const { return twice_; }
  [[nodiscard]] bool too_deep() const { return too_deep_; }

 private:
  bool too_deep_ = false;
  std::vector<std::set<std::string>> open_;
  std::vector<std::string> twice_;
};

Fault syntax_fault(const std::string& file, const std::string& text, std::size_t byte) {
  const std::size_t end = std::min(byte > 0 ? byte - 1 : 0, text.size());
  const auto begin = text.begin(), stop = text.begin() + static_cast<std::ptrdiff_t>(end);
  const auto line_start = text.rfind('\n', end == 0 ? 0 : end - 1);
  const std::size_t column = line_start == std::string::npos ? end + 1 : end - line_start;
  std::string found =
      end >= text.size() ? "the end of the file" : "\"" + text.substr(end, 1) + "\"";
  if (text.empty()) found = "an empty file";
  if (end < text.size() && (text[end] < ' ' || text[end] > '~')) found = "a byte that is not text";
  return {.file = file,
          .line = static_cast<int>(std::count(begin, stop, '\n')) + 1,
          .column = static_cast<int>(column),
          .key = {},
          .found = found,
          .expected = "JSON",
          .change = {}};
}

}  // namespace

Result<json> parse_json(const std::string& file, const std::string& text) {
  const auto whole_text = [&](std::string found) {
    return Fault{.file = file,
                 .key = {},
                 .found = std::move(found),
                 .expected = "a readable JSON file",
                 .change = {}};
  };
  TwiceSeen twice;
  try {
    json root = json::parse(text, std::ref(twice));
    if (twice.too_deep()) return whole_text("lists nested more than 50 deep");
    Faults faults;
    for (const std::string& key : twice.keys()) {
      faults.push_back({.file = file,
                        .key = key,
                        .found = "this key twice in one object",
                        .expected = "it once",
                        .change = {}});
    }
    if (!faults.empty()) return faults;
    return root;
  } catch (const json::parse_error& e) {
    return syntax_fault(file, text, e.byte);
  } catch (const json::exception&) {  // the library's word for a number beyond a double's range
    return whole_text("a number too large to hold");
  }
}

Result<json> load_json(const std::string& file) {
  const auto whole_file = [&](std::string found) {
    return Fault{.file = file,
                 .key = {},
                 .found = std::move(found),
                 .expected = "a readable JSON file",
                 .change = {}};
  };
  std::error_code error;
  if (!std::filesystem::exists(file, error)) return whole_file("no such file");
  if (std::filesystem::is_directory(file, error)) return whole_file("a directory");
  std::ifstream in(file, std::ios::binary);
  std::ostringstream buffer;
  if (!in || (in.peek() != std::ifstream::traits_type::eof() && !(buffer << in.rdbuf()))) {
    return whole_file("a file that cannot be read");
  }
  return parse_json(file, buffer.str());
}

}  // namespace skewback
