#pragma once
/// What is said of photos that come, go or are elsewhere; the command line and the screens say it alike.

#include <string>
#include <vector>

#include "base/words.h"
#include "book/photos.h"
#include "handover/give_photos.h"
#include "handover/take.h"
#include "quantity/units_shown.h"

namespace steep {

/// '3.1 MB', '412 kB': of 1,000,000 and 1,000 bytes.
std::string bytes_text(std::int64_t bytes, const UnitsShown& units);
/// 'not on this copy (from Ana's phone)'
std::string photo_away(const Book& book, const Photo& photo, const Words& words);
/// Of a file that is looked at: '2 photos come with it (3.1 MB)', '1 photo is not in it'.
std::vector<std::string> photo_lines(const TakePlan& plan, const UnitsShown& units, const Words& words);
/// Of a file to be given: '23 photos go along (41 MB)', what is left out and why.
std::vector<std::string> given_photo_lines(const PhotosToGive& photos, const UnitsShown& units, const Words& words);

}  // namespace steep
