#include "brief/values.hpp"

#include <algorithm>
#include <cmath>

#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr std::size_t kMostItems = 5000;  // points of one list

// "mm" of R"(["8 mm", "0 m"])": the first quantity written in the example
std::string example_unit(const Key& key) {
  const auto from = key.example.find('"');
  if (from == std::string::npos) return key.unit;
  const std::string quantity =
      key.example.substr(from + 1, key.example.find('"', from + 1) - from - 1);
  const auto space = quantity.find(' ');
  return space == std::string::npos ? key.unit : quantity.substr(space + 1);
}

class ValueReader {
 public:
  ValueReader(const Key& key, const Units& units, Draft& draft)
      : key_(key), units_(units), draft_(draft) {}

  bool scalar(const toml::node& node, const std::string& shown, double& out) {
    if (key_.unit.empty()) return plain(node, shown, out);
    const std::string expected =
        dimension_name(key_.unit) + " with a unit, such as \"" + sample_quantity(key_.unit) + "\"";
    const auto text = node.value_exact<std::string>();
    if (!text) {
      const bool bare = node.is_number();
      return fault(node, shown, describe_node(node), expected,
                   bare ? "add the unit, in quotes" : "");
    }
    const Result<double> read = units_.read(*text, key_.unit);
    if (!read) {
      const Fault& f = read.faults().front();
      return fault(node, shown, f.found, f.expected, f.change);
    }
    return ranged(node, shown, *read, in_quotes(*text), out);
  }

  bool plain(const toml::node& node, const std::string& shown, double& out) {
    const auto value = node.is_number() ? node.value<double>() : std::nullopt;
    if (!value)
      return fault(node, shown, describe_node(node), "a plain number, such as " + key_.example, "");
    return ranged(node, shown, *value, describe_node(node), out);
  }

  bool integer(const toml::node& node, const std::string& shown, int& out) {
    const auto value = node.value_exact<int64_t>();
    double checked = 0;
    if (!value)
      return fault(node, shown, describe_node(node), "a whole number, such as " + key_.example, "");
    if (!ranged(node, shown, static_cast<double>(*value), describe_node(node), checked))
      return false;
    out = static_cast<int>(*value);
    return true;
  }

  bool flag(const toml::node& node, const std::string& shown, bool& out) {
    const auto value = node.value_exact<bool>();
    if (!value) return fault(node, shown, describe_node(node), "true or false", "");
    out = *value;
    return true;
  }

  bool text(const toml::node& node, const std::string& shown, std::string& out) {
    const auto value = node.value_exact<std::string>();
    const bool choice = key_.kind == Kind::kChoice,
               name = key_.kind == Kind::kName || key_.kind == Kind::kNames;
    const std::string expected = choice ? one_of()
                                 : name ? "a name of letters, digits, - and _"
                                        : "text";
    if (!value) return fault(node, shown, describe_node(node), expected, "write it in quotes");
    const auto& words = key_.choices;
    if (choice && std::find(words.begin(), words.end(), *value) == words.end()) {
      const std::string near = nearest_word(*value, words);
      return fault(node, shown, in_quotes(*value), expected,
                   near.empty() ? "" : "did you mean \"" + near + "\"?");
    }
    if (name && !is_name(*value))
      return key_.kind == Kind::kNames
                 ? fault(node, shown, in_quotes(*value), expected + ", such as " + key_.example, "")
                 : fault(node, shown, in_quotes(*value), expected + ", up to 60", "rename it");
    out = *value;
    return true;
  }

  template <class Point>
  bool point(const toml::node& node, const std::string& shown, Point& out) {
    constexpr int kSize = Point::RowsAtCompileTime;
    const std::string sample =
        kSize == 2 ? R"(["1.2 m", "0.5 m"])" : R"(["1.2 m", "0.5 m", "0 m"])";
    const toml::array* pair = node.as_array();
    if (pair == nullptr || pair->size() != kSize)
      return fault(node, shown, describe_node(node),
                   key_.unit == "s"
                       ? "a list of " + std::to_string(kSize) + ", such as " + key_.example
                       : "a point, such as " + sample,
                   "");
    draft_.spots[shown] = spot_of(node.source());
    bool good = true;
    for (int k = 0; k < kSize; ++k)
      good &= scalar((*pair)[static_cast<std::size_t>(k)], shown, out[k]);
    return good;
  }

  bool names(const toml::node& node, const std::string& shown, std::vector<std::string>& out) {
    return list(node, shown, "a list of names", out,
                [&](const toml::node& n, const std::string& s, std::string& name) {
                  draft_.spots[s] = spot_of(n.source());
                  return text(n, s, name);
                });
  }

  bool quantities(const toml::node& node, const std::string& shown, std::vector<double>& out) {
    return list(node, shown, "a list of quantities", out,
                [&](const toml::node& n, const std::string& s, double& value) {
                  draft_.spots[s] = spot_of(n.source());
                  return scalar(n, s, value);
                });
  }

  template <class Point>
  bool points(const toml::node& node, const std::string& shown, std::vector<Point>& out) {
    return list(
        node, shown, "a list of points", out,
        [&](const toml::node& n, const std::string& s, Point& p) { return point(n, s, p); });
  }

  // One point, or a list of two.
  bool one_or_two(const toml::node& node, const std::string& shown, std::vector<Vec2>& out) {
    const toml::array* items = node.as_array();
    if (items == nullptr || items->empty() || !items->front().is_array()) {
      Vec2 one = Vec2::Zero();
      if (!point(node, shown, one)) return false;
      out = {one};
      return true;
    }
    if (items->size() != 2)
      return fault(node, shown, describe_node(node) + " points",
                   R"(a point, or two: [["-3 m", "0 m"], ["3 m", "0 m"]])",
                   items->size() == 1 ? "take the outer brackets out" : "leave two");
    return points(node, shown, out);
  }

  template <class Point>
  bool lines(const toml::node& node, const std::string& shown,
             std::vector<std::vector<Point>>& out) {
    return list(node, shown, "a list of lists of points", out,
                [&](const toml::node& n, const std::string& s, std::vector<Point>& l) {
                  return points(n, s, l);
                });
  }

 private:
  bool fault(const toml::node& node, const std::string& shown, const std::string& found,
             const std::string& expected, const std::string& change) {
    const std::string key = shown;
    const Spot spot = spot_of(node.source());
    draft_.faults.push_back(
        {draft_.brief.file.string(), spot.line, spot.column, key, found, expected, change});
    return false;
  }

  bool ranged(const toml::node& node, const std::string& shown, double value,
              const std::string& found, double& out) {
    if (!std::isfinite(value)) return fault(node, shown, found, "a finite number", "write one");
    if (!key_.range.holds(value))
      return fault(node, shown, found, range_text(key_, units_), "write a value in this range");
    out = value;
    return true;
  }

  template <class Item, class ReadItem>
  bool list(const toml::node& node, const std::string& shown, const std::string& expected,
            std::vector<Item>& out, ReadItem read_item) {
    const toml::array* items = node.as_array();
    if (items == nullptr || items->empty())
      return fault(node, shown, describe_node(node), expected + ", such as " + key_.example, "");
    if (items->size() > kMostItems)
      return fault(node, shown, describe_node(node), expected + " with at most 5000 items",
                   "leave out points");
    draft_.spots[shown] = spot_of(node.source());
    out.assign(items->size(), Item{});
    bool good = true;
    for (std::size_t i = 0; i < items->size(); ++i)
      good &= read_item((*items)[i], shown + "[" + std::to_string(i + 1) + "]", out[i]);
    return good;
  }

  [[nodiscard]] std::string one_of() const {
    std::string text;
    for (std::size_t i = 0; i < key_.choices.size(); ++i)
      text += (i == 0                         ? "\""
               : i + 1 == key_.choices.size() ? " or \""
                                              : ", \"") +
              key_.choices[i] + "\"";
    return text;
  }

  static bool is_name(const std::string& text) {
    const auto fits = [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
             c == '-' || c == '_';
    };
    return !text.empty() && text.size() <= 60 && std::all_of(text.begin(), text.end(), fits);
  }

  const Key& key_;
  const Units& units_;
  Draft& draft_;
};

template <class... F>
struct Overloaded : F... {
  using F::operator()...;
};
template <class... F>
Overloaded(F...) -> Overloaded<F...>;

}  // namespace

void read_value(const toml::node& node, const Key& key, std::size_t index, const std::string& shown,
                const Units& units, Draft& draft) {
  draft.spots[shown] = spot_of(node.source());
  ValueReader reader(key, units, draft);
  draft.sound[shown] = std::visit(
      Overloaded{
          [&](double* out) { return reader.scalar(node, shown, *out); },
          [&](int* out) { return reader.integer(node, shown, *out); },
          [&](bool* out) { return reader.flag(node, shown, *out); },
          [&](std::string* out) { return reader.text(node, shown, *out); },
          [&](Vec2* out) { return reader.point(node, shown, *out); },
          [&](Vec3* out) { return reader.point(node, shown, *out); },
          [&](std::optional<Vec2>* out) {
            Vec2 point = Vec2::Zero();
            const bool good = reader.point(node, shown, point);
            if (good) *out = point;
            return good;
          },
          [&](std::vector<std::string>* out) { return reader.names(node, shown, *out); },
          [&](std::vector<double>* out) { return reader.quantities(node, shown, *out); },
          [&](std::vector<Vec2>* out) {
            return key.kind == Kind::kPointOrTwo ? reader.one_or_two(node, shown, *out)
                                                 : reader.points(node, shown, *out);
          },
          [&](std::vector<Vec3>* out) { return reader.points(node, shown, *out); },
          [&](std::vector<std::vector<Vec2>>* out) { return reader.lines(node, shown, *out); },
          [&](std::vector<std::vector<Vec3>>* out) { return reader.lines(node, shown, *out); }},
      key.slot(draft, index));
}

std::string asked_text(const Key& key) {
  const auto what = [&]() -> std::string {
    switch (key.kind) {
      case Kind::kQuantity:
        return key.unit.empty() ? "a number" : dimension_name(key.unit);
      case Kind::kNumber:
        return "a number";
      case Kind::kInteger:
        return "a whole number";
      case Kind::kFlag:
      case Kind::kText:
      case Kind::kChoice:
        return "a value";
      case Kind::kName:
        return "a name";
      case Kind::kPoint:
      case Kind::kPointOrTwo:
      case Kind::kPoint3:
        return "a point";
      default:
        return "a list";
    }
  };
  return what() + " such as " + key.example;
}

Spot spot_of(const toml::source_region& region) {
  return {static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

Fault toml_fault(const toml::parse_error& error, const std::string& file) {
  const Spot spot = spot_of(error.source());
  const std::string said(error.description());
  Fault fault{file, spot.line, spot.column, "", "text that is not TOML", "keys and values in TOML",
              said};
  if (said.find("control characters") != std::string::npos) {
    fault.found = "a text that does not end on its line";
    fault.change = "close it with a quotation mark (the reader of TOML says: " + said + ")";
  } else if (said.find("cannot redefine existing") != std::string::npos) {
    fault.found = "a key that its table has already";
    fault.expected = "each key once";
    fault.change = "take one of the two out (the reader of TOML says: " + said + ")";
  }
  return fault;
}

std::string describe_node(const toml::node& node) {
  if (const auto text = node.value_exact<std::string>()) return in_quotes(*text);
  if (const auto whole = node.value_exact<int64_t>())
    return "the bare number " + std::to_string(*whole);
  if (const auto real = node.value_exact<double>()) return "the bare number " + number(*real);
  if (const auto flag = node.value_exact<bool>()) return *flag ? "true" : "false";
  if (node.is_date() || node.is_date_time()) return "a date";
  if (node.is_time()) return "a time of day";
  if (const toml::array* array = node.as_array())
    return array->empty() ? "an empty list" : "a list of " + std::to_string(array->size());
  return "a table";
}

std::string value_text(double value, const Key& key, const Units& units) {
  if (key.unit.empty()) return number(value);
  const std::string unit = example_unit(key);
  const double factor = units.factor(unit, key.unit);
  return factor == 0 ? number(value) + " " + key.unit : number(value / factor) + " " + unit;
}

std::string range_text(const Key& key, const Units& units) {
  const auto& [low, high, included] = key.range;
  const auto shown = [&](double v) { return value_text(v, key, units); };
  if (std::isfinite(low) && std::isfinite(high))
    return included ? "from " + shown(low) + " to " + shown(high)
                    : "over " + (low == 0 ? "0" : shown(low)) + " and up to " + shown(high);
  return "";
}

}  // namespace skewback
