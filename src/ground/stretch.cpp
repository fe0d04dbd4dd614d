#include "ground/stretch.hpp"

#include <Eigen/QR>

#include "base/constants.hpp"

namespace skewback {

std::vector<double> elongations(const std::vector<Rod>& rods, const std::vector<double>& force_n,
                                const std::vector<double>& diameter_m, double warmer_k) {
  std::vector<double> out;
  for (std::size_t k = 0; k < rods.size(); ++k) {
    const double d = diameter_m[static_cast<std::size_t>(rods[k].tie)];
    const double area = kPi / 4 * d * d, length = rods[k].length();
    out.push_back((force_n[k] / (kSteelStiffness * area) + kSteelExpansion * warmer_k) * length);
  }
  return out;
}

std::vector<FootMove> feet_moved(const std::vector<Vec2>& middles, const std::vector<Rod>& rods,
                                 const std::vector<double>& elongation_m,
                                 const std::vector<char>& taut) {
  std::vector<Footing> footings;
  for (const Vec2& p : middles) footings.push_back({"", p, Vec2::Zero(), 0});
  std::vector<Rod> pulled;
  Eigen::VectorXd wanted(static_cast<Eigen::Index>(rods.size()));
  Eigen::Index n = 0;
  for (std::size_t k = 0; k < rods.size(); ++k) {
    if (!taut[k]) continue;
    pulled.push_back(rods[k]);
    wanted[n++] = elongation_m[k];
  }
  std::vector<FootMove> out(middles.size());
  if (pulled.empty()) return out;
  // work of a rod on its footings: what it gives them does work against growing longer
  const Eigen::MatrixXd stretch = -rod_columns(footings, pulled).transpose();
  const Eigen::VectorXd u =
      stretch.completeOrthogonalDecomposition().solve(Eigen::VectorXd(wanted.head(n)));
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto at = 3 * static_cast<Eigen::Index>(i);
    out[i] = {{u[at], u[at + 1]}, u[at + 2]};
  }
  return out;
}

}  // namespace skewback
