#pragma once
// Remarks of a stage on the page: a short one is a bullet, a long list in one becomes lines that
// can be read.

#include <optional>
#include <string>
#include <vector>

#include "deliver/pages.hpp"

namespace skewback::deliver {

/// "Ribs that tip: R1 (at step 3), R2 (at step 3), R4. Tie them down." taken apart.
struct ListRemark {
  std::string lead, tail;  // before the colon; from the full stop or semicolon behind the list
  struct Group {
    std::string note;  // what stood in brackets behind each; may be empty
    std::vector<std::string> names;
  };
  std::vector<Group> groups;  // in the order in which their notes are first met
  std::size_t count = 0;      // of names
};
/// None: it is no list of names of one word each, or one of fewer than eight.
[[nodiscard]] std::optional<ListRemark> list_remark(const std::string& text);

/// "R1-2", "R1-3", "R1-4", "R2-1" as "R1-2 to R1-4", "R2-1": runs of three and more. Names end in
/// their number; in the order of what is before it, then of the number.
[[nodiscard]] std::vector<std::string> in_runs(std::vector<std::string> names);

void add_remark(Pages& pages, const std::string& text);

}  // namespace skewback::deliver
