#pragma once
// Joints as the page names them.

#include <string>

#include "assembly/assembly.hpp"

namespace skewback::lodge {

/// "b3|b4"; empty where there is no such joint.
[[nodiscard]] std::string joint_id(const Assembly& assembly, int joint);
[[nodiscard]] double joint_depth_m(const Joint& joint);  // extent of the contact along y

}  // namespace skewback::lodge
