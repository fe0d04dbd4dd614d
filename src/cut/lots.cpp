#include "cut/lots.hpp"

#include <algorithm>
#include <cstdio>
#include <tuple>

#include "base/parallel.hpp"
#include "cut/footing.hpp"
#include "cut/joints.hpp"

namespace skewback {
namespace {

constexpr double kOnPlane = 1e-7;  // m

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Shortest and longest way from one bed to the other, over the corners of both.
void measure_flow_lines(Block& block, const Plane& low, const Plane& high, double half_pad) {
  const Vec3 way = (low.normal + high.normal).normalized();
  double least = 1e9, most = 0;
  for (const auto& [from, to, sign] :
       {std::tuple{low.moved(half_pad), high.moved(-half_pad), 1},
        std::tuple{high.moved(-half_pad), low.moved(half_pad), -1}}) {
    for (const Region& r : faces_in_plane(block.solid, frame_on(from), -sign, kOnPlane)) {
      for (const Vec2& p : r.outer) {
        const double length =
            std::abs(to.distance(frame_on(from).to_world(p)) / to.normal.dot(way));
        least = std::min(least, length);
        most = std::max(most, length);
      }
    }
  }
  block.place.phi_length_min_m = least;
  block.place.phi_length_max_m = most;
}

BlockPlace place_of(const Lot& lot, const Course& course, std::size_t part, std::size_t parts) {
  BlockPlace place;
  place.crown = course.crown;
  place.course = course.number;
  place.phi_m = course.phi_m;
  place.place = static_cast<int>(part) + 1;
  if (course.arm < 0) {
    if (lot.key_number > 0) {
      place.course = lot.key_number;
      place.phi_m = lot.key_phi_m;
    }
    return place;
  }
  place.arm = lot.arms[at(course.arm)].arm;
  if (lot.turned(course)) {
    place.course = lot.before + lot.spine_courses() + 1 - course.number;
    place.phi_m = lot.top_phi_m - course.phi_m;
    place.place = static_cast<int>(parts - part);
  }
  return place;
}

std::string name_of(const Lot& lot, const Course& course, const BlockPlace& place,
                    std::size_t parts) {
  std::string name = lot.key;
  if (course.arm >= 0) {
    char number[16];
    std::snprintf(number, sizeof number, "-%02d", place.course);
    name = lot.arms[at(course.arm)].name + number;
  }
  return parts == 1 ? name : name + "-" + std::to_string(place.place);
}

}  // namespace

bool Lot::turned(const Course& course) const {
  return course.arm >= 0 && arms[at(course.arm)].turned;
}

int Lot::spine_courses() const {
  int most = 0;
  for (const Cutting& cutting : pieces.cuttings)
    if (turned(*cutting.course)) most = std::max(most, cutting.course->number);
  return most;
}

void add_grounds(const Brief& brief, const Body& body, Assembly& assembly) {
  for (std::size_t k = 0; k < brief.plan.supports.size(); ++k)
    assembly.blocks.push_back(ground_block(brief, body, static_cast<int>(k)));
}

std::vector<std::vector<int>> add_blocks(const Brief& brief, const Body& body, Lot& lot,
                                         Assembly& assembly, const Progress& progress) {
  std::vector<std::vector<int>> out;
  std::vector<const Course*> course_of(assembly.blocks.size(), nullptr);
  for (Cutting& cutting : lot.pieces.cuttings) {
    const Course& course = *cutting.course;
    out.emplace_back();
    for (std::size_t p = 0; p < cutting.blocks.size(); ++p) {
      Block block;
      block.place = place_of(lot, course, p, cutting.blocks.size());
      block.id = name_of(lot, course, block.place, cutting.blocks.size());
      block.solid = std::move(cutting.blocks[p].solid);
      cutting.blocks[p].id = block.id;
      block.density = body.density;
      out.back().push_back(static_cast<int>(assembly.blocks.size()));
      assembly.blocks.push_back(std::move(block));
      course_of.push_back(&course);
    }
  }
  for_each_index(assembly.blocks.size(), [&](std::size_t i) {
    progress.checkpoint("cut", 1);
    if (course_of[i] == nullptr || !course_of[i]->beds) return;
    measure_flow_lines(assembly.blocks[i], course_of[i]->low, course_of[i]->high,
                       brief.joints.pad_thickness_m / 2);
  });
  return out;
}

void add_joints(const Brief& brief, const Lot& lot, const std::vector<std::vector<int>>& blocks,
                const std::vector<int>& key_of_spine, Cut& cut, const Progress& progress) {
  const Pieces& pieces = lot.pieces;
  std::vector<std::vector<Joint>> found;
  struct Meeting {
    Plane mid;
    std::vector<int> below, above;
  };
  std::vector<Meeting> meetings;
  const int arms = static_cast<int>(pieces.planes.arms.size());
  std::vector<std::vector<int>> crown(at(arms));  // blocks of each arm in the crown
  const bool key = pieces.cuttings.back().course->arm < 0;
  for (std::size_t i = 0; i < pieces.cuttings.size(); ++i) {
    const Course& course = *pieces.cuttings[i].course;
    const Parts& parts = pieces.cuttings[i].parts;
    for (std::size_t w = 0; w < parts.walls.size(); ++w)
      meetings.push_back(
          {parts.walls[w], {blocks[i][parts.left_of[w]]}, {blocks[i][parts.left_of[w] + 1]}});
    if (course.arm < 0) continue;
    const bool turn = lot.turned(course);
    const auto bed = [&](const Plane& mid, const std::vector<int>& below,
                         const std::vector<int>& above) {
      if (turn)
        meetings.push_back({mid.opposite(), above, below});
      else
        meetings.push_back({mid, below, above});
    };
    const std::vector<Plane>& planes = pieces.planes.arms[at(course.arm)].planes;
    bed(course.low,
        course.number > 1 ? blocks[i - 1]
        : turn            ? key_of_spine
                          : std::vector<int>{lot.arms[at(course.arm)].arm},
        blocks[i]);
    const bool last =
        i + 1 == pieces.cuttings.size() || pieces.cuttings[i + 1].course->arm != course.arm;
    if (last && key) bed(planes.back(), blocks[i], blocks.back());
    if (course.crown)
      crown[at(course.arm)].insert(crown[at(course.arm)].end(), blocks[i].begin(), blocks[i].end());
  }
  for (std::size_t k = 0; k < pieces.planes.walls.size(); ++k)
    meetings.push_back({pieces.planes.walls[k], crown[k], crown[(k + 1) % crown.size()]});
  found.resize(meetings.size());
  for_each_index(meetings.size(), [&](std::size_t i) {
    progress.checkpoint("cut", 1);
    const Meeting& m = meetings[i];
    found[i] = Facing(brief.joints, cut.assembly, m.mid, m.below, m.above).joints();
  });
  for (std::vector<Joint>& joints : found)
    for (Joint& joint : joints) cut.assembly.joints.push_back(std::move(joint));
}

Pieces together(std::vector<Lot>& lots) {
  Pieces all;
  all.planes = lots[0].pieces.planes;
  for (Lot& lot : lots) {
    all.taken.slab_volume_m3 += lot.pieces.taken.slab_volume_m3;
    for (Cutting& cutting : lot.pieces.cuttings) all.cuttings.push_back(std::move(cutting));
  }
  return all;
}

}  // namespace skewback
