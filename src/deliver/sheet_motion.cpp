#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "deliver/motion_json.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kTitle = 15, kFoot = 5, kCaption = 6, kGap = 5;  // mm
constexpr std::size_t kPictures = 6, kAcross = 2;
constexpr double kSeen = 0.015, kDrawn = 0.04;  // of the picture's width
constexpr Colour kBlock{200, 214, 229}, kFarthest{240, 190, 140};

/// Square to the longest way of the plan, so that an arch is seen from the side.
View view_of(const Assembly& assembly) {
  Vec2 mean = Vec2::Zero();
  for (const Block& block : assembly.blocks) mean += block.mass.centroid.head<2>();
  mean /= static_cast<double>(std::max<std::size_t>(1, assembly.blocks.size()));
  Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
  for (const Block& block : assembly.blocks) {
    const Vec2 d = block.mass.centroid.head<2>() - mean;
    spread += d * d.transpose();
  }
  Vec2 along = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(spread).eigenvectors().col(1);
  if (!(spread.trace() > 1e-12)) along = Vec2::UnitX();
  if (along.x() < 0 || (along.x() == 0 && along.y() < 0)) along = -along;
  return side_view(mean, mean + along);
}

struct Film {
  const RecordedMotion& record;
  View view;
  std::vector<std::size_t> order;     // blocks, the farthest from the eye first
  std::vector<std::size_t> pictures;  // frames
  double times = 1;                   // movements are drawn so many times larger
};

Vec3 moved(const Film& film, const BlockPose& from, const BlockPose& to, const Vec3& p) {
  const Vec3 there = to.centre + to.turn * (p - from.centre);
  return p + film.times * (there - p);
}

double greatest(const Assembly& assembly, const MotionFrame& from, const MotionFrame& to) {
  double most = 0;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    const BlockPose &p = from.blocks[b], &q = to.blocks[b];
    for (const Vec3& v : assembly.blocks[b].solid.vertices)
      most = std::max(most, (q.centre + q.turn * (v - p.centre) - v).norm());
  }
  return most;
}

/// Even steps of time and of the way gone together: a fall is quick at its end.
std::vector<std::size_t> pictures_of(const std::vector<MotionFrame>& frames,
                                     const std::vector<double>& gone) {
  const double end = frames.back().time_s, most = gone.back();
  std::vector<std::size_t> chosen;
  std::size_t k = 0;
  for (std::size_t i = 0; i < kPictures; ++i) {
    const double share = static_cast<double>(i) / (kPictures - 1);
    const auto reached = [&](std::size_t f) {
      return ((end > 0 ? frames[f].time_s / end : 1) + (most > 0 ? gone[f] / most : 1)) / 2;
    };
    while (k + 1 < frames.size() && reached(k) < share - 1e-9) ++k;
    if (chosen.empty() || chosen.back() != k) chosen.push_back(k);
  }
  return chosen;
}

/// 1, 2 or 5 times a power of ten: what makes `most` about kDrawn of `width`; 1 where it is seen.
double enlargement(double most, double width) {
  if (!(most > 0) || most > kSeen * width) return 1;
  const double wanted = std::min(kDrawn * width / most, 1e6);
  const double ten = std::pow(10, std::floor(std::log10(wanted)));
  return std::max(1.0, (wanted >= 5 * ten ? 5 : wanted >= 2 * ten ? 2 : 1) * ten);
}

Film film_of(const RecordedMotion& record) {
  const Assembly& assembly = *record.assembly;
  Film film{record, view_of(assembly), {}, {}, 1};
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) film.order.push_back(b);
  std::ranges::stable_sort(film.order, [&](std::size_t a, std::size_t b) {
    return film.view.depth(assembly.blocks[a].mass.centroid) <
           film.view.depth(assembly.blocks[b].mass.centroid);
  });
  Extent extent;
  for (const Block& block : assembly.blocks)
    for (const Vec3& p : block.solid.vertices) extent.add(film.view(p));
  std::vector<double> gone;
  const auto& frames = record.motion.frames;
  for (const MotionFrame& frame : frames)
    gone.push_back(
        std::max(gone.empty() ? 0.0 : gone.back(), greatest(assembly, frames.front(), frame)));
  film.pictures = pictures_of(frames, gone);
  film.times = enlargement(gone.back(), extent.size().x());
  return film;
}

bool taken_away(const RecordedMotion& record, std::size_t block, double time_s) {
  return std::ranges::any_of(record.scene.removals, [&](const Removal& r) {
    return r.block == static_cast<int>(block) && time_s > r.at_s;
  });
}

std::vector<Regions> shapes_at(const Film& film, const MotionFrame& frame) {
  const auto& blocks = film.record.assembly->blocks;
  const MotionFrame& start = film.record.motion.frames.front();
  std::vector<Regions> shapes(blocks.size());
  for_each_index(blocks.size(), [&](std::size_t b) {
    Solid solid = blocks[b].solid;
    for (Vec3& p : solid.vertices) p = moved(film, start.blocks[b], frame.blocks[b], p);
    shapes[b] = silhouette(solid, film.view);
  });
  return shapes;
}

/// A load that falls, where it will touch; only until it has.
void add_drops(Sheet& sheet, const Film& film, double time_s, const SheetMap& map) {
  for (const Drop& drop : film.record.scene.drops) {
    if (time_s > drop.at_s) continue;
    const Vec2 at = map(film.view(drop.point));
    sheet.arrow(at - Vec2(0, 9), at - Vec2(0, 1), {kThrust, kThrust, 0.4});
    Words words{at - Vec2(0, 10), figures(drop.mass_kg, 3) + " kg", 2.4, Anchor::kMiddle};
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
}

void add_picture(Sheet& sheet, const Film& film, const MotionFrame& frame,
                 const std::vector<Regions>& rest, const std::vector<Regions>& shapes,
                 const SheetMap& map, const Vec2& corner) {
  const auto& blocks = film.record.assembly->blocks;
  for (const Regions& shape : rest) sheet.regions(map(shape), {std::nullopt, kGrey, 0.1, 0.8});
  for (const std::size_t b : film.order) {
    if (taken_away(film.record, b, frame.time_s)) continue;
    const bool far = static_cast<int>(b) == film.record.motion.moved_block;
    sheet.regions(map(shapes[b]), {blocks[b].fixed ? kGround
                                   : far           ? kFarthest
                                                   : kBlock,
                                   kBlack, 0.12});
  }
  add_drops(sheet, film, frame.time_s, map);
  sheet.items.emplace_back(Words{corner + Vec2(0, 3.5), figures(frame.time_s, 3) + " s", 2.8,
                                 Anchor::kStart, true, kBlack, false});
}

std::string under(const Film& film) {
  const std::string times = film.times > 1
                                ? "Movements drawn " + figures(film.times, 1) + " times larger. "
                                : "Movements as large as they are. ";
  return times + "Dashed: where the blocks stood. Orange: the block that went farthest.";
}

std::vector<std::string> happenings(const RecordedMotion& record) {
  constexpr std::size_t kLetters = 150;
  if (record.words.empty()) return {};
  return broken(joined(record.words, "; "), kLetters);
}

void add_heading(Sheet& sheet, const Film& film) {
  const RecordedMotion& r = film.record;
  sheet.title = "Motion of case " + r.load->id + ": " + word(r.motion.ending);
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
  double y = kMargin + 8.5;
  for (const std::string& line : happenings(r)) {
    sheet.words({kMargin, y}, line, 2.4);
    y += 3.2;
  }
  sheet.words({kMargin, y}, under(film), 2.4);
}

}  // namespace

Sheet motion_sheet(const RecordedMotion& record, const SheetSize& size) {
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  if (record.motion.frames.empty()) return sheet;
  const Film film = film_of(record);
  const auto& frames = record.motion.frames;
  std::vector<std::vector<Regions>> shapes;
  Extent extent;
  for (const std::size_t k : film.pictures) {
    shapes.push_back(shapes_at(film, frames[k]));
    for (std::size_t b = 0; b < shapes.back().size(); ++b) {
      if (taken_away(record, b, frames[k].time_s)) continue;
      for (const Region& region : shapes.back()[b])
        for (const Vec2& p : region.outer) extent.add(p);
    }
  }
  add_heading(sheet, film);
  const double top = kMargin + kTitle + 3.2 * static_cast<double>(happenings(record).size());
  const double rows = std::ceil(static_cast<double>(kPictures) / kAcross);
  const Vec2 cell((size.width_mm - 2 * kMargin - kGap * (kAcross - 1)) / kAcross,
                  (size.height_mm - top - kFoot) / rows);
  const Vec2 box(cell.x(), cell.y() - kCaption - 2);
  for (std::size_t i = 0; i < film.pictures.size(); ++i) {
    const Vec2 corner(kMargin + static_cast<double>(i % kAcross) * (cell.x() + kGap),
                      top + static_cast<double>(i / kAcross) * cell.y());
    const SheetMap map = fit(extent, corner + Vec2(0, kCaption), box);
    add_picture(sheet, film, frames[film.pictures[i]], shapes.front(), shapes[i], map, corner);
  }
  return sheet;
}

}  // namespace skewback::deliver
