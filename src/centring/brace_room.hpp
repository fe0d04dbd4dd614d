#pragma once
// The room that boards, packings and bolts of braces take. Private to the folder and its tests.

#include <vector>

#include "centring/centring.hpp"

namespace skewback {

struct Box {
  Vec3 middle = Vec3::Zero();
  Mat3 axes = Mat3::Identity();  // unit columns
  Vec3 half = Vec3::Zero();      // m, along them
};

/// Two boxes that lie in each other by more than a millimetre (separating axes; Gottschalk, Lin,
/// Manocha 1996).
[[nodiscard]] bool boxes_meet(const Box& a, const Box& b);

/// Of a brace its board, and at each end a bolt through board and post with its washers and nut; of
/// a packing its timber; else nothing.
[[nodiscard]] std::vector<Box> room_of_brace(const Stick& stick, double post_m);

/// Whether the board of a brace runs through a post. The post's faces are taken to lie as the
/// board's does.
[[nodiscard]] bool runs_through(const Stick& brace, const Stick& post);

[[nodiscard]] bool in_each_others_way(const std::vector<Box>& a, const std::vector<Box>& b);

}  // namespace skewback
