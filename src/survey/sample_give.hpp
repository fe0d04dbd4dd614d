#pragma once
// For tests only.

#include "brief/brief.hpp"

namespace skewback::sample {

/// Slack and squeeze of half a millimetre, stock from a millimetre on: figures to follow by hand.
inline PackingRequest half_mm() {
  PackingRequest request;
  request.stock_m = {0.001, 0.002, 0.003, 0.005, 0.010};
  request.slack_m = request.squeeze_m = 0.0005;
  return request;
}

}  // namespace skewback::sample
