#include "survey/as_made.hpp"

namespace skewback {

AsMade as_drawn(const Assembly& assembly, std::size_t supports) {
  AsMade made;
  made.supports.resize(supports);
  made.on_a.resize(assembly.joints.size());
  made.on_b.resize(assembly.joints.size());
  made.pad_m.resize(assembly.joints.size());
  made.timber_m.resize(assembly.blocks.size());
  return made;
}

}  // namespace skewback
