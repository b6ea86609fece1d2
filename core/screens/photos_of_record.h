#pragma once
/// The photos of a record, on whatever page it is shown: small pictures, a frame for each that is elsewhere, a
/// button to add one.

#include <optional>
#include <string>
#include <vector>

#include "base/sha256.h"
#include "look/layout.h"
#include "screens/page.h"

namespace steep {

struct PhotosView {
  struct Shown {
    Id record;
    Hash hash{};
    std::string caption, detail;  ///< Detail: when it was taken, who; or whose copy has it.
    bool here = false, struck = false;
    bool operator==(const Shown&) const = default;
  };
  Id of;
  std::string head;  ///< 'Photos'; empty = nothing to show and nothing to add.
  std::vector<Shown> photos;
  std::string add, take;     ///< Buttons; take (the camera) is empty where there is none.
  std::string cannot, away;  ///< In place of a picture.
  bool operator==(const PhotosView&) const = default;
};

/// `of` may be a photo itself: then it is the one shown, and none can be added.
Result<PhotosView> photos_view(const Surroundings& around, const Id& of);
std::optional<Ask> draw_photos(Pen& pen, const PhotosView& view, const Furniture& furniture);
/// A photo in its box, or the words in place of it.
void draw_photo(const Box& box, const PhotosView::Shown& photo, const PhotosView& view, const Furniture& furniture,
                bool whole);
/// How a photo is told: what it shows, and when and by whom it was taken, or where it is.
PhotosView::Shown photo_shown(const Surroundings& around, const Photo& photo);

}  // namespace steep
