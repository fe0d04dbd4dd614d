#include "vary/plan.hpp"

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

#include "base/sha256.hpp"
#include "brief/by_key.hpp"
#include "brief/text.hpp"
#include "brief/values.hpp"
#include "vary/figure.hpp"
#include "vary/over_vary.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;

constexpr std::uint64_t kMostRuns = 10'000'000;

std::optional<std::string> bytes_of(const fs::path& file) {
  std::error_code error;
  if (!fs::is_regular_file(file, error)) return {};
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  if (!in) return {};
  return text.str();
}

// Files that a brief names lie beside it; their content counts too.
void add_named_files(const toml::node& node, const fs::path& beside, std::set<fs::path>& files) {
  if (const toml::table* table = node.as_table()) {
    for (auto&& [name, inner] : *table) add_named_files(inner, beside, files);
  } else if (const toml::array* list = node.as_array()) {
    for (const toml::node& inner : *list) add_named_files(inner, beside, files);
  } else if (const auto text = node.value_exact<std::string>()) {
    std::error_code error;
    const bool short_enough = !text->empty() && text->size() < 256;
    if (short_enough && fs::is_regular_file(beside / *text, error)) files.insert(*text);
  }
}

std::string hash_of(const VaryPlan& plan, const toml::table& brief, const toml::table& over,
                    const std::string& version) {
  const fs::path beside = plan.brief_file.parent_path();
  std::set<fs::path> files;
  add_named_files(brief, beside, files);
  add_named_files(over, beside, files);
  std::string all = version + '\0' + plan.brief_text + '\0' + plan.over_text;
  for (const fs::path& file : files)
    all += '\0' + file.string() + '\0' + bytes_of(beside / file).value_or("");
  return sha256(all);
}

void read_runs(const toml::table& table, TomlFile& over, VaryPlan& plan) {
  over.unknown(table, "runs",
               {"how", "count", "seed", "until", "depth", "figures", "against", "front"});
  std::int64_t count = 0, seed = 1;
  over.whole(table, "runs", "count", 1, static_cast<std::int64_t>(kMostRuns), count);
  over.whole(table, "runs", "seed", 0, 2147483647, seed);
  plan.count = static_cast<std::uint64_t>(count);
  plan.seed = static_cast<int>(seed);
  over.text(table, "runs", "until", plan.until, stage_names());
  over.flag(table, "runs", "depth", plan.depth);
  if (plan.how == How::kRandom && !table.contains("count"))
    over.fault(&table, "runs.count", "nothing", "how many random runs, such as 200");
  if (plan.how != How::kRandom && table.contains("count"))
    over.fault(table.get("count"), "runs.count", "a count",
               "none: only of random runs; a grid or list has as many as its values make");
  plan.figures = usual_figures(plan.until);
  over.texts(table, "runs", "figures", plan.figures);
  for (std::size_t i = 0; i < plan.figures.size(); ++i) {
    const std::string wrong = path_fault(plan.figures[i]);
    if (!wrong.empty())
      over.fault(table.get("figures"), numbered("runs.figures", i), wrong,
                 "a path into the summary, such as \"body.mass_kg\"");
  }
}

void read_front(const toml::table& table, TomlFile& over, VaryPlan& plan) {
  std::vector<std::string> wishes;
  over.texts(table, "runs", "front", wishes);
  if (wishes.empty()) return;
  const std::string expected =
      "two figures with the way that is better, such as [\"body.mass_kg less\", "
      "\"stand.load_factor more\"]";
  for (const std::string& wish : wishes) {
    const std::size_t gap = wish.rfind(' ');
    const std::string way = gap == std::string::npos ? "" : wish.substr(gap + 1);
    if ((way != "less" && way != "more") || !path_fault(wish.substr(0, gap)).empty()) {
      over.fault(table.get("front"), "runs.front", in_quotes(wish), expected);
      return;
    }
    plan.front.push_back({wish.substr(0, gap), way == "more"});
  }
  if (plan.front.size() != 2) {
    over.fault(table.get("front"), "runs.front", std::to_string(wishes.size()) + " figures",
               expected);
    return;
  }
  for (const FrontRequest& f : plan.front)
    if (std::find(plan.figures.begin(), plan.figures.end(), f.figure) == plan.figures.end())
      plan.figures.push_back(f.figure);
}

// The one asked for; or the second of the front; or the load factor; or the first of all.
void read_against(const toml::table& table, TomlFile& over, VaryPlan& plan) {
  const auto has = [&](const std::string& figure) {
    return std::find(plan.figures.begin(), plan.figures.end(), figure) != plan.figures.end();
  };
  over.text(table, "runs", "against", plan.against);
  if (!plan.against.empty()) {
    if (const std::string wrong = path_fault(plan.against); !wrong.empty())
      over.fault(table.get("against"), "runs.against", wrong, "one of the figures");
    if (!has(plan.against)) plan.figures.push_back(plan.against);
  } else if (plan.front.size() == 2) {
    plan.against = plan.front[1].figure;
  } else {
    plan.against = has("stand.load_factor") ? "stand.load_factor" : plan.figures.front();
  }
}

void read_draws(const toml::table& table, TomlFile& over, VaryPlan& plan) {
  over.unknown(table, "tolerances", {"draws", "chunk", "proofs"});
  DrawsRequest draws;
  std::int64_t chunk = 100, count = 0, proofs = 0;
  const toml::node* node = table.get("draws");
  if (node == nullptr || !node->is_boolean())
    over.whole(table, "tolerances", "draws", 1, 1'000'000'000, count);
  if (node == nullptr || (node->is_boolean() && !*node->value<bool>()))
    over.fault(node == nullptr ? &table : node, "tolerances.draws",
               node == nullptr ? "nothing" : "false",
               "true for as many as the brief asks for, or a number of them");
  over.whole(table, "tolerances", "chunk", 1, 1'000'000, chunk);
  over.whole(table, "tolerances", "proofs", 0, 1'000'000'000, proofs);
  draws.proofs = static_cast<std::uint64_t>(proofs);
  draws.draws = static_cast<std::uint64_t>(count);
  draws.chunk = static_cast<std::uint64_t>(chunk);
  plan.draws = draws;
}

void read_all_varied(const toml::table& root, TomlFile& over, VaryPlan& plan) {
  const toml::node* node = root.get("vary");
  const toml::array* list = node == nullptr ? nullptr : node->as_array();
  const bool tables =
      list != nullptr && !list->empty() && list->is_homogeneous(toml::node_type::table);
  if (!tables)
    return over.fault(node, "vary", node == nullptr ? "nothing" : describe_node(*node),
                      "one [[vary]] table for each key that is varied, or [tolerances] with "
                      "draws = true");
  for (std::size_t i = 0; i < list->size(); ++i) {
    const std::string shown = numbered("vary", i);
    plan.varied.push_back(read_varied(*list->get(i)->as_table(), shown, plan.how, over));
    const Varied& now = plan.varied.back();
    for (std::size_t k = 0; k < i; ++k)
      if (!now.key.empty() && plan.varied[k].key == now.key)
        over.fault(list->get(i), shown + ".key", in_quotes(now.key) + " a second time",
                   "each key once");
    if (plan.how == How::kList && i > 0 && !now.values.empty() &&
        now.values.size() != plan.varied[0].values.size())
      over.fault(list->get(i), shown, std::to_string(now.values.size()) + " values",
                 std::to_string(plan.varied[0].values.size()) +
                     ", as many as the first: they are taken side by side");
  }
}

void read_over(const toml::table& root, TomlFile& over, VaryPlan& plan) {
  over.unknown(root, "", {"vary", "runs", "tolerances"});
  const toml::table empty;
  const auto table_at = [&](const char* name) -> const toml::table* {
    const toml::node* node = root.get(name);
    if (node == nullptr) return &empty;
    if (node->as_table() == nullptr)
      over.fault(node, name, describe_node(*node), "a table, [" + std::string(name) + "]");
    return node->as_table();
  };
  const toml::table* runs = table_at("runs");
  const toml::table* draws = table_at("tolerances");
  if (runs == nullptr || draws == nullptr) return;
  if (draws != &empty) {
    read_draws(*draws, over, plan);
    for (const char* other : {"vary", "runs"})
      if (root.contains(other))
        over.fault(root.get(other), other, "it, beside [tolerances]",
                   "one or the other: whole runs, or draws of the building errors");
    return;
  }
  std::string how = "grid";
  over.text(*runs, "runs", "how", how, {"grid", "list", "random"});
  plan.how = how == "grid" ? How::kGrid : how == "list" ? How::kList : How::kRandom;
  read_runs(*runs, over, plan);
  read_front(*runs, over, plan);
  read_against(*runs, over, plan);
  read_all_varied(root, over, plan);
}

Result<toml::table> parse(const std::string& text, const fs::path& file) {
  if (find_invalid_utf8(text) != std::string::npos)
    return Fault{file.string(), 0, 0, "", "text that is not UTF-8", "text in UTF-8", ""};
  try {
    return toml::parse(text);
  } catch (const toml::parse_error& error) {
    return toml_fault(error, file.string());
  }
}

// A grid of many keys overflows soon.
std::optional<Fault> too_many(const VaryPlan& plan) {
  double runs = plan.how == How::kGrid ? 1 : 0;
  for (const Varied& v : plan.varied)
    if (plan.how == How::kGrid) runs *= static_cast<double>(v.values.size());
  if (runs <= static_cast<double>(kMostRuns)) return {};
  return Fault{plan.over_file.string(),
               0,
               0,
               "vary",
               "a grid of more than 10 million runs",
               "fewer values, or how = \"random\"",
               ""};
}

}  // namespace

Result<VaryPlan> read_vary(const fs::path& brief, const fs::path& over_path,
                           const std::string& version) {
  const Result<Brief> base = read_brief(brief);
  if (!base) return base.faults();
  const auto over_text = bytes_of(over_path);
  if (!over_text)
    return Fault{over_path.string(),
                 0,
                 0,
                 "",
                 "no such file, or none that can be read",
                 "a text file in TOML that says what is varied",
                 "see docs/vary.md"};
  const Result<toml::table> root = parse(*over_text, over_path);
  if (!root) return root.faults();
  VaryPlan plan;
  plan.brief_file = brief;
  plan.over_file = over_path;
  plan.brief_text = base->text;
  plan.over_text = *over_text;
  TomlFile over(over_path);
  read_over(*root, over, plan);
  if (!over.faults().empty()) return over.faults();
  if (const auto fault = too_many(plan)) return *fault;
  plan.hash = hash_of(plan, toml::parse(plan.brief_text), *root, version);
  return plan;
}

std::vector<std::string> usual_figures(const std::string& until) {
  static const std::vector<std::pair<const char*, std::vector<std::string>>> kBy = {
      {"form", {"form.rise_m", "form.thrust_max_n"}},
      {"body", {"body.mass_kg"}},
      {"cut", {"cut.blocks", "cut.block_mass_max_kg", "quantities.concrete_m3"}},
      {"stand",
       {"stand.load_factor", "stand.cases[most].friction_needed",
        "stand.cases[most].joint_stress_max_pa", "required[geometric_safety].value"}},
      {"strength", {"strength.worst_utilisation"}},
      {"ground", {"quantities.steel_kg", "quantities.co2e_kg"}},
      {"access", {"access.gradient_max"}},
      {"erect", {"erect.duration_days"}},
  };
  const auto rank = [](const std::string& stage) {
    const auto& names = stage_names();
    return std::find(names.begin(), names.end(), stage) - names.begin();
  };
  std::vector<std::string> out;
  for (const auto& [stage, paths] : kBy)
    if (rank(stage) <= rank(until)) out.insert(out.end(), paths.begin(), paths.end());
  return out;
}

}  // namespace skewback
