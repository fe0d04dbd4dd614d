#include "deliver/blocks_again.hpp"

#include "deliver/csv.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {

std::string to_do(const StockedBlock& block) {
  if (block.copy == 0) return "make anew";
  if (block.standing == Standing::kPlaced) return "take it down";
  return block.checked ? "use it" : "look at it";
}

std::string blocks_again_csv(const Stock& stock) {
  std::string text =
      csv_line({"block", "copy", "standing", "looked_at", "broken_copies", "held_back", "to_do"});
  for (const StockedBlock& b : stock.blocks)
    text += csv_line({b.block, b.copy > 0 ? copy_name(b.block, b.copy) : "", word(b.standing),
                      b.checked ? "yes" : "no", std::to_string(b.broken),
                      std::to_string(b.held_back), to_do(b)});
  return text;
}

std::string supports_again_words(const BlocksAgain& again) {
  std::string names;
  bool same = true;
  for (const SupportAgain& s : again.supports) {
    names += (names.empty() ? "" : ", ") + s.before + " is " + s.here;
    same = same && s.before == s.here;
  }
  return same ? ""
              : "Supports, blocks and marks keep the names of " + again.bridge + ": " + names +
                    " in the brief of this site.";
}

std::string blocks_again_words(const Dossier& dossier) {
  if (!dossier.again) return "";
  const BlocksAgain& again = *dossier.again;
  const std::string blocks = "The blocks are those of " + again.bridge + ", taken down; ";
  const std::string named = supports_again_words(again);
  std::string none = named.empty() ? "" : " " + named;
  none +=
      !dossier.spares ? ""
      : again.printed
          ? " No spares are chosen. The programme has a block that breaks printed again, as long "
            "as its volume takes at print.flow, cured and brought."
          : " No spares are chosen: the brief of the blocks has no [print], so how one of them is "
            "made again is not known, and the programme has a block that breaks come by its "
            "journey alone.";
  if (!again.stock)
    return blocks + "no daybook was read, so all of them count as good. Look at every one." + none;
  const std::string words = in_words(*again.stock);
  return blocks + "by its daybook: " +
         (words.empty() ? "all are good and were looked at since." : words + ".") +
         " Block by block: asbuilt/blocks-again.csv." + none;
}

}  // namespace skewback::deliver
