#pragma once
/// Which photos go along in a handover file, and their bytes: some systems read them only later.

#include <cstdint>
#include <functional>
#include <vector>

#include "book/photos.h"
#include "handover/give.h"

namespace steep {

/// Bytes of photos in one file: what messengers, mail and a page's memory still take.
inline constexpr std::int64_t kMostPhotoBytes = 100'000'000;

struct PhotosToGive {
  struct One {
    Hash hash{};
    std::string name;
    std::int64_t size = 0;
  };
  std::vector<One> photos;
  std::int64_t bytes = 0;
  std::int64_t left_out = 0;  ///< Beyond `most`; they come first in the next file.
  std::int64_t not_here = 0;  ///< Whose bytes this copy lacks itself.
};
/// Photos of the parts that the request names. To one copy alone: those of what it lacks, and those of others that never
/// went out from here to it. First what never went out, newest first, then what went out longest ago: so several files bring all.
Result<PhotosToGive> photos_to_give(const Book& book, const GiveRequest& request, const PhotoStore& store,
                                    std::int64_t most = kMostPhotoBytes);
/// Reads them one after the other. A photo that cannot be read is left out: the others still go.
void read_photos(PhotoStore& store, PhotosToGive wanted, std::function<void(std::vector<PhotoBytes>)> then);

}  // namespace steep
