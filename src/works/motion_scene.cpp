#include "works/motion_scene.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

#include "base/constants.hpp"
#include "brief/text.hpp"
#include "brief/values.hpp"
#include "geometry/near_surface.hpp"
#include "works/scene_file.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t kLargestFile = 4 << 20;
constexpr double kOnBlock = 5e-3;  // m: nearer than this a point is on the block
constexpr double kTimeMost = 3600;

const Wanted kAt{"s", "0.5 s", 0, kTimeMost, false};
const Wanted kLasting{"s", "0.5 s", 0, kTimeMost, true};
const Wanted kShift{"m", "-14 mm", -100, 100, false};
const Wanted kPlace{"m", "0.5 m", -1e5, 1e5, false};

std::string triple(const Vec3& v, double times) {
  return "(" + number(times * v.x()) + ", " + number(times * v.y()) + ", " + number(times * v.z()) +
         ")";
}

/// Middle of what rests on a block: of its joints, by area.
Vec3 middle_of_joints(const Assembly& assembly, int block) {
  Vec3 sum = Vec3::Zero();
  double whole = 0;
  for (const Joint& joint : assembly.joints) {
    if (joint.a != block && joint.b != block) continue;
    const double size = area(joint.contact);
    sum += size * joint.frame.to_world(centroid(joint.contact));
    whole += size;
  }
  if (whole > 0) return sum / whole;
  return assembly.blocks[static_cast<std::size_t>(block)].mass.centroid;
}

class SceneReader {
 public:
  SceneReader(SceneFile& file, const Assembly& assembly, MotionScene& out)
      : file_(file), assembly_(assembly), out_(out) {}

  void read(const toml::table& root) {
    file_.unknown(root, "",
                  {"loads", "ground", "removal", "drop", "shaking", "damping", "end", "contacts",
                   "raise", "footings", "draws"});
    if (const auto* t = file_.section(root, "loads")) loads(*t);
    each(root, "ground", &SceneReader::ground);
    each(root, "removal", &SceneReader::removal);
    each(root, "drop", &SceneReader::drop);
    if (const auto* t = file_.section(root, "shaking")) shaking(*t);
    if (const auto* t = file_.section(root, "contacts")) contacts(*t);
    damping(file_.section(root, "damping"));
    if (const auto* t = file_.section(root, "end")) end(*t);
    read_motion_questions(file_, root, out_);
  }

 private:
  using One = void (SceneReader::*)(const toml::table&, const std::string&);
  void each(const toml::table& root, const std::string& name, One one) {
    const auto tables = file_.list(root, name);
    for (std::size_t i = 0; i < tables.size(); ++i) (this->*one)(*tables[i], numbered(name, i));
  }
  [[nodiscard]] const Block& block(int i) const {
    return assembly_.blocks[static_cast<std::size_t>(i)];
  }

  void loads(const toml::table& t) {
    file_.unknown(t, "loads", {"factor", "put_on"});
    if (file_.number(t, "loads", "factor", {"", "1.35", 0, 1e6, false}, out_.scene.load_factor))
      out_.words.push_back("live load times " + number(out_.scene.load_factor));
    file_.number(t, "loads", "put_on", kLasting, out_.options.put_on_s);
  }

  void ground(const toml::table& t, const std::string& name) {
    file_.unknown(t, name, {"block", "support", "shift", "turn", "axis", "about", "from", "over"});
    GroundMove move;
    move.block = file_.ground(t, name);
    double angle = 0;
    Vec3 axis = Vec3::UnitZ();
    const bool shifts = file_.vector(t, name, "shift", kShift, move.shift);
    const bool turns =
        file_.number(t, name, "turn", {"rad", "0.4 degrees", -kPi, kPi, false}, angle);
    if (!t.contains("shift") && !t.contains("turn"))
      file_.fault(&t, name, "neither `shift` nor `turn`", "where the ground goes");
    if (file_.vector(t, name, "axis", {"", "0", -1e6, 1e6, false}, axis) && !(axis.norm() > 0))
      file_.fault(t.get("axis"), name + ".axis", "no direction", "a list that is not all 0");
    if (move.block >= 0) move.about = middle_of_joints(assembly_, move.block);
    file_.vector(t, name, "about", kPlace, move.about);
    file_.number(t, name, "from", kAt, move.from_s);
    file_.number(t, name, "over", kLasting, move.over_s);
    if (move.block < 0) return;
    if (axis.norm() > 0) move.turn = angle * axis.normalized();
    std::string words = block(move.block).id;
    if (shifts) words += " goes by " + triple(move.shift, 1e3) + " mm";
    if (turns)
      words += std::string(shifts ? " and" : "") + " turns " + number(angle * 180 / kPi) +
               " degrees about " + triple(axis, 1);
    if (move.over_s > 0)
      words += " from " + number(move.from_s) + " s on, over " + number(move.over_s) + " s";
    out_.scene.moves.push_back(move);
    out_.words.push_back(words);
  }

  void removal(const toml::table& t, const std::string& name) {
    file_.unknown(t, name, {"block", "at"});
    Removal removal;
    removal.block = file_.block(t, name);
    file_.number(t, name, "at", kAt, removal.at_s);
    if (removal.block < 0) return;
    const bool twice = std::ranges::any_of(
        out_.scene.removals, [&](const Removal& r) { return r.block == removal.block; });
    if (twice)
      file_.fault(t.get("block"), name + ".block", "a block that is taken away twice",
                  "one removal of each");
    out_.scene.removals.push_back(removal);
    out_.words.push_back(block(removal.block).id + " is taken away at " + number(removal.at_s) +
                         " s");
  }

  /// Where it falls; false: a fault.
  bool place(const toml::table& t, const std::string& name, Drop& drop) {
    const toml::node* node = t.get("point");
    const std::string key = name + ".point";
    if (node == nullptr || node->is_string()) {
      std::string words = "top middle";
      if (node != nullptr && !file_.text(t, name, "point", words, {"top middle"})) return false;
      const auto top = top_middle(block(drop.block));
      if (!top)
        file_.fault(node != nullptr ? node : &t, key,
                    "\"top middle\" of " + block(drop.block).id + ", over which no face looks up",
                    "a point on the block", "give the point: [\"x m\", \"y m\", \"z m\"]");
      if (top) {
        drop.point = top->point;
        drop.up = top->up;
      }
      return top.has_value();
    }
    if (!file_.vector(t, name, "point", kPlace, drop.point)) return false;
    const auto surface = NearSurface::of(block(drop.block).solid);
    if (!surface) {
      file_.fault(node, key, "a block whose surface is not closed", "\"top middle\"");
      return false;
    }
    const OnSurface on = surface->nearest(drop.point);
    const double off = (on.at - drop.point).norm();
    if (off > kOnBlock || on.normal.z() < 0.1) {
      file_.fault(node, key,
                  off > kOnBlock ? "a point " + metres(off) + " off " + block(drop.block).id
                                 : "a point on a face that does not look up",
                  "a point on top of the block, to 5 mm",
                  "the nearest of its surface is " + triple(on.at, 1) + " m; or \"top middle\"");
      return false;
    }
    drop.point = on.at;
    drop.up = on.normal;
    return true;
  }

  void drop(const toml::table& t, const std::string& name) {
    file_.unknown(t, name, {"block", "point", "mass", "height", "at", "stiffness"});
    Drop drop;
    drop.block = file_.block(t, name);
    const bool weighs =
        file_.number(t, name, "mass", {"kg", "100 kg", 0, 1e6, true}, drop.mass_kg, true);
    const bool falls =
        file_.number(t, name, "height", {"m", "0.5 m", 0, 1e3, false}, drop.height_m, true);
    file_.number(t, name, "at", kAt, drop.at_s);
    file_.number(t, name, "stiffness", {"N/m", "1e7 N/m", 1e3, 1e12, false}, drop.kn);
    if (drop.block < 0) return;
    if (block(drop.block).fixed)
      return file_.fault(t.get("block"), name + ".block", "a fixed block", "a block that is free");
    const auto& removals = out_.scene.removals;
    const auto gone = std::ranges::find(removals, drop.block, &Removal::block);
    if (gone != removals.end() && gone->at_s <= drop.at_s)
      return file_.fault(
          t.get("block"), name + ".block",
          block(drop.block).id + ", which is taken away at " + number(gone->at_s) + " s",
          "a block that is there when the load is let fall, at " + number(drop.at_s) + " s");
    if (!place(t, name, drop) || !weighs || !falls) return;
    out_.scene.drops.push_back(drop);
    out_.words.push_back(number(drop.mass_kg) + " kg is let fall " + number(drop.height_m) +
                         " m on " + block(drop.block).id + " at " + number(drop.at_s) + " s");
  }

  void shaking(const toml::table& t) {
    file_.unknown(t, "shaking", {"file", "scale"});
    std::string name;
    double scale = 1;
    if (!t.contains("file"))
      file_.fault(&t, "shaking.file", "nothing", "the name of a table of accelerations, in quotes");
    file_.number(t, "shaking", "scale", {"", "0.5", -1e3, 1e3, false}, scale);
    if (!file_.text(t, "shaking", "file", name)) return;
    Result<Shaking> read = read_shaking(file_.file().parent_path() / name);
    if (!read) {
      for (const Fault& fault : read.faults()) file_.add(fault);
      return;
    }
    double peak = 0;
    for (Vec3& a : read.value().acceleration) {
      a *= scale;
      peak = std::max(peak, a.norm());
    }
    out_.words.push_back("the ground shakes from " + number(read->time_s.front()) + " s to " +
                         number(read->time_s.back()) + " s, at most " + number(peak) + " m/s2");
    out_.scene.shaking = std::move(read).value();
  }

  void contacts(const toml::table& t) {
    file_.unknown(t, "contacts", {"friction", "find_again"});
    double friction = 0;
    if (file_.number(t, "contacts", "friction", {"", "0.6", 0, 10, false}, friction)) {
      out_.scene.friction = friction;
      out_.words.push_back("friction " + number(friction) + " at every joint");
    }
    file_.flag(t, "contacts", "find_again", out_.options.find_again);
  }

  void damping(const toml::table* t) {
    const Scene& s = out_.scene;
    const bool at_once = !s.removals.empty() || !s.drops.empty() || !s.shaking.time_s.empty();
    if (at_once) {  // blows are short: with whole steps their energy is missed by some per cent
      out_.options.damping = Damping::kRocking;
      out_.options.step_share /= 2;
    }
    if (t == nullptr) return;
    file_.unknown(*t, "damping", {"purpose", "share"});
    std::string purpose;
    if (file_.text(*t, "damping", "purpose", purpose, {"settling", "rocking", "none"})) {
      out_.options.damping = *damping_called(purpose);
      out_.damping_given = true;
    }
    const bool rocks = out_.options.damping == Damping::kRocking;
    if (out_.options.damping == Damping::kNone && t->contains("share"))
      return file_.fault(t->get("share"), "damping.share", "a share of no damping", "none",
                         "take it out");
    file_.number(*t, "damping", "share",
                 rocks ? Wanted{"", "1", 0, 10, false} : Wanted{"", "0.7", 0, 0.95, false},
                 rocks ? out_.options.rocking : out_.options.settling);
  }

  void end(const toml::table& t) {
    file_.unknown(t, "end", {"time", "steps", "far", "step"});
    file_.number(t, "end", "time", kLasting, out_.options.time_most_s);
    double last = 0;
    for (const Removal& r : out_.scene.removals) last = std::max(last, r.at_s);
    for (const Drop& d : out_.scene.drops) last = std::max(last, d.at_s);
    if (t.contains("time") && last >= out_.options.time_most_s)
      file_.fault(t.get("time"), "end.time", "an end before what happens at " + number(last) + " s",
                  "a later one", "end later, or let it happen sooner");
    file_.number(t, "end", "step", {"", "0.4", 0.01, 0.95, false}, out_.options.step_share);
    file_.number(t, "end", "far", {"m", "0.3 m", 0, 1e4, true}, out_.options.far_m);
    std::int64_t steps = out_.options.steps_most;
    if (file_.whole(t, "end", "steps", 1, 1'000'000'000, steps))
      out_.options.steps_most = static_cast<long>(steps);
  }

  SceneFile& file_;
  const Assembly& assembly_;
  MotionScene& out_;
};

Result<std::string> text_of(const fs::path& file) {
  const auto refuse = [&](const std::string& found) {
    return Fault{file.string(), 0, 0, "", found, "a scene: a text file in TOML", "check the path"};
  };
  std::error_code error;
  if (!fs::exists(file, error)) return refuse("no such file");
  if (!fs::is_regular_file(file, error)) return refuse("something that is not an ordinary file");
  if (fs::file_size(file, error) > kLargestFile || error) return refuse("a file of more than 4 MB");
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  if (!in) return refuse("a file that cannot be read");
  return text.str();
}

}  // namespace

std::optional<Damping> damping_called(const std::string& name) {
  for (const Damping d : {Damping::kSettling, Damping::kRocking, Damping::kNone})
    if (name == word(d)) return d;
  return {};
}

std::optional<TopPoint> top_middle(const Block& block) {
  const Vec3 over = centre_of_gravity(block);
  std::optional<TopPoint> best;
  for (const auto& face : block.solid.faces) {
    Polygon plan;
    Vec3 normal = Vec3::Zero();
    for (std::size_t i = 0; i < face.size(); ++i) {
      const Vec3& p = block.solid.vertices[static_cast<std::size_t>(face[i])];
      const Vec3& q = block.solid.vertices[static_cast<std::size_t>(face[(i + 1) % face.size()])];
      plan.push_back(p.head<2>());
      normal += p.cross(q);
    }
    if (!(normal.norm() > 0) || normal.normalized().z() < 0.1) continue;
    normal.normalize();
    if (!contains({plan, {}}, over.head<2>())) continue;
    const Vec3& on = block.solid.vertices[static_cast<std::size_t>(face.front())];
    const double z = on.z() - (normal.head<2>().dot(over.head<2>() - on.head<2>())) / normal.z();
    if (!best || z > best->point.z()) best = TopPoint{{over.x(), over.y(), z}, normal};
  }
  return best;
}

Result<MotionScene> read_motion_scene_text(const std::string& text, const fs::path& file,
                                           const Assembly& assembly) {
  if (find_invalid_utf8(text) != std::string::npos)
    return Fault{file.string(),           0, 0, "", "a byte that is not UTF-8", "text in UTF-8",
                 "save the file as UTF-8"};
  toml::table root;
  try {
    root = toml::parse(text);
  } catch (const toml::parse_error& error) {
    return toml_fault(error, file.string());
  }
  MotionScene out;
  SceneFile reading(file, assembly);
  SceneReader(reading, assembly, out).read(root);
  if (reading.faults().empty()) return out;
  Faults faults = reading.faults();
  const std::string own = file.string();
  std::ranges::stable_sort(faults, [&](const Fault& a, const Fault& b) {
    return std::tuple(a.file != own, a.line, a.column) <
           std::tuple(b.file != own, b.line, b.column);
  });
  return faults;
}

Result<MotionScene> read_motion_scene(const fs::path& file, const Assembly& assembly) {
  const Result<std::string> text = text_of(file);
  if (!text) return text.faults();
  return read_motion_scene_text(*text, file, assembly);
}

}  // namespace skewback
