#include "survey/point_table.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr std::size_t kMostBytes = 8 << 20;

Result<std::string> whole(const std::filesystem::path& path) {
  const auto fault = [&](const std::string& found) {
    return Fault{.file = path.string(),
                 .found = found,
                 .expected = "a file of measured points, 8 MB at most",
                 .change = "see docs/survey.md"};
  };
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error))
    return fault(std::filesystem::exists(path, error) ? "no ordinary file" : "no such file");
  std::ifstream in(path, std::ios::binary);
  std::string text(kMostBytes + 1, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (in.bad() || !(in || in.eof())) return fault("a file that cannot be read");
  text.resize(static_cast<std::size_t>(in.gcount()));
  if (text.size() > kMostBytes) return fault("more than 8 MB");
  return text;
}

int line_of(const std::string& text, std::size_t at) {
  return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<long>(at), '\n'));
}

/// Every line end as '\n', no byte order mark.
std::string plain(const std::string& text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = text.starts_with("\xEF\xBB\xBF") ? 3 : 0; i < text.size(); ++i) {
    if (text[i] == '\r') {
      out += '\n';
      if (i + 1 < text.size() && text[i + 1] == '\n') ++i;
    } else {
      out += text[i];
    }
  }
  return out;
}

/// False where a quote is not closed.
bool split(const std::string& line, char parting, std::vector<std::string>& fields) {
  std::string field;
  bool quoted = false, kept = false;
  const auto end = [&] {
    fields.push_back(kept ? field : trimmed(field));
    field.clear();
    kept = false;
  };
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      field += line[++i];
    } else if (c == '"' && (quoted || trimmed(field).empty())) {
      if (!quoted) field.clear();
      quoted = !quoted;
      kept = true;
    } else if (!quoted && c == parting) {
      end();
    } else if (!(kept && !quoted && (c == ' ' || c == '\t'))) {
      field += c;
    }
  }
  end();
  return !quoted;
}

char parting_of(const std::string& header) {
  for (const char c : {';', ','})
    if (header.find(c) != std::string::npos) return c;
  return header.find('\t') != std::string::npos ? '\t' : ',';
}

}  // namespace

Result<PointTable> read_table(const std::filesystem::path& path) {
  const Result<std::string> read = whole(path);
  if (!read) return read.faults();
  const std::string text = plain(*read);
  PointTable table{path.string(), ',', {}};
  Faults faults;
  const auto fault = [&](int line, const std::string& found, const std::string& expected) {
    faults.push_back(
        {.file = table.file, .line = line, .found = found, .expected = expected, .change = ""});
  };
  if (const std::size_t bad = find_invalid_utf8(text); bad != std::string::npos) {
    fault(line_of(text, bad), "bytes that are not UTF-8", "text in UTF-8");
    return faults;
  }
  std::istringstream in(text);
  std::string line;
  for (int number = 1; std::getline(in, line); ++number) {
    if (const std::string content = trimmed(line); content.empty() || content[0] == '#') continue;
    if (std::ranges::any_of(line, [](unsigned char c) { return c < 0x20 && c != '\t'; })) {
      fault(number, "control characters", "plain text");
      continue;
    }
    if (table.rows.empty()) table.parting = parting_of(line);
    TableRow row{number, {}};
    if (!split(line, table.parting, row.fields)) fault(number, "a quote that is not closed", "\"");
    table.rows.push_back(std::move(row));
    if (faults.size() >= 50) break;
  }
  if (faults.empty() && table.rows.empty()) fault(0, "no line at all", "a header and points");
  if (!faults.empty()) return faults;
  return table;
}

}  // namespace skewback
