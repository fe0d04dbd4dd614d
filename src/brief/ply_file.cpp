#include "brief/ply_file.hpp"

#include <bit>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <sstream>

#include "brief/text.hpp"

namespace skewback {
namespace {

struct Type {
  char kind = 'i';  // 'i' signed, 'u' unsigned, 'f' floating
  std::size_t bytes = 4;
};

std::optional<Type> type_of(const std::string& name) {
  static const std::map<std::string, Type> types = {
      {"char", {'i', 1}},  {"int8", {'i', 1}},    {"uchar", {'u', 1}},  {"uint8", {'u', 1}},
      {"short", {'i', 2}}, {"int16", {'i', 2}},   {"ushort", {'u', 2}}, {"uint16", {'u', 2}},
      {"int", {'i', 4}},   {"int32", {'i', 4}},   {"uint", {'u', 4}},   {"uint32", {'u', 4}},
      {"float", {'f', 4}}, {"float32", {'f', 4}}, {"double", {'f', 8}}, {"float64", {'f', 8}}};
  const auto it = types.find(name);
  return it == types.end() ? std::nullopt : std::optional(it->second);
}

struct Property {
  std::string name;
  Type type;
  std::optional<Type> count;  // of a list
};
struct Element {
  std::string name;
  std::size_t count = 0;
  std::vector<Property> properties;
};

class PlyReader {
 public:
  explicit PlyReader(const DrawingFile& file) : file_(file) {}

  Result<TriangleMesh3> read() {
    if (!read_header()) return bad("a file that cannot be read as one");
    for (const Element& element : elements_)
      if (element.properties.empty()) return bad("an element without properties");
    for (const Element& element : elements_)
      for (std::size_t i = 0; i < element.count; ++i)
        if (!read_one(element))
          return bad(element.name + " " + std::to_string(i + 1) +
                     " that is cut short or no number");
    for (const auto& face : faces_) {
      for (const double corner : face)
        if (corner != std::floor(corner) || corner < 0 ||
            corner >= static_cast<double>(mesh_.vertices.size()))
          return bad("a face with a corner that is not there");
      for (std::size_t k = 1; k + 1 < face.size(); ++k)
        mesh_.triangles.push_back(
            {static_cast<int>(face[0]), static_cast<int>(face[k]), static_cast<int>(face[k + 1])});
    }
    return mesh_;
  }

 private:
  [[nodiscard]] Fault bad(const std::string& found) const {
    return file_.fault(0, "PLY", found, "a mesh in PLY, ASCII or binary", "save it again");
  }

  bool line(std::istringstream& words) {
    const std::size_t end = file_.text.find('\n', at_);
    if (end == std::string::npos) return false;
    words = std::istringstream(trimmed(std::string_view(file_.text).substr(at_, end - at_)));
    at_ = end + 1;
    return true;
  }

  bool read_header() {
    std::istringstream words;
    std::string word, name;
    if (!line(words) || !(words >> word) || word != "ply") return false;
    while (line(words)) {
      if (!(words >> word) || word == "comment" || word == "obj_info") continue;
      if (word == "end_header") return !format_.empty();
      if (word == "format") {
        words >> format_;
        if (format_ != "ascii" && format_ != "binary_little_endian" &&
            format_ != "binary_big_endian")
          return false;
      } else if (word == "element") {
        Element element;
        if (!(words >> element.name >> element.count)) return false;
        elements_.push_back(std::move(element));
      } else if (word == "property") {
        if (elements_.empty() || !read_property(words)) return false;
      } else {
        return false;
      }
    }
    return false;
  }

  bool read_property(std::istringstream& words) {
    std::string type;
    Property property;
    words >> type;
    if (type == "list") {
      words >> type;
      property.count = type_of(type);
      if (!property.count) return false;
      words >> type;
    }
    const auto known = type_of(type);
    if (!known || !(words >> property.name)) return false;
    property.type = *known;
    elements_.back().properties.push_back(std::move(property));
    return true;
  }

  bool read_one(const Element& element) {
    Vec3 at = Vec3::Constant(std::nan(""));
    for (const Property& property : element.properties) {
      double count = 1;
      if (property.count && (!value(*property.count, count) || count < 0 || count > 1e6))
        return false;
      std::vector<double> values;
      for (double i = 0; i < count; ++i)
        if (!value(property.type, values.emplace_back())) return false;
      if (element.name == "vertex" && property.name.size() == 1 && !property.count)
        for (int k = 0; k < 3; ++k)
          if (property.name[0] == "xyz"[k]) at[k] = values[0];
      if (element.name == "face" && property.count && property.name.starts_with("vertex_ind"))
        faces_.push_back(std::move(values));
    }
    if (element.name == "vertex") mesh_.vertices.push_back(at);
    return element.name != "vertex" || at.allFinite();
  }

  bool value(const Type& type, double& out) {
    if (format_ == "ascii") {
      const char* const blanks = " \t\r\n";
      const std::size_t from =
          std::min(file_.text.find_first_not_of(blanks, at_), file_.text.size());
      const std::size_t end = std::min(file_.text.find_first_of(blanks, from), file_.text.size());
      at_ = end;
      return read_number(std::string_view(file_.text).substr(from, end - from), out);
    }
    if (file_.text.size() - at_ < type.bytes) return false;
    std::uint64_t bits = 0;
    for (std::size_t i = 0; i < type.bytes; ++i) {
      const std::size_t place = format_ == "binary_big_endian" ? i : type.bytes - 1 - i;
      bits = bits << 8 | static_cast<unsigned char>(file_.text[at_ + place]);
    }
    at_ += type.bytes;
    if (type.kind == 'f')
      out = type.bytes == 8 ? std::bit_cast<double>(bits)
                            : std::bit_cast<float>(static_cast<std::uint32_t>(bits));
    else
      out = static_cast<double>(bits);
    const double span = std::ldexp(1, static_cast<int>(8 * type.bytes));
    if (type.kind == 'i' && out >= span / 2) out -= span;
    return std::isfinite(out);
  }

  const DrawingFile& file_;
  std::size_t at_ = 0;
  std::string format_;
  std::vector<Element> elements_;
  std::vector<std::vector<double>> faces_;
  TriangleMesh3 mesh_;
};

}  // namespace

Result<TriangleMesh3> read_ply(const DrawingFile& file) { return PlyReader(file).read(); }

}  // namespace skewback
