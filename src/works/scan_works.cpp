#include <algorithm>

#include "brief/drawing.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

Fault no_block(const Assembly& assembly, const ScanWanted& wanted) {
  std::string some;
  int named = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed || ++named > 4) continue;
    some += (some.empty() ? "" : ", ") + block.id;
  }
  return {.file = wanted.file.string(),
          .key = "--scan",
          .found = "the name \"" + wanted.block + "\"",
          .expected = "a block of the bridge, such as " + some,
          .change = "names stand in blocks.csv"};
}

}  // namespace

Result<std::vector<ComparedScan>> compare_scans(const Brief& brief, const Assembly& assembly,
                                                const RefitOptions& options,
                                                const Progress& progress) {
  std::vector<ComparedScan> out;
  for (const ScanWanted& wanted : options.scans) {
    progress.checkpoint("scan of " + wanted.block, 0);
    const auto block = std::ranges::find_if(
        assembly.blocks, [&](const Block& b) { return b.id == wanted.block && !b.fixed; });
    if (block == assembly.blocks.end()) return no_block(assembly, wanted);
    if (options.scan_unit.empty())
      return Fault{.file = wanted.file.string(),
                   .key = "--scan",
                   .found = "coordinates without a unit",
                   .expected = "the unit that the scan is in",
                   .change = "say it, such as --scan-unit mm"};
    const Result<TriangleMesh3> mesh = read_surface(wanted.file, options.scan_unit);
    if (!mesh) return mesh.faults();
    auto compared =
        compare_scan(assembly, brief.site, static_cast<int>(block - assembly.blocks.begin()), *mesh,
                     wanted.file.filename().string(), options.scan_unit);
    if (!compared) {
      Faults faults = compared.faults();
      for (Fault& fault : faults) fault.file = wanted.file.string();
      return faults;
    }
    out.push_back(std::move(compared).value());
  }
  return out;
}

}  // namespace skewback
