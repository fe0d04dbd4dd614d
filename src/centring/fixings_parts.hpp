#pragma once
// The list of fixings, kind by kind. Private to the folder.

#include "centring/fixings.hpp"

namespace skewback {

/// Bolts of splices and of the ends of braces, with nuts and washers.
void list_bolts(const Brief& brief, const Centring& centring, Fixings& out);
/// Nails of packed braces, screws of laggings.
void list_nails(const Brief& brief, const Centring& centring, Fixings& out);
/// Straps and their nails, holds, wedges or jacks.
void list_feet(const Brief& brief, const Centring& centring, Fixings& out);
void list_packings(const Centring& centring, Fixings& out);

[[nodiscard]] std::string size_in_mm(double m);                     // "2.8", "65"
[[nodiscard]] std::string named_ids(std::vector<std::string> ids);  // "P1-2, P3-1, ..."

}  // namespace skewback
