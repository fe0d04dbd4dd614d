#include "solve/cone_shares.hpp"

#include <algorithm>

#include "base/parallel.hpp"

namespace skewback {

namespace {

constexpr int kPacksOfAShare = 2048;  // some 0.1 ms of the quicker kernels
constexpr std::size_t kPlacesOfAShare = 2048;

ConeSums& operator+=(ConeSums& a, const ConeSums& b) {
  a.cost_x += b.cost_x;
  a.most_v += b.most_v;
  a.products += b.products;
  a.worth += b.worth;
  a.dual_worst = std::max(a.dual_worst, b.dual_worst);
  a.upper_worst = std::max(a.upper_worst, b.upper_worst);
  return a;
}

ConeAims& operator+=(ConeAims& a, const ConeAims& b) {
  a.wished += b.wished;
  a.most_p += b.most_p;
  return a;
}

/// Cut where b changes, so that the rows of a b are those of one stretch.
std::vector<ConeView> cut(const ConeView& whole) {
  std::vector<ConeView> views{whole};
  if (whole.packs < 2 * kPacksOfAShare) return views;
  views.clear();
  for (int i = 0; i < whole.pair_count;) {
    ConeView view = whole;
    view.pairs = whole.pairs + i;
    view.first = whole.pairs[i].first;
    int end = i;
    do {
      ++end;
    } while (end < whole.pair_count && (whole.pairs[end].first - view.first < kPacksOfAShare ||
                                        whole.pairs[end].b == whole.pairs[end - 1].b));
    view.pair_count = end - i;
    view.packs = end < whole.pair_count ? whole.pairs[end].first : whole.packs;
    views.push_back(view);
    i = end;
  }
  return views;
}

}  // namespace

ConeShares::ConeShares(const ConeData& data, const BlockPattern& pattern,
                       const ConeKernels& kernels, double* room)
    : k_(kernels), views_(cut(data.view())), blocks_of_a_(room) {
  if (views_.size() == 1) return;
  const auto pairs = data.pairs.size(), places = static_cast<std::size_t>(pattern.nodes);
  rows_of_a_ = AlignedArray(pairs * kBlockRows);
  for (ConeView& view : views_) {
    const auto first = view.pairs - data.pairs.data();
    view.rows_of_a = rows_of_a_.data() + first * kBlockRows;
    view.blocks_of_a = blocks_of_a_ + first * kTightSize;
  }
  for (std::size_t j = 0; j < places; ++j) {
    block_.push_back(pattern.in_panel[static_cast<std::size_t>(pattern.start[j])]);
  }
  start_.assign(places + 1, 0);
  for (const ConePair& pair : data.pairs) {
    if (pair.a >= 0) ++start_[static_cast<std::size_t>(pair.a) + 1];
  }
  for (std::size_t j = 0; j < places; ++j) start_[j + 1] += start_[j];
  pairs_.resize(static_cast<std::size_t>(start_.back()));
  std::vector<int> next = start_;
  for (std::size_t i = 0; i < pairs; ++i) {
    const int a = data.pairs[i].a;
    if (a < 0) continue;
    pairs_[static_cast<std::size_t>(next[static_cast<std::size_t>(a)]++)] = static_cast<int>(i);
  }
}

template <class Body>
void ConeShares::each(const Body& body) const {
  if (views_.size() == 1) return body(views_.front());
  for_each_index(views_.size(), [&](std::size_t i) { body(views_[i]); });
}

template <class Sum, class Body>
Sum ConeShares::sum(const Body& body) const {
  if (views_.size() == 1) return body(views_.front());
  std::vector<Sum> parts(views_.size());
  for_each_index(views_.size(), [&](std::size_t i) { parts[i] = body(views_[i]); });
  Sum total = parts.front();
  for (std::size_t i = 1; i < parts.size(); ++i) total += parts[i];
  return total;
}

namespace {

/// body(place) for all places, by stretches.
template <class Body>
void each_place(std::size_t places, const Body& body) {
  for_each_index((places + kPlacesOfAShare - 1) / kPlacesOfAShare, [&](std::size_t share) {
    const std::size_t end = std::min(places, (share + 1) * kPlacesOfAShare);
    for (std::size_t j = share * kPlacesOfAShare; j < end; ++j) body(j);
  });
}

}  // namespace

void ConeShares::add_rows_of_a(double* rows) const {
  if (views_.size() == 1) return;
  each_place(block_.size(), [&](std::size_t j) {
    double* to = rows + j * kBlockRows;
    for (int k = start_[j]; k < start_[j + 1]; ++k) {
      const double* from =
          rows_of_a_.data() +
          static_cast<std::size_t>(pairs_[static_cast<std::size_t>(k)]) * kBlockRows;
      for (int r = 0; r < 6; ++r) to[r] += from[r];
    }
  });
}

void ConeShares::gather(const double* f, double sign, double* rows) {
  each([&](const ConeView& view) { k_.gather(view, f, sign, rows); });
  add_rows_of_a(rows);
}

void ConeShares::gather_scaled(const double* D, const double* h, double sign, double* rows) {
  each([&](const ConeView& view) { k_.gather_scaled(view, D, h, sign, rows); });
  add_rows_of_a(rows);
}

void ConeShares::spread(const double* D, const double* y, const double* h, double* out) {
  each([&](const ConeView& view) { k_.spread(view, D, y, h, out); });
}

void ConeShares::assemble(const double* D, double* blocks) {
  each([&](const ConeView& view) { k_.assemble(view, D, blocks); });
  if (views_.size() == 1) return;
  each_place(block_.size(), [&](std::size_t j) {
    double* to = blocks + static_cast<std::size_t>(block_[j]) * kTightSize;
    for (int k = start_[j]; k < start_[j + 1]; ++k) {
      const double* from =
          blocks_of_a_ + static_cast<std::size_t>(pairs_[static_cast<std::size_t>(k)]) * kTightSize;
      for (int r = 0; r < kTightSize; ++r) to[r] += from[r];
    }
  });
}

void ConeShares::weigh(const ConeState& s) {
  each([&](const ConeView& view) { k_.weigh(view, s); });
}

ConeSums ConeShares::residuals(const ConeState& s, const double* y, double tau) {
  return sum<ConeSums>([&](const ConeView& view) { return k_.residuals(view, s, y, tau); });
}

double ConeShares::aim_tau(const ConeState& s, double tau, bool near) {
  return sum<double>([&](const ConeView& view) { return k_.aim_tau(view, s, tau, near); });
}

ConeAims ConeShares::aim_affine(const ConeState& s) {
  return sum<ConeAims>([&](const ConeView& view) { return k_.aim_affine(view, s); });
}

void ConeShares::second_order(const ConeState& s) {
  each([&](const ConeView& view) { k_.second_order(view, s); });
}

void ConeShares::correct(const ConeState& s, double step, double low, double high) {
  each([&](const ConeView& view) { k_.correct(view, s, step, low, high); });
}

ConeAims ConeShares::aim_centre(const ConeState& s, double target, double keep, double share) {
  return sum<ConeAims>(
      [&](const ConeView& view) { return k_.aim_centre(view, s, target, keep, share); });
}

double ConeShares::dot_residuals(const ConeState& s, const double* x) const {
  return sum<double>([&](const ConeView& view) { return k_.dot_residuals(view, s, x); });
}

double ConeShares::dot_costs(const ConeState& s, const double* x) const {
  return sum<double>([&](const ConeView& view) { return k_.dot_costs(view, s, x); });
}

double ConeShares::direct(const ConeState& s, const double* dy, double growth, double rest,
                          double dtau, double keep) {
  if (views_.size() == 1) return k_.direct(views_.front(), s, dy, growth, rest, dtau, keep);
  std::vector<double> rates(views_.size());
  for_each_index(views_.size(), [&](std::size_t i) {
    rates[i] = k_.direct(views_[i], s, dy, growth, rest, dtau, keep);
  });
  return *std::ranges::max_element(rates);
}

void ConeShares::advance(const ConeState& s, double step) {
  each([&](const ConeView& view) { k_.advance(view, s, step); });
}

}  // namespace skewback
