// Included by kernels_*.cpp after kernels_products.inl: triangular solves with four right-hand
// sides side by side, one Pack a row.

void lanes_down(const LaneView& view, double* y) {
  for (int j = 0; j < view.size; ++j) {
    const int begin = view.start[j], end = view.start[j + 1];
    const Pack a = pack(y, j);
    const bool alike = j + 1 < view.size && begin < end && view.row[begin] == j + 1 &&
                       view.start[j + 2] - end == end - begin - 1;
    if (!alike) {
      for (int p = begin; p < end; ++p) pack(y, view.row[p]) -= view.value[p] * a;
      continue;
    }
    const Pack b = pack(y, j + 1) - view.value[begin] * a;  // and its rows are those of column j
    pack(y, j + 1) = b;
    const double *first = view.value + begin + 1, *second = view.value + end;
    for (int p = 0; p < end - begin - 1; ++p) {
      Pack& to = pack(y, view.row[end + p]);
      to = (to - first[p] * a) - second[p] * b;
    }
    ++j;
  }
}

template <bool kDivides>
SKEWBACK_INLINE void lanes_up_by(const LaneView& view, double* y) {
  for (int i = 0; i < view.size; ++i) {
    const int j = view.upward[i];
    Pack sum = kDivides ? pack(y, j) / view.pivot[j] : view.inverse[j] * pack(y, j);
    for (int p = view.start[j]; p < view.start[j + 1]; ++p)
      sum -= view.value[p] * pack(y, view.row[p]);
    pack(y, j) = sum;
  }
}

void lanes_up(const LaneView& view, double* y, bool divides) {
  if (divides)
    lanes_up_by<true>(view, y);
  else
    lanes_up_by<false>(view, y);
}
