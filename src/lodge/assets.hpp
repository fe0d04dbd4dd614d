#pragma once
// The built page, which is inside the program.

#include <string>
#include <string_view>
#include <vector>

#include "lodge/routes.hpp"

namespace skewback::lodge {

struct Asset {
  std::string name;  // "index.html", "assets/index.js"
  std::string_view bytes;
};
/// By name. Empty: built without the page (-DSKEWBACK_PAGE=OFF).
[[nodiscard]] std::vector<Asset> built_page();

/// Answers what is not under /api.
class Pages {
 public:
  /// `token`: put into the pages; empty: they get none.
  Pages(std::vector<Asset> assets, std::string token);
  [[nodiscard]] Reply reply(const Request& request) const;
  /// The page for viewing only, which the bridge is written into; empty if it is not there.
  [[nodiscard]] std::string_view for_viewing() const;

 private:
  struct Part {
    Asset asset;
    std::string tag;
  };
  [[nodiscard]] const Part* find(std::string_view name) const;
  [[nodiscard]] Reply page(const Part& part) const;
  std::vector<Part> parts_;
  std::string token_;
};

}  // namespace skewback::lodge
