// The meetings that faults name do what they say.
#include "form/meeting_search.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "form/form.hpp"
#include "form/sample_plans.hpp"

namespace skewback {
namespace {

std::optional<Vec2> named(const std::string& text) {
  std::smatch said;
  if (!std::regex_search(text, said,
                         std::regex(R"re(meeting = \["(-?[\d.]+) m", "(-?[\d.]+) m"\])re")))
    return std::nullopt;
  return Vec2(std::stod(said[1]), std::stod(said[2]));
}

void expect_way_out(Brief brief, const char* found) {
  const auto refused = find_form(brief);
  ASSERT_FALSE(refused);
  const Fault& fault = refused.faults().front();
  EXPECT_THAT(fault.found, testing::HasSubstr(found));
  const auto place = named(fault.change);
  ASSERT_TRUE(place) << fault.change;
  brief.plan.meeting = place;
  const auto form = find_form(brief);
  EXPECT_TRUE(form) << describe(form.faults().front());
}

TEST(MeetingSearch, OneThatEverySupportReaches) {
  Brief brief = sample::wren_leat();
  brief.plan.meeting = Vec2(-2.9, -2);  // far down one leg
  expect_way_out(brief, "leaves the plan");
}

TEST(MeetingSearch, OneOfWhichTheMeshDoesNotFold) {
  Brief brief = sample::wren_leat();
  brief.plan.meeting = Vec2(0.1, -0.9);  // reached by all, and hard by a free edge
  expect_way_out(brief, "a fold of the mesh");
}

}  // namespace
}  // namespace skewback
