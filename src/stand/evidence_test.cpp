#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "stand/evidence_points.hpp"
#include "stand/sample_arch.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

using sample::arch;
using sample::dead;

TEST(Evidence, ReadsBackBitForBit) {
  const Assembly assembly = arch(5, 0.6);
  const CaseProof proof = limit_load(assembly, dead());
  const Forces& forces = std::get<Forces>(proof.evidence);
  EvidencePoints shared;
  const auto own = nlohmann::json::parse(write_evidence(assembly, dead(), proof, {})),
             named = nlohmann::json::parse(write_evidence(assembly, dead(), proof, {}, &shared));
  const auto list = nlohmann::json::parse(shared.json());
  EXPECT_LE(list.size(), forces.contacts.size());
  const auto same = [](const nlohmann::json& read, const Vec3& written) {
    for (std::size_t k = 0; k < 3; ++k)
      EXPECT_EQ(read.at(k).get<double>(), written[static_cast<Eigen::Index>(k)]);
  };
  for (const nlohmann::json& json : {own, named}) {
    EXPECT_EQ(json["case"], "dead");
    EXPECT_EQ(json["kind"], "forces");
    EXPECT_TRUE(json["present"].is_null());
    EXPECT_EQ(json["contacts"].size(), assembly.joints.size());
    std::size_t i = 0;
    for (const nlohmann::json& contact : json["contacts"]) {
      for (std::size_t k = 0; k < contact["points"].size(); ++k, ++i) {
        const Joint& joint = assembly.joints[static_cast<std::size_t>(forces.contacts.at(i).joint)];
        EXPECT_EQ(contact["a"], assembly.blocks[static_cast<std::size_t>(joint.a)].id);
        const nlohmann::json& point = contact["points"][k];
        same(point.is_array() ? point : list.at(point.get<std::size_t>()),
             forces.contacts[i].point);
        same(contact["forces"][k], forces.contacts[i].force);
      }
    }
    EXPECT_EQ(i, forces.contacts.size());
  }
}

// docs/evidence.md: `carried` where it is not as in the assembly's file, of blocks that are there.
TEST(Evidence, SaysWhatIsCarriedWhereThatIsItsOwn) {
  Assembly assembly = arch(5, 0.6);
  for (const std::size_t i : {2U, 3U})
    assembly.blocks[i].carried = {{100.0 * static_cast<double>(i), Vec3(1, 2, 3), Carried::kOther}};
  StandOptions options;
  options.present.assign(assembly.blocks.size(), 1);
  options.present[3] = 0;
  const auto written = [&] {
    return nlohmann::json::parse(
        write_evidence(assembly, dead(), limit_load(assembly, dead(), options), options));
  };
  EXPECT_FALSE(written().contains("carried"));
  options.own_carried = true;
  const nlohmann::json carried = written().at("carried");
  ASSERT_EQ(carried.size(), 1U);
  EXPECT_EQ(carried[0]["block"], assembly.blocks[2].id);
  EXPECT_EQ(carried[0]["mass"], 200);
  EXPECT_EQ(carried[0]["point"], nlohmann::json({1, 2, 3}));
}

}  // namespace
}  // namespace skewback
