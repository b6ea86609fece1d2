#pragma once
/// The photo store of the tests: in memory, refusing on demand.

#include <map>
#include <string>
#include <utility>

#include "host/photo_store.h"

namespace steep::test {

class MemoryPhotos : public PhotoStore {
 public:
  std::map<Hash, std::string> photos;
  bool full = false;  ///< Keeps nothing more.

  bool has(const Hash& hash) const override { return photos.count(hash) > 0; }
  Result<void> keep(const Hash& hash, std::string_view bytes) override {
    if (full) return refuse(Trouble::System, "file.cannot_write"_w, {"photo"});
    photos[hash] = bytes;
    return {};
  }
  void read(const Hash& hash, std::function<void(Result<std::string>)> then) override {
    const auto found = photos.find(hash);
    if (found == photos.end()) return then(refuse(Trouble::NotFound, "photo.not_here"_w));
    if (sha256(found->second) != hash) return then(refuse(Trouble::Damaged, "photo.damaged"_w));
    then(found->second);
  }
};

}  // namespace steep::test
