#include "deliver/zip_package.hpp"

#include <zip.h>

#include <stdexcept>

namespace skewback::deliver {
namespace {

constexpr zip_uint16_t kFirstOfJanuary1980 = 1U << 5U | 1U;  // MS-DOS date: year 0, month, day

std::runtime_error failed(const std::string& what) {
  return std::runtime_error("zip archive: " + what);
}

}  // namespace

std::string zip_package(const std::vector<std::pair<std::string, std::string>>& parts) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* memory = zip_source_buffer_create(nullptr, 0, 0, &error);
  if (memory == nullptr) throw failed("no buffer");
  zip_source_keep(memory);  // once for the archive, once for reading it back
  zip_t* archive = zip_open_from_source(memory, ZIP_TRUNCATE, &error);
  if (archive == nullptr) {
    zip_source_free(memory);
    zip_source_free(memory);
    throw failed("an archive that cannot be opened");
  }
  for (const auto& [name, content] : parts) {
    zip_source_t* source = zip_source_buffer(archive, content.data(), content.size(), 0);
    const zip_int64_t index = zip_file_add(archive, name.c_str(), source, ZIP_FL_ENC_UTF_8);
    const bool added =
        index >= 0 &&
        zip_file_set_dostime(archive, static_cast<zip_uint64_t>(index), 0, kFirstOfJanuary1980,
                             0) == 0 &&
        zip_set_file_compression(archive, static_cast<zip_uint64_t>(index), ZIP_CM_DEFLATE, 6) == 0;
    if (added) continue;
    if (index < 0) zip_source_free(source);
    zip_discard(archive);
    zip_source_free(memory);
    throw failed("a part that cannot be added");
  }
  if (zip_close(archive) != 0) {
    zip_discard(archive);
    zip_source_free(memory);
    throw failed("an archive that cannot be closed");
  }
  zip_stat_t stat;
  zip_stat_init(&stat);
  std::string bytes;
  bool good = zip_source_open(memory) == 0 && zip_source_stat(memory, &stat) == 0;
  if (good) {
    bytes.resize(stat.size);
    good = zip_source_read(memory, bytes.data(), bytes.size()) ==
           static_cast<zip_int64_t>(bytes.size());
    zip_source_close(memory);
  }
  zip_source_free(memory);
  if (!good) throw failed("an archive that cannot be read back");
  return bytes;
}

}  // namespace skewback::deliver
