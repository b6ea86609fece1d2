#pragma once
/// Sums over doses. Entries of 'Same bed, twice?' count once, the earlier finish; struck ones never.

#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/same_bed.h"
#include "book/work.h"

namespace steep {

/// Sum of volumes with how far it can be trusted.
struct VolumeSum {
  Volume spray, tea;
  int doses = 0;
  int estimated = 0;      ///< '~'.
  int not_known = 0;      ///< Not in the sum.
  int tea_not_known = 0;  ///< In the sum of spray, but not in that of tea.
  void add(const ShownVolume& volume);
};

/// Doses in question that totals leave out: the later one of each pair.
std::set<Id> left_out_of_totals(std::span<const DosePair> pairs);

/// Sums of one farm over civil days, both included. Tea mix and other sprays stay apart.
struct FarmTotals {
  VolumeSum tea, other;
  int tea_passes = 0, other_passes = 0;
  Length tea_length, other_length;  ///< Bed length treated.
  Area tea_area, other_area;        ///< Bed top treated.
  int beds_once = 0;                ///< Beds in question, counted once.
};
Result<FarmTotals> farm_totals(const Book& book, const Id& farm, Date from, Date to);

}  // namespace steep
