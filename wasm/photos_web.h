#pragma once
/// Photos of the page: in the browser's storage beside the book's pages. They go out in one transaction with the next
/// write of pages, so a record and its photo are stored together or not at all.

#include <functional>
#include <map>
#include <set>
#include <utility>

#include "host/photo_store.h"

namespace steep {

class PhotosWeb : public PhotoStore {
 public:
  bool has(const Hash& hash) const override { return known_.count(hash) > 0; }
  Result<void> keep(const Hash& hash, std::string_view bytes) override;
  void read(const Hash& hash, std::function<void(Result<std::string>)> then) override;

  // ---- What the page tells ----
  /// Of the load: a photo that lies in the storage, by its hexadecimal name.
  void stored(std::string_view name);
  /// The bytes that were asked for; nullptr = they are not there, or (size −1) cannot be read now. Not inside the call
  /// that asked.
  void came(int number, const char* bytes, int size);

 private:
  std::set<Hash> known_;
  std::map<int, std::pair<Hash, std::function<void(Result<std::string>)>>> asked_;
  int numbers_ = 0;
};

}  // namespace steep
