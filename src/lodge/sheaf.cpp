#include "lodge/sheaf.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <stdexcept>

namespace skewback::lodge {
namespace {

void put_u32(std::string& bytes, std::uint32_t number) {
  for (int shift = 0; shift < 32; shift += 8)
    bytes += static_cast<char>(static_cast<unsigned char>(number >> shift));
}

void pad(std::string& bytes) { bytes.resize((bytes.size() + 7) / 8 * 8, '\0'); }

// Little end first whatever the machine.
template <class Number>
std::string raw_of(const std::vector<Number>& numbers) {
  static_assert(sizeof(Number) == 4);
  std::string raw;
  raw.reserve(numbers.size() * 4);
  for (const Number number : numbers) put_u32(raw, std::bit_cast<std::uint32_t>(number));
  return raw;
}

}  // namespace

void Sheaf::keep(Array array) {
  const auto same = [&](const Array& other) { return other.name == array.name; };
  if (std::any_of(arrays_.begin(), arrays_.end(), same))
    throw std::logic_error("sheaf: two arrays \"" + array.name + "\"");
  if (array.width < 1 || array.count % static_cast<std::size_t>(array.width) != 0)
    throw std::logic_error("sheaf: \"" + array.name + "\" is not whole rows");
  arrays_.push_back(std::move(array));
}

void Sheaf::add(const std::string& name, std::vector<float> numbers, int width) {
  keep({name, "f32", raw_of(numbers), numbers.size(), width});
}
void Sheaf::add(const std::string& name, std::vector<std::uint32_t> numbers, int width) {
  keep({name, "u32", raw_of(numbers), numbers.size(), width});
}
void Sheaf::add(const std::string& name, std::vector<std::int32_t> numbers, int width) {
  keep({name, "i32", raw_of(numbers), numbers.size(), width});
}

std::string Sheaf::bytes() const {
  nlohmann::ordered_json whole = head.is_null() ? nlohmann::ordered_json::object() : head;
  nlohmann::ordered_json listed = nlohmann::ordered_json::object();
  std::string arrays;
  for (const Array& array : arrays_) {
    listed[array.name] = {{"type", array.type},
                          {"at", arrays.size()},
                          {"count", array.count},
                          {"width", array.width}};
    arrays += array.raw;
    pad(arrays);
  }
  whole["arrays"] = std::move(listed);
  // a name in bytes that are not UTF-8 is shown with marks, never thrown over
  const std::string text =
      whole.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);

  std::string bytes = "SKB1";
  put_u32(bytes, static_cast<std::uint32_t>(text.size()));
  bytes += text;
  pad(bytes);
  return bytes + arrays;
}

}  // namespace skewback::lodge
