#pragma once
// What is put into the page for viewing, and how, so that no text in it ends a script.

#include <string>
#include <vector>

namespace skewback::lodge {

struct PagePart {
  enum class Kind { kSheaf, kJson };
  Kind kind = Kind::kJson;
  std::string key;    // "proof?case=full"; "/api/findings"
  std::string bytes;  // of a sheaf; JSON text
};

/// First all bytes whose number is 0 modulo 4, then 1, 2, 3: figures of four bytes have like bytes
/// side by side so; then gzip (RFC 1952, without a time). Same bytes, same result.
[[nodiscard]] std::string packed(const std::string& bytes);
/// RFC 4648, padded, one line.
[[nodiscard]] std::string base64(const std::string& bytes);
/// As the page writes a query: all but letters, figures and -_.!~*'() as %XX.
[[nodiscard]] std::string percent(const std::string& text);
/// JSON that says the same and has no '<', '>', '&' and no line ends of Unicode.
[[nodiscard]] std::string json_in_script(const std::string& json);

/// Script elements, `data-sheaf` (base64 of what is packed) or `data-json` naming each, in place of
/// the last `<!--SHEAVES-->`; without that mark before the last `</body>`, without either at the
/// end.
[[nodiscard]] std::string fill_page(const std::string& page, const std::vector<PagePart>& parts);

}  // namespace skewback::lodge
