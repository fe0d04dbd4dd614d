#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

#include "deliver/files.hpp"
#include "deliver/sample_dossier.hpp"

namespace skewback::deliver {
namespace {

namespace fs = std::filesystem;

class Folder : public testing::Test {
 protected:
  void SetUp() override {
    const auto* info = testing::UnitTest::GetInstance()->current_test_info();
    home_ = fs::path(testing::TempDir()) /
            ("deliver-" + std::string(info->name()) + "-" + std::to_string(::getpid()));
    fs::remove_all(home_);
    fs::create_directories(home_);
  }
  void TearDown() override { fs::remove_all(home_); }
  [[nodiscard]] std::size_t entries() const {
    return static_cast<std::size_t>(
        std::distance(fs::directory_iterator(home_), fs::directory_iterator()));
  }
  static std::string read(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
  }
  fs::path home_;
};

TEST_F(Folder, HoldsTheSameBytesASecondTime) {
  const Dossier dossier = sample::small_dossier();
  const auto first = write_folder(dossier, home_ / "one");
  const auto second = write_folder(dossier, home_ / "two");
  ASSERT_TRUE(first.ok() && second.ok());
  EXPECT_EQ(*first, *second);
  EXPECT_GE(first->size(), 12U);
  for (const std::string& name : *first) {
    const std::string bytes = read(home_ / "one" / name);
    EXPECT_FALSE(bytes.empty()) << name;
    EXPECT_TRUE(bytes == read(home_ / "two" / name)) << name << " differs";
  }
  EXPECT_EQ(read(home_ / "one" / "report.pdf").substr(0, 5), "%PDF-");
  EXPECT_EQ(entries(), 2U);
}

TEST_F(Folder, ReplacesTheFolderOfAnEarlierRunWhole) {
  ASSERT_TRUE(place_folder({{"summary.json", "1"}, {"old.txt", "x"}}, home_ / "out", {}).ok());
  ASSERT_TRUE(place_folder({{"summary.json", "2"}}, home_ / "out", {}).ok());
  EXPECT_EQ(read(home_ / "out" / "summary.json"), "2");
  EXPECT_FALSE(fs::exists(home_ / "out" / "old.txt"));
  EXPECT_EQ(entries(), 1U);
}

TEST_F(Folder, NeverReplacesWhatNoRunWrote) {
  fs::create_directories(home_ / "letters");
  std::ofstream(home_ / "letters" / "dear.txt") << "keep me";
  const auto result = place_folder({{"summary.json", "1"}}, home_ / "letters", {});
  ASSERT_FALSE(result.ok());
  EXPECT_FALSE(result.faults().front().change.empty());
  EXPECT_EQ(read(home_ / "letters" / "dear.txt"), "keep me");
  EXPECT_EQ(entries(), 1U);
}

TEST_F(Folder, IsAsItWasAfterAnInterruption) {
  ASSERT_TRUE(place_folder({{"summary.json", "1"}}, home_ / "out", {}).ok());
  for (const double at : {0.95, 1.0}) {
    std::atomic<bool> stop = false;
    const Progress progress(
        [&](const std::string&, double fraction) {
          if (fraction >= at - 1e-9) throw Interrupted{};
        },
        &stop);
    EXPECT_THROW(
        (void)place_folder({{"summary.json", "2"}, {"more.txt", "x"}}, home_ / "out", progress),
        Interrupted);
    EXPECT_EQ(read(home_ / "out" / "summary.json"), "1");
    EXPECT_EQ(entries(), 1U);
  }
}

TEST_F(Folder, SaysWhyItCannotBeWritten) {
  std::ofstream(home_ / "file") << "x";
  EXPECT_FALSE(place_folder({{"summary.json", "1"}}, home_ / "file", {}).ok());
  EXPECT_FALSE(place_folder({{"summary.json", "1"}}, home_ / "file" / "below", {}).ok());
  EXPECT_EQ(entries(), 1U);
}

TEST_F(Folder, IsMadeOfABriefAlone) {  // no stage was run
  Dossier dossier;
  dossier.brief = sample::small_brief();
  const auto written = write_folder(dossier, home_ / "out");
  ASSERT_TRUE(written.ok());
  EXPECT_TRUE(fs::exists(home_ / "out" / "report.pdf"));
  EXPECT_FALSE(fs::exists(home_ / "out" / "assembly.json"));
}

}  // namespace
}  // namespace skewback::deliver
