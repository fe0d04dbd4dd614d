#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "lodge/ask_json.hpp"

namespace skewback::lodge {
namespace {

std::shared_ptr<const Dossier> arch() {
  const sample::Arch arch;
  auto out = std::make_shared<Dossier>();
  Brief& brief = out->brief;
  const double x = arch.radius, y = arch.width / 2;
  brief.material.fck_pa = 30e6;
  brief.plan.outline = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
  for (const double side : {-1.0, 1.0}) {
    Support support;
    support.id = side < 0 ? "west" : "east";
    support.a = {side * x, -side * y};
    support.b = {side * x, side * y};
    brief.plan.supports.push_back(support);
  }
  out->cut.emplace();
  out->cut->assembly = sample::arch_assembly(arch);
  out->proofs = prove_all(out->cut->assembly);
  return out;
}

TEST(AskSheaf, TheHeadHoldsWhatWasFound) {
  const Asker asker(arch());
  const Result<Question> question =
      read_question(nlohmann::json::parse(R"({"persons":[{"at":[-1.5,0],"force_n":9000}]})"));
  ASSERT_TRUE(question.ok());
  const Result<Answer> answer = asker.answer(*question);
  ASSERT_TRUE(answer.ok());
  const auto head = answer_sheaf(*answer).head;
  EXPECT_EQ(head["case"], "dead");
  EXPECT_EQ(head["verdict"], word(answer->proof.verdict));
  EXPECT_EQ(head["words"].size(), answer->words.size());
  EXPECT_EQ(head["words"][0], answer->words[0]);
  EXPECT_EQ(head["load_factor"], *answer->proof.load_factor);
  EXPECT_EQ(head["governing"]["share"], answer->governing->share);
  EXPECT_EQ(head["views"].size(), 2u);
  EXPECT_EQ(head["block_of"].size(), answer->assembly.blocks.size());
}

TEST(AskSheaf, BlocksTakenAwayAreNotInItsArrays) {
  const Asker asker(arch());
  const Result<Answer> answer =
      asker.answer(read_question(nlohmann::json::parse(R"({"without_blocks":["v4"]})")).value());
  ASSERT_TRUE(answer.ok());
  const Sheaf sheaf = answer_sheaf(*answer);
  EXPECT_EQ(sheaf.head["verdict"], "falls");
  EXPECT_TRUE(sheaf.head["load_factor"].is_null() || sheaf.head["load_factor"] == 0.0);
  EXPECT_TRUE(sheaf.head["governing"].is_null());
  EXPECT_EQ(sheaf.head["block_of"].size(), 8u);  // six voussoirs, two ground blocks
  EXPECT_EQ(sheaf.head["block_of"][3], 4);
  const std::string bytes = sheaf.bytes();
  EXPECT_EQ(bytes.substr(0, 4), "SKB1");
  EXPECT_EQ(bytes, answer_sheaf(*answer).bytes());
}

}  // namespace
}  // namespace skewback::lodge
