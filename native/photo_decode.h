#pragma once
/// JPEG, PNG and WebP into pixels, by the libraries that the system keeps safe (libjpeg-turbo, libpng, libwebp).

#include <string_view>

#include "base/result.h"
#include "host/pixels.h"

namespace steep {

/// Pixels of the largest photo that is decoded: memory is 3 bytes each.
inline constexpr long kMostPixels = 50'000'000;

/// At most `side` pixels a side, upright as its Exif tag says. Trouble::Unsupported 'photo.cannot_show' for more than
/// kMostPixels, and for what does not decode.
Result<Pixels> decode_photo(std::string_view bytes, int side);

/// 1–8, the tag Orientation of a JPEG's Exif part (Exif 2.3, 4.6.4, table 4: tag 0x0112); 1 = upright or not said.
int exif_orientation(std::string_view jpeg);

}  // namespace steep
