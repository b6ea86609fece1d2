#include "wasm/photos_web.h"

#include "wasm/browser.h"

namespace steep {

void PhotosWeb::stored(std::string_view name) {
  Hash hash{};
  if (parse_hex(name, hash)) known_.insert(hash);
}

Result<void> PhotosWeb::keep(const Hash& hash, std::string_view bytes) {
  known_.insert(hash);  // What lies there may be damaged: the browser compares, and writes only what differs.
  browser::photo_keep(hex(hash), bytes);
  return {};
}

void PhotosWeb::read(const Hash& hash, std::function<void(Result<std::string>)> then) {
  if (!has(hash)) return then(refuse(Trouble::NotFound, "photo.not_here"_w));
  asked_[++numbers_] = {hash, std::move(then)};
  browser::photo_read(numbers_, hex(hash));
}

void PhotosWeb::came(int number, const char* bytes, int size) {
  const auto found = asked_.find(number);
  if (found == asked_.end()) return;
  const auto [hash, then] = std::move(found->second);
  asked_.erase(found);
  // What is lost or damaged is not here: the next file that brings it makes it whole.
  if (bytes == nullptr) {
    if (size == 0) known_.erase(hash);
    return then(refuse(Trouble::NotFound, "photo.not_here"_w));
  }
  std::string photo(bytes, static_cast<std::size_t>(size));
  if (sha256(photo) != hash) {
    known_.erase(hash);
    return then(refuse(Trouble::Damaged, "photo.damaged"_w));
  }
  then(std::move(photo));
}

}  // namespace steep
