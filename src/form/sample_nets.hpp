#pragma once
// Random nets for tests and benchmarks: the same on every machine for the same seed.

#include <cmath>
#include <random>
#include <vector>

#include "form/force_density.hpp"

namespace skewback::sample {

inline double share(std::mt19937& random) { return double(random()) / 4294967296.0; }

// Grid over [0, nx] x [0, ny] with diagonals, free points shaken by `shake`; the rim is fixed.
inline Net shaken_grid(int nx, int ny, double shake, bool diagonals, std::mt19937& random) {
  const auto by = [shake](std::mt19937& r) { return shake * (2 * share(r) - 1); };
  Net net;
  const auto at = [&](int i, int j) { return i * (ny + 1) + j; };
  for (int i = 0; i <= nx; ++i)
    for (int j = 0; j <= ny; ++j) {
      const bool rim = i == 0 || j == 0 || i == nx || j == ny;
      const double dx = rim ? 0 : by(random), dy = rim ? 0 : by(random);
      net.points.emplace_back(i + dx, j + dy, 0);
      net.fixed.push_back(rim);
    }
  const auto join = [&](int a, int b) {
    if (!net.fixed[a] || !net.fixed[b]) net.edges.push_back({a, b});
  };
  for (int i = 0; i <= nx; ++i)
    for (int j = 0; j <= ny; ++j) {
      if (i < nx) join(at(i, j), at(i + 1, j));
      if (j < ny) join(at(i, j), at(i, j + 1));
      if (!diagonals || i == nx || j == ny) continue;
      join(at(i, j), at(i + 1, j + 1));
      join(at(i + 1, j), at(i, j + 1));
    }
  return net;
}

// Loads from 0.1 to 10 on the free points.
inline std::vector<double> random_loads(const Net& net, std::mt19937& random) {
  std::vector<double> load;
  for (std::size_t i = 0; i < net.points.size(); ++i)
    load.push_back(net.fixed[i] ? 0 : std::pow(10.0, 2 * share(random) - 1));
  return load;
}

}  // namespace skewback::sample
