#pragma once
// Arrays of numbers with a head of JSON, as they go to the page (format: docs/lodge.md).

#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace skewback::lodge {

class Sheaf {
 public:
  nlohmann::ordered_json head;

  /// `width` numbers a row. The same name twice is a bug: throws std::logic_error.
  void add(const std::string& name, std::vector<float> numbers, int width = 1);
  void add(const std::string& name, std::vector<std::uint32_t> numbers, int width = 1);
  void add(const std::string& name, std::vector<std::int32_t> numbers, int width = 1);

  /// Same sheaf, same bytes.
  [[nodiscard]] std::string bytes() const;

 private:
  struct Array {
    std::string name, type, raw;
    std::size_t count = 0;
    int width = 1;
  };
  void keep(Array array);
  std::vector<Array> arrays_;
};

}  // namespace skewback::lodge
