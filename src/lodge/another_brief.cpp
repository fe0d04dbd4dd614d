#include "lodge/another_brief.hpp"

#include <fstream>
#include <iterator>

#include "base/sha256.hpp"
#include "brief/by_key.hpp"
#include "works/live.hpp"

namespace skewback::lodge {

namespace fs = std::filesystem;

Result<std::shared_ptr<const Dossier>> AnotherBrief::worked_out(const fs::path& file,
                                                                const std::atomic<bool>& stop) {
  const std::unique_lock guard(lock_, std::try_to_lock);
  if (!guard.owns_lock())
    return Fault{"", 0, 0, kBusy, "a comparison that is being worked out", "one at a time", ""};
  std::ifstream stream(file, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(stream), {}};
  const std::string of = file.string() + "\n" + sha256(text);
  if (of == of_) return dossier_;
  const Result<Brief> brief = read_brief_text(text, file.string());
  if (!brief) return brief.faults();
  const Progress progress({}, &stop);
  Result<LiveShape> shaped = live_shape(*brief, nullptr, progress);
  if (!shaped) return shaped.faults();
  Result<Dossier> cut = live_blocks(std::move(shaped.value().dossier), progress);
  if (!cut) return cut.faults();
  dossier_ = std::make_shared<const Dossier>(live_proof(std::move(cut.value()), nullptr, progress));
  of_ = of;
  return dossier_;
}

}  // namespace skewback::lodge
