#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "access/back_height.hpp"
#include "form/height_field.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

// Tops of the blocks as cut, against the surface they were cut from, which knows no blocks: half
// the depth (280 mm, the same all over) square to the middle surface; voussoirs are straight, 0.45
// m on a radius of some 6 m: 4 mm off the curve.
TEST(AccessOnBlocks, TheBackIsHalfADepthOverTheForm) {
  const Brief brief =
      read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml")
          .value();
  const Result<Dossier> run = run_works(brief, {0, "cut", false}, Progress());
  ASSERT_TRUE(run.ok());
  const access::BackHeight back(run->cut->assembly);
  const HeightField middle(run->form->vertices, run->form->triangles);
  int looked = 0;
  for (double x = -4.0; x <= 4.0; x += 0.05) {
    const auto spot = middle.at({x, 0.1});
    ASSERT_TRUE(spot);
    // the middle point under the top over x lies half a depth down the normal
    const double rise = spot->slope.norm();
    const Vec2 foot = Vec2(x, 0.1) + spot->slope * (0.14 / std::sqrt(1 + rise * rise));
    const auto under = middle.at(foot);
    ASSERT_TRUE(under);
    const double n = std::sqrt(1 + under->slope.squaredNorm());
    const Vec2 over = foot - under->slope * (0.14 / n);
    const auto found = back.at(over);
    if (!found) continue;
    ++looked;
    EXPECT_NEAR(found->z, under->z + 0.14 / n, 0.008) << "x " << over.x();
  }
  EXPECT_GT(looked, 150) << "of 161: dry joints are closed";
}

}  // namespace
}  // namespace skewback
