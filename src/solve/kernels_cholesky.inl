// Included by kernels_*.cpp inside an unnamed namespace, once per vector width.

using Wide = double __attribute__((vector_size(64)));  // a column of a block

#define SKEWBACK_INLINE static inline __attribute__((always_inline))

constexpr double kSkipped = 1e100;

SKEWBACK_INLINE Wide* columns(double* block) { return reinterpret_cast<Wide*>(block); }
SKEWBACK_INLINE const Wide* columns(const double* block) {
  return reinterpret_cast<const Wide*>(block);
}

/// target -= sum over `count` blocks of left right', both contiguous.
SKEWBACK_INLINE void subtract_products(double* target, const double* left, const double* right,
                                       int count) {
  Wide* out = columns(target);
#pragma GCC unroll 6
  for (int first = 0; first < 6; first += kColumnsAtOnce) {
    Wide sum[kColumnsAtOnce];
#pragma GCC unroll 6
    for (int c = 0; c < kColumnsAtOnce; ++c) sum[c] = out[first + c];
    const double* r = right + first;
    const Wide* l = columns(left);
    for (int k = 0; k < 6 * count; ++k, r += kBlockRows, ++l) {
      const Wide column = *l;
#pragma GCC unroll 6
      for (int c = 0; c < kColumnsAtOnce; ++c) sum[c] -= column * r[c];
    }
#pragma GCC unroll 6
    for (int c = 0; c < kColumnsAtOnce; ++c) out[first + c] = sum[c];
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
    for (int r = c; r < 6; ++r) L[r][c] = block[c * kBlockRows + r];
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
    for (int r = c; r < 6; ++r) block[c * kBlockRows + r] = L[r][c];
    block[c * kBlockRows + 6] = reciprocal[c];  // the padding is free
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

/// block = block L^-T for the factorised diagonal block L.
SKEWBACK_INLINE void divide_block(double* block, const double* diagonal) {
  Wide* x = columns(block);
  Wide done[6];
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {
    Wide sum = x[c];
#pragma GCC unroll 6
    for (int k = 0; k < c; ++k) sum -= done[k] * diagonal[k * kBlockRows + c];
    done[c] = sum * diagonal[c * kBlockRows + 6];
  }
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) x[c] = done[c];
}

int factorise(const FactorView& view) {
  for (int p = 0; p < view.panel_count; ++p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width, lines = w + panel.rows_count;
    double* base = view.blocks + panel.base * kBlockSize;
    for (long s = 0; s < w; ++s) {
      const double* row_s = base + s * w * kBlockSize;
      double* diagonal = base + (s * w + s) * kBlockSize;
      for (long line = s; s > 0 && line < lines; ++line) {
        double* row = base + line * w * kBlockSize;
        subtract_products(row + s * kBlockSize, row, row_s, int(s));
      }
      if (!factorise_block(diagonal, view.inverse + (panel.first + s) * kBlockSize,
                           view.least + (panel.first + s) * kBlockRows)) {
        return panel.first + int(s);
      }
      for (long line = s + 1; line < lines; ++line) {
        divide_block(base + (line * w + s) * kBlockSize, diagonal);
      }
    }
    const int* target = view.targets + panel.target_begin;
    for (long q = w; q < lines; ++q) {
      const double* right = base + q * w * kBlockSize;
      for (long i = q; i < lines; ++i, ++target) {
        subtract_products(view.blocks + long(*target) * kBlockSize, base + i * w * kBlockSize,
                          right, int(w));
      }
    }
  }
  return -1;
}

/// y = inverse' x, where inverse is stored transposed, for both ways of a triangular solve.
SKEWBACK_INLINE Wide times_inverse(const double* inverse, const double* x) {
  alignas(64) double out[8] = {};
  const Wide v = *columns(x);
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {  // row c of the inverse is a column of what is stored
    const Wide product = columns(inverse)[c] * v;
    out[c] = ((product[0] + product[1]) + (product[2] + product[3])) + (product[4] + product[5]);
  }
  return *columns(out);
}

SKEWBACK_INLINE void add_products(const double* block, const double* x, Wide& sum) {
  Wide even = columns(block)[0] * x[0], odd = columns(block)[1] * x[1];
  even += columns(block)[2] * x[2];
  odd += columns(block)[3] * x[3];
  even += columns(block)[4] * x[4];
  odd += columns(block)[5] * x[5];
  sum += even + odd;
}

void solve(const FactorView& view, double* x) {
  for (int p = 0; p < view.panel_count; ++p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width;
    const double* row = view.blocks + panel.base * kBlockSize;
    double* own = x + long(panel.first) * kBlockRows;
    for (long s = 0; s < w; ++s, row += w * kBlockSize) {
      Wide sum = {};
      for (long k = 0; k < s; ++k) add_products(row + k * kBlockSize, own + k * kBlockRows, sum);
      alignas(64) double left[8];
      *columns(left) = *columns(own + s * kBlockRows) - sum;
      *columns(own + s * kBlockRows) =
          times_inverse(view.inverse + (panel.first + s) * kBlockSize, left);
    }
    for (int q = 0; q < panel.rows_count; ++q, row += w * kBlockSize) {
      Wide sum = {};
      for (long k = 0; k < w; ++k) add_products(row + k * kBlockSize, own + k * kBlockRows, sum);
      *columns(x + long(view.rows[panel.rows_begin + q]) * kBlockRows) -= sum;
    }
  }
  for (int p = view.panel_count - 1; p >= 0; --p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width;
    const double* base = view.blocks + panel.base * kBlockSize;
    double* own = x + long(panel.first) * kBlockRows;
    for (long s = w - 1; s >= 0; --s) {
      Wide sum[6] = {};
      for (long line = s + 1; line < w + panel.rows_count; ++line) {
        const double* from =
            line < w ? own + line * kBlockRows
                     : x + long(view.rows[panel.rows_begin + line - w]) * kBlockRows;
        const Wide v = *columns(from);
        const Wide* block = columns(base + (line * w + s) * kBlockSize);
#pragma GCC unroll 6
        for (int c = 0; c < 6; ++c) sum[c] += block[c] * v;
      }
      alignas(64) double left[8] = {};
#pragma GCC unroll 6
      for (int c = 0; c < 6; ++c) {
        left[c] = own[s * kBlockRows + c] - (((sum[c][0] + sum[c][1]) + (sum[c][2] + sum[c][3])) +
                                             (sum[c][4] + sum[c][5]));
      }
      Wide out = {};
      add_products(view.inverse + (panel.first + s) * kBlockSize, left, out);
      *columns(own + s * kBlockRows) = out;
    }
  }
}

void multiply(const double* block, const double* x, double* y) {
  Wide sum = *columns(y);
  add_products(block, x, sum);
  *columns(y) = sum;
}

void multiply_transposed(const double* block, const double* x, double* y) {
  const Wide product = times_inverse(block, x);
  *columns(y) += product;
}
