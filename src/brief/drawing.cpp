#include "brief/drawing.hpp"

#include <charconv>
#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <system_error>

#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr std::uintmax_t kLargestFile = 64 << 20;

std::string lower(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

Result<std::string> read_whole(const std::filesystem::path& file) {
  const auto fault = [&](const std::string& found, const std::string& change) {
    return Fault{file.string(), 0, 0, "", found, "a drawing", change};
  };
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (!std::filesystem::exists(status))
    return fault("no such file", "check the path; it is taken from the folder of the brief");
  if (!std::filesystem::is_regular_file(status))
    return fault("something that is not an ordinary file", "name an ordinary file");
  if (std::filesystem::file_size(file, error) > kLargestFile || error)
    return fault("a file of more than 64 MB", "take out what is no part of the plan");
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  if (!in) return fault("a file that cannot be read", "check that you may read it");
  return text.str();
}

}  // namespace

std::string ending(const std::filesystem::path& file) { return lower(file.extension().string()); }

Result<DrawingFile> read_file(const std::filesystem::path& file, const std::string& unit) {
  Result<std::string> text = read_whole(file);
  if (!text) return text.faults();
  return DrawingFile{file.string(), std::move(text).value(), unit};
}

Fault DrawingFile::fault(int line, const std::string& element, const std::string& found,
                         const std::string& expected, const std::string& change) const {
  return {file, line, 0, element, found, expected, change};
}

std::string role_name(const std::string& layer) {
  std::string name = lower(trimmed(layer));
  for (char& c : name)
    if (c == '_' || c == ' ') c = '-';
  return name;
}

bool is_role(const std::string& name) {
  return name == "outline" || name == "meeting" || name.starts_with("opening") ||
         name.starts_with("walk") || (name.starts_with("support-") && name.size() > 8);
}

double unit_in_metres(const std::string& unit) {
  static const std::map<std::string, double> units = {
      {"mm", 1e-3}, {"cm", 1e-2}, {"m", 1}, {"in", 0.0254}, {"ft", 0.3048}};
  const auto it = units.find(unit);
  return it == units.end() ? 0 : it->second;
}

Result<double> settle_unit(const DrawingFile& file, double of_file, const std::string& where) {
  const double of_brief = unit_in_metres(file.unit);
  if (of_file > 0 && of_brief > 0 && std::abs(of_file - of_brief) > 1e-9 * of_brief)
    return file.fault(0, where,
                      "a unit of " + number(of_file) + " m, where the brief says " + file.unit,
                      "one unit", "take the unit out of the brief, or save the drawing again");
  if (of_file > 0) return of_file;
  if (of_brief > 0) return of_brief;
  return file.fault(0, where, "lengths without a unit", "a unit",
                    "say it in the brief, such as file_unit = \"mm\"");
}

bool read_number(std::string_view text, double& out) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t' || text.back() == '\r'))
    text.remove_suffix(1);
  if (text.starts_with('+')) text.remove_prefix(1);
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
  return error == std::errc() && end == text.data() + text.size() && std::isfinite(out);
}

Result<Drawing> read_drawing(const std::filesystem::path& file, const std::string& unit) {
  const Result<DrawingFile> read = read_file(file, unit);
  if (!read) return read.faults();
  const DrawingFile& drawing = *read;
  const std::string kind = ending(file);
  if (kind == ".dxf") return read_dxf(drawing);
  if (kind == ".geojson" || kind == ".json") return read_geojson(drawing);
  if (kind == ".svg") return read_svg(drawing);
  if (kind == ".obj") return read_flat_obj(drawing);
  return drawing.fault(0, "", "a file that ends in \"" + printable(kind) + "\"",
                       ".dxf, .geojson, .svg or .obj", "save the plan as one of these");
}

}  // namespace skewback
