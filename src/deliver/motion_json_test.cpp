#include "deliver/motion_json.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "assembly/sample_arch.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::json;

RecordedMotion moved(const Assembly& arch, int threads, int frames = 5) {
  RecordedMotion r;
  r.assembly = &arch;
  r.load = &arch.cases[0];
  r.options.threads = threads;
  r.options.frames = frames;
  r.scene.removals = {{3, 0.1}};
  r.words = {"a block is taken away"};
  r.motion = let_go(arch, *r.load, r.scene, r.options);
  return r;
}

TEST(MotionFile, ReadsBackBitForBit) {
  const Assembly arch = sample::arch_assembly({});
  const RecordedMotion r = moved(arch, 1);
  ASSERT_EQ(r.motion.ending, Ending::kMovingOff);
  const Json file = Json::parse(motion_json(r));
  EXPECT_EQ(file["format"], "recorded motion");
  EXPECT_EQ(file["case"]["id"], arch.cases[0].id);
  EXPECT_EQ(file["ending"], "moving off");
  EXPECT_EQ(file["time_s"].get<double>(), r.motion.time_s);
  EXPECT_EQ(file["energy_j"]["brought"].get<double>(), r.motion.energy.brought);
  EXPECT_EQ(file["scene"]["removals"][0]["block"], arch.blocks[3].id);
  ASSERT_EQ(file["joints"].size(), arch.joints.size());
  EXPECT_EQ(file["joints"][1]["normal_n"].get<double>(), r.motion.joints[1].normal_n);
  ASSERT_EQ(file["frames"].size(), r.motion.frames.size());
  ASSERT_GE(r.motion.frames.size(), 5U);
  for (std::size_t k = 0; k < r.motion.frames.size(); ++k) {
    const MotionFrame& frame = r.motion.frames[k];
    EXPECT_EQ(file["frames"][k]["time_s"].get<double>(), frame.time_s);
    for (std::size_t b = 0; b < frame.blocks.size(); ++b) {
      const BlockPose& p = frame.blocks[b];
      const auto pose = file["frames"][k]["poses"][b].get<std::vector<double>>();
      const std::vector<double> wanted{p.centre.x(), p.centre.y(), p.centre.z(), p.turn.w(),
                                       p.turn.x(),   p.turn.y(),   p.turn.z()};
      EXPECT_EQ(pose, wanted);
    }
  }
}

TEST(MotionFile, OneFrameALine) {
  const Assembly arch = sample::arch_assembly({});
  const RecordedMotion r = moved(arch, 1);
  const std::string text = motion_json(r);
  std::size_t frames = 0;
  for (std::size_t at = text.find("\n    {\"time_s\""); at != std::string::npos;
       at = text.find("\n    {\"time_s\"", at + 1)) {
    const std::size_t end = text.find('\n', at + 1);
    std::string line = text.substr(at + 1, end - at - 1);
    if (line.back() == ',') line.pop_back();
    EXPECT_TRUE(Json::accept(line));
    ++frames;
  }
  EXPECT_EQ(frames, r.motion.frames.size());
}

TEST(MotionFile, TheSameBytesOnAnyNumberOfThreads) {
  sample::Arch shape;
  shape.voussoirs = 41;  // enough points for several threads
  shape.thickness = 0.8;
  Assembly arch = sample::arch_assembly(shape);
  RecordedMotion one, three;
  for (const auto& [record, threads] : {std::pair{&one, 1}, {&three, 3}}) {
    record->assembly = &arch;
    record->load = &arch.cases[0];
    record->options.edge_share = 0.1;
    record->options.steps_most = 500;
    record->options.threads = threads;
    record->motion = let_go(arch, *record->load, {}, record->options);
  }
  ASSERT_GT(one.motion.points, 6000);  // 2000 a thread
  EXPECT_EQ(motion_json(one), motion_json(three));
}

TEST(MotionFile, FiguresOfACaseNameItsBlock) {
  const Assembly arch = sample::arch_assembly({});
  const RecordedMotion r = moved(arch, 1);
  const Json figures = Json::parse(motion_figures_json({r}));
  EXPECT_EQ(figures["ok"], false);
  const Json& one = figures["cases"][0];
  EXPECT_EQ(one["moved_block"], arch.blocks[static_cast<std::size_t>(r.motion.moved_block)].id);
  EXPECT_EQ(one["moved_max_m"].get<double>(), r.motion.moved_max_m);
  EXPECT_NE(motion_words(r).find("MOVES OFF"), std::string::npos);
}

TEST(MotionSheet, SixTimesFromStartToEnd) {
  const Assembly arch = sample::arch_assembly({});
  const RecordedMotion r = moved(arch, 1, 40);
  const Sheet sheet = motion_sheet(r, {297, 210});
  std::vector<std::string> times;
  for (const auto& item : sheet.items) {
    const auto* words = std::get_if<Words>(&item);
    if (words != nullptr && words->bold && words->text.ends_with(" s"))
      times.push_back(words->text);
    if (words != nullptr) {
      EXPECT_GE(words->at.x(), 0);
      EXPECT_LE(words->at.y(), 210);
    }
  }
  EXPECT_EQ(times.size(), 6U);
  EXPECT_EQ(times.front(), "0 s");
  EXPECT_NE(svg(sheet).find("Movements as large as they are"), std::string::npos);
}

// By hand: of an arch of 6.45 m over all that moves 0.18 mm, 4 % of the width is 258 mm or about
// 1,400 times as much: 1,000 is the round number below.
TEST(MotionSheet, SmallMovementsAreDrawnLargerAndItSaysSo) {
  const Assembly arch = sample::arch_assembly({});
  RecordedMotion r;
  r.assembly = &arch;
  r.load = &arch.cases[0];
  r.motion = let_go(arch, *r.load, {}, r.options);
  ASSERT_EQ(r.motion.ending, Ending::kAtRest);
  EXPECT_NE(svg(motion_sheet(r, {297, 210})).find("drawn 1000 times larger"), std::string::npos);
}

}  // namespace
}  // namespace skewback::deliver
