#pragma once
// The file of a scene as TOML: values with faults that name the line. Private to works/.

#include <toml++/toml.h>

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "brief/units.hpp"

namespace skewback {

/// What a number or quantity may be; `unit` empty: a plain number.
struct Wanted {
  std::string unit, example;  // "s", "0.5 s"
  double low = 0, high = 0;
  bool above_low = false;  // `low` itself is too little
};

class SceneFile {
 public:
  SceneFile(std::filesystem::path file, const Assembly& assembly)
      : file_(std::move(file)), assembly_(assembly) {}

  void fault(const toml::node* at, const std::string& key, const std::string& found,
             const std::string& expected, const std::string& change = "");
  void add(Fault fault) { faults_.push_back(std::move(fault)); }
  void unknown(const toml::table& table, const std::string& section,
               const std::vector<std::string>& known);
  /// The table `name`; a fault where it is something else. Null: not there.
  const toml::table* section(const toml::table& root, const std::string& name);
  /// The tables [[name]].
  std::vector<const toml::table*> list(const toml::table& root, const std::string& name);

  // Each leaves `out` alone where the key is not there; `needed`: a fault then.
  bool number(const toml::table& table, const std::string& section, const std::string& key,
              const Wanted& wanted, double& out, bool needed = false);
  bool vector(const toml::table& table, const std::string& section, const std::string& key,
              const Wanted& wanted, Vec3& out);
  bool whole(const toml::table& table, const std::string& section, const std::string& key,
             std::int64_t low, std::int64_t high, std::int64_t& out);
  bool text(const toml::table& table, const std::string& section, const std::string& key,
            std::string& out, const std::vector<std::string>& choices = {});
  bool flag(const toml::table& table, const std::string& section, const std::string& key,
            bool& out);
  /// Index of the block called so; a fault, and -1, where there is none or the key is missing.
  int block(const toml::table& table, const std::string& section);
  /// `block` or `support`; of a fixed block.
  int ground(const toml::table& table, const std::string& section);

  [[nodiscard]] const Faults& faults() const { return faults_; }
  [[nodiscard]] const std::filesystem::path& file() const { return file_; }

 private:
  std::optional<double> value(const toml::node& node, const std::string& key, const Wanted& wanted);
  int named(const toml::node& node, const std::string& key, const std::string& prefix,
            bool fixed_only);

  std::filesystem::path file_;
  const Assembly& assembly_;
  Units units_;
  Faults faults_;
};

struct MotionScene;
void read_motion_questions(SceneFile& file, const toml::table& root, MotionScene& out);

}  // namespace skewback
