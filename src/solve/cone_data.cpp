#include "solve/cone_data.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numeric>

namespace skewback {

namespace {

using Block63 = Eigen::Matrix<double, 6, 3>;

/// A contact as seen from its places: b is the later one, or the only one.
struct Sides {
  int a = -1, b = -1;
  const Block63 *on_a = nullptr, *on_b = nullptr;
};

int place_of(const BlockPattern& pattern, int node) {
  return node < 0 ? -1 : pattern.place[static_cast<std::size_t>(node)];
}

Sides sides_of(const ConeContact& c, const BlockPattern& pattern) {
  Sides s{place_of(pattern, c.a), place_of(pattern, c.b), &c.on_a, &c.on_b};
  if (s.a > s.b) {
    std::swap(s.a, s.b);
    std::swap(s.on_a, s.on_b);
  }
  return s;
}

/// Of the matrix, as it lies in the factor.
int block_of(const BlockPattern& pattern, int i, int j) {
  return pattern.in_panel[static_cast<std::size_t>(pattern.find(i, j))];
}

double mean_square(double sum, double count) { return count > 0 && sum > 0 ? sum / count : 1; }

void choose_units(const ConeProgramView& program, ConeData& data) {
  double force = 0, moment = 0, count = 0;
  const auto add = [&](const Block63& columns) {
    force += columns.rightCols<2>().topRows<3>().squaredNorm();
    moment += columns.rightCols<2>().bottomRows<3>().squaredNorm();
    count += 2;
  };
  for (const ConeContact& c : program.contacts) {
    if (c.a >= 0) add(c.on_a);
    if (c.b >= 0) add(c.on_b);
  }
  data.column_size = std::sqrt(mean_square(force, count));
  data.moment = moment > 0 && force > 0 ? std::sqrt(force / moment) : 1;
  double square = 0, loaded = 0;
  for (Eigen::Index i = 0; i < program.b.size(); i += 6) {
    const double here = program.b.segment<3>(i).squaredNorm() +
                        (data.moment * program.b.segment<3>(i + 3)).squaredNorm();
    square += here;
    loaded += here > 0 ? 1 : 0;
  }
  data.force = std::sqrt(mean_square(square, loaded));
}

/// Rows in our units, padded, in places. `size` is taken out.
AlignedArray packed(const VectorX& rows, double size, const BlockPattern& pattern, double moment) {
  AlignedArray out(static_cast<std::size_t>(pattern.nodes) * kBlockRows);
  for (std::size_t j = 0; j < pattern.node.size(); ++j) {
    for (int r = 0; r < 6; ++r) {
      out[j * kBlockRows + static_cast<std::size_t>(r)] =
          rows[6 * pattern.node[j] + r] * (r < 3 ? 1 : moment) / size;
    }
  }
  return out;
}

Block63 in_units(const Block63& columns, double friction, const ConeData& data) {
  Block63 out = columns / data.column_size;
  out.bottomRows<3>() *= data.moment;
  out.col(0) /= friction;
  return out;
}

/// X with on_a = -[I 0; X I] on_b, from the first contact; false if the others disagree.
bool moved(const std::vector<Block63>& on_a, const std::vector<Block63>& on_b, double* X) {
  Eigen::Map<Eigen::Matrix3d> x(X);
  for (std::size_t i = 0; i < on_b.size(); ++i) {
    const double size = on_b[i].norm() + on_a[i].norm();
    if ((on_a[i].topRows<3>() + on_b[i].topRows<3>()).norm() > 1e-13 * size) return false;
    const Eigen::Matrix3d off = -(on_a[i].bottomRows<3>() + on_b[i].bottomRows<3>());
    if (i == 0)
      x = on_b[0].topRows<3>().transpose().partialPivLu().solve(off.transpose()).transpose();
    if (!((x * on_b[i].topRows<3>() - off).norm() <= 1e-12 * size)) return false;
  }
  return true;
}

void write_lane(const Block63& columns, int pack, int lane, AlignedArray& to) {
  for (int k = 0; k < 3; ++k) {
    for (int r = 0; r < 6; ++r) {
      to[static_cast<std::size_t>(((pack * 3 + k) * 6 + r) * kLanes + lane)] = columns(r, k);
    }
  }
}

template <class Columns>
void touch(int place, const Columns& columns, ConeData& data) {
  for (int r = 0; r < 6; ++r) {
    if (!columns.row(r).isZero(0))
      data.touched[static_cast<std::size_t>(place * kBlockRows + r)] = 1;
  }
}

void fill_packs(const ConeProgramView& program, const BlockPattern& pattern, ConeData& data) {
  const auto n = program.contacts.size();
  data.lane.assign(n, -1);
  std::vector<int> order;  // of contacts with friction, those of one pair together
  for (std::size_t i = 0; i < n; ++i) {
    if (program.contacts[i].friction > 0) order.push_back(static_cast<int>(i));
  }
  const auto sides = [&](int i) {
    return sides_of(program.contacts[static_cast<std::size_t>(i)], pattern);
  };
  std::stable_sort(order.begin(), order.end(), [&](int i, int j) {
    const Sides s = sides(i), t = sides(j);
    return std::pair(s.b, s.a) < std::pair(t.b, t.a);
  });
  int packs = 0, own_packs = 0;
  std::vector<std::vector<int>> members;
  for (std::size_t i = 0; i < order.size();) {
    const Sides s = sides(order[i]);
    ConePair pair;
    pair.a = s.a;
    pair.b = s.b;
    pair.first = packs;
    std::vector<int> here;
    std::vector<Block63> on_a, on_b;
    for (; i < order.size(); ++i) {
      const Sides t = sides(order[i]);
      if (t.a != s.a || t.b != s.b) break;
      here.push_back(order[i]);
      const double friction = program.contacts[static_cast<std::size_t>(order[i])].friction;
      on_b.push_back(in_units(*t.on_b, friction, data));
      if (t.a >= 0) on_a.push_back(in_units(*t.on_a, friction, data));
    }
    pair.packs = (static_cast<int>(here.size()) + kLanes - 1) / kLanes;
    packs += pair.packs;
    pair.block_bb = block_of(pattern, pair.b, pair.b);
    if (pair.a >= 0) {
      pair.block_aa = block_of(pattern, pair.a, pair.a);
      pair.block_ba = block_of(pattern, pair.b, pair.a);
      if (!moved(on_a, on_b, pair.X)) {
        pair.own = own_packs;
        own_packs += pair.packs;
      }
    }
    data.pairs.push_back(pair);
    members.push_back(std::move(here));
  }
  const auto p = static_cast<std::size_t>(packs), l = static_cast<std::size_t>(kLanes);
  data.on_b = AlignedArray(p * 18 * l);
  data.on_a = AlignedArray(static_cast<std::size_t>(own_packs) * 18 * l);
  data.cost = AlignedArray(p * 3 * l);
  data.most = AlignedArray(p * l);
  data.bounded = AlignedArray(p * l);
  data.mask = AlignedArray(p * l);
  for (std::size_t q = 0; q < members.size(); ++q) {
    const ConePair& pair = data.pairs[q];
    for (std::size_t k = 0; k < members[q].size(); ++k) {
      const int i = members[q][k], pack = pair.first + static_cast<int>(k) / kLanes;
      const int lane = static_cast<int>(k) % kLanes;
      const ConeContact& c = program.contacts[static_cast<std::size_t>(i)];
      const Sides s = sides_of(c, pattern);
      const auto at = static_cast<std::size_t>(pack * kLanes + lane);
      data.lane[static_cast<std::size_t>(i)] = static_cast<int>(at);
      const Block63 on_b = in_units(*s.on_b, c.friction, data);
      write_lane(on_b, pack, lane, data.on_b);
      touch(s.b, on_b, data);
      if (s.a >= 0) touch(s.a, *s.on_a, data);
      if (pair.own >= 0) {
        write_lane(in_units(*s.on_a, c.friction, data), pair.own + pack - pair.first, lane,
                   data.on_a);
      }
      data.mask[at] = 1;
      ++data.contacts;
      if (std::isfinite(c.n_most)) {
        data.bounded[at] = 1;
        data.most[at] = c.friction * c.n_most * data.column_size / data.force;
        ++data.bounds;
      }
      for (int j = 0; j < 3; ++j) {
        if (c.cost[j] == 0) continue;  // leaves the memory of a limit program untouched
        data.cost[static_cast<std::size_t>((pack * 3 + j) * kLanes + lane)] =
            c.cost[j] / (j == 0 ? c.friction : 1) / data.column_size;
      }
    }
  }
}

void scalars_of_contacts(const ConeProgramView& program, const BlockPattern& pattern,
                         ConeData& data) {
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    const ConeContact& c = program.contacts[i];
    if (c.friction > 0) continue;
    const Sides s = sides_of(c, pattern);
    ConeScalar scalar;
    scalar.contact = static_cast<int>(i);
    scalar.unit = data.force / data.column_size;
    scalar.cost = c.cost[0] / data.column_size;
    scalar.most = std::isfinite(c.n_most) ? c.n_most / scalar.unit : 0;
    scalar.a = s.a;
    scalar.b = s.b;
    const Block63 on_b = in_units(*s.on_b, 1, data);
    Eigen::Map<Eigen::Matrix<double, 6, 1>>(scalar.on_b.data()) = on_b.col(0);
    if (s.a >= 0) {
      const Block63 on_a = in_units(*s.on_a, 1, data);
      Eigen::Map<Eigen::Matrix<double, 6, 1>>(scalar.on_a.data()) = on_a.col(0);
    }
    data.scalars.push_back(std::move(scalar));
  }
}

/// Makes a column sparse if it touches one node, or two that share a block.
void thin(const BlockPattern& pattern, ConeScalar& scalar) {
  if (scalar.free) return;
  std::vector<int> touched;
  for (int j = 0; j < pattern.nodes && touched.size() <= 2; ++j) {
    const double* rows = scalar.dense.data() + static_cast<std::size_t>(j) * kBlockRows;
    if (std::any_of(rows, rows + 6, [](double v) { return v != 0; })) touched.push_back(j);
  }
  if (touched.empty() || touched.size() > 2) return;
  const int b = touched.back(), a = touched.size() == 2 ? touched.front() : -1;
  if (a >= 0 && pattern.find(b, a) < 0) return;
  scalar.a = a;
  scalar.b = b;
  std::copy_n(scalar.dense.data() + static_cast<std::size_t>(b) * kBlockRows, 6,
              scalar.on_b.begin());
  if (a >= 0) {
    std::copy_n(scalar.dense.data() + static_cast<std::size_t>(a) * kBlockRows, 6,
                scalar.on_a.begin());
  }
  scalar.dense = AlignedArray();
}

void scalars_of_columns(const ConeProgramView& program, const BlockPattern& pattern,
                        ConeData& data) {
  const double b_size = std::max(
      Eigen::Map<const VectorX>(data.b.data(), static_cast<Eigen::Index>(data.b.size())).norm(),
      1.0);
  for (std::size_t i = 0; i < program.columns.size(); ++i) {
    const ConeColumn& column = program.columns[i];
    if (column.lower == column.upper) continue;  // its part is in b
    ConeScalar scalar;
    scalar.column = static_cast<int>(i);
    scalar.dense = packed(column.rows, 1, pattern, data.moment);
    const double size = Eigen::Map<const VectorX>(scalar.dense.data(),
                                                  static_cast<Eigen::Index>(scalar.dense.size()))
                            .norm();
    const bool low = std::isfinite(column.lower), high = std::isfinite(column.upper);
    scalar.free = !low && !high;
    const double sign = !low && high ? -1 : 1;
    scalar.shift = low ? column.lower : high ? column.upper : 0;
    thin(pattern, scalar);
    const double to = scalar.b >= 0 ? 1 : b_size;
    const double grow = size > 0 ? sign * to / size : sign;
    scalar.unit = grow * data.force;
    scalar.cost = grow * column.cost;
    scalar.most = low && high ? (column.upper - column.lower) / scalar.unit : 0;
    for (std::size_t k = 0; k < scalar.dense.size(); ++k) scalar.dense[k] *= grow;
    for (double& v : scalar.on_a) v *= grow;
    for (double& v : scalar.on_b) v *= grow;
    data.scalars.push_back(std::move(scalar));
  }
}

void finish_scalars(const BlockPattern& pattern, ConeData& data) {
  for (ConeScalar& scalar : data.scalars) {
    if (scalar.b < 0) continue;
    using Row = Eigen::Map<const Eigen::Matrix<double, 6, 1>>;
    touch(scalar.b, Row(scalar.on_b.data()), data);
    scalar.block_bb = block_of(pattern, scalar.b, scalar.b);
    if (scalar.a < 0) continue;
    touch(scalar.a, Row(scalar.on_a.data()), data);
    scalar.block_aa = block_of(pattern, scalar.a, scalar.a);
    scalar.block_ba = block_of(pattern, scalar.b, scalar.a);
  }
}

void scale_costs(ConeData& data) {
  double most = 0;
  for (std::size_t i = 0; i < data.cost.size(); ++i) most = std::max(most, std::abs(data.cost[i]));
  for (const ConeScalar& s : data.scalars) most = std::max(most, std::abs(s.cost));
  data.costs = most > 0 ? most : 1;
  for (std::size_t i = 0; i < data.cost.size(); ++i)
    if (data.cost[i] != 0) data.cost[i] /= data.costs;
  for (ConeScalar& s : data.scalars) s.cost /= data.costs;
}

}  // namespace

ConeView ConeData::view() const {
  ConeView v;
  v.pairs = pairs.data();
  v.pair_count = static_cast<int>(pairs.size());
  v.packs = packs();
  v.on_b = on_b.data();
  v.on_a = on_a.data();
  v.cost = cost.data();
  v.most = most.data();
  v.bounded = bounded.data();
  v.mask = mask.data();
  v.bounds = bounds;
  return v;
}

ConeData scaled(const ConeProgramView& program, const BlockPattern& pattern) {
  ConeData data;
  data.touched.assign(static_cast<std::size_t>(pattern.nodes * kBlockRows), 0);
  VectorX b = program.b;
  for (const ConeColumn& column : program.columns) {
    const double at = std::isfinite(column.lower)   ? column.lower
                      : std::isfinite(column.upper) ? column.upper
                                                    : 0;
    if (at != 0) b -= at * column.rows;
  }
  choose_units(program, data);
  data.b = packed(b, data.force, pattern, data.moment);
  fill_packs(program, pattern, data);
  scalars_of_contacts(program, pattern, data);
  scalars_of_columns(program, pattern, data);
  finish_scalars(pattern, data);
  scale_costs(data);
  return data;
}

void original(const ConeProgramView& program, const BlockPattern& pattern, const ConeData& data,
              const double* x, const VectorX& scalars, const double* y, ConeSummary& out) {
  const bool ray = out.status == SolveStatus::kUnbounded;
  out.f = VectorX::Zero(3 * static_cast<Eigen::Index>(program.contacts.size()));
  out.columns = VectorX::Zero(static_cast<Eigen::Index>(program.columns.size()));
  const double unit = data.force / data.column_size;
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    if (data.lane[i] < 0) continue;
    const int pack = data.lane[i] / kLanes, lane = data.lane[i] % kLanes;
    for (int k = 0; k < 3; ++k) {
      out.f[3 * static_cast<Eigen::Index>(i) + k] =
          unit * x[(pack * 3 + k) * kLanes + lane] / (k == 0 ? program.contacts[i].friction : 1);
    }
  }
  for (std::size_t i = 0; i < program.columns.size(); ++i) {
    const ConeColumn& c = program.columns[i];
    if (c.lower == c.upper && !ray) out.columns[static_cast<Eigen::Index>(i)] = c.lower;
  }
  for (std::size_t s = 0; s < data.scalars.size(); ++s) {
    const ConeScalar& scalar = data.scalars[s];
    const double value =
        (ray ? 0 : scalar.shift) + scalar.unit * scalars[static_cast<Eigen::Index>(s)];
    if (scalar.contact >= 0) out.f[3 * scalar.contact] = value;
    if (scalar.column >= 0) out.columns[scalar.column] = value;
  }
  out.y.resize(6 * pattern.nodes);
  for (std::size_t j = 0; j < pattern.node.size(); ++j) {
    for (int r = 0; r < 6; ++r) {
      out.y[6 * pattern.node[j] + r] =
          data.costs * y[j * kBlockRows + static_cast<std::size_t>(r)] * (r < 3 ? 1 : data.moment);
    }
  }
}

}  // namespace skewback
