#include "deliver/sheet.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string hex(Colour c) {
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string out = "#";
  for (const unsigned v : {c.r, c.g, c.b}) {
    out += kDigits[v / 16];
    out += kDigits[v % 16];
  }
  return out;
}

std::string mm(double value) { return fixed(value, 3); }

std::string element(const Shape& shape) {
  std::string d;
  for (const auto& ring : shape.rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      d += (i == 0 ? "M" : "L") + mm(ring[i].x()) + " " + mm(ring[i].y());
    }
    if (shape.is_closed) d += "Z";
  }
  const Pen& pen = shape.pen;
  std::string out = "<path d=\"" + d + "\" fill=\"" + (pen.fill ? hex(*pen.fill) : "none") + "\"";
  if (pen.fill && shape.rings.size() > 1) out += " fill-rule=\"evenodd\"";
  if (pen.fill && pen.opacity < 1) out += " fill-opacity=\"" + fixed(pen.opacity, 2) + "\"";
  if (pen.line) {
    out += " stroke=\"" + hex(*pen.line) + "\" stroke-width=\"" + mm(pen.width_mm) +
           "\" stroke-linejoin=\"round\"";
    if (pen.dash_mm > 0) out += " stroke-dasharray=\"" + mm(pen.dash_mm) + "\"";
  }
  return out + "/>\n";
}

std::string element(const Words& words) {
  static constexpr const char* kAnchors[] = {"start", "middle", "end"};
  const std::string common = "<text x=\"" + mm(words.at.x()) + "\" y=\"" + mm(words.at.y()) +
                             "\" font-size=\"" + mm(words.size_mm) + "\" text-anchor=\"" +
                             kAnchors[static_cast<int>(words.anchor)] + "\"" +
                             (words.bold ? " font-weight=\"bold\"" : "");
  const std::string halo = words.halo
                               ? " stroke=\"#ffffff\" stroke-width=\"" + mm(0.25 * words.size_mm) +
                                     "\" stroke-linejoin=\"round\" paint-order=\"stroke\""
                               : "";
  const std::string turn = words.turn_deg != 0
                               ? " transform=\"rotate(" + fixed(words.turn_deg, 2) + " " +
                                     mm(words.at.x()) + " " + mm(words.at.y()) + ")\""
                               : "";
  return common + turn + " fill=\"" + hex(words.colour) + "\"" + halo + ">" + xml_text(words.text) +
         "</text>\n";
}

}  // namespace

std::string svg(const Sheet& sheet) {
  const std::string w = mm(sheet.width_mm), h = mm(sheet.height_mm);
  std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  out += "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + w + "mm\" height=\"" + h +
         "mm\" viewBox=\"0 0 " + w + " " + h + "\" font-family=\"DejaVu Sans, sans-serif\">\n";
  out += "<title>" + xml_text(sheet.title) + "</title>\n";
  out += "<rect width=\"" + w + "\" height=\"" + h + "\" fill=\"#ffffff\"/>\n";
  for (const auto& item : sheet.items) {
    out += std::visit([](const auto& it) { return element(it); }, item);
  }
  return out + "</svg>\n";
}

}  // namespace skewback::deliver
