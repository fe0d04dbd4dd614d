// Braces of posts, along the ribs and across them.

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>

#include "centring/brace_room.hpp"
#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

// m, boards: sizes of sawn timber (EN 1313-1, from memory)
constexpr double kBraceWidths[] = {0.025, 0.038, 0.05}, kBraceDepth = 0.1;
constexpr double kRow = 0.45;  // m, along the leg, between posts of neighbouring ribs in one row

struct Post {
  int stick;
  std::size_t rib;
  double x;
  double length;
};

std::vector<Post> posts_of(const CentringDraft& draft) {
  std::vector<Post> posts;
  for (const CentringFoot& foot : draft.out.feet) {
    if (foot.post < 0) continue;
    const auto rib =
        std::ranges::find(draft.ribs, foot.rib, [](const RibDraft& r) { return r.rib.id; });
    const Stick& stick = draft.out.sticks[static_cast<std::size_t>(foot.post)];
    posts.push_back({foot.post, static_cast<std::size_t>(rib - draft.ribs.begin()),
                     rib->run.line.x_of(foot.at.head<2>()), (stick.to - stick.from).norm()});
  }
  return posts;
}

// m, from the ends of a post to a brace's axis: the corners of what goes beyond lie on it
constexpr double kFromEnd = 0.125;
// Of a post's length, the most that a brace's end is from the post's.
constexpr double kMostFromEnd = 0.35;
constexpr double kStep = 0.025;  // m, by which ends move where others are in the way

struct Diagonal {
  Vec3 low, high;
};

/// Ends `further` from the ends of the posts than they have to be.
Diagonal diagonal(const Stick& low, const Stick& high, double further) {
  const auto on = [&](const Stick& post, bool up) -> Vec3 {
    const double length = (post.to - post.from).norm();
    const double off = std::min(std::max(0.1 * length, kFromEnd) + further, kMostFromEnd * length);
    return post.from + (up ? length - off : off) / length * (post.to - post.from);
  };
  return {on(low, false), on(high, true)};
}

/// Where the two cross, seen square to the plane they lie in.
std::optional<Vec3> crossing(const Diagonal& a, const Diagonal& b, const Vec3& normal) {
  const Vec3 p = a.high - a.low, q = b.high - b.low, across = q.cross(normal);
  const double part = (b.low - a.low).dot(across) / p.dot(across);
  if (!(part > 0 && part < 1)) return std::nullopt;
  return a.low + part * p;
}

/// Two boards, one on each face of the posts, packed apart where they cross.
std::vector<Stick> pair_of(const CentringDraft& draft, const Post& a, const Post& b,
                           double further) {
  const Stick& one = draft.out.sticks[static_cast<std::size_t>(a.stick)];
  const Stick& two = draft.out.sticks[static_cast<std::size_t>(b.stick)];
  const double post = draft.request().post_m;
  const auto size = static_cast<std::size_t>(std::clamp(draft.design.boards, 0, kThickerBoards));
  const double thick = kBraceWidths[size];
  const Vec3 normal = Vec3::UnitZ().cross(two.from - one.from).normalized();
  const Diagonal up = diagonal(one, two, further), down = diagonal(two, one, further);
  const Vec3 side = (post + thick) / 2 * normal;
  std::vector<Stick> out;
  const auto board = [&](const std::string& id, const Diagonal& on, const Vec3& beside) {
    out.push_back({id, "brace", on.low, on.high, thick, kBraceDepth, kBraceBeyond, beside});
  };
  board(one.id + "/" + two.id, up, side);
  board(two.id + "/" + one.id, down, -side);
  if (const auto at = crossing(up, down, normal))
    out.push_back({one.id + "x" + two.id, "packing", *at - post / 2 * normal,
                   *at + post / 2 * normal, kBraceDepth, kBraceDepth, 0, Vec3::Zero()});
  return out;
}

bool meets_a_post(const CentringDraft& draft, const std::vector<Stick>& pair) {
  return std::ranges::any_of(draft.out.sticks, [&](const Stick& post) {
    return post.kind == "post" && std::ranges::any_of(pair, [&](const Stick& stick) {
             return stick.kind == "brace" && runs_through(stick, post);
           });
  });
}

/// As near to the ends of the posts as braces laid before leave room; none where they leave none.
std::optional<std::vector<Stick>> free_pair(const CentringDraft& draft, const Post& a,
                                            const Post& b) {
  const double post = draft.request().post_m;
  std::vector<std::vector<Box>> before;
  for (const Stick& stick : draft.out.sticks)
    if (std::vector<Box> room = room_of_brace(stick, post); !room.empty())
      before.push_back(std::move(room));
  const auto is_free = [&](const Stick& stick) {
    const std::vector<Box> room = room_of_brace(stick, post);
    return std::ranges::none_of(
        before, [&](const std::vector<Box>& other) { return in_each_others_way(room, other); });
  };
  const double most = kMostFromEnd * std::max(a.length, b.length) - kFromEnd;
  for (double further = 0; further <= most || further == 0; further += kStep) {
    std::vector<Stick> pair = pair_of(draft, a, b, further);
    if (std::ranges::all_of(pair, is_free) && !meets_a_post(draft, pair)) return pair;
  }
  return std::nullopt;
}

/// The first `wanted` of these that have room; false where none of any has.
bool brace(CentringDraft& draft, const std::vector<std::pair<const Post*, const Post*>>& places,
           std::size_t wanted) {
  std::size_t laid = 0;
  for (const auto& [a, b] : places) {
    if (laid == wanted) break;
    const auto pair = free_pair(draft, *a, *b);
    if (!pair) continue;
    draft.out.sticks.insert(draft.out.sticks.end(), pair->begin(), pair->end());
    ++laid;
  }
  return laid > 0 || places.empty();
}

void say_unbraced(CentringDraft& draft, const std::vector<std::string>& ids, const char* way) {
  if (ids.empty()) return;
  std::string words = std::string("No room for braces ") + way + " beside those laid before: ";
  for (std::size_t i = 0; i < ids.size(); ++i) words += (i > 0 ? ", " : "") + ids[i];
  draft.out.remarks.push_back(words + ". They hold by the others.");
}

bool tall(const Post& a, const Post& b) { return std::min(a.length, b.length) >= kLeastBraced; }

/// In each rib's line of posts the bay whose posts are tallest, and the next where the design asks;
/// others where those have no room.
void brace_along(CentringDraft& draft, const std::vector<Post>& posts) {
  std::vector<std::string> unbraced;
  for (std::size_t r = 0; r < draft.ribs.size(); ++r) {
    std::vector<std::pair<const Post*, const Post*>> bays;
    const Post* before = nullptr;
    for (const Post& post : posts) {
      if (post.rib != r) continue;
      const double most = 1.2 * draft.request().foot_spacing_m;
      if (before != nullptr && tall(*before, post) && post.x - before->x <= most)
        bays.emplace_back(before, &post);
      before = &post;
    }
    std::ranges::stable_sort(bays, std::ranges::greater{}, [](const auto& bay) {
      return std::min(bay.first->length, bay.second->length);
    });
    const auto wanted =
        static_cast<std::size_t>(1 + std::ranges::count(draft.design.braced, draft.ribs[r].rib.id));
    if (!brace(draft, bays, wanted)) unbraced.push_back(draft.ribs[r].rib.id);
  }
  say_unbraced(draft, unbraced, "along the ribs");
}

/// Rows across a leg: posts of neighbouring ribs abreast of each other. The first pair of each row
/// is braced both ways, and as many more as the design asks for; posts less abreast where those
/// have no room.
void brace_across(CentringDraft& draft, const std::vector<Post>& posts) {
  std::vector<std::size_t> row(posts.size());
  std::iota(row.begin(), row.end(), 0U);
  std::vector<std::vector<std::pair<const Post*, const Post*>>> pairs(posts.size()),
      others(posts.size());  // of each row
  for (std::size_t i = 0; i < posts.size(); ++i) {
    const RibDraft& rib = draft.ribs[posts[i].rib];
    const Vec2 from = rib.run.line.point(posts[i].x);
    std::optional<std::size_t> best;
    double least = kRow;
    for (std::size_t j = 0; j < posts.size(); ++j) {
      const RibDraft& other = draft.ribs[posts[j].rib];
      if (posts[j].rib <= posts[i].rib || other.run.family != rib.run.family) continue;
      const Vec2 way = other.run.line.point(posts[j].x) - from;
      const double along = std::abs(way.dot(rib.run.line.along));
      if (along >= kRow || way.norm() > 1.6 * draft.request().rib_spacing_m) continue;
      if (meets_a_post(draft, pair_of(draft, posts[i], posts[j], 0))) continue;
      if (tall(posts[i], posts[j])) others[row[i]].emplace_back(&posts[i], &posts[j]);
      if (along >= least) continue;
      best = j;
      least = along;
    }
    if (!best) continue;
    row[*best] = row[i];
    if (tall(posts[i], posts[*best])) pairs[row[i]].emplace_back(&posts[i], &posts[*best]);
  }
  const auto wanted = static_cast<std::size_t>(1 + std::max(0, draft.design.pairs));
  std::vector<std::string> unbraced;
  for (std::size_t r = 0; r < pairs.size(); ++r) {
    for (const auto& more : others[r])
      if (std::ranges::find(pairs[r], more) == pairs[r].end()) pairs[r].push_back(more);
    if (!brace(draft, pairs[r], wanted))
      unbraced.push_back(
          "the row of " +
          draft.out.sticks[static_cast<std::size_t>(pairs[r].front().first->stick)].id);
  }
  say_unbraced(draft, unbraced, "across them");
}

}  // namespace

void set_braces(CentringDraft& draft) {
  const std::vector<Post> posts = posts_of(draft);
  brace_along(draft, posts);
  brace_across(draft, posts);
}

}  // namespace skewback
