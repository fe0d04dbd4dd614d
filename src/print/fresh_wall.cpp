#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/constants.hpp"
#include "print/fresh_buckling.hpp"

namespace skewback {
namespace {

constexpr double kPoisson = 0.3;
constexpr int kPieces = 24;  // at least so many
constexpr double kExact = 1e-9;

/// Energy of the deflection a metre up: bend f''2 + both f f'' + slope f'2 + hold f2, times D.
struct Across {
  double both = 0, slope = 0, hold = 0;  // bend is 1
};
Across across(double width_m, WallEdges edges) {
  if (edges == WallEdges::kOneFree) {
    return {0, 6 * (1 - kPoisson) / (width_m * width_m), 0};
  }
  const double q = kPi * kPi / (width_m * width_m);
  return {-2 * kPoisson * q, 2 * (1 - kPoisson) * q, q * q};
}

/// Symmetric, half-bandwidth 3: row i holds (i, i), (i, i - 1), (i, i - 2), (i, i - 3).
using Band = std::vector<std::array<double, 4>>;

bool positive(Band a) {  // L D L'
  for (std::size_t i = 0; i < a.size(); ++i) {
    const std::size_t from = i < 3 ? 0 : i - 3;
    for (std::size_t j = from; j <= i; ++j) {
      double sum = a[i][i - j];
      for (std::size_t k = std::max(from, j < 3 ? 0 : j - 3); k < j; ++k) {
        sum -= a[i][i - k] * a[j][j - k] * a[k][0];
      }
      a[i][i - j] = j < i ? sum / a[j][0] : sum;
    }
    if (!(a[i][0] > 0)) return false;
  }
  return true;
}

struct Matrices {
  Band bending, pressing;  // over deflection and slope at the joints of the pieces
};

void add_piece(const WallPiece& piece, const Across& y, std::size_t first, Matrices& m) {
  static constexpr std::array<double, 4> kAt = {-0.8611363115940526, -0.3399810435848563,
                                                0.3399810435848563, 0.8611363115940526};
  static constexpr std::array<double, 4> kWeight = {0.3478548451374538, 0.6521451548625461,
                                                    0.6521451548625461, 0.3478548451374538};
  const double h = piece.height_m;
  const double plate = piece.stiffness_pa / (12 * (1 - kPoisson * kPoisson));
  for (std::size_t g = 0; g < 4; ++g) {
    const double s = (1 + kAt[g]) / 2, w = kWeight[g] / 2 * h;
    const Eigen::Vector4d f(1 - 3 * s * s + 2 * s * s * s, h * s * (1 - s) * (1 - s),
                            s * s * (3 - 2 * s), h * s * s * (s - 1));
    const Eigen::Vector4d df(-6 * s * (1 - s) / h, 1 - 4 * s + 3 * s * s, 6 * s * (1 - s) / h,
                             3 * s * s - 2 * s);
    const Eigen::Vector4d ddf((12 * s - 6) / (h * h), (6 * s - 4) / h, (6 - 12 * s) / (h * h),
                              (6 * s - 2) / h);
    const double pressure =
        piece.pressure_foot_pa + s * (piece.pressure_top_pa - piece.pressure_foot_pa);
    for (int i = 0; i < 4; ++i) {
      for (int j = 0; j <= i; ++j) {
        const auto row = first + static_cast<std::size_t>(i), k = static_cast<std::size_t>(i - j);
        m.bending[row][k] += w * plate *
                             (ddf(i) * ddf(j) + y.both / 2 * (f(i) * ddf(j) + f(j) * ddf(i)) +
                              y.slope * df(i) * df(j) + y.hold * f(i) * f(j));
        m.pressing[row][k] += w * pressure * df(i) * df(j);
      }
    }
  }
}

Band less(const Matrices& m, double x) {
  Band a(m.bending.begin() + 2, m.bending.end());  // the foot is clamped
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t k = 0; k < 4; ++k) {
      a[i][k] = k <= i ? a[i][k] - x * m.pressing[i + 2][k] : 0;
    }
  }
  return a;
}

Matrices assemble(const std::vector<WallPiece>& pieces, const Across& y) {
  const int parts = (kPieces - 1) / static_cast<int>(pieces.size()) + 1;
  const std::size_t size = 2 * (pieces.size() * static_cast<std::size_t>(parts) + 1);
  Matrices m{Band(size), Band(size)};
  std::size_t first = 0;
  for (const WallPiece& piece : pieces) {
    const double step = (piece.pressure_top_pa - piece.pressure_foot_pa) / parts;
    for (int k = 0; k < parts; ++k, first += 2) {
      const double foot = piece.pressure_foot_pa + k * step;
      add_piece({piece.height_m / parts, piece.stiffness_pa, foot, foot + step}, y, first, m);
    }
  }
  return m;
}

}  // namespace

bool wall_stands(const std::vector<WallPiece>& pieces, double width_m, WallEdges edges, double x) {
  return positive(less(assemble(pieces, across(width_m, edges)), x));
}

double wall_reserve(const std::vector<WallPiece>& pieces, double width_m, WallEdges edges) {
  double most_pa = 0, soft_pa = std::numeric_limits<double>::infinity();
  for (const WallPiece& piece : pieces) {
    most_pa = std::max({most_pa, piece.pressure_foot_pa, piece.pressure_top_pa});
    soft_pa = std::min(soft_pa, piece.stiffness_pa);
  }
  if (!(most_pa > 0)) return std::numeric_limits<double>::infinity();
  const Matrices m = assemble(pieces, across(width_m, edges));
  double high = soft_pa / (most_pa * width_m * width_m);  // its order of size
  while (positive(less(m, high))) high *= 2;
  double low = high / 2;
  while (!positive(less(m, low))) {
    high = low;
    low /= 2;
  }
  while (high - low > kExact * high) {
    const double middle = (low + high) / 2;
    (positive(less(m, middle)) ? low : high) = middle;
  }
  return low;
}

}  // namespace skewback
