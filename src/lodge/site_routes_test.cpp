#include "lodge/site_routes.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <random>
#include <thread>

#include "assembly/sample_arch.hpp"
#include "daybook/daybook.hpp"
#include "daybook/sample_plan.hpp"

namespace skewback::lodge {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

const std::string kSoon = "2026-03-05T14:20:00+01:00";

class OnSite : public testing::Test {
 protected:
  void SetUp() override {
    const auto* info = testing::UnitTest::GetInstance()->current_test_info();
    folder_ = fs::temp_directory_path() /
              ("skewback-site-" + std::to_string(::getpid()) + "-" + info->name());
    fs::remove_all(folder_);
    begin(sample::plan_with_network());
  }
  void TearDown() override { fs::remove_all(folder_); }
  void begin(const DayPlan& plan) const {
    const auto book = Daybook::begin(folder_, write_plan(plan), "plan.json", true);
    ASSERT_TRUE(book);
  }
  Reply ask(const std::string& method, const std::string& path, const std::string& body = "",
            const Assembly* at = nullptr, std::map<std::string, std::string> query = {}) const {
    Request request;
    request.method = method;
    request.path = path;
    request.body = body;
    request.query = std::move(query);
    return site_reply(folder_, at, request);
  }
  json get(const std::string& path) const {
    const Reply reply = ask("GET", path);
    EXPECT_EQ(reply.status, 200) << path << " " << reply.body;
    return json::parse(reply.body);
  }
  Reply record(const json& entries, bool even_so = false) const {
    return ask("POST", "/api/daybook/record",
               json{{"entries", entries}, {"even_so", even_so}}.dump());
  }
  Reply put(const std::string& block, const std::string& what, bool even_so = false) const {
    return record({{{"block", block}, {"what", what}, {"who", "Ada"}}}, even_so);
  }
  std::vector<BlockEvent> events() const { return Daybook::open(folder_)->events(); }
  fs::path folder_;
};

std::string says(const Reply& reply) {
  const json body = json::parse(reply.body);
  std::string text;
  for (const json& fault : body.at("faults")) text += fault.at("says").get<std::string>() + "\n";
  return text;
}

json find(const json& list, const std::string& key, const std::string& value) {
  for (const json& one : list)
    if (one.at(key) == value) return one;
  ADD_FAILURE() << "no " << key << " " << value << " in " << list.dump();
  return {};
}

TEST_F(OnSite, ListsBlocksWithTheirStandingAndWhatComesNext) {
  ASSERT_EQ(put("a1", "placed", true).status, 200);
  ASSERT_EQ(put("b2", "received", true).status, 200);
  ASSERT_EQ(put("a2", "received", true).status, 200);
  const json all = get("/api/daybook");
  EXPECT_EQ(all.at("bridge"), "little-arch");
  EXPECT_EQ(all.at("number"), 3);
  EXPECT_EQ(all.at("placed"), 1);
  EXPECT_EQ(all.at("can_be_placed"), json({"a2"}));
  EXPECT_EQ(all.at("not_yet"), json({"b2"}));
  EXPECT_EQ(all.at("missing").at("name"), "b1");
  EXPECT_EQ(all.at("missing").at("held_back"), 2);  // b2 and the key
  EXPECT_EQ(all.at("blocks").size(), 5U);
  EXPECT_EQ(find(all.at("blocks"), "id", "a1").at("standing"), "placed");
  EXPECT_EQ(find(all.at("blocks"), "id", "key").at("standing"), "not made");
  EXPECT_EQ(all.at("events").size(), 3U);
  EXPECT_EQ(all.at("events")[0].at("name"), "a1");
  EXPECT_EQ(find(all.at("works"), "id", "footings").at("done"), false);
}

TEST_F(OnSite, TheFirstPageSaysWhatIsToBeFeared) {
  json all = get("/api/daybook");
  EXPECT_EQ(all.at("alarm"), "");
  EXPECT_EQ(all.at("works_before"), json({"footings"}));
  for (const char* const block : {"a1", "a2"}) ASSERT_EQ(put(block, "placed", true).status, 200);
  ASSERT_EQ(put("a1", "broken").status, 200);
  ASSERT_EQ(put("a1/2", "received", true).status, 200);
  ASSERT_EQ(put("striking", "done", true).status, 200);
  all = get("/api/daybook");
  EXPECT_THAT(all.at("alarm").get<std::string>(), HasSubstr("Not in place: a1 (on site), b1"));
  EXPECT_TRUE(all.at("can_be_placed").empty());
  EXPECT_THAT(all.at("under_placed").at(0).get<std::string>(), HasSubstr("take down first a2."));
}

TEST_F(OnSite, LastFiftyEventsOnly) {
  json notes = json::array();
  for (int i = 0; i < 60; ++i)
    notes.push_back({{"block", "a1"}, {"what", "note"}, {"note", "n" + std::to_string(i)}});
  ASSERT_EQ(record(notes).status, 200);
  const json list = get("/api/daybook").at("events");
  ASSERT_EQ(list.size(), 50U);
  EXPECT_EQ(list.front().at("number"), 11);
  EXPECT_EQ(list.back().at("note"), "n59");
}

TEST_F(OnSite, SaysOfOneBlockWhereItGoesAndWhatMayBeRecorded) {
  ASSERT_EQ(put("a1", "placed", true).status, 200);
  ASSERT_EQ(put("key", "received", true).status, 200);
  const json key = get("/api/daybook/key");
  EXPECT_EQ(key.at("order"), 5);
  EXPECT_EQ(key.at("of"), 5);
  EXPECT_EQ(key.at("mass_kg"), 105);
  EXPECT_EQ(key.at("standing"), "on site");
  EXPECT_EQ(find(key.at("needs"), "id", "a2").at("in_place"), false);
  // slings at (0, 0) and (1, 0), centre of gravity at (1/2, 1/3)
  EXPECT_EQ(
      key.at("label"),
      "SKEWBACK2;little-arch;key;105 kg;5/5;on a2,b2;then ;back up;2 slings 601 mm level from the "
      "centre of gravity;00ff");
  const json placing = find(key.at("next"), "event", "placed");
  EXPECT_EQ(placing.at("allowed"), false);
  EXPECT_EQ(placing.at("even_so"), true);
  EXPECT_THAT(placing.at("objection").at("says").get<std::string>(),
              HasSubstr("not in place yet: b1, a2, b2"));
  EXPECT_EQ(find(key.at("next"), "event", "broken").at("allowed"), true);
  EXPECT_EQ(find(key.at("next"), "event", "printed").at("even_so"), false);
  const json place = find(key.at("steps"), "id", "place key");
  EXPECT_EQ(place.at("kind"), "place");
  EXPECT_EQ(find(place.at("after"), "id", "journey 2").at("work"), true);
  EXPECT_THAT(place.at("likely_end").get<std::string>(), HasSubstr("2027-03-"));
  const json a1 = get("/api/daybook/a1");
  EXPECT_EQ(find(a1.at("on"), "id", "ground").at("in_place"), true);
  EXPECT_EQ(a1.at("then").size(), 0U);  // the small plan's joints name only what is before
}

TEST_F(OnSite, CopiesAndWorksHaveTheirOwnPage) {
  ASSERT_EQ(put("a1", "broken", true).status, 200);
  ASSERT_EQ(put("a1/2", "printed").status, 200);
  EXPECT_EQ(get("/api/daybook/a1").at("standing"), "broken");
  EXPECT_EQ(get("/api/daybook/a1/2").at("standing"), "printed");
  EXPECT_EQ(get("/api/daybook/a1/2").at("next_copy"), "a1/3");
  const json work = get("/api/daybook/footings");
  EXPECT_EQ(work.at("standing"), "not done");
  EXPECT_EQ(work.at("next").size(), 2U);
  ASSERT_EQ(put("footings", "done").status, 200);
  EXPECT_EQ(get("/api/daybook/footings").at("standing"), "done");
  for (const char* const bad : {"a1/0", "a1/x", "a1/2/2", "a9", "", "../a1", "a1 "})
    EXPECT_EQ(ask("GET", std::string("/api/daybook/") + bad).status, 404) << bad;
  EXPECT_THAT(says(ask("GET", "/api/daybook/kay")), HasSubstr("did you mean \"key\""));
  EXPECT_EQ(ask("GET", "/api/daybook/" + std::string(1U << 20U, 'k')).status, 404);
}

TEST_F(OnSite, AnObjectionComesBackAndNothingIsWritten) {
  const Reply reply = put("key", "placed");
  EXPECT_EQ(reply.status, 409);
  EXPECT_THAT(says(reply), HasSubstr("key placed: found not made; expected on site"));
  EXPECT_THAT(says(reply), testing::Not(HasSubstr("--")));
  EXPECT_TRUE(events().empty());
  // all or none
  EXPECT_EQ(
      record({{{"block", "a1"}, {"what", "printed"}}, {{"block", "b1"}, {"what", "cured"}}}).status,
      409);
  EXPECT_TRUE(events().empty());
  EXPECT_EQ(put("key", "placed", true).status, 200);
  EXPECT_EQ(events().size(), 1U);
  EXPECT_EQ(put("key", "placed", true).status, 409);  // even so does not go that far
}

TEST_F(OnSite, TakesBackTheLastEventOnly) {
  ASSERT_EQ(put("a1", "printed").status, 200);
  EXPECT_THAT(says(put("a1", "cured")), HasSubstr("7 days of curing"));
  ASSERT_EQ(put("a1", "cured", true).status, 200);
  const auto cancel = [&](const json& message) {
    return ask("POST", "/api/daybook/cancel", message.dump());
  };
  EXPECT_THAT(says(cancel({{"number", 1}})), HasSubstr("cancel 2 first"));
  const Reply reply = cancel({{"number", 2}, {"who", "Ada"}, {"note", "wrong block"}});
  ASSERT_EQ(reply.status, 200) << reply.body;
  EXPECT_EQ(json::parse(reply.body).at("events")[0].at("cancels"), 2);
  EXPECT_EQ(cancel({{"number", 2}}).status, 409);
  EXPECT_EQ(get("/api/daybook/a1").at("standing"), "printed");
  EXPECT_EQ(find(get("/api/daybook/a1").at("events"), "event", "cured").at("taken_back"), true);
  for (const json& bad :
       {json(0), json(-1), json(1.5), json("2"), json(nullptr), json(18446744073709551615U)})
    EXPECT_EQ(cancel({{"number", bad}}).status, 400) << bad;
  EXPECT_EQ(cancel({{"who", "Ada"}}).status, 400);
  EXPECT_EQ(events().size(), 3U);
}

TEST_F(OnSite, WhatIsSentTwiceIsWrittenOnce) {
  const json entry = {{"block", "a1"},
                      {"what", "note"},
                      {"at", kSoon},
                      {"who", "Ada"},
                      {"note", "frost on the bed"}};
  const json first = json::parse(record(json::array({entry})).body);
  const json second = json::parse(record(json::array({entry})).body);
  EXPECT_EQ(first.at("events").size(), 1U);
  EXPECT_EQ(second.at("events").size(), 0U);
  EXPECT_EQ(second.at("written_before")[0].at("number"), first.at("events")[0].at("number"));
  EXPECT_EQ(events().size(), 1U);
  for (const auto& [key, value] :
       {std::pair{"note", "frost"}, {"who", "Bo"}, {"at", "2026-03-05T14:20:01+01:00"}}) {
    json other = entry;
    other[key] = value;
    EXPECT_EQ(json::parse(record(json::array({other})).body).at("events").size(), 1U) << key;
  }
  // the same moment in another zone is the same moment
  json elsewhere = entry;
  elsewhere["at"] = "2026-03-05T13:20:00Z";
  EXPECT_EQ(json::parse(record(json::array({elsewhere})).body).at("events").size(), 0U);
  // without a moment nothing tells one from the other
  json now = entry;
  now.erase("at");
  EXPECT_EQ(json::parse(record(json::array({now})).body).at("events").size(), 1U);
  EXPECT_EQ(json::parse(record(json::array({now})).body).at("events").size(), 1U);
}

TEST_F(OnSite, ACopyMadeAgainIsNotMadeTwiceBySendingTwice) {
  ASSERT_EQ(put("a1", "broken", true).status, 200);
  const json again = {{"block", "a1"}, {"what", "reprinted"}, {"at", moment_text(now_here())}};
  ASSERT_EQ(record(json::array({again})).status, 200);
  ASSERT_EQ(record(json::array({again})).status, 200);
  EXPECT_EQ(events().size(), 2U);
  EXPECT_EQ(get("/api/daybook").at("blocks")[0].at("name"), "a1/2");
}

TEST_F(OnSite, ManyAtOnceLoseNothing) {
  constexpr int kPeople = 8, kNotes = 10;
  std::vector<std::thread> people;
  for (int p = 0; p < kPeople; ++p)
    people.emplace_back([&, p] {
      for (int i = 0; i < kNotes; ++i)
        EXPECT_EQ(record({{{"block", "a1"},
                           {"what", "note"},
                           {"at", kSoon},
                           {"note", std::to_string(p) + " " + std::to_string(i)}}})
                      .status,
                  200);
    });
  // all of them also place the same block, and send one note word for word
  std::atomic<int> placed = 0;
  for (int p = 0; p < kPeople; ++p)
    people.emplace_back([&] {
      placed += put("a1", "placed", true).status == 200;
      EXPECT_EQ(
          record({{{"block", "b1"}, {"what", "note"}, {"at", kSoon}, {"note", "one"}}}).status,
          200);
    });
  for (std::thread& person : people) person.join();
  EXPECT_EQ(placed, 1);
  EXPECT_EQ(events().size(), kPeople * kNotes + 2U);
  EXPECT_EQ(Daybook::open(folder_)->integrity(), "ok");
}

TEST_F(OnSite, NastyTextsAreKeptAsTheyAre) {
  const std::vector<std::string> nasty = {
      "'); DROP TABLE event; --",      "<script>alert(1)</script>",
      "\"quoted\" \\ back\r\n\tslash", "мост 橋 \xF0\x9F\xA7\xB1 e\xCC\x81",
      "\xE2\x80\xAE right to left",    "\x01\x1b[31mred",
      "%s%n$(reboot)`id`;../../etc"};
  for (const std::string& text : nasty) {
    const Reply reply =
        record({{{"block", "a1"}, {"what", "note"}, {"who", text}, {"note", text + text}}});
    ASSERT_EQ(reply.status, 200) << reply.body;
  }
  const json list = get("/api/daybook/a1").at("events");
  ASSERT_EQ(list.size(), nasty.size());
  for (std::size_t i = 0; i < nasty.size(); ++i) {
    EXPECT_EQ(list[i].at("who"), nasty[i]);
    EXPECT_EQ(list[i].at("note"), nasty[i] + nasty[i]);
  }
}

TEST_F(OnSite, LimitsCountCharactersNotBytes) {
  const auto with = [&](const std::string& who, const std::string& note) {
    return record({{{"block", "a1"}, {"what", "note"}, {"who", who}, {"note", note}}}).status;
  };
  std::string bricks;
  for (int i = 0; i < 80; ++i) bricks += "\xF0\x9F\xA7\xB1";
  EXPECT_EQ(with(bricks, ""), 200);
  EXPECT_EQ(with(bricks + "x", ""), 400);
  EXPECT_EQ(with("", std::string(1000, 'n')), 200);
  EXPECT_EQ(with("", std::string(1001, 'n')), 400);
  EXPECT_EQ(with(std::string("A\0da", 4), ""), 400);
  EXPECT_EQ(events().size(), 2U);
}

TEST_F(OnSite, BadMessagesAreRefusedWithAReason) {
  const std::string good = R"({"block":"a1","what":"note"})";
  for (const std::string& body :
       {std::string(),
        std::string("nonsense"),
        std::string("[]"),
        std::string("null"),
        std::string("{}"),
        std::string(R"({"entries":{}})"),
        std::string(R"({"entries":[]})"),
        std::string(R"({"entries":[1]})"),
        std::string(R"({"entries":[{}]})"),
        R"({"entries":[)" + good + R"(],"even_so":"yes"})",
        R"({"entries":[)" + good + R"(],"force":true})",
        std::string(R"({"entries":[{"block":"a1","what":"note","who":7}]})"),
        std::string(R"({"entries":[{"block":["a1"],"what":"note"}]})"),
        std::string(R"({"entries":[{"block":"a1","what":"cancel"}]})"),
        std::string(R"({"entries":[{"block":"a1","what":"prnited"}]})"),
        std::string(R"({"entries":[{"block":"zz","what":"note"}]})"),
        std::string(R"({"entries":[{"block":"a1/0","what":"note"}]})"),
        std::string(R"({"entries":[{"block":"a1","what":"note","at":"yesterday"}]})"),
        std::string(R"({"entries":[{"block":"a1","what":"note","photo":"/etc/passwd"}]})"),
        std::string("{\"entries\":[{\"block\":\"a1\",\"what\":\"note\",\"who\":\"\xff\"}]}"),
        std::string(R"({"entries":[{"block":"a1","what":"note","who":"\ud800"}]})"),
        std::string(100000, '[')}) {
    const Reply reply = ask("POST", "/api/daybook/record", body);
    EXPECT_EQ(reply.status, 400) << body.substr(0, 80) << reply.body;
    EXPECT_FALSE(says(reply).empty());
  }
  json many = json::array();
  for (int i = 0; i < 201; ++i) many.push_back(json::parse(good));
  EXPECT_EQ(record(many).status, 400);
  EXPECT_TRUE(events().empty());
}

// Good messages with a few bytes changed, cut out or doubled: an answer each time, never a throw.
TEST_F(OnSite, SpoiltMessagesAreAnswered) {
  const unsigned seed = 20260305;
  std::mt19937 random(seed);
  const std::vector<std::string> good = {
      R"({"entries":[{"block":"a1","what":"placed","at":"2026-03-05T14:20:00+01:00","who":"Ada","note":"n"}],"even_so":true})",
      R"({"entries":[{"block":"a1/2","what":"reprinted"},{"block":"footings","what":"done"}],"even_so":false})",
      R"({"number":3,"who":"Ada","note":"wrong"})"};
  std::map<int, int> answers;
  for (int i = 0; i < 1500; ++i) {
    std::string body = good[random() % good.size()];
    for (unsigned k = random() % 4; k < 4 && !body.empty(); ++k) {
      const std::size_t at = random() % body.size();
      switch (random() % 3) {
        case 0:
          body[at] = static_cast<char>(random() % 256);
          break;
        case 1:
          body.erase(at, random() % 8);
          break;
        default:
          body.insert(at, body.substr(random() % body.size(), random() % 20));
      }
    }
    const std::string path = random() % 4 == 0 ? "cancel" : "record";
    const Reply reply = ask("POST", "/api/daybook/" + path, body);
    ++answers[reply.status];
    const bool known = reply.status == 200 || reply.status == 400 || reply.status == 409;
    ASSERT_TRUE(known) << reply.status << " seed " << seed << " draw " << i << ": " << body;
    ASSERT_FALSE(json::parse(reply.body, nullptr, false).is_discarded()) << body;
  }
  EXPECT_GT(answers[400], 500);
  EXPECT_GT(answers[409], 0);
  EXPECT_EQ(Daybook::open(folder_)->integrity(), "ok");
}

TEST_F(OnSite, WithoutADaybookItSaysSoAndNamesNoFolder) {
  fs::remove(folder_ / "daybook.sqlite");
  const Reply reply = ask("GET", "/api/daybook");
  EXPECT_EQ(reply.status, 500);
  EXPECT_THAT(says(reply), HasSubstr("no such file"));
  EXPECT_THAT(reply.body, testing::Not(HasSubstr(folder_.string())));
  std::ofstream(folder_ / "daybook.sqlite") << "not a database, but long enough to be read";
  EXPECT_EQ(ask("GET", "/api/daybook").status, 500);
}

TEST_F(OnSite, GivesThePictureOnceBlocksAreCut) {
  const auto picture = [&](const Assembly* at) {
    return json::parse(ask("GET", "/api/daybook", "", at, {{"picture", "1"}}).body);
  };
  EXPECT_EQ(picture(nullptr).at("picture"), nullptr);
  const Assembly arch = sample::arch_assembly({});
  EXPECT_EQ(picture(&arch).at("picture").at("plan").size(), arch.blocks.size());
  EXPECT_EQ(picture(&arch).at("of_the_plan"), false);  // the plan is of other blocks
}

}  // namespace
}  // namespace skewback::lodge
