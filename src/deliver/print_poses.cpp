#include "deliver/print_poses.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/constants.hpp"
#include "deliver/csv.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kMm = 1000, kLitresPerMinute = 60000, kMillilitresPerMinute = 60e6;

/// One buffer for a row, used again for every row.
class RowText {
 public:
  void clear() { end_ = buffer_.data(); }
  void add(double value, int decimals) {
    separate();
    char* const from = end_;
    end_ = std::to_chars(end_, last(), value, std::chars_format::fixed, decimals).ptr;
    if (*from == '-' && std::string_view(from, end_).find_first_of("123456789") == npos) {
      std::copy(from + 1, end_, from);  // "-0.00" is 0.00
      --end_;
    }
  }
  void add(int value) {
    separate();
    end_ = std::to_chars(end_, last(), value).ptr;
  }
  [[nodiscard]] std::string_view text() const { return {buffer_.data(), end_}; }

 private:
  static constexpr std::size_t npos = std::string_view::npos;
  char* last() { return buffer_.data() + buffer_.size(); }
  void separate() {
    if (end_ != buffer_.data()) *end_++ = ',';
  }
  std::array<char, 1024> buffer_{};
  char* end_ = buffer_.data();
};

void fill_row(RowText& row, const Pose& pose, const PrintRequest& cell) {
  row.clear();
  row.add(pose.time_s, 3);
  for (int k = 0; k < 3; ++k) row.add(kMm * pose.tip[k], 2);
  for (int k = 0; k < 4; ++k) row.add(static_cast<double>(pose.turn[k]), 5);
  const double speed = static_cast<double>(pose.speed_m_s),
               flow = section_m2(pose) * speed / (1 + cell.accelerator);  // of the mix
  row.add(kMm * speed, 2);
  row.add(kLitresPerMinute * flow, 4);
  if (cell.accelerator > 0) row.add(kMillilitresPerMinute * cell.accelerator * flow, 2);
  row.add(pose.layer + 1);
  row.add(kMm * width_m(pose), 3);
  row.add(kMm * static_cast<double>(pose.height_m), 3);
}

Json four_by_four(const Rigid& rigid) {
  Json rows = Json::array();
  for (int i = 0; i < 3; ++i)
    rows.push_back({rigid.R(i, 0), rigid.R(i, 1), rigid.R(i, 2), rigid.t[i]});
  rows.push_back({0.0, 0.0, 0.0, 1.0});
  return rows;
}

Json frame_json(const BlockPrint& block) {
  return {
      {"poses_in", "table"},
      {"table", "right-handed; origin in the middle of the table's top, x along the table, z up"},
      {"tip", "tip of the nozzle, on the top of the bead being laid"},
      {"quaternion",
       "x, y, z, w; turns tool axes into table axes; tool z runs from the tip back into the "
       "nozzle"},
      {"row", "width, height, speed and flow of a row hold until the next row; width 0: travels"},
      {"table_from_world", four_by_four(block.to_table)},
      {"world", "of the bridge, z up; table_from_world takes its metres to metres on the table"},
      {"on_table", block.on_table},
      {"stand_deg", block.stand_rad * 180 / kPi}};
}

Json units_json() {
  return {{"time", "s"},
          {"length", "mm in poses, m elsewhere"},
          {"speed", "mm/s"},
          {"flow", "L/min"},
          {"accelerator", "mL/min"},
          {"layer", "from 1"}};
}

Json layers_json(const BlockPrint& block) {
  Json layers = Json::array();
  for (std::size_t i = 0; i < block.layers.size(); ++i) {
    const LayerFacts& layer = block.layers[i];
    layers.push_back({{"layer", i + 1},
                      {"height_min_m", layer.height_min_m},
                      {"height_max_m", layer.height_max_m},
                      {"area_m2", layer.area_m2},
                      {"volume_m3", layer.volume_m3},
                      {"laid_m3", layer.laid_m3},
                      {"path_m", layer.path_m},
                      {"time_s", layer.time_s},
                      {"overhang_max_deg", layer.overhang_max_rad * 180 / kPi},
                      {"strokes", layer.strokes}});
  }
  return layers;
}

std::string json_head(const BlockPrint& block, const PrintRequest& cell) {
  const Json head{{"block", block.id},
                  {"format", 1},
                  {"way", word(block.way)},
                  {"path_m", block.path_m},
                  {"time_s", block.time_s},
                  {"volume_m3", block.volume_m3},
                  {"stops", stops(block)},
                  {"frame", frame_json(block)},
                  {"units", units_json()},
                  {"layers", layers_json(block)},
                  {"columns", pose_columns(cell)}};
  std::string text = head.dump(1);
  text.resize(text.size() - 2);  // the closing brace and the line before it
  return text + ",\n \"poses\": [\n";
}

}  // namespace

const char* word(PrintWay way) {
  switch (way) {
    case PrintWay::kBedToBed:
      return "bed to bed";
    case PrintWay::kFlat:
      return "flat";
    case PrintWay::kCast:
      return "cast";
    case PrintWay::kNone:
      break;
  }
  return "none";
}

std::vector<std::string> pose_columns(const PrintRequest& cell) {
  std::vector<std::string> names = {"time_s", "x_mm", "y_mm", "z_mm",       "qx",
                                    "qy",     "qz",   "qw",   "speed_mm_s", "flow_l_min"};
  if (cell.accelerator > 0) names.emplace_back("accelerator_ml_min");
  for (const char* name : {"layer", "bead_width_mm", "bead_height_mm"}) names.emplace_back(name);
  return names;
}

PoseFiles pose_files(const BlockPrint& block, const PrintRequest& cell) {
  constexpr std::size_t kRow = 110;  // characters, about
  PoseFiles files;
  files.csv.reserve(kRow * (block.poses.size() + 2));
  files.json = json_head(block, cell);
  files.json.reserve(files.json.size() + kRow * (block.poses.size() + 2));
  files.csv = csv_line(pose_columns(cell));
  RowText row;
  for (std::size_t i = 0; i < block.poses.size(); ++i) {
    fill_row(row, block.poses[i], cell);
    files.csv.append(row.text()).append("\r\n");
    files.json.append(i == 0 ? "[" : ",\n[").append(row.text()).append("]");
  }
  files.json += "\n]}\n";
  return files;
}

std::vector<std::string> print_stems(const PrintSet& set) {
  std::vector<std::string> stems;
  std::set<std::string> taken = {"overview", "layers-and-thrust"};
  for (const BlockPrint& block : set.blocks) {
    const std::string stem = file_stem(block.id);
    std::string name = stem;
    for (int k = 2; !taken.insert(name).second; ++k) name = stem + "~" + std::to_string(k);
    stems.push_back(name);
  }
  return stems;
}

}  // namespace skewback::deliver
