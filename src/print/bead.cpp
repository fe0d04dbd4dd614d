#include "print/bead.hpp"

namespace skewback {

double bead_share_m(double width_m, double height_m) { return width_m - kRound * height_m; }

double bead_width_m(double share_m, double height_m) { return share_m + kRound * height_m; }

double bead_section_m2(double width_m, double height_m) {
  return bead_share_m(width_m, height_m) * height_m;
}

double nozzle_flow_m3_s(const PrintRequest& print) {
  return print.flow_m3_s * (1 + print.accelerator);
}

double accelerator_flow_m3_s(const PrintRequest& print) {
  return print.flow_m3_s * print.accelerator;
}

double mix_volume_m3(const PrintRequest& print, double laid_m3) {
  return laid_m3 / (1 + print.accelerator);
}

double bead_speed_m_s(const PrintRequest& print, double share_m, double height_m) {
  return nozzle_flow_m3_s(print) / (share_m * height_m);
}

double share_at_speed_m(const PrintRequest& print, double speed_m_s, double height_m) {
  return nozzle_flow_m3_s(print) / (speed_m_s * height_m);
}

}  // namespace skewback
