#include "deliver/labels.hpp"

#include <qrencode.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <set>

#include "base/constants.hpp"
#include "deliver/plan_file.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

/// Of one field of the code: what would end it is left out.
std::string field(std::string text) {
  for (char& c : text)
    if (c == ';' || static_cast<unsigned char>(c) < ' ') c = ',';
  return text;
}

struct Beside {
  std::vector<std::string> on, next;  // what it rests on, what rests on it
};
Beside beside(const DayPlan& plan, const PlannedBlock& block) {
  Beside out;
  for (const PlannedBlock& other : plan.blocks)
    if (std::ranges::find(other.needs, block.id) != other.needs.end()) out.next.push_back(other.id);
  for (const std::string& name : block.joints)
    if (std::ranges::find(out.next, name) == out.next.end()) out.on.push_back(name);
  return out;
}

std::string counted_in_words(int order, std::size_t of) {
  const bool teen = order % 100 >= 11 && order % 100 <= 13;
  const char* const end = teen              ? "th"
                          : order % 10 == 1 ? "st"
                          : order % 10 == 2 ? "nd"
                          : order % 10 == 3 ? "rd"
                                            : "th";
  return std::to_string(order) + end + " of " + std::to_string(of) + " to be placed";
}

const BlockLift* lift_of(const Dossier& dossier, int block) {
  if (!dossier.lifts) return nullptr;
  for (const BlockLift& lift : dossier.lifts->lifts)
    if (lift.block == block) return &lift;
  return nullptr;
}

double spread(const std::vector<double>& at) {
  const auto [least, most] = std::ranges::minmax(at);
  return most - least;
}

/// From the bed where slings lie one behind the other along the flow; from the left side, seen from
/// the bed, where they lie beside each other.
std::string sling_places(const Assembly& assembly, const Joint& joint, int block,
                         const std::vector<Vec3>& slings) {
  const Block& own = assembly.blocks[static_cast<std::size_t>(block)];
  const Vec3 ahead = joint.a == block ? Vec3(-joint.frame.z) : joint.frame.z;
  const Vec3 right = ahead.cross(joint.frame.y);
  std::vector<double> along, across, sides;
  for (const Vec3& p : slings) {
    along.push_back((p - joint.frame.origin).dot(ahead));
    across.push_back(p.dot(right));
  }
  for (const Vec3& v : own.solid.vertices) sides.push_back(v.dot(right));
  const bool beside = spread(across) > spread(along);
  for (double& x : across) x -= *std::ranges::min_element(sides);
  std::vector<long> mm;
  for (const double x : beside ? across : along) mm.push_back(std::lround(1e3 * x));
  std::ranges::sort(mm);
  mm.erase(std::unique(mm.begin(), mm.end()), mm.end());
  std::vector<std::string> words;
  for (const long each : mm) words.push_back(std::to_string(each));
  return "slings " + joined(words, ", ") +
         (beside ? " mm from the left, seen from its bed" : " mm from its bed");
}

std::vector<std::string> lifting_lines(const Assembly& assembly, const std::vector<int>& order,
                                       int block, const BlockLift* lift) {
  if (lift == nullptr || lift->slings.empty()) return {"no lifting plan: none was computed"};
  std::vector<std::string> lines;
  const int j = bed_joint(assembly, order, block);
  if (j >= 0)
    lines.push_back(
        sling_places(assembly, assembly.joints[static_cast<std::size_t>(j)], block, lift->slings));
  lines.push_back(counted(lift->slings.size(), "leg") + ", steepest " +
                  fixed(lift->sling_angle_rad * 180 / kPi, 0) + " degrees off plumb, " +
                  fixed(lift->leg_force_n / 1e3, 1) + " kN a leg; hangs " +
                  fixed(lift->tilt_rad * 180 / kPi, 0) + " degrees off");
  lines.front() += "; gusts under " + fixed(lift->wind_m_s, 1) + " m/s";
  return lines;
}

bool has_spare(const Dossier& dossier, const std::string& id) {
  return dossier.spares && std::ranges::any_of(dossier.spares->risks, [&](const BlockRisk& r) {
           return r.id == id && r.spare;
         });
}

}  // namespace

std::string label_code(const DayPlan& plan, const PlannedBlock& block, const std::string& name) {
  const auto [on, next] = beside(plan, block);
  std::set<long> reach_mm;
  for (const Vec3& sling : block.slings)
    reach_mm.insert(std::lround(1e3 * (sling - block.centre).head<2>().norm()));
  std::vector<std::string> reach;
  for (const long mm : reach_mm) reach.push_back(std::to_string(mm));
  const std::string lifting =
      block.slings.empty()
          ? "no lifting plan"
          : std::to_string(block.slings.size()) + " slings " + joined(reach, ",") +
                " mm level from the centre of gravity" +
                (block.held_by.empty() || block.held_by == "slings" ? "" : ", " + block.held_by);
  const std::vector<std::string> fields = {
      "SKEWBACK2",
      plan.bridge,
      name,
      fixed(block.mass_kg, 0) + " kg",
      std::to_string(block.order) + "/" + std::to_string(plan.blocks.size()),
      "on " + joined(on, ","),
      "then " + joined(next, ","),
      block.up.empty() ? "up not told" : block.up,
      lifting,
      plan.assembly_sha256.substr(0, 12)};
  std::string text;
  for (const std::string& f : fields) text += (text.empty() ? "" : ";") + field(f);
  return text;
}

std::vector<Label> labels(const Dossier& dossier) {
  const std::optional<DayPlan> plan = day_plan(dossier);
  if (!plan) return {};
  const Assembly& assembly = dossier.cut->assembly;
  const std::vector<int> order = placing_order(assembly, *dossier.programme);
  const std::vector<Mark> marks = setting_out(dossier.brief, assembly, nullptr);
  std::vector<Label> out;
  for (const PlannedBlock& block : plan->blocks) {
    const auto [on, next] = beside(*plan, block);
    Label label;
    const auto it = std::ranges::find(assembly.blocks, block.id, &Block::id);
    label.block = static_cast<int>(it - assembly.blocks.begin());
    label.bed = bed_joint(assembly, order, label.block);
    label.mass = fixed(block.mass_kg, 0) + " kg";
    label.order = counted_in_words(block.order, plan->blocks.size());
    label.stands_on = on.empty() ? "on nothing: seats only" : "on " + joined(on, ", ");
    label.next = next.empty() ? "last here" : "then " + joined(next, ", ");
    label.up = block.up;
    label.lifting = lifting_lines(assembly, order, label.block, lift_of(dossier, label.block));
    if (block.strap_n > 0)
      label.cradle = "STRAP OVER EACH SLING, " + fixed(block.strap_n / 1000, 1) +
                     " kN by hand: slings alone do not hold it";
    else if (block.held_by == "cradle")
      label.cradle = "CRADLE: slings do not hold it, nor do straps over them";
    label.slings = block.slings;
    for (const Mark& mark : marks)
      if (mark.kind == MarkKind::kBlock && mark.of == block.id) label.marks.push_back(mark);
    for (int copy = 1; copy <= (has_spare(dossier, block.id) ? 2 : 1); ++copy) {
      label.name = copy == 1 ? block.id : block.id + "/" + std::to_string(copy);
      label.coded = label_code(*plan, block, label.name);
      out.push_back(label);
    }
  }
  return out;
}

std::vector<std::vector<bool>> qr_modules(const std::string& text) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeData(static_cast<int>(text.size()),
                        reinterpret_cast<const unsigned char*>(text.data()), 0, QR_ECLEVEL_Q),
      QRcode_free);
  if (!code) return {};
  const auto width = static_cast<std::size_t>(code->width);
  std::vector<std::vector<bool>> rows(width, std::vector<bool>(width));
  for (std::size_t y = 0; y < width; ++y)
    for (std::size_t x = 0; x < width; ++x) rows[y][x] = (code->data[y * width + x] & 1U) != 0;
  return rows;
}

}  // namespace skewback::deliver
