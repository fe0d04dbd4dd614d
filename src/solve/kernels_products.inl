// Included by kernels_*.cpp after kernels_cholesky.inl: products with the columns of contacts.

using Pack = double __attribute__((vector_size(32)));  // four contacts

SKEWBACK_INLINE Pack& pack(double* p, long i) { return reinterpret_cast<Pack*>(p)[i]; }
SKEWBACK_INLINE const Pack& pack(const double* p, long i) {
  return reinterpret_cast<const Pack*>(p)[i];
}
SKEWBACK_INLINE double sum_of(const Pack& p) { return (p[0] + p[1]) + (p[2] + p[3]); }
SKEWBACK_INLINE double most_of(const Pack& p) {
  const double a = p[0] > p[1] ? p[0] : p[1], b = p[2] > p[3] ? p[2] : p[3];
  return a > b ? a : b;
}
SKEWBACK_INLINE Pack root(const Pack& p) {
  return Pack{__builtin_sqrt(p[0]), __builtin_sqrt(p[1]), __builtin_sqrt(p[2]),
              __builtin_sqrt(p[3])};
}
SKEWBACK_INLINE Pack larger(const Pack& a, const Pack& b) { return a > b ? a : b; }
SKEWBACK_INLINE Pack size_of(const Pack& a) { return a > -a ? a : -a; }

/// Displacement of a pair as its columns on b see it: y_b - [I X'; 0 I] y_a.
SKEWBACK_INLINE void relative(const ConePair& pair, const double* y, double* u) {
  const double* yb = y + long(pair.b) * kBlockRows;
#pragma GCC unroll 6
  for (int r = 0; r < 6; ++r) u[r] = yb[r];
  if (pair.a < 0 || pair.own >= 0) return;
  const double* ya = y + long(pair.a) * kBlockRows;
#pragma GCC unroll 3
  for (int r = 0; r < 3; ++r) {
    const double* x = pair.X + 3 * r;
    u[r] -= ya[r] + ((x[0] * ya[3] + x[1] * ya[4]) + x[2] * ya[5]);
    u[3 + r] -= ya[3 + r];
  }
}

/// The three entries of A'y of pack p, u from relative().
SKEWBACK_INLINE void transposed_pack(const ConeView& view, const ConePair& pair, long p,
                                     const double* u, const double* y, Pack* out) {
#pragma GCC unroll 3
  for (int k = 0; k < 3; ++k) {
    const double* B = view.on_b + (p * 3 + k) * 6 * kLanes;
    out[k] = (pack(B, 0) * u[0] + pack(B, 1) * u[1]) + (pack(B, 2) * u[2] + pack(B, 3) * u[3]) +
             (pack(B, 4) * u[4] + pack(B, 5) * u[5]);
  }
  if (pair.own < 0) return;
  const double* ya = y + long(pair.a) * kBlockRows;
  for (int k = 0; k < 3; ++k) {
    const double* B = view.on_a + ((pair.own + p - pair.first) * 3 + k) * 6 * kLanes;
    for (int r = 0; r < 6; ++r) out[k] += pack(B, r) * ya[r];
  }
}

/// D g with D = (W^-2 + pull e0 e0')^-1, pull = v/w, and u along the tangential part r u of the
/// scaling point. Where the bound hardly acts (`left` near 1) the product goes along the point, so
/// that rounding errors of a nearly singular D point into the cone and not out of it; where it acts
/// the part along u is all but pinned and taken apart from the part across.
SKEWBACK_INLINE void times_D(const double* D, long p, const Pack* g, Pack* out) {
  const Pack* d = &pack(D, kDiagonal * p);
  const Pack scale = d[0], p0 = d[1], u1 = d[2], u2 = d[3], r = d[4], left = d[5];
  const Pack gu = u1 * g[1] + u2 * g[2], gn = u1 * g[2] - u2 * g[1];
  const Pack along = r * gu, first = p0 * g[0], both = left * (first + along);
  const Pack loose = gu + 2 * r * (both - d[6] * along);
  const Pack pinned = d[7] * gu + 2 * left * r * first;
  const Pack xu = left > 0.5 ? loose : pinned;
  out[0] = scale * (2 * p0 * both - left * g[0]);
  out[1] = scale * (u1 * xu - u2 * gn);
  out[2] = scale * (u2 * xu + u1 * gn);
}

/// W f and W^-1 f, without beta: `sign` 1 and -1.
SKEWBACK_INLINE void boost(const Pack* point, double sign, const Pack* f, Pack* out) {
  const Pack along = point[1] * f[1] + point[2] * f[2];
  out[0] = point[0] * f[0] + sign * along;
  const Pack share = sign * f[0] + along / (1 + point[0]);
  out[1] = f[1] + share * point[1];
  out[2] = f[2] + share * point[2];
}

/// x0^2 - x1^2 - x2^2 without cancellation where the vector is near the boundary.
SKEWBACK_INLINE Pack determinant(const Pack* x) {
  const Pack radius = root(x[1] * x[1] + x[2] * x[2]);
  return (x[0] - radius) * (x[0] + radius);
}

void transposed(const ConeView& view, const double* y, double* out) {
  for (int i = 0; i < view.pair_count; ++i) {
    const ConePair& pair = view.pairs[i];
    double u[6];
    relative(pair, y, u);
    for (long p = pair.first; p < pair.first + pair.packs; ++p) {
      transposed_pack(view, pair, p, u, y, &pack(out, 3 * p));
    }
  }
}

void spread(const ConeView& view, const double* D, const double* y, const double* h,
            double* out) {
  for (int i = 0; i < view.pair_count; ++i) {
    const ConePair& pair = view.pairs[i];
    double u[6];
    relative(pair, y, u);
    for (long p = pair.first; p < pair.first + pair.packs; ++p) {
      Pack g[3];
      transposed_pack(view, pair, p, u, y, g);
      if (h) {
        for (int k = 0; k < 3; ++k) g[k] += pack(h, 3 * p + k);
      }
      times_D(D, p, g, &pack(out, 3 * p));
    }
  }
}

/// Where the rows of a of pair i are added up.
SKEWBACK_INLINE double* rows_of_a(const ConeView& view, int i, double* rows) {
  if (!view.rows_of_a) return rows + long(view.pairs[i].a) * kBlockRows;
  double* out = view.rows_of_a + long(i) * kBlockRows;
  for (int r = 0; r < 6; ++r) out[r] = 0;
  return out;
}

/// Adds the forces `sum` on b, and what they are on a, to the rows.
SKEWBACK_INLINE void add_rows(const ConeView& view, int i, const double* sum, double sign,
                              double* rows) {
  const ConePair& pair = view.pairs[i];
  double* rb = rows + long(pair.b) * kBlockRows;
#pragma GCC unroll 6
  for (int r = 0; r < 6; ++r) rb[r] += sign * sum[r];
  if (pair.a < 0 || pair.own >= 0) return;
  double* ra = rows_of_a(view, i, rows);
#pragma GCC unroll 3
  for (int r = 0; r < 3; ++r) {
    ra[r] -= sign * sum[r];
    ra[3 + r] -= sign * (sum[3 + r] + ((pair.X[r] * sum[0] + pair.X[3 + r] * sum[1]) +
                                       pair.X[6 + r] * sum[2]));
  }
}

template <class Force>
SKEWBACK_INLINE void gather_by(const ConeView& view, double sign, double* rows,
                               const Force& force) {
  for (int i = 0; i < view.pair_count; ++i) {
    const ConePair& pair = view.pairs[i];
    Pack sum[6] = {}, own[6] = {};
    for (long p = pair.first; p < pair.first + pair.packs; ++p) {
      Pack f[3];
      force(p, f);
      const double* B = view.on_b + p * 18 * kLanes;
#pragma GCC unroll 6
      for (int r = 0; r < 6; ++r) {
        sum[r] += pack(B, r) * f[0] + pack(B, 6 + r) * f[1] + pack(B, 12 + r) * f[2];
      }
      if (pair.own < 0) continue;
      const double* A = view.on_a + (pair.own + p - pair.first) * 18 * kLanes;
      for (int r = 0; r < 6; ++r) {
        own[r] += pack(A, r) * f[0] + pack(A, 6 + r) * f[1] + pack(A, 12 + r) * f[2];
      }
    }
    double total[6];
#pragma GCC unroll 6
    for (int r = 0; r < 6; ++r) total[r] = sum_of(sum[r]);
    add_rows(view, i, total, sign, rows);
    if (pair.own >= 0) {
      double* ra = rows_of_a(view, i, rows);
      for (int r = 0; r < 6; ++r) ra[r] += sign * sum_of(own[r]);
    }
  }
}

void gather(const ConeView& view, const double* f, double sign, double* rows) {
  gather_by(view, sign, rows, [&](long p, Pack* out) __attribute__((always_inline)) {
    for (int k = 0; k < 3; ++k) out[k] = pack(f, 3 * p + k);
  });
}

void gather_scaled(const ConeView& view, const double* D, const double* h, double sign,
                   double* rows) {
  gather_by(view, sign, rows, [&](long p, Pack* out) __attribute__((always_inline)) {
    times_D(D, p, &pack(h, 3 * p), out);
  });
}

/// sum over the pack of left D right', 6 x 6 by columns; the lower triangle is enough if `half`.
SKEWBACK_INLINE void add_outer(const double* left, const double* right, const double* D, long p,
                               bool half, Pack* sum) {
  for (int s = 0; s < 6; ++s) {
    const Pack g[3] = {pack(right, s), pack(right, 6 + s), pack(right, 12 + s)};
    Pack d[3];
    times_D(D, p, g, d);
    for (int r = half ? s : 0; r < 6; ++r) {
      sum[6 * s + r] +=
          pack(left, r) * d[0] + pack(left, 6 + r) * d[1] + pack(left, 12 + r) * d[2];
    }
  }
}

SKEWBACK_INLINE void add_block(const double* M, double* block) {
  for (int c = 0; c < 6; ++c) {
    for (int r = 0; r < 6; ++r) block[c * kTightRows + r] += M[6 * c + r];
  }
}

/// Where the block (a, a) of pair i is added up.
SKEWBACK_INLINE double* block_of_a(const ConeView& view, int i, double* blocks) {
  if (!view.blocks_of_a) return blocks + long(view.pairs[i].block_aa) * kTightSize;
  double* out = view.blocks_of_a + long(i) * kTightSize;
  for (int r = 0; r < kTightSize; ++r) out[r] = 0;
  return out;
}

SKEWBACK_INLINE void total_block(const Pack* sum, bool half, double* M) {
  for (int c = 0; c < 6; ++c) {
    for (int r = half ? c : 0; r < 6; ++r) {
      M[6 * c + r] = sum_of(sum[6 * c + r]);
      if (half) M[6 * r + c] = M[6 * c + r];
    }
  }
}

void assemble(const ConeView& view, const double* D, double* blocks) {
  for (int i = 0; i < view.pair_count; ++i) {
    const ConePair& pair = view.pairs[i];
    Pack sum[36] = {};
    for (long p = pair.first; p < pair.first + pair.packs; ++p) {
      const double* B = view.on_b + p * 18 * kLanes;
      add_outer(B, B, D, p, true, sum);
    }
    double M[36];
    total_block(sum, true, M);
    add_block(M, blocks + long(pair.block_bb) * kTightSize);
    if (pair.a < 0) continue;
    if (pair.own >= 0) {
      Pack aa[36] = {}, ba[36] = {};
      for (long p = pair.first; p < pair.first + pair.packs; ++p) {
        const double* B = view.on_b + p * 18 * kLanes;
        const double* A = view.on_a + (pair.own + p - pair.first) * 18 * kLanes;
        add_outer(A, A, D, p, true, aa);
        add_outer(B, A, D, p, false, ba);
      }
      total_block(aa, true, M);
      add_block(M, block_of_a(view, i, blocks));
      total_block(ba, false, M);
      add_block(M, blocks + long(pair.block_ba) * kTightSize);
      continue;
    }
    // on_a = T on_b with T = -[I 0; X I]: the block (b, a) is M T', the block (a, a) is T M T'.
    double G[36], H[36];
    for (int c = 0; c < 3; ++c) {
      for (int r = 0; r < 6; ++r) {
        G[6 * c + r] = -M[6 * c + r];
        G[6 * (3 + c) + r] = -(M[6 * (3 + c) + r] + ((M[r] * pair.X[c] + M[6 + r] * pair.X[3 + c]) +
                                                     M[12 + r] * pair.X[6 + c]));
      }
    }
    for (int c = 0; c < 6; ++c) {
      const double* g = G + 6 * c;
      for (int r = 0; r < 3; ++r) {
        H[6 * c + r] = -g[r];
        H[6 * c + 3 + r] =
            -(g[3 + r] + ((pair.X[r] * g[0] + pair.X[3 + r] * g[1]) + pair.X[6 + r] * g[2]));
      }
    }
    add_block(G, blocks + long(pair.block_ba) * kTightSize);
    add_block(H, block_of_a(view, i, blocks));
  }
}
