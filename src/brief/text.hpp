#pragma once
// Words and numbers in messages.

#include <string>
#include <string_view>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

[[nodiscard]] std::string trimmed(std::string_view text);

/// Control characters replaced, cut after 60 bytes between characters. UTF-8 in, UTF-8 out.
[[nodiscard]] std::string printable(std::string_view text);
[[nodiscard]] std::string in_quotes(std::string_view text);

/// "plan.outline[3]" of ("plan.outline", 2).
[[nodiscard]] std::string numbered(const std::string& list, std::size_t index);

[[nodiscard]] std::string number(double value);       // shortest, at most 6 significant digits
[[nodiscard]] std::string metres(double value);       // "0.045 m", to 0.1 mm
[[nodiscard]] std::string place_text(const Vec2& p);  // "(1.076, 6.441) m", to 1 mm

/// Edit distance with swaps of neighbours counted once (Damerau 1964, restricted form).
[[nodiscard]] int edit_distance(std::string_view a, std::string_view b);

/// The nearest of `words` to `word`, or empty if none is near enough to be a slip of the hand.
[[nodiscard]] std::string nearest_word(const std::string& word,
                                       const std::vector<std::string>& words);

/// Byte offset of the first byte that is not UTF-8 (RFC 3629), or npos.
[[nodiscard]] std::size_t find_invalid_utf8(std::string_view text);

}  // namespace skewback
