#pragma once
// The brief from outside, by the names of its keys: for what writes briefs rather than reads one.

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

/// A brief's file as it is, 4 MB at most.
[[nodiscard]] Result<std::string> text_of_brief(const std::filesystem::path& file);

/// read_brief on text in memory; `file` goes into messages, and what the brief names lies beside
/// it.
[[nodiscard]] Result<Brief> read_brief_text(const std::string& text,
                                            const std::filesystem::path& file);

struct KeyFacts {
  enum class Written { kQuantity, kNumber, kWhole, kOther };
  Written written = Written::kOther;
  std::string unit;     // SI, of a quantity
  std::string meaning;  // in words
  std::string example;  // as written in TOML
};
/// Of "form.rise", "plan.support[2].level", or a member of a list, "plan.outline[3][1]" (numbers
/// from 1). None: no brief has such a key.
[[nodiscard]] std::optional<KeyFacts> key_facts(const std::string& key);

struct ListedKey {
  std::string path;          // "plan.support[].level": one of a list of tables
  std::string default_text;  // as written in TOML; empty: none
  bool required = false;
};
/// All keys, in the order of docs/brief.md.
[[nodiscard]] const std::vector<ListedKey>& listed_keys();

/// "45 mm" as a number of `unit`, an SI unit; none if it is no such quantity. Safe from several
/// threads.
[[nodiscard]] std::optional<double> in_si(const std::string& quantity, const std::string& unit);

/// The key, or member of a list of tables ("plan.support[].level"), that looks most like it;
/// empty if none is near enough to be a slip of the hand.
[[nodiscard]] std::string nearest_key(const std::string& key);

}  // namespace skewback
