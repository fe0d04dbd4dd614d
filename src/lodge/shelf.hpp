#pragma once
// Which dossier shows what is asked for, and the sheaves that were made of it.

#include <deque>
#include <mutex>

#include "lodge/bench.hpp"
#include "lodge/desk.hpp"

namespace skewback::lodge {

/// What is known, and of which revision.
struct Source {
  std::function<Known(Part)> known;
  std::function<int()> revision;
};
[[nodiscard]] Source source_of(const Desk& desk);

struct Picked {
  int of = 0;
  bool fresh = false;
  std::shared_ptr<const Dossier> dossier;
};
/// The dossiers there are: newest first; of those of one revision, the one that went furthest.
[[nodiscard]] std::vector<Picked> newest_first(const Source& source);

/// {"view": name, "of", "fresh"} and then all of `head`.
[[nodiscard]] nlohmann::ordered_json headed(const std::string& name, const Picked& picked,
                                            const nlohmann::ordered_json& head);

/// Makes views and keeps the last ones. Safe from several threads.
class Shelf {
 public:
  explicit Shelf(Source source) : source_(std::move(source)) {}
  [[nodiscard]] std::optional<Shown> view(const std::string& name,
                                          const std::map<std::string, std::string>& query);
  /// Of the proof, older or not, before the shape alone: sentences about blocks stay while the
  /// shape is being changed, and are then not fresh.
  [[nodiscard]] nlohmann::ordered_json findings() const;
  [[nodiscard]] std::optional<nlohmann::ordered_json> node(const Vec2& at) const;

 private:
  struct Kept {
    std::string name;
    Picked picked;
    Shown shown;
  };
  [[nodiscard]] std::optional<Shown> kept(const std::string& name, const Picked& picked);
  static constexpr std::size_t kKeepMost = 16;
  Source source_;
  std::mutex lock_;
  std::deque<Kept> kept_;
};

}  // namespace skewback::lodge
