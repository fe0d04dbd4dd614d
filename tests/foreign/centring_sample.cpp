// centring_sample DIR [laser]: the files of a made-up centring, and of a heap of odd shapes in
// DIR/odd, for readers of other makes.
#include <filesystem>
#include <fstream>
#include <iostream>
#include <random>

#include "deliver/centring_files.hpp"
#include "deliver/outline.hpp"
#include "deliver/report_centring.hpp"
#include "deliver/sample_centring.hpp"

namespace {

using namespace skewback;
using namespace skewback::deliver;

void write(const std::filesystem::path& dir, const std::vector<OutputFile>& files) {
  for (const OutputFile& file : files) {
    const auto path = dir / file.path;
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << file.bytes;
  }
}

Brief sample_brief(bool laser) {
  Brief brief;
  brief.title = "Sample";
  brief.plan.supports = {{"west", {-3, 0.5}, {-3, -0.5}, 0}, {"east", {3, -0.5}, {3, 0.5}, 0}};
  brief.plan.outline = {{-3, -0.5}, {3, -0.5}, {3, 0.5}, {-3, 0.5}};
  brief.centring.no_feet = {{{-1.2, -0.9}, {-0.3, -0.9}, {-0.3, 0.9}, {-1.2, 0.9}}};
  brief.centring.cutter = laser ? "laser" : "router";
  brief.centring.tool_m = laser ? 0.0003 : 0.006;
  return brief;
}

Centring odd_shapes() {
  std::mt19937 random(5);
  const auto share = [&] { return static_cast<double>(random()) / 4294967296.0; };
  Centring c;
  for (int i = 0; i < 60; ++i) {
    SheetPart part;
    part.id = part.rib = "odd" + std::to_string(i + 1);
    part.kind = "gusset";
    part.grain_along_x = i % 3 == 0;
    const int corners = 5 + static_cast<int>(12 * share());
    const double size = 0.08 + 0.3 * share();
    for (int k = 0; k < corners; ++k) {
      const double a = 2 * kPi * (k + 0.7 * share()) / corners, r = size * (0.3 + 0.7 * share());
      part.outline.outer.emplace_back(r * std::cos(a), r * std::sin(a));
    }
    part.marks = {sample::words_on(part.id, {0, 0})};
    c.parts.push_back(part);
  }
  return c;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  const Brief brief = sample_brief(argc > 2 && std::string(argv[2]) == "laser");
  const Assembly assembly = sample::arch_assembly({});
  std::vector<Regions> plan;
  for (const Block& block : assembly.blocks) plan.push_back(silhouette(block.solid, plan_view()));
  Centring centring = sample::small_centring(assembly), odd = odd_shapes();
  if (nest_parts(brief, centring) || nest_parts(brief, odd)) return 1;
  const std::filesystem::path dir = argv[1];
  write(dir, centring_files(brief, assembly, centring, plan));
  write(dir / "odd", centring_files(brief, assembly, odd, {}));
  Pages pages("Sample", 0);
  add_centring(pages, brief, assembly, centring, {{"v1", 0.45, true, true, 0.6}}, plan);
  write(dir, {{"centring.pdf", pages.finish()}});
  return 0;
}
