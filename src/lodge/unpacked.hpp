#pragma once
// For tests only: a sheaf read from its bytes by the page of docs/lodge.md alone.

#include <bit>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

namespace skewback::lodge {

struct Unpacked {
  nlohmann::ordered_json head;
  std::string arrays;

  [[nodiscard]] bool has(const std::string& name) const { return head.at("arrays").contains(name); }
  [[nodiscard]] std::size_t rows(const std::string& name) const {
    const auto& array = head.at("arrays").at(name);
    return array.at("count").get<std::size_t>() / array.at("width").get<std::size_t>();
  }
  [[nodiscard]] std::vector<float> f32(const std::string& name) const {
    std::vector<float> out;
    for (const std::uint32_t bits : raw(name, "f32")) out.push_back(std::bit_cast<float>(bits));
    return out;
  }
  [[nodiscard]] std::vector<std::uint32_t> u32(const std::string& name) const {
    return raw(name, "u32");
  }
  [[nodiscard]] std::vector<std::int32_t> i32(const std::string& name) const {
    std::vector<std::int32_t> out;
    for (const std::uint32_t bits : raw(name, "i32"))
      out.push_back(std::bit_cast<std::int32_t>(bits));
    return out;
  }

 private:
  [[nodiscard]] std::vector<std::uint32_t> raw(const std::string& name, const char* type) const {
    const auto& array = head.at("arrays").at(name);
    if (array.at("type") != type) throw std::runtime_error(name + " is not " + type);
    const auto from = array.at("at").get<std::size_t>(), n = array.at("count").get<std::size_t>();
    if (from % 8 != 0 || from + 4 * n > arrays.size())
      throw std::runtime_error(name + " is cut off");
    std::vector<std::uint32_t> out;
    for (std::size_t i = 0; i < n; ++i) {
      std::uint32_t number = 0;
      for (std::size_t k = 0; k < 4; ++k)
        number |= static_cast<std::uint32_t>(static_cast<unsigned char>(arrays[from + 4 * i + k]))
                  << (8 * k);
      out.push_back(number);
    }
    return out;
  }
};

inline Unpacked unpack(const std::string& bytes) {
  if (bytes.size() < 8 || bytes.compare(0, 4, "SKB1") != 0) throw std::runtime_error("no sheaf");
  std::size_t length = 0;
  for (std::size_t k = 0; k < 4; ++k)
    length |= static_cast<std::size_t>(static_cast<unsigned char>(bytes[4 + k])) << (8 * k);
  const std::size_t arrays = (8 + length + 7) / 8 * 8;
  if (bytes.size() < arrays) throw std::runtime_error("head is cut off");
  for (std::size_t i = 8 + length; i < arrays; ++i)
    if (bytes[i] != 0) throw std::runtime_error("head is not followed by zeroes");
  return {nlohmann::ordered_json::parse(bytes.substr(8, length)), bytes.substr(arrays)};
}

}  // namespace skewback::lodge
