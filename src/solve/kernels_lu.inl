// Included by kernels_*.cpp after kernels_cholesky.inl: block Gauss elimination on the panels of the
// Cholesky factor. Lower blocks are divided by the diagonal block of their column, upper ones lie
// transposed in the places of the lower ones.

/// Inverse of a block by elimination with row pivots, column by column; `block` is lost. False: a
/// pivot is zero or not finite.
SKEWBACK_INLINE bool invert_block(const double* block, double* inverse) {
  double M[6][12];
  for (int r = 0; r < 6; ++r) {
    for (int c = 0; c < 6; ++c) {
      M[r][c] = block[c * kBlockRows + r];
      M[r][6 + c] = r == c ? 1 : 0;
    }
  }
  for (int c = 0; c < 6; ++c) {
    int pivot = c;
    for (int r = c + 1; r < 6; ++r) {
      if (__builtin_fabs(M[r][c]) > __builtin_fabs(M[pivot][c])) pivot = r;
    }
    const double divisor = M[pivot][c];
    if (!(__builtin_fabs(divisor) > 0) || __builtin_fabs(divisor) > 1e300) return false;
    for (int k = 0; k < 12; ++k) {
      const double swapped = M[c][k];
      M[c][k] = M[pivot][k] / divisor;
      if (pivot != c) M[pivot][k] = swapped;
    }
    for (int r = 0; r < 6; ++r) {
      if (r == c) continue;
      const double share = M[r][c];
      for (int k = 0; k < 12; ++k) M[r][k] -= share * M[c][k];
    }
  }
  for (int c = 0; c < 6; ++c) {
    for (int r = 0; r < 6; ++r) inverse[c * kBlockRows + r] = M[r][6 + c];
  }
  return true;
}

/// block = block inverse
SKEWBACK_INLINE void times_block(double* block, const double* inverse) {
  Wide* x = columns(block);
  Wide done[6];
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) {
    Wide sum = x[0] * inverse[c * kBlockRows];
#pragma GCC unroll 6
    for (int k = 1; k < 6; ++k) sum += x[k] * inverse[c * kBlockRows + k];
    done[c] = sum;
  }
#pragma GCC unroll 6
  for (int c = 0; c < 6; ++c) x[c] = done[c];
}

int factorise_lu(const LuView& view) {
  for (int p = 0; p < view.panel_count; ++p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width, lines = w + panel.rows_count;
    double* lower = view.lower + panel.base * kBlockSize;
    double* upper = view.upper + panel.base * kBlockSize;
    for (long s = 0; s < w; ++s) {
      const long at_s = panel.at(s) * kBlockSize;
      const double *lower_s = lower + at_s, *upper_s = upper + at_s;
      for (long line = s; s > 0 && line < lines; ++line) {
        const long at = panel.at(line) * kBlockSize;
        double *row = lower + at, *across = upper + at;
        subtract_products<kBlockRows>(row + s * kBlockSize, row, upper_s, int(s));
        if (line > s) subtract_products<kBlockRows>(across + s * kBlockSize, across, lower_s, int(s));
      }
      double* inverse = view.inverse + (panel.first + s) * kBlockSize;
      if (!invert_block(lower + at_s + s * kBlockSize, inverse)) return panel.first + int(s);
      for (long line = s + 1; line < lines; ++line) {
        times_block(lower + (panel.at(line) + s) * kBlockSize, inverse);
      }
    }
    const int* target = view.targets + panel.target_begin;
    for (long q = w; q < lines; ++q) {
      const long at_q = panel.at(q) * kBlockSize;
      const double *lower_q = lower + at_q, *upper_q = upper + at_q;
      for (long i = q; i < lines; ++i, ++target) {
        const long at = long(*target) * kBlockSize;
        subtract_products<kBlockRows>(view.lower + at, lower + panel.at(i) * kBlockSize, upper_q, int(w));
        if (i > q) {
          subtract_products<kBlockRows>(view.upper + at, upper + panel.at(i) * kBlockSize, lower_q, int(w));
        }
      }
    }
  }
  return -1;
}

void solve_lu(const LuView& view, double* x) {
  for (int p = 0; p < view.panel_count; ++p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width;
    const double* row = view.lower + panel.base * kBlockSize;
    double* own = x + long(panel.first) * kBlockRows;
    for (long line = 0; line < w + panel.rows_count; ++line) {
      Wide sum = {};
      const long count = line < w ? line : w;
      for (long k = 0; k < count; ++k) add_products(row + k * kBlockSize, own + k * kBlockRows, sum);
      double* to = line < w ? own + line * kBlockRows
                            : x + long(view.rows[panel.rows_begin + line - w]) * kBlockRows;
      *columns(to) -= sum;
      row += (line < w ? line + 1 : w) * kBlockSize;
    }
  }
  for (int p = view.panel_count - 1; p >= 0; --p) {
    const BlockPanel& panel = view.panels[p];
    const long w = panel.width;
    const double* base = view.upper + panel.base * kBlockSize;
    double* own = x + long(panel.first) * kBlockRows;
    for (long s = w - 1; s >= 0; --s) {
      Wide sum[6] = {};
      for (long line = s + 1; line < w + panel.rows_count; ++line) {
        const double* from =
            line < w ? own + line * kBlockRows
                     : x + long(view.rows[panel.rows_begin + line - w]) * kBlockRows;
        const Wide v = *columns(from);
        const Wide* block = columns(base + (panel.at(line) + s) * kBlockSize);
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
