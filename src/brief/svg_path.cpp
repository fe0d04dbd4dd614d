#include "brief/svg_path.hpp"

#include <charconv>
#include <cmath>
#include <map>
#include <string>

#include "base/constants.hpp"
#include "brief/curves.hpp"

namespace skewback {
namespace {

class Scanner {
 public:
  explicit Scanner(std::string_view text) : rest_(text) {}

  void skip(bool commas) {
    while (!rest_.empty() &&
           (rest_.front() == ' ' || rest_.front() == '\t' || rest_.front() == '\n' ||
            rest_.front() == '\r' || (commas && rest_.front() == ',')))
      rest_.remove_prefix(1);
  }
  [[nodiscard]] bool done() {
    skip(true);
    return rest_.empty();
  }
  [[nodiscard]] char peek() {
    skip(true);
    return rest_.empty() ? '\0' : rest_.front();
  }
  char take() {
    const char c = rest_.front();
    rest_.remove_prefix(1);
    return c;
  }
  bool number(double& out) {
    skip(true);
    std::string_view text = rest_;
    if (text.starts_with('+')) text.remove_prefix(1);
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
    if (error != std::errc() || !std::isfinite(out)) return false;
    rest_ = text.substr(static_cast<std::size_t>(end - text.data()));
    return true;
  }
  bool flag(bool& out) {  // flags of an arc may stand without a blank: "01"
    const char c = peek();
    if (c != '0' && c != '1') return false;
    out = take() == '1';
    return true;
  }
  std::string_view until(char stop) {
    const std::size_t end = std::min(rest_.find(stop), rest_.size());
    const std::string_view text = rest_.substr(0, end);
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    return text;
  }

 private:
  std::string_view rest_;
};

class PathReader {
 public:
  PathReader(std::string_view data, double chord) : in_(data), chord_(chord) {}

  std::optional<std::vector<SvgPart>> read() {
    char command = '\0';
    while (!in_.done()) {
      const char c = in_.peek();
      if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')) {
        command = in_.take();
        if (parts_.empty() && command != 'M' && command != 'm') return std::nullopt;
      } else if (command == '\0' || command == 'Z' || command == 'z') {
        return std::nullopt;
      }
      if (!step(command)) return std::nullopt;
      if (command == 'M') command = 'L';  // further pairs are lines
      if (command == 'm') command = 'l';
    }
    return parts_;
  }

 private:
  bool step(char command) {
    relative_ = command >= 'a';
    const char upper = relative_ ? static_cast<char>(command - 'a' + 'A') : command;
    const char before = last_;
    last_ = upper;
    switch (upper) {
      case 'M':
        return move();
      case 'Z':
        parts_.back().closed = true;
        at_ = start_;
        return true;
      case 'L':
        return line();
      case 'H':
      case 'V':
        return level(upper == 'H' ? 0 : 1);
      case 'C':
      case 'S':
        return cubic(upper == 'S', before == 'C' || before == 'S');
      case 'Q':
      case 'T':
        return quadratic(upper == 'T', before == 'Q' || before == 'T');
      case 'A':
        return arc();
      default:
        return false;
    }
  }

  bool point(Vec2& out) {
    if (!in_.number(out.x()) || !in_.number(out.y())) return false;
    if (relative_) out += at_;
    return true;
  }

  // After "close path" the next part starts at the same place.
  std::vector<Vec2>& open() {
    if (parts_.back().closed) parts_.push_back({{at_}, false});
    return parts_.back().line;
  }

  bool move() {
    Vec2 to;
    if (!point(to)) return false;
    start_ = at_ = to;
    parts_.push_back({{to}, false});
    return true;
  }

  bool line() {
    Vec2 to;
    if (!point(to)) return false;
    open().push_back(to);
    at_ = to;
    return true;
  }

  bool level(int axis) {
    Vec2 to = at_;
    double value = 0;
    if (!in_.number(value)) return false;
    to[axis] = relative_ ? at_[axis] + value : value;
    open().push_back(to);
    at_ = to;
    return true;
  }

  bool cubic(bool smooth, bool continues) {
    Vec2 b = continues ? Vec2(2 * at_ - control_) : at_, c, d;
    if ((!smooth && !point(b)) || !point(c) || !point(d)) return false;
    append_cubic(open(), b, c, d, chord_);
    control_ = c;
    at_ = d;
    return true;
  }

  bool quadratic(bool smooth, bool continues) {
    Vec2 b = continues ? Vec2(2 * at_ - control_) : at_, d;
    if ((!smooth && !point(b)) || !point(d)) return false;
    append_cubic(open(), (at_ + 2 * b) / 3, (d + 2 * b) / 3, d, chord_);
    control_ = b;
    at_ = d;
    return true;
  }

  // From end points to centre: SVG 1.1, appendix F.6.5 and F.6.6.
  bool arc() {
    double rx = 0, ry = 0, turn = 0;
    bool large = false, sweep = false;
    Vec2 to;
    if (!in_.number(rx) || !in_.number(ry) || !in_.number(turn) || !in_.flag(large) ||
        !in_.flag(sweep) || !point(to))
      return false;
    std::vector<Vec2>& line = open();
    rx = std::abs(rx), ry = std::abs(ry);
    if (rx == 0 || ry == 0 || to == at_) {
      if (to != at_) line.push_back(to);
      at_ = to;
      return true;
    }
    const Eigen::Rotation2Dd turned(turn * kPi / 180);
    const Vec2 half = turned.inverse() * Vec2((at_ - to) / 2);
    const double need = std::hypot(half.x() / rx, half.y() / ry);
    if (need > 1) rx *= need, ry *= need;
    const double cross = std::pow(half.x() / rx, 2) + std::pow(half.y() / ry, 2);
    const double length = std::sqrt(std::max(0.0, 1 / cross - 1)) * (large == sweep ? -1 : 1);
    const Vec2 centre_turned(length * rx * half.y() / ry, -length * ry * half.x() / rx);
    const Vec2 centre = turned * centre_turned + (at_ + to) / 2;
    const Vec2 from((half.x() - centre_turned.x()) / rx, (half.y() - centre_turned.y()) / ry),
        end((-half.x() - centre_turned.x()) / rx, (-half.y() - centre_turned.y()) / ry);
    const double first = std::atan2(from.y(), from.x());
    double angle = std::atan2(end.y(), end.x()) - first;
    if (sweep && angle < 0) angle += 2 * kPi;
    if (!sweep && angle > 0) angle -= 2 * kPi;
    std::vector<Vec2> unit;
    append_arc(unit, Vec2::Zero(), 1, first, angle, chord_ / std::max(rx, ry));
    for (const Vec2& p : unit) line.push_back(centre + turned * Vec2(rx * p.x(), ry * p.y()));
    line.back() = at_ = to;
    return true;
  }

  Scanner in_;
  double chord_;
  bool relative_ = false;
  char last_ = '\0';
  Vec2 at_ = Vec2::Zero(), start_ = Vec2::Zero(), control_ = Vec2::Zero();
  std::vector<SvgPart> parts_;
};

}  // namespace

std::optional<std::vector<SvgPart>> svg_path(std::string_view data, double chord) {
  return PathReader(data, chord).read();
}

std::optional<std::vector<double>> svg_numbers(std::string_view text) {
  Scanner in(text);
  std::vector<double> numbers;
  while (!in.done())
    if (!in.number(numbers.emplace_back())) return std::nullopt;
  return numbers;
}

std::optional<Eigen::Affine2d> svg_transform(std::string_view text) {
  Eigen::Affine2d whole = Eigen::Affine2d::Identity();
  Scanner in(text);
  while (!in.done()) {
    std::string name(in.until('('));
    while (!name.empty() && name.back() == ' ') name.pop_back();
    const auto n = svg_numbers(in.until(')'));
    if (!n || n->empty()) return std::nullopt;
    const std::vector<double>& v = *n;
    Eigen::Affine2d one = Eigen::Affine2d::Identity();
    const double t = v[0] * kPi / 180;
    if (name == "matrix" && v.size() == 6) {
      one.linear() << v[0], v[2], v[1], v[3];
      one.translation() << v[4], v[5];
    } else if (name == "translate" && v.size() <= 2) {
      one.translation() << v[0], (v.size() > 1 ? v[1] : 0);
    } else if (name == "scale" && v.size() <= 2) {
      one.linear() << v[0], 0, 0, (v.size() > 1 ? v[1] : v[0]);
    } else if (name == "rotate" && (v.size() == 1 || v.size() == 3)) {
      const Vec2 about = v.size() == 3 ? Vec2(v[1], v[2]) : Vec2(0, 0);
      one = Eigen::Translation2d(about) * Eigen::Rotation2Dd(t) * Eigen::Translation2d(-about);
    } else if (name == "skewX" && v.size() == 1) {
      one.linear() << 1, std::tan(t), 0, 1;
    } else if (name == "skewY" && v.size() == 1) {
      one.linear() << 1, 0, std::tan(t), 1;
    } else {
      return std::nullopt;
    }
    whole = whole * one;
  }
  return whole;
}

double svg_length_m(std::string_view text) {
  static const std::map<std::string_view, double> units = {{"mm", 1e-3},       {"cm", 1e-2},
                                                           {"in", 0.0254},     {"pt", 0.0254 / 72},
                                                           {"pc", 0.0254 / 6}, {"Q", 0.25e-3}};
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || !(value > 0)) return 0;
  const auto it = units.find(text.substr(static_cast<std::size_t>(end - text.data())));
  return it == units.end() ? 0 : value * it->second;
}

}  // namespace skewback
