#include <charconv>
#include <cmath>
#include <fstream>
#include <sstream>

#include "motion/motion.hpp"

namespace skewback {
namespace {

constexpr std::size_t kLinesMost = 2'000'000;
constexpr double kMost = 1e4;  // s, and m/s2: a thousand times what any earthquake does

Fault fault_at(const std::filesystem::path& file, int line, std::string found) {
  Fault fault;
  fault.file = file.string();
  fault.line = line;
  fault.found = std::move(found);
  fault.expected = "time_s, ax, ay, az: four numbers, m/s2, none over 10000, times rising";
  return fault;
}

std::string_view trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t\r");
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(" \t\r") - from + 1);
}

/// Four numbers between commas, or what is wrong.
std::optional<std::string> numbers(std::string_view line, double (&out)[4]) {
  for (int k = 0; k < 4; ++k) {
    const std::size_t comma = line.find(',');
    if ((comma == std::string_view::npos) != (k == 3))
      return k == 3 ? "more than four columns" : std::to_string(k + 1) + " of four columns";
    const std::string_view cell = trimmed(line.substr(0, comma));
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), out[k]);
    if (error != std::errc() || end != cell.data() + cell.size() || !(std::abs(out[k]) <= kMost))
      return "'" + std::string(cell.substr(0, 40)) + "'";
    if (k < 3) line.remove_prefix(comma + 1);
  }
  return {};
}

}  // namespace

Result<Shaking> read_shaking(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in || std::filesystem::is_directory(file))
    return fault_at(file, 0, "no file that can be read");
  Shaking shaking;
  std::string line;
  int number = 0;
  while (std::getline(in, line)) {
    ++number;
    const std::string_view text = trimmed(line);
    if (text.empty() || text.front() == '#') continue;
    if (shaking.time_s.size() >= kLinesMost) return fault_at(file, number, "over 2,000,000 lines");
    double x[4];
    if (const auto wrong = numbers(text, x)) return fault_at(file, number, *wrong);
    if (!shaking.time_s.empty() && x[0] <= shaking.time_s.back())
      return fault_at(file, number, "a time that is not later than the one before");
    if (shaking.time_s.empty() && x[0] < 0) return fault_at(file, number, "a time before zero");
    shaking.time_s.push_back(x[0]);
    shaking.acceleration.emplace_back(x[1], x[2], x[3]);
  }
  if (shaking.time_s.size() < 2) return fault_at(file, number, "fewer than two times");
  return shaking;
}

}  // namespace skewback
