// Ribs, seats, parts, posts and feet, in this order: each step reads what the ones before it drew.
#include <algorithm>
#include <cmath>
#include <optional>

#include "centring/centring.hpp"
#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr int kMoreRibs = 4;            // per leg, tried until every block is seated
constexpr int kSteepCourses = 2;        // from the springing
constexpr double kTimberDensity = 420;  // kg/m3, mean of C24 (EN 338:2016, table 1, from memory)

Fault fault(std::string place, std::string found, std::string expected) {
  Fault f;
  f.key = "centring: " + std::move(place);
  f.found = std::move(found);
  f.expected = std::move(expected);
  return f;
}

void drop_footless(const CentringRequest& request, std::vector<RibDraft>& ribs,
                   std::vector<std::string>& remarks) {
  FootGround ground(request);
  const auto footless = std::erase_if(ribs, [&](const RibDraft& rib) {
    const Span stretch = foot_stretch(request, rib);
    const auto feet = feet_under(request, ground, rib.run.line, stretch.from, stretch.to, {});
    for (const double x : feet) ground.take(rib.run.line.point(x));
    return feet.empty();
  });
  if (footless > 0) {
    remarks.push_back(std::to_string(footless) +
                      " ribs are left out: they would have no place for a foot");
  }
  for (std::size_t i = 0; i < ribs.size(); ++i) ribs[i].rib.id = "R" + std::to_string(i + 1);
}

struct Trial {
  std::vector<RibDraft> ribs;
  std::vector<Seat> seats;
  std::vector<int> ill;
  std::vector<std::string> remarks;
};

/// As many ribs as the spacing asks for; more where a block would have too few seats.
Trial seat_all(const Brief& brief, const Assembly& assembly, const Soffits& all, double spacing,
               const Progress& progress) {
  std::optional<Trial> best;
  for (int more = 0; more <= kMoreRibs; ++more) {
    progress.checkpoint("centring", 0.1 + 0.1 * more);
    Trial trial;
    trial.ribs =
        ribs_with_tops(brief, assembly, all, rib_lines(brief, assembly, all, {spacing, more}));
    drop_footless(brief.centring, trial.ribs, trial.remarks);
    trial.seats = seats_on(brief.centring, all, trial.ribs);
    trial.ill = ill_seated(assembly, trial.seats);
    if (more > 0) {
      trial.remarks.push_back(std::to_string(more) +
                              " more ribs in each leg than the spacing asks for, so that every "
                              "block has three seats");
    }
    if (!best || trial.ill.size() < best->ill.size()) best = std::move(trial);
    if (best->ill.empty()) break;
  }
  return std::move(*best);
}

/// Blocks whose weight lies outside their seats, seen from above. The first courses stand on their
/// beds, which are steep, and so do without.
std::vector<int> overhanging(const Assembly& assembly, const std::vector<Seat>& seats) {
  std::vector<std::vector<Vec2>> under(assembly.blocks.size());
  for (const Seat& seat : seats) {
    under[static_cast<std::size_t>(seat.prop.block)].emplace_back(seat.prop.point.head<2>());
  }
  std::vector<int> out;
  for (std::size_t b = 0; b < under.size(); ++b) {
    const Block& block = assembly.blocks[b];
    if (block.fixed || under[b].size() < 3 || block.place.course <= kSteepCourses) continue;
    const Vec2 middle = block.mass.centroid.head<2>();
    if (!contains({convex_hull(under[b]), {}}, middle)) out.push_back(static_cast<int>(b));
  }
  return out;
}

/// Side ribs under what overhangs; the same trial where they help nothing.
Trial with_side_ribs(const Brief& brief, const Assembly& assembly, const Soffits& all,
                     Trial trial) {
  const std::vector<int> wide = overhanging(assembly, trial.seats);
  if (wide.empty()) return trial;
  std::vector<RibLine> laid;
  for (const RibDraft& rib : trial.ribs) laid.push_back(rib.run);
  Trial more;
  more.ribs = ribs_with_tops(brief, assembly, all, side_lines(brief, assembly, all, laid, wide));
  if (more.ribs.empty()) return trial;
  const auto added = more.ribs.size();
  more.ribs.insert(more.ribs.begin(), trial.ribs.begin(), trial.ribs.end());
  more.remarks = trial.remarks;
  drop_footless(brief.centring, more.ribs, more.remarks);
  more.seats = seats_on(brief.centring, all, more.ribs);
  more.ill = ill_seated(assembly, more.seats);
  if (more.ill.size() > trial.ill.size() ||
      overhanging(assembly, more.seats).size() >= wide.size()) {
    return trial;
  }
  more.remarks.push_back(std::to_string(added) +
                         " side ribs under blocks wide of the ribs along their leg");
  return more;
}

std::string named(const Assembly& assembly, const std::vector<int>& blocks) {
  std::string names;
  for (const int b : blocks) {
    names += (names.empty() ? "" : ", ") + assembly.blocks[static_cast<std::size_t>(b)].id;
  }
  return names;
}

void remark_seats(const Assembly& assembly, const Trial& trial, Centring& out) {
  if (!trial.ill.empty()) {
    out.remarks.push_back("fewer than three seats, or all in a line: " +
                          named(assembly, trial.ill));
  }
  const std::vector<int> wide = overhanging(assembly, trial.seats);
  if (!wide.empty()) {
    out.remarks.push_back("the weight lies outside the seats, seen from above: " +
                          named(assembly, wide));
  }
}

}  // namespace

void sum_up(CentringDraft& draft) {
  Centring& out = draft.out;
  for (RibDraft& rib : draft.ribs) {
    if (!rib.rib.top.empty() && !rib.rib.bottom.empty()) out.ribs.push_back(rib.rib);
  }
  for (const SheetPart& part : out.parts) out.plywood_m2 += area(part.outline);
  for (const Stick& stick : out.sticks) {
    out.timber_m3 += stick.cut_length_m() * stick.width_m * stick.depth_m;
  }
  out.mass_kg = out.plywood_m2 * draft.request().sheet_thickness_m * draft.request().density +
                out.timber_m3 * kTimberDensity;
  out.remarks.emplace_back(
      "feet stand on the ground as it is: sills under them, where it is soft, are not drawn");
}

Result<Centring> make_centring(const Brief& brief, const Assembly& assembly,
                               const Progress& progress, const CentringDesign& design) {
  progress.checkpoint("centring", 0);
  const Soffits all = soffits(assembly);
  if (std::ranges::all_of(all, [](const auto& faces) { return faces.empty(); })) {
    return fault("soffit", "no block with a face that looks down", "blocks that can be carried");
  }
  CentringDraft draft{brief, assembly, all, design, {}, {}};
  const double spacing = spacing_that_carries(brief.centring, assembly, all, draft.out.remarks);
  Trial trial = seat_all(brief, assembly, all, spacing, progress);
  if (trial.ribs.empty()) {
    return trial.remarks.empty()
               ? fault("ribs",
                       "no line along a leg with half a metre of soffit high enough over "
                       "the ground",
                       "legs that start at the supports, ground_level lower than the soffit")
               : fault("no_feet", "no rib has a place for a foot",
                       "ground under the bridge on which feet may stand");
  }
  trial = with_side_ribs(brief, assembly, all, std::move(trial));
  remark_seats(assembly, trial, draft.out);
  draft.ribs = std::move(trial.ribs);
  draft.out.seats = std::move(trial.seats);
  for (std::string& remark : trial.remarks) draft.out.remarks.push_back(std::move(remark));
  progress.checkpoint("centring", 0.6);
  lay_cross_ribs(draft);
  stand_on_feet(draft);
  halve_crossings(draft);
  set_splices(draft);
  const std::size_t spliced = draft.ribs.size();
  lay_asked(draft);
  halve_crossings(draft);
  set_splices(draft, spliced);
  progress.checkpoint("centring", 0.8);
  cut_parts(draft);
  set_posts(draft);
  set_braces(draft);
  set_laggings(draft);
  sum_up(draft);
  progress.checkpoint("centring", 1);
  return std::move(draft.out);
}

}  // namespace skewback
