#pragma once
/// Photos as files in a folder beside the book, each called by the SHA-256 of its bytes.

#include <string>

#include "host/photo_store.h"

namespace steep {

class PhotoFolder : public PhotoStore {
 public:
  /// Made when the first photo is kept.
  explicit PhotoFolder(std::string folder) : folder_(std::move(folder)) {}

  bool has(const Hash& hash) const override;
  Result<void> keep(const Hash& hash, std::string_view bytes) override;
  void read(const Hash& hash, std::function<void(Result<std::string>)> then) override { then(bytes_of(hash)); }
  /// At once, as only a disk can.
  Result<std::string> bytes_of(const Hash& hash) const;

 private:
  std::string path_of(const Hash& hash) const { return folder_ + "/" + hex(hash); }
  std::string folder_;
};

}  // namespace steep
