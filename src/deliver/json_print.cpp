#include "base/constants.hpp"
#include "deliver/json_parts.hpp"

namespace skewback::deliver {

using Json = nlohmann::ordered_json;

Json print_json(const PrintSet& print) {
  Json list = Json::array();
  for (const BlockPrint& block : print.blocks) {
    list.push_back({{"id", block.id},
                    {"layers", block.layers.size()},
                    {"layer_min_m", block.layer_min_m},
                    {"layer_max_m", block.layer_max_m},
                    {"overhang_max_deg", block.overhang_max_rad * 180 / kPi},
                    {"path_m", block.path_m},
                    {"time_s", block.time_s},
                    {"volume_m3", block.volume_m3},
                    {"printable", block.printable},
                    {"reason", block.reason}});
  }
  return {{"blocks", list}};
}

}  // namespace skewback::deliver
