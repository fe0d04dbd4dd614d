// Included by kernels_*.cpp inside an unnamed namespace, once per vector width.

using Wide = double __attribute__((vector_size(64)));  // a column of a block

#define SKEWBACK_INLINE static inline __attribute__((always_inline))

constexpr double kSkipped = 1e100;

SKEWBACK_INLINE Wide* columns(double* block) { return reinterpret_cast<Wide*>(block); }
SKEWBACK_INLINE const Wide* columns(const double* block) {
  return reinterpret_cast<const Wide*>(block);
}

/// Column c of a block whose columns are kRows apart; what lies beyond its six rows is not to be
/// looked at.
template <int kRows>
SKEWBACK_INLINE Wide column(const double* block, int c) {
  using Anywhere = double __attribute__((vector_size(64), aligned(8), may_alias));
  return *reinterpret_cast<const Anywhere*>(block + c * kRows);
}
/// To be written in ascending order, after all of them have been read: spills into the next.
template <int kRows>
SKEWBACK_INLINE void put_column(double* block, int c, const Wide& value) {
  using Anywhere = double __attribute__((vector_size(64), aligned(8), may_alias));
  *reinterpret_cast<Anywhere*>(block + c * kRows) = value;
}

/// target -= sum over `count` blocks of left right', both contiguous.
template <int kRows>
SKEWBACK_INLINE void subtract_products(double* target, const double* left, const double* right,
                                       int count) {
  constexpr int kSize = kRows == kTightRows ? kTightSize : kBlockSize;
#pragma GCC unroll 6
  for (int first = 0; first < 6; first += kColumnsAtOnce) {
    Wide sum[kColumnsAtOnce];
#pragma GCC unroll 6
    for (int c = 0; c < kColumnsAtOnce; ++c) sum[c] = column<kRows>(target, first + c);
    const double *l = left, *r = right + first;
    for (int block = 0; block < count; ++block, l += kSize, r += kSize) {
#pragma GCC unroll 6
      for (int k = 0; k < 6; ++k) {
        const Wide factor = column<kRows>(l, k);
#pragma GCC unroll 6
        for (int c = 0; c < kColumnsAtOnce; ++c) sum[c] -= factor * r[k * kRows + c];
      }
    }
    const double* next = target + (first + kColumnsAtOnce) * kRows;
    const bool more = first + kColumnsAtOnce < 6;
    const double keep[2] = {more ? next[0] : 0, more ? next[1] : 0};
#pragma GCC unroll 6
    for (int c = 0; c < kColumnsAtOnce; ++c) put_column<kRows>(target, first + c, sum[c]);
    if (more) {
      target[(first + kColumnsAtOnce) * kRows] = keep[0];
      target[(first + kColumnsAtOnce) * kRows + 1] = keep[1];
    }
  }
}

/// Cholesky factor of a diagonal block in its lower triangle; its inverse, transposed, in `inverse`.
/// A pivot not above `least` is noise: its row is skipped, its unknown becomes 0. False: `least` is
/// 0 there.
SKEWBACK_INLINE bool factorise_block(double* block, double* inverse, const double* least) {
  double L[6][6], reciprocal[6];
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {
#pragma GCC unroll 6
    for (int r = c; r < 6; ++r) L[r][c] = block[c * kTightRows + r];
  }
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {
    double pivot = L[c][c];
    if (!(pivot > least[c])) {
      if (!(least[c] > 0)) return false;
      pivot = kSkipped;
    }
    if (pivot > 1e300) return false;
    L[c][c] = __builtin_sqrt(pivot);
    reciprocal[c] = 1 / L[c][c];
#pragma GCC unroll 6
    for (int r = c + 1; r < 6; ++r) L[r][c] *= reciprocal[c];
#pragma GCC unroll 6
    for (int k = c + 1; k < 6; ++k) {
#pragma GCC unroll 6
      for (int r = k; r < 6; ++r) L[r][k] -= L[r][c] * L[k][c];
    }
  }
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {
#pragma GCC unroll 6
    for (int r = c; r < 6; ++r) block[c * kTightRows + r] = L[r][c];
  }
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {
    double x[6] = {0, 0, 0, 0, 0, 0};
    x[c] = reciprocal[c];
#pragma GCC unroll 6
    for (int r = c + 1; r < 6; ++r) {
      double sum = 0;
#pragma GCC unroll 6
      for (int k = c; k < r; ++k) sum += L[r][k] * x[k];
      x[r] = -sum * reciprocal[r];
    }
#pragma GCC unroll 6
    for (int r = 0; r < 6; ++r) inverse[r * kBlockRows + c] = x[r];
  }
  return true;
}

/// block = block L^-T for the factorised diagonal block L; `inverse`: what factorise_block left.
SKEWBACK_INLINE void divide_block(double* block, const double* diagonal, const double* inverse) {
  Wide done[6];
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {
    Wide sum = column<kTightRows>(block, c);
#pragma GCC unroll 6
    for (int k = 0; k < c; ++k) sum -= done[k] * diagonal[k * kTightRows + c];
    done[c] = sum * inverse[c * kBlockRows + c];
  }
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) put_column<kTightRows>(block, c, done[c]);
}

/// Subtracts from columns s0 .. s1 - 1 of lines of a panel what its columns before s0 take off.
void subtract_columns(const FactorView& view, const BlockPanel& panel, long s0, long s1, long line0,
                      long line1) {
  double* base = view.blocks + panel.base * kTightSize;
  for (long line = line0; line < line1; ++line) {
    double* row = base + panel.at(line) * kTightSize;
    for (long s = s0; s < s1 && s <= line; ++s) {
      subtract_products<kTightRows>(row + s * kTightSize, row, base + panel.at(s) * kTightSize,
                                    int(s0));
    }
  }
}

/// Eliminates columns s0 .. s1 - 1 inside themselves. -1, or the place that is not positive.
int eliminate_columns(const FactorView& view, const BlockPanel& panel, long s0, long s1) {
  double* base = view.blocks + panel.base * kTightSize;
  for (long s = s0; s < s1; ++s) {
    double* row_s = base + (panel.at(s) + s0) * kTightSize;
    for (long line = s; s > s0 && line < s1; ++line) {
      double* row = base + (panel.at(line) + s0) * kTightSize;
      subtract_products<kTightRows>(row + (s - s0) * kTightSize, row, row_s, int(s - s0));
    }
    double* diagonal = row_s + (s - s0) * kTightSize;
    double* inverse = view.inverse + (panel.first + s) * kBlockSize;
    if (!factorise_block(diagonal, inverse,
                         view.least + (panel.first + s) * kBlockRows)) {
      return panel.first + int(s);
    }
    for (long line = s + 1; line < s1; ++line) {
      divide_block(base + (panel.at(line) + s) * kTightSize, diagonal, inverse);
    }
  }
  return -1;
}

/// The same for lines below those columns.
void divide_columns(const FactorView& view, const BlockPanel& panel, long s0, long s1, long line0,
                    long line1) {
  double* base = view.blocks + panel.base * kTightSize;
  for (long line = line0; line < line1; ++line) {
    double* row = base + (panel.at(line) + s0) * kTightSize;
    for (long s = s0; s < s1; ++s) {
      double* block = row + (s - s0) * kTightSize;
      const double* row_s = base + (panel.at(s) + s0) * kTightSize;
      if (s > s0) subtract_products<kTightRows>(block, row, row_s, int(s - s0));
      divide_block(block, row_s + (s - s0) * kTightSize,
                   view.inverse + (panel.first + s) * kBlockSize);
    }
  }
}

/// Panels begin .. end - 1, which are whole subtrees: what they take off places from `limit` on is
/// left to pull().
int factorise_range(const FactorView& view, int begin, int end, int limit) {
  for (int p = begin; p < end; ++p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width, lines = w + panel.rows_count;
    const int failed = eliminate_columns(view, panel, 0, w);
    if (failed >= 0) return failed;
    divide_columns(view, panel, 0, w, w, lines);
    const double* below = view.blocks + (panel.base + panel.at(w)) * kTightSize;
    const int* target = view.targets + panel.target_begin;
    const int* place = view.rows + panel.rows_begin;
    for (long q = w; q < lines && place[q - w] < limit; ++q) {
      const double* right = below + (q - w) * w * kTightSize;
      for (long i = q; i < lines; ++i, ++target) {
        subtract_products<kTightRows>(view.blocks + long(*target) * kTightSize, below + (i - w) * w * kTightSize,
                          right, int(w));
      }
    }
  }
  return -1;
}

int factorise(const FactorView& view) {
  return factorise_range(view, 0, view.panel_count, 0x7fffffff);
}

/// What a panel takes off lines whose places are from .. to - 1 of the panel that holds its rows
/// q0 .. q1 - 1.
void pull(const FactorView& view, const BlockPanel& panel, long q0, long q1, int from, int to) {
  const long w = panel.width;
  const double* below = view.blocks + (panel.base + panel.at(w)) * kTightSize;
  const int* place = view.rows + panel.rows_begin;
  const long count = panel.rows_count;
  long i0 = q0;
  while (i0 < count && place[i0] < from) ++i0;
  long i1 = i0;
  while (i1 < count && place[i1] < to) ++i1;
  for (long q = q0; q < q1; ++q) {
    const int* target = view.targets + panel.target_begin + (q * count - q * (q - 1) / 2) - q;
    const double* right = below + q * w * kTightSize;
    for (long i = i0 > q ? i0 : q; i < i1; ++i) {
      subtract_products<kTightRows>(view.blocks + long(target[i]) * kTightSize,
                        below + i * w * kTightSize, right, int(w));
    }
  }
}

/// y = inverse' x, where inverse is stored transposed, for both ways of a triangular solve.
template <int kRows = kBlockRows>
SKEWBACK_INLINE Wide times_inverse(const double* inverse, const double* x) {
  alignas(64) double out[8] = {};
  const Wide v = *columns(x);
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {  // row c of the inverse is a column of what is stored
    const Wide product = column<kRows>(inverse, c) * v;
    out[c] = ((product[0] + product[1]) + (product[2] + product[3])) + (product[4] + product[5]);
  }
  return *columns(out);
}

template <int kRows = kBlockRows>
SKEWBACK_INLINE void add_products(const double* block, const double* x, Wide& sum) {
  Wide even = column<kRows>(block, 0) * x[0], odd = column<kRows>(block, 1) * x[1];
  even += column<kRows>(block, 2) * x[2];
  odd += column<kRows>(block, 3) * x[3];
  even += column<kRows>(block, 4) * x[4];
  odd += column<kRows>(block, 5) * x[5];
  sum += even + odd;
}

/// L x = x over panels begin .. end - 1, for `Count` right-hand sides in one pass over the factor.
/// What goes to places from `limit` on is added to `above`, by `number`.
template <int Count>
SKEWBACK_INLINE void solve_down_by(const FactorView& view, int begin, int end, int limit,
                                   const int* number, double* const* x, double* const* above) {
  for (int p = begin; p < end; ++p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width;
    const double* row = view.blocks + panel.base * kTightSize;
    double* own[Count];
    for (int i = 0; i < Count; ++i) own[i] = x[i] + long(panel.first) * kBlockRows;
    for (long s = 0; s < w; row += ++s * kTightSize) {
      Wide sum[Count] = {};
      for (long k = 0; k < s; ++k) {
#pragma GCC unroll 4
        for (int i = 0; i < Count; ++i) {
          add_products<kTightRows>(row + k * kTightSize, own[i] + k * kBlockRows, sum[i]);
        }
      }
      const double* inverse = view.inverse + (panel.first + s) * kBlockSize;
      for (int i = 0; i < Count; ++i) {
        alignas(64) double left[8];
        *columns(left) = *columns(own[i] + s * kBlockRows) - sum[i];
        *columns(own[i] + s * kBlockRows) = times_inverse(inverse, left);
      }
    }
    for (int q = 0; q < panel.rows_count; ++q, row += w * kTightSize) {
      Wide sum[Count] = {};
      for (long k = 0; k < w; ++k) {
#pragma GCC unroll 4
        for (int i = 0; i < Count; ++i) {
          add_products<kTightRows>(row + k * kTightSize, own[i] + k * kBlockRows, sum[i]);
        }
      }
      const int place = view.rows[panel.rows_begin + q];
      for (int i = 0; i < Count; ++i) {
        double* to = place < limit
                         ? x[i] + long(place) * kBlockRows
                         : above[i] + long(number[panel.rows_begin + q]) * kBlockRows;
        *columns(to) -= sum[i];
      }
    }
  }
}

/// L' x = x over panels end - 1 .. begin.
template <int Count>
SKEWBACK_INLINE void solve_up_by(const FactorView& view, int begin, int end, double* const* x) {
  for (int p = end - 1; p >= begin; --p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width;
    const double* base = view.blocks + panel.base * kTightSize;
    for (long s = w - 1; s >= 0; --s) {
      Wide sum[Count][6] = {};
      for (long line = s + 1; line < w + panel.rows_count; ++line) {
        const long place =
            line < w ? panel.first + line : long(view.rows[panel.rows_begin + line - w]);
        const double* block = base + (panel.at(line) + s) * kTightSize;
#pragma GCC unroll 4
        for (int i = 0; i < Count; ++i) {
          const Wide v = *columns(x[i] + place * kBlockRows);
#pragma GCC unroll 6
          for (int c = 0; c < 6; ++c) sum[i][c] += column<kTightRows>(block, c) * v;
        }
      }
      for (int i = 0; i < Count; ++i) {
        double* own = x[i] + (panel.first + s) * kBlockRows;
        alignas(64) double left[8] = {};
#pragma GCC unroll 6
        for (int c = 0; c < 6; ++c) {
          const Wide& of = sum[i][c];
          left[c] = own[c] - (((of[0] + of[1]) + (of[2] + of[3])) + (of[4] + of[5]));
        }
        Wide out = {};
        add_products(view.inverse + (panel.first + s) * kBlockSize, left, out);
        *columns(own) = out;
      }
    }
  }
}

void solve_down(const FactorView& view, int begin, int end, int limit, const int* number,
                double* const* x, double* const* above, int count) {
  switch (count) {
    case 1: return solve_down_by<1>(view, begin, end, limit, number, x, above);
    case 2: return solve_down_by<2>(view, begin, end, limit, number, x, above);
    default: return solve_down_by<kSolvedAtOnce>(view, begin, end, limit, number, x, above);
  }
}

void solve_up(const FactorView& view, int begin, int end, double* const* x, int count) {
  switch (count) {
    case 1: return solve_up_by<1>(view, begin, end, x);
    case 2: return solve_up_by<2>(view, begin, end, x);
    default: return solve_up_by<kSolvedAtOnce>(view, begin, end, x);
  }
}

void solve(const FactorView& view, double* const* x, int count) {
  solve_down(view, 0, view.panel_count, 0x7fffffff, nullptr, x, nullptr, count);
  solve_up(view, 0, view.panel_count, x, count);
}

void multiply(const double* block, const double* x, double* y) {
  Wide sum = *columns(y);
  add_products<kTightRows>(block, x, sum);
  *columns(y) = sum;
}

void multiply_transposed(const double* block, const double* x, double* y) {
  const Wide product = times_inverse<kTightRows>(block, x);
  *columns(y) += product;
}
