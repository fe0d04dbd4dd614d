#pragma once
// A centring while it is being drawn. Private to the folder.

#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "centring/centring.hpp"
#include "centring/foot_ground.hpp"
#include "centring/polyline.hpp"
#include "centring/rib_lines.hpp"
#include "centring/soffits.hpp"

namespace skewback {

struct Crossing {
  int other = -1;           // index of the rib that crosses
  double x = 0;             // along this rib
  double angle_rad = 0;     // between the two, up to a right angle
  double slot_width_m = 0;  // as it is to be
  double slot_end_m = 0;    // height of the inner end of the slot
};

struct RibDraft {
  Rib rib;
  RibLine run;
  std::vector<Span> spans;  // of its middle plane, from 0 to its length
  Regions ground;           // ground blocks in its plane, and what is to stay clear about them
  std::vector<Crossing> crossings;
};

struct CentringDraft {
  const Brief& brief;
  const Assembly& assembly;
  const Soffits& all;
  const CentringDesign& design;
  std::vector<RibDraft> ribs;
  Centring out;
  [[nodiscard]] const CentringRequest& request() const { return brief.centring; }
  [[nodiscard]] double floor_m() const { return request().ground_level_m + foot_room_m(request()); }
};

/// Spacing at which a rib of two feet passes bending, halved from what the brief allows as often as
/// need be; says so in `remarks`.
[[nodiscard]] double spacing_that_carries(const CentringRequest& request, const Assembly& assembly,
                                          const Soffits& all, std::vector<std::string>& remarks);

/// Ribs with their top edges, kept clear of ground blocks and of the ground.
[[nodiscard]] std::vector<RibDraft> ribs_with_tops(const Brief& brief, const Assembly& assembly,
                                                   const Soffits& all,
                                                   const std::vector<RibLine>& lines);
[[nodiscard]] std::vector<Seat> seats_on(const CentringRequest& request, const Soffits& all,
                                         const std::vector<RibDraft>& ribs);
/// Blocks with fewer than three seats, or with all in a line.
[[nodiscard]] std::vector<int> ill_seated(const Assembly& assembly, const std::vector<Seat>& seats);

/// Height of what is to stay clear over the ground blocks, seen from above; none: nothing there.
[[nodiscard]] std::optional<double> ground_at(const Regions& ground, double x);
/// Stretch of a rib along which feet may stand clear of the ends and of the ground blocks.
[[nodiscard]] Span foot_stretch(const CentringRequest& request, const RibDraft& rib);

void lay_cross_ribs(CentringDraft& draft);   // at the spacing
void lay_asked(CentringDraft& draft);        // where the design has more; clear of splices
void stand_on_feet(CentringDraft& draft);    // feet and lower edges
void halve_crossings(CentringDraft& draft);  // again, when more are laid
void set_splices(CentringDraft& draft, std::size_t from = 0);  // of ribs from that index on
void cut_parts(CentringDraft& draft);
void set_posts(CentringDraft& draft);  // posts and feet
void set_braces(CentringDraft& draft);
void set_laggings(CentringDraft& draft);
void sum_up(CentringDraft& draft);

constexpr int kThickerBoards = 2;  // sizes of braces over the first
constexpr int kThickerBolts = 2;   // and of the bolts of splices
constexpr int kMorePairs = 3;      // of posts braced in a row across
// m, of a brace past the axis of its post: 7 times a bolt of 16 mm, EN 1995-1-1 table 8.4, from
// memory
constexpr double kBraceBeyond = 0.112;
constexpr double kLeastBraced = 0.35;  // m; shorter posts need no braces

[[nodiscard]] double splice_bolt_m(const CentringDesign& design);

/// A rib as it is to be cut, whole, in its own x and y, without splice holes.
[[nodiscard]] Regions rib_region(const CentringDraft& draft, const RibDraft& rib);
/// Of x, that a splice plate reaches to each side of a cut.
[[nodiscard]] double splice_half_m(const RibDraft& rib, double x);

}  // namespace skewback
