#pragma once
// Numbers and names as words. Independent of the locale.

#include <optional>
#include <string>
#include <vector>

namespace skewback::deliver {

/// `value` with that many decimals; "n/a" when it is not finite.
[[nodiscard]] std::string fixed(double value, int decimals);
/// "n/a" when there is none.
[[nodiscard]] std::string fixed(const std::optional<double>& value, int decimals);
/// So many figures that count, never with an exponent: 35.4 as "35", 7.33 as "7.3"; "0" for zero.
[[nodiscard]] std::string figures(double value, int count);
/// Powers of ten for small residuals: "3.2e-13"; "0" for zero.
[[nodiscard]] std::string scientific(double value);
/// "1 block", "3 blocks".
[[nodiscard]] std::string counted(std::size_t n, const std::string& noun);
[[nodiscard]] std::string joined(const std::vector<std::string>& words, const std::string& between);
/// Lines of at most so many letters, broken at spaces; a longer word is left whole.
[[nodiscard]] std::vector<std::string> broken(const std::string& text, std::size_t most);
/// &, <, > and " as XML entities.
[[nodiscard]] std::string xml_text(const std::string& text);
/// Letters, digits, '-', '_' and '.' kept; anything else becomes '_'.
[[nodiscard]] std::string file_stem(const std::string& id);

}  // namespace skewback::deliver
