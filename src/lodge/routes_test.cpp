#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "lodge/bench.hpp"
#include "lodge/body_json.hpp"

namespace skewback::lodge {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

// A desk as small as can be: one revision counter and what was asked of it.
struct SmallDesk {
  int revision = 3;
  std::vector<std::string> asked;
  std::optional<Faults> barred;  // why there is no way back or forward
  std::optional<Exported> exported;
  Bench bench;

  SmallDesk() {
    bench.state = [this] { return Bench::Json{{"revision", revision}}; };
    bench.edit = [this](int of, const std::vector<KeyChange>& changes) -> std::optional<Faults> {
      if (of != revision)
        return Faults{{"", 0, 0, "revision", std::to_string(of), std::to_string(revision), ""}};
      for (const KeyChange& change : changes)
        if (change.key == "form.nonsense")
          return Faults{{"brief.toml", 7, 1, change.key, change.text, "a key of the brief", ""}};
      for (const KeyChange& change : changes) asked.push_back(change.key + "=" + change.text);
      ++revision;
      return std::nullopt;
    };
    bench.undo = [this]() -> std::optional<Faults> {
      asked.push_back("undo");
      return barred;
    };
    bench.redo = [this]() -> std::optional<Faults> {
      asked.push_back("redo");
      return barred;
    };
    bench.run_proof = [this] { asked.push_back("proof"); };
    bench.run_whole = [this] { asked.push_back("whole"); };
    bench.stop = [this] { asked.push_back("stop"); };
    bench.save = [](const std::string& name) -> Result<std::string> {
      if (name.find('/') != std::string::npos)
        return Fault{"", 0, 0, "name", name, "letters, figures, '-', '_'", ""};
      return name + ".toml";
    };
    bench.view = [](const std::string& name,
                    const std::map<std::string, std::string>& query) -> std::optional<Shown> {
      if (name == "survey") return std::nullopt;
      return Shown{"SKB1 " + name + (query.contains("case") ? " " + query.at("case") : ""),
                   "\"3-" + name + "\""};
    };
    bench.node = [](const Vec2& at) { return Bench::Json{{"x", at.x()}, {"y", at.y()}}; };
    bench.ask = [](const nlohmann::json& question, bool quick) {
      return Reply{200, "application/octet-stream", question.dump() + (quick ? " quick" : ""), {}};
    };
    bench.exported = [this] { return exported; };
  }

  Reply get(const std::string& path, std::map<std::string, std::string> query = {}) const {
    Request request;
    request.method = "GET";
    request.path = path;
    request.query = std::move(query);
    return api_reply(bench, request);
  }
  Reply post(const std::string& path, const std::string& body) const {
    Request request;
    request.method = "POST";
    request.path = path;
    request.body = body;
    return api_reply(bench, request);
  }
};

nlohmann::json first_fault(const Reply& reply) {
  return nlohmann::json::parse(reply.body).at("faults").at(0);
}

TEST(Routes, ReadsGiveWhatTheDeskHas) {
  const SmallDesk desk;
  EXPECT_EQ(desk.get("/api/state").body, R"({"revision":3})");
  EXPECT_EQ(desk.get("/api/events").type, "text/event-stream");
  EXPECT_EQ(desk.get("/api/view/proof", {{"case", "dead"}}).body, "SKB1 proof dead");
  EXPECT_EQ(desk.get("/api/view/proof").type, "application/octet-stream");
  EXPECT_EQ(desk.get("/api/node", {{"x", "1.5"}, {"y", "-2"}}).body, R"({"x":1.5,"y":-2.0})");
}

TEST(Routes, WhatIsNotThereIs404WithAReason) {
  const SmallDesk desk;
  for (const char* path :
       {"/api/nothing", "/api", "/api/view/", "/api/view/secrets", "/api/view/survey", "/api/keys",
        "/api/export", "/api/daybook", "/api/daybook/b7", "/api/state/x", "/api/compare"}) {
    const Reply reply = desk.get(path);
    EXPECT_EQ(reply.status, 404) << path;
    EXPECT_FALSE(first_fault(reply).at("says").get<std::string>().empty());
  }
  EXPECT_THAT(desk.get("/api/daybook").body, HasSubstr("--daybook"));
}

TEST(Routes, WrongMethodsAre405AndSayTheRightOne) {
  const SmallDesk desk;
  EXPECT_EQ(desk.get("/api/edit").status, 405);
  EXPECT_EQ(desk.get("/api/edit").headers.at("Allow"), "POST");
  EXPECT_EQ(desk.post("/api/state", "{}").status, 405);
  EXPECT_EQ(desk.post("/api/view/shape", "{}").headers.at("Allow"), "GET, HEAD");
  Request request;
  request.method = "DELETE";
  request.path = "/api/edit";
  EXPECT_EQ(api_reply(desk.bench, request).status, 405);
  request.method = "HEAD";
  request.path = "/api/state";
  EXPECT_EQ(api_reply(desk.bench, request).status, 200);
}

TEST(Routes, AnEditGoesToTheDesk) {
  SmallDesk desk;
  const Reply reply = desk.post(
      "/api/edit", R"({"revision":3,"changes":[{"key":"form.rise","text":"\"1.7 m\""}]})");
  EXPECT_EQ(reply.status, 200);
  EXPECT_EQ(reply.body, R"({"revision":4})");
  EXPECT_THAT(desk.asked, ElementsAre("form.rise=\"1.7 m\""));
}

TEST(Routes, ARevisionThatHasMovedOnIs409) {
  SmallDesk desk;
  const Reply reply =
      desk.post("/api/edit", R"({"revision":2,"changes":[{"key":"form.rise","text":"2"}]})");
  EXPECT_EQ(reply.status, 409);
  EXPECT_EQ(first_fault(reply).at("key"), "revision");
  EXPECT_TRUE(desk.asked.empty());
}

TEST(Routes, FaultsOfTheBriefComeBackWithTheirPlace) {
  const SmallDesk desk;
  const Reply reply =
      desk.post("/api/edit", R"({"revision":3,"changes":[{"key":"form.nonsense","text":"2"}]})");
  EXPECT_EQ(reply.status, 400);
  EXPECT_EQ(first_fault(reply).at("file"), "brief.toml");
  EXPECT_EQ(first_fault(reply).at("line"), 7);
  EXPECT_THAT(first_fault(reply).at("says").get<std::string>(), HasSubstr("brief.toml:7"));
}

TEST(Routes, BadMessagesAreAnsweredAndChangeNothing) {
  const SmallDesk desk;
  const std::string deep(100000, '['), deep_objects = [] {
    std::string text;
    for (int i = 0; i < 1000; ++i) text += "{\"a\":";
    return text;
  }();
  for (const std::string& body :
       {std::string(), std::string("{"), std::string("[]"), std::string("7"), std::string("nul"),
        std::string("{\"revision\":3}"), std::string("{\"revision\":\"3\",\"changes\":[]}"),
        std::string("{\"revision\":3,\"changes\":[]}"),
        std::string("{\"revision\":3,\"changes\":[7]}"),
        std::string("{\"revision\":3,\"changes\":[{\"key\":7,\"text\":null}]}"),
        std::string("{\"revision\":3.5,\"changes\":[{\"key\":\"a\",\"text\":\"b\"}]}"),
        std::string("{\"revision\":-1,\"changes\":[{\"key\":\"a\",\"text\":\"b\"}]}"),
        std::string(
            "{\"revision\":18446744073709551615,\"changes\":[{\"key\":\"a\",\"text\":\"b\"}]}"),
        std::string("{\"revision\":1e999,\"changes\":[]}"), std::string("{\"a\":\"\xff\"}"),
        std::string("{\"a\":\"\0\"}", 9), deep, deep_objects}) {
    for (const char* path : {"/api/edit", "/api/save", "/api/run"}) {
      const Reply reply = desk.post(path, body);
      EXPECT_EQ(reply.status, 400) << path << " " << body.substr(0, 60);
      EXPECT_FALSE(first_fault(reply).at("says").get<std::string>().empty());
    }
  }
  EXPECT_TRUE(desk.asked.empty());
  EXPECT_EQ(desk.revision, 3);
}

TEST(Routes, EveryFaultOfAMessageAtOnce) {
  const SmallDesk desk;
  const Reply reply = desk.post("/api/edit", R"({"revision":3,"changes":[{"key":1},{"text":2}]})");
  EXPECT_EQ(nlohmann::json::parse(reply.body).at("faults").size(), 4U);
}

TEST(Routes, TheDaybookIsAskedOnlyWhatItAnswers) {
  SmallDesk desk;
  desk.bench.daybook = [](const Request& request) {
    return Reply{200, "", request.method + " " + request.path, {}};
  };
  const auto status = [&](const std::string& method, const std::string& path) {
    Request request;
    request.method = method;
    request.path = path;
    return api_reply(desk.bench, request).status;
  };
  for (const char* read : {"/api/daybook", "/api/daybook/a1", "/api/daybook/a1/2"}) {
    EXPECT_EQ(status("GET", read), 200) << read;
    EXPECT_EQ(status("HEAD", read), 200) << read;
    EXPECT_EQ(status("POST", read), 405) << read;
  }
  for (const char* written : {"/api/daybook/record", "/api/daybook/cancel"}) {
    EXPECT_EQ(status("POST", written), 200) << written;
    EXPECT_EQ(status("GET", written), 405) << written;
    EXPECT_EQ(status("DELETE", written), 405) << written;
  }
  EXPECT_EQ(status("GET", "/api/daybooks"), 404);
}

TEST(Routes, AFileThatIsADraftIsNamedSo) {
  SmallDesk desk;
  desk.exported = Exported{"<html>", false};
  EXPECT_EQ(desk.get("/api/export").headers.at("Content-Disposition"),
            "attachment; filename=\"bridge.html\"");
  desk.exported->draft = true;
  const Reply reply = desk.get("/api/export");
  EXPECT_EQ(reply.headers.at("Content-Disposition"), "attachment; filename=\"bridge-draft.html\"");
  EXPECT_EQ(reply.body, "<html>");
}

TEST(Routes, ActsWithoutAMessage) {
  SmallDesk desk;
  for (const char* path : {"/api/undo", "/api/redo", "/api/stop"}) {
    EXPECT_EQ(desk.post(path, "").status, 200) << path;
    EXPECT_EQ(desk.post(path, "{").status, 400) << path;
  }
  EXPECT_EQ(desk.post("/api/run", R"({"until":"whole"})").status, 200);
  EXPECT_EQ(desk.post("/api/run", R"({"until":"proof"})").status, 200);
  EXPECT_EQ(desk.post("/api/run", R"({"until":"supper"})").status, 400);
  EXPECT_THAT(desk.asked, ElementsAre("undo", "redo", "stop", "whole", "proof"));
}

TEST(Routes, AWayBackThatIsBarredSaysWhy) {
  SmallDesk desk;
  for (const char* path : {"/api/undo", "/api/redo"}) {
    desk.barred = Faults{{"", 0, 0, "revision", "revision 3", "one with a change to undo", ""}};
    EXPECT_EQ(desk.post(path, "").status, 409) << path;
    EXPECT_THAT(first_fault(desk.post(path, "")).at("says").get<std::string>(),
                HasSubstr("a change to undo"));
    desk.barred = Faults{{"brief.toml", 7, 1, "form.target", "no such file", "a mesh", ""}};
    EXPECT_EQ(desk.post(path, "").status, 400) << path;
    EXPECT_EQ(first_fault(desk.post(path, "")).at("key"), "form.target") << path;
  }
}

TEST(Routes, SavingSaysTheNameOfTheFile) {
  const SmallDesk desk;
  EXPECT_EQ(desk.post("/api/save", R"({"name":"flatter"})").body,
            R"({"revision":3,"written":"flatter.toml"})");
  EXPECT_EQ(desk.post("/api/save", R"({"name":"../flatter"})").status, 400);
}

TEST(Routes, AQuestionIsHandedOnWithoutTheWordQuick) {
  const SmallDesk desk;
  EXPECT_EQ(desk.post("/api/ask", R"({"case":"dead","quick":true})").body,
            R"({"case":"dead"} quick)");
  EXPECT_EQ(desk.post("/api/ask", R"({"case":"dead"})").body, R"({"case":"dead"})");
  EXPECT_EQ(desk.post("/api/ask", R"({"quick":1})").status, 400);
}

TEST(Routes, PlacesAreNumbers) {
  const SmallDesk desk;
  for (const char* x : {"", "a", "nan", "inf", "1e999", "1,5", " 1", "1 "})
    EXPECT_EQ(desk.get("/api/node", {{"x", x}, {"y", "0"}}).status, 400) << x;
  EXPECT_EQ(desk.get("/api/node").status, 400);
}

TEST(Routes, WhatTheOtherSideHoldsIsNotSentAgain) {
  const SmallDesk desk;
  const std::string tag = desk.get("/api/view/shape").headers.at("ETag");
  Request request;
  request.method = "GET";
  request.path = "/api/view/shape";
  request.if_none_match = "W/\"x\", " + tag;
  const Reply same = api_reply(desk.bench, request);
  EXPECT_EQ(same.status, 304);
  EXPECT_TRUE(same.body.empty());
  request.if_none_match = "\"2-shape\"";
  EXPECT_EQ(api_reply(desk.bench, request).status, 200);
}

TEST(Routes, TextThatIsNotUtf8DoesNotBreakAnAnswer) {
  const Reply reply = refusal(400, Faults{{"\xff.toml", 0, 0, "key", "\xc3", "", ""}});
  EXPECT_EQ(nlohmann::json::parse(reply.body).at("faults").size(), 1U);
}

}  // namespace
}  // namespace skewback::lodge
