#pragma once
// Private to solve/: plain pointers into the data and the iterate of a cone program, as the kernels
// see them. Contacts with friction come in packs of four lanes, the contacts of one pair of nodes
// together; a quantity with k components of a contact lies as [pack][component][lane]. Unused lanes
// have mask 0, no columns, no cost, and stay at x = z = (1, 0, 0). Row vectors have kBlockRows
// entries per node, in the order of elimination.

namespace skewback {

inline constexpr int kLanes = 4;
inline constexpr int kDiagonal = 8;  // numbers that make a block D, see times_D

/// The packs of two nodes, or of one and the ground (a = -1). b > a.
struct ConePair {
  int first = 0, packs = 0;
  int a = -1, b = -1;                               // places
  int block_aa = -1, block_bb = -1, block_ba = -1;  // in the factor
  int own = -1;  // first pack of the columns on a, or -1: those on b moved, on_a = -[I 0; X I] on_b
  double X[9] = {};  // by columns
};

struct ConeView {
  const ConePair* pairs = nullptr;
  int pair_count = 0;
  int first = 0, packs = 0;         // packs of these pairs: first .. packs - 1
  const double* on_b = nullptr;     // [pack][3 columns][6 rows][lane]
  const double* on_a = nullptr;     // the same for pairs with `own`
  const double* cost = nullptr;     // 3
  const double* most = nullptr;     // 1, of x0; 0 where there is none
  const double* bounded = nullptr;  // 1, 0 or 1
  const double* mask = nullptr;     // 1, 0 or 1
  int bounds = 0;                   // how many are bounded: 0 lets the loops skip
  /// Where given, what would be added to the rows of a (kBlockRows per pair), and to the block
  /// (a, a) of the matrix, is stored here for the caller to add: for pairs shared out to threads.
  double *rows_of_a = nullptr, *blocks_of_a = nullptr;
};

/// x in the cone, z its dual; w = most - x0 with dual v (1 and 0 where unbounded).
struct ConeState {
  double *x, *z, *w, *v;
  double *point, *beta, *lambda;  // 3, 1, 3: scaling W = beta [p0 p1'; p1 I + p1 p1'/(1 + p0)]
  double* D;                      // kDiagonal: of (W^-2 + v/w e0 e0')^-1, see times_D
  double *dual, *upper;           // 3, 1: residuals
  double *shift, *lean;           // 3: right-hand sides, without tau and of what goes with it
  double* wv;                     // 1: what w dv + v dw should be
  double *more, *more_wv;     // 3, 1: what the products should be beyond what is aimed at for all
  double *dx, *dz, *dw, *dv;  // 3, 3, 1, 1
  double *dxs, *dzs;          // 3: scaled, W^-1 dx and W dz
};

struct ConeSums {
  double cost_x = 0;    // cost' x
  double most_v = 0;    // most' v
  double products = 0;  // lambda' lambda + w' v
  double dual_worst = 0, upper_worst = 0;
  double worth = 0;  // |dual|' |x| + |upper|' v
};

struct ConeAims {
  double wished = 0;  // sum of lambda' q + wv + upper p, where p = (wv - keep v upper) / w
  double most_p = 0;  // sum of most p
};

struct ConeKernels {
  /// out = A'y
  void (*transposed)(const ConeView&, const double* y, double* out);
  /// rows += sign A f
  void (*gather)(const ConeView&, const double* f, double sign, double* rows);
  /// out = D (A'y + h); h may be null
  void (*spread)(const ConeView&, const double* D, const double* y, const double* h, double* out);
  /// rows += sign A D h
  void (*gather_scaled)(const ConeView&, const double* D, const double* h, double sign,
                        double* rows);
  /// Adds A D A' to the blocks of the matrix.
  void (*assemble)(const ConeView&, const double* D, double* blocks);
  void (*weigh)(const ConeView&, const ConeState&);  // D from the scaling
  ConeSums (*residuals)(const ConeView&, const ConeState&, const double* y, double tau);
  /// Right-hand side `lean` of what goes with tau: near an optimum of what is beyond x / tau, else
  /// of all of it. Returns the sum of (2 v + v/w upper) upper, else of v/w most^2.
  double (*aim_tau)(const ConeView&, const ConeState&, double tau, bool near);
  /// Right-hand sides of the predictor.
  ConeAims (*aim_affine)(const ConeView&, const ConeState&);
  /// `more` = less the second-order terms of the direction made last.
  void (*second_order)(const ConeView&, const ConeState&);
  /// Adds to `more` what brings the products at this step back to low .. high.
  void (*correct)(const ConeView&, const ConeState&, double step, double low, double high);
  /// The same as aim_affine of the corrector: products go to `target` and `share` of `more`.
  ConeAims (*aim_centre)(const ConeView&, const ConeState&, double target, double keep,
                         double share);
  /// dual' x + (v/w upper)' x0
  double (*dot_residuals)(const ConeView&, const ConeState&, const double* x);
  /// cost' x + (v/w most)' x0
  double (*dot_costs)(const ConeView&, const ConeState&, const double* x);
  /// dx and dy are given as what they are beyond growth x and growth y; dtau = growth tau + rest.
  /// Makes dx whole, and dw, dv, dz and the scaled steps; returns the greatest rate at which a
  /// boundary is neared: the longest step is its inverse.
  double (*direct)(const ConeView&, const ConeState&, const double* dy, double growth, double rest,
                   double dtau, double keep);
  void (*advance)(const ConeView&, const ConeState&, double step);
};

}  // namespace skewback
