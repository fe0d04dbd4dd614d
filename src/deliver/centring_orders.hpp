#pragma once
// What a carpenter orders for the centring: fixings, and sawn timber cut from lengths as sold.

#include "centring/cut_list.hpp"
#include "centring/fixings.hpp"
#include "deliver/drawings.hpp"
#include "deliver/pages.hpp"
#include "deliver/sheet.hpp"

namespace skewback::deliver {

/// One row for each kind, place and size; then what is needed and not in the model, without number.
[[nodiscard]] std::string fixings_csv(const Fixings& fixings);

/// One row for each piece in the order it is cut from its length; `left_mm` on the last of each.
/// Pieces longer than the stock have no length's number.
[[nodiscard]] std::string timber_csv(const CentringRequest& request, const CutList& cut);

/// Every length with its pieces, all at one scale, two columns; as many sheets as they need.
[[nodiscard]] std::vector<Sheet> timber_sheets(const CentringRequest& request, const CutList& cut,
                                               const SheetSize& size);

void add_fixings(Pages& pages, const Brief& brief, const Centring& centring);
void add_cut_list(Pages& pages, const CentringRequest& request, const Centring& centring);

}  // namespace skewback::deliver
