#include "survey/points.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "brief/drawing.hpp"
#include "brief/text.hpp"
#include "survey/point_table.hpp"

namespace skewback {
namespace {

constexpr std::size_t kMostFaults = 50;
constexpr double kFarthest = 1e8;     // m: of a coordinate, as for site.origin
constexpr double kWorstAccuracy = 1;  // m

const char* const kHeader =
    "\"mark, east_m, north_m, level_m\" or \"mark, x_m, y_m, z_m\", and \"accuracy_mm\" if it is "
    "known; units m, mm, cm or ft";

/// "East [m]" is "east_m".
std::string column_name(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool upper = c >= 'A' && c <= 'Z';
    const bool plain = upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain)
      out += upper ? static_cast<char>(c - 'A' + 'a') : c;
    else if (!out.empty() && out.back() != '_')
      out += '_';
  }
  while (!out.empty() && out.back() == '_') out.pop_back();
  return out;
}

std::string single_blanks(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if ((c == ' ' || c == '\t') && (out.empty() || out.back() == ' ')) continue;
    out += c == '\t' ? ' ' : c;
  }
  return trimmed(out);
}

struct Column {
  int index = -1;
  double unit_m = 1;
};
struct Columns {
  Column mark, accuracy;
  std::array<Column, 3> at;
  bool site = false;
};

class Reader {
 public:
  Reader(PointTable table, const SiteGrid& site, const std::vector<Mark>& marks, double accuracy_m)
      : table_(std::move(table)), site_(site), accuracy_m_(accuracy_m) {
    for (const Mark& mark : marks) {
      if (known_.insert(mark.name).second) names_.push_back(mark.name);
    }
  }

  Result<PointFile> read() {
    read_header();
    if (!faults_.empty()) return faults_;
    for (std::size_t i = 1; i < table_.rows.size(); ++i) {
      if (faults_.size() >= kMostFaults) {
        fault(table_.rows[i].line, "", "too many faults", "", "mend those first");
        break;
      }
      read_row(table_.rows[i]);
    }
    if (faults_.empty() && out_.points.empty())
      fault(table_.rows[0].line, "", "a header and no points", "a line for each point", "");
    if (!faults_.empty()) return faults_;
    out_.file = table_.file;
    out_.site_axes = columns_.site;
    return out_;
  }

 private:
  void fault(int line, const std::string& key, const std::string& found,
             const std::string& expected, const std::string& change) {
    faults_.push_back({.file = table_.file,
                       .line = line,
                       .key = key,
                       .found = found,
                       .expected = expected,
                       .change = change});
  }

  void bad_header(const std::string& found, const std::string& change) {
    fault(table_.rows[0].line, "header", found, kHeader, change);
  }

  /// The column's unit, off the end of its name; nothing after a fault.
  std::optional<double> unit_of(const std::string& written, const std::string& unit) {
    if (unit.empty()) {
      bad_header("no unit in column " + in_quotes(written), "write \"" + written + "_m\"");
      return std::nullopt;
    }
    const double metres = unit == "in" ? 0 : unit_in_metres(unit);
    if (metres > 0) return metres;
    bad_header("unit " + in_quotes(unit) + " in column " + in_quotes(written), "");
    return std::nullopt;
  }

  void take(Column& column, const std::string& written, int index, double unit_m) {
    if (column.index >= 0) bad_header("column " + in_quotes(written) + " twice", "");
    column = {index, unit_m};
  }

  void read_column(int index, const std::string& written) {
    static const std::vector<std::string> known = {"mark", "east", "north", "level",
                                                   "x",    "y",    "z",     "accuracy"};
    const std::string name = column_name(written);
    if (name.starts_with("remark")) return;
    if (name == "mark") return take(columns_.mark, written, index, 1);
    const std::size_t cut = name.find('_');
    const std::string word = name.substr(0, cut);
    const auto at = std::ranges::find(known, word);
    if (at == known.end() || word == "mark") {
      const std::string near = nearest_word(word, known);
      return bad_header("column " + in_quotes(written),
                        near.empty() ? "leave it out, or begin its name with \"remark\""
                                     : "is it \"" + near + "\"?");
    }
    const auto unit =
        unit_of(written, cut == std::string::npos ? std::string() : name.substr(cut + 1));
    const double metres = unit.value_or(1);
    if (word == "accuracy") return take(columns_.accuracy, written, index, metres);
    const long place = at - known.begin() - 1;
    (place < 3 ? site_columns_ : bridge_columns_) += 1;
    take((place < 3 ? of_site_ : of_bridge_)[static_cast<std::size_t>(place % 3)], written, index,
         metres);
  }

  void read_header() {
    const TableRow& header = table_.rows[0];
    for (int i = 0; i < static_cast<int>(header.fields.size()); ++i)
      read_column(i, header.fields[static_cast<std::size_t>(i)]);
    if (!faults_.empty()) return;
    if (columns_.mark.index < 0) bad_header("no column \"mark\"", "");
    if (site_columns_ > 0 && bridge_columns_ > 0)
      bad_header("axes of the site and of the bridge", "keep one of them");
    columns_.site = site_columns_ > 0;
    columns_.at = columns_.site ? of_site_ : of_bridge_;
    if (faults_.empty() && std::max(site_columns_, bridge_columns_) < 3)
      bad_header("not all three coordinates", "");
  }

  /// A finite number of metres; says what is wrong with it.
  std::optional<double> number(const TableRow& row, const Column& column, const char* what) {
    const std::string& text = row.fields[static_cast<std::size_t>(column.index)];
    double value = 0;
    if (!text.empty() && read_number(text, value)) return value * column.unit_m;
    std::string dotted = text;
    const std::size_t comma = dotted.find(',');
    if (comma != std::string::npos) dotted[comma] = '.';
    if (comma != std::string::npos && read_number(dotted, value))
      fault(row.line, what, "a decimal comma, " + in_quotes(text), "a decimal point",
            "write " + dotted);
    else
      fault(row.line, what, in_quotes(text), "a number, without unit", "");
    return std::nullopt;
  }

  bool known_mark(const TableRow& row, const std::string& name) {
    if (known_.contains(name)) return true;
    const std::string near = nearest_word(name, names_);
    fault(row.line, "mark", in_quotes(name), "a mark of the bridge",
          near.empty() ? "see the list of marks" : "is it \"" + near + "\"?");
    return false;
  }

  bool fields_fit(const TableRow& row) {
    const std::size_t want = table_.rows[0].fields.size(), have = row.fields.size();
    if (have == want) return true;
    std::string change;
    if (have > want && table_.parting == ',')
      change = "decimal commas? write decimal points, or part the fields by \";\"";
    fault(row.line, "", std::to_string(have) + " fields",
          std::to_string(want) + " as in the header", change);
    return false;
  }

  void read_row(const TableRow& row) {
    if (!fields_fit(row)) return;
    MeasuredPoint point{
        .mark = single_blanks(row.fields[static_cast<std::size_t>(columns_.mark.index)]),
        .accuracy_m = accuracy_m_,
        .line = row.line};
    bool sound = known_mark(row, point.mark);
    const auto [earlier, first] = lines_.emplace(point.mark, row.line);
    if (sound && !first) {
      fault(row.line, "mark", in_quotes(point.mark) + " again",
            "once; it is on line " + std::to_string(earlier->second) + " too", "keep one of them");
      sound = false;
    }
    static const std::array<const char*, 6> words = {"east", "north", "level", "x", "y", "z"};
    for (std::size_t k = 0; k < 3; ++k) {
      const char* what = words[columns_.site ? k : k + 3];
      const auto value = number(row, columns_.at[k], what);
      sound = sound && value;
      if (!value) continue;
      point.at[static_cast<long>(k)] = *value;
      if (std::abs(*value) <= kFarthest) continue;
      fault(row.line, what, skewback::number(*value) + " m", "within 1e8 m", "");
      sound = false;
    }
    sound = read_accuracy(row, point) && sound;
    if (!sound) return;
    if (columns_.site) point.at = from_site(site_, point.at);
    out_.points.push_back(std::move(point));
  }

  bool read_accuracy(const TableRow& row, MeasuredPoint& point) {
    const Column& column = columns_.accuracy;
    if (column.index < 0 || row.fields[static_cast<std::size_t>(column.index)].empty()) return true;
    const auto value = number(row, column, "accuracy");
    if (!value) return false;
    point.accuracy_m = *value;
    if (*value > 0 && *value <= kWorstAccuracy) return true;
    fault(row.line, "accuracy", skewback::number(*value) + " m", "over 0 and up to 1 m",
          "leave it empty where it is not known");
    return false;
  }

  PointTable table_;
  const SiteGrid& site_;
  double accuracy_m_;
  std::set<std::string> known_;
  std::vector<std::string> names_;
  std::map<std::string, int> lines_;
  Columns columns_;
  std::array<Column, 3> of_site_, of_bridge_;
  int site_columns_ = 0, bridge_columns_ = 0;
  Faults faults_;
  PointFile out_;
};

}  // namespace

std::optional<Fault> no_points(const std::filesystem::path& file) {
  std::error_code error;
  if (std::filesystem::exists(file, error)) return std::nullopt;
  return read_table(file).faults().front();
}

Result<PointFile> read_points(const std::filesystem::path& file, const SiteGrid& site,
                              const std::vector<Mark>& marks, double accuracy_m) {
  Result<PointTable> table = read_table(file);
  if (!table) return table.faults();
  return Reader(std::move(table).value(), site, marks, accuracy_m).read();
}

}  // namespace skewback
