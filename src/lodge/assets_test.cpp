#include "lodge/assets.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace skewback::lodge {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::vector<Asset> some() {
  return {{"assets/index.js", "let a;"},
          {"index.html", "<!doctype html><html><head><title>x</title></head></html>"},
          {"site.html", "<!doctype html><html><head></head></html>"},
          {"view.html", "<!--SHEAVES-->"}};
}

Request get(const std::string& path) {
  Request request;
  request.method = "GET";
  request.path = path;
  return request;
}

TEST(Pages, ThePagesGetTheTokenAndAreNotKept) {
  const Pages pages(some(), "secret-secret-16");
  for (const char* path : {"/", "/site"}) {
    const Reply reply = pages.reply(get(path));
    EXPECT_EQ(reply.status, 200);
    EXPECT_EQ(reply.type, "text/html; charset=utf-8");
    EXPECT_THAT(reply.body,
                HasSubstr("<head><meta name=\"lodge-token\" content=\"secret-secret-16\">"));
    EXPECT_EQ(reply.headers.at("Cache-Control"), "no-store");
    EXPECT_FALSE(reply.headers.contains("ETag"));
  }
  EXPECT_THAT(Pages(some(), "").reply(get("/")).body, Not(HasSubstr("lodge-token")));
}

TEST(Pages, PartsHaveTheirTypeAndATag) {
  const Pages pages(some(), "");
  Request request = get("/assets/index.js");
  const Reply reply = pages.reply(request);
  EXPECT_EQ(reply.body, "let a;");
  EXPECT_EQ(reply.type, "text/javascript; charset=utf-8");
  request.if_none_match = reply.headers.at("ETag");
  EXPECT_EQ(pages.reply(request).status, 304);
}

TEST(Pages, NothingElse) {
  const Pages pages(some(), "");
  for (const char* path : {"/index.html", "/view.html", "/assets", "/assets/", "/favicon.ico",
                           "/assets/../index.html", "/etc/passwd", "/site/"})
    EXPECT_EQ(pages.reply(get(path)).status, 404) << path;
  Request post = get("/");
  post.method = "POST";
  EXPECT_EQ(pages.reply(post).status, 405);
  EXPECT_EQ(pages.for_viewing(), "<!--SHEAVES-->");
}

TEST(Pages, WithoutThemItSaysSo) {
  const Pages none({}, "x");
  EXPECT_EQ(none.reply(get("/")).status, 404);
  EXPECT_THAT(none.reply(get("/")).body, HasSubstr("built without its page"));
  EXPECT_TRUE(none.for_viewing().empty());
}

}  // namespace
}  // namespace skewback::lodge
