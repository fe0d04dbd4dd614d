#include "daybook/stock.hpp"

#include <algorithm>

#include "daybook/now.hpp"
#include "daybook/work_order.hpp"

namespace skewback {
namespace {

std::vector<std::string> names_of(const std::vector<StockedBlock>& blocks, auto&& wanted) {
  std::vector<std::string> names;
  for (const StockedBlock& block : blocks)
    if (wanted(block)) names.push_back(block.block);
  return names;
}

bool good(Standing standing) {
  return standing != Standing::kNotMade && standing != Standing::kBroken;
}

}  // namespace

std::vector<std::string> Stock::missing() const {
  return names_of(blocks, [](const StockedBlock& b) { return b.copy == 0; });
}

std::vector<std::string> Stock::unchecked() const {
  return names_of(blocks, [](const StockedBlock& b) {
    return b.copy > 0 && !b.checked && b.standing != Standing::kPlaced;
  });
}

std::vector<std::string> Stock::in_place() const {
  return names_of(blocks, [](const StockedBlock& b) { return b.standing == Standing::kPlaced; });
}

std::string in_words(const Stock& stock) {
  std::string words;
  const auto add = [&](const std::string& more) { words += (words.empty() ? "" : "; ") + more; };
  const std::vector<std::string> lost = stock.missing(), unseen = stock.unchecked();
  if (!lost.empty()) {
    const auto held = [](const StockedBlock& b) { return b.copy == 0 ? b.held_back : -1; };
    const auto worst = std::ranges::max_element(stock.blocks, {}, held);
    add("to be made anew: " + few(lost) +
        (worst->held_back > 0
             ? "; " + std::to_string(worst->held_back) + " cannot be placed before " + worst->block
             : ""));
  }
  if (!unseen.empty())
    add("to be looked at before they are used: " +
        (unseen.size() + lost.size() == stock.blocks.size() ? "every block that is there"
                                                            : few(unseen)));
  if (const auto standing = stock.in_place(); !standing.empty())
    add("still in place in " + stock.bridge + ": " + few(standing));
  return words;
}

Stock stock_of(const DayPlan& plan, const std::vector<BlockEvent>& events) {
  const std::vector<CopyLife> all = lives(plan, events);
  Stock stock;
  stock.bridge = plan.bridge;
  for (const PlannedBlock& planned : plan.blocks) {
    const CopyLife life = foremost(all, planned.id);
    StockedBlock block;
    block.block = planned.id;
    block.standing = life.standing;
    if (good(life.standing)) {
      block.copy = life.copy;
      block.checked = life.checked;
    }
    block.broken = static_cast<int>(std::ranges::count_if(all, [&](const CopyLife& l) {
      return l.block == planned.id && l.standing == Standing::kBroken;
    }));
    block.held_back = static_cast<int>(all_that_need(plan, planned.id).size());
    block.mass_kg = planned.mass_kg;
    block.centre = planned.centre;
    stock.blocks.push_back(std::move(block));
  }
  return stock;
}

}  // namespace skewback
