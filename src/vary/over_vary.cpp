#include "vary/over_vary.hpp"

#include <cmath>
#include <sstream>

#include "brief/by_key.hpp"
#include "brief/text.hpp"
#include "brief/values.hpp"
#include "vary/amount.hpp"

namespace skewback {
namespace {

using Written = KeyFacts::Written;

struct Reader {
  const toml::table& table;
  std::string shown, key;
  KeyFacts facts;
  TomlFile& over;

  [[nodiscard]] std::string name(const char* leaf) const { return shown + "." + leaf; }

  // A number as the key asks for it; its unit must be of the right dimension.
  std::optional<Amount> amount(const toml::node& node, const std::string& at) {
    const bool quantity = facts.written == Written::kQuantity;
    const std::string expected =
        quantity ? "a quantity, as " + facts.example : "a number, as " + facts.example;
    if (quantity) {
      const auto text = node.value_exact<std::string>();
      if (text && read_quantity(*text, facts.unit)) return split_amount(*text);
      over.fault(&node, at, text ? in_quotes(*text) : describe_node(node), expected);
      return {};
    }
    const auto number = node.value<double>();
    const bool fits = number && !node.is_boolean() && std::isfinite(*number) &&
                      (facts.written != Written::kWhole || node.is_integer());
    if (fits) return Amount{*number, ""};
    over.fault(&node, at, describe_node(node), expected);
    return {};
  }

  std::optional<Amount> amount_at(const char* leaf) {
    const toml::node* node = table.get(leaf);
    if (node == nullptr) {
      over.fault(&table, name(leaf), "nothing", "it, beside the others of its kind");
      return {};
    }
    return amount(*node, name(leaf));
  }

  // Both ends in one unit: that of the first, the second converted.
  bool pair(const char* first, const char* second, Varied& out, double& a, double& b) {
    if (facts.written == Written::kOther) {
      over.fault(&table, shown, "a range for " + key, "`values`: it is no number or quantity");
      return false;
    }
    const auto low = amount_at(first), high = amount_at(second);
    if (!low || !high) return false;
    out.unit = low->unit;
    a = low->value;
    b = high->value;
    if (low->unit != high->unit) {
      const auto one = read_quantity("1 " + low->unit, facts.unit);
      const auto si = read_quantity(exact(high->value) + " " + high->unit, facts.unit);
      if (!one || !si) return false;
      b = *si / *one;
    }
    return true;
  }
};

// TOML tells 2 from 2.0.
VaryValue float_value(double value, const std::string& text) {
  const bool whole = std::isfinite(value) && text.find_first_of(".e") == std::string::npos;
  return {whole ? text + ".0" : text, text};
}

VaryValue shown_value(const toml::node& node) {
  if (const auto number = node.value_exact<double>()) return float_value(*number, exact(*number));
  std::ostringstream text;
  node.visit([&](auto&& n) { text << n; });
  const auto words = node.value_exact<std::string>();
  return {text.str(), words ? *words : text.str()};
}

void take_values(Reader& read, const toml::node& node, Varied& out) {
  const toml::array* list = node.as_array();
  if (list == nullptr || list->empty())
    return read.over.fault(&node, read.name("values"), describe_node(node),
                           "a list of values, such as [" + read.facts.example + "]");
  out.measured = read.facts.written != Written::kOther;
  std::optional<std::string> unit;
  bool one_unit = true;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::node& member = *list->get(i);
    if (out.measured) {
      const auto amount = read.amount(member, numbered(read.name("values"), i));
      if (!amount) continue;
      one_unit = one_unit && (!unit || *unit == amount->unit);
      unit = amount->unit;
    }
    out.values.push_back(shown_value(member));
  }
  if (one_unit && unit) out.unit = *unit;
}

void take_grid(Reader& read, Varied& out) {
  double a = 0, b = 0;
  std::int64_t steps = 0;
  if (read.table.get("steps") == nullptr)
    return read.over.fault(&read.table, read.name("steps"), "nothing",
                           "how many values from `from` to `to`, both counted, such as 5");
  read.over.whole(read.table, read.shown, "steps", 2, 100000, steps);
  if (!read.pair("from", "to", out, a, b) || steps == 0) return;
  out.measured = true;
  for (std::int64_t i = 0; i < steps; ++i) {
    const double v = a + (b - a) * static_cast<double>(i) / static_cast<double>(steps - 1);
    if (read.facts.written == Written::kQuantity) {
      const std::string text = plain(v) + " " + out.unit;
      out.values.push_back({"\"" + text + "\"", text});
    } else if (read.facts.written == Written::kWhole) {
      if (std::abs(v - std::round(v)) > 1e-9)
        return read.over.fault(read.table.get("steps"), read.name("steps"),
                               std::to_string(steps) + " steps, which give " + plain(v),
                               "steps that give whole numbers only");
      const std::string text = std::to_string(std::llround(v));
      out.values.push_back({text, text});
    } else {
      out.values.push_back(float_value(v, plain(v)));
    }
  }
}

void take_spread(Reader& read, Varied& out) {
  std::string kind;
  read.over.text(read.table, read.shown, "spread", kind, {"even", "normal"});
  if (kind.empty()) return;
  Spread spread;
  const bool normal = kind == "normal";
  spread.kind = normal ? Spread::Kind::kNormal : Spread::Kind::kEven;
  spread.whole = read.facts.written == Written::kWhole;
  if (!read.pair(normal ? "middle" : "from", normal ? "deviation" : "to", out, spread.a, spread.b))
    return;
  if (normal ? spread.b <= 0 : spread.b <= spread.a)
    return read.over.fault(&read.table, read.name(normal ? "deviation" : "to"), plain(spread.b),
                           normal ? "more than 0" : "more than `from`");
  out.measured = true;
  out.spread = spread;
}

std::vector<std::string> known_of(How how, bool spread_there, const std::string& spread) {
  if (!spread_there) {
    std::vector<std::string> known{"key", "values", "from", "to", "steps"};
    if (how == How::kRandom) known.insert(known.end(), {"spread", "middle", "deviation"});
    return known;
  }
  return spread == "normal" ? std::vector<std::string>{"key", "spread", "middle", "deviation"}
                            : std::vector<std::string>{"key", "spread", "from", "to"};
}

}  // namespace

Varied read_varied(const toml::table& table, const std::string& shown, How how, TomlFile& over) {
  Varied out;
  over.text(table, shown, "key", out.key);
  const bool has_spread = table.contains("spread"), has_values = table.contains("values"),
             has_steps = table.contains("steps");
  const auto spread = table["spread"].value<std::string>();
  over.unknown(table, shown, known_of(how, has_spread && how == How::kRandom, spread.value_or("")));
  if (out.key.empty()) {
    if (!table.contains("key"))
      over.fault(&table, shown + ".key", "nothing", "a key of the brief, such as \"form.rise\"");
    return out;
  }
  const auto facts = key_facts(out.key);
  if (!facts) {
    const std::string near = nearest_key(out.key);
    over.fault(table.get("key"), shown + ".key", in_quotes(out.key),
               "a key of the brief; of a list of tables with its number, "
               "\"plan.support[2].level\"",
               near.empty() ? "`skewback --keys` lists them" : "did you mean \"" + near + "\"?");
    return out;
  }
  Reader read{table, shown, out.key, *facts, over};
  const bool random = how == How::kRandom;
  if (has_values && has_steps) {
    over.fault(table.get("steps"), shown + ".steps", "both `values` and `steps`", "one of them");
  } else if (has_values) {
    take_values(read, *table.get("values"), out);
  } else if (random && !has_steps) {
    if (!has_spread)
      over.fault(&table, shown, "no `spread`",
                 "spread = \"even\" with from and to, or \"normal\" with middle and deviation; or "
                 "`values`, one of which is drawn");
    else
      take_spread(read, out);
  } else if (table.contains("from") || table.contains("to") || has_steps) {
    take_grid(read, out);
  } else {
    over.fault(&table, shown, "no values", "`values`, or from, to and steps");
  }
  return out;
}

}  // namespace skewback
