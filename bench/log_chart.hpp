#pragma once
// A chart of both axes by powers of ten, as SVG.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <utility>
#include <vector>

namespace skewback::bench {

struct Series {
  std::string name;
  std::vector<std::pair<double, double>> points;  // all > 0
};

inline std::string log_chart(const std::string& title, const std::string& along,
                             const std::string& up, const std::vector<Series>& series) {
  constexpr double kLeft = 70, kTop = 50, kWide = 560, kHigh = 420;
  static const char* const kInks[] = {"#1b4965", "#b5532a", "#4f772d",
                                      "#62b6cb", "#e09f7d", "#a3b18a"};
  double low_x = 1e300, high_x = 0, low_y = 1e300, high_y = 0;
  for (const Series& s : series) {
    for (const auto& [x, y] : s.points) {
      low_x = std::min(low_x, x);
      high_x = std::max(high_x, x);
      low_y = std::min(low_y, y);
      high_y = std::max(high_y, y);
    }
  }
  const double x0 = std::floor(std::log10(low_x)), x1 = std::ceil(std::log10(high_x));
  const double y0 = std::floor(std::log10(low_y)), y1 = std::ceil(std::log10(high_y));
  const auto at_x = [&](double x) { return kLeft + kWide * (std::log10(x) - x0) / (x1 - x0); };
  const auto at_y = [&](double y) { return kTop + kHigh * (1 - (std::log10(y) - y0) / (y1 - y0)); };
  std::string out =
      R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 860 530" font-family="sans-serif" font-size="13">)"
      "\n";
  char line[512];
  const auto put = [&](const char* format, auto... values) {
    std::snprintf(line, sizeof line, format, values...);
    out += line;
  };
  const auto words = [&](double x, double y, const char* anchor, const std::string& what) {
    put("<text x=\"%.0f\" y=\"%.0f\" text-anchor=\"%s\">%s</text>\n", x, y, anchor, what.c_str());
  };
  const auto rule = [&](double xa, double ya, double xb, double yb) {
    put("<path d=\"M%.1f %.1fL%.1f %.1f\" stroke=\"#ccc\"/>\n", xa, ya, xb, yb);
  };
  words(kLeft, 28, "start", title);
  for (double e = x0; e <= x1; ++e) {
    const double x = at_x(std::pow(10, e));
    rule(x, kTop, x, kTop + kHigh);
    std::snprintf(line, sizeof line, "%g", std::pow(10, e));
    words(x, kTop + kHigh + 20, "middle", line);
  }
  for (double e = y0; e <= y1; ++e) {
    const double y = at_y(std::pow(10, e));
    rule(kLeft, y, kLeft + kWide, y);
    std::snprintf(line, sizeof line, "%g", std::pow(10, e));
    words(kLeft - 8, y + 4, "end", line);
  }
  words(kLeft + kWide / 2, kTop + kHigh + 42, "middle", along);
  words(kLeft - 8, kTop - 10, "end", up);
  double key = kTop + 10;
  for (std::size_t i = 0; i < series.size(); ++i, key += 20) {
    const char* ink = kInks[i % std::size(kInks)];
    std::string path;
    for (const auto& [x, y] : series[i].points) {
      std::snprintf(line, sizeof line, "%s%.1f %.1f", path.empty() ? "M" : "L", at_x(x), at_y(y));
      path += line;
      put("<circle cx=\"%.1f\" cy=\"%.1f\" r=\"3\" fill=\"%s\"/>\n", at_x(x), at_y(y), ink);
    }
    out += "<path d=\"" + path + "\" fill=\"none\" stroke=\"" + ink + "\" stroke-width=\"1.5\"/>\n";
    put("<path d=\"M%.0f %.0fh24\" stroke=\"%s\" stroke-width=\"3\"/>\n", kLeft + kWide + 20, key,
        ink);
    words(kLeft + kWide + 52, key + 4, "start", series[i].name);
  }
  return out + "</svg>\n";
}

}  // namespace skewback::bench
