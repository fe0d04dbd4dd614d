#include "lodge/gate.hpp"

#include <gtest/gtest.h>

namespace skewback::lodge {
namespace {

const std::string kToken = "0123456789abcdef0123456789abcdef";

Request asked(const std::string& method, const std::string& path) {
  Request request;
  request.method = method;
  request.path = path;
  request.host = "127.0.0.1:4000";
  request.from = "127.0.0.1";
  if (method == "POST") {
    request.type = "application/json";
    request.token = kToken;
    request.body = "{}";
  }
  return request;
}

int status(Gate& gate, const Request& request, double now_s = 0) {
  const auto refused = gate.refuses(request, now_s);
  return refused ? refused->status : 200;
}

TEST(Gate, OnlyUnderItsOwnAddress) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  Request request = asked("GET", "/api/state");
  for (const char* host : {"127.0.0.1:4000", "localhost:4000", "LocalHost:4000", "[::1]:4000"}) {
    request.host = host;
    EXPECT_EQ(status(gate, request), 200) << host;
  }
  for (const char* host : {"", "127.0.0.1", "127.0.0.1:4001", "bridge.example:4000", "localhost",
                           "localhost:4000.bridge.example", "10.0.0.4:4000", "127.0.0.1:4000 "}) {
    request.host = host;
    EXPECT_EQ(status(gate, request), 403) << host;
  }
}

TEST(Gate, NotForAPictureOnAnotherPage) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  Request request = asked("GET", "/api/compare");
  for (const char* site : {"", "same-origin", "none"}) {
    request.fetch_site = site;
    EXPECT_EQ(status(gate, request), 200) << site;
  }
  for (const char* site : {"cross-site", "same-site"}) {
    request.fetch_site = site;
    EXPECT_EQ(status(gate, request), 403) << site;
    request.path = "/";  // the page itself may be linked to
    EXPECT_EQ(status(gate, request), 200) << site;
    request.path = "/api/compare";
  }
}

TEST(Gate, NotFromAnotherPage) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  Request request = asked("POST", "/api/undo");
  for (const char* origin : {"", "http://127.0.0.1:4000"}) {
    request.origin = origin;
    EXPECT_EQ(status(gate, request), 200) << origin;
  }
  for (const char* origin : {"null", "http://localhost:4000", "https://127.0.0.1:4000",
                             "http://127.0.0.1:4001", "http://bridge.example"}) {
    request.origin = origin;
    EXPECT_EQ(status(gate, request), 403) << origin;
  }
}

TEST(Gate, WritesNeedTheToken) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  EXPECT_EQ(status(gate, asked("POST", "/api/edit")), 200);
  for (const std::string& token : {std::string(), kToken.substr(1), kToken + "0",
                                   std::string(32, '0'), "1" + kToken.substr(1)}) {
    Request request = asked("POST", "/api/edit");
    request.token = token;
    EXPECT_EQ(status(gate, request), 403) << token;
  }
  Request put = asked("PUT", "/api/edit");
  EXPECT_EQ(status(gate, put), 403);
  EXPECT_EQ(status(gate, asked("GET", "/api/state")), 200);
}

TEST(Gate, AnEmptyTokenOpensNothing) {
  Gate gate(gate_rules("127.0.0.1", 4000, ""));
  Request request = asked("POST", "/api/edit");
  request.token = "";
  EXPECT_EQ(status(gate, request), 403);
}

TEST(Gate, WithOthersLetInReadsNeedTheTokenToo) {
  Gate gate(gate_rules("10.0.0.4", 4000, kToken));
  Request request = asked("GET", "/api/state");
  request.host = "10.0.0.4:4000";
  EXPECT_EQ(status(gate, request), 403);
  request.token = kToken;
  EXPECT_EQ(status(gate, request), 200);
  request.token = "";
  for (const char* page : {"/", "/site", "/assets/site.js"}) {
    request.path = page;
    EXPECT_EQ(status(gate, request), 200) << page;
  }
  request.path = "/site";
  request.host = "10.0.0.5:4000";
  EXPECT_EQ(status(gate, request), 403);
}

TEST(Gate, OnAllAddressesAnyInFiguresWillDo) {
  Gate gate(gate_rules("0.0.0.0", 4000, kToken));
  Request request = asked("GET", "/site");
  for (const char* host : {"10.1.2.3:4000", "[fe80::1]:4000", "localhost:4000"}) {
    request.host = host;
    EXPECT_EQ(status(gate, request), 200) << host;
  }
  for (const char* host : {"bridge.example:4000", "10.1.2.3:4001", "10.1.2.3", "10.1.2:4000"}) {
    request.host = host;
    EXPECT_EQ(status(gate, request), 403) << host;
  }
}

TEST(Gate, OnlyJsonAndNotTooMuch) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  Request request = asked("POST", "/api/edit");
  for (const char* type :
       {"application/json", "Application/JSON; charset=utf-8", "application/json ;x=y"}) {
    request.type = type;
    EXPECT_EQ(status(gate, request), 200) << type;
  }
  for (const char* type : {"", "text/plain", "application/jsonx",
                           "application/x-www-form-urlencoded", ";application/json"}) {
    request.type = type;
    EXPECT_EQ(status(gate, request), 415) << type;
  }
  request.type = "application/json";
  request.body = std::string(kBodyMost_bytes, ' ');
  EXPECT_EQ(status(gate, request), 200);
  request.body += ' ';
  EXPECT_EQ(status(gate, request), 413);
}

TEST(Gate, TooManyWaitForTheirTurn) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  int let_in = 0;
  for (int i = 0; i < 1000; ++i) let_in += status(gate, asked("POST", "/api/undo"), 5) == 200;
  EXPECT_EQ(let_in, 600);
  const auto refused = gate.refuses(asked("POST", "/api/undo"), 5);
  ASSERT_TRUE(refused);
  EXPECT_EQ(refused->status, 429);
  EXPECT_TRUE(refused->headers.contains("Retry-After"));
  Request other = asked("POST", "/api/undo");
  other.from = "10.0.0.9";
  EXPECT_EQ(status(gate, other, 5), 200);
  EXPECT_EQ(status(gate, asked("POST", "/api/undo"), 15), 200);
}

TEST(Gate, GuessingTheTokenIsSlow) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  Request guess = asked("POST", "/api/undo");
  guess.token = std::string(32, 'f');
  int wrong = 0;
  for (int i = 0; i < 100; ++i) wrong += status(gate, guess, 1) == 403;
  EXPECT_EQ(wrong, 30);
  EXPECT_EQ(status(gate, guess, 1), 429);
  EXPECT_EQ(status(gate, guess, 12), 403);
}

TEST(Gate, ReadsAreLetInMoreOftenThanWrites) {
  Gate gate(gate_rules("127.0.0.1", 4000, kToken));
  int let_in = 0;
  for (int i = 0; i < 4000; ++i) let_in += status(gate, asked("GET", "/api/state"), 5) == 200;
  EXPECT_EQ(let_in, 3000);
  EXPECT_EQ(status(gate, asked("POST", "/api/undo"), 5), 200) << "writes have their own count";
  EXPECT_EQ(status(gate, asked("HEAD", "/api/state"), 5), 429) << "to look is to read";
}

TEST(Gate, OnPortEightyBrowsersLeaveItOut) {
  Gate gate(gate_rules("127.0.0.1", 80, kToken));
  Request request = asked("GET", "/api/state");
  for (const char* host : {"127.0.0.1", "localhost", "[::1]", "127.0.0.1:80"}) {
    request.host = host;
    EXPECT_EQ(status(gate, request), 200) << host;
  }
  Gate open(gate_rules("0.0.0.0", 80, kToken));
  request = asked("GET", "/site");
  request.host = "10.1.2.3";
  EXPECT_EQ(status(open, request), 200);
  request.host = "bridge.example";
  EXPECT_EQ(status(open, request), 403);
}

TEST(Gate, AddressesOfSixStandInBrackets) {
  Gate gate(gate_rules("FE80::7", 4000, kToken));
  Request request = asked("GET", "/site");
  request.host = "[fe80::7]:4000";
  EXPECT_EQ(status(gate, request), 200);
  request.host = "fe80::7:4000";
  EXPECT_EQ(status(gate, request), 403);
  Gate open(gate_rules("::", 4000, kToken));
  request.host = "[fe80::9]:4000";
  EXPECT_EQ(status(open, request), 200);
}

TEST(Gate, LoopbackIsThisMachineAlone) {
  for (const char* own : {"127.0.0.1", "127.9.9.9", "localhost", "::1"})
    EXPECT_TRUE(is_loopback(own)) << own;
  for (const char* other : {"0.0.0.0", "::", "10.0.0.4", "128.0.0.1", "fe80::1", ""})
    EXPECT_FALSE(is_loopback(other)) << other;
}

TEST(Gate, TheRootOfTheApiNeedsTheTokenToo) {
  Gate gate(gate_rules("10.0.0.4", 4000, kToken));
  Request request = asked("GET", "/api");
  request.host = "10.0.0.4:4000";
  EXPECT_EQ(status(gate, request), 403);
}

TEST(RateLimit, ForgetsThoseWhoAreQuietAndNoMore) {
  RateLimit limit(2, 10);
  for (int i = 0; i < 1024; ++i) EXPECT_TRUE(limit.admit("a" + std::to_string(i), 0));
  EXPECT_FALSE(limit.admit("one more", 0));
  EXPECT_TRUE(limit.admit("a7", 0));
  EXPECT_FALSE(limit.admit("a7", 0));
  EXPECT_TRUE(limit.admit("one more", 20));
}

TEST(RateLimit, HasRoomForAWholeOneOnly) {
  RateLimit limit(1, 10);
  EXPECT_TRUE(limit.has_room("a", 0));
  EXPECT_TRUE(limit.admit("a", 0));
  EXPECT_FALSE(limit.has_room("a", 9));
  EXPECT_TRUE(limit.has_room("a", 10));
}

TEST(Token, IsDrawnAnewEachTime) {
  const std::string one = random_token();
  EXPECT_EQ(one.size(), 32U);
  EXPECT_NE(one, random_token());
  int doubled = 0;  // a byte has two digits of its own
  for (std::size_t i = 0; i < one.size(); i += 2) doubled += one[i] == one[i + 1];
  EXPECT_LT(doubled, 16);
  EXPECT_TRUE(same_secret(one, one));
  EXPECT_FALSE(same_secret("", ""));
}

}  // namespace
}  // namespace skewback::lodge
