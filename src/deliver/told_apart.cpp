#include "deliver/told_apart.hpp"

#include <algorithm>
#include <cmath>

#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr int kMore = 6;              // decimals more than usual, at most
constexpr double kAsBefore = 0.5e-3;  // of what was before

/// With `more` decimals; of those the zeros at the end are left out.
std::string fixed_more(double value, int decimals, int more) {
  std::string text = fixed(value, decimals + more);
  while (more > 0 && text.back() == '0') text.pop_back(), --more;
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace

Writing decimals(int decimals, const std::string& behind, double scale) {
  return [=](double value, int more) { return fixed_more(value * scale, decimals, more) + behind; };
}

TwoFigures told_apart(double first, double second, const Writing& write) {
  for (int more = 0; more <= kMore; ++more) {
    TwoFigures two{write(first, more), write(second, more)};
    if (two.first != two.second) return two;
  }
  return {write(first, 0), write(second, 0)};
}

std::string now_and_before(double now, double before, const Writing& write) {
  const std::string usual = write(now, 0);
  if (usual == write(before, 0) && std::abs(now - before) <= kAsBefore * std::abs(before))
    return usual + ", as before";
  const TwoFigures two = told_apart(now, before, write);
  return two.first + ", before " + two.second;
}

std::string percent_used(double share, int decimals) {
  const TwoFigures two = told_apart(share, 1, deliver::decimals(decimals, " %", 100));
  if (two.first != two.second || share == 1) return two.first;
  return (share > 1 ? "just over " : "just under ") + two.first;
}

}  // namespace skewback::deliver
