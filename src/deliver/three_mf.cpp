#include "deliver/three_mf.hpp"

#include <cmath>
#include <cstdio>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "deliver/triangles.hpp"
#include "deliver/zip_package.hpp"

namespace skewback::deliver {
namespace {

const char* const kTypes = R"(<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
)";
const char* const kRelations = R"(<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
)";

std::string millimetres(double metres) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6f", 1000 * metres);
  std::string number = text;
  number.erase(number.find_last_not_of('0') + 1);
  if (number.back() == '.') number.pop_back();
  return number == "-0" ? "0" : number;
}

Vec3 low_corner(const Solid& solid) {
  Vec3 low = solid.vertices.front();
  for (const Vec3& v : solid.vertices) low = low.cwiseMin(v);
  return low.unaryExpr([](double x) { return std::floor(1000 * x) / 1000; });
}

std::string attribute(const std::string& name, const std::string& value) {
  return " " + name + "=\"" + xml_text(value) + "\"";
}

void add_object(std::string& out, int id, const Block& block, std::size_t colour) {
  const Vec3 low = low_corner(block.solid);
  out += "<object" + attribute("id", std::to_string(id)) + " type=\"model\"" +
         attribute("name", block.id) + attribute("partnumber", block.id) + " pid=\"1\"" +
         attribute("pindex", std::to_string(colour)) + ">\n<mesh>\n<vertices>\n";
  for (const Vec3& v : block.solid.vertices)
    out += "<vertex x=\"" + millimetres(v.x() - low.x()) + "\" y=\"" +
           millimetres(v.y() - low.y()) + "\" z=\"" + millimetres(v.z() - low.z()) + "\"/>\n";
  out += "</vertices>\n<triangles>\n";
  for (const auto& t : triangle_corners(block.solid))
    out += "<triangle v1=\"" + std::to_string(t[0]) + "\" v2=\"" + std::to_string(t[1]) +
           "\" v3=\"" + std::to_string(t[2]) + "\"/>\n";
  out += "</triangles>\n</mesh>\n</object>\n";
}

std::string hex(Colour c) {
  char text[8];
  std::snprintf(text, sizeof text, "#%02X%02X%02X", c.r, c.g, c.b);
  return text;
}

}  // namespace

std::string blocks_3mf(const Dossier& dossier) {
  std::vector<const Block*> blocks;
  for (const Block& block : dossier.cut->assembly.blocks)
    if (!block.fixed && !block.solid.faces.empty()) blocks.push_back(&block);

  std::string materials, objects, items;
  std::vector<std::string> arms;  // one material for each
  int id = 1;
  for (const Block* block : blocks) {
    const std::string arm = arm_name(dossier.brief, *block);
    std::size_t colour = 0;
    while (colour < arms.size() && arms[colour] != arm) ++colour;
    if (colour == arms.size()) {
      arms.push_back(arm);
      materials += "<base" + attribute("name", arm) +
                   attribute("displaycolor", hex(block_colour(*block))) + "/>\n";
    }
    add_object(objects, ++id, *block, colour);
    const Vec3 low = low_corner(block->solid);
    items += "<item objectid=\"" + std::to_string(id) + "\" transform=\"1 0 0 0 1 0 0 0 1 " +
             millimetres(low.x()) + " " + millimetres(low.y()) + " " + millimetres(low.z()) + "\"" +
             attribute("partnumber", block->id) + "/>\n";
  }
  const std::string model =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model unit=\"millimeter\" xml:lang=\"en\" "
      "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n"
      "<metadata name=\"Title\">" +
      xml_text(dossier.brief.title) +
      "</metadata>\n<metadata name=\"Application\">skewback</metadata>\n<resources>\n"
      "<basematerials id=\"1\">\n" +
      materials + "</basematerials>\n" + objects + "</resources>\n<build>\n" + items +
      "</build>\n</model>\n";
  return zip_package(
      {{"[Content_Types].xml", kTypes}, {"_rels/.rels", kRelations}, {"3D/3dmodel.model", model}});
}

}  // namespace skewback::deliver
