// The plan drawn in another file: what its lines are called says what they are.

#include <algorithm>
#include <cmath>
#include <map>

#include "brief/checks.hpp"
#include "brief/drawing.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr std::size_t kMostPoints = 20000;  // of one line

struct Chain {
  std::vector<Vec2> line;
  bool closed = false;
  const Drawn* first = nullptr;
};

/// Drawn a second time, from its other end perhaps: programs for drawing leave such copies behind.
bool is_copy(const Drawn& a, const Drawn& b) {
  const auto near = [](const Vec2& p, const Vec2& q) { return (p - q).norm() < kOn; };
  return a.closed == b.closed &&
         (std::equal(a.line.begin(), a.line.end(), b.line.begin(), b.line.end(), near) ||
          std::equal(a.line.begin(), a.line.end(), b.line.rbegin(), b.line.rend(), near));
}

class PlanFile {
 public:
  PlanFile(Draft& draft, std::string file) : draft_(draft), file_(std::move(file)) {}

  bool take(const Drawing& drawing) {
    const std::size_t before = draft_.faults.size();
    walks_in_brief_ = draft_.spots.contains("walkway.lines");
    openings_in_brief_ = draft_.spots.contains("plan.openings");
    for (const Drawn& drawn : drawing) {
      if (!by_role_.contains(drawn.role)) order_.push_back(drawn.role);
      std::vector<const Drawn*>& others = by_role_[drawn.role];
      const auto same = [&](const Drawn* other) { return is_copy(*other, drawn); };
      if (std::none_of(others.begin(), others.end(), same)) others.push_back(&drawn);
    }
    take_outline();
    for (const std::string& role : order_) {
      if (role.starts_with("support-")) take_support(role);
      if (role.starts_with("opening")) take_openings(role);
      if (role.starts_with("walk")) take_walk(role);
      if (role == "meeting") take_meeting(role);
    }
    if (!draft_.spots.contains("plan.free_edges")) draft_.free_edges = "straight";  // as drawn
    return draft_.faults.size() == before;
  }

 private:
  [[nodiscard]] Spot spot(const Drawn& drawn) const {
    return {drawn.line_number, 0, file_, drawn.element};
  }
  void place(const std::string& key, const Drawn& drawn) {
    draft_.spots[key] = spot(drawn);
    draft_.sound[key] = true;
  }
  void fault(const Drawn& drawn, const std::string& found, const std::string& expected,
             const std::string& change) {
    draft_.faults.push_back({file_, drawn.line_number, 0, drawn.element, found, expected, change});
  }

  // A key that the brief gives as well as the drawing.
  bool twice(const std::string& key, const std::string& what) {
    if (!draft_.spots.contains(key)) return false;
    draft_.fault(key, "this and " + what + " in " + file_, "one of them", "take one out");
    return true;
  }

  // Pieces joined where their ends meet, each chain in the direction of its first piece.
  std::vector<Chain> chains(const std::string& role) {
    std::vector<Chain> all;
    std::vector<const Drawn*> open;
    for (const Drawn* drawn : by_role_[role]) {
      if (drawn->closed || drawn->line.size() == 1)
        all.push_back({drawn->line, drawn->closed, drawn});
      else
        open.push_back(drawn);
    }
    while (!open.empty()) {
      Chain chain{open.front()->line, false, open.front()};
      open.erase(open.begin());
      while (extend(chain, open)) {
      }
      std::reverse(chain.line.begin(), chain.line.end());
      while (!chain.closed && extend(chain, open)) {
      }
      std::reverse(chain.line.begin(), chain.line.end());
      all.push_back(std::move(chain));
    }
    for (Chain& chain : all) tidy(chain);
    return all;
  }

  bool extend(Chain& chain, std::vector<const Drawn*>& open) {
    const Vec2 end = chain.line.back();
    if (chain.line.size() > 2 && (end - chain.line.front()).norm() < kOn) {
      chain.line.pop_back();
      chain.closed = true;
      return false;
    }
    const auto touches = [&](const Drawn* d) {
      return (d->line.front() - end).norm() < kOn || (d->line.back() - end).norm() < kOn;
    };
    const auto next = std::find_if(open.begin(), open.end(), touches);
    if (next == open.end()) return false;
    if (std::find_if(next + 1, open.end(), touches) != open.end()) {
      fault(**next, "lines that fork at " + place_text(end), "lines that go on one way",
            "take the doubled line out");
      return false;
    }
    std::vector<Vec2> more = (*next)->line;
    if ((more.front() - end).norm() >= kOn) std::reverse(more.begin(), more.end());
    chain.line.insert(chain.line.end(), more.begin() + 1, more.end());
    open.erase(next);
    return true;
  }

  // Points drawn twice are one.
  void tidy(Chain& chain) {
    constexpr double kSame = 1e-6;  // m
    const auto same = [](const Vec2& a, const Vec2& b) { return (a - b).norm() < kSame; };
    auto& line = chain.line;
    line.erase(std::unique(line.begin(), line.end(), same), line.end());
    if (chain.closed && line.size() > 1 && same(line.front(), line.back())) line.pop_back();
    if (line.size() > kMostPoints) {
      fault(*chain.first, std::to_string(line.size()) + " points",
            "at most " + std::to_string(kMostPoints), "draw it with fewer");
      line.clear();
    }
  }

  void take_outline() {
    if (twice("plan.outline", "an outline")) return;
    const auto all = chains("outline");
    if (all.empty()) {
      std::string found;
      for (const std::string& role : order_) found += (found.empty() ? "" : ", ") + role;
      draft_.faults.push_back(
          {file_, 0, 0, "outline",
           found.empty() ? "nothing that has a name" : "only " + printable(found),
           "a closed line called outline",
           "put the outline on a layer, group or element called outline"});
      return;
    }
    const Chain& chain = all.front();
    if (!chain.closed)
      return fault(*chain.first,
                   "an outline that is open between " + place_text(chain.line.back()) + " and " +
                       place_text(chain.line.front()) + ", " +
                       metres((chain.line.back() - chain.line.front()).norm()) + " apart",
                   "a closed outline", "join the ends there");
    if (all.size() > 1)
      return fault(*all[1].first, std::to_string(all.size()) + " lines called outline", "one",
                   "call the others opening-1 and so on, or join them");
    draft_.outline = chain.line;
    place("plan.outline", *chain.first);
  }

  void take_support(const std::string& role) {
    const auto all = chains(role);
    const Chain& chain = all.front();
    if (all.size() > 1 || chain.closed)
      return fault(*all.back().first,
                   all.size() > 1 ? "two lines called " + printable(role) : "a closed line",
                   "one open line from end to end of the springing", "draw it once");
    const std::string id = role.substr(8);
    const auto written = std::find_if(draft_.supports.begin(), draft_.supports.end(),
                                      [&](const SupportDraft& s) { return role_name(s.id) == id; });
    const auto index = static_cast<std::size_t>(written - draft_.supports.begin());
    const std::string key = numbered("plan.support", index);
    for (const char* own : {".ends", ".at", ".between"})
      if (twice(key + own, role)) return;
    if (written == draft_.supports.end()) {
      draft_.supports.push_back({});
      draft_.supports.back().id = id;
      draft_.spots[key] = spot(*chain.first);
    }
    SupportDraft& support = draft_.supports[index];
    if (chain.line.size() == 1) {
      support.at = chain.line.front();
      place(key + ".at", *chain.first);
    } else {
      const bool drawn_straight = chain.line.size() == 2;
      (drawn_straight ? support.ends : support.between) = {chain.line.front(), chain.line.back()};
      place(key + (drawn_straight ? ".ends" : ".between"), *chain.first);
    }
  }

  void take_openings(const std::string& role) {
    for (const Chain& chain : chains(role)) {
      if (!chain.closed) {
        fault(*chain.first, "an open line", "a closed one round the opening", "close it");
        continue;
      }
      draft_.openings.push_back(chain.line);
      draft_.spots[numbered("plan.openings", draft_.openings.size() - 1)] = spot(*chain.first);
      if (!openings_in_brief_) draft_.sound["plan.openings"] = true;
    }
  }

  void take_walk(const std::string& role) {
    if (walks_in_brief_ && twice("walkway.lines", role)) return;
    for (const Chain& chain : chains(role)) {
      if (chain.closed || chain.line.size() < 2) {
        fault(*chain.first, "no open line", "an open line to walk along", "draw it open");
        continue;
      }
      auto& lines = draft_.brief.walkway.lines;
      lines.push_back(chain.line);
      place("walkway.lines", *chain.first);
      draft_.spots[numbered("walkway.lines", lines.size() - 1)] = spot(*chain.first);
    }
  }

  void take_meeting(const std::string& role) {
    if (twice("plan.meeting", role)) return;
    const auto& drawn = by_role_[role];
    if (drawn.size() > 2)
      return fault(*drawn.back(), "a third", "one point, or a circle about it; two for a spine",
                   "take one out");
    for (const Drawn* one : drawn)
      if (one->line.size() > 1 && !one->closed)
        return fault(*one, "a line", "one point, or a circle about it", "draw it so");
    const auto middle = [](const Drawn& one) {
      Vec2 sum = Vec2::Zero();
      for (const Vec2& p : one.line) sum += p / static_cast<double>(one.line.size());
      return sum;
    };
    draft_.brief.plan.meeting = middle(*drawn.front());
    if (drawn.size() > 1) draft_.brief.plan.second_meeting = middle(*drawn.back());
    place("plan.meeting", *drawn.front());
  }

  Draft& draft_;
  std::string file_;
  bool walks_in_brief_ = false, openings_in_brief_ = false;
  std::map<std::string, std::vector<const Drawn*>> by_role_;
  std::vector<std::string> order_;
};

}  // namespace

std::filesystem::path beside_brief(const Draft& draft, const std::string& written) {
  return draft.brief.file.parent_path() / written;
}

bool take_plan_file(Draft& draft) {
  const std::filesystem::path file = beside_brief(draft, draft.plan_file);
  const Result<Drawing> drawing = read_drawing(file, draft.plan_file_unit);
  if (drawing) return PlanFile(draft, file.string()).take(*drawing);
  draft.take_faults_of("plan.file", drawing.faults());
  return false;
}

}  // namespace skewback
