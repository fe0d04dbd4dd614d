// The loop over the points of a touch, as many lanes at a time as the machine's vectors have, of
// eight; included once for each vector width. No operation is fused or reordered, so every width
// gives the same bits.

#if SKEWBACK_WIDTH > 1
constexpr int kWide = SKEWBACK_WIDTH;
#else
constexpr int kWide = 2;
#endif
typedef double Wide __attribute__((vector_size(8 * kWide)));

inline Wide load(const double* p) { return *reinterpret_cast<const Wide*>(p); }
inline void store(double* p, const Wide& x) { *reinterpret_cast<Wide*>(p) = x; }

inline Wide root(const Wide& x) {
#if SKEWBACK_WIDTH == 8
  return _mm512_maskz_sqrt_pd(0xff, x);
#elif SKEWBACK_WIDTH == 4
  return _mm256_sqrt_pd(x);
#elif SKEWBACK_WIDTH == 2
  return _mm_sqrt_pd(x);
#else
  return {std::sqrt(x[0]), std::sqrt(x[1])};
#endif
}

/// In pairs, so that the order is that of eight lanes.
inline double sum(const Wide& x) {
  double part[kWide];
  for (int k = 0; k < kWide; ++k) part[k] = x[k];
  for (int n = kWide / 2; n > 0; n /= 2)
    for (int k = 0; k < n; ++k) part[k] = part[2 * k] + part[2 * k + 1];
  return part[0];
}

enum Sum { kForce = 0, kMoment = 3, kDashForce = 6, kDashMoment = 9, kStrain = 12, kRubbed, kSums };

/// The lanes from `lane` on, kWide of every eight.
template <bool kDashpots>
void touch_lanes(const TouchStep& s, int lane, double (&out)[kSums]) {
  const Wide zero = Wide{} + 0.0, one = zero + 1.0;
  Wide f1 = zero, f2 = zero, fn = zero, m1 = zero, m2 = zero, m3 = zero, strain = zero,
       rubbed = zero, g1 = zero, g2 = zero, gn = zero, n1 = zero, n2 = zero, n3 = zero;
  for (int i = lane; i < s.padded; i += kLanes) {
    const Wide x = load(s.column[kX] + i), y = load(s.column[kY] + i), z = load(s.column[kZ] + i);
    const Wide r1 = s.shift[0] + s.turn[0] * x + s.turn[1] * y + s.turn[2] * z;
    const Wide r2 = s.shift[1] + s.turn[3] * x + s.turn[4] * y + s.turn[5] * z;
    const Wide gap = s.shift[2] + s.turn[6] * x + s.turn[7] * y + s.turn[8] * z;
    const Wide kn = load(s.column[kKn] + i), ks = load(s.column[kKs] + i);
    const Wide pressed = gap < zero ? -gap : zero;
    Wide normal = kn * pressed;
    strain += 0.5 * normal * pressed;
    Wide dashed = zero;
    if constexpr (kDashpots) {
      const Wide vn = s.v[2] + s.w[0] * r2 - s.w[1] * r1;
      Wide held = normal - kn * s.dash_s * vn;
      held = held > zero ? held : zero;
      held = gap < zero ? held : zero;
      dashed = held - normal;
      normal = held;
    }
    Wide d1 = r1 - load(s.column[kAnchor1] + i), d2 = r2 - load(s.column[kAnchor2] + i);
    const Wide squared = d1 * d1 + d2 * d2;
    const Wide most = s.friction * normal, shear = ks * root(squared);
    const Wide share = shear > most ? most / shear : one;
    // the mean of the friction before and now, over the way slid in between
    const Wide e1 = s.step_s * (s.v[0] + s.w[1] * gap - s.w[2] * r2),
               e2 = s.step_s * (s.v[1] + s.w[2] * r1 - s.w[0] * gap),
               en = s.step_s * (s.v[2] + s.w[0] * r2 - s.w[1] * r1);
    const Wide lost =
        0.5 * ks * (one - share) * ((one + share) * squared - (d1 * e1 + d2 * e2));
    rubbed += gap < zero || gap < en ? lost : zero;
    strain += 0.5 * ks * squared * share * share;
    d1 *= share;
    d2 *= share;
    store(s.column[kAnchor1] + i, r1 - d1);
    store(s.column[kAnchor2] + i, r2 - d2);
    Wide t1 = -ks * d1, t2 = -ks * d2;
    if constexpr (kDashpots) {
      const Wide v1 = s.v[0] + s.w[1] * gap - s.w[2] * r2, v2 = s.v[1] + s.w[2] * r1 - s.w[0] * gap;
      Wide u1 = t1 - ks * s.dash_s * v1, u2 = t2 - ks * s.dash_s * v2;
      const Wide size = root(u1 * u1 + u2 * u2);
      const Wide lessen = size > most ? most / size : one;
      u1 *= lessen;
      u2 *= lessen;
      const Wide c1 = u1 - t1, c2 = u2 - t2;
      g1 += c1;
      g2 += c2;
      gn += dashed;
      n1 += r2 * dashed - gap * c2;
      n2 += gap * c1 - r1 * dashed;
      n3 += r1 * c2 - r2 * c1;
      t1 = u1;
      t2 = u2;
    }
    f1 += t1;
    f2 += t2;
    fn += normal;
    m1 += r2 * normal - gap * t2;
    m2 += gap * t1 - r1 * normal;
    m3 += r1 * t2 - r2 * t1;
  }
  const Wide* const sums[kSums] = {&f1, &f2, &fn, &m1, &m2, &m3,     &g1,
                                   &g2, &gn, &n1, &n2, &n3, &strain, &rubbed};
  for (int k = 0; k < kSums; ++k) out[k] = sum(*sums[k]);
}

template <bool kDashpots>
void touch_points(TouchStep& s) {
  double part[kLanes / kWide][kSums];
  for (int k = 0; k < kLanes / kWide; ++k) touch_lanes<kDashpots>(s, k * kWide, part[k]);
  for (int n = kLanes / kWide / 2; n > 0; n /= 2)
    for (int k = 0; k < n; ++k)
      for (int q = 0; q < kSums; ++q) part[k][q] = part[2 * k][q] + part[2 * k + 1][q];
  for (int i = 0; i < 3; ++i) {
    s.force[i] = part[0][kForce + i];
    s.moment[i] = part[0][kMoment + i];
    s.dash_force[i] = part[0][kDashForce + i];
    s.dash_moment[i] = part[0][kDashMoment + i];
  }
  s.strain = part[0][kStrain];
  s.rubbed = part[0][kRubbed];
}
