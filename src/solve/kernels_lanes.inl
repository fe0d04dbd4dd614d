// Included by kernels_*.cpp after kernels_products.inl: triangular solves with one right-hand side,
// Row = double, or with four side by side, Row = Pack.

template <class Row>
SKEWBACK_INLINE void down_by(const LaneView& view, double* rows) {
  Row* y = reinterpret_cast<Row*>(rows);
  for (int j = 0; j < view.size; ++j) {
    const int begin = view.start[j], end = view.start[j + 1];
    const Row a = y[j];
    const bool alike = j + 1 < view.size && begin < end && view.row[begin] == j + 1 &&
                       view.start[j + 2] - end == end - begin - 1;
    if (!alike) {
      for (int p = begin; p < end; ++p) y[view.row[p]] -= view.value[p] * a;
      continue;
    }
    const Row b = y[j + 1] - view.value[begin] * a;  // and its rows are those of column j
    y[j + 1] = b;
    const double *first = view.value + begin + 1, *second = view.value + end;
    for (int p = 0; p < end - begin - 1; ++p) {
      Row& to = y[view.row[end + p]];
      to = (to - first[p] * a) - second[p] * b;
    }
    ++j;
  }
}

template <class Row, bool kDivides>
SKEWBACK_INLINE void up_by(const LaneView& view, double* rows) {
  Row* y = reinterpret_cast<Row*>(rows);
  for (int i = 0; i < view.size; ++i) {
    const int j = view.upward[i];
    Row sum = kDivides ? y[j] / view.pivot[j] : view.inverse[j] * y[j];
    for (int p = view.start[j]; p < view.start[j + 1]; ++p)
      sum -= view.value[p] * y[view.row[p]];
    y[j] = sum;
  }
}

template <class Row>
SKEWBACK_INLINE void solve_lanes_by(const LaneView& view, double* rows, bool divides) {
  down_by<Row>(view, rows);
  if (divides)
    up_by<Row, true>(view, rows);
  else
    up_by<Row, false>(view, rows);
}

void solve_lane(const LaneView& view, double* y, bool divides) {
  solve_lanes_by<double>(view, y, divides);
}

void solve_lanes(const LaneView& view, double* y, bool divides) {
  solve_lanes_by<Pack>(view, y, divides);
}
