#include <gmock/gmock.h>

#include "verify/test_stacks.hpp"

namespace skewback::audit {
namespace {

TEST(VerifyFolder, SubfoldersAndUndecidedCases) {
  const Folder folder;
  folder.write("assembly.json", stack());
  folder.write("evidence/a.json", dead_forces());
  folder.write("evidence/b.json", {{"case", "push"}, {"kind", "none"}});
  folder.write("asbuilt/assembly.json", overhang());
  folder.write("asbuilt/evidence/a.json", tipping());
  auto report = verify_folder(folder.path());
  ASSERT_TRUE(report.ok());
  ASSERT_EQ(report->files.size(), 3u);
  EXPECT_EQ(report->files[2].file, "asbuilt/evidence/a.json");
  EXPECT_EQ(report->unclaimed(), 1u);
  EXPECT_EQ(report->failed(), 0u);
  EXPECT_TRUE(report->ok());
  std::ofstream(folder.path() / "evidence/c.json") << "not json";
  report = verify_folder(folder.path());
  ASSERT_TRUE(report.ok());
  EXPECT_EQ(report->failed(), 1u);
  EXPECT_FALSE(report->ok());
}

TEST(VerifyFolder, WhatCannotBeChecked) {
  EXPECT_FALSE(verify_folder("/no/such/folder").ok());
  const Folder folder;
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)), HasSubstr("no evidence"));
  folder.write("evidence/a.json", dead_forces());
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)), HasSubstr("assembly.json"));
  json open = stack();
  open["blocks"][1]["faces"].erase(0);
  folder.write("assembly.json", open);
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)),
              HasSubstr("\"low\" is not closed"));
  json turned = stack();
  for (json& face : turned["blocks"][1]["faces"]) std::reverse(face.begin(), face.end());
  folder.write("assembly.json", turned);
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)), HasSubstr("inside out"));
}

}  // namespace
}  // namespace skewback::audit
