#pragma once
// How a centring is judged, in steps: loads, ribs, splices, posts, sway. Private to centring/.

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "centring/centring.hpp"
#include "centring/judge_beam.hpp"

namespace skewback {

/// What the blocks put on the seats at one moment, with or without factors.
struct SeatCase {
  std::string stage;
  bool design = false;      // with factors and people; else weight alone, as it is
  std::vector<Vec3> force;  // per seat, on the rib, world, N
  double own_factor = 1;    // on the weight of the centring itself
};
/// Vertical force on all seats.
[[nodiscard]] double down_n(const SeatCase& seats);
struct SeatCases {
  std::vector<SeatCase> all;
  std::optional<std::size_t> whole;  // weight alone, with every block placed
  std::vector<std::string> remarks;
};
/// Of every stage: weight as it is, and the design value: gamma_G on weight, people as they came
/// (their factors are in them), gamma_Q on the working load where the stage has no people.
[[nodiscard]] SeatCases seat_cases(const Brief& brief, const Assembly& assembly,
                                   const std::vector<SeatLoads>& loads, const Centring& centring);

constexpr double kBraceTouches = 0.2;  // m, from a brace's end to the axis of a post
constexpr double kRibsMeet = 0.15;     // m, from a rib to the end of another
constexpr double kBraceAligned = 0.5;  // cosine in plan: others hold nothing that way

/// Braces whose upper ends hold a foot's post along its rib.
struct FootHold {
  double flat = 0;           // sum of the cosines of their slopes along the rib; 0: none
  double rise = 0;           // greatest sine of their slopes
  double strut_n = 0;        // what the weakest carries
  double stiffness_n_m = 0;  // along the rib, their joints not counted
};
[[nodiscard]] FootHold braces_along(const Brief& brief, const Centring& centring, int foot);
/// m: the horizontal share of a force of 1 in each brace that goes along `way` (level, unit), times
/// its distance from the nearer end of this post; summed for upper and for lower ends, the greater.
[[nodiscard]] double brace_lever_m(const Centring& centring, const Stick& post, const Vec3& way);
/// What a brace carries as a strut: whole, or over its longer part where it is packed apart from,
/// and nailed to, the one it crosses.
[[nodiscard]] double brace_n(const Brief& brief, const Centring& centring, const Stick& brace);
[[nodiscard]] double off_stick_m(const Stick& stick, const Vec3& p);

/// A rib made ready: where on its beam everything is.
struct RibBeam {
  int rib = -1;
  std::vector<int> seats, feet;  // of the centring
  std::vector<std::size_t> seat_at, crossing_at, splice_at;
  std::vector<double> seat_above_m;
  std::vector<double> crossing_left_m;  // depth that the slot leaves, square to the axis
  std::vector<double> own_n;            // weight, per point of the axis
  struct Support {
    int foot = -1;          // of the centring; -1: it lies on another rib, or an unnamed foot
    int on_rib = -1;        // index of the rib it lies on
    std::size_t on_at = 0;  // point of that rib's beam
  };
  std::vector<Support> supports;  // as the beam's
  std::optional<Beam> beam;       // none: it has fewer than two supports
};
/// In an order in which each rib lies only on feet and on ribs that come after it.
[[nodiscard]] std::vector<RibBeam> rib_beams(const Brief& brief, const Centring& centring);

/// One rib in one case.
struct RibState {
  const RibBeam& on;
  const SeatCase& from;
  const BeamState& state;
  const std::vector<BeamLoad>& loads;
};

/// The worst of each kind of check, in the order they were first met.
class WorstChecks {
 public:
  void offer(const CentringCheck& check);
  [[nodiscard]] bool worse(const char* name, double utilisation) const;  // than what is kept
  [[nodiscard]] const std::vector<CentringCheck>& all() const { return all_; }

 private:
  std::vector<CentringCheck> all_;
};
[[nodiscard]] CentringCheck check_of(std::string name, double demand, double resistance,
                                     std::string unit, std::string place, std::string stage,
                                     std::string source);

/// What failed where, and by how much: for settle_centring. Worst over all cases.
struct StretchAsk {  // between two ribs across
  double used = 0, from_m = 0, to_m = 0;
};
struct TipAsk {                   // over a rib's first or last foot
  double over_nm = 0, arm_m = 0;  // moment that nothing holds; to the next foot. 0: it turns over
                                  // for other reasons, or feet lift and it sinks too far
};
struct SlideAsk {         // of the ribs of a leg
  double beyond_n = 0;    // of the push, beyond what friction holds
  std::vector<int> feet;  // those with most braces first
  std::string place, stage;
};
struct PullAsk {
  double n = 0;  // design
  std::string stage;
};
struct BraceEndAsk {
  double used = 0;
  bool along = false;     // the brace goes along the ribs
  std::vector<int> ribs;  // of its leg
};
struct DesignAsks {
  std::map<std::pair<int, std::size_t>, StretchAsk> stretches;  // by rib and first point
  std::map<std::pair<int, bool>, TipAsk> tips;                  // by rib; its first foot
  std::map<int, PullAsk> pulls;                                 // by foot held down
  std::map<int, double> braces_along;                           // by rib: used
  std::vector<SlideAsk> slides;                                 // by leg
  double splice_bolts = 0;                                      // used
  double sideways = 0;                                          // used, of braces
  BraceEndAsk brace_ends;
};

struct Judged {  // gathered over all cases
  WorstChecks worst;
  double brace_bolt_m = 0;                   // as Centring's
  std::vector<WorstChecks> of_rib, of_foot;  // bending, shear, tipping, ...; post, head, wedge
  DesignAsks asks;
};
/// What judge_centring does, and what it would have more of.
DesignAsks judge_and_ask(const Brief& brief, const Assembly& assembly,
                         const std::vector<SeatLoads>& loads, Centring& centring,
                         const Struck& struck = {});
/// A foot's hold, upwards or sideways, its factor taken off.
[[nodiscard]] double hold_n(const Brief& brief, double characteristic_n);
/// Holds found needed at every foot into foot_findings; what would do where the brief gives none.
[[nodiscard]] std::vector<std::string> say_holds(const Brief& brief, const DesignAsks& asks,
                                                 Centring& centring);

void check_rib(const Brief& brief, const Centring& centring, const RibState& state, Judged& out);
void check_splices(const Brief& brief, const Centring& centring, const RibState& state,
                   Judged& out);
/// Loads that turn the rib over its first or last foot, against those that hold it down.
/// Feet held down hold with what the brief gives. Returns whether it is nearer to turning over its
/// first foot than over its last.
bool check_tipping(const Brief& brief, const Centring& centring, const RibBeam& on,
                   const std::vector<BeamLoad>& loads, const SeatCase& from, Judged& out);
/// A foot held down that is pulled.
void check_pull(const Brief& brief, const Centring& centring, int foot, double pull_n,
                const std::string& stage, Judged& out);
/// Feet held both ways at once; straps of those held down. After say_holds. (judge_holds.cpp)
void check_held_feet(const Brief& brief, const Centring& centring, Judged& out);
/// Where feet stand on jacks: one for all of them; posts on them. Its words. (judge_jacks.cpp)
[[nodiscard]] std::vector<std::string> check_jacks(const Brief& brief, const Centring& centring,
                                                   Judged& out);
/// The least bolt for the ends of braces that has its distances from edges and ends, against the
/// greatest force in one. Its words. (judge_brace_ends.cpp)
[[nodiscard]] std::vector<std::string> check_brace_ends(const Brief& brief,
                                                        const Centring& centring, double force_n,
                                                        Judged& out);
/// What the braces at a foot hold along its rib; returns what they press on its post.
double check_hold(const FootHold& hold, const CentringFoot& foot, double sideways_n,
                  const std::string& stage, Judged& out);
void check_foot(const Brief& brief, const Centring& centring, int foot, double force_n,
                const std::string& stage, Judged& out);
/// A post that braces bend because they end short of its ends.
void check_bent_post(const Brief& brief, const Centring& centring, int foot, double force_n,
                     double moment_nm, const std::string& stage, Judged& out);

struct LegPush {          // of a leg on the others, in the middle
  std::vector<int> ribs;  // of the leg, on one side of the middle
  double n = 0;           // greatest, design
  std::string stage;
};
struct Sway {
  std::vector<CentringCheck> checks;
  std::vector<double> foot_extra_n;  // per foot: what the braces at its post press on it
  std::vector<double> foot_bend_nm;  // per foot: greatest moment in its post from its braces
  double brace_n = 0;                // greatest, in one brace
  BraceEndAsk brace;                 // of that one; used: not judged here
  // per case and foot: what braces then press or pull on its post; empty where not design
  std::vector<std::vector<double>> case_extra_n;
  std::vector<SlideAsk> slides;
  double sideways_used = 0;         // of braces, all in equal shares
  double legs_push_n = 0;           // as Centring::legs_push_n
  std::vector<LegPush> leg_pushes;  // of those that push
  std::vector<std::string> remarks;
};
[[nodiscard]] Sway check_sway(const Brief& brief, const Centring& centring,
                              const std::vector<SeatCase>& cases);

/// Greatest load of all seats and of one leg against another, seats that carry nothing. Fills
/// load_max_n.
[[nodiscard]] std::vector<std::string> load_remarks(const Assembly& assembly,
                                                    const SeatCases& cases, Centring& centring);
[[nodiscard]] std::vector<std::string> splice_remarks(const Centring& centring);
/// What was taken for granted and what was not looked at.
[[nodiscard]] std::vector<std::string> limit_remarks(const Brief& brief);

/// Design strength: k_mod f_k / gamma_M.
[[nodiscard]] double design_pa(const Brief& brief, double characteristic_pa);
/// What a stick carries along its axis as a strut with hinged ends, N.
[[nodiscard]] double strut_n(const Brief& brief, const Stick& stick, double length_m);

[[nodiscard]] std::string kilonewtons_of(double n);
[[nodiscard]] std::string millimetres_of(double m);
[[nodiscard]] std::string metres_of(double m);

}  // namespace skewback
