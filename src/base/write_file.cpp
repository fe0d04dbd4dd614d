#include "base/write_file.hpp"

#include <fstream>
#include <system_error>

namespace skewback {

std::optional<Fault> write_whole(const std::filesystem::path& file, const std::string& bytes) {
  std::filesystem::path beside = file;
  beside += ".part";
  std::error_code error;
  {
    std::ofstream out(beside, std::ios::binary);
    out << bytes;
    out.close();
    if (!out) {
      std::filesystem::remove(beside, error);
      return Fault{file.string(), 0, 0, "", "cannot be written", "", ""};
    }
  }
  std::filesystem::rename(beside, file, error);
  if (!error) return std::nullopt;
  const std::string why = error.message();
  std::filesystem::remove(beside, error);
  return Fault{file.string(), 0, 0, "", why, "", ""};
}

}  // namespace skewback
