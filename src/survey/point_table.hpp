#pragma once
// A survey file as a table of fields. Private to survey/.

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace skewback {

struct TableRow {
  int line = 0;
  std::vector<std::string> fields;  // trimmed, quotes taken off
};
struct PointTable {
  std::string file;
  char parting = ',';          // between fields
  std::vector<TableRow> rows;  // the header first; neither blank nor comment
};

/// Fields parted by ';' or ',' or tabs, whichever the header has first in that order. A byte order
/// mark, CR LF, lone CR, blank lines and lines that begin with # are passed over. Faults: no such
/// file, over 8 MB, not UTF-8, control characters, a quote that is not closed, no line at all.
[[nodiscard]] Result<PointTable> read_table(const std::filesystem::path& file);

}  // namespace skewback
