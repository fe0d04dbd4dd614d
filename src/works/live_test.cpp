#include "works/live.hpp"

#include <gtest/gtest.h>

#include <array>
#include <filesystem>

#include "works/ask_sample.hpp"
#include "works/live_height.hpp"

namespace skewback {
namespace {

Brief demo() {
  Result<Brief> brief =
      read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml");
  if (!brief) throw std::runtime_error(describe(brief.faults().front()));
  return std::move(brief).value();
}

Dossier until_proof(const Brief& brief, const Dossier* before) {
  Result<LiveShape> shape = live_shape(brief, before, {});
  if (!shape) throw std::runtime_error(describe(shape.faults().front()));
  EXPECT_EQ(shape->sought, before == nullptr);
  Result<Dossier> cut = live_blocks(std::move(shape).value().dossier, {});
  if (!cut) throw std::runtime_error(describe(cut.faults().front()));
  return live_proof(std::move(cut).value(), before, {});
}

double least_factor(const Dossier& dossier) {
  double least = 1e9;
  for (const CaseProof& proof : dossier.proofs)
    if (proof.load_factor) least = std::min(least, *proof.load_factor);
  return least;
}

TEST(Live, FollowsEditsToWhatAWholeRunFinds) {
  Brief brief = demo();
  const Dossier before = until_proof(brief, nullptr);
  for (const auto& [rise, depth] : {std::pair{1.75, 0.28}, {1.9, 0.3}, {1.6, 0.26}}) {
    brief.form.rise_m = rise;
    brief.section.depth_crown_m = brief.section.depth_springing_m = depth;
    const Dossier live = until_proof(brief, &before);
    WorksOptions options;
    options.until = "stand";
    options.depth = false;
    const Result<Dossier> whole = run_works(brief, options, {});
    ASSERT_TRUE(whole.ok());
    EXPECT_NEAR(live.form->rise_m, rise, 1e-9);
    EXPECT_LT(live.form->residual_rel, 1e-9);
    EXPECT_NEAR(live.form->thrust_max_n, whole->form->thrust_max_n,
                0.01 * whole->form->thrust_max_n);
    for (const Vec3& v : live.form->vertices) {  // points may lie elsewhere in the same surface
      const auto z = height_at(*whole->form, v.head<2>());
      if (!z) continue;
      EXPECT_NEAR(v.z(), *z, 0.006) << "at " << v.transpose();
    }
    ASSERT_EQ(live.proofs.size(), whole->proofs.size());
    for (std::size_t i = 0; i < live.proofs.size(); ++i) {
      EXPECT_EQ(live.proofs[i].id, whole->proofs[i].id);
      EXPECT_EQ(live.proofs[i].verdict, whole->proofs[i].verdict) << live.proofs[i].id;
      EXPECT_EQ(live.proofs[i].friction_needed.has_value(),
                whole->proofs[i].friction_needed.has_value());
    }
    EXPECT_NEAR(least_factor(live), least_factor(*whole), 0.05 * least_factor(*whole));
    EXPECT_NEAR(live.cut->report.blocks_volume_m3, whole->cut->report.blocks_volume_m3,
                0.005 * whole->cut->report.blocks_volume_m3);
    EXPECT_TRUE(live.cut->report.watertight);
  }
}

// All in one proportion, where that does not stray: no step of the fit, which would go on to level
// sections from where the search stopped.
TEST(Live, KeepsForcesAsTheyAre) {
  Brief brief = demo();
  Result<LiveShape> first = live_shape(brief, nullptr, {});
  ASSERT_TRUE(first.ok());
  const Dossier before = std::move(first).value().dossier;
  brief.form.rise_m *= 1.004;
  const Result<LiveShape> live = live_shape(brief, &before, {});
  ASSERT_TRUE(live.ok());
  EXPECT_FALSE(live->sought);
  const std::vector<NetEdge>&now = live->dossier.form->edges, &then = before.form->edges;
  ASSERT_EQ(now.size(), then.size());
  for (std::size_t k = 0; k < now.size(); ++k)
    EXPECT_NEAR(now[k].q / then[k].q, now[0].q / then[0].q, 1e-9);
}

// A fifth of the depth: another arch, which falls where the one before stood. To follow would tilt
// its sections.
TEST(Live, SeeksTheFormAnewWhereFollowingStrays) {
  Brief brief = demo();
  const Dossier before = until_proof(brief, nullptr);
  brief.section.depth_crown_m = brief.section.depth_springing_m = 0.06;
  Result<LiveShape> live = live_shape(brief, &before, {});
  ASSERT_TRUE(live.ok());
  EXPECT_TRUE(live->sought);
  Result<Dossier> cut = live_blocks(std::move(live).value().dossier, {});
  ASSERT_TRUE(cut.ok());
  for (const Joint& joint : cut->cut->assembly.joints) {
    double low = 0, high = 0;
    for (const Region& part : joint.contact)
      for (const Vec2& p : part.outer) low = std::min(low, p.y()), high = std::max(high, p.y());
    EXPECT_NEAR(high - low, 0.06, 0.02);  // the form sought leans a little across by itself
  }
  const Dossier live_proved = live_proof(std::move(cut).value(), &before, {});
  EXPECT_TRUE(std::ranges::any_of(
      live_proved.proofs, [](const CaseProof& proof) { return proof.verdict == Verdict::kFalls; }));
}

TEST(Live, SeeksTheFormAnewWhereTheNetIsAnother) {
  Brief brief = demo();
  const Dossier before = until_proof(brief, nullptr);
  brief.form.mesh_size_m = 0.25;
  const Result<LiveShape> live = live_shape(brief, &before, {});
  ASSERT_TRUE(live.ok());
  EXPECT_TRUE(live->sought);
  EXPECT_NE(live->dossier.form->vertices.size(), before.form->vertices.size());
  EXPECT_NEAR(live->dossier.form->rise_m, 1.8, 1e-9);
}

TEST(Live, TellsTheShapeBeforeItsSolidAndTheFirstCasesBeforeTheRest) {
  Brief brief = demo();
  const Dossier before = until_proof(brief, nullptr);
  int shapes = 0, firsts = 0;
  Result<LiveShape> shape =
      live_shape(brief, &before, {}, [&](const Dossier& told, const std::string& lacks) {
        ++shapes;
        EXPECT_EQ(lacks, "the solid is not made yet");
        EXPECT_TRUE(told.form && told.body);
        EXPECT_TRUE(told.body->outer.faces.empty());
        EXPECT_EQ(told.body->extrados.size(), told.form->vertices.size());
      });
  ASSERT_TRUE(shape.ok());
  EXPECT_EQ(shapes, 1);
  EXPECT_FALSE(shape->dossier.body->outer.faces.empty());
  Result<Dossier> cut = live_blocks(std::move(shape).value().dossier, {});
  ASSERT_TRUE(cut.ok());
  double worst = 1e9;
  const auto told = [&](const Dossier& now, const std::string& lacks) {
    ++firsts;
    ASSERT_EQ(now.proofs.size(), now.cut->assembly.cases.size());
    int done = 0;
    for (const CaseProof& proof : now.proofs) {
      EXPECT_FALSE(proof.friction_needed);
      if (proof.views.empty()) {
        EXPECT_EQ(proof.reason, "not proved yet");
        EXPECT_EQ(proof.verdict, Verdict::kUndecided);
        continue;
      }
      ++done;
      if (firsts == 1) worst = std::min(worst, proof.load_factor.value_or(1e9));
    }
    EXPECT_EQ(done, firsts == 1 ? 3 : static_cast<int>(now.proofs.size()));
    EXPECT_NE(lacks.find(firsts == 1 ? "3 of" : "friction"), std::string::npos) << lacks;
  };
  const Dossier proved = live_proof(std::move(cut).value(), &before, {}, told);
  EXPECT_EQ(firsts, 2);
  EXPECT_NEAR(worst, least_factor(proved), 1e-6);  // the case that governed came first
  for (const CaseProof& proof : proved.proofs) EXPECT_FALSE(proof.views.empty()) << proof.id;
  EXPECT_FALSE(proved.required.empty());
  EXPECT_FALSE(proved.scope.empty());
}

// Half a centimetre is less than what a followed form may stray.
// Shown at once as it follows, and said to be sought anew.
TEST(Live, SeeksTheFormAnewWhereASpringingIsAtAnotherLevel) {
  Brief brief = demo();
  Result<LiveShape> first = live_shape(brief, nullptr, {});
  ASSERT_TRUE(first.ok());
  const Dossier before = std::move(first).value().dossier;
  brief.plan.supports[1].level_m += 0.1;
  std::vector<std::string> lacks;
  const Result<LiveShape> live =
      live_shape(brief, &before, {}, [&](const Dossier& told, const std::string& words) {
        lacks.push_back(words);
        EXPECT_NEAR(told.form->rise_m, brief.form.rise_m, 1e-6);
      });
  ASSERT_TRUE(live.ok());
  EXPECT_TRUE(live->sought);
  EXPECT_EQ(lacks,
            std::vector<std::string>{"it strays from the last one: the form is sought anew"});
}

// As a dragged springing line does.
TEST(Live, FollowsAPlanThatMoves) {
  Brief brief = demo();
  Result<LiveShape> first = live_shape(brief, nullptr, {});
  ASSERT_TRUE(first.ok());
  const Dossier before = std::move(first).value().dossier;
  Support& dragged = brief.plan.supports[0];
  const std::array ends = {dragged.a, dragged.b};
  const auto drag = [&](Vec2& p) {
    if (std::ranges::count(ends, p) > 0) p *= 1.003;
  };
  for (Vec2& p : brief.plan.outline) drag(p);
  for (FreeEdge& edge : brief.plan.free_edges)
    for (Vec2& p : edge.line) drag(p);
  for (Vec2* p : {&dragged.a, &dragged.b}) drag(*p);
  const Result<LiveShape> live = live_shape(brief, &before, {});
  ASSERT_TRUE(live.ok());
  EXPECT_FALSE(live->sought);
  const Result<LiveShape> sought = live_shape(brief, nullptr, {});
  ASSERT_TRUE(sought.ok());
  EXPECT_NE(live->dossier.form->vertices[0], before.form->vertices[0]);
  EXPECT_LT(live->dossier.form->fit_rms_m, sought->dossier.form->fit_rms_m + 0.005);
  EXPECT_NEAR(live->dossier.form->thrust_max_n, sought->dossier.form->thrust_max_n,
              0.01 * sought->dossier.form->thrust_max_n);
  for (const Vec3& v : live->dossier.form->vertices) {
    const auto z = height_at(*sought->dossier.form, v.head<2>());
    if (!z) continue;
    EXPECT_NEAR(v.z(), *z, 0.01) << "at " << v.transpose();
  }
}

// One case of weight alone, then what did not stand and what had least to spare.
TEST(Live, ProvesFirstWhatDidNotStandOrHadLeastToSpare) {
  Dossier cut = *sample::arch_dossier({});
  Assembly& assembly = cut.cut->assembly;
  const LoadCase dead = assembly.cases[0], full = assembly.cases[1];
  assembly.cases.clear();
  cut.notes.clear();
  for (const char* id : {"dead", "wet", "a", "b", "c", "d"}) {
    LoadCase load = *id == 'd' && id[1] != 0 ? dead : *id == 'w' ? dead : full;
    load.id = id;
    assembly.cases.push_back(load);
    cut.notes.push_back({.id = id, .words = ""});
  }
  Dossier before;
  for (const auto& [id, factor] : {std::pair{"a", 5.0}, {"b", 2.0}, {"c", 9.0}, {"d", 3.0}}) {
    CaseProof proof;
    proof.id = id;
    proof.verdict = *id == 'c' ? Verdict::kUndecided : Verdict::kStands;
    proof.load_factor = factor;
    before.proofs.push_back(proof);
  }
  std::vector<std::string> first;
  (void)live_proof(cut, &before, {}, [&](const Dossier& now, const std::string&) {
    if (!first.empty()) return;
    for (const CaseProof& proof : now.proofs)
      if (proof.reason != kNotProvedYet) first.push_back(proof.id);
  });
  EXPECT_EQ(first, (std::vector<std::string>{"dead", "b", "c"}));
}

TEST(Live, StopsWhenAsked) {
  const std::atomic<bool> stop{true};
  EXPECT_THROW((void)live_shape(demo(), nullptr, Progress({}, &stop)), Interrupted);
}

// Joints are measured after the last block is cut, block by block: that takes longest of many.
TEST(Live, StopsAmongTheJoints) {
  Result<LiveShape> shape = live_shape(demo(), nullptr, {});
  ASSERT_TRUE(shape.ok());
  std::atomic<bool> stop{false};
  const auto sink = [&](const std::string& stage, double fraction) {
    if (stage == "cut" && fraction >= 1) stop = true;
  };
  EXPECT_THROW((void)live_blocks(std::move(shape).value().dossier, Progress(sink, &stop)),
               Interrupted);
}

}  // namespace
}  // namespace skewback
