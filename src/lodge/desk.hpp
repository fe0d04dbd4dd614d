#pragma once
// The brief on the table: its text, what was changed and can be undone, and what has been worked
// out of it so far. One thread works; any number may ask.

#include <filesystem>
#include <functional>
#include <memory>
#include <nlohmann/json.hpp>

#include "deliver/deliver.hpp"

namespace skewback::lodge {

struct KeyChange {
  std::string key;   // "form.rise", "plan.support[2].level", "plan.outline[3]"; numbers from 1
  std::string text;  // TOML: "\"1.6 m\"", "3", "[1.2, 3.4]"; empty: the key is taken out
};

/// A TOML text with some values changed; all else, comments too, stays as it is byte for byte. A
/// key that is not there yet is put at the end of its table, a table that is not there at the end.
[[nodiscard]] Result<std::string> patch_text(const std::string& text,
                                             const std::vector<KeyChange>& changes,
                                             const std::string& file);

enum class Part { kShape, kBlocks, kProof, kWhole };
/// What is known of one part, and of which revision of the brief.
struct Known {
  int of = 0;                              // 0: never
  std::shared_ptr<const Dossier> dossier;  // the last that came out; may be of an older revision
  std::string failed;                      // why the newest did not; empty: it did, or is not tried
  std::string draft;                       // what it still lacks; empty: it is whole
  double took_s = 0;
  bool let_go = false;  // failed for no fault of the brief: stopped, or changed meanwhile
};

class Desk {
 public:
  struct Options {
    std::filesystem::path brief;
    int jobs = 0;
    double one_move_s = 0.7;  // changes of the same keys that follow within this are undone as one
  };
  /// Reads the brief; faults as read_brief. Work begins at once.
  [[nodiscard]] static Result<std::unique_ptr<Desk>> open(const Options& options);
  ~Desk();

  /// All of these may be called from any thread.
  [[nodiscard]] nlohmann::ordered_json state() const;
  [[nodiscard]] nlohmann::ordered_json keys() const;
  [[nodiscard]] Known known(Part part) const;
  [[nodiscard]] int revision() const;
  [[nodiscard]] std::filesystem::path folder() const;
  [[nodiscard]] Brief brief() const;  // of the newest revision

  /// Refused, with nothing changed, if `revision` is not the newest (a fault with key "revision")
  /// or the brief that would come of it is not good or names a file outside its folder anew.
  [[nodiscard]] std::optional<Faults> edit(int revision, const std::vector<KeyChange>& changes);
  /// The brief's file as it is on the disk now, as a change that can be undone. Refused as edit is.
  [[nodiscard]] std::optional<Faults> reread(int revision);
  /// Refused, with nothing changed, if there is nothing to go to (a fault with key "revision") or
  /// the brief of then is good no more: what it names beside it may be gone since.
  [[nodiscard]] std::optional<Faults> undo();
  [[nodiscard]] std::optional<Faults> redo();
  /// Beside the brief; never over a file that is there. `name`: letters, figures, '-', '_', with or
  /// without ".toml".
  [[nodiscard]] Result<std::filesystem::path> save(const std::string& name);

  /// Shape, blocks and proof follow each change by themselves; the rest only when asked.
  void run_whole();
  void run_proof();  // again what is not fresh of those three: after a stop
  void stop();

  /// Called, from the working thread, when the state changed or work went on: "state" or
  /// "progress".
  using Listener = std::function<void(const std::string& what, const nlohmann::ordered_json&)>;
  void listen(Listener listener);

 private:
  struct Inside;
  explicit Desk(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace skewback::lodge
