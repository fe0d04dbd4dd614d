#include "daybook/daybook.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <random>

#include "daybook/sample_plan.hpp"
#include "daybook/sqlite.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;
using H = Happened;

std::string text_of(const Faults& faults) {
  std::string text;
  for (const Fault& f : faults) text += describe(f) + "\n";
  return text;
}

class OnDisk : public testing::Test {
 protected:
  void SetUp() override {
    const auto* info = testing::UnitTest::GetInstance()->current_test_info();
    folder_ = fs::temp_directory_path() /
              ("skewback-daybook-" + std::to_string(::getpid()) + "-" + info->name());
    fs::remove_all(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }

  Result<Daybook> begin(const DayPlan& plan = sample::small_plan(), bool even_so = false) const {
    return Daybook::begin(folder_, write_plan(plan), "plan.json", even_so);
  }
  std::string query(const std::string& text) const {
    return Sql((folder_ / "daybook.sqlite").string(), false).one(text);
  }
  fs::path folder_;
};

Entered entered(const std::string& block, H what) {
  Entered e;
  e.block = block;
  e.what = what;
  return e;
}

TEST_F(OnDisk, KeepsWhatWasWritten) {
  {
    Result<Daybook> book = begin();
    ASSERT_TRUE(book) << text_of(book.faults());
    Entered e = entered("a1", H::kPrinted);
    e.at = parse_moment("2026-03-05T14:20:00+01:00");
    e.who = "Ada";
    e.note = "layer 12 by hand; 'so'";
    ASSERT_TRUE(book.value().record({e, entered("b1", H::kPrinted)}, false));
  }
  const Result<Daybook> book = Daybook::open(folder_);
  ASSERT_TRUE(book) << text_of(book.faults());
  const std::vector<BlockEvent> events = book->events();
  ASSERT_EQ(events.size(), 2U);
  EXPECT_EQ(events[0].block, "a1");
  EXPECT_EQ(events[0].what, H::kPrinted);
  EXPECT_EQ(moment_text(events[0].at), "2026-03-05T14:20:00+01:00");
  EXPECT_EQ(events[0].who, "Ada");
  EXPECT_EQ(events[0].note, "layer 12 by hand; 'so'");
  EXPECT_EQ(book->plan().blocks.size(), 5U);
  EXPECT_EQ(book->integrity(), "ok");
  EXPECT_EQ(query("PRAGMA journal_mode"), "wal");
  EXPECT_EQ(query("PRAGMA application_id"), std::to_string(0x536b7762));
  EXPECT_EQ(query("PRAGMA user_version"), "1");
}

TEST_F(OnDisk, IsNotKeptAmongResultsWhichTheNextRunReplaces) {
  fs::create_directories(folder_);
  std::ofstream(folder_ / "summary.json") << "{}";
  const Result<Daybook> book = begin();
  ASSERT_FALSE(book);
  EXPECT_THAT(text_of(book.faults()), testing::AllOf(testing::HasSubstr("summary.json"),
                                                     testing::HasSubstr("a folder of its own")));
  EXPECT_FALSE(fs::exists(folder_ / "daybook.sqlite"));
  // nor in a folder inside them
  std::ofstream(folder_ / "assembly.json") << "{}";
  const auto inside = Daybook::begin(folder_ / "erect" / "site", write_plan(sample::small_plan()),
                                     "plan.json", true);
  EXPECT_FALSE(inside);
  EXPECT_FALSE(fs::exists(folder_ / "erect"));
  fs::remove(folder_ / "summary.json");
  EXPECT_TRUE(begin());
}

TEST_F(OnDisk, WritesAllOrNothing) {
  Result<Daybook> book = begin();
  ASSERT_TRUE(book);
  const auto result = book.value().record(
      {entered("a1", H::kPrinted), entered("kye", H::kPrinted), entered("b1", H::kPlaced)}, false);
  ASSERT_FALSE(result);
  EXPECT_EQ(result.faults().size(), 2U) << text_of(result.faults());  // both at once
  EXPECT_TRUE(book->events().empty());
}

TEST_F(OnDisk, NumbersTheNextCopyItself) {
  Result<Daybook> book = begin();
  ASSERT_TRUE(book.value().record(
      {entered("a1", H::kPrinted), entered("a1/2", H::kPrinted), entered("a1", H::kBroken)},
      false));
  const auto again = book.value().record({entered("a1", H::kReprinted)}, false);
  ASSERT_TRUE(again) << text_of(again.faults());
  EXPECT_EQ(again->front().copy, 3);
  for (const char* name : {"a1/", "a1/0", "a1/x", "a1/-1", "a1/2/3"})
    EXPECT_FALSE(book.value().record({entered(name, H::kNote)}, false)) << name;
}

TEST_F(OnDisk, TakesNoBytesThatAreNotText) {
  Result<Daybook> book = begin();
  ASSERT_TRUE(book.value().record({entered("a1", H::kPrinted)}, false));
  const std::string latin = "Andr\xe9", cut = "na\xc3";
  Entered e = entered("a1", H::kNote);
  e.note = latin;
  EXPECT_THAT(text_of(book.value().record({e}, false).faults()),
              testing::AllOf(testing::HasSubstr("note"), testing::HasSubstr("from byte 5"),
                             testing::HasSubstr("UTF-8")));
  e.note = "Andr\xc3\xa9";
  e.who = cut;
  EXPECT_THAT(text_of(book.value().record({e}, true).faults()), testing::HasSubstr("who"));
  EXPECT_FALSE(book.value().record({entered(latin, H::kNote)}, false));
  EXPECT_FALSE(book.value().cancel(1, latin, "", false));
  EXPECT_FALSE(book.value().cancel(1, "", latin, false));
  EXPECT_EQ(book->events().size(), 1U);
  e.who = "Andr\xc3\xa9";
  EXPECT_TRUE(book.value().record({e}, false));
}

TEST_F(OnDisk, IsOnlyEverAddedTo) {
  Result<Daybook> book = begin();
  ASSERT_TRUE(book.value().record({entered("a1", H::kPrinted)}, false));
  ASSERT_TRUE(book.value().cancel(1, "Ada", "wrong block", false));
  EXPECT_EQ(book->events().size(), 2U);
  EXPECT_TRUE(in_force(book->events()).empty());
  const Sql sql((folder_ / "daybook.sqlite").string(), false);
  for (const char* statement : {"DELETE FROM event", "UPDATE event SET block='x'",
                                "DELETE FROM plan", "UPDATE plan SET text='x'"})
    EXPECT_THROW(sql.run(statement), SqlFault) << statement;
  EXPECT_EQ(book->events().size(), 2U);
}

TEST_F(OnDisk, KeepsPhotosByWhatIsInThem) {
  Result<Daybook> book = begin();
  const fs::path photo = folder_ / "IMG 1.jpg";
  std::ofstream(photo) << "abc";
  Entered e = entered("a1", H::kPrinted);
  e.photo = photo;
  const auto written = book.value().record({e}, false);
  ASSERT_TRUE(written) << text_of(written.faults());
  EXPECT_EQ(written->front().photo, "photos/ba7816bf8f01cfea.jpg");  // FIPS 180-4 of "abc"
  EXPECT_TRUE(fs::exists(folder_ / written->front().photo));
  e = entered("b1", H::kPrinted);
  e.photo = folder_ / "none.jpg";
  EXPECT_FALSE(book.value().record({e}, false));
  EXPECT_EQ(book->events().size(), 1U);
}

TEST_F(OnDisk, TakesANewPlanOnlyOfTheSameBlocks) {
  Result<Daybook> book = begin();
  ASSERT_TRUE(begin());  // nothing is written of yet, or the same
  ASSERT_TRUE(book.value().record({entered("a1", H::kPrinted)}, false));
  DayPlan other = sample::small_plan();
  other.title = "Renewed";
  ASSERT_TRUE(begin(other));
  EXPECT_TRUE(book.value().record({entered("b1", H::kPrinted)}, false));
  EXPECT_EQ(book->plan().title, "Renewed");  // seen by one that was open
  other.assembly_sha256 = "aa00";
  const auto refused = begin(other);
  ASSERT_FALSE(refused);
  EXPECT_THAT(text_of(refused.faults()), testing::HasSubstr("another shape"));
  EXPECT_TRUE(begin(other, true));
}

// Its blocks may have the same names.
TEST_F(OnDisk, TakesNoPlanOfAnotherBridge) {
  Result<Daybook> book = begin();
  DayPlan other = sample::small_plan();
  other.bridge = "other-arch";
  ASSERT_TRUE(begin(other));  // nothing is written of yet
  ASSERT_TRUE(book.value().record({entered("a1", H::kPrinted)}, false));
  for (const bool even_so : {false, true}) {
    const auto refused = begin(sample::small_plan(), even_so);
    ASSERT_FALSE(refused);
    EXPECT_THAT(text_of(refused.faults()),
                testing::AllOf(testing::HasSubstr("blocks of other-arch"),
                               testing::HasSubstr("a daybook of its own")));
  }
  EXPECT_EQ(book->plan().bridge, "other-arch");
}

TEST_F(OnDisk, RefusesWhatIsNoDaybook) {
  EXPECT_THAT(text_of(Daybook::open(folder_).faults()), testing::HasSubstr("no such file"));
  EXPECT_FALSE(fs::exists(folder_));
  EXPECT_FALSE(Daybook::begin(folder_, "{}", "plan.json", false));
  EXPECT_FALSE(fs::exists(folder_));
  fs::create_directories(folder_);
  const fs::path file = folder_ / "daybook.sqlite";
  std::ofstream(file) << std::string(5000, 'x');
  EXPECT_FALSE(Daybook::open(folder_));
  EXPECT_FALSE(begin());
  fs::remove(file);
  Sql(file.string(), true).run("CREATE TABLE theirs(x); INSERT INTO theirs VALUES(1)");
  EXPECT_THAT(text_of(Daybook::open(folder_).faults()), testing::HasSubstr("another program"));
  EXPECT_THAT(text_of(begin().faults()), testing::HasSubstr("another program"));
  EXPECT_EQ(query("PRAGMA journal_mode"), "delete");  // as it was
  fs::remove(file);
  ASSERT_TRUE(begin());
  Sql(file.string(), false).run("PRAGMA user_version=2");
  EXPECT_THAT(text_of(Daybook::open(folder_).faults()), testing::HasSubstr("format 2"));
}

TEST(Plan, ComesBackAsItWas) {
  const std::string text = write_plan(sample::plan_with_network());
  const Result<DayPlan> plan = read_plan(text, "plan.json");
  ASSERT_TRUE(plan) << text_of(plan.faults());
  EXPECT_EQ(write_plan(*plan), text);
  EXPECT_EQ(plan->network->activities.size(), 19U);
  EXPECT_DOUBLE_EQ(plan->blocks[0].centre.y(), 1.0 / 3);
}

TEST(Plan, SaysWhichKeyIsWrong) {
  const std::string good = write_plan(sample::plan_with_network());
  const auto with = [&](const std::string& old, const std::string& now) {
    std::string text = good;
    text.replace(text.find(old), old.size(), now);
    const auto plan = read_plan(text, "plan.json");
    return plan ? "" : text_of(plan.faults());
  };
  EXPECT_THAT(with("\"id\": \"a2\"", "\"id\": \"a1\""), testing::HasSubstr("blocks[3].id"));
  EXPECT_THAT(with("\"order\": 2", "\"order\": 3"), testing::HasSubstr("blocks[2].order"));
  EXPECT_THAT(with("\"mass_kg\": 101.0", "\"mass_kg\": -1"), testing::HasSubstr("mass_kg"));
  EXPECT_THAT(with("\"format\": 2", "\"format\": 3"), testing::HasSubstr("format"));
  EXPECT_THAT(with("\"held_by\": null", "\"held_by\": \"hope\""), testing::HasSubstr("held_by"));
  EXPECT_THAT(with("\"print a1\"", "\"print x\""), testing::HasSubstr("after"));
  EXPECT_THAT(with("\"mon\"", "\"moon\""), testing::HasSubstr("network.week"));
  EXPECT_THAT(with("\"holidays\": []", "\"holidays\": [\"Easter\"]"),
              testing::HasSubstr("network.holidays"));
  EXPECT_THAT(with("{", "["), testing::HasSubstr("JSON"));
}

TEST(Plan, KeepsItsWeekAndItsHolidays) {
  DayPlan plan = sample::plan_with_network();
  plan.network->calendar = Calendar("2027-03-01", {"mon", "tue"}, {"2027-03-02"});
  const Result<DayPlan> back = read_plan(write_plan(plan), "plan.json");
  ASSERT_TRUE(back) << text_of(back.faults());
  EXPECT_EQ(back->network->calendar.finish(0, 2 * sample::kDay), 8 * sample::kDay);
}

TEST(Plan, OfFormatOneSaysCradleWhereSlingsAloneDoNotHold) {
  const auto held_by = [](const std::string& says) {
    std::string text = write_plan(sample::small_plan());
    const std::string now = "\"held_by\": null", strap = "\"strap_n\": 0.0,";
    text.replace(text.find(strap), strap.size(), "");
    text.replace(text.find(now), now.size(), says);
    text.replace(text.find("\"format\": 2"), 11, "\"format\": 1");
    const Result<DayPlan> plan = read_plan(text, "plan.json");
    return plan ? plan->blocks[0].held_by : text_of(plan.faults());
  };
  EXPECT_EQ(held_by("\"cradle\": null"), "");
  EXPECT_EQ(held_by("\"cradle\": false"), "slings");
  EXPECT_EQ(held_by("\"cradle\": true"), "cradle");
  EXPECT_EQ(held_by("\"cradle\": true, \"strap_n\": 900"), "slings and straps");
}

// Plans of before calendars name neither: every day is worked.
TEST(Plan, OfBeforeHasNoWeek) {
  std::string text = write_plan(sample::plan_with_network());
  const auto from = text.find("  \"week\""), to = text.find("  \"activities\"");
  ASSERT_LT(from, to);
  text.erase(from, to - from);
  const Result<DayPlan> back = read_plan(text, "plan.json");
  ASSERT_TRUE(back) << text_of(back.faults());
  EXPECT_TRUE(back->network->calendar.every_day());
}

// ---- other processes, and no mercy -------------------------------------------------------------

/// Notes one event after the other and tells each number once record() has returned it.
[[noreturn]] void write_for_ever(const fs::path& folder, int to) {
  Result<Daybook> book = Daybook::open(folder);
  while (book) {
    Entered e = entered("a1", H::kNote);
    e.note = std::string(200, 'n');
    const auto written = book.value().record({e}, false);
    if (!written) break;
    const std::int64_t number = written->front().number;
    if (::write(to, &number, sizeof number) != sizeof number) break;
  }
  ::_exit(1);
}

TEST_F(OnDisk, LosesNothingThatWasAcknowledgedWhenKilled) {
  ASSERT_TRUE(begin());
  std::mt19937 random(20270301);
  std::uniform_int_distribution<int> pause_us(2000, 60000);
  std::int64_t acknowledged = 0;
  for (int round = 0; round < 20; ++round) {
    int ends[2];
    ASSERT_EQ(::pipe(ends), 0);
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      ::close(ends[0]);
      write_for_ever(folder_, ends[1]);
    }
    ::close(ends[1]);
    ::usleep(static_cast<useconds_t>(pause_us(random)));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    EXPECT_TRUE(WIFSIGNALED(status)) << "the writer gave up by itself";
    for (std::int64_t number = 0; ::read(ends[0], &number, sizeof number) == sizeof number;)
      acknowledged = number;
    ::close(ends[0]);
    const Result<Daybook> book = Daybook::open(folder_);
    ASSERT_TRUE(book) << text_of(book.faults());
    EXPECT_EQ(book->integrity(), "ok");
    const std::vector<BlockEvent> events = book->events();
    ASSERT_GE(static_cast<std::int64_t>(events.size()), acknowledged);
    ASSERT_LE(static_cast<std::int64_t>(events.size()), acknowledged + 1);  // one in flight
    for (std::size_t i = 0; i < events.size(); ++i) {
      EXPECT_EQ(events[i].number, static_cast<std::int64_t>(i) + 1);
      EXPECT_EQ(events[i].note.size(), 200U);
    }
    acknowledged = static_cast<std::int64_t>(events.size());
  }
  EXPECT_GT(acknowledged, 20) << "hardly anything was written";
  RecordProperty("events", std::to_string(acknowledged));
}

TEST_F(OnDisk, TwoProcessesBeginAndWriteAtOnce) {
  constexpr int kEach = 40;
  std::vector<pid_t> children;
  for (int k = 0; k < 3; ++k) {
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      Result<Daybook> book = begin();
      bool good = book.ok();
      for (int i = 0; good && i < kEach; ++i)
        good = book.value().record({entered("a1", H::kNote)}, false).ok();
      ::_exit(good ? 0 : 1);
    }
    children.push_back(child);
  }
  for (const pid_t child : children) {
    int status = 1;
    ::waitpid(child, &status, 0);
    EXPECT_EQ(status, 0);
  }
  const Result<Daybook> book = Daybook::open(folder_);
  ASSERT_TRUE(book);
  EXPECT_EQ(book->events().size(), 3U * kEach);
  EXPECT_EQ(book->integrity(), "ok");
}

}  // namespace
}  // namespace skewback
