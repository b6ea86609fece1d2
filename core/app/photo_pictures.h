#pragma once
/// Photos on the screen: read from beside the book, decoded, kept as long as they are looked at.

#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>

#include "host/platform.h"
#include "look/picture.h"

namespace steep {

class PhotoPictures : public PictureSource {
 public:
  explicit PhotoPictures(Platform& platform) : platform_(platform), alive_(std::make_shared<bool>(true)) {}
  Shown of(const Hash& photo, bool large) override;
  /// A photo that is not beside the book yet, in place of the one before.
  void add_bytes(const Hash& photo, std::string bytes);
  /// Between frames: lets go what has not been looked at for long, reads the next one asked for. True when one came.
  bool step();
  /// Has one come that no frame has shown yet?
  bool waits() const { return !came_.empty(); }

 private:
  using Key = std::pair<Hash, bool>;
  struct Kept {
    std::unique_ptr<Picture> picture;
    bool cannot = false;
    long looked_at = 0;  ///< Frame.
  };
  void read(const Key& key);
  void came(const Key& key, Result<Pixels> pixels);

  Platform& platform_;
  std::shared_ptr<bool> alive_;  ///< Answers may come when this is gone.
  std::map<Key, Kept> kept_;
  std::pair<Hash, std::string> unwritten_;  ///< The one being added.
  std::set<Key> wanted_;
  std::map<Key, Result<Pixels>> came_;
  bool reading_ = false;
  long frame_ = 0;
};

}  // namespace steep
