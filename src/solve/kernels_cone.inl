// Included by kernels_*.cpp after kernels_products.inl: the steps of the interior point that go from
// contact to contact.

void weigh(const ConeView& view, const ConeState& s) {
  for (long p = view.first; p < view.packs; ++p) {
    const Pack* point = &pack(s.point, 3 * p);
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
    D[6] = pull * scale * left;  // (1 - left) / first
    D[7] = (1 + 4 * along * (1 + along) * left) / first;
      }
}

ConeSums residuals(const ConeView& view, const ConeState& s, const double* y, double tau) {
  Pack cost_x = {}, most_v = {}, products = {}, dual_worst = {}, upper_worst = {}, worth = {};
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
        worth += size_of(left * pack(s.x, 3 * p + k));
        cost_x += cost * pack(s.x, 3 * p + k);
        products += mask * lambda * lambda;
      }
      const Pack most = pack(view.most, p);
      const Pack left = bounded * (most * tau - pack(s.x, 3 * p) - pack(s.w, p));
      pack(s.upper, p) = left;
      upper_worst = larger(upper_worst, size_of(left));
      worth += size_of(left * pack(s.v, p));
      most_v += most * pack(s.v, p);
      products += bounded * pack(s.w, p) * pack(s.v, p);
    }
  }
  ConeSums sums;
  sums.cost_x = sum_of(cost_x);
  sums.most_v = sum_of(most_v);
  sums.products = sum_of(products);
  sums.worth = sum_of(worth);
  sums.dual_worst = most_of(dual_worst);
  sums.upper_worst = most_of(upper_worst);
  return sums;
}

double aim_tau(const ConeView& view, const ConeState& s, double tau, bool near) {
  Pack sum = {};
  const double share = 1 / tau;
  for (long p = view.first; p < view.packs; ++p) {
    const Pack mask = pack(view.mask, p), v = pack(s.v, p), upper = pack(s.upper, p);
    const Pack most = pack(view.most, p), pull = v / pack(s.w, p);
    Pack* lean = &pack(s.lean, 3 * p);
    if (near) {
      const Pack more = 2 * v + pull * upper;
      sum += more * upper;
      for (int k = 0; k < 3; ++k) {
        lean[k] = -share * (pack(s.dual, 3 * p + k) + 2 * mask * pack(s.z, 3 * p + k));
      }
      lean[0] += share * more;
    } else {
      sum += most * pull * most;
      for (int k = 0; k < 3; ++k) lean[k] = -pack(view.cost, 3 * p + k);
      lean[0] += most * pull;
    }
  }
  return sum_of(sum);
}

double dot_costs(const ConeView& view, const ConeState& s, const double* x) {
  Pack sum[3] = {};
  for (long p = view.first; p < view.packs; ++p) {
    for (int k = 0; k < 3; ++k) sum[k] += pack(view.cost, 3 * p + k) * pack(x, 3 * p + k);
    sum[0] += pack(s.v, p) / pack(s.w, p) * pack(view.most, p) * pack(x, 3 * p);
  }
  return sum_of(sum[0] + sum[1] + sum[2]);
}

double dot_residuals(const ConeView& view, const ConeState& s, const double* x) {
  Pack sum[3] = {};
  for (long p = view.first; p < view.packs; ++p) {
    for (int k = 0; k < 3; ++k) sum[k] += pack(s.dual, 3 * p + k) * pack(x, 3 * p + k);
    sum[0] += pack(s.v, p) / pack(s.w, p) * pack(s.upper, p) * pack(x, 3 * p);
  }
  return sum_of(sum[0] + sum[1] + sum[2]);
}

ConeAims aim_affine(const ConeView& view, const ConeState& s) {
  Pack sum = {}, most = {};
  for (long p = view.first; p < view.packs; ++p) {
    const Pack w = pack(s.w, p), v = pack(s.v, p), wv = -(w * v), mask = pack(view.mask, p);
    const Pack pull = (wv - v * pack(s.upper, p)) / w;  // 0 where unbounded
    pack(s.wv, p) = wv;
    sum += wv + pack(s.upper, p) * pull;
    most += pack(view.most, p) * pull;
    for (int k = 0; k < 3; ++k) {
      const Pack lambda = pack(s.lambda, 3 * p + k);
      sum -= mask * lambda * lambda;
      pack(s.shift, 3 * p + k) = -mask * pack(s.z, 3 * p + k) - pack(s.dual, 3 * p + k);
    }
    pack(s.shift, 3 * p) -= pull;
  }
  return {sum_of(sum), sum_of(most)};
}

void second_order(const ConeView& view, const ConeState& s) {
  for (long p = view.first; p < view.packs; ++p) {
    const Pack *a = &pack(s.dxs, 3 * p), *b = &pack(s.dzs, 3 * p);
    Pack* more = &pack(s.more, 3 * p);
    more[0] = -(a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
    for (int k = 1; k < 3; ++k) more[k] = -(a[0] * b[k] + b[0] * a[k]);
    pack(s.more_wv, p) = -(pack(s.dw, p) * pack(s.dv, p));
  }
}

/// What takes a product back to low .. high; no more than `high` of it.
SKEWBACK_INLINE Pack back(const Pack& product, double low, double high) {
  const Pack none{}, most = none + high;
  Pack off = product < low ? low - product : none;
  off = off < most ? off : most;
  const Pack over = product > high ? high - product : none;
  return off + (over > -most ? over : -most);
}

void correct(const ConeView& view, const ConeState& s, double step, double low, double high) {
  for (long p = view.first; p < view.packs; ++p) {
    Pack a[3], b[3];
    for (int k = 0; k < 3; ++k) {
      const Pack l = pack(s.lambda, 3 * p + k);
      a[k] = l + step * pack(s.dxs, 3 * p + k);
      b[k] = l + step * pack(s.dzs, 3 * p + k);
    }
    const Pack mean = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    const Pack u1 = a[0] * b[1] + b[0] * a[1], u2 = a[0] * b[2] + b[0] * a[2];
    const Pack radius = root(u1 * u1 + u2 * u2);
    const Pack more = back(mean + radius, low, high), less = back(mean - radius, low, high);
    const Pack across = radius > 0.0 ? 0.5 * (more - less) / radius : Pack{};
    Pack* to = &pack(s.more, 3 * p);
    to[0] += 0.5 * (more + less);
    to[1] += across * u1;
    to[2] += across * u2;
    const Pack w = pack(s.w, p) + step * pack(s.dw, p), v = pack(s.v, p) + step * pack(s.dv, p);
    pack(s.more_wv, p) += back(w * v, low, high);
  }
}

ConeAims aim_centre(const ConeView& view, const ConeState& s, double target, double keep,
                  double share_of_more) {
  Pack sum = {}, most = {};
  for (long p = view.first; p < view.packs; ++p) {
    const Pack *l = &pack(s.lambda, 3 * p), *more = &pack(s.more, 3 * p);
    // lambda o q = target e - lambda o lambda + more
    Pack aim[3];
    aim[0] = target - (l[0] * l[0] + l[1] * l[1] + l[2] * l[2]) + share_of_more * more[0];
    for (int k = 1; k < 3; ++k) aim[k] = -2 * l[0] * l[k] + share_of_more * more[k];
    const Pack det = determinant(l), across = l[1] * aim[1] + l[2] * aim[2];
    const Pack first = (l[0] * aim[0] - across) / det;
    const Pack share = (across / l[0] - aim[0]) / det;
    Pack q[3], g[3];
    q[0] = first;
    for (int k = 1; k < 3; ++k) q[k] = share * l[k] + aim[k] / l[0];
    boost(&pack(s.point, 3 * p), -1, q, g);
    const Pack w = pack(s.w, p), v = pack(s.v, p), mask = pack(view.mask, p);
    const Pack wv =
        pack(view.bounded, p) * (target - w * v + share_of_more * pack(s.more_wv, p));
    const Pack pull = (wv - keep * v * pack(s.upper, p)) / w;
    pack(s.wv, p) = wv;
        sum += wv + pack(s.upper, p) * pull;
    most += pack(view.most, p) * pull;
    for (int k = 0; k < 3; ++k) {
      sum += mask * l[k] * q[k];

      pack(s.shift, 3 * p + k) =
          mask * (g[k] / pack(s.beta, p)) - keep * pack(s.dual, 3 * p + k);
    }
    pack(s.shift, 3 * p) -= pull;
  }
  return {sum_of(sum), sum_of(most)};
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

double direct(const ConeView& view, const ConeState& s, const double* dy, double growth,
              double rest, double dtau, double keep) {
  Pack rate = {};
  const double whole = keep + growth;
  for (int i = 0; i < view.pair_count; ++i) {
    const ConePair& pair = view.pairs[i];
    double u[6];
    relative(pair, dy, u);
    for (long p = pair.first; p < pair.first + pair.packs; ++p) {
      const Pack mask = pack(view.mask, p), bounded = pack(view.bounded, p);
      const Pack w = pack(s.w, p), v = pack(s.v, p), upper = pack(s.upper, p);
      Pack *dx = &pack(s.dx, 3 * p), *dz = &pack(s.dz, 3 * p), g[3], pull[3];
      const Pack *x = &pack(s.x, 3 * p), *z = &pack(s.z, 3 * p);
      transposed_pack(view, pair, p, u, dy, g);
      for (int k = 0; k < 3; ++k) {
        dx[k] *= mask;
        pull[k] = mask * (g[k] + pack(s.shift, 3 * p + k) + dtau * pack(s.lean, 3 * p + k));
      }
      pull[0] -= v / w * dx[0];  // now W^-2 dx, from the equation that gave dx
      const Pack dw0 = whole * upper + rest * pack(view.most, p) - dx[0];
      const Pack dv0 = bounded * ((pack(s.wv, p) - v * dw0) / w);
      const Pack dw = bounded * (dw0 + growth * w);
      const Pack dv = dv0 - growth * v;
      pack(s.dw, p) = dw;
      pack(s.dv, p) = dv;
      g[0] -= dv0 - 2 * growth * v;
      const Pack *point = &pack(s.point, 3 * p), *l = &pack(s.lambda, 3 * p);
      const Pack beta = pack(s.beta, p), left = pack(s.D, kDiagonal * p + 5);
      Pack *dxs = &pack(s.dxs, 3 * p), *dzs = &pack(s.dzs, 3 * p), pinned[3];
      for (int k = 0; k < 3; ++k) {
        dz[k] = mask * (whole * pack(s.dual, 3 * p + k) + rest * pack(view.cost, 3 * p + k) - g[k] +
                        growth * z[k]);
      }
      // W^-1 dx as W (W^-2 dx); as W^-1 (D g) it would lose digits, but not where a bound pins it.
      boost(point, 1, pull, dxs);
      boost(point, -1, dx, pinned);
      boost(point, 1, dz, dzs);
      for (int k = 0; k < 3; ++k) {
        dxs[k] = (left > 0.5 ? dxs[k] * beta : pinned[k] / beta) + growth * mask * l[k];
        dzs[k] *= beta;
        dx[k] += growth * mask * x[k];
      }
rate = larger(rate, larger(rate_of(l, dxs), rate_of(l, dzs)));
      const Pack bound = v > 0.0 ? -dv / v : Pack{};
      rate = larger(rate, larger(-dw / w, bound));
    }
  }
  return most_of(rate);
}

/// New point; the scaling follows in scaled variables, where nothing cancels (the manner of CVXOPT,
/// Vandenberghe 2010, section 4).
void advance(const ConeView& view, const ConeState& s, double step) {
  for (long p = view.first; p < view.packs; ++p) {
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
