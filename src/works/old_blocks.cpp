#include "works/old_blocks.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "works/blocks_again.hpp"
#include "works/required_site.hpp"

namespace skewback {
namespace {

// a plan's numbers are exact; the same brief cut by another build may differ in the last digits
constexpr double kSameMass = 1e-6;
constexpr double kSamePlace_m = 1e-4;

std::string mass_words(const std::string& block, double mass_kg) {
  char text[64];
  std::snprintf(text, sizeof text, " of %.1f kg", mass_kg);
  return block + text;
}

std::optional<Fault> other_blocks(const Stock& stock, const Assembly& assembly,
                                  const OldBlocks& old) {
  const std::string change =
      "give --blocks-of the brief that the bridge was run from, or the "
      "daybook the plan of that run: skewback daybook DIR begin --plan";
  const auto fault = [&](const std::string& found, const std::string& expected) {
    return Fault{old.daybook.string(), 0, 0, "plan", found, expected, change};
  };
  if (stock.bridge != old.of->name)
    return fault("blocks of " + stock.bridge, "those of " + old.of->name);
  std::size_t cut = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    ++cut;
    const auto at = std::ranges::find(stock.blocks, block.id, &StockedBlock::block);
    const double mass_kg = concrete_mass_kg(block);
    if (at == stock.blocks.end())
      return fault("no block " + block.id, "the blocks that the brief cuts");
    if (std::abs(at->mass_kg - mass_kg) > kSameMass * mass_kg ||
        (at->centre - block.mass.centroid).norm() > kSamePlace_m)
      return fault(mass_words(block.id, at->mass_kg),
                   mass_words(block.id, mass_kg) + ", in the place that the brief gives it");
  }
  if (cut != stock.blocks.size())
    return fault(std::to_string(stock.blocks.size()) + " blocks",
                 std::to_string(cut) + ", as the brief cuts them");
  return std::nullopt;
}

}  // namespace

Brief brief_to_cut(const Brief& asked, const OldBlocks& old) {
  if (old.of == nullptr) return asked;
  Brief brief = *old.of;
  brief.ground.footing_width_m = asked.ground.footing_width_m;
  brief.ground.footing_depth_m = asked.ground.footing_depth_m;
  return brief;
}

std::optional<Faults> put_on_new_site(Dossier& dossier, const Brief& fresh, const OldBlocks& old) {
  if (old.stock)
    if (auto fault = other_blocks(*old.stock, dossier.cut->assembly, old)) return Faults{*fault};
  Result<Brief> brief = blocks_again(dossier.brief, fresh);
  if (!brief) return brief.faults();
  std::vector<SupportAgain> supports = supports_again(dossier.brief, fresh);
  dossier.brief = std::move(brief).value();
  dossier.stand_options.load_factor_cap = dossier.brief.loads.cap;
  dossier.again =
      BlocksAgain{old.of->name, dossier.brief.print.wanted, old.stock, std::move(supports)};
  if (!blocks_to_make(dossier)) dossier.brief.print.wanted = false;
  // none is chosen among blocks whose making is not planned; none of the site's own count either
  dossier.brief.spares.count = dossier.brief.spares.count_line = 0;
  return std::nullopt;
}

std::optional<Assembly> blocks_to_make(const Dossier& dossier) {
  Assembly assembly = dossier.cut->assembly;
  if (!dossier.again) return assembly;
  if (!dossier.again->stock) return std::nullopt;
  const std::vector<std::string> missing = dossier.again->stock->missing();
  if (missing.empty()) return std::nullopt;
  for (Block& block : assembly.blocks)
    if (std::ranges::find(missing, block.id) == missing.end()) block.fixed = true;
  return assembly;
}

UsedBlocks used_blocks(const Dossier& dossier) {
  UsedBlocks used;
  if (!dossier.again) return used;
  const std::optional<Assembly> made = blocks_to_make(dossier);
  const std::vector<Block>& all = dossier.cut->assembly.blocks;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].fixed || (made && !made->blocks[i].fixed)) continue;
    ++used.blocks;
    used.volume_m3 += all[i].mass.volume;
    used.mass_kg += concrete_mass_kg(all[i]);
  }
  return used;
}

std::optional<RequiredCheck> required_blocks_there(const Dossier& dossier) {
  if (!dossier.again || !dossier.again->stock) return std::nullopt;
  const Stock& stock = *dossier.again->stock;
  RequiredCheck check = at_most(
      "blocks_there", 0,
      "design rule: every block of " + stock.bridge + " has a good copy by its daybook", "blocks");
  const std::size_t missing = stock.missing().size();
  check.value = static_cast<double>(missing);
  check.passes = missing == 0;
  check.note = in_words(stock);
  return check;
}

}  // namespace skewback
