#include "lodge/export_page.hpp"

#include <zlib.h>

#include <array>
#include <cstdint>
#include <stdexcept>
#include <string_view>

#include "deliver/text.hpp"

namespace skewback::lodge {
namespace {

constexpr std::string_view kMark = "<!--SHEAVES-->", kBodyEnd = "</body>";
constexpr std::string_view kLetters =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
constexpr std::string_view kHex = "0123456789ABCDEF";

bool plain(unsigned char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
         std::string_view("-_.!~*'()").find(static_cast<char>(c)) != std::string_view::npos;
}

std::string element(const PagePart& part) {
  const bool sheaf = part.kind == PagePart::Kind::kSheaf;
  return std::string("<script type=\"") +
         (sheaf ? "application/octet-stream\" data-packed=\"planes gzip\" data-sheaf=\""
                : "application/json\" data-json=\"") +
         deliver::xml_text(part.key) + "\">" +
         (sheaf ? base64(packed(part.bytes)) : json_in_script(part.bytes)) + "</script>\n";
}

}  // namespace

std::string packed(const std::string& bytes) {
  std::string planes;
  planes.reserve(bytes.size());
  for (std::size_t first = 0; first < 4; ++first)
    for (std::size_t i = first; i < bytes.size(); i += 4) planes += bytes[i];
  constexpr int kGzip = 15 + 16, kMemory = 8;  // window and format, as zlib.h has it
  z_stream stream{};
  if (deflateInit2(&stream, Z_BEST_COMPRESSION, Z_DEFLATED, kGzip, kMemory, Z_DEFAULT_STRATEGY) !=
      Z_OK)
    throw std::runtime_error("zlib does not begin");
  std::string out(deflateBound(&stream, planes.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(planes.data());
  stream.avail_in = static_cast<uInt>(planes.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const int end = deflate(&stream, Z_FINISH);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  if (end != Z_STREAM_END) throw std::runtime_error("zlib does not end");
  return out;
}

std::string base64(const std::string& bytes) {
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto at = [&](std::size_t k) -> std::uint32_t {
      return i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0;
    };
    const std::uint32_t three = at(0) << 16 | at(1) << 8 | at(2);
    for (std::size_t k = 0; k < 4; ++k)
      out += i + k <= bytes.size() ? kLetters[three >> (18 - 6 * k) & 63] : '=';
  }
  return out;
}

std::string percent(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    if (plain(u)) {
      out += c;
    } else {
      out += {'%', kHex[u >> 4], kHex[u & 15]};
    }
  }
  return out;
}

std::string json_in_script(const std::string& json) {
  std::string out;
  out.reserve(json.size());
  for (std::size_t i = 0; i < json.size(); ++i) {
    const std::string_view three = std::string_view(json).substr(i, 3);
    if (json[i] == '<') {
      out += "\\u003c";
    } else if (json[i] == '>') {
      out += "\\u003e";
    } else if (json[i] == '&') {
      out += "\\u0026";
    } else if (three == "\u2028" || three == "\u2029") {
      out += three == "\u2028" ? "\\u2028" : "\\u2029";
      i += 2;
    } else {
      out += json[i];
    }
  }
  return out;
}

std::string fill_page(const std::string& page, const std::vector<PagePart>& parts) {
  std::string elements;
  for (const PagePart& part : parts) elements += element(part);
  if (const auto mark = page.rfind(kMark); mark != std::string::npos)
    return page.substr(0, mark) + elements + page.substr(mark + kMark.size());
  const auto end = page.rfind(kBodyEnd);
  return end == std::string::npos ? page + elements
                                  : page.substr(0, end) + elements + page.substr(end);
}

}  // namespace skewback::lodge
