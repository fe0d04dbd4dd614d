#include "deliver/strokes.hpp"

#include <string_view>
#include <utility>

namespace skewback::deliver {
namespace {

// Strokes apart by spaces; a point is two digits: x from 0 to 4, y from 0 to 8, base line at 2.
constexpr std::pair<char, std::string_view> kLetters[] = {
    {'A', "022842 1535"},
    {'B', "02083847463505 3544433202"},
    {'C', "4738180703123243"},
    {'D', "02082846442202"},
    {'E', "48080242 0535"},
    {'F', "480802 0535"},
    {'G', "47381807031232434525"},
    {'H', "0208 4248 0545"},
    {'I', "1232 2228 1838"},
    {'J', "4843321203"},
    {'K', "0208 4805 0542"},
    {'L', "080242"},
    {'M', "0208254842"},
    {'N', "02084248"},
    {'O', "180703123243473818"},
    {'P', "02083847463505"},
    {'Q', "180703123243473818 2442"},
    {'R', "02083847463505 2542"},
    {'S', "473818070615354443321203"},
    {'T', "0848 2822"},
    {'U', "080312324348"},
    {'V', "082248"},
    {'W', "0812253248"},
    {'X', "0248 0842"},
    {'Y', "082548 2522"},
    {'Z', "08480242"},
    {'a', "16364542 441403123243"},
    {'b', "0802 0516364543321203"},
    {'c', "4536160503123243"},
    {'d', "4842 4536160503123243"},
    {'e', "04444536160503123243"},
    {'f', "48382722 1636"},
    {'g', "4641301001 4536160503123243"},
    {'h', "0802 0516364542"},
    {'i', "2622 2728"},
    {'j', "36312010 3738"},
    {'k', "0802 4604 2542"},
    {'l', "182822 1232"},
    {'m', "0602 05162522 25364542"},
    {'n', "0602 0516364542"},
    {'o', "160503123243453616"},
    {'p', "0600 0516364543321203"},
    {'q', "4640 4536160503123243"},
    {'r', "0602 051636"},
    {'s', "45361605143443321203"},
    {'t', "28233242 1636"},
    {'u', "060312324346 4342"},
    {'v', "062246"},
    {'w', "0612243246"},
    {'x', "0246 0642"},
    {'y', "0622 4610"},
    {'z', "06460242"},
    {'0', "180703123243473818 1337"},
    {'1', "172822 1232"},
    {'2', "07183847460242"},
    {'3', "07183847463515 354443321203"},
    {'4', "32380444"},
    {'5', "480805354443321203"},
    {'6', "4738180703123243443505"},
    {'7', "084812"},
    {'8', "15060718384746351504031232434435"},
    {'9', "0312324347381807061545"},
    {' ', ""},
    {'-', "1535"},
    {'.', "2223"},
    {',', "2311"},
    {'/', "0248"},
    {'+', "2327 0545"},
    {'(', "38262432"},
    {')', "18262412"},
    {':', "2223 2526"},
    {'|', "2128"},
    {'_', "0242"},
    {'=', "0646 0444"},
    {'<', "460542"},
    {'>', "064502"},
};
constexpr std::string_view kUnknown = "0208484202";
constexpr double kWide = 4, kAdvance = 5.6, kCapital = 6, kBase = 2;

std::string_view glyph(char c) {
  for (const auto& [letter, drawn] : kLetters)
    if (letter == c) return drawn;
  return kUnknown;
}

bool goes_on(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

std::size_t letters(const std::string& text) {
  std::size_t n = 0;
  for (const char c : text) n += goes_on(c) ? 0 : 1;
  return n;
}

}  // namespace

double strokes_width(const std::string& text, double height) {
  const std::size_t n = letters(text);
  return n == 0 ? 0 : ((static_cast<double>(n) - 1) * kAdvance + kWide) * height / kCapital;
}

std::vector<std::vector<Vec2>> strokes(const std::string& text, double height) {
  const double unit = height / kCapital;
  double x = -strokes_width(text, height) / 2;
  std::vector<std::vector<Vec2>> out;
  for (const char c : text) {
    if (goes_on(c)) continue;
    const std::string_view drawn = glyph(c);
    bool starts = true;
    for (std::size_t i = 0; i < drawn.size(); i += starts ? 1 : 2) {
      starts = drawn[i] == ' ';
      if (starts || i == 0) out.emplace_back();
      if (starts) continue;
      out.back().emplace_back(x + unit * (drawn[i] - '0'), unit * (drawn[i + 1] - '0' - kBase));
    }
    x += kAdvance * unit;
  }
  return out;
}

}  // namespace skewback::deliver
