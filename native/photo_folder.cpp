#include "native/photo_folder.h"

#include <filesystem>

#include "native/disk.h"

namespace steep {

namespace fs = std::filesystem;

bool PhotoFolder::has(const Hash& hash) const {
  std::error_code none;
  return fs::is_regular_file(path_of(hash), none);
}

Result<void> PhotoFolder::keep(const Hash& hash, std::string_view bytes) {
  if (has(hash))
    if (const auto there = bytes_of(hash)) return {};
  TRY(make_folder(folder_));
  return write_file_whole(path_of(hash), bytes);
}

Result<std::string> PhotoFolder::bytes_of(const Hash& hash) const {
  if (!has(hash)) return refuse(Trouble::NotFound, "photo.not_here"_w);
  TRY_ASSIGN(std::string bytes, read_file(path_of(hash)));
  if (sha256(bytes) != hash) return refuse(Trouble::Damaged, "photo.damaged"_w, {}, path_of(hash));
  return bytes;
}

}  // namespace steep
