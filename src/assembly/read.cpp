#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <sstream>

#include "assembly/fields.hpp"
#include "assembly/json_places.hpp"
#include "assembly/overlap.hpp"
#include "assembly/read_parts.hpp"
#include "assembly/surface.hpp"

namespace skewback {
namespace {

std::optional<std::vector<int>> read_face(Fields& fields, const Cursor& at, std::size_t vertices) {
  if (!fields.array(at, 3)) return std::nullopt;
  std::vector<int> face;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const auto index = fields.integer(at.element(i));
    if (!index) continue;
    if (*index < 0 || static_cast<std::size_t>(*index) >= vertices) {
      fields.fault(at.element(i), std::to_string(*index),
                   "a vertex index from 0 to " + std::to_string(static_cast<long>(vertices) - 1));
      continue;
    }
    face.push_back(*index);
  }
  if (face.size() < at.size()) return std::nullopt;
  return face;
}

void check_flat(Fields& fields, const Cursor& faces, const Solid& solid) {
  for (std::size_t f = 0; f < solid.faces.size(); ++f) {
    std::vector<Vec3> points;
    for (int i : solid.faces[f]) points.push_back(solid.vertices[static_cast<std::size_t>(i)]);
    const double off = off_plane(points);
    if (off <= kFlatEnough) continue;
    fields.fault(faces.element(f),
                 "points " + millimetres(off) + " off one plane, at " + coordinates(points[0]),
                 "a flat face");
  }
}

void name_surface_fault(Fields& fields, const Cursor& faces, const Solid& solid,
                        const SurfaceFault& fault) {
  const auto corner = [&](int i) {
    return std::to_string(i) + " at " + coordinates(solid.vertices[static_cast<std::size_t>(i)]);
  };
  if (fault.face >= 0) {
    const auto face = static_cast<std::size_t>(fault.face);
    fields.fault(
        faces.element(face),
        "a face inside out: it runs the other way round than those beside it, from vertex " +
            corner(solid.faces[face][0]),
        "every face counter-clockwise seen from outside");
    return;
  }
  fields.fault(faces,
               "an open surface: the edge between vertices " + corner(fault.edge.first) + " and " +
                   corner(fault.edge.second) +
                   " has no face on its other side running back along it",
               "a closed surface, every face counter-clockwise seen from outside");
}

Solid read_solid(Fields& fields, const Cursor& at) {
  Solid solid;
  const std::size_t before = fields.count();
  const auto vertices = fields.required(at, "vertices");
  if (vertices) solid.vertices = fields.points(*vertices, 4).value_or(std::vector<Vec3>{});
  constexpr double kFarthest = 1e6;  // m; beyond, millimetres are lost
  for (const Vec3& p : solid.vertices) {
    if (p.cwiseAbs().maxCoeff() <= kFarthest) continue;
    fields.fault(*vertices, "a corner over 1,000 km from the origin", "metres, within 1e6");
    solid.vertices.clear();
    break;
  }
  const auto faces = fields.required(at, "faces");
  if (!faces || !fields.array(*faces, 4)) return solid;
  const std::size_t count = vertices && vertices->value->is_array() ? vertices->size() : 0;
  for (std::size_t i = 0; i < faces->size(); ++i) {
    if (auto face = read_face(fields, faces->element(i), count))
      solid.faces.push_back(std::move(*face));
  }
  if (fields.count() > before) return solid;
  if (const auto fault = surface_fault(solid)) {
    name_surface_fault(fields, *faces, solid, *fault);
    return solid;
  }
  check_flat(fields, *faces, solid);
  return solid;
}

std::vector<CarriedMass> read_carried(Fields& fields, const Cursor& at) {
  std::vector<CarriedMass> carried;
  if (!fields.array(at)) return carried;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const Cursor one = at.element(i);
    if (!fields.object(one, {"mass", "point"})) continue;
    CarriedMass c;
    if (const auto j = fields.required(one, "mass")) {
      c.mass_kg = fields.number_above(*j, 0, true).value_or(0);
    }
    if (const auto j = fields.required(one, "point"))
      c.point = fields.vec3(*j).value_or(Vec3::Zero());
    carried.push_back(c);
  }
  return carried;
}

BlockPlace read_place(Fields& fields, const Cursor& at) {
  BlockPlace place;
  if (!fields.object(
          at, {"arm", "course", "place", "crown", "phi", "phi_length_min", "phi_length_max"}))
    return place;
  const auto whole = [&](const char* key, int& to) {
    if (const auto j = at.member(key)) to = fields.integer(*j).value_or(to);
  };
  const auto metres = [&](const char* key, double& to) {
    if (const auto j = at.member(key)) to = fields.number(*j).value_or(to);
  };
  whole("arm", place.arm);
  whole("course", place.course);
  whole("place", place.place);
  if (const auto j = at.member("crown")) place.crown = fields.boolean(*j).value_or(false);
  metres("phi", place.phi_m);
  metres("phi_length_min", place.phi_length_min_m);
  metres("phi_length_max", place.phi_length_max_m);
  return place;
}

void check_volume(Fields& fields, const Cursor& at, Block& block) {
  block.mass = mass_properties(block.solid);
  if (block.mass.volume > 0) return;
  const Cursor faces = *at.member("faces");
  fields.fault(faces, "a volume of " + std::to_string(block.mass.volume) + " m3",
               "faces counter-clockwise seen from outside, round a volume above nothing");
}

Block read_block(Fields& fields, const Cursor& at) {
  Block block;
  if (!fields.object(at, {"id", "vertices", "faces", "density", "fixed", "carried", "place"}))
    return block;
  const std::size_t before = fields.count();
  if (const auto j = fields.required(at, "id")) block.id = fields.text(*j).value_or("");
  if (const auto j = at.member("fixed")) block.fixed = fields.boolean(*j).value_or(false);
  const auto density = block.fixed ? at.member("density") : fields.required(at, "density");
  if (density) block.density = fields.number_above(*density, 0, block.fixed).value_or(0);
  constexpr double kDensest = 1e5;  // kg/m3
  if (block.density > kDensest)
    fields.fault(*density, density->value->dump(), "kg/m3, no more than 1e5");
  if (const auto j = at.member("carried")) block.carried = read_carried(fields, *j);
  if (const auto j = at.member("place")) block.place = read_place(fields, *j);
  block.solid = read_solid(fields, at);
  if (fields.count() == before) check_volume(fields, at, block);
  if (!block.id.empty()) fields.add_where(before, "block \"" + block.id + "\"");
  return block;
}

void read_live(Fields& fields, const Cursor& at, const BlockIndex& index, LoadCase& load) {
  if (!fields.array(at)) return;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const Cursor one = at.element(i);
    if (!fields.object(one, {"block", "point", "force"})) continue;
    LiveForce live;
    if (const auto j = fields.required(one, "block")) live.block = named_block(fields, *j, index);
    if (const auto j = fields.required(one, "point"))
      live.point = fields.vec3(*j).value_or(Vec3::Zero());
    if (const auto j = fields.required(one, "force"))
      live.force = fields.vec3(*j).value_or(Vec3::Zero());
    load.live.push_back(live);
  }
}

LoadCase read_case(Fields& fields, const Cursor& at, const BlockIndex& index) {
  LoadCase load;
  if (!fields.object(at, {"id", "gravity", "live", "live_acceleration"})) return load;
  const std::size_t before = fields.count();
  if (const auto j = fields.required(at, "id")) load.id = fields.text(*j).value_or("");
  if (const auto j = at.member("gravity")) load.gravity = fields.vec3(*j).value_or(load.gravity);
  if (const auto j = at.member("live")) read_live(fields, *j, index, load);
  if (const auto j = at.member("live_acceleration")) {
    load.live_acceleration = fields.vec3(*j).value_or(Vec3::Zero());
  }
  if (!load.id.empty()) fields.add_where(before, "case \"" + load.id + "\"");
  return load;
}

BlockIndex read_blocks(Fields& fields, const Cursor& at, Assembly& assembly) {
  BlockIndex index;
  if (!fields.array(at, 1)) return index;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const Cursor one = at.element(i);
    Block block = read_block(fields, one);
    if (!block.id.empty() && !index.emplace(block.id, static_cast<int>(i)).second) {
      fields.fault(*one.member("id"), "\"" + block.id + "\" for a second time", "an id of its own");
    }
    assembly.blocks.push_back(std::move(block));
  }
  const auto fixed = std::count_if(assembly.blocks.begin(), assembly.blocks.end(),
                                   [](const Block& b) { return b.fixed; });
  if (fixed == 0)
    fields.fault(at, "no fixed block", "one block at least with \"fixed\": true, the ground");
  if (fixed == std::ssize(assembly.blocks))
    fields.fault(at, "no free block", "one block at least that is not fixed");
  return index;
}

void read_cases(Fields& fields, const Cursor& at, const BlockIndex& index, Assembly& assembly) {
  if (!fields.array(at)) return;
  std::map<std::string, int> seen;
  for (std::size_t i = 0; i < at.size(); ++i) {
    LoadCase load = read_case(fields, at.element(i), index);
    if (!load.id.empty() && ++seen[load.id] > 1) {
      fields.fault(*at.element(i).member("id"), "\"" + load.id + "\" for a second time",
                   "an id of its own");
    }
    assembly.cases.push_back(std::move(load));
  }
}

/// The faults, with their places in the file.
Faults placed(const std::filesystem::path& file, Faults faults) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  if (in && text << in.rdbuf()) put_places(text.str(), faults);
  return faults;
}

}  // namespace

Result<Assembly> read_assembly(const std::filesystem::path& file) {
  const auto json = load_json(file.string());
  if (!json) return json.faults();
  Fields fields(file.string());
  Assembly assembly;
  const Cursor root{&*json, nullptr, {}, 0};
  if (!fields.object(root, {"blocks", "joints", "friction", "contact_tolerance", "cases"}))
    return placed(file, fields.take());
  JointDefaults defaults;
  if (const auto j = root.member("friction")) {
    defaults.friction = read_friction(fields, *j);
  }
  if (const auto j = root.member("contact_tolerance")) {
    defaults.tolerance_m = fields.number_above(*j, 0, false).value_or(defaults.tolerance_m);
  }
  BlockIndex index;
  if (const auto j = fields.required(root, "blocks")) index = read_blocks(fields, *j, assembly);
  const bool blocks_good = fields.clean();
  if (const auto j = fields.required(root, "joints")) {
    if (*j->value != "detect") {
      read_joints(fields, *j, index, defaults, blocks_good, assembly);
    } else if (blocks_good) {
      assembly.joints = detect_joints(assembly.blocks, defaults.friction, defaults.tolerance_m);
    }
  }
  if (const auto j = fields.required(root, "cases")) read_cases(fields, *j, index, assembly);
  if (!fields.clean()) return placed(file, fields.take());
  const Cursor blocks = *root.member("blocks");
  for (const Overlap& overlap : find_overlaps(assembly, defaults.tolerance_m)) {
    const Vec3& p = overlap.at;
    fields.fault(
        blocks.element(static_cast<std::size_t>(overlap.inner)),
        "block \"" + assembly.blocks[static_cast<std::size_t>(overlap.inner)].id + "\" reaches " +
            millimetres(overlap.depth_m) + " into \"" +
            assembly.blocks[static_cast<std::size_t>(overlap.outer)].id + "\" at " + coordinates(p),
        "blocks that at most touch, within contact_tolerance or the joint's gap_tolerance");
  }
  if (!fields.clean()) return placed(file, fields.take());
  return assembly;
}

}  // namespace skewback
