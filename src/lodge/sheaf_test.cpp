#include "lodge/sheaf.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <limits>
#include <stdexcept>

namespace skewback::lodge {
namespace {

// Reads a sheaf by what docs/lodge.md says alone.
struct Read {
  nlohmann::json head;
  std::string arrays;

  explicit Read(const std::string& bytes) {
    EXPECT_EQ(bytes.substr(0, 4), "SKB1");
    std::size_t length = 0;
    for (int k = 3; k >= 0; --k)
      length = length * 256 + static_cast<unsigned char>(bytes[4 + static_cast<std::size_t>(k)]);
    head = nlohmann::json::parse(bytes.substr(8, length));
    const std::size_t from = (8 + length + 7) / 8 * 8;
    for (std::size_t i = 8 + length; i < from; ++i) EXPECT_EQ(bytes[i], '\0');
    arrays = bytes.substr(from);
    EXPECT_EQ(arrays.size() % 8, 0u);
  }
  template <class Number>
  std::vector<Number> numbers(const std::string& name) const {
    const auto& array = head.at("arrays").at(name);
    EXPECT_EQ(array.at("at").get<std::size_t>() % 8, 0u);
    std::vector<Number> list(array.at("count").get<std::size_t>());
    EXPECT_LE(array.at("at").get<std::size_t>() + list.size() * 4, arrays.size());
    std::memcpy(list.data(), arrays.data() + array.at("at").get<std::size_t>(), list.size() * 4);
    return list;
  }
};

TEST(Sheaf, GivesBackWhatWasPutIn) {
  Sheaf sheaf;
  sheaf.head = {{"view", "shape"}, {"of", 3}};
  const std::vector<float> points{1, 2, 3, -4.5f, std::numeric_limits<float>::denorm_min(), 6e30f};
  const std::vector<std::uint32_t> triangles{0, 1, 4294967295u};
  const std::vector<std::int32_t> arms{-1, 2, std::numeric_limits<std::int32_t>::min()};
  sheaf.add("vertices", points, 3);
  sheaf.add("triangles", triangles, 3);
  sheaf.add("arm", arms);
  const Read read(sheaf.bytes());
  EXPECT_EQ(read.head.at("view"), "shape");
  EXPECT_EQ(read.head.at("of"), 3);
  EXPECT_EQ(read.numbers<float>("vertices"), points);
  EXPECT_EQ(read.numbers<std::uint32_t>("triangles"), triangles);
  EXPECT_EQ(read.numbers<std::int32_t>("arm"), arms);
  EXPECT_EQ(read.head["arrays"]["vertices"]["type"], "f32");
  EXPECT_EQ(read.head["arrays"]["vertices"]["width"], 3);
  EXPECT_EQ(read.head["arrays"]["triangles"]["type"], "u32");
  EXPECT_EQ(read.head["arrays"]["arm"]["type"], "i32");
}

TEST(Sheaf, KeepsWhatIsNoNumber) {
  Sheaf sheaf;
  sheaf.add("pressure", std::vector<float>{std::numeric_limits<float>::quiet_NaN(), 1.0f});
  const std::vector<float> back = Read(sheaf.bytes()).numbers<float>("pressure");
  EXPECT_TRUE(std::isnan(back[0]));
  EXPECT_EQ(back[1], 1.0f);
}

TEST(Sheaf, EveryArrayStartsAtAMultipleOfEightWhateverTheHead) {
  for (int length = 0; length < 9; ++length) {
    Sheaf sheaf;
    sheaf.head["words"] = std::string(static_cast<std::size_t>(length), 'x');
    sheaf.add("a", std::vector<float>{1});
    sheaf.add("b", std::vector<float>{2, 3, 4});
    const Read read(sheaf.bytes());
    EXPECT_EQ(read.numbers<float>("a"), std::vector<float>{1});
    EXPECT_EQ(read.numbers<float>("b"), (std::vector<float>{2, 3, 4}));
  }
}

TEST(Sheaf, SameSheafSameBytes) {
  const auto make = [] {
    Sheaf sheaf;
    sheaf.head = {{"view", "proof"}, {"case", "dead"}};
    sheaf.add("force", std::vector<float>{1, 2, 3}, 3);
    return sheaf;
  };
  const Sheaf sheaf = make();
  EXPECT_EQ(sheaf.bytes(), sheaf.bytes());
  EXPECT_EQ(sheaf.bytes(), make().bytes());
}

TEST(Sheaf, EmptyOneIsAHeadWithoutArrays) {
  const Read read(Sheaf{}.bytes());
  EXPECT_TRUE(read.head.at("arrays").is_object());
  EXPECT_TRUE(read.head.at("arrays").empty());
  Sheaf none;
  none.add("mechanism", std::vector<float>{}, 6);
  EXPECT_TRUE(Read(none.bytes()).numbers<float>("mechanism").empty());
}

TEST(Sheaf, RefusesTheSameNameTwiceAndBrokenRows) {
  Sheaf sheaf;
  sheaf.add("arm", std::vector<std::int32_t>{1});
  EXPECT_THROW(sheaf.add("arm", std::vector<float>{1}), std::logic_error);
  EXPECT_THROW(sheaf.add("points", std::vector<float>{1, 2}, 3), std::logic_error);
}

TEST(Sheaf, NamesInOddBytesDoNotThrow) {
  Sheaf sheaf;
  sheaf.head["title"] =
      "br\xff"
      "dge";
  EXPECT_NO_THROW(Read(sheaf.bytes()));
}

}  // namespace
}  // namespace skewback::lodge
