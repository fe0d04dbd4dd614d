#include "deliver/gltf.hpp"

#include <bit>
#include <cmath>
#include <cstdint>
#include <nlohmann/json.hpp>

#include "deliver/facts.hpp"
#include "deliver/triangles.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFloat = 5126, kUnsignedInt = 5125, kArrayBuffer = 34962, kElements = 34963;

void put_u32(std::string& out, std::uint32_t value) {
  for (int shift = 0; shift < 32; shift += 8) out += static_cast<char>((value >> shift) & 0xffU);
}
void put_floats(std::string& out, const Vec3& v) {
  for (int i = 0; i < 3; ++i) put_u32(out, std::bit_cast<std::uint32_t>(static_cast<float>(v[i])));
}

double linear(std::uint8_t channel) {  // IEC 61966-2-1, sRGB to linear light
  const double s = channel / 255.0;
  return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
}

// A glTF document under way: JSON lists and the one buffer they point into.
struct Document {
  Json nodes = Json::array(), meshes = Json::array(), materials = Json::array(),
       accessors = Json::array(), views = Json::array();
  std::string buffer;
  std::vector<std::pair<std::string, std::size_t>> material_of;

  std::size_t material(const std::string& name, Colour c);
  std::size_t places(const std::vector<Vec3>& points);
  std::size_t corners(const std::vector<std::array<int, 3>>& triangles);
  void add_solid(const std::string& name, const Solid& solid, const Vec3& origin,
                 std::size_t material, Json extras);
};

std::size_t Document::material(const std::string& name, Colour c) {
  for (const auto& [known, index] : material_of) {
    if (known == name) return index;
  }
  material_of.emplace_back(name, materials.size());
  materials.push_back({{"name", name},
                       {"pbrMetallicRoughness",
                        {{"baseColorFactor", {linear(c.r), linear(c.g), linear(c.b), 1.0}},
                         {"metallicFactor", 0.0},
                         {"roughnessFactor", 0.9}}}});
  return materials.size() - 1;
}

std::size_t Document::places(const std::vector<Vec3>& points) {
  views.push_back({{"buffer", 0},
                   {"byteOffset", buffer.size()},
                   {"byteLength", points.size() * 12},
                   {"target", kArrayBuffer}});
  Eigen::Vector3f low = points.front().cast<float>(), high = low;
  for (const Vec3& p : points) {
    low = low.cwiseMin(p.cast<float>());
    high = high.cwiseMax(p.cast<float>());
    put_floats(buffer, p);
  }
  accessors.push_back({{"bufferView", views.size() - 1},
                       {"componentType", kFloat},
                       {"count", points.size()},
                       {"type", "VEC3"},
                       {"min", {low.x(), low.y(), low.z()}},
                       {"max", {high.x(), high.y(), high.z()}}});
  return accessors.size() - 1;
}

std::size_t Document::corners(const std::vector<std::array<int, 3>>& triangles) {
  views.push_back({{"buffer", 0},
                   {"byteOffset", buffer.size()},
                   {"byteLength", triangles.size() * 12},
                   {"target", kElements}});
  for (const auto& t : triangles)
    for (const int corner : t) put_u32(buffer, static_cast<std::uint32_t>(corner));
  accessors.push_back({{"bufferView", views.size() - 1},
                       {"componentType", kUnsignedInt},
                       {"count", 3 * triangles.size()},
                       {"type", "SCALAR"}});
  return accessors.size() - 1;
}

// Corners are shared and no normals are given: a viewer then shades each face flat (ISO/IEC
// 12113:2022, 3.7.2.1), as the faces of blocks are.
void Document::add_solid(const std::string& name, const Solid& solid, const Vec3& origin,
                         std::size_t material_index, Json extras) {
  const auto cut = triangle_corners(solid);
  if (cut.empty()) return;
  std::vector<Vec3> points;
  for (const Vec3& v : solid.vertices) points.push_back(v - origin);
  const std::size_t positions = places(points), indices = corners(cut);
  const Json primitive = {{"attributes", {{"POSITION", positions}}},
                          {"indices", indices},
                          {"material", material_index}};
  meshes.push_back({{"name", name}, {"primitives", Json::array({primitive})}});
  nodes.push_back({{"name", name}, {"mesh", meshes.size() - 1}, {"extras", std::move(extras)}});
}

std::string pack(const Json& json, std::string buffer) {
  std::string text = json.dump();
  while (text.size() % 4 != 0) text += ' ';
  while (buffer.size() % 4 != 0) buffer += '\0';
  std::string out = "glTF";
  put_u32(out, 2);
  put_u32(out, static_cast<std::uint32_t>(12 + 8 + text.size() + 8 + buffer.size()));
  put_u32(out, static_cast<std::uint32_t>(text.size()));
  out += "JSON" + text;
  put_u32(out, static_cast<std::uint32_t>(buffer.size()));
  out += std::string("BIN\0", 4) + buffer;
  return out;
}

void add_parts(Document& doc, const Dossier& dossier, const Vec3& origin) {
  const Cut& cut = *dossier.cut;
  for (const Block& block : cut.assembly.blocks) {
    const std::string arm = arm_name(dossier.brief, block);
    Json extras = {{"arm", arm}, {"course", block.place.course}, {"place", block.place.place}};
    if (!block.fixed) extras["mass_kg"] = concrete_mass_kg(block);
    doc.add_solid(block.id, block.solid, origin, doc.material(arm, block_colour(block)), extras);
  }
  for (std::size_t j = 0; j < cut.pads.size() && j < cut.assembly.joints.size(); ++j) {
    const Joint& joint = cut.assembly.joints[j];
    const auto id = [&](int b) { return cut.assembly.blocks[static_cast<std::size_t>(b)].id; };
    if (joint.a < 0 || joint.b < 0) continue;
    doc.add_solid("pad " + id(joint.a) + " | " + id(joint.b), cut.pads[j], origin,
                  doc.material("pad", kPad), {{"joint", j + 1}});
  }
}

}  // namespace

std::string blocks_glb(const Dossier& dossier) {
  Document doc;
  const Vec2 middle = meeting_point(dossier);
  const Vec3 origin(std::round(middle.x()), std::round(middle.y()), 0);
  add_parts(doc, dossier, origin);
  Json children = Json::array();
  for (std::size_t i = 0; i < doc.nodes.size(); ++i) children.push_back(i);
  const double half = std::sqrt(0.5);  // a quarter turn about x: z up becomes y up
  Json root = {{"name", dossier.brief.name},
               {"rotation", {-half, 0.0, 0.0, half}},
               {"extras", {{"origin_m", {origin.x(), origin.y(), origin.z()}}}}};
  if (!children.empty()) root["children"] = children;
  doc.nodes.push_back(root);
  const Json scene = {{"nodes", Json::array({doc.nodes.size() - 1})}};
  Json json = {{"asset", {{"version", "2.0"}, {"generator", "skewback"}}},
               {"scene", 0},
               {"scenes", Json::array({scene})},
               {"nodes", doc.nodes}};
  if (!doc.meshes.empty()) {
    json["meshes"] = doc.meshes;
    json["materials"] = doc.materials;
    json["accessors"] = doc.accessors;
    json["bufferViews"] = doc.views;
    const Json buffer = {{"byteLength", doc.buffer.size()}};
    json["buffers"] = Json::array({buffer});
  }
  return pack(json, doc.buffer);
}

}  // namespace skewback::deliver
