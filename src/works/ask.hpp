#pragma once
// Questions put to a bridge that was cut: a crowd here, a footing pushed, a tie gone, less
// friction, a block away. Nothing is kept: the bridge stays as it is.

#include <memory>

#include "works/works.hpp"

namespace skewback {

struct Question {
  std::string case_id = "dead";  // what is on it beside; its live load times live_factor
  double live_factor = 1;
  struct Crowd {
    Vec2 at = Vec2::Zero();
    double radius_m = 1, pressure_pa = 5000;
  };
  struct Person {
    Vec2 at = Vec2::Zero();
    double force_n = 800;
  };
  struct Push {  // of a support, about the middle of its line
    int support = -1;
    Vec3 shift_m = Vec3::Zero();
    double turn_rad = 0;  // about the vertical
  };
  std::vector<Crowd> crowds;
  std::vector<Person> persons;
  std::vector<Push> pushes;
  std::vector<std::string> without_blocks, without_ties;
  std::optional<double> friction;
};

struct Measure {     // something found, held against its limit
  std::string what;  // "live_factor", "joint_stress", "friction" or "footing"
  double share = 0;  // demand over limit
  int joint = -1;    // of `Answer::assembly`, where it is one
  std::string says;  // as it stands in the words
};

struct Answer {
  Assembly assembly;          // as asked: without blocks taken away, with the friction asked
  std::vector<int> block_of;  // per block of `assembly`: its index in the bridge
  LoadCase load;
  CaseProof proof;
  std::optional<Measure> governing;  // the greatest share; none where nothing stands to be measured
  std::vector<std::string> words;    // plain sentences: the verdict, what governs and by how much,
                                     // what changed against the case unasked
  double took_s = 0;
};

/// Keeps what can be kept between questions about one bridge. Safe from several threads.
class Asker {
 public:
  explicit Asker(std::shared_ptr<const Dossier> proved);
  ~Asker();
  /// Faults: no such case, block, support or tie; a place off the walking surface; a number out of
  /// range. `quick`: the pads alone, for a load that is being walked about (view 2 says how it
  /// bears; the verdict then rests on that view alone, and says so).
  [[nodiscard]] Result<Answer> answer(const Question& question, bool quick = false) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace skewback
