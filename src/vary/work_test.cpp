#include <gtest/gtest.h>

#include <atomic>
#include <set>

#include "vary/sample_vary.hpp"

namespace skewback {
namespace {

using Work = VaryFolder;

/// Ten runs, each of which finds the square of its number, and what they were asked for.
struct Squares {
  std::multiset<std::uint64_t> asked;
  std::mutex lock;
  Runner runner;
  explicit Squares(std::uint64_t runs = 10) {
    runner.runs = runs;
    runner.columns = {"square"};
    runner.run = [this](std::uint64_t run, const Progress& progress) {
      progress.checkpoint("", 0);
      RunFound found;
      found.run = run;
      found.rows = {{{static_cast<double>(run * run), ""}}};
      const std::lock_guard guard(lock);
      asked.insert(run);
      return found;
    };
  }
  [[nodiscard]] VaryDone done(const VaryOptions& options, const Progress& progress = {}) const {
    const Result<VaryDone> out = do_runs({}, runner, Ranks(), options, progress, {});
    EXPECT_TRUE(out) << describe(out.faults()[0]);
    return out ? *out : VaryDone{};
  }
};

using Runs = std::multiset<std::uint64_t>;

TEST_F(Work, EveryRunOnceAndUnderItsNumber) {
  const Squares squares;
  const VaryDone done = squares.done({.out = here / "out", .jobs = 2});
  EXPECT_EQ(squares.asked, (Runs{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}));
  EXPECT_EQ(done.wanted, 10U);
  EXPECT_EQ(done.fresh, 10U);
  ASSERT_EQ(done.found.size(), 10U);
  for (const auto& [run, found] : done.found)
    EXPECT_EQ(found.rows[0][0].number, static_cast<double>(run * run));
  EXPECT_FALSE(done.interrupted);
}

TEST_F(Work, PartsTakeTheRunsOfTheirRemainder) {
  const std::vector<Runs> parts = {{0, 3, 6, 9}, {1, 4, 7}, {2, 5, 8}};
  std::vector<std::filesystem::path> folders;
  for (std::uint64_t k = 1; k <= 3; ++k) {
    const Squares squares;
    folders.push_back(here / std::to_string(k));
    const VaryDone done = squares.done({.out = folders.back(), .shard = k, .shards = 3});
    EXPECT_EQ(squares.asked, parts[k - 1]);
    EXPECT_EQ(done.wanted, parts[k - 1].size());
  }
  const auto all = join_journals(folders, head_of({}, Squares().runner, {}));
  ASSERT_TRUE(all) << describe(all.faults()[0]);
  EXPECT_EQ(all->size(), 10U);
}

TEST_F(Work, WhatTheJournalHoldsIsNotRunAgain) {
  const VaryOptions first{.out = here / "out", .jobs = 1};
  std::atomic<bool> stop = false;
  std::atomic<int> begun = 0;
  const Progress stops([&](const std::string&, double) { stop = ++begun == 4; }, &stop);
  const Squares before;
  const VaryDone half = before.done(first, stops);
  EXPECT_TRUE(half.interrupted);
  EXPECT_EQ(half.found.size(), before.asked.size());
  ASSERT_GT(before.asked.size(), 0U);
  ASSERT_LT(before.asked.size(), 10U);

  const Squares after;
  VaryOptions again = first;
  again.resume = true;
  const VaryDone whole = after.done(again);
  EXPECT_FALSE(whole.interrupted);
  EXPECT_EQ(whole.fresh, after.asked.size());
  EXPECT_EQ(whole.found.size(), 10U);
  Runs both = before.asked;
  both.insert(after.asked.begin(), after.asked.end());
  EXPECT_EQ(both, (Runs{0, 1, 2, 3, 4, 5, 6, 7, 8, 9})) << "each once";
}

TEST_F(Work, AnotherPartsJournalIsNoOnes) {
  const Squares squares;
  (void)squares.done({.out = here / "out", .shard = 1, .shards = 2});
  std::filesystem::rename(here / "out/journal-1-of-2.jsonl", here / "out/journal-2-of-2.jsonl");
  const VaryOptions second{.out = here / "out", .shard = 2, .shards = 2, .resume = true};
  EXPECT_FALSE(do_runs({}, squares.runner, Ranks(), second, {}, {}));
}

}  // namespace
}  // namespace skewback
