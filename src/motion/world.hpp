#pragma once
// Private to motion/: blocks and touches as they are in time. A plain value: a copy goes its own
// way.

#include "motion/facets.hpp"
#include "motion/motion.hpp"
#include "motion/touch.hpp"

namespace skewback::motion {

using Quaternion = Eigen::Quaterniond;

struct Body {
  bool free = false, there = false;
  double mass = 0;              // that has weight
  double heft = 0;              // that resists, more than `mass` where steps are made even
  Vec3 inertia = Vec3::Ones();  // about its own axes, kg m2
  Vec3 centre = Vec3::Zero(), v = Vec3::Zero();
  Quaternion q = Quaternion::Identity();  // own axes to world
  Mat3 R = Mat3::Identity();
  Vec3 w = Vec3::Zero(), L = Vec3::Zero();  // rad/s, kg m2 rad/s, world; like v, half a step behind
  Vec3 start = Vec3::Zero();
  Quaternion q_start = Quaternion::Identity();

  Vec3 live = Vec3::Zero();                                    // N at load factor 1
  Mat3 live_arms = Mat3::Zero();                               // sum of (point, own axes) force'
  Vec3 out_of_balance = Vec3::Zero(), turning = Vec3::Zero();  // of the last step, undamped
  // energy, J, since the start
  double brought = 0, contacts = 0, settled = 0, dashed = 0;
};

struct Side {
  int touch = -1;
  bool is_b = false;
};

struct Moving {  // a fixed body on its way; later ones go on from where the earlier have brought it
  int body = -1;
  Vec3 shift = Vec3::Zero(), turn = Vec3::Zero(), about = Vec3::Zero();
  double from_s = 0, over_s = 0;
};

struct Shapes {                   // as drawn
  std::vector<Solid> solids;      // per block
  std::vector<Regions> contacts;  // per joint, in its frame
  std::vector<double> reach;      // per block: of its furthest corner from its centre
  double friction = 0.6;          // of faces that meet: the least of the joints'
};

struct World {
  MotionOptions options;
  Scene scene;
  Vec3 gravity = Vec3::Zero(), live_acceleration = Vec3::Zero();
  std::vector<Body> bodies;  // per block; then the balls of drops
  std::vector<Touch> touches;
  std::vector<std::vector<Side>> sides;  // per body
  std::vector<Moving> moving;
  std::vector<std::vector<int>> moves_of;  // per body, into `moving`
  std::shared_ptr<const Shapes> shapes;    // null: contacts are never found again
  std::vector<std::shared_ptr<const std::vector<Facet>>> facets;  // per block, once they are needed

  double time_s = 0, step_s = 0;
  long steps = 0;
  double put_on_s = 0;
  double factor_from = 0, factor_to = 0, factor_at_s = 0, factor_over_s = 0;
  double mean_weight = 1, mean_size = 1;  // N, m
  int joints_of_assembly = 0, blocks_of_assembly = 0;
  double updates = 0;
  int found_again = 0, new_contacts = 0;
  double found_again_j = 0;
  bool swept = false;
  struct Place {
    Vec3 centre = Vec3::Zero();
    Quaternion q = Quaternion::Identity();
  };
  std::vector<Place> swept_at;  // per body: where it was when faces were last looked through
};

[[nodiscard]] World build_world(const Assembly& assembly, const LoadCase& load, const Scene& scene,
                                const MotionOptions& options);
void index_moves(World& world);
void index_sides(World& world);
/// Time of the dashpots of a touch: their share of critical for its lighter body on all its
/// springs.
[[nodiscard]] double dash_time(const World& world, const Touch& touch);

/// Where rest is all that is asked for, light blocks on stiff joints are given more to resist with
/// (not more weight), so that they do not make every step short.
void even_out(World& world);
/// Of b's frame of a touch from a's, where the bodies are.
struct Sight {
  Mat3 axes;  // a's, world
  Vec3 origin;
  Mat3 turn;
  Vec3 shift;
  [[nodiscard]] Vec3 operator()(const Vec3& at) const { return shift + turn * at; }
};
[[nodiscard]] Sight sight(const World& world, const Touch& touch);
/// Springs along the touch start anew, without force, where its bodies are.
void rest_anchors(const World& world, Touch& touch);

/// Longest stable step without damping, 2 over the largest frequency with every contact closed.
[[nodiscard]] double longest_step(const World& world);
/// What `options` allow: less for the dashpots.
void put_step(World& world);

/// How far something eased in over `over_s` from `from_s` on is: 0 to 1.
[[nodiscard]] double eased(double time_s, double from_s, double over_s);
[[nodiscard]] double load_factor_at(const World& world, double time_s);
[[nodiscard]] double weight_share_at(const World& world, double time_s);
[[nodiscard]] Vec3 shaking_at(const Shaking& shaking, double time_s);

/// The same for one touch, which need not be the world's own.
void push_one(const World& world, const TouchKernel& kernel, Touch& touch);
/// Touches `from` to `to`: forces at the places the bodies have now.
void push(World& world, const TouchKernel& kernel, std::size_t from, std::size_t to);
/// Bodies `from` to `to`: on by one step.
void advance(World& world, std::size_t from, std::size_t to);
/// `steps` of both, on as many threads as the options say.
void step_on(World& world, long steps);
/// What happens at its time: blocks removed, balls let go. True if something did.
bool happen(World& world);
/// Seconds until the last thing that is to happen has happened.
[[nodiscard]] double eventful_until(const World& world);

[[nodiscard]] EnergyLedger ledger(const World& world);
[[nodiscard]] std::vector<JointMotion> joint_motions(const World& world);
[[nodiscard]] std::vector<PusherMotion> pusher_motions(const World& world);
/// Joints whose faces have slid get their points anew; faces that come near one another meet.
void find_again(World& world);
/// Steps after which it is time to look again, `most` at most.
[[nodiscard]] long steps_to_look(const World& world, long most);

}  // namespace skewback::motion
