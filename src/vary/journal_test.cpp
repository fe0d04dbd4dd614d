#include <gmock/gmock.h>

#include "vary/sample_vary.hpp"

namespace skewback {
namespace {

using Journals = VaryFolder;

RunFound sample(std::uint64_t run) {
  RunFound found;
  found.run = run;
  found.values = {"1.4 m", "a \"quoted\", name"};
  found.rows = {{{0.1 + 1.0 / 3, ""}, {{}, "stands"}, {}}};
  found.verdict = "stands";
  found.failing = {"live_factor", "footings"};
  found.exit = 3;
  found.note = "line one\nline two";
  found.seconds = 0.25;
  return found;
}

const JournalHead kHead{"abc", 10, 1, 1};

TEST_F(Journals, LinesReadBackAsTheyWere) {
  const std::string line = to_line(sample(4));
  EXPECT_EQ(std::count(line.begin(), line.end(), '\n'), 1);
  const auto back = from_line(line);
  ASSERT_TRUE(back);
  EXPECT_EQ(to_line(*back), line);
  EXPECT_EQ(back->rows[0][0].number, 0.1 + 1.0 / 3);
  EXPECT_EQ(back->note, "line one\nline two");
}

TEST_F(Journals, ATornLastLineIsCutOffWhereverItTore) {
  const auto path = here / "journal.jsonl";
  {
    auto journal = Journal::open(here, kHead, false);
    ASSERT_TRUE(journal);
    for (const std::uint64_t run : {3, 1, 2}) journal.value().add({sample(run)});
  }
  const std::string whole = text_of(path);
  const std::size_t last = whole.rfind('\n', whole.size() - 2) + 1;
  for (std::size_t cut = 0; cut < whole.size(); cut += 7) {
    write("journal.jsonl", whole.substr(0, cut));
    auto journal = Journal::open(here, kHead, true);
    ASSERT_TRUE(journal) << cut << ": " << describe(journal.faults()[0]);
    if (cut >= last) {
      EXPECT_EQ(journal->found().size(), 2U);
    }
    for (const std::uint64_t run : {3, 1, 2})
      if (!journal->found().contains(run)) journal.value().add({sample(run)});
    ASSERT_EQ(text_of(path), whole) << "cut at " << cut;
  }
}

TEST_F(Journals, AStrangersIsRefused) {
  { ASSERT_TRUE(Journal::open(here, kHead, false)); }
  const auto refused = [&](const JournalHead& head, bool resume) {
    const auto journal = Journal::open(here, head, resume);
    return journal ? std::string() : describe(journal.faults()[0]);
  };
  EXPECT_THAT(refused(kHead, false), testing::HasSubstr("--resume"));
  EXPECT_EQ(refused(kHead, true), "");
  EXPECT_THAT(refused({"abd", 10, 1, 1}, true), testing::HasSubstr("another brief"));
  EXPECT_THAT(refused({"abc", 11, 1, 1}, true), testing::HasSubstr("another brief"));
}

TEST_F(Journals, DamageInTheMiddleIsNamed) {
  {
    auto journal = Journal::open(here, kHead, false);
    journal.value().add({sample(1)});
  }
  write("journal.jsonl", text_of(here / "journal.jsonl") + "{\"run\": 2, \n" + to_line(sample(3)));
  const auto journal = Journal::open(here, kHead, true);
  ASSERT_FALSE(journal);
  EXPECT_THAT(describe(journal.faults()[0]), testing::HasSubstr("line 3"));
}

TEST_F(Journals, TwoProcessesCannotHoldOne) {
  const auto first = Journal::open(here, kHead, false);
  ASSERT_TRUE(first);
  const auto second = Journal::open(here, kHead, true);
  ASSERT_FALSE(second);
  EXPECT_THAT(describe(second.faults()[0]), testing::HasSubstr("another process"));
}

TEST_F(Journals, PartsAreJoined) {
  std::filesystem::create_directories(here / "other");
  {
    auto a = Journal::open(here, {"abc", 10, 1, 2}, false);
    auto b = Journal::open(here / "other", {"abc", 10, 2, 2}, false);
    ASSERT_TRUE(a && b);
    a.value().add({sample(0)});
    b.value().add({sample(1)});
  }
  const auto all = join_journals({here, here / "other"}, kHead);
  ASSERT_TRUE(all) << describe(all.faults()[0]);
  EXPECT_EQ(all->size(), 2U);
  EXPECT_FALSE(join_journals({here}, {"abd", 10, 1, 1}));
  std::filesystem::create_directories(here / "empty");
  EXPECT_FALSE(join_journals({here / "empty"}, kHead));
}

TEST_F(Journals, TwoFindingsForOneRunAreAFault) {
  std::filesystem::create_directories(here / "other");
  {
    auto a = Journal::open(here, kHead, false);
    auto b = Journal::open(here / "other", kHead, false);
    RunFound found = sample(1);
    a.value().add({found});
    found.seconds = 99;  // may differ
    b.value().add({found});
  }
  EXPECT_TRUE(join_journals({here, here / "other"}, kHead));
  std::filesystem::remove_all(here / "other");
  {
    auto b = Journal::open(here / "other", kHead, false);
    RunFound found = sample(1);
    found.verdict = "falls";
    b.value().add({found});
  }
  EXPECT_FALSE(join_journals({here, here / "other"}, kHead));
}

}  // namespace
}  // namespace skewback
