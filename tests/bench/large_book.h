#pragma once
/// A large invented book for measuring: so many seasons on 200 beds. Each season has 125 passes over 20 beds
/// (2,500 doses), 100 brews with their readings, 600 plantings and 2,600 harvests: some 6,600 changes.

#include "book/book.h"
#include "tests/fake_platform.h"

namespace steep::bench {

constexpr int kBeds = 200, kPassesASeason = 125, kBedsAPass = 20;

/// Writes the book into platform.path, a new file; its clock ends at the last season's end.
Result<void> make_large_book(test::FakePlatform& platform, int seasons);

}  // namespace steep::bench
