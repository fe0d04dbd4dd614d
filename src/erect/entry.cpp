#include "erect/entry.hpp"

#include <algorithm>

namespace skewback {
namespace {

constexpr double kSame = 1e-9;

struct Touch {
  int joint = -1;
  Vec3 away = Vec3::UnitZ();  // from the neighbour into the block
};

// Cosines with all planes, least first: the longer and the greater, the better the way.
std::vector<double> clearances(const std::vector<Touch>& touches, const Vec3& way) {
  std::vector<double> c;
  for (const Touch& touch : touches) c.push_back(touch.away.dot(way));
  std::ranges::sort(c);
  return c;
}

bool better(const std::vector<double>& a, const std::vector<double>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (std::abs(a[i] - b[i]) > kSame) return a[i] > b[i];
  }
  return false;
}

// The best way has equal clearance from one, two or three planes (centre of the smallest cap that
// holds their normals); between opposed planes, where that is a whole circle, the best along them.
std::vector<Vec3> candidates(const std::vector<Touch>& touches) {
  std::vector<Vec3> ways = {Vec3::UnitZ()};
  const auto add = [&](const Vec3& way) {
    if (way.norm() > kSame) ways.push_back(way.normalized());
  };
  const std::size_t n = touches.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3& a = touches[i].away;
    add(a);
    for (std::size_t j = i + 1; j < n; ++j) {
      const Vec3& b = touches[j].away;
      add(a + b);
      for (std::size_t k = j + 1; k < n; ++k) {
        const Vec3 even = (a - b).cross(a - touches[k].away);
        add(even);
        add(-even);
      }
      if ((a + b).norm() > 1e-3) continue;
      const auto along = [&](const Vec3& v) { return Vec3(v - v.dot(a) * a); };
      add(along(Vec3::UnitZ()));
      for (std::size_t k = 0; k < n; ++k) {
        const Vec3 c = along(touches[k].away);
        add(c);
        for (std::size_t l = k + 1; l < n; ++l) {
          const Vec3 d = along(touches[l].away);
          if (c.norm() > kSame && d.norm() > kSame) add(c.normalized() + d.normalized());
        }
      }
    }
  }
  return ways;
}

Entry entry_of(int block, const std::vector<Touch>& touches) {
  Entry entry;
  entry.block = block;
  if (touches.empty()) return entry;
  std::vector<double> best;
  for (const Vec3& way : candidates(touches)) {
    std::vector<double> c = clearances(touches, way);
    if (!best.empty() && !better(c, best)) continue;
    best = std::move(c);
    entry.direction = way;
  }
  entry.margin = best.front();
  if (entry.margin >= -kSlides) return entry;
  for (const Touch& touch : touches) {
    if (touch.away.dot(entry.direction) <= entry.margin + kSame) {
      entry.stuck_by.push_back(touch.joint);
    }
  }
  return entry;
}

}  // namespace

std::vector<Entry> entry_directions(const Assembly& assembly, const std::vector<int>& order) {
  std::vector<char> placed;
  for (const Block& block : assembly.blocks) placed.push_back(block.fixed);
  std::vector<Entry> entries;
  for (const int block : order) {
    std::vector<Touch> touches;
    for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
      const Joint& joint = assembly.joints[j];
      if (joint.b == block && joint.a >= 0 && placed[joint.a]) {
        touches.push_back({static_cast<int>(j), joint.frame.z});
      }
      if (joint.a == block && joint.b >= 0 && placed[joint.b]) {
        touches.push_back({static_cast<int>(j), -joint.frame.z});
      }
    }
    entries.push_back(entry_of(block, touches));
    placed[block] = 1;
  }
  return entries;
}

std::string stuck_words(const Assembly& assembly, const Entry& entry) {
  std::string text;
  for (const int j : entry.stuck_by) {
    const Joint& joint = assembly.joints[j];
    text += (text.empty() ? assembly.blocks[entry.block].id + " is held by " : " and ") +
            assembly.blocks[joint.a].id + " | " + assembly.blocks[joint.b].id;
  }
  return text;
}

}  // namespace skewback
