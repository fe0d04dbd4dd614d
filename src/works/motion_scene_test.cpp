#include "works/motion_scene.hpp"

#include <gtest/gtest.h>

#include <fstream>

#include "base/constants.hpp"

namespace skewback {
namespace {

/// Two cubes of stone beside one another on a slab.
Assembly two_cubes() {
  Assembly out;
  const auto add = [&](const std::string& id, const Solid& solid, bool fixed) {
    Block block;
    block.id = id;
    block.solid = solid;
    block.density = 2400;
    block.fixed = fixed;
    out.blocks.push_back(block);
  };
  add("ground-west", box({-1, -1, -1}, {2, 2, 0}), true);
  add("west-01", box({0, 0, 0}, {1, 1, 1}), false);
  add("key", box({1.2, 0, 0}, {1.8, 1, 1}), false);
  measure(out);
  out.joints = detect_joints(out.blocks, 0.6);
  return out;
}

Result<MotionScene> read(const std::string& text) {
  return read_motion_scene_text(text, "/tmp/skewback-scene-test/scene.toml", two_cubes());
}

void expect_fault(const std::string& text, int line, const std::string& key,
                  const std::string& found, const std::string& expected) {
  const auto scene = read(text);
  ASSERT_FALSE(scene.ok()) << text;
  for (const Fault& fault : scene.faults()) {
    if (fault.key != key) continue;
    EXPECT_EQ(fault.line, line) << describe(fault);
    EXPECT_NE(fault.found.find(found), std::string::npos) << describe(fault);
    EXPECT_NE((fault.expected + fault.change).find(expected), std::string::npos) << describe(fault);
    return;
  }
  ADD_FAILURE() << "no fault of " << key << " but " << describe(scene.faults().front());
}

TEST(MotionScene, EveryKeyComesInSi) {
  const auto read_scene = read(R"(
[loads]
factor = 1.35
put_on = "200 ms"
[[ground]]
support = "west"
shift = ["5 mm", "0 mm", "-14 mm"]
turn = "0.4 degrees"
axis = [0, 2, 0]
about = ["1 m", "50 cm", "0 m"]
from = "0.5 s"
over = "1 min"
[[removal]]
block = "key"
at = "1.5 s"
[[drop]]
block = "west-01"
point = ["25 cm", "0.5 m", "1 m"]
mass = "100 kg"
height = "500 mm"
at = "2 s"
stiffness = "2e4 kN/m"
[damping]
purpose = "settling"
share = 0.5
[end]
time = "10 s"
steps = 5000
far = "30 cm"
[contacts]
friction = 0.55
find_again = false
)");
  ASSERT_TRUE(read_scene.ok()) << describe(read_scene.faults().front());
  const Scene& s = read_scene->scene;
  const MotionOptions& o = read_scene->options;
  EXPECT_DOUBLE_EQ(s.load_factor, 1.35);
  EXPECT_DOUBLE_EQ(o.put_on_s, 0.2);
  ASSERT_EQ(s.moves.size(), 1U);
  EXPECT_EQ(s.moves[0].block, 0);
  EXPECT_LT((s.moves[0].shift - Vec3(0.005, 0, -0.014)).norm(), 1e-15);
  EXPECT_LT((s.moves[0].turn - Vec3(0, 0.4 * kPi / 180, 0)).norm(), 1e-15);
  EXPECT_LT((s.moves[0].about - Vec3(1, 0.5, 0)).norm(), 1e-15);
  EXPECT_DOUBLE_EQ(s.moves[0].from_s, 0.5);
  EXPECT_DOUBLE_EQ(s.moves[0].over_s, 60);
  ASSERT_EQ(s.removals.size(), 1U);
  EXPECT_EQ(s.removals[0].block, 2);
  EXPECT_DOUBLE_EQ(s.removals[0].at_s, 1.5);
  ASSERT_EQ(s.drops.size(), 1U);
  EXPECT_EQ(s.drops[0].block, 1);
  EXPECT_LT((s.drops[0].point - Vec3(0.25, 0.5, 1)).norm(), 1e-12);
  EXPECT_LT((s.drops[0].up - Vec3(0, 0, 1)).norm(), 1e-12);
  EXPECT_DOUBLE_EQ(s.drops[0].mass_kg, 100);
  EXPECT_DOUBLE_EQ(s.drops[0].height_m, 0.5);
  EXPECT_DOUBLE_EQ(s.drops[0].kn, 2e7);
  EXPECT_EQ(o.damping, Damping::kSettling);
  EXPECT_TRUE(read_scene->damping_given);
  EXPECT_DOUBLE_EQ(o.settling, 0.5);
  EXPECT_DOUBLE_EQ(o.time_most_s, 10);
  EXPECT_EQ(o.steps_most, 5000);
  EXPECT_DOUBLE_EQ(o.far_m, 0.3);
  ASSERT_TRUE(s.friction.has_value());
  EXPECT_DOUBLE_EQ(*s.friction, 0.55);
  EXPECT_FALSE(o.find_again);
  EXPECT_EQ(read_scene->words.size(), 5U);
}

TEST(MotionScene, WhatIsLeftOutIsSettled) {
  const auto empty = read("");
  ASSERT_TRUE(empty.ok());
  EXPECT_EQ(empty->options.damping, Damping::kSettling);
  const auto dropped = read("[[drop]]\nblock = \"key\"\nmass = \"1 t\"\nheight = \"1 m\"\n");
  ASSERT_TRUE(dropped.ok()) << describe(dropped.faults().front());
  EXPECT_EQ(dropped->options.damping, Damping::kRocking);  // something happens at once
  EXPECT_FALSE(dropped->damping_given);
  EXPECT_LT((dropped->scene.drops[0].point - Vec3(1.5, 0.5, 1)).norm(), 1e-12);
  // a turn is about the middle of what rests on the ground: 1 m2 about (0.5, 0.5), 0.6 about 1.5
  const auto turned = read("[[ground]]\nblock = \"ground-west\"\nturn = \"1 degree\"\n");
  ASSERT_TRUE(turned.ok());
  EXPECT_NEAR(turned->scene.moves[0].about.x(), (1 * 0.5 + 0.6 * 1.5) / 1.6, 1e-9);
  EXPECT_NEAR(turned->scene.moves[0].about.z(), 0, 1e-9);
}

TEST(MotionScene, BlowsHaveShorterStepsUnlessOneIsGiven) {
  const std::string removal = "[[removal]]\nblock = \"key\"\nat = \"1 s\"\n";
  EXPECT_DOUBLE_EQ(read("")->options.step_share, 0.8);
  EXPECT_DOUBLE_EQ(read(removal)->options.step_share, 0.4);
  EXPECT_DOUBLE_EQ(read(removal + "[end]\nstep = 0.2\n")->options.step_share, 0.2);
  expect_fault("[end]\nstep = 1\n", 2, "end.step", "1", "0.95");
  expect_fault(removal + "[end]\ntime = \"1 s\"\n", 5, "end.time", "happens at 1 s", "later");
}

TEST(MotionScene, FaultsNameLineAndKey) {
  expect_fault("[loads]\nfactr = 1\n", 2, "loads.factr", "unknown", "did you mean \"factor\"");
  expect_fault("[wind]\n", 1, "wind", "unknown", "removal");
  expect_fault("[loads]\nfactor = \"1\"\n", 2, "loads.factor", "\"1\"", "a number");
  expect_fault("[loads]\nfactor = -1\n", 2, "loads.factor", "-1", "at least 0");
  expect_fault("[loads]\nfactor = nan\n", 2, "loads.factor", "nan", "at least 0");
  expect_fault("[loads]\nput_on = 2\n", 2, "loads.put_on", "bare number 2", "a time");
  expect_fault("[[removal]]\nblock = \"kex\"\n", 2, "removal[1].block", "\"kex\"",
               "did you mean \"key\"");
  expect_fault("[[removal]]\nblock = \"key\"\nat = \"-1 s\"\n", 3, "removal[1].at", "-1 s",
               "at least 0 s");
  expect_fault("[[removal]]\nblock = \"key\"\nat = \"1 m\"\n", 3, "removal[1].at", "1 m", "a time");
  expect_fault("[[removal]]\nat = \"1 s\"\n", 1, "removal[1].block", "nothing", "name of a block");
  expect_fault("[[removal]]\nblock = \"key\"\n[[removal]]\nblock = \"key\"\n", 4,
               "removal[2].block", "twice", "one removal");
  expect_fault(
      "[[removal]]\nblock = \"key\"\nat = \"1 s\"\n[[drop]]\nblock = \"key\"\nmass = \"1 t\"\n"
      "height = \"1 m\"\nat = \"1 s\"\n",
      5, "drop[1].block", "taken away at 1 s", "let fall, at 1 s");
  expect_fault("removal = 3\n", 1, "removal", "3", "[[removal]]");
  expect_fault("[[ground]]\nblock = \"key\"\nshift = [\"1 mm\", \"0 mm\", \"0 mm\"]\n", 2,
               "ground[1].block", "free", "only the ground");
  expect_fault("[[ground]]\nsupport = \"north\"\nturn = \"1 degree\"\n", 2, "ground[1].support",
               "north", "west");
  expect_fault("[[ground]]\nsupport = \"west\"\n", 1, "ground[1]", "neither", "where");
  expect_fault("[[ground]]\nsupport = \"west\"\nshift = [\"1 mm\", \"0 mm\"]\n", 3,
               "ground[1].shift", "a list of 2", "three");
  expect_fault("[[ground]]\nsupport = \"west\"\nshift = [\"1 mm\", \"0 mm\", 3]\n", 3,
               "ground[1].shift[3]", "3", "a length");
  expect_fault("[[ground]]\nshift = [\"1 mm\", \"0 mm\", \"0 mm\"]\n", 1, "ground[1].support",
               "neither", "one of them");
  expect_fault("[[ground]]\nsupport = \"west\"\nturn = \"1 degree\"\naxis = [0, 0, 0]\n", 4,
               "ground[1].axis", "no direction", "not all 0");
  expect_fault("[[drop]]\nblock = \"key\"\nheight = \"1 m\"\n", 1, "drop[1].mass", "nothing",
               "a mass");
  expect_fault("[[drop]]\nblock = \"key\"\nmass = \"1 kg\"\nheight = \"1 m\"\npoint = \"middle\"\n",
               5, "drop[1].point", "middle", "top middle");
  expect_fault(
      "[[drop]]\nblock = \"key\"\nmass = \"1 kg\"\nheight = \"1 m\"\n"
      "point = [\"1.5 m\", \"0.5 m\", \"1.2 m\"]\n",
      5, "drop[1].point", "0.2 m off", "1.5, 0.5, 1");
  expect_fault(
      "[[drop]]\nblock = \"key\"\nmass = \"1 kg\"\nheight = \"1 m\"\n"
      "point = [\"1.2 m\", \"0.5 m\", \"0.5 m\"]\n",
      5, "drop[1].point", "does not look up", "top");
  expect_fault("[[drop]]\nblock = \"ground-west\"\nmass = \"1 kg\"\nheight = \"1 m\"\n", 2,
               "drop[1].block", "fixed", "free");
  expect_fault("[damping]\npurpose = \"rock\"\n", 2, "damping.purpose", "rock", "rocking");
  expect_fault("[damping]\npurpose = \"none\"\nshare = 0.5\n", 3, "damping.share", "no damping",
               "take it out");
  expect_fault("[damping]\nshare = 1\n", 2, "damping.share", "1", "up to 0.95");
  expect_fault("[end]\nsteps = 0\n", 2, "end.steps", "0", "whole number");
  expect_fault("[end]\ntime = \"0 s\"\n", 2, "end.time", "0 s", "over 0 s");
  expect_fault("[contacts]\nfind_again = 1\n", 2, "contacts.find_again", "1", "true or false");
  expect_fault("[shaking]\nscale = 2\n", 1, "shaking.file", "nothing", "accelerations");
}

TEST(MotionScene, AllFaultsAtOnceInTheirOrder) {
  const auto scene = read("[loads]\nfactor = -1\n[[removal]]\nblock = \"x\"\nat = \"-1 s\"\n[x]\n");
  ASSERT_FALSE(scene.ok());
  ASSERT_EQ(scene.faults().size(), 4U);
  for (std::size_t i = 1; i < 4; ++i) EXPECT_LE(scene.faults()[i - 1].line, scene.faults()[i].line);
}

TEST(MotionScene, NoTextOfThisKind) {
  EXPECT_FALSE(read("[loads\n").ok());
  EXPECT_FALSE(read("a = \"\xff\"\n").ok());
  EXPECT_FALSE(read_motion_scene("/nowhere/at/all.toml", two_cubes()).ok());
  EXPECT_FALSE(read_motion_scene("/tmp", two_cubes()).ok());
}

TEST(MotionScene, ShakingLiesBesideTheSceneAndIsScaled) {
  const auto folder = std::filesystem::temp_directory_path() / "skewback-scene-test";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "push.csv") << "# words\n0, 0, 0, 0\n0.5, 1, 0, 0\n1, 0, 0, 0\n";
  const auto shaken = read("[shaking]\nfile = \"push.csv\"\nscale = 2\n");
  ASSERT_TRUE(shaken.ok()) << describe(shaken.faults().front());
  ASSERT_EQ(shaken->scene.shaking.time_s.size(), 3U);
  EXPECT_DOUBLE_EQ(shaken->scene.shaking.acceleration[1].x(), 2);
  EXPECT_EQ(shaken->options.damping, Damping::kRocking);
  std::ofstream(folder / "bad.csv") << "0, 0, 0, 0\n0.5, x, 0, 0\n";
  const auto bad = read("[shaking]\nfile = \"bad.csv\"\n");
  ASSERT_FALSE(bad.ok());
  EXPECT_EQ(bad.faults()[0].line, 2);
  EXPECT_NE(bad.faults()[0].file.find("bad.csv"), std::string::npos);
}

}  // namespace
}  // namespace skewback
