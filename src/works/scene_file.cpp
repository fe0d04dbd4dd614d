#include "works/scene_file.hpp"

#include <algorithm>
#include <cmath>

#include "brief/text.hpp"
#include "brief/values.hpp"

namespace skewback {
namespace {

constexpr std::size_t kMostTables = 200;

std::string words_of(const Wanted& wanted) {
  const std::string what =
      wanted.unit.empty() ? "a number" : dimension_name(wanted.unit) + " with a unit";
  return what + ", such as " +
         (wanted.unit.empty() ? wanted.example : "\"" + wanted.example + "\"");
}

std::string range_of(const Wanted& wanted) {
  const std::string unit = wanted.unit.empty() ? "" : " " + wanted.unit;
  return (wanted.above_low ? "over " : "at least ") + number(wanted.low) + unit + " and up to " +
         number(wanted.high) + unit;
}

}  // namespace

const toml::table* SceneFile::section(const toml::table& root, const std::string& name) {
  const toml::node* node = root.get(name);
  if (node == nullptr || node->is_table()) return node == nullptr ? nullptr : node->as_table();
  fault(node, name, describe_node(*node), "a table",
        "write [" + name + "] and its keys on lines below");
  return nullptr;
}

std::vector<const toml::table*> SceneFile::list(const toml::table& root, const std::string& name) {
  const toml::node* node = root.get(name);
  std::vector<const toml::table*> tables;
  if (node == nullptr) return tables;
  const toml::array* array = node->as_array();
  const bool sound =
      array != nullptr && array->size() <= kMostTables &&
      std::all_of(array->begin(), array->end(), [](const toml::node& n) { return n.is_table(); });
  if (!sound) {
    fault(node, name, describe_node(*node), "a list of at most 200 tables",
          "write each as [[" + name + "]], in double brackets");
    return tables;
  }
  for (const toml::node& member : *array) tables.push_back(member.as_table());
  return tables;
}

std::optional<double> SceneFile::value(const toml::node& node, const std::string& key,
                                       const Wanted& wanted) {
  double x = 0;
  if (wanted.unit.empty()) {
    const auto given = node.value<double>();
    if (!given || node.is_boolean() || node.is_string()) {
      fault(&node, key, describe_node(node), words_of(wanted));
      return {};
    }
    x = *given;
  } else {
    const auto text = node.value_exact<std::string>();
    if (!text) {
      fault(&node, key, describe_node(node), words_of(wanted), "write it in quotes, with its unit");
      return {};
    }
    const Result<double> read = units_.read(*text, wanted.unit);
    if (!read) {
      const Fault& why = read.faults().front();
      fault(&node, key, why.found, words_of(wanted), why.change);
      return {};
    }
    x = *read;
  }
  const bool fits = std::isfinite(x) && x <= wanted.high && x >= wanted.low &&
                    (!wanted.above_low || x > wanted.low);
  if (fits) return x;
  const auto text = node.value_exact<std::string>();
  fault(&node, key, text ? in_quotes(*text) : describe_node(node), range_of(wanted));
  return {};
}

bool SceneFile::number(const toml::table& table, const std::string& section, const std::string& key,
                       const Wanted& wanted, double& out, bool needed) {
  const toml::node* node = table.get(key);
  if (node == nullptr) {
    if (needed) fault(&table, section + "." + key, "nothing", words_of(wanted));
    return false;
  }
  const auto given = value(*node, section + "." + key, wanted);
  if (given) out = *given;
  return given.has_value();
}

bool SceneFile::vector(const toml::table& table, const std::string& section, const std::string& key,
                       const Wanted& wanted, Vec3& out) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return false;
  const toml::array* array = node->as_array();
  const std::string name = section + "." + key;
  if (array == nullptr || array->size() != 3) {
    const std::string one = wanted.unit.empty() ? wanted.example : "\"" + wanted.example + "\"";
    fault(
        node, name, describe_node(*node),
        "a list of three: along x, y and z (up), such as [" + one + ", " + one + ", " + one + "]");
    return false;
  }
  Vec3 read = Vec3::Zero();
  bool sound = true;
  for (std::size_t i = 0; i < 3; ++i) {
    const auto given = value(*array->get(i), numbered(name, i), wanted);
    sound = sound && given;
    if (given) read[static_cast<Eigen::Index>(i)] = *given;
  }
  if (sound) out = read;
  return sound;
}

int SceneFile::named(const toml::node& node, const std::string& key, const std::string& prefix,
                     bool fixed_only) {
  std::vector<std::string> names;
  const auto given = node.value_exact<std::string>();
  for (std::size_t i = 0; i < assembly_.blocks.size(); ++i) {
    const Block& block = assembly_.blocks[i];
    if (given && block.id == prefix + *given) {
      if (!fixed_only || block.fixed) return static_cast<int>(i);
      fault(&node, key, in_quotes(*given) + ", which is free", "the ground: a fixed block",
            "only the ground is moved; what stands on it goes as it will");
      return -1;
    }
    if ((!fixed_only || block.fixed) && block.id.starts_with(prefix))
      names.push_back(block.id.substr(prefix.size()));
  }
  const std::string kind = prefix.empty() ? "a block" : "a support";
  const std::string there = names.empty() ? "and there is none" : one_of(names);
  fault(&node, key, given ? in_quotes(*given) : describe_node(node),
        kind + " of the assembly: " + there, given ? did_you_mean(*given, names) : "");
  return -1;
}

int SceneFile::block(const toml::table& table, const std::string& section) {
  const toml::node* node = table.get("block");
  if (node != nullptr) return named(*node, section + ".block", "", false);
  fault(&table, section + ".block", "nothing", "the name of a block, such as \"key\"");
  return -1;
}

int SceneFile::ground(const toml::table& table, const std::string& section) {
  const toml::node *block = table.get("block"), *support = table.get("support");
  if ((block != nullptr) == (support != nullptr)) {
    fault(block != nullptr ? support : &table, section + ".support",
          block != nullptr ? "both `block` and `support`" : "neither `block` nor `support`",
          "one of them: which part of the ground moves");
    return -1;
  }
  if (block != nullptr) return named(*block, section + ".block", "", true);
  return named(*support, section + ".support", "ground-", true);
}

}  // namespace skewback
