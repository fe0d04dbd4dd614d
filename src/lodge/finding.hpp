#pragma once
// Private to the findings: one sentence with its place and the moment that shows it.

#include <optional>
#include <string>
#include <vector>

#include "deliver/deliver.hpp"
#include "deliver/told_apart.hpp"
#include "lodge/arrays.hpp"

namespace skewback::lodge {

inline constexpr double kNear = 0.8;  // share of a limit from which it is near

enum Weight { kFails = 0, kNearLimit = 1, kNotChecked = 2, kHolds = 3 };

struct Finding {
  std::string id;
  Weight weight = kHolds;
  std::optional<double> share = {};  // demand over limit
  std::string says = {};
  Json place = {};  // nowhere() if none is set
  std::string moment = "drawn";
  bool of_whole = false;          // said of what only a whole run works out
  std::optional<int> stale = {};  // revision, where it is older than that of the rest
};
using Found = std::vector<Finding>;

// ---- places ------------------------------------------------------------------------------------
[[nodiscard]] Json nowhere();
[[nodiscard]] Json place(const char* kind, const std::string& id, const std::optional<Vec3>& at);
[[nodiscard]] Json joint_place(const Assembly& assembly, int joint);
[[nodiscard]] Json block_place(const Assembly& assembly, int block);
[[nodiscard]] Json block_place(const Assembly& assembly, const std::string& id);
[[nodiscard]] Json support_place(const Plan& plan, const std::string& id);
[[nodiscard]] Json tie_place(const Brief& brief, const Groundworks& ground, const std::string& id);

// ---- moments -----------------------------------------------------------------------------------
/// "stage 7" when the block is placed; "closed" where no programme says.
[[nodiscard]] std::string moment_of_placing(const Dossier& dossier, const std::string& block);
/// From words that end "(step 7)"; else `otherwise`.
[[nodiscard]] std::string moment_in(const std::string& words, const std::string& otherwise);

// ---- what must pass ----------------------------------------------------------------------------
/// dossier.required; of a dossier that has none yet, as works/ would ask.
[[nodiscard]] std::vector<RequiredCheck> asked_of(const Dossier& dossier);
[[nodiscard]] const RequiredCheck* find(const std::vector<RequiredCheck>& checks,
                                        const std::string& name);
/// A check's weight, near a limit where `share` says so.
[[nodiscard]] Weight weight_of(const RequiredCheck& check, const std::optional<double>& share);
[[nodiscard]] Weight weight_of(double share);
/// "Not checked: the live factor. The stages were not run."
[[nodiscard]] Finding not_checked(const RequiredCheck& check, const std::string& what);

// ---- words -------------------------------------------------------------------------------------
/// "1.23 MPa", "45 kPa", "12.3 kN", "3.2 mm", "18.0 degrees": as the report.
[[nodiscard]] std::string measure(double value, const std::string& unit);
/// The same of two, with more decimals where they would read alike.
[[nodiscard]] deliver::TwoFigures measures(double found, double limit, const std::string& unit);
/// First letter large, full stop at the end.
[[nodiscard]] std::string sentence(std::string text);
/// A full stop at the end, the first letter as it is: of a name.
[[nodiscard]] std::string stopped(std::string text);
/// "a, b, c and 4 more".
[[nodiscard]] std::string few(const std::vector<std::string>& names, std::size_t most = 3);

// ---- what there is to say ----------------------------------------------------------------------
using Required = std::vector<RequiredCheck>;
void say_standing(const Dossier& dossier, const Required& required, Found& found);
void say_joints(const Dossier& dossier, const Required& required, Found& found);
void say_shape(const Dossier& dossier, Found& found);
void say_blocks(const Dossier& dossier, const Required& required, Found& found);
void say_ground(const Dossier& dossier, const Required& required, Found& found);
void say_building(const Dossier& dossier, const Required& required, Found& found);
void say_lifting(const Dossier& dossier, const Required& required, Found& found);
void say_walk(const Dossier& dossier, const Required& required, Found& found);
void say_built(const Dossier& dossier, const Required& required, Found& found);
void say_unlooked(const Dossier& dossier, Found& found);

}  // namespace skewback::lodge
