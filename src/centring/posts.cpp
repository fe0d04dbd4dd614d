// Posts and what they stand on.

#include <algorithm>

#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr double kLeastPost = 0.05;  // m; less room than this has no post

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

}  // namespace skewback
