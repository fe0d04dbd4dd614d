// Messages of the phone at the edges of what is taken in.
#include "lodge/site_read.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace skewback::lodge {
namespace {

using nlohmann::json;

json entry() { return {{"block", "v1"}, {"what", "placed"}}; }
std::string message(const json& entries) { return json{{"entries", entries}}.dump(); }

/// Key of the first fault; empty where there is none.
std::string refused(const std::string& body) {
  const Result<RecordMessage> read = read_record(body);
  return read ? "" : read.faults().front().key;
}

TEST(SiteRead, EveryTextInItsPlace) {
  json one = entry();
  one["who"] = "Ada";
  one["note"] = "a corner off";
  const Result<RecordMessage> read = read_record(message(json::array({one})));
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(read->entries.at(0).block, "v1");
  EXPECT_EQ(read->entries.at(0).who, "Ada");
  EXPECT_EQ(read->entries.at(0).note, "a corner off");
  EXPECT_FALSE(read->even_so);
}

TEST(SiteRead, LettersAreCountedNotBytes) {
  std::string name;
  for (std::size_t i = 0; i < kWhoMost; ++i) name += "\u00e4";
  json one = entry();
  one["who"] = name;
  EXPECT_EQ(refused(message(json::array({one}))), "");
  one["who"] = name + "\u00e4";
  EXPECT_NE(refused(message(json::array({one}))), "");
}

TEST(SiteRead, AsManyAtOnceAsAreAllowed) {
  json many = json::array();
  for (std::size_t i = 0; i < kEntriesMost; ++i) many.push_back(entry());
  EXPECT_EQ(refused(message(many)), "");
  many.push_back(entry());
  EXPECT_EQ(refused(message(many)), "entries");
  EXPECT_EQ(refused(message(json::array())), "entries");
}

TEST(SiteRead, NoZeroNoCancelNoFlagThatIsNone) {
  json one = entry();
  one["note"] = std::string("a\0b", 3);
  EXPECT_NE(refused(message(json::array({one}))), "");
  one = entry();
  one["what"] = "cancel";
  EXPECT_NE(refused(message(json::array({one}))), "");
  EXPECT_EQ(refused(json{{"entries", json::array({entry()})}, {"even_so", 1}}.dump()), "even_so");
}

TEST(SiteRead, EventsAreNumberedFromOne) {
  EXPECT_TRUE(read_cancel(R"({"number":1})").ok());
  for (const char* number : {"0", "-1", "1.5", "\"1\"", "null", "9223372036854775808"})
    EXPECT_FALSE(read_cancel(std::string("{\"number\":") + number + "}").ok()) << number;
}

}  // namespace
}  // namespace skewback::lodge
