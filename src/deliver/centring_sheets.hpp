#pragma once
// Drawings of the centring: where it stands, what its ribs are, how its sheets are cut.

#include "brief/brief.hpp"
#include "centring/centring.hpp"
#include "deliver/drawings.hpp"
#include "deliver/sheet.hpp"

namespace skewback::deliver {

/// From above: ribs, feet with their numbers, where none may stand, springings; a table of the feet
/// on the right where the sheet is 300 mm wide or more. `plan`: outlines of all blocks of the
/// assembly from above, or none.
[[nodiscard]] Sheet setting_out_sheet(const Brief& brief, const Assembly& assembly,
                                      const Centring& centring, const std::vector<Regions>& plan,
                                      const SheetSize& size);

/// Each rib from the side, square to it, all at one scale: pieces, joints, ribs across, seats,
/// feet. As many sheets as they need.
[[nodiscard]] std::vector<Sheet> rib_sheets(const Assembly& assembly, const Centring& centring,
                                            const SheetSize& size);

/// It would be shown as 0.00 kN: to be said in words.
[[nodiscard]] inline bool carries_none(double newtons) { return newtons < 5; }

/// What they are drawn at: 20 for 1:20.
[[nodiscard]] double rib_scale(const Centring& centring, const SheetSize& size);
[[nodiscard]] double setting_out_scale(const Brief& brief, const Centring& centring,
                                       const SheetSize& size);

/// All sheets that are cut, small.
[[nodiscard]] Sheet cut_overview_sheet(const Brief& brief, const Centring& centring,
                                       double width_mm);

/// Words put where they meet no others: aslant from a point, beside, above or below it. False, and
/// nothing put, where all eight places are taken.
class Labels {
 public:
  bool put(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm, double away_mm,
           Colour colour = kBlack);
  /// As put; where all eight places are taken farther off, with a thin line from the point. False:
  /// nowhere within `far_mm`.
  bool put_led(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm,
               double away_mm, double far_mm, Colour colour);
  /// Straight over the point, as low as nothing is met.
  void put_over(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm,
                Colour colour);
  void block(const Vec2& low, const Vec2& high) { taken_.push_back({low, high}); }
  void block_line(const Vec2& a, const Vec2& b, double half_width_mm);

 private:
  [[nodiscard]] bool is_taken(const Extent& box) const;
  void set(Sheet& sheet, const Extent& box, const std::string& text, double size_mm, Colour colour);

  std::vector<Extent> taken_;
};

}  // namespace skewback::deliver
