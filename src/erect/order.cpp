#include "erect/order.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace skewback {
namespace {

const Block& at(const Assembly& assembly, int i) {
  return assembly.blocks[static_cast<std::size_t>(i)];
}

/// A key that nothing goes on from: where a spine begins at one, it is laid in its turn.
class Closing {
 public:
  explicit Closing(const Assembly& assembly) {
    std::map<int, int> first;  // course of each arm
    for (const Block& block : assembly.blocks) {
      if (block.fixed || block.place.arm < 0) continue;
      const auto [it, fresh] = first.try_emplace(block.place.arm, block.place.course);
      it->second = std::min(it->second, block.place.course);
    }
    for (const auto& [arm, course] : first)
      if (course > 1) begun_at_.insert(course - 1);
  }
  [[nodiscard]] bool operator()(const Block& block) const {
    return block.place.arm < 0 && !begun_at_.contains(block.place.course);
  }

 private:
  std::set<int> begun_at_;
};

std::vector<int> free_blocks(const Assembly& assembly) {
  std::vector<int> all;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    if (!at(assembly, i).fixed) all.push_back(i);
  }
  return all;
}

/// Mean phi of the course a block is in, to 0.1 mm, so that courses stay whole.
std::map<std::pair<int, int>, double> phi_of_courses(const Assembly& assembly) {
  std::map<std::pair<int, int>, std::pair<double, int>> sums;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    auto& [sum, count] = sums[{block.place.arm, block.place.course}];
    sum += block.place.phi_m;
    ++count;
  }
  std::map<std::pair<int, int>, double> means;
  for (const auto& [course, sum] : sums)
    means[course] = std::round(1e4 * sum.first / sum.second) / 1e4;
  return means;
}

/// Without phi (assemblies that came from elsewhere) all means are alike: courses rule.
double front(const std::map<std::pair<int, int>, double>& phi, const Block& block) {
  return phi.at({block.place.arm, block.place.course});
}

}  // namespace

std::vector<int> order_of_placing(const Assembly& assembly, const std::string& way) {
  std::vector<int> order = free_blocks(assembly);
  const auto phi = phi_of_courses(assembly);
  const bool legs = way == "leg by leg";
  const Closing is_key(assembly);
  std::ranges::stable_sort(order, {}, [&](int i) {
    const Block& block = at(assembly, i);
    const BlockPlace& place = block.place;
    const bool apart = legs && !place.crown;  // rings are closed all round, whatever the order
    return std::tuple(is_key(block), legs && place.crown, apart ? place.arm : 0, front(phi, block),
                      place.course, place.arm, place.place);
  });
  return order;
}

std::vector<std::vector<int>> groups_of_lowering(const Assembly& assembly) {
  std::vector<int> order = free_blocks(assembly);
  const Closing is_key(assembly);
  const auto group = [&](int i) {
    const Block& block = at(assembly, i);
    return std::pair(is_key(block), block.place.course);
  };
  std::ranges::stable_sort(order, std::ranges::greater{}, group);
  std::vector<std::vector<int>> groups;
  for (const int i : order) {
    if (groups.empty() || group(groups.back().front()) != group(i)) groups.emplace_back();
    groups.back().push_back(i);
  }
  return groups;
}

}  // namespace skewback
