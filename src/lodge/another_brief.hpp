#pragma once
// Another brief of the same folder, worked out to be laid over this one.

#include <atomic>
#include <filesystem>
#include <memory>
#include <mutex>

#include "deliver/deliver.hpp"

namespace skewback::lodge {

/// Form, blocks and proof of another brief; keeps the last. Safe from several threads, one of
/// which works.
class AnotherBrief {
 public:
  static constexpr const char* kBusy = "busy";
  /// A fault with the key kBusy: another thread is at it. Throws Interrupted if `stop` is set
  /// meanwhile.
  [[nodiscard]] Result<std::shared_ptr<const Dossier>> worked_out(const std::filesystem::path& file,
                                                                  const std::atomic<bool>& stop);

 private:
  std::mutex lock_;
  std::string of_;  // file and content
  std::shared_ptr<const Dossier> dossier_;
};

}  // namespace skewback::lodge
