#include <algorithm>
#include <cmath>
#include <optional>

#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr double kLeastPost = 0.05;  // m; less room than this has no post
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

struct Diagonal {
  Vec3 low, high;
};

Diagonal diagonal(const Stick& low, const Stick& high) {
  const auto on = [](const Stick& post, bool up) -> Vec3 {
    const double length = (post.to - post.from).norm();
    const double off = std::min(std::max(0.1 * length, kFromEnd), 0.35 * length);
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
void brace(CentringDraft& draft, const Post& a, const Post& b) {
  const Stick one = draft.out.sticks[static_cast<std::size_t>(a.stick)];
  const Stick two = draft.out.sticks[static_cast<std::size_t>(b.stick)];
  const double post = draft.request().post_m;
  const auto size = static_cast<std::size_t>(std::clamp(draft.design.boards, 0, kThickerBoards));
  const double thick = kBraceWidths[size];
  const Vec3 normal = Vec3::UnitZ().cross(two.from - one.from).normalized();
  const Diagonal up = diagonal(one, two), down = diagonal(two, one);
  const Vec3 side = (post + thick) / 2 * normal;
  const auto board = [&](const std::string& id, const Diagonal& on, const Vec3& beside) {
    draft.out.sticks.push_back(
        {id, "brace", on.low, on.high, thick, kBraceDepth, kBraceBeyond, beside});
  };
  board(one.id + "/" + two.id, up, side);
  board(two.id + "/" + one.id, down, -side);
  if (const auto at = crossing(up, down, normal))
    draft.out.sticks.push_back({one.id + "x" + two.id, "packing", *at - post / 2 * normal,
                                *at + post / 2 * normal, kBraceDepth, kBraceDepth, 0,
                                Vec3::Zero()});
}

bool tall(const Post& a, const Post& b) { return std::min(a.length, b.length) >= kLeastBraced; }

/// In each rib's line of posts the bay whose posts are tallest, and the next where the design asks.
void brace_along(CentringDraft& draft, const std::vector<Post>& posts) {
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
    for (std::size_t k = 0; k < std::min(wanted, bays.size()); ++k) {
      brace(draft, *bays[k].first, *bays[k].second);
    }
  }
}

/// A board from one to the other would run through a post between them.
bool meets_a_post(const CentringDraft& draft, const std::vector<Post>& posts, const Post& a,
                  const Post& b) {
  const auto place = [&](const Post& post) -> Vec2 {
    return draft.ribs[post.rib].run.line.point(post.x);
  };
  const Vec2 from = place(a), way = place(b) - from;
  const double length = way.norm();
  const double clear = draft.request().post_m + kBraceWidths[kThickerBoards];
  return std::ranges::any_of(posts, [&](const Post& post) {
    if (post.stick == a.stick || post.stick == b.stick) return false;
    const Vec2 p = place(post) - from;
    const double along = p.dot(way) / length;
    return along > 0 && along < length &&
           std::abs(p.x() * way.y() - p.y() * way.x()) / length < clear;
  });
}

/// Rows across a leg: posts of neighbouring ribs abreast of each other. The first pair of each row
/// is braced both ways, and as many more as the design asks for.
void brace_across(CentringDraft& draft, const std::vector<Post>& posts) {
  std::vector<int> row(posts.size());
  for (std::size_t i = 0; i < posts.size(); ++i) row[i] = static_cast<int>(i);
  std::vector<int> done(posts.size(), 0);
  for (std::size_t i = 0; i < posts.size(); ++i) {
    const RibDraft& rib = draft.ribs[posts[i].rib];
    const Vec2 from = rib.run.line.point(posts[i].x);
    const Post* best = nullptr;
    std::size_t best_index = 0;
    double least = kRow;
    for (std::size_t j = 0; j < posts.size(); ++j) {
      const RibDraft& other = draft.ribs[posts[j].rib];
      if (posts[j].rib <= posts[i].rib || other.run.family != rib.run.family) continue;
      const Vec2 way = other.run.line.point(posts[j].x) - from;
      const double along = std::abs(way.dot(rib.run.line.along));
      if (along >= least || way.norm() > 1.6 * draft.request().rib_spacing_m) continue;
      if (meets_a_post(draft, posts, posts[i], posts[j])) continue;
      best = &posts[j];
      best_index = j;
      least = along;
    }
    if (best == nullptr) continue;
    row[best_index] = row[i];
    const auto r = static_cast<std::size_t>(row[i]);
    if (done[r] > draft.design.pairs || !tall(posts[i], *best)) continue;
    ++done[r];
    brace(draft, posts[i], *best);
  }
}

bool named_in(const std::vector<std::string>& feet, const std::string& id) {
  return std::ranges::find(feet, id) != feet.end();
}

}  // namespace

void set_posts(CentringDraft& draft) {
  const CentringRequest& request = draft.request();
  int direct = 0;
  for (const RibDraft& rib : draft.ribs) {
    for (std::size_t i = 0; i < rib.rib.feet.size(); ++i) {
      const double x = rib.rib.feet[i];
      const Vec2 plan = rib.run.line.point(x);
      CentringFoot foot;
      foot.id = rib.rib.id + "-" + std::to_string(i + 1);
      foot.rib = rib.rib.id;
      foot.at = {plan.x(), plan.y(), request.ground_level_m};
      foot.head = {plan.x(), plan.y(), height(rib.rib.bottom, x)};
      foot.down_m = CentringRequest::kDownShare * request.travel_m;
      foot.up_m = request.travel_m - foot.down_m;
      foot.held = named_in(draft.design.held, foot.id);
      foot.held_down = named_in(draft.design.held_down, foot.id);
      const double floor = draft.floor_m();
      if (foot.head.z() - floor >= kLeastPost) {
        foot.post = static_cast<int>(draft.out.sticks.size());
        draft.out.sticks.push_back({"P" + foot.id.substr(1),
                                    "post",
                                    {plan.x(), plan.y(), floor},
                                    foot.head,
                                    request.post_m,
                                    request.post_m});
      } else {
        ++direct;
      }
      draft.out.feet.push_back(foot);
    }
  }
  if (direct > 0) {
    draft.out.remarks.push_back(
        std::to_string(direct) + " of " + std::to_string(draft.out.feet.size()) +
        " feet have no room for a post: the rib bears on its " + request.feet + " and packs");
  }
}

void set_braces(CentringDraft& draft) {
  const std::vector<Post> posts = posts_of(draft);
  brace_along(draft, posts);
  brace_across(draft, posts);
}

}  // namespace skewback
