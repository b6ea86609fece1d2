#pragma once
/// Two entries for one bed at one time: written down twice, or sprayed twice? A person says which.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/places.h"
#include "book/work.h"

namespace steep {

/// A pair of doses on one bed whose stretches and times overlap, by two people, copies or passes.
struct DosePair {
  Id bed, first, second;  ///< `first` finished earlier (tie by id): the one that totals count.
};
/// Not yet answered. `farm` narrows.
Result<std::vector<DosePair>> same_bed_pairs(const Book& book, const std::optional<Id>& farm = {});
/// Those of one bed's own record.
Result<std::vector<DosePair>> same_bed_pairs_on(const Book& book, const Id& bed);

/// One side of 'Same bed, twice?'.
struct TwiceEntry {
  Dose dose;
  std::string who, copy;  ///< 'Ana', 'Ana's phone'.
  std::string pass_code;
  int load_number = 0;
  ShownVolume volume;
};
struct TwiceSheet {
  TwiceEntry first, second;
  Bed bed;
  Farm farm;
  std::string crops;
  Stretch overlap;  ///< Along the bed.
  Moment overlap_from, overlap_to;
  Hold entry, harvest;  ///< Of the bed as they count now: of the two entries the later finish.
};
Result<TwiceSheet> twice_sheet(const Book& book, const Id& first, const Id& second, Moment now);

}  // namespace steep
