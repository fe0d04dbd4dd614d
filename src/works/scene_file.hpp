#pragma once
// The file of a scene as TOML: values with faults that name the line. Private to works/.

#include <toml++/toml.h>

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "brief/toml_file.hpp"
#include "brief/units.hpp"

namespace skewback {

/// What a number or quantity may be; `unit` empty: a plain number.
struct Wanted {
  std::string unit, example;  // "s", "0.5 s"
  double low = 0, high = 0;
  bool above_low = false;  // `low` itself is too little
};

class SceneFile : public TomlFile {
 public:
  SceneFile(std::filesystem::path file, const Assembly& assembly)
      : TomlFile(std::move(file)), assembly_(assembly) {}

  /// The table `name`; a fault where it is something else. Null: not there.
  const toml::table* section(const toml::table& root, const std::string& name);
  /// The tables [[name]].
  std::vector<const toml::table*> list(const toml::table& root, const std::string& name);

  // Each leaves `out` alone where the key is not there; `needed`: a fault then.
  bool number(const toml::table& table, const std::string& section, const std::string& key,
              const Wanted& wanted, double& out, bool needed = false);
  bool vector(const toml::table& table, const std::string& section, const std::string& key,
              const Wanted& wanted, Vec3& out);
  /// Index of the block called so; a fault, and -1, where there is none or the key is missing.
  int block(const toml::table& table, const std::string& section);
  /// `block` or `support`; of a fixed block.
  int ground(const toml::table& table, const std::string& section);

 private:
  std::optional<double> value(const toml::node& node, const std::string& key, const Wanted& wanted);
  int named(const toml::node& node, const std::string& key, const std::string& prefix,
            bool fixed_only);

  const Assembly& assembly_;
  Units units_;
};

struct MotionScene;
void read_motion_questions(SceneFile& file, const toml::table& root, MotionScene& out);

}  // namespace skewback
