#include <toml++/toml.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <system_error>

#include "brief/text.hpp"
#include "brief/values.hpp"

namespace skewback {

void Draft::fault(const std::string& key, const std::string& found, const std::string& expected,
                  const std::string& change) {
  const Spot s = spot(key);
  const std::string file = s.file.empty() ? brief.file.string() : s.file;
  const std::string name = s.element.empty() ? key : key + " (" + s.element + ")";
  faults.push_back({file, s.line, s.column, name, found, expected, change});
}

void Draft::take_faults_of(const std::string& key, const Faults& of_file) {
  for (const Fault& f : of_file) {
    if (f.line > 0 || !f.key.empty())
      faults.push_back(f);
    else
      fault(key, f.found + " at " + f.file, f.expected, f.change);
  }
}

bool Draft::has(const std::string& key) const {
  const auto it = sound.find(key);
  return it != sound.end() && it->second;
}

bool Draft::spoilt(const std::string& key) const {
  const auto it = sound.find(key);
  return it != sound.end() && !it->second;
}

Spot Draft::spot(const std::string& key) const {
  std::string at = key;
  while (!at.empty()) {
    if (const auto it = spots.find(at); it != spots.end()) return it->second;
    const auto cut = at.find_last_of(".[");
    at.resize(cut == std::string::npos ? 0 : cut);
  }
  return {1, 1};
}

namespace {

constexpr std::uintmax_t kLargestFile = 4 << 20;

class TreeReader {
 public:
  TreeReader(const Units& units, Draft& draft) : units_(units), draft_(draft) {}

  /// `prefix` names the section in the table of keys, `shown` in messages.
  void walk(const toml::table& table, const std::string& prefix, const std::string& shown,
            std::size_t index) {
    for (auto&& [name, node] : table) {
      const std::string path = join(prefix, name.str()), here = join(shown, name.str());
      if (const Key* key = find_key(path)) {
        read_value(node, *key, index, here, units_, draft_);
      } else if (find_heading(path + "[]") != nullptr) {
        walk_list(node, path + "[]", here);
      } else if (find_heading(path) != nullptr) {
        walk_section(node, path, here);
      } else {
        unknown(name, prefix, here);
      }
    }
  }

  void missing() const {
    for (const Heading& section : headings())
      if (section.required && !draft_.spots.contains(bare(section.path)))
        draft_.fault(bare(section.path), "no " + header(section.path),
                     "it, with " + needs(section.path),
                     "add " + header(section.path) + " and its keys");
    for (const Key& key : keys()) {
      if (!key.required) continue;
      for (const std::string& holder : holders(section_of(key.path)))
        if (!draft_.spots.contains(join(holder, leaf_of(key.path))))
          draft_.fault(join(holder, leaf_of(key.path)), "nothing", asked_text(key),
                       "add a line such as " + leaf_of(key.path) + " = " + key.example + " under " +
                           header(section_of(key.path)));
    }
  }

 private:
  static std::string join(const std::string& a, std::string_view b) {
    return a.empty() ? std::string(b) : a + "." + std::string(b);
  }
  static std::string bare(const std::string& path) {
    return path.ends_with("[]") ? path.substr(0, path.size() - 2) : path;
  }
  static std::string header(const std::string& path) {
    return path.ends_with("[]") ? "[[" + bare(path) + "]]" : "[" + path + "]";
  }
  static std::string needs(const std::string& section) {
    std::string list;
    for (const Key& key : keys())
      if (key.required && section_of(key.path) == section)
        list += (list.empty() ? "" : ", ") + leaf_of(key.path);
    return list.empty() ? "its keys" : list;
  }

  // the tables that are there for a section: "form", or "plan.support[1]", "plan.support[2]"
  [[nodiscard]] std::vector<std::string> holders(const std::string& section) const {
    if (!section.ends_with("[]"))
      return draft_.spots.contains(section) ? std::vector{section} : std::vector<std::string>{};
    std::vector<std::string> list;
    for (std::size_t i = 1; draft_.spots.contains(bare(section) + "[" + std::to_string(i) + "]");
         ++i)
      list.push_back(bare(section) + "[" + std::to_string(i) + "]");
    return list;
  }

  void walk_section(const toml::node& node, const std::string& path, const std::string& here) {
    draft_.spots[here] = spot_of(node.source());
    if (const toml::table* table = node.as_table()) return walk(*table, path, here, 0);
    draft_.fault(here, describe_node(node), "a table",
                 "write " + header(path) + " and its keys on lines below");
  }

  void walk_list(const toml::node& node, const std::string& path, const std::string& here) {
    constexpr std::size_t kMostTables = 200;
    draft_.spots[here] = spot_of(node.source());
    const toml::array* array = node.as_array();
    const bool tables =
        array != nullptr && !array->empty() &&
        std::all_of(array->begin(), array->end(), [](const toml::node& n) { return n.is_table(); });
    if (!tables || array->size() > kMostTables)
      return draft_.fault(here, describe_node(node), "a list of at most 200 tables",
                          "write each as " + header(path) + ", in double brackets");
    find_heading(path)->resize(draft_, array->size());
    for (std::size_t i = 0; i < array->size(); ++i) {
      const std::string item = here + "[" + std::to_string(i + 1) + "]";
      draft_.spots[item] = spot_of((*array)[i].source());
      walk(*(*array)[i].as_table(), path, item, i);
    }
  }

  void unknown(const toml::key& name, const std::string& prefix, const std::string& here) const {
    std::vector<std::string> words;
    for (const Key& key : keys())
      if (section_of(key.path) == prefix) words.push_back(leaf_of(key.path));
    for (const Heading& section : headings())
      if (section_of(section.path) == prefix) words.push_back(leaf_of(section.path));
    std::string change = "take it out";
    const std::string wanted(name.str()), near = near_key(wanted, words);
    const auto elsewhere = std::find_if(
        keys().begin(), keys().end(), [&](const Key& key) { return leaf_of(key.path) == wanted; });
    if (!near.empty())
      change = "did you mean \"" + near + "\"?";
    else if (elsewhere != keys().end())
      change = "move it under " + header(section_of(elsewhere->path));
    std::string all = "another key of " + header(prefix);
    if (near.empty()) {
      all = "one of ";
      for (const std::string& word : words) all += (word == words.front() ? "" : ", ") + word;
    }
    const Spot spot = spot_of(name.source());
    draft_.faults.push_back({draft_.brief.file.string(), spot.line, spot.column, printable(here),
                             "an unknown key", all, change});
  }

  /// The nearest word, or the longest that the word wanted goes on from: bead_width, bead.
  static std::string near_key(const std::string& wanted, const std::vector<std::string>& words) {
    std::string near = nearest_word(wanted, words);
    if (!near.empty()) return near;
    for (const std::string& word : words)
      if (word.size() > near.size() && wanted.starts_with(word + "_")) near = word;
    return near;
  }

  const Units& units_;
  Draft& draft_;
};

Fault file_fault(const std::filesystem::path& file, const std::string& found,
                 const std::string& change) {
  return {file.string(), 0, 0, "", found, "a brief: a text file in TOML", change};
}

Fault at_offset(const std::filesystem::path& file, const std::string& text, std::size_t offset) {
  const auto head = std::string_view(text).substr(0, offset);
  const int line = 1 + static_cast<int>(std::count(head.begin(), head.end(), '\n'));
  const auto start = head.rfind('\n') == std::string_view::npos ? 0 : head.rfind('\n') + 1;
  const auto characters =
      std::count_if(head.begin() + static_cast<std::ptrdiff_t>(start), head.end(),
                    [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; });
  return {file.string(),
          line,
          1 + static_cast<int>(characters),
          "",
          "a byte that is not UTF-8",
          "text in UTF-8",
          "save the file as UTF-8"};
}

void settle(Draft& draft) {
  settle_plan(draft);
  settle_rest(draft);
  const std::string own = draft.brief.file.string();
  const auto rank = [&](const Fault& f) { return std::tuple(f.file != own, f.line, f.column); };
  std::stable_sort(draft.faults.begin(), draft.faults.end(),
                   [&](const Fault& a, const Fault& b) { return rank(a) < rank(b); });
}

}  // namespace

Result<std::string> text_of_brief(const std::filesystem::path& file) {
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (!std::filesystem::exists(status)) return file_fault(file, "no such file", "check the path");
  if (std::filesystem::is_directory(status))
    return file_fault(file, "a directory", "name the file in it, such as brief.toml");
  if (!std::filesystem::is_regular_file(status))
    return file_fault(file, "something that is not an ordinary file", "name an ordinary file");
  if (std::filesystem::file_size(file, error) > kLargestFile || error)
    return file_fault(file, "a file of more than 4 MB", "name a brief");
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  if (!in) return file_fault(file, "a file that cannot be read", "check that you may read it");
  return text.str();
}

Result<Draft> read_draft(const std::string& text, const std::filesystem::path& file) {
  if (const auto bad = find_invalid_utf8(text); bad != std::string::npos)
    return at_offset(file, text, bad);
  toml::table root;
  try {
    root = toml::parse(text);
  } catch (const toml::parse_error& error) {
    return toml_fault(error, file.string());
  }
  if (root.empty())
    return file_fault(file, "an empty file", "start from the brief that `skewback new` writes");

  Draft draft;
  draft.brief.file = file;
  draft.brief.text = text;
  const Units units;
  TreeReader reader(units, draft);
  reader.walk(root, "", "", 0);
  reader.missing();
  settle(draft);
  return draft;
}

Result<Brief> read_brief_text(const std::string& text, const std::filesystem::path& file) {
  const Result<Draft> draft = read_draft(text, file);
  if (!draft) return draft.faults();
  if (!draft->faults.empty()) return draft->faults;
  return draft->brief;
}

Result<Brief> read_brief(const std::filesystem::path& file) {
  const Result<std::string> text = text_of_brief(file);
  if (!text) return text.faults();
  return read_brief_text(*text, file);
}

}  // namespace skewback
