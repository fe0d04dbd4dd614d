#include "daybook/photo.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <optional>
#include <sstream>
#include <system_error>

#include "base/sha256.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;

std::optional<std::string> content(const fs::path& file) {
  std::error_code error;
  if (!fs::is_regular_file(file, error)) return std::nullopt;
  std::ifstream in(file, std::ios::binary);
  std::ostringstream bytes;
  bytes << in.rdbuf();
  if (!in) return std::nullopt;
  return bytes.str();
}

bool flush_to_disk(const fs::path& path) {
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) return false;
  const bool good = ::fsync(fd) == 0;
  ::close(fd);
  return good;
}

bool write_flushed(const fs::path& file, const std::string& bytes) {
  std::ofstream out(file, std::ios::binary);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  return out.good() && flush_to_disk(file);
}

/// ".jpg"; only letters and digits, or none.
std::string plain_extension(const fs::path& file) {
  const std::string extension = file.extension().string();
  for (std::size_t i = 1; i < extension.size(); ++i)
    if (std::isalnum(static_cast<unsigned char>(extension[i])) == 0) return "";
  return extension.size() <= 6 ? extension : "";
}

}  // namespace

Result<std::string> keep_photo(const fs::path& folder, const fs::path& photo) {
  const auto bytes = content(photo);
  if (!bytes)
    return Fault{photo.string(), 0, 0, "--photo", "no file that can be read", "a photo",
                 "mend the path"};
  const std::string name = "photos/" + sha256(*bytes).substr(0, 16) + plain_extension(photo);
  const fs::path file = folder / name;
  std::error_code error;
  if (fs::exists(file, error)) return name;
  fs::create_directories(file.parent_path(), error);
  const fs::path beside = file.string() + ".part-" + std::to_string(::getpid());
  if (write_flushed(beside, *bytes) && ::rename(beside.c_str(), file.c_str()) == 0 &&
      flush_to_disk(file.parent_path()))
    return name;
  const std::string why = std::strerror(errno);
  fs::remove(beside, error);
  return Fault{file.string(), 0, 0, "photo", "cannot be written: " + why, "room for it", ""};
}

}  // namespace skewback
