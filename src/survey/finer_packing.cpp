#include "survey/finer_packing.hpp"

#include <algorithm>
#include <cstdio>

namespace skewback {
namespace {

constexpr double kFoil = 5e-5;  // m

std::string hundredths(double m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2f", 1e3 * m);
  return text;
}

}  // namespace

std::vector<FinerPacking> finer_packing(const PackingRequest& packing) {
  std::vector<FinerPacking> out;
  FinerPacking finer{packing, ""};
  if (!packing.stock_m.empty()) {
    const double thinnest = std::ranges::min(packing.stock_m);
    for (const double sheet : {thinnest / 4, thinnest / 2}) {
      if (sheet < kFoil) continue;
      finer.packing.stock_m.push_back(sheet);
      finer.words += (finer.words.empty() ? "sheets of " : " and ") + hundredths(sheet);
    }
    std::ranges::sort(finer.packing.stock_m);
  }
  if (!finer.words.empty()) {
    finer.words += " mm in packing.stock";
    out.push_back(finer);
  }
  if (const double slack = std::max(kFoil, packing.slack_m / 4); slack < packing.slack_m) {
    finer.packing.slack_m = slack;
    finer.words +=
        (finer.words.empty() ? "" : " with ") + ("a packing.slack of " + hundredths(slack) + " mm");
    out.push_back(finer);
  }
  return out;
}

}  // namespace skewback
