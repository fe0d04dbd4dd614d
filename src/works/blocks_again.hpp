#pragma once
// Private to works/: the blocks of one bridge on the footings of another.

#include "works/works.hpp"

namespace skewback {

/// A brief for the bridge of `before` whose survey says where the springings of `fresh` are, in the
/// axes of `before`: as measured where the brief of `fresh` says so, else as drawn; a file of
/// points stays one, its marks by the names of `before`. Loads, factors, ground, packers, lifting
/// and spares if it asks for them, and what is required are those of `fresh`; plan, section and
/// blocks those of `before`. The bridge is turned about the vertical and shifted as suits the marks
/// best; supports are taken in the order, counter-clockwise, that fits best. Fault: not as many
/// supports.
[[nodiscard]] Result<Brief> blocks_again(const Brief& before, const Brief& fresh);

/// Of each support of `before`, in its order, which one of `fresh` it is put on; as many on both.
[[nodiscard]] std::vector<SupportAgain> supports_again(const Brief& before, const Brief& fresh);

}  // namespace skewback
