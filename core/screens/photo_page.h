#pragma once
/// One photo on a whole screen, and the page on which a chosen one is put to its record.

#include <string>

#include "screens/photos_of_record.h"

namespace steep {

struct PhotoPageView {
  std::string title, second;
  PhotosView photos;                ///< The one.
  std::string when, size, missing;  ///< missing: how it can come; empty = it is here.
  std::string save, record;         ///< Buttons: save is empty where there is nothing to save.
  bool shares = false;
  bool operator==(const PhotoPageView&) const = default;
};
struct PhotoPageInput : PageInput {
  bool operator==(const PhotoPageInput&) const = default;
};
Result<PhotoPageView> photo_page_view(const Surroundings& around, const PhotoPageInput& input);
std::optional<Ask> draw_photo_page(const PhotoPageView& view, PhotoPageInput& input, const Furniture& furniture);

struct AddPhotoView {
  Id of;
  std::string title, second;
  PhotosView photos;       ///< The chosen one, not yet written.
  std::string size, none;  ///< none: no photo is chosen; empty = one is.
  std::string caption_label, when_label, when_hint, go;
  bool operator==(const AddPhotoView&) const = default;
};
struct AddPhotoInput : PageInput {
  std::string caption, when;
  bool operator==(const AddPhotoInput&) const = default;
};
DraftFields draft_fields(const AddPhotoInput& input);
void from_draft(AddPhotoInput& input, const DraftFields& fields);
Result<AddPhotoView> add_photo_view(const Surroundings& around, const AddPhotoInput& input);
std::optional<Ask> draw_add_photo(const AddPhotoView& view, AddPhotoInput& input, const Furniture& furniture);

}  // namespace steep
