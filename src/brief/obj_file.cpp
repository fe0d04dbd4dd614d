#include "brief/obj_file.hpp"

#include <charconv>
#include <sstream>

#include "brief/text.hpp"

namespace skewback {
namespace {

class ObjReader {
 public:
  explicit ObjReader(const DrawingFile& file) : file_(file) {}

  Result<ObjFile> read() {
    std::istringstream in(file_.text);
    std::string line, word;
    while (std::getline(in, line)) {
      ++number_;
      std::istringstream words(line.substr(0, line.find('#')));
      if (!(words >> word)) continue;
      if (word == "v")
        vertex(words);
      else if (word == "g" || word == "o")
        group_ = rest(words);
      else if (word == "f" || word == "l" || word == "p")
        item(word.front(), words);
      if (faults_.size() > 20) break;
    }
    if (faults_.empty() && obj_.vertices.empty())
      return file_.fault(0, "", "no vertices", "an OBJ file", "");
    if (!faults_.empty()) return faults_;
    return obj_;
  }

 private:
  static std::string rest(std::istringstream& words) {
    std::string text;
    std::getline(words, text);
    return trimmed(text);
  }

  void fault(const std::string& found, const std::string& expected) {
    faults_.push_back(file_.fault(number_, group_.empty() ? "" : "group " + printable(group_),
                                  found, expected, "mend that line"));
  }

  void vertex(std::istringstream& words) {
    Vec3 at = Vec3::Zero();
    for (int k = 0; k < 3; ++k) {
      std::string word;
      words >> word;
      if (!read_number(word, at[k])) fault(in_quotes(word), "a finite coordinate");
    }
    obj_.vertices.push_back(at);
  }

  void item(char kind, std::istringstream& words) {
    ObjItem item{kind, group_, {}, number_};
    for (std::string word; words >> word;) {
      long index = 0;
      const std::string first = word.substr(0, word.find('/'));
      const auto [end, error] = std::from_chars(first.data(), first.data() + first.size(), index);
      const long count = std::ssize(obj_.vertices);
      if (index < 0) index += count + 1;  // counted from the last
      if (error != std::errc() || end != first.data() + first.size() || index < 1 || index > count)
        return fault("corner " + in_quotes(word),
                     "one of the " + std::to_string(count) + " vertices above");
      item.corners.push_back(static_cast<std::size_t>(index - 1));
    }
    const std::size_t least = kind == 'f' ? 3 : kind == 'l' ? 2 : 1;
    if (item.corners.size() < least)
      return fault(std::to_string(item.corners.size()) + " corners",
                   std::to_string(least) + " or more");
    obj_.items.push_back(std::move(item));
  }

  const DrawingFile& file_;
  int number_ = 0;
  std::string group_;
  ObjFile obj_;
  Faults faults_;
};

}  // namespace

Result<ObjFile> read_obj(const DrawingFile& file) { return ObjReader(file).read(); }

}  // namespace skewback
