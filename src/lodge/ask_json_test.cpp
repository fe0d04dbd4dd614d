#include "lodge/ask_json.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "lodge/body_json.hpp"

namespace skewback::lodge {
namespace {

std::vector<std::string> keys_of(const Result<Question>& question) {
  std::vector<std::string> keys;
  if (!question)
    for (const Fault& fault : question.faults()) keys.push_back(fault.key);
  return keys;
}

/// As a message comes over the wire.
Result<Question> asked(const std::string& body) {
  const Result<nlohmann::json> message = read_json_body(body);
  if (!message) return message.faults();
  return read_question(*message);
}

TEST(AskJson, AnEmptyQuestionIsTheDeadLoad) {
  const Result<Question> question = asked("{}");
  ASSERT_TRUE(question.ok());
  EXPECT_EQ(question->case_id, "dead");
  EXPECT_EQ(question->live_factor, 1);
  EXPECT_TRUE(question->crowds.empty() && question->persons.empty() && question->pushes.empty());
  EXPECT_FALSE(question->friction);
}

TEST(AskJson, EveryKeyIsRead) {
  const Result<Question> q = asked(R"({"case":"full","live_factor":1.5,
      "crowds":[{"at":[1,-2],"radius_m":0.5,"pressure_pa":4000},{"at":[0,0]}],
      "persons":[{"at":[3,4],"force_n":900}],
      "pushes":[{"support":1,"shift_m":[0.01,0.02,0.03],"turn_rad":-0.004}],
      "without_blocks":["b3","b4"],"without_ties":["west-east"],"friction":0.35})");
  ASSERT_TRUE(q.ok()) << describe(q.faults().front());
  EXPECT_EQ(q->case_id, "full");
  EXPECT_EQ(q->live_factor, 1.5);
  ASSERT_EQ(q->crowds.size(), 2u);
  EXPECT_EQ(q->crowds[0].at, Vec2(1, -2));
  EXPECT_EQ(q->crowds[0].radius_m, 0.5);
  EXPECT_EQ(q->crowds[0].pressure_pa, 4000);
  EXPECT_EQ(q->crowds[1].pressure_pa, 5000);
  ASSERT_EQ(q->persons.size(), 1u);
  EXPECT_EQ(q->persons[0].at, Vec2(3, 4));
  EXPECT_EQ(q->persons[0].force_n, 900);
  ASSERT_EQ(q->pushes.size(), 1u);
  EXPECT_EQ(q->pushes[0].support, 1);
  EXPECT_EQ(q->pushes[0].shift_m, Vec3(0.01, 0.02, 0.03));
  EXPECT_EQ(q->pushes[0].turn_rad, -0.004);
  EXPECT_EQ(q->without_blocks, (std::vector<std::string>{"b3", "b4"}));
  EXPECT_EQ(q->without_ties, (std::vector<std::string>{"west-east"}));
  EXPECT_EQ(q->friction, 0.35);
  EXPECT_FALSE(asked(R"({"friction":null})").value().friction);
}

TEST(AskJson, EveryFaultOfTheFormAtOnce) {
  const Result<Question> q = asked(R"({"case":5,"live_factor":"much","crowd":[],
      "crowds":[{"at":[1],"radius":2},{"radius_m":1}],"persons":{"at":[0,0]},
      "pushes":[{"support":1.5,"shift_m":[1,2]},{"turn_rad":1}],
      "without_blocks":["b1",3,""],"without_ties":"all","friction":false})");
  std::vector<std::string> keys = keys_of(q);
  std::ranges::sort(keys);
  EXPECT_EQ(keys,
            (std::vector<std::string>{"case", "crowd", "crowds[0].at", "crowds[0].radius",
                                      "crowds[1].at", "friction", "live_factor", "persons",
                                      "pushes[0].shift_m", "pushes[0].support", "pushes[1].support",
                                      "without_blocks[1]", "without_blocks[2]", "without_ties"}));
}

TEST(AskJson, WhatIsNoQuestionIsAFaultAndNoMore) {
  for (const char* text :
       {"", "[]", "7", "null", "{", "{\"live_factor\":NaN}", "{\"friction\":1e999}",
        "{\"case\":\"dead\",\"case\":\"full\"}", "{\"persons\":[{\"at\":[0,0],\"at\":[1,0]}]}",
        "\"\xff\xfe\"", "{\"case\":\"\xff\"}", "{\"persons\":[{\"at\":[1e999,0]}]}"}) {
    EXPECT_FALSE(asked(text).ok()) << text;
  }
  EXPECT_FALSE(asked(std::string(100000, '[')).ok());
}

TEST(AskJson, NoMoreThanFiftyOfAKind) {
  const auto persons = [](int count) {
    std::string text = "{\"persons\":[";
    for (int i = 0; i < count; ++i) text += std::string(i > 0 ? "," : "") + "{\"at\":[0,0]}";
    return asked(text + "]}");
  };
  EXPECT_EQ(persons(50).value().persons.size(), 50u);
  EXPECT_EQ(keys_of(persons(51)), std::vector<std::string>{"persons"});
}

}  // namespace
}  // namespace skewback::lodge
