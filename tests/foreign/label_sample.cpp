// label_sample DIR: plan and labels of a made-up arch.
#include <filesystem>
#include <fstream>

#include "deliver/elevations.hpp"
#include "deliver/labels.hpp"
#include "deliver/plan_file.hpp"
#include "deliver/sample_labels.hpp"

int main(int argc, char** argv) {
  using namespace skewback;
  if (argc != 2) return 2;
  const Dossier dossier = sample::dossier_on_site();
  const std::filesystem::path folder = std::filesystem::path(argv[1]) / "erect";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "plan.json") << deliver::plan_json(dossier);
  std::ofstream(folder / "labels.pdf", std::ios::binary)
      << deliver::labels_pdf(dossier, deliver::find_outlines(dossier).plan);
  return 0;
}
