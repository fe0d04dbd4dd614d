#include "deliver/dxf.hpp"

#include "base/constants.hpp"
#include "deliver/sheet.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

/// Pairs of a group code and a value, a line each.
class Groups {
 public:
  void add(int code, const std::string& value) {
    text_ += std::to_string(code) + "\r\n" + value + "\r\n";
  }
  void add(int code, int value) { add(code, std::to_string(value)); }
  void add(int code, double value) { add(code, fixed(value, 4)); }
  void point(const Vec2& p, int code = 10) {
    add(code, p.x());
    add(code + 10, p.y());
    add(code + 20, 0.0);
  }
  void begin(const char* section) {
    add(0, "SECTION");
    add(2, section);
  }
  void end() { add(0, "ENDSEC"); }
  void table(const char* name, int entries) {
    add(0, "TABLE");
    add(2, name);
    add(70, entries);
  }
  void entity(const char* kind, const std::string& layer) {
    add(0, kind);
    add(8, layer);
  }
  std::string text() && { return std::move(text_); }

 private:
  std::string text_;
};

std::string ascii(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0U) == 0x80U) continue;  // the rest of a letter of several bytes
    out += byte >= 32 && byte < 127 ? c : '?';
  }
  return out;
}

void add_header(Groups& out, const DxfDrawing& drawing) {
  Extent extent;
  for (const DxfLine& line : drawing.lines) {
    for (const Vec2& p : line.points) extent.add(p);
  }
  if (extent.empty()) extent.add(Vec2::Zero());
  out.begin("HEADER");
  out.add(9, "$ACADVER");
  out.add(1, "AC1009");
  out.add(9, "$INSUNITS");
  out.add(70, 4);  // millimetres
  out.add(9, "$EXTMIN");
  out.point(extent.low);
  out.add(9, "$EXTMAX");
  out.point(extent.high);
  out.end();
}

void add_tables(Groups& out, const DxfDrawing& drawing) {
  out.begin("TABLES");
  out.table("LTYPE", 1);
  out.add(0, "LTYPE");
  out.add(2, "CONTINUOUS");
  out.add(70, 0);
  out.add(3, "Solid line");
  out.add(72, 65);
  out.add(73, 0);
  out.add(40, 0.0);
  out.add(0, "ENDTAB");
  out.table("LAYER", static_cast<int>(drawing.layers.size()) + 1);
  const auto layer = [&](const std::string& name, int colour) {
    out.add(0, "LAYER");
    out.add(2, name);
    out.add(70, 0);
    out.add(62, colour);
    out.add(6, "CONTINUOUS");
  };
  layer("0", 7);
  for (const DxfLayer& l : drawing.layers) layer(l.name, l.colour);
  out.add(0, "ENDTAB");
  out.table("STYLE", 1);
  out.add(0, "STYLE");
  out.add(2, "STANDARD");
  out.add(70, 0);
  out.add(40, 0.0);
  out.add(41, 1.0);
  out.add(50, 0.0);
  out.add(71, 0);
  out.add(42, 5.0);
  out.add(3, "txt");
  out.add(4, "");
  out.add(0, "ENDTAB");
  out.end();
}

void add_line(Groups& out, const std::string& layer, const DxfLine& line) {
  out.entity("POLYLINE", layer);
  out.add(66, 1);
  out.point(Vec2::Zero());
  out.add(70, line.is_closed ? 1 : 0);
  for (const Vec2& p : line.points) {
    out.entity("VERTEX", layer);
    out.point(p);
  }
  out.entity("SEQEND", layer);
}

void add_words(Groups& out, const std::string& layer, const DxfWords& words) {
  out.entity("TEXT", layer);
  out.point(words.at);
  out.add(40, words.height_mm);
  out.add(1, ascii(words.text));
  out.add(50, words.turn_rad * 180 / kPi);
  if (!words.is_centred) return;
  out.add(72, 1);
  out.point(words.at, 11);
}

}  // namespace

std::string dxf(const DxfDrawing& drawing) {
  Groups out;
  const auto name = [&](int layer) { return drawing.layers[static_cast<std::size_t>(layer)].name; };
  add_header(out, drawing);
  add_tables(out, drawing);
  out.begin("ENTITIES");
  for (const DxfLine& line : drawing.lines) add_line(out, name(line.layer), line);
  for (const DxfWords& words : drawing.words) add_words(out, name(words.layer), words);
  out.end();
  out.add(0, "EOF");
  return std::move(out).text();
}

}  // namespace skewback::deliver
