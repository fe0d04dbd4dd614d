// Plans of three legs, two of them nearly in line: they get blocks, or a change that gives blocks.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <random>
#include <regex>

#include "brief/by_key.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

std::string with_line(std::string text, const std::string& table, const std::string& line) {
  return text.insert(text.find(table) + table.size(), "\n" + line);
}

/// The brief with what a message about it proposes first, as somebody would write it.
std::string followed(std::string text, const std::string& said) {
  std::smatch found;
  if (std::regex_search(said, found,
                        std::regex("form.edge_distance = (\"\\d+ mm\"): tried|"
                                   "with form.edge_distance = (\"\\d+ mm\")")))
    text = with_line(text, "[form]", "edge_distance = " + found[1].str() + found[2].str());
  if (std::regex_search(said, found, std::regex("plan.fill = ([0-9.]+)")))
    text = with_line(text, "[plan]", "fill = " + found[1].str());
  if (std::regex_search(said, found, std::regex("(meeting = \\[.*\\]) under \\[plan\\]")))
    text = with_line(std::regex_replace(text, std::regex("\nmeeting = [^\n]*"), ""), "[plan]",
                     found[1].str());
  return text;
}

Result<Dossier> cut(const std::string& text) {
  const Result<Brief> brief = read_brief_text(text, "some.toml");
  if (!brief) return brief.faults();
  return run_works(*brief, {0, "cut"}, {});
}

/// Legs to the east, north and west, the meeting left out; free edges of three points between them.
std::string tee(unsigned seed) {
  std::mt19937 engine(seed);
  const auto between = [&](double low, double high) {
    return low + (high - low) * double(engine()) / 4294967296.0;
  };
  const auto log_between = [&](double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  };
  constexpr double kRight = 1.5707963267948966;
  const double size = log_between(4, 12), in_line = between(0.85, 1.0) * 2 * kRight;
  const double bearing[] = {in_line / 2 - kRight, kRight + between(-0.2, 0.2),
                            3 * kRight - in_line / 2};
  const double half = size * between(0.12, 0.2), waist = half * between(0.55, 0.8);
  std::vector<Vec2> a, b;
  for (const double angle : bearing) {
    const Vec2 out(std::cos(angle), std::sin(angle)), left(-out.y(), out.x());
    const double length = size * log_between(0.7, 1.4), wide = half * log_between(0.8, 1.25);
    a.emplace_back(length * out - wide * left);
    b.emplace_back(length * out + wide * left);
  }
  const auto written = [](const Vec2& p) {
    char point[64];
    std::snprintf(point, sizeof point, "[\"%.3f m\", \"%.3f m\"]", p.x(), p.y());
    return std::string(point);
  };
  std::string outline, supports;
  const char* ids[] = {"east", "north", "west"};
  for (std::size_t k = 0; k < 3; ++k) {
    const std::size_t next = (k + 1) % 3;
    const double turn = bearing[next] + (k == 2 ? 4 * kRight : 0) - bearing[k];
    const double middle = bearing[k] + turn / 2;
    const Vec2 corner = waist / std::sin(turn / 2) * Vec2(std::cos(middle), std::sin(middle));
    outline += written(a[k]) + ", " + written(b[k]) + ", ";
    for (const double t : {0.25, 0.5, 0.75})
      outline +=
          written((1 - t) * (1 - t) * b[k] + 2 * t * (1 - t) * corner + t * t * a[next]) + ", ";
    supports += std::string("[[plan.support]]\nid = \"") + ids[k] + "\"\nends = [" + written(a[k]) +
                ", " + written(b[k]) + "]\n\n";
  }
  char rest[600];
  std::snprintf(rest, sizeof rest,
                "[form]\nrise = \"%.3f m\"\nmesh_size = \"%.3f m\"\n\n[section]\n"
                "depth_crown = \"%.3f m\"\ndepth_springing = \"%.3f m\"\n\n[material]\n"
                "density = \"2400 kg/m3\"\nstrength = \"40 MPa\"\n\n[blocks]\n"
                "mass_max = \"%.0f kg\"\nlength = \"%.3f m\"\n\n[joints]\nfriction = 0.6\n"
                "pad_thickness = \"8 mm\"\n\n[loads]\npeople = \"5 kPa\"\n",
                size * log_between(0.18, 0.35), size / 26, size * 0.04, size * 0.05,
                100 * half * size * size, size / 9);
  return "[bridge]\nname = \"tee\"\n\n[plan]\noutline = [" + outline + "]\n\n" + supports + rest;
}

void expect_blocks_or_a_change_that_gives_them(const std::string& text) {
  const Result<Dossier> drawn = cut(text);
  if (drawn) {
    EXPECT_GT(drawn->cut->assembly.blocks.size(), 10u);
    return;
  }
  const std::string said = drawn.faults().front().change;
  const std::string changed = followed(text, said);
  ASSERT_NE(changed, text) << describe(drawn.faults().front());
  const Result<Dossier> after = cut(changed);
  EXPECT_TRUE(after) << said << "\n" << describe(after.faults().front());
}

class Tee : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, Tee, testing::Range(1u, 11u));

TEST_P(Tee, GetsBlocksOrAChangeThatGivesThem) {
  expect_blocks_or_a_change_that_gives_them(tee(GetParam()));
}

// Its north leg leans on two in line, whose thrust has to bend round the corners: no edge distance
// makes room for that.
TEST(CherryWalk, ItsCornersAreToBeFilledAndThenItHasBlocks) {
  const auto file =
      std::filesystem::path(SKEWBACK_SOURCE_DIR) / "tests/whole/plans/cherry-walk.toml";
  const std::string text = text_of_brief(file).value();
  const Result<Dossier> drawn = cut(text);
  ASSERT_FALSE(drawn);
  const Fault& fault = drawn.faults().front();
  EXPECT_NE(fault.found.find("crosses itself at ("), std::string::npos) << fault.found;
  std::smatch said;
  ASSERT_TRUE(std::regex_search(fault.change, said, std::regex("^plan.fill = ([0-9.]+)")))
      << fault.change;
  const Result<Dossier> after = cut(followed(text, fault.change));
  ASSERT_TRUE(after) << describe(after.faults().front());
  EXPECT_TRUE(after->cut->report.watertight);
  // the least: a step less does not help
  std::string less = followed(text, fault.change);
  char step[32];
  std::snprintf(step, sizeof step, "fill = %.2f", std::stod(said[1]) - 0.05);
  less = std::regex_replace(less, std::regex("fill = [0-9.]+"), step);
  const Result<Dossier> short_of_it = cut(less);
  ASSERT_FALSE(short_of_it);
  EXPECT_EQ(short_of_it.faults().front().key, "body");
}

}  // namespace
}  // namespace skewback
