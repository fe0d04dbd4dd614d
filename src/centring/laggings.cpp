#include <algorithm>
#include <cmath>

#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr double kPast = 0.05;       // m, of a lagging past the outer rib
constexpr double kStraight = 0.004;  // m, that a seat may lie off a lagging's line

struct Place {
  Vec3 point;
  Vec3 push;
  Vec3 across;
};

double off_line(const Vec3& p, const Vec3& a, const Vec3& b) {
  return (p - a).cross((b - a).normalized()).norm();
}

void lay(CentringDraft& draft, const std::vector<Place>& over, const std::string& id) {
  const CentringRequest& request = draft.request();
  Vec3 push = Vec3::Zero();
  for (const Place& place : over) push += place.push;
  const Vec3 middle_of_it = request.lagging_thickness_m / 2 * push.normalized();
  Vec3 from = over.front().point, to = over.back().point;
  const Vec3 way = over.size() > 1 ? Vec3((to - from).normalized()) : over.front().across;
  from -= kPast * way;
  to += kPast * way;
  draft.out.sticks.push_back({id, "lagging", from - middle_of_it, to - middle_of_it,
                              request.lagging_width_m, request.lagging_thickness_m});
}

/// One lagging through all places that lie in a line with the first two; the last of them begins
/// the next.
void lay_row(CentringDraft& draft, const std::vector<Place>& row, int& number) {
  std::vector<Place> over;
  for (const Place& place : row) {
    if (over.size() >= 2 &&
        off_line(place.point, over.front().point, over.back().point) > kStraight) {
      lay(draft, over, "L" + std::to_string(++number));
      over = {over.back()};
    }
    over.push_back(place);
  }
  if (!over.empty()) lay(draft, over, "L" + std::to_string(++number));
}

}  // namespace

void set_laggings(CentringDraft& draft) {
  if (draft.request().seats != "laggings") return;
  int number = 0;
  for (std::size_t b = 0; b < draft.all.size(); ++b) {
    // by family of ribs and by which end of the block, in the order of the ribs
    std::vector<std::pair<std::pair<int, int>, std::vector<Place>>> rows;
    for (const RibDraft& rib : draft.ribs) {
      int end = 0;
      for (const Seat& seat : draft.out.seats) {
        if (seat.rib != rib.rib.id || seat.prop.block != static_cast<int>(b)) continue;
        const std::pair key(rib.run.family, end++);
        auto row = std::ranges::find(rows, key, [](const auto& r) { return r.first; });
        if (row == rows.end()) {
          rows.push_back({key, {}});
          row = rows.end() - 1;
        }
        row->second.push_back({seat.prop.point, seat.prop.direction, rib.rib.place.z});
      }
    }
    for (auto& [key, row] : rows) {
      // across the ribs, one way
      const Vec3 across = row.front().across;
      std::ranges::stable_sort(row, {}, [&](const Place& p) { return p.point.dot(across); });
      lay_row(draft, row, number);
    }
  }
}

}  // namespace skewback
