#pragma once
// For tests only: a demonstration bridge down to its blocks.

#include <gtest/gtest.h>

#include "works/works.hpp"

namespace skewback {

struct DemoCut {
  Brief brief;
  Assembly assembly;
};
inline DemoCut demo_cut(const std::string& name) {
  const auto brief =
      read_brief(std::string(SKEWBACK_SOURCE_DIR) + "/examples/" + name + "/brief.toml");
  EXPECT_TRUE(brief.ok());
  WorksOptions options;
  options.until = "cut";
  const auto dossier = run_works(*brief, options, {});
  EXPECT_TRUE(dossier.ok());
  return {*brief, dossier->cut->assembly};
}

}  // namespace skewback
