#pragma once
// Private to verify/: whether what an evidence file claims is true.

#include "verify/contacts.hpp"
#include "verify/verify.hpp"

namespace skewback::audit {

inline constexpr double kTolerance = 1e-9;         // of the largest block weight; of the cone
inline constexpr double kOnFace = 1e-8;            // m, in the plane of a contact
inline constexpr double kOnPlane = 1e-6;           // m, across it
inline constexpr double kPenetration = 1e-7;       // of the largest speed
inline constexpr std::size_t kReasonsAtMost = 12;  // more of the same kind help nobody

/// Weight and load_factor x live on one body: force and moment about `about`.
struct Wrench {
  Vec3 force = Vec3::Zero(), moment = Vec3::Zero();
  void add(const Vec3& f, const Vec3& lever) {
    force += f;
    moment += lever.cross(f);
  }
};
[[nodiscard]] Wrench load_on(const Model& model, const Evidence& evidence, int body,
                             const LoadSet& loads, double load_factor, const Vec3& about);
/// Of the free bodies present; the largest load where nothing has weight.
[[nodiscard]] double largest_weight(const Model& model, const Evidence& evidence,
                                    const LoadSet& loads);

void give_reason(EvidenceVerdict& verdict, const std::string& reason);
[[nodiscard]] std::string number(double x);  // 4 significant digits

void check_forces(const Model& model, const std::vector<Contact>& contacts,
                  const Evidence& evidence, const LoadSet& loads, double load_factor,
                  EvidenceVerdict& verdict);
void check_mechanism(const Model& model, const std::vector<Contact>& contacts,
                     const Evidence& evidence, const LoadSet& loads, double load_factor,
                     EvidenceVerdict& verdict);

}  // namespace skewback::audit
