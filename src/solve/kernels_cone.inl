// Included by kernels_*.cpp after kernels_cholesky.inl.

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
  const Pack along = r * gu, first = p0 * g[0];
  const Pack loose = gu + 2 * r * (left * first + d[6] * along);
  const Pack pinned = d[7] * gu + 2 * left * r * first;
  const Pack xu = left > 0.5 ? loose : pinned;
  out[0] = scale * left * (2 * p0 * (first + along) - g[0]);
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

/// Adds the forces `sum` on b, and what they are on a, to the rows.
SKEWBACK_INLINE void add_rows(const ConePair& pair, const double* sum, double sign, double* rows) {
  double* rb = rows + long(pair.b) * kBlockRows;
#pragma GCC unroll 6
  for (int r = 0; r < 6; ++r) rb[r] += sign * sum[r];
  if (pair.a < 0 || pair.own >= 0) return;
  double* ra = rows + long(pair.a) * kBlockRows;
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
    add_rows(pair, total, sign, rows);
    if (pair.own >= 0) {
      for (int r = 0; r < 6; ++r) rows[long(pair.a) * kBlockRows + r] += sign * sum_of(own[r]);
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
    for (int r = 0; r < 6; ++r) block[c * kBlockRows + r] += M[6 * c + r];
  }
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
    add_block(M, blocks + long(pair.block_bb) * kBlockSize);
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
      add_block(M, blocks + long(pair.block_aa) * kBlockSize);
      total_block(ba, false, M);
      add_block(M, blocks + long(pair.block_ba) * kBlockSize);
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
    add_block(G, blocks + long(pair.block_ba) * kBlockSize);
    add_block(H, blocks + long(pair.block_aa) * kBlockSize);
  }
}

double weigh(const ConeView& view, const ConeState& s) {
  Pack squares = {};
  for (long p = 0; p < view.packs; ++p) {
    const Pack *point = &pack(s.point, 3 * p), *cost = &pack(view.cost, 3 * p);
    const Pack scale = pack(s.beta, p) * pack(s.beta, p);
    const Pack along = point[1] * point[1] + point[2] * point[2];
    // W^2 = scale [1 + 2 along, 2 p0 p'; ., I + 2 p p'] with p0^2 = 1 + along.
    const Pack first = 1 + 2 * along, r = root(along);
    const Pack pull = pack(view.bounded, p) * pack(s.v, p) / pack(s.w, p);
    const Pack left = 1 / (1 + pull * scale * first);
    Pack* D = &pack(s.D, kDiagonal * p);
    D[0] = scale;
    D[1] = point[0];
    D[2] = r > 0.0 ? point[1] / r : Pack{1, 1, 1, 1};
    D[3] = r > 0.0 ? point[2] / r : Pack{};
    D[4] = r;
    D[5] = left;
    D[6] = pull > 0.0 ? (2 * (1 + along) * left - 1) / first : Pack{1, 1, 1, 1};
    D[7] = (1 + 4 * along * (1 + along) * left) / first;
    const Pack most = pack(view.most, p), lean = most * pull;
    squares += most * lean;
    Pack *low = &pack(s.cost_low, 3 * p), *high = &pack(s.cost_high, 3 * p);
    low[0] = lean - cost[0];
    high[0] = cost[0] + lean;
    for (int k = 1; k < 3; ++k) {
      low[k] = -cost[k];
      high[k] = cost[k];
    }
  }
  return sum_of(squares);
}

ConeSums residuals(const ConeView& view, const ConeState& s, const double* y, double tau) {
  Pack cost_x = {}, most_v = {}, products = {}, dual_worst = {}, upper_worst = {};
  for (int i = 0; i < view.pair_count; ++i) {
    const ConePair& pair = view.pairs[i];
    double u[6];
    relative(pair, y, u);
    for (long p = pair.first; p < pair.first + pair.packs; ++p) {
      const Pack mask = pack(view.mask, p), bounded = pack(view.bounded, p);
      Pack g[3];
      transposed_pack(view, pair, p, u, y, g);
      g[0] -= pack(s.v, p);
      for (int k = 0; k < 3; ++k) {
        const Pack cost = pack(view.cost, 3 * p + k), lambda = pack(s.lambda, 3 * p + k);
        const Pack left = mask * (cost * tau - g[k] - pack(s.z, 3 * p + k));
        pack(s.dual, 3 * p + k) = left;
        dual_worst = larger(dual_worst, size_of(left));
        cost_x += cost * pack(s.x, 3 * p + k);
        products += mask * lambda * lambda;
      }
      const Pack most = pack(view.most, p);
      const Pack left = bounded * (most * tau - pack(s.x, 3 * p) - pack(s.w, p));
      pack(s.upper, p) = left;
      upper_worst = larger(upper_worst, size_of(left));
      most_v += most * pack(s.v, p);
      products += bounded * pack(s.w, p) * pack(s.v, p);
    }
  }
  ConeSums sums;
  sums.cost_x = sum_of(cost_x);
  sums.most_v = sum_of(most_v);
  sums.products = sum_of(products);
  sums.dual_worst = most_of(dual_worst);
  sums.upper_worst = most_of(upper_worst);
  return sums;
}

double aim_affine(const ConeView& view, const ConeState& s) {
  Pack sum = {};
  for (long p = 0; p < view.packs; ++p) {
    const Pack w = pack(s.w, p), v = pack(s.v, p), wv = -(w * v);
    const Pack pull = (wv - v * pack(s.upper, p)) / w;  // 0 where unbounded
    pack(s.wv, p) = wv;
    sum += pack(view.most, p) * pull;
    for (int k = 0; k < 3; ++k) {
      pack(s.q, 3 * p + k) = -pack(s.lambda, 3 * p + k);
      pack(s.shift, 3 * p + k) = pack(view.mask, p) * -pack(s.z, 3 * p + k) - pack(s.dual, 3 * p + k);
    }
    pack(s.shift, 3 * p) -= pull;
  }
  return sum_of(sum);
}

double aim_centre(const ConeView& view, const ConeState& s, double target, double keep,
                  double second) {
  Pack sum = {};
  for (long p = 0; p < view.packs; ++p) {
    const Pack *l = &pack(s.lambda, 3 * p), *a = &pack(s.dxs, 3 * p), *b = &pack(s.dzs, 3 * p);
    // lambda o q = target e - lambda o lambda - a o b
    Pack aim[3];
    aim[0] = target - (l[0] * l[0] + l[1] * l[1] + l[2] * l[2]) -
             second * (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
    for (int k = 1; k < 3; ++k) aim[k] = -2 * l[0] * l[k] - second * (a[0] * b[k] + b[0] * a[k]);
    const Pack det = determinant(l), across = l[1] * aim[1] + l[2] * aim[2];
    const Pack first = (l[0] * aim[0] - across) / det;
    const Pack share = (across / l[0] - aim[0]) / det;
    Pack q[3], g[3];
    q[0] = first;
    for (int k = 1; k < 3; ++k) q[k] = share * l[k] + aim[k] / l[0];
    boost(&pack(s.point, 3 * p), -1, q, g);
    const Pack w = pack(s.w, p), v = pack(s.v, p), mask = pack(view.mask, p);
    const Pack wv =
        pack(view.bounded, p) * (target - w * v - second * pack(s.dw, p) * pack(s.dv, p));
    const Pack pull = (wv - keep * v * pack(s.upper, p)) / w;
    pack(s.wv, p) = wv;
    sum += pack(view.most, p) * pull;
    for (int k = 0; k < 3; ++k) {
      pack(s.q, 3 * p + k) = q[k];
      pack(s.shift, 3 * p + k) =
          mask * (g[k] / pack(s.beta, p)) - keep * pack(s.dual, 3 * p + k);
    }
    pack(s.shift, 3 * p) -= pull;
  }
  return sum_of(sum);
}

/// Rate at which lambda + t d nears the boundary of the cone.
SKEWBACK_INLINE Pack rate_of(const Pack* l, const Pack* d) {
  const Pack size = root(determinant(l)), n0 = l[0] / size;
  const Pack n1 = l[1] / size, n2 = l[2] / size;
  const Pack along = n0 * d[0] - n1 * d[1] - n2 * d[2];
  const Pack share = (along + d[0]) / (n0 + 1);
  const Pack r1 = d[1] - share * n1, r2 = d[2] - share * n2;
  return (root(r1 * r1 + r2 * r2) - along) / size;
}

double direct(const ConeView& view, const ConeState& s, const double* dy, double dtau,
              double keep) {
  Pack rate = {};
  for (int i = 0; i < view.pair_count; ++i) {
    const ConePair& pair = view.pairs[i];
    double u[6];
    relative(pair, dy, u);
    for (long p = pair.first; p < pair.first + pair.packs; ++p) {
      const Pack mask = pack(view.mask, p), bounded = pack(view.bounded, p);
      const Pack w = pack(s.w, p), v = pack(s.v, p);
      Pack *dx = &pack(s.dx, 3 * p), *dz = &pack(s.dz, 3 * p), g[3];
      const Pack dw = bounded * (keep * pack(s.upper, p) + pack(view.most, p) * dtau - dx[0]);
      const Pack dv = bounded * ((pack(s.wv, p) - v * dw) / w);
      pack(s.dw, p) = dw;
      pack(s.dv, p) = dv;
      transposed_pack(view, pair, p, u, dy, g);
      // W^-1 dx as W (W^-2 dx), from the equation that gave dx, where W^-1 (D g) would lose digits.
      Pack pull[3];
      for (int k = 0; k < 3; ++k) {
        pull[k] = mask * (g[k] + pack(s.shift, 3 * p + k) + dtau * pack(s.cost_low, 3 * p + k));
      }
      pull[0] -= bounded * v / w * dx[0];
      g[0] -= dv;
      for (int k = 0; k < 3; ++k) {
        dz[k] = mask * (keep * pack(s.dual, 3 * p + k) + pack(view.cost, 3 * p + k) * dtau - g[k]);
        dx[k] *= mask;
      }
      const Pack *point = &pack(s.point, 3 * p), *l = &pack(s.lambda, 3 * p);
      const Pack beta = pack(s.beta, p);
      Pack *dxs = &pack(s.dxs, 3 * p), *dzs = &pack(s.dzs, 3 * p);
      boost(point, 1, pull, dxs);
      boost(point, 1, dz, dzs);
      Pack pinned[3];
      boost(point, -1, dx, pinned);
      const Pack left = pack(s.D, kDiagonal * p + 5);
      for (int k = 0; k < 3; ++k) {
        dxs[k] = left > 0.5 ? dxs[k] * beta : pinned[k] / beta;
        dzs[k] *= beta;
      }
      rate = larger(rate, larger(rate_of(l, dxs), rate_of(l, dzs)));
      const Pack rest = v > 0.0 ? -dv / v : Pack{};
      rate = larger(rate, larger(-dw / w, rest));
    }
  }
  return most_of(rate);
}

/// New point; the scaling follows in scaled variables, where nothing cancels (the manner of CVXOPT,
/// Vandenberghe 2010, section 4).
void advance(const ConeView& view, const ConeState& s, double step) {
  for (long p = 0; p < view.packs; ++p) {
    Pack a[3], b[3];
    Pack *l = &pack(s.lambda, 3 * p), *point = &pack(s.point, 3 * p);
    for (int k = 0; k < 3; ++k) {
      pack(s.x, 3 * p + k) += step * pack(s.dx, 3 * p + k);
      pack(s.z, 3 * p + k) += step * pack(s.dz, 3 * p + k);
      a[k] = l[k] + step * pack(s.dxs, 3 * p + k);
      b[k] = l[k] + step * pack(s.dzs, 3 * p + k);
    }
    pack(s.w, p) += step * pack(s.dw, p);
    pack(s.v, p) += step * pack(s.dv, p);
    const Pack size_a = root(determinant(a)), size_b = root(determinant(b));
    for (int k = 0; k < 3; ++k) {
      a[k] /= size_a;
      b[k] /= size_b;
    }
    const Pack c = root(0.5 * (1 + (a[0] * b[0] + a[1] * b[1] + a[2] * b[2])));
    // v: half of the scaling so far, W = beta (2 v v' - J)
    const Pack norm = root(2 * (1 + point[0]));
    const Pack v[3] = {(point[0] + 1) / norm, point[1] / norm, point[2] / norm};
    const Pack va = v[0] * a[0] + v[1] * a[1] + v[2] * a[2];
    const Pack vb = v[0] * b[0] - v[1] * b[1] - v[2] * b[2];
    const Pack vq = (va + vb) / (2 * c), vu = va - vb;
    const Pack q0 = (a[0] + b[0]) / (2 * c);
    const Pack next0 = 2 * v[0] * vq - q0;
    const Pack d = (v[0] * vu - 0.5 * (a[0] - b[0])) / (next0 + 1);
    const Pack size = root(size_a * size_b);
    l[0] = size * c;
    for (int k = 1; k < 3; ++k) {
      l[k] = size * ((vu - 2 * d * vq) * v[k] + 0.5 * (1 - d / c) * a[k] + 0.5 * (1 + d / c) * b[k]);
      point[k] = 2 * v[k] * vq + (a[k] - b[k]) / (2 * c);
    }
    point[0] = root(1 + (point[1] * point[1] + point[2] * point[2]));
    pack(s.beta, p) *= root(size_a / size_b);
  }
}

double dot(const ConeView& view, const double* a, const double* b) {
  Pack sum[3] = {};
  for (long p = 0; p < view.packs; ++p) {
    for (int k = 0; k < 3; ++k) sum[k] += pack(a, 3 * p + k) * pack(b, 3 * p + k);
  }
  return sum_of(sum[0] + sum[1] + sum[2]);
}
