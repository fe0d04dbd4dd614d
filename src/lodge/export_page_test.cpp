#include "lodge/export_page.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace skewback::lodge {
namespace {

std::size_t times(const std::string& text, const std::string& word) {
  std::size_t n = 0;
  for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++n;
  return n;
}

std::string inside(const std::string& html, const std::string& key) {
  const auto from = html.find('>', html.find(key)) + 1;
  return html.substr(from, html.find("</script>", from) - from);
}

TEST(Base64, OfTheStandard) {  // RFC 4648, section 10
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("fo"), "Zm8=");
  EXPECT_EQ(base64("foo"), "Zm9v");
  EXPECT_EQ(base64("foob"), "Zm9vYg==");
  EXPECT_EQ(base64("fooba"), "Zm9vYmE=");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
  EXPECT_EQ(base64(std::string("\0\xff\xfe", 3)), "AP/+");
}

TEST(Percent, AsThePageWritesAQuery) {
  EXPECT_EQ(percent("half, west"), "half%2C%20west");
  EXPECT_EQ(percent("a-b_c.d!~*'()"), "a-b_c.d!~*'()");
  EXPECT_EQ(percent("\u00e4&=?"), "%C3%A4%26%3D%3F");
}

TEST(FillPage, NoTextEndsAScript) {
  const std::string nasty = "</script><script>alert('x')</script><!-- ]]> \u2028 \u2029 &";
  const nlohmann::json said = {{"title", nasty}};
  const std::string html =
      fill_page("<body><!--SHEAVES--><p>end</p></body>",
                {{PagePart::Kind::kJson, "/api/state", said.dump()},
                 {PagePart::Kind::kSheaf, "layers?block=\"><b>", "</script>"}});
  EXPECT_EQ(times(html, "<script"), 2u);
  EXPECT_EQ(times(html, "</script>"), 2u);
  EXPECT_EQ(times(html, "<!--"), 0u);
  EXPECT_EQ(times(html, "alert"), 1u);
  EXPECT_NE(html.find("data-sheaf=\"layers?block=&quot;&gt;&lt;b&gt;\""), std::string::npos);
  EXPECT_EQ(nlohmann::json::parse(inside(html, "/api/state")), said);
  EXPECT_EQ(html.substr(html.size() - 17), "<p>end</p></body>");
}

TEST(FillPage, WhereTheMarkIs) {
  const std::vector<PagePart> one = {{PagePart::Kind::kJson, "k", "1"}};
  const std::string part = "<script type=\"application/json\" data-json=\"k\">1</script>\n";
  // the last one: a script before it may speak of the mark
  EXPECT_EQ(fill_page("a<!--SHEAVES-->b<!--SHEAVES-->c", one), "a<!--SHEAVES-->b" + part + "c");
  EXPECT_EQ(fill_page("a</body>", one), "a" + part + "</body>");
  EXPECT_EQ(fill_page("a", one), "a" + part);
}

}  // namespace
}  // namespace skewback::lodge
