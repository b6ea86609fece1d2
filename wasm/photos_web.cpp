#include "wasm/photos_web.h"

#include "wasm/browser.h"

namespace steep {

void PhotosWeb::stored(std::string_view name) {
  Hash hash{};
  if (parse_hex(name, hash)) known_.insert(hash);
}

Result<void> PhotosWeb::keep(const Hash& hash, std::string_view bytes) {
  if (!known_.insert(hash).second) return {};
  browser::photo_keep(hex(hash), bytes);
  return {};
}

void PhotosWeb::read(const Hash& hash, std::function<void(Result<std::string>)> then) {
  if (!has(hash)) return then(refuse(Trouble::NotFound, "photo.not_here"_w));
  asked_[++numbers_] = {hash, std::move(then)};
  browser::photo_read(numbers_, hex(hash));
}

void PhotosWeb::came(int number, const char* bytes, std::size_t size) {
  const auto found = asked_.find(number);
  if (found == asked_.end()) return;
  const auto [hash, then] = std::move(found->second);
  asked_.erase(found);
  if (bytes == nullptr) return then(refuse(Trouble::NotFound, "photo.not_here"_w));
  std::string photo(bytes, size);
  if (sha256(photo) != hash) return then(refuse(Trouble::Damaged, "photo.damaged"_w));
  then(std::move(photo));
}

}  // namespace steep
