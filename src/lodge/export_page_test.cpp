#include "lodge/export_page.hpp"

#include <gtest/gtest.h>
#include <zlib.h>

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

// Unpacked by zlib itself.
TEST(Packed, ComesBack) {
  for (const std::size_t size : {0, 1, 2, 3, 4, 5, 1000, 100001}) {
    std::string bytes;
    for (std::size_t i = 0; i < size; ++i) bytes += static_cast<char>(i * i / 7);
    const std::string small = packed(bytes);
    EXPECT_EQ(small, packed(bytes));
    std::string planes(size + 1, '\0');
    z_stream stream{};
    ASSERT_EQ(inflateInit2(&stream, 15 + 16), Z_OK);
    std::string in = small;
    stream.next_in = reinterpret_cast<Bytef*>(in.data());
    stream.avail_in = static_cast<uInt>(in.size());
    stream.next_out = reinterpret_cast<Bytef*>(planes.data());
    stream.avail_out = static_cast<uInt>(planes.size());
    EXPECT_EQ(inflate(&stream, Z_FINISH), Z_STREAM_END);
    ASSERT_EQ(stream.total_out, size);
    inflateEnd(&stream);
    std::string back(size, '\0');
    std::size_t at = 0;
    for (std::size_t first = 0; first < 4; ++first)
      for (std::size_t i = first; i < size; i += 4) back[i] = planes[at++];
    EXPECT_EQ(back, bytes) << size;
  }
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
