#include <algorithm>
#include <cmath>
#include <map>

#include "deliver/print_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr std::size_t kMostStrokes = 3000;

struct Piece {  // of a layer's path, metres along it
  double from_m, to_m;
  int step;
};

std::vector<std::vector<Piece>> unroll(const BlockPrint& block, const Ramp& ramp) {
  std::vector<std::vector<Piece>> layers(block.layers.size());
  std::vector<double> along(block.layers.size(), 0);
  for (std::size_t i = 0; i + 1 < block.poses.size(); ++i) {
    const Pose& pose = block.poses[i];
    if (!(pose.share_m > 0) || pose.layer < 0) continue;
    const auto k = static_cast<std::size_t>(pose.layer);
    if (k >= layers.size()) continue;
    const double from = along[k], length = (block.poses[i + 1].tip - pose.tip).norm();
    along[k] += length;
    const int step = ramp.step_of(double{pose.height_m});
    if (!layers[k].empty() && layers[k].back().step == step) {
      layers[k].back().to_m = along[k];
    } else {
      layers[k].push_back({from, along[k], step});
    }
  }
  return layers;
}

/// Pieces shorter than `least_m` are taken into the one before.
std::size_t merge(std::vector<std::vector<Piece>>& layers, double least_m) {
  std::size_t count = 0;
  for (auto& pieces : layers) {
    std::vector<Piece> kept;
    for (const Piece& piece : pieces) {
      if (!kept.empty() &&
          (piece.to_m - piece.from_m < least_m || kept.back().step == piece.step)) {
        kept.back().to_m = piece.to_m;
      } else {
        kept.push_back(piece);
      }
    }
    pieces = std::move(kept);
    count += pieces.size();
  }
  return count;
}

double round_step(double most) {
  const double rough = most / 8, base = std::pow(10.0, std::floor(std::log10(rough)));
  return base * (rough / base >= 5 ? 5 : rough / base >= 2 ? 2 : 1);
}

void add_axes(Sheet& sheet, const Vec2& at, const Vec2& size, double longest_m,
              std::size_t layers) {
  const double step = round_step(longest_m);
  for (double x = 0; x <= longest_m * (1 + 1e-9); x += step) {
    const double px = at.x() + size.x() * x / longest_m;
    sheet.line({px, at.y() + size.y()}, {px, at.y() + size.y() + 1}, {std::nullopt, kBlack, 0.15});
    sheet.words({px, at.y() + size.y() + 3.8}, fixed(x, step < 1 ? 1 : 0), 2.2, Anchor::kMiddle);
  }
  sheet.words({at.x() + size.x() / 2, at.y() + size.y() + 7.4}, "metres along the layer's path",
              2.3, Anchor::kMiddle);
  const auto every =
      static_cast<std::size_t>(std::max(1.0, round_step(1.4 * static_cast<double>(layers))));
  for (std::size_t k = 1; k <= layers; k += every == 1 || k > 1 ? every : every - 1) {
    const double y =
        at.y() + size.y() * (1 - (static_cast<double>(k) - 0.5) / static_cast<double>(layers));
    sheet.words({at.x() - 1.2, y + 0.8}, std::to_string(k), 2.2, Anchor::kEnd);
  }
  Words name{{at.x() - 8, at.y() + size.y() / 2}, "layer", 2.3, Anchor::kMiddle};
  name.turn_deg = -90;
  sheet.items.emplace_back(std::move(name));
}

}  // namespace

void add_unrolled(Sheet& sheet, const Vec2& at, const Vec2& size, const BlockPrint& block,
                  const Ramp& ramp) {
  auto layers = unroll(block, ramp);
  double longest = 0;
  for (const auto& pieces : layers) {
    if (!pieces.empty()) longest = std::max(longest, pieces.back().to_m);
  }
  if (!(longest > 0)) return;
  for (double least = longest / 1000; merge(layers, least) > kMostStrokes; least *= 2) {
  }
  sheet.words(at - Vec2(0, 1.5), "Unrolled: height of the bead along the path of each layer", 2.6);
  const double row = size.y() / static_cast<double>(layers.size());
  std::map<int, std::vector<std::vector<Vec2>>> strokes;
  for (std::size_t k = 0; k < layers.size(); ++k) {
    const double y = at.y() + size.y() - (static_cast<double>(k) + 0.5) * row;
    for (const Piece& piece : layers[k]) {
      const double from = size.x() * piece.from_m / longest, to = size.x() * piece.to_m / longest;
      strokes[piece.step].push_back({{at.x() + from, y}, {at.x() + to, y}});
    }
  }
  for (const auto& [step, lines] : strokes)
    sheet.items.emplace_back(Shape{lines, false, {std::nullopt, ramp.colour(step), 0.92 * row}});
  add_axes(sheet, at, size, longest, layers.size());
}

}  // namespace skewback::deliver
