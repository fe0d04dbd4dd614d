#include <iostream>
#include <nlohmann/json.hpp>

#include "brief/brief.hpp"
#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/table.hpp"
#include "works/works.hpp"

namespace skewback::cli {
namespace {

nlohmann::ordered_json points_json(const std::vector<Vec2>& points) {
  auto list = nlohmann::ordered_json::array();
  for (const Vec2& p : points) list.push_back({p.x(), p.y()});
  return list;
}

nlohmann::ordered_json plan_json(const Brief& brief) {  // metres
  const Plan& plan = brief.plan;
  nlohmann::ordered_json out = {{"outline", points_json(plan.outline)}};
  for (const char* key : {"supports", "openings", "walking_lines"})
    out[key] = nlohmann::ordered_json::array();
  for (const Support& s : plan.supports)
    out["supports"].push_back(
        {{"id", s.id}, {"ends", points_json({s.a, s.b})}, {"level", s.level_m}});
  for (const Polygon& opening : plan.openings) out["openings"].push_back(points_json(opening));
  for (const auto& line : brief.walkway.lines) out["walking_lines"].push_back(points_json(line));
  if (plan.meeting) out["meeting"] = {plan.meeting->x(), plan.meeting->y()};
  if (plan.second_meeting)
    out["second_meeting"] = {plan.second_meeting->x(), plan.second_meeting->y()};
  return out;
}

}  // namespace

int check_command(const CheckOptions& options) {
  const Result<Brief> read = read_brief(options.brief);
  if (!read) {
    print_faults(read.faults(), options.json);
    return kBadInput;
  }
  if (const auto faults = survey_faults(*read)) {
    print_faults(*faults, options.json);
    return kBadInput;
  }
  const Plan& plan = read->plan;
  const double whole = area(Region{plan.outline, plan.openings});
  if (options.json) {
    auto supports = nlohmann::ordered_json::array();
    for (const Support& s : plan.supports)
      supports.push_back({{"id", s.id}, {"length_m", (s.b - s.a).norm()}});
    const nlohmann::ordered_json out = {
        {"ok", true},           {"name", read->name},       {"plan_area_m2", whole},
        {"supports", supports}, {"plan", plan_json(*read)}, {"faults", nlohmann::json::array()}};
    std::cout << out.dump(2) << "\n";
    return kDone;
  }
  Vec2 low = plan.outline.front(), high = low;
  for (const Vec2& p : plan.outline) low = low.cwiseMin(p), high = high.cwiseMax(p);
  const Vec2 size = high - low;
  std::cout << options.brief.string() << ": no faults.\n"
            << read->title << ": " << fixed(whole, 2) << " m2 in plan, " << fixed(size.x(), 2)
            << " x " << fixed(size.y(), 2) << " m over all, springing lines";
  for (std::size_t k = 0; k < plan.supports.size(); ++k)
    std::cout << (k == 0 ? " " : ", ") << plan.supports[k].id << " "
              << fixed((plan.supports[k].b - plan.supports[k].a).norm(), 2) << " m";
  std::cout << ".\nWhether such a bridge can stand is what `skewback run` finds out.\n";
  return kDone;
}

}  // namespace skewback::cli
