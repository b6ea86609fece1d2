#include "app/photo_pictures.h"

#include <algorithm>

namespace steep {
namespace {

constexpr std::size_t kMostKept = 60;       // Small ones take 256 KB each.
constexpr int kSmall = 256, kLarge = 1600;  // Pixels a side.

}  // namespace

PictureSource::Shown PhotoPictures::of(const Hash& photo, bool large) {
  const Key key{photo, large};
  const auto found = kept_.find(key);
  if (found == kept_.end()) {
    wanted_.insert(key);
    return {};
  }
  found->second.looked_at = frame_;
  return {found->second.picture.get(), found->second.cannot};
}

void PhotoPictures::add_bytes(const Hash& photo, std::string bytes) { unwritten_ = {photo, std::move(bytes)}; }

bool PhotoPictures::step() {
  ++frame_;
  const bool any = !came_.empty();
  for (auto& [key, pixels] : came_) {
    Kept& kept = kept_[key];
    kept.looked_at = frame_;
    kept.cannot = !pixels;
    if (pixels) kept.picture = std::make_unique<Picture>(*pixels);
  }
  came_.clear();
  while (kept_.size() > kMostKept ||
         std::count_if(kept_.begin(), kept_.end(), [](const auto& one) { return one.first.second; }) > 2) {
    const bool too_large = kept_.size() <= kMostKept;
    auto oldest = kept_.end();
    for (auto one = kept_.begin(); one != kept_.end(); ++one)
      if ((!too_large || one->first.second) &&
          (oldest == kept_.end() || one->second.looked_at < oldest->second.looked_at))
        oldest = one;
    kept_.erase(oldest);
  }
  std::erase_if(wanted_,
                [this](const Key& key) { return kept_.count(key) > 0; });  // Asked for in the frame in which it came.
  if (!reading_ && !wanted_.empty()) read(*wanted_.begin());
  wanted_.clear();  // What is still in sight asks again.
  return any;
}

void PhotoPictures::read(const Key& key) {
  reading_ = true;
  const auto decode = [this, key, alive = std::weak_ptr<bool>(alive_)](Result<std::string> bytes) {
    if (alive.expired()) return;
    if (!bytes) return came(key, tl::unexpected<Problem>(bytes.error()));
    platform_.decode_photo(std::move(*bytes), key.second ? kLarge : kSmall, [this, key, alive](Result<Pixels> pixels) {
      if (!alive.expired()) came(key, std::move(pixels));
    });
  };
  if (!unwritten_.second.empty() && unwritten_.first == key.first)
    decode(unwritten_.second);
  else
    platform_.photos().read(key.first, decode);
}

void PhotoPictures::came(const Key& key, Result<Pixels> pixels) {
  reading_ = false;
  came_.insert_or_assign(key, std::move(pixels));
  platform_.wake_at(platform_.now().at);
}

}  // namespace steep
