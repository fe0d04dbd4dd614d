#include "erect/lift_age.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "strength/concrete.hpp"

namespace skewback {
namespace {

constexpr double kDay_s = 86400, kMature_d = 28, kMeanOver_pa = 8e6;

/// The age at which beta_cc is that, (3.2) the other way round.
std::optional<double> days_to(double cement, double beta) {
  if (beta > 1) return std::nullopt;
  if (beta <= 0) return 0;
  const double root = 1 - std::log(beta) / cement;
  return kMature_d / (root * root);
}

LiftAge at_age(const Brief& brief, double age_s) {
  LiftAge age;
  age.days = age_s / kDay_s;
  const double cement = cement_coefficient(brief.material.cement);
  age.tension = age.days > 0 ? std::min(1.0, tension_at_age(cement, age.days)) : 0;
  age.compression = age.days > 0 ? compression_at_age(cement, age.days, brief.material.fck_pa) : 0;
  return age;
}

}  // namespace

double cement_coefficient(const std::string& cement_class) {
  if (cement_class == "S") return kSlowCement;
  return cement_class == "R" ? kRapidCement : kNormalCement;
}

double tension_at_age(double cement, double days) {
  return std::pow(age_factor(cement, days), days < kMature_d ? 1 : 2.0 / 3);
}

double compression_at_age(double cement, double days, double fck_pa) {
  if (days >= kMature_d) return 1;
  const double mean = age_factor(cement, days) * (fck_pa + kMeanOver_pa);
  return std::max(0.0, (mean - kMeanOver_pa) / fck_pa);
}

std::optional<double> days_to_tension(double cement, double share) {
  return days_to(cement, share);
}

std::optional<double> days_to_compression(double cement, double share, double fck_pa) {
  if (share <= 0) return 0;
  return days_to(cement, (share * fck_pa + kMeanOver_pa) / (fck_pa + kMeanOver_pa));
}

LiftAge age_off_table(const Brief& brief) {
  const LiftRequest& request = brief.lifting;
  const double curing_s = brief.print.wanted ? brief.print.curing_s : kMature_d * kDay_s;
  LiftAge age = at_age(brief, request.table_age_s > 0 ? request.table_age_s : curing_s);
  if (brief.print.wanted && request.early_strength > 0) {
    age.tension = age.compression = request.early_strength;
    age.as_tested = true;
  }
  return age;
}

LiftAge age_on_the_road(const Brief& brief) {
  const double cured_s = brief.print.wanted ? brief.print.curing_s : kMature_d * kDay_s;
  const double site_s = brief.lifting.site_age_s;
  return at_age(brief, site_s > 0 ? std::min(site_s, cured_s) : cured_s);
}

LiftAge age_on_site(const Brief& brief) {
  const double least_s = brief.print.wanted ? brief.print.curing_s + brief.transport.journey_s.x()
                                            : kMature_d * kDay_s;
  return at_age(brief, brief.lifting.site_age_s > 0 ? brief.lifting.site_age_s : least_s);
}

}  // namespace skewback
