// print_sample DIR: the output folder of a made-up arch whose blocks are printed by closed forms.
#include "deliver/sample_dossier.hpp"

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  const auto written = skewback::write_folder(skewback::sample::small_dossier(), argv[1]);
  return written.ok() ? 0 : 1;
}
