#include <algorithm>

#include "base/constants.hpp"
#include "deliver/print_poses.hpp"
#include "lodge/arrays.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

Json checks_json(const BlockPrint& block) {
  Json out = Json::array();
  for (const PrintCheck& c : block.checks) {
    out.push_back({{"name", c.name},
                   {"value", c.value},
                   {"limit", c.limit},
                   {"unit", c.unit},
                   {"passes", c.passes()},
                   {"place", c.place}});
  }
  return out;
}

Json layers_json(const BlockPrint& block) {
  Json out = Json::array();
  for (const LayerFacts& layer : block.layers) {
    out.push_back({{"height_min_m", layer.height_min_m},
                   {"height_max_m", layer.height_max_m},
                   {"path_m", layer.path_m},
                   {"time_s", layer.time_s},
                   {"overhang_max_deg", layer.overhang_max_rad * 180 / kPi}});
  }
  return out;
}

void add_poses(const BlockPrint& block, const Rigid& to_world, Sheaf& sheaf) {
  std::vector<float> tips, time, width, axis;
  std::vector<std::uint32_t> layer;
  for (const Pose& pose : block.poses) {
    put(tips, to_world(pose.tip));
    time.push_back(static_cast<float>(pose.time_s));
    layer.push_back(static_cast<std::uint32_t>(pose.layer));
    width.push_back(pose.share_m > 0 ? static_cast<float>(width_m(pose)) : 0);
    const Eigen::Quaternionf turn(pose.turn[3], pose.turn[0], pose.turn[1], pose.turn[2]);
    const Vec3 on_tool = (turn * Eigen::Vector3f::UnitZ()).cast<double>();
    put(axis, Vec3(to_world.R * on_tool));
  }
  sheaf.add("tips", std::move(tips), 3);
  sheaf.add("time_s", std::move(time));
  sheaf.add("layer", std::move(layer));
  sheaf.add("width_m", std::move(width));
  sheaf.add("axis", std::move(axis), 3);
}

const BlockPrint* find(const PrintSet& set, const std::string& id) {
  const auto found =
      id.empty() ? std::ranges::find_if(set.blocks, [](const auto& b) { return !b.poses.empty(); })
                 : std::ranges::find(set.blocks, id, &BlockPrint::id);
  return found == set.blocks.end() ? nullptr : &*found;
}

}  // namespace

/// No block named: the first that has a path.
std::optional<Sheaf> layers_view(const Dossier& dossier, const std::string& block) {
  if (!dossier.print) return std::nullopt;
  const BlockPrint* print = find(*dossier.print, block);
  if (print == nullptr) return std::nullopt;
  const Mat3 back = print->to_table.R.transpose();
  const Rigid to_world{back, -(back * print->to_table.t)};
  Sheaf sheaf;
  sheaf.head = {{"view", "layers"},
                {"block", print->id},
                {"index", print->block},
                {"printable", print->printable},
                {"reason", print->reason},
                {"way", deliver::word(print->way)},
                {"on_table", print->on_table},
                {"checks", checks_json(*print)},
                {"layers", layers_json(*print)}};
  add_poses(*print, to_world, sheaf);
  return sheaf;
}

}  // namespace skewback::lodge
