#include "centring/cut_list.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace skewback {
namespace {

std::vector<CutPiece> pieces_of(const std::vector<double>& lengths) {
  std::vector<CutPiece> out;
  for (std::size_t i = 0; i < lengths.size(); ++i)
    out.push_back({"p" + std::to_string(i), lengths[i]});
  return out;
}

// By hand, 4.8 m and cuts of 4 mm: 2.0 leaves 2.796, 2.0 leaves 0.792; 1.5 begins the second and
// leaves 3.296, 1.2 leaves 2.092; 0.7 goes into the first and leaves 0.088; 0.5 and 0.3 into the
// second leave 1.588 and 1.284. With their cuts they are 8.228 m of 4.804: no fewer than two.
TEST(CutList, LongestFirstIntoTheFirstWithRoom) {
  const auto pieces = pieces_of({0.3, 2.0, 0.7, 1.5, 2.0, 0.5, 1.2});
  const auto lengths = first_fit(pieces, 4.8, 0.004);
  ASSERT_EQ(lengths.size(), 2U);
  ASSERT_EQ(lengths[0].pieces.size(), 3U);
  EXPECT_EQ(lengths[0].pieces[0].id, "p1");
  EXPECT_EQ(lengths[0].pieces[1].id, "p4");
  EXPECT_EQ(lengths[0].pieces[2].id, "p2");
  EXPECT_NEAR(lengths[0].left_m, 0.088, 1e-9);
  EXPECT_NEAR(lengths[1].left_m, 1.284, 1e-9);
  EXPECT_EQ(fewest_lengths(pieces, 4.8, 0.004), 2);
}

// Two halves of 4.8 m do not come from one length once the saw has been through it; 2 mm less each
// and they do, and nothing is left.
TEST(CutList, TheSawTakesItsShare) {
  EXPECT_EQ(first_fit(pieces_of({2.4, 2.4}), 4.8, 0).size(), 1U);
  EXPECT_EQ(first_fit(pieces_of({2.4, 2.4}), 4.8, 0.004).size(), 2U);
  EXPECT_EQ(fewest_lengths(pieces_of({2.4, 2.4}), 4.8, 0.004), 2);
  const auto just = first_fit(pieces_of({2.398, 2.398}), 4.8, 0.004);
  ASSERT_EQ(just.size(), 1U);
  EXPECT_NEAR(just[0].left_m, 0, 1e-9);
  EXPECT_EQ(fewest_lengths(pieces_of({2.398, 2.398}), 4.8, 0.004), 1);
  EXPECT_EQ(first_fit(pieces_of({4.8}), 4.8, 0.004).size(), 1U);
  // by what they add up to three would do, 4 x 2.403 = 9.612 of 4.804; no two come from one
  EXPECT_EQ(fewest_lengths(pieces_of({2.399, 2.399, 2.399, 2.399}), 4.8, 0.004), 4);
}

// Lengths cut up at random, without loss, so that so many are known to do: first fit decreasing
// takes no more than 11/9 of them and 6/9 (Dosa 2007, from memory), never fewer than the bound.
TEST(CutList, NeverFarFromTheBest) {
  std::mt19937 draw(7);
  for (int round = 0; round < 200; ++round) {
    const int known = 1 + round % 30;
    std::vector<double> lengths;
    double sum = 0;
    for (int i = 0; i < known; ++i) {
      double left = 4.8;
      for (int cuts = static_cast<int>(draw() % 5); cuts > 0; --cuts) {
        const double piece = left * (0.1 + 0.7 * static_cast<double>(draw() % 1000) / 1000);
        lengths.push_back(piece);
        left -= piece;
      }
      lengths.push_back(left);
    }
    const auto pieces = pieces_of(lengths);
    const auto laid = first_fit(pieces, 4.8, 0);
    EXPECT_LE(laid.size(), std::floor((11.0 * known + 6) / 9 + 1e-9)) << "round " << round;
    EXPECT_LE(fewest_lengths(pieces, 4.8, 0), known) << "round " << round;
    EXPECT_GE(static_cast<int>(laid.size()), fewest_lengths(pieces, 4.8, 0));
    std::size_t count = 0;
    for (const StockLength& length : laid) {
      double used = 0;
      for (const CutPiece& piece : length.pieces) used += piece.length_m;
      EXPECT_LE(used, 4.8 + 1e-6);
      EXPECT_NEAR(used + length.left_m, 4.8, 1e-6);
      count += length.pieces.size();
      sum += used;
    }
    EXPECT_EQ(count, pieces.size());
    EXPECT_NEAR(sum, 4.8 * known, 1e-6);
    sum = 0;
  }
}

// Three posts of 2 m, a packing of the same section, four boards of 2.276 m with 112 mm at each
// end (2.5 m), one lagging of 6 m; 4.8 m, 4 mm. Posts: 2, 2 and 0.1 in the first (0.688 left), 2 in
// the second. Boards: one a length, 4. Lagging: longer than the stock. Bought 2 x 4.8 + 4 x 4.8 + 6
// = 34.8 m; used 6.1 + 10 + 6 = 22.1 m; 9.6 x 0.01 + 19.2 x 0.0025 + 6 x 0.0025 = 0.159 m3.
TEST(CutList, SectionBySectionWithWhatIsTooLong) {
  Centring c;
  const auto stick = [&](const char* id, const char* kind, double length, double w, double d,
                         double beyond) {
    c.sticks.push_back({id, kind, Vec3::Zero(), Vec3(length, 0, 0), w, d, beyond, Vec3::Zero()});
  };
  for (const char* id : {"P1", "P2", "P3"}) stick(id, "post", 2, 0.1, 0.1, 0);
  stick("P1xP2", "packing", 0.1, 0.1, 0.1, 0);
  for (const char* id : {"B1", "B2", "B3", "B4"}) stick(id, "brace", 2.276, 0.025, 0.1, 0.112);
  stick("L1", "lagging", 6, 0.1, 0.025, 0);
  CentringRequest request;
  request.stock_length_m = 4.8;
  request.saw_kerf_m = 0.004;
  const CutList cut = cut_list(request, c);
  ASSERT_EQ(cut.sections.size(), 2U);
  const SectionCut &posts = cut.sections[0], &boards = cut.sections[1];
  EXPECT_NEAR(posts.width_m, 0.1, 1e-12);
  ASSERT_EQ(posts.lengths.size(), 2U);
  EXPECT_NEAR(posts.lengths[0].left_m, 4.8 - 4.1 - 3 * 0.004, 1e-9);
  EXPECT_EQ(boards.lengths.size(), 4U);
  EXPECT_EQ(boards.at_least, 4);
  ASSERT_EQ(boards.too_long.size(), 1U);
  EXPECT_EQ(boards.too_long[0].id, "L1");
  EXPECT_NEAR(cut.bought_m, 34.8, 1e-9);
  EXPECT_NEAR(cut.used_m, 22.1, 1e-9);
  EXPECT_NEAR(cut.bought_m3, 0.159, 1e-9);
}

}  // namespace
}  // namespace skewback
