// Weighted rigid fits of random point sets, as JSON: for check_rigid_fits.py.
#include <iostream>
#include <nlohmann/json.hpp>
#include <random>

#include "survey/fit.hpp"

namespace {

using namespace skewback;
using Json = nlohmann::json;

Json row(const Vec3& v) { return {v.x(), v.y(), v.z()}; }

Json one(std::mt19937_64& rng, int points, double noise_m) {
  const auto within = [&](double half) {
    return half * (2 * static_cast<double>(rng() >> 11) * 0x1p-53 - 1);
  };
  const auto anywhere = [&](double half) { return Vec3(within(half), within(half), within(half)); };
  const Mat3 R = Eigen::AngleAxisd(within(3.1), anywhere(1).normalized()).toRotationMatrix();
  const Vec3 t = anywhere(1000);
  std::vector<Vec3> designed, measured;
  std::vector<double> accuracy;
  std::vector<std::string> names;
  for (int i = 0; i < points; ++i) {
    designed.push_back(anywhere(10));
    measured.push_back(R * designed.back() + t + anywhere(noise_m));
    accuracy.push_back(0.002 * std::exp(within(2)));
    names.push_back("p" + std::to_string(i + 1));
  }
  // A gate that never opens: all points stay in.
  const RigidFit fit = fit_rigid(designed, measured, accuracy, 1e9, names);
  Json out;
  for (int i = 0; i < points; ++i) {
    out["designed"].push_back(row(designed[i]));
    out["measured"].push_back(row(measured[i]));
    out["residual"].push_back(row(fit.residual_m[i]));
  }
  out["accuracy"] = accuracy;
  for (int i = 0; i < 3; ++i) out["R"].push_back(row(fit.X.R.row(i)));
  out["t"] = row(fit.X.t);
  return out;
}

}  // namespace

int main() {
  std::mt19937_64 rng(20270222);
  Json sets;
  for (int i = 0; i < 20; ++i) sets.push_back(one(rng, 3 + i, i % 2 == 0 ? 0.01 : 1.0));
  std::cout << sets.dump() << '\n';
}
