#include <toml++/toml.h>

#include <sstream>

#include "brief/text.hpp"
#include "vary/plan.hpp"

namespace skewback {
namespace {

struct Step {
  std::string name;                  // of a key
  std::vector<std::size_t> members;  // [3][1]: from 1
};

// "plan.outline[3][1]": plan; outline with members 3, 1. The key is known to be well formed.
std::vector<Step> steps_of(const std::string& key) {
  std::vector<Step> steps(1);
  for (std::size_t i = 0; i < key.size();) {
    if (key[i] == '.') {
      steps.emplace_back();
      ++i;
    } else if (key[i] == '[') {
      const std::size_t close = key.find(']', i);
      std::size_t number = 0;
      for (std::size_t k = i + 1; k < close && number < 100000; ++k)
        number = 10 * number + static_cast<std::size_t>(key[k] - '0');
      steps.back().members.push_back(number);
      i = close + 1;
    } else {
      steps.back().name += key[i++];
    }
  }
  return steps;
}

Fault no_member(const VaryPlan& plan, const std::string& key, std::size_t number,
                std::size_t there) {
  return {plan.brief_file.string(),
          0,
          0,
          key,
          "number " + std::to_string(number) + " of a list of " + std::to_string(there),
          "a member that the brief has, counted from 1",
          "mend the key"};
}

/// Writes `value` at the key; what is wrong otherwise.
std::optional<Fault> set(const VaryPlan& plan, toml::table& root, const std::string& key,
                         const toml::node& value) {
  const std::vector<Step> steps = steps_of(key);
  toml::table* table = &root;
  for (std::size_t s = 0; s < steps.size(); ++s) {
    const Step& step = steps[s];
    const bool last = s + 1 == steps.size();
    if (step.members.empty()) {
      if (last) {
        table->insert_or_assign(step.name, value);
        return {};
      }
      toml::node* next = table->get(step.name);
      if (next == nullptr) next = &table->insert(step.name, toml::table{}).first->second;
      table = next->as_table();
      if (table == nullptr)
        return Fault{plan.brief_file.string(), 0, 0, key, "no table", "a table", ""};
      continue;
    }
    toml::node* node = table->get(step.name);
    for (std::size_t m = 0; m < step.members.size(); ++m) {
      toml::array* list = node == nullptr ? nullptr : node->as_array();
      const std::size_t number = step.members[m], there = list == nullptr ? 0 : list->size();
      if (number < 1 || number > there) return no_member(plan, key, number, there);
      if (last && m + 1 == step.members.size()) {
        const auto at = list->cbegin() + static_cast<std::ptrdiff_t>(number - 1);
        list->replace(at, value);
        return {};
      }
      node = list->get(number - 1);
    }
    table = node->as_table();
    if (table == nullptr)
      return Fault{plan.brief_file.string(), 0, 0, key, "no table", "a table", ""};
  }
  return {};
}

}  // namespace

Result<std::string> brief_with(const VaryPlan& plan, const std::vector<VaryValue>& values) {
  try {
    toml::table root = toml::parse(plan.brief_text);
    for (std::size_t k = 0; k < values.size(); ++k) {
      const toml::table holder = toml::parse("value = " + values[k].toml);
      if (const auto fault = set(plan, root, plan.varied[k].key, *holder.get("value")))
        return *fault;
    }
    std::ostringstream text;
    text << root << "\n";
    return text.str();
  } catch (const toml::parse_error& error) {
    return Fault{plan.brief_file.string(),        0, 0, "", "text that is not TOML", "",
                 std::string(error.description())};
  }
}

}  // namespace skewback
