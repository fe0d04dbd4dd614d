#include "lodge/address.hpp"

#include <gtest/gtest.h>

namespace skewback::lodge {
namespace {

TEST(Address, PlainOnesAreTakenApart) {
  const auto address = read_target("/api/view/proof?case=dead%2Fwind&x=-1.5&words=a+b%26c");
  ASSERT_TRUE(address.ok());
  EXPECT_EQ(address->path, "/api/view/proof");
  EXPECT_EQ(address->query.at("case"), "dead/wind");
  EXPECT_EQ(address->query.at("x"), "-1.5");
  EXPECT_EQ(address->query.at("words"), "a b&c");
  EXPECT_EQ(read_target("/").value().path, "/");
  EXPECT_EQ(read_target("/api/daybook/b%C3%A9").value().path, "/api/daybook/b\u00e9");
  EXPECT_EQ(read_target("/?").value().query.size(), 0U);
}

TEST(Address, WhatIsNotPlainIsRefused) {
  using namespace std::string_literals;
  for (const std::string& target : {""s,
                                    "api"s,
                                    "http://127.0.0.1/"s,
                                    "*"s,
                                    "//"s,
                                    "/a//b"s,
                                    "/a/"s,
                                    "/../etc/passwd"s,
                                    "/assets/../index.html"s,
                                    "/assets/%2e%2e/index.html"s,
                                    "/assets/..%2findex.html"s,
                                    "/assets/%2e/x"s,
                                    "/a%5cb"s,
                                    "/a\\b"s,
                                    "/%252e%252e/x"s,
                                    "/a%00b"s,
                                    "/a\0b"s,
                                    "/a%"s,
                                    "/a%4"s,
                                    "/a%zz"s,
                                    "/a%0ab"s,
                                    "/a\x7f"s,
                                    "/%ff"s,
                                    "/%c0%ae%c0%ae/x"s,
                                    "/%ed%a0%80"s,
                                    "/x?a=%00"s,
                                    "/x?a=1&a=2"s,
                                    "/x?=1"s,
                                    "/x?a=%f"s,
                                    "/x?a=%80"s,
                                    "/" + std::string(3000, 'a'),
                                    "/x?" + std::string(3000, 'a')})
    EXPECT_FALSE(read_target(target).ok()) << target;
  std::string many = "/x?";
  for (int i = 0; i < 17; ++i) many += "q" + std::to_string(i) + "=1&";
  EXPECT_FALSE(read_target(many).ok());
}

TEST(Address, Utf8AsTheStandardSays) {
  for (const char* good : {"", "a", "\u00e9", "\u20ac", "\U0001F309", "\xf4\x8f\xbf\xbf"})
    EXPECT_TRUE(is_utf8(good)) << good;
  for (const char* bad : {"\x80", "\xc2", "\xc1\x81", "\xe2\x82", "\xe0\x80\x80", "\xed\xbf\xbf",
                          "\xf0\x80\x80\x80", "\xf4\x90\x80\x80", "\xf5\x80\x80\x80", "a\xff"})
    EXPECT_FALSE(is_utf8(bad)) << bad;
}

}  // namespace
}  // namespace skewback::lodge
