#pragma once
// One TOML value, read as one key asks.

#include <toml++/toml.h>

#include "brief/keys.hpp"
#include "brief/units.hpp"

namespace skewback {

/// Reads `node` into the key's slot; faults go to the draft under the name `shown`
/// ("plan.support[2].level"). Marks draft.spots and draft.sound.
void read_value(const toml::node& node, const Key& key, std::size_t index, const std::string& shown,
                const Units& units, Draft& draft);

[[nodiscard]] Spot spot_of(const toml::source_region& region);
/// A text that is not TOML: where, and what stands there.
[[nodiscard]] Fault toml_fault(const toml::parse_error& error, const std::string& file);
[[nodiscard]] std::string describe_node(const toml::node& node);  // "number 45", "a table", ...

/// What a key takes: "a length such as "1.55 m"", "a name such as "yard"".
[[nodiscard]] std::string asked_text(const Key& key);

/// "over 0 m and up to 10 m", in the unit of the key's example; empty if anything goes.
[[nodiscard]] std::string range_text(const Key& key, const Units& units);

/// A value in SI, written in the unit of the key's example: "45 mm".
[[nodiscard]] std::string value_text(double value, const Key& key, const Units& units);

}  // namespace skewback
