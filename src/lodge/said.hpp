#pragma once
// For tests only: one sentence of the findings.

#include <gtest/gtest.h>

#include <string>

#include "lodge/views.hpp"

namespace skewback::lodge {

/// Null where there is none of that name.
inline nlohmann::ordered_json said(const Dossier& dossier, const std::string& id) {
  const nlohmann::ordered_json list = findings(dossier).at("list");
  for (const auto& f : list)
    if (f.at("id") == id) return f;
  return nullptr;
}

inline void expect_says(const nlohmann::ordered_json& finding, const std::string& words) {
  ASSERT_TRUE(finding.is_object()) << "no such sentence: " << words;
  const auto says = finding.at("says").get<std::string>();
  EXPECT_NE(says.find(words), std::string::npos) << says;
}

}  // namespace skewback::lodge
