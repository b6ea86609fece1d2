#include "screens/photo_words.h"

#include "book/called.h"

namespace steep {

std::string bytes_text(std::int64_t bytes, const UnitsShown& units) {
  if (bytes < 999'500) return show_count((bytes + 999) / 1000, units) + " kB";
  return show_number(static_cast<double>(bytes) / 1e6, units, bytes < 9'950'000 ? 1 : 0) + " MB";
}

std::string photo_away(const Book& book, const Photo& photo, const Words& words) {
  const std::string copy = lane_label(book, photo.lane);
  return copy.empty() ? words("photo.away"_w) : words("photo.away_from"_w, {copy});
}

std::vector<std::string> photo_lines(const TakePlan& plan, const UnitsShown& units, const Words& words) {
  std::vector<std::string> lines;
  if (plan.photos_coming > 0)
    lines.push_back(words.count("photo.coming"_w, plan.photos_coming, {bytes_text(plan.photo_bytes, units)}));
  if (plan.photos_missing > 0) lines.push_back(words.count("photo.missing"_w, plan.photos_missing));
  return lines;
}

std::vector<std::string> given_photo_lines(const PhotosToGive& photos, const UnitsShown& units, const Words& words) {
  std::vector<std::string> lines;
  if (!photos.photos.empty())
    lines.push_back(
        words.count("photo.going"_w, static_cast<long long>(photos.photos.size()), {bytes_text(photos.bytes, units)}));
  if (photos.left_out > 0)
    lines.push_back(words.count("photo.left_out"_w, photos.left_out, {bytes_text(kMostPhotoBytes, units)}));
  if (photos.not_here > 0) lines.push_back(words.count("photo.not_here_to_give"_w, photos.not_here));
  return lines;
}

}  // namespace steep
