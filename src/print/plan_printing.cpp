#include "print/plan_printing.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "print/bead.hpp"
#include "print/words.hpp"

namespace skewback {
namespace {

constexpr double kDay_s = 86400;
constexpr double kSlack = 1e-9;  // of a shift or a batch: sums of times carry rounding

struct Item {
  const BlockPrint* block = nullptr;
  bool again = false;
};

std::vector<Item> in_order(const Assembly& assembly, const PrintSet& set) {
  std::vector<const BlockPrint*> order;
  for (const BlockPrint& block : set.blocks) {
    if (block.printable && block.way != PrintWay::kCast) order.push_back(&block);
  }
  std::ranges::stable_sort(order, {}, [&](const BlockPrint* block) {
    const BlockPlace& place = assembly.blocks[static_cast<std::size_t>(block->block)].place;
    return std::tuple(place.arm < 0, place.course, place.arm, place.place);
  });
  std::vector<Item> items;
  for (const BlockPrint* block : order) items.push_back({block, false});
  return items;
}

// ---- days --------------------------------------------------------------------------------------

void plan_days(const PrintRequest& print, const std::vector<Item>& order, PrintPlan& plan,
               std::vector<std::string>& remarks) {
  int day = 1;
  double free_s = 0;  // of the table, in that day
  for (const auto& [block, again] : order) {
    const bool fits = free_s + block->time_s <= print.shift_s * (1 + kSlack);
    if (!fits && free_s > 0) {
      ++day;
      free_s = 0;
    }
    PrintSlot slot;
    slot.block = block->block;
    slot.day = day;
    slot.start_s = free_s;
    slot.ready_day =
        day_of_lift((day - 1) * kDay_s + free_s + block->time_s + print.curing_s, print.shift_s);
    slot.again = again;
    plan.order.push_back(slot);
    plan.print_s += block->time_s;
    plan.days = day;
    free_s += block->time_s + print.setting_up_s;
    if (block->time_s <= print.shift_s * (1 + kSlack)) continue;
    remarks.push_back(block->id + ": " + duration(block->time_s) +
                      " of printing is longer than a shift of " + duration(print.shift_s) +
                      "; it has a day of its own");
    const int more = static_cast<int>(std::ceil(block->time_s / kDay_s * (1 - kSlack)));
    plan.days = day + more - 1;  // round the clock
    day += more;
    free_s = 0;
  }
}

// ---- batches -----------------------------------------------------------------------------------

constexpr int kMixesMost = 20;  // of one block; ours, no source

double coupons_m3(const PrintRequest& print) {
  return mix_volume_m3(print, print.coupons * kCouponVolume_m3);
}

/// Least batch with which the block takes no more than kMixesMost.
double batch_needed_m3(const PrintRequest& print, const BlockPrint& block) {
  return coupons_m3(print) + mix_volume_m3(print, block.volume_m3) / kMixesMost;
}

/// Blocks that would take more mixes than can be followed are not made so.
void refuse_small_batches(const PrintRequest& print, PrintSet& set) {
  double needed_m3 = 0;  // by all
  for (const BlockPrint& block : set.blocks)
    if (block.printable && block.way != PrintWay::kCast)
      needed_m3 = std::max(needed_m3, batch_needed_m3(print, block));
  const double room_m3 = print.batch_m3 - coupons_m3(print);
  for (BlockPrint& block : set.blocks) {
    if (!block.printable || block.way == PrintWay::kCast) continue;
    PrintCheck check{
        "batch", 1e3 * print.batch_m3, 1e3 * batch_needed_m3(print, block), "L", true, "", ""};
    if (check.passes()) continue;
    const double mix_m3 = mix_volume_m3(print, block.volume_m3);
    check.place = room_m3 > 0 ? figure(1e3 * mix_m3, 0) + " L of mix take " +
                                    figure(std::ceil(mix_m3 / room_m3), 0) + " mixes, " +
                                    std::to_string(kMixesMost) +
                                    " at most in a block (limit: ours, no source)"
                              : "no more than the test pieces of each batch";
    check.change = "print.batch " + figure(std::ceil(1e3 * needed_m3 * (1 - kSlack)), 0) +
                   " L or more, for all blocks";
    check.setting = true;
    block.printable = false;
    block.reason = "batch " + figure(1e3 * print.batch_m3, 1) + " L against " +
                   figure(check.limit, 1) + " (" + check.place + "); to change: " + check.change;
    block.checks.push_back(std::move(check));
  }
}

/// The same of blocks that outlast as many mixes.
void refuse_short_open_time(const PrintRequest& print, PrintSet& set) {
  if (print.open_time_s <= 0) return;
  for (BlockPrint& block : set.blocks) {
    if (!block.printable || block.way == PrintWay::kCast) continue;
    PrintCheck check{"open time", print.open_time_s, block.time_s / kMixesMost, "s", true, "", "",
                     true};
    if (check.passes()) continue;
    check.place = duration(block.time_s) + " of printing, " + std::to_string(kMixesMost) +
                  " mixes at most in a block (limit: ours, no source)";
    check.change = "print.open_time, with a mix that stays open longer; or more flow: print.flow";
    block.printable = false;
    block.reason = "open time " + figure(check.value, 0) + " s against " + figure(check.limit, 0) +
                   " (" + check.place + "); to change: " + check.change;
    block.checks.push_back(std::move(check));
  }
}

class Batches {
 public:
  Batches(const PrintRequest& print, PrintPlan& plan, std::vector<std::string>& remarks)
      : print_(print),
        plan_(plan),
        remarks_(remarks),
        coupons_m3_(coupons_m3(print)),
        room_m3_(print.batch_m3 - coupons_m3_) {}

  void take(const Item& item, const PrintSlot& slot) {
    const BlockPrint& block = *item.block;
    id_ = block.id + (item.again ? " again" : "");
    const double whole = mix_volume_m3(print_, block.volume_m3), took_s = block.time_s;
    at_s_ = slot.start_s;
    s_per_m3_ = whole > 0 ? took_s / whole : 0;
    double left = whole;
    const bool same_day = slot.day == day_;
    const double room = same_day ? std::min(free_m3_, in_time_m3()) : 0;
    if (same_day && left <= room + kSlack * room_m3_) return fill(left);
    const int by_volume = static_cast<int>(std::ceil(left / room_m3_ - kSlack)),
              by_time = print_.open_time_s > 0
                            ? static_cast<int>(std::ceil(took_s / print_.open_time_s - kSlack))
                            : 0;
    int mixes = std::max({1, by_volume, by_time});
    if (mixes > 1) {
      remarks_.push_back(
          block.id + ": " +
          (by_volume >= by_time ? figure(left, 3) + " m3 of mix, more than the " +
                                      figure(room_m3_, 3) + " m3 of a batch without its test pieces"
                                : duration(took_s) + " of printing, longer than the " +
                                      duration(print_.open_time_s) + " of print.open_time") +
          "; the mix changes " + (mixes == 2 ? "once" : std::to_string(mixes - 1) + " times") +
          " within the block");
      // what is left of the last mix, where the mix then changes no oftener
      const bool lasts =
          print_.open_time_s <= 0 || (left - room) * s_per_m3_ <= (mixes - 1) * print_.open_time_s;
      if (room > kSlack * room_m3_ && lasts &&
          left <= room + (mixes - 1) * room_m3_ + kSlack * room_m3_) {
        left -= room;
        fill(room);
        --mixes;
      }
    }
    for (int k = 0; k < mixes; ++k) {
      open(slot.day);
      fill(left / mixes);
    }
  }

 private:
  /// Of this block, before the mix in use is too old.
  [[nodiscard]] double in_time_m3() const {
    if (print_.open_time_s <= 0 || plan_.batches.empty()) return free_m3_;
    const double left_s = plan_.batches.back().from_s + print_.open_time_s - at_s_;
    if (s_per_m3_ <= 0) return left_s >= 0 ? free_m3_ : 0;
    return std::max(left_s, 0.0) / s_per_m3_ * (1 + kSlack);
  }
  void open(int day) {
    Batch batch;
    batch.coupons = print_.coupons;
    batch.volume_m3 = coupons_m3_;
    batch.day = day;
    batch.from_s = at_s_;
    plan_.batches.push_back(std::move(batch));
    free_m3_ = room_m3_;
    day_ = day;
  }
  void fill(double volume_m3) {
    Batch& batch = plan_.batches.back();
    batch.blocks.push_back(id_);
    batch.volume_m3 += volume_m3;
    free_m3_ -= volume_m3;
    batch.to_s = at_s_ += volume_m3 * s_per_m3_;
  }

  const PrintRequest& print_;
  PrintPlan& plan_;
  std::vector<std::string>& remarks_;
  double coupons_m3_, room_m3_;
  double free_m3_ = 0;
  int day_ = 0;
  std::string id_;  // of the block that is laid
  double at_s_ = 0, s_per_m3_ = 0;
};

void warn_of_old_mix(const PrintRequest& print, const PrintPlan& plan,
                     std::vector<std::string>& remarks) {
  const auto used_s = [](const Batch& batch) { return batch.to_s - batch.from_s; };
  const auto longest = std::ranges::max_element(plan.batches, {}, used_s);
  if (print.open_time_s > 0 || longest == plan.batches.end()) return;
  remarks.push_back("print.open_time is not given, so how old a mix gets is not checked: mix " +
                    std::to_string(longest - plan.batches.begin() + 1) + " is in use for " +
                    duration(used_s(*longest)) + ", until " + longest->blocks.back() + " is laid");
}

void plan_batches(const PrintRequest& print, const std::vector<Item>& order, PrintPlan& plan,
                  std::vector<std::string>& remarks) {
  Batches batches(print, plan, remarks);
  for (std::size_t k = 0; k < order.size(); ++k) batches.take(order[k], plan.order[k]);
  warn_of_old_mix(print, plan, remarks);
}

/// In the words of each of these blocks, the time that does for all in place of its own.
void say_for_all(BlockPrint& block, const std::string& alone, const std::string& all) {
  const auto put = [&](std::string& words) {
    const std::size_t at = words.find(alone);
    if (at != std::string::npos) words.replace(at, alone.size(), all);
  };
  put(block.reason);
  for (PrintCheck& check : block.checks)
    if (check.waiting) put(check.change);
}

/// One setting for all blocks that only wait for their fresh mix to stiffen.
void name_the_wait(const PrintRequest& print, PrintSet& set) {
  constexpr double kMore = 1.02;  // paces change a little with it
  std::vector<BlockPrint*> waiting;
  double longest_s = 0;
  for (BlockPrint& block : set.blocks) {
    if (block.printable || block.way == PrintWay::kCast || !block.layer_time_needed_s) continue;
    const bool only = std::ranges::all_of(
        block.checks, [](const PrintCheck& c) { return c.passes() || c.waiting; });
    if (!only) continue;
    waiting.push_back(&block);
    longest_s = std::max(longest_s, *block.layer_time_needed_s);
  }
  if (waiting.empty()) return;
  longest_s = std::min(std::ceil(kMore * longest_s), print.layer_time_max_s);
  for (BlockPrint* block : waiting) {
    const std::string key = "print.layer_time_min ";
    say_for_all(*block, key + figure(*block->layer_time_needed_s, 0) + " s",
                key + figure(longest_s, 0) + " s, for all blocks");
  }
  set.remarks.push_back("print.layer_time_min of " + figure(longest_s, 0) +
                        " s would make printable " + std::to_string(waiting.size()) +
                        (waiting.size() == 1 ? " block" : " blocks") +
                        " whose fresh mix does not stand as it is laid now");
}

/// Strength takes layers as square to the flow, of keys alone as along it as well.
void name_the_flat(PrintSet& set) {
  std::string flat;
  for (const BlockPrint& block : set.blocks)
    if (block.printable && block.way == PrintWay::kFlat)
      flat += (flat.empty() ? "" : ", ") + block.id;
  if (flat.empty()) return;
  set.remarks.push_back(
      flat +
      ": printed flat, layers along the thrust. How thrust that leaves their plane splits "
      "them is not checked, nor, but in keys, what bursts them behind the beds");
}

void name_the_turns(const PrintRequest& print, PrintSet& set) {
  const auto most = std::ranges::max_element(set.blocks, {}, &BlockPrint::turns);
  if (!print.nozzle_follows || print.turns_max > 0 || most == set.blocks.end()) return;
  set.remarks.push_back(
      "turns of the nozzle about its axis are not checked (print.turns_max): hoses and leads wind "
      "up "
      "by " +
      figure(most->turns, 1) + " at most, in " + most->id + ", and need a swivel");
}

void name_the_rest(PrintSet& set) {
  for (const BlockPrint& block : set.blocks) {
    if (block.printable && block.way != PrintWay::kCast) continue;
    set.remarks.push_back(block.id + (block.way == PrintWay::kCast
                                          ? ": cast, not in the programme of printing"
                                          : ": not in the programme of printing"));
  }
}

}  // namespace

void plan_printing(const Brief& brief, const Assembly& assembly, PrintSet& set) {
  PrintPlan& plan = set;
  plan = {};
  refuse_small_batches(brief.print, set);
  refuse_short_open_time(brief.print, set);
  const std::vector<Item> order = in_order(assembly, set);
  plan_days(brief.print, order, plan, set.remarks);
  plan_batches(brief.print, order, plan, set.remarks);
  name_the_wait(brief.print, set);
  name_the_turns(brief.print, set);
  name_the_flat(set);
  name_the_rest(set);
}

PrintPlan with_spares(const PrintRequest& request, const PrintSet& set,
                      const std::set<int>& twice) {
  if (twice.empty()) return set;
  std::vector<Item> order;
  for (const PrintSlot& slot : set.order) {
    const auto block = std::ranges::find(set.blocks, slot.block, &BlockPrint::block);
    order.push_back({&*block, false});
    if (twice.contains(slot.block)) order.push_back({&*block, true});
  }
  PrintPlan plan;
  std::vector<std::string> said;  // of the first of each kind
  plan_days(request, order, plan, said);
  plan_batches(request, order, plan, said);
  return plan;
}

int day_of_lift(double cured_s, double shift_s) {
  const double days = std::floor(cured_s / kDay_s);
  const bool after_hours = cured_s - days * kDay_s > shift_s;
  return static_cast<int>(days) + 1 + (after_hours ? 1 : 0);
}

}  // namespace skewback
