#pragma once
// Lifting and transport: their part of the report, tables and summary.

#include <nlohmann/json.hpp>
#include <string>

#include "brief/brief.hpp"
#include "deliver/pages.hpp"
#include "erect/lifting.hpp"
#include "erect/transport.hpp"

namespace skewback::deliver {

void add_lifting(Pages& pages, const Brief& brief, const Assembly& assembly, const LiftPlan& plan);
void add_transport(Pages& pages, const Brief& brief, const Assembly& assembly,
                   const Transport& transport);

/// The first sentences: what slings alone do not hold, the lowest gust, the hardest check.
[[nodiscard]] std::string lifting_summary(const LiftPlan& plan);

/// Up to which gusts blocks may hang, to go on with after "whichever is less"; empty without lifts.
[[nodiscard]] std::string gusts_in_words(const LiftPlan& plan);

/// One row a block, in the order of placing.
[[nodiscard]] std::string lifts_csv(const LiftPlan& plan);
/// One row a block, by lorry and pallet in the order needed.
[[nodiscard]] std::string pallets_csv(const Transport& transport);

[[nodiscard]] nlohmann::ordered_json lifting_json(const LiftPlan& plan);
[[nodiscard]] nlohmann::ordered_json transport_json(const Transport& transport);

/// The check nearest to its limit, or furthest beyond; null without checks.
[[nodiscard]] const HandlingCheck* worst_check(const std::vector<HandlingCheck>& checks);

}  // namespace skewback::deliver
