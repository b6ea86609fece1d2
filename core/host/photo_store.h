#pragma once
/// Photos beside the book, each by the SHA-256 of its bytes: a folder on the desktop, the browser's storage on the page.
/// Nothing is ever deleted because no record mentions it: one that does may come in the next file.

#include <functional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "base/sha256.h"

namespace steep {

class PhotoStore {
 public:
  virtual ~PhotoStore() = default;
  virtual bool has(const Hash& hash) const = 0;
  /// On a disk the bytes are lasting when it returns; what lies there damaged is replaced. On the page they go out in
  /// one transaction with the book's next write. `hash` is that of `bytes`.
  virtual Result<void> keep(const Hash& hash, std::string_view bytes) = 0;
  /// May answer at once. Trouble::NotFound 'photo.not_here', Damaged 'photo.damaged' when the bytes are not the named ones.
  virtual void read(const Hash& hash, std::function<void(Result<std::string>)> then) = 0;
};

}  // namespace steep
