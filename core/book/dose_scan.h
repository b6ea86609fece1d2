#pragma once
/// Doses in bulk, without what only a page about one of them needs. Only core/book includes this.

#include <cstdint>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "book/book.h"
#include "book/same_ground.h"
#include "book/work.h"

namespace steep {

/// One dose as its row has it: lengths in m, times in ms.
struct RawDose {
  Id id, load, bed, made_by;
  Id ground;              ///< The bed; of beds that people joined one of them, for all alike.
  std::int64_t lane = 0;  ///< Row of the lane.
  double from = 0, to = 0, width = 0;
  bool has_stretch = false;
  std::optional<double> volume;
  DoseHow how = DoseHow::Done;
  std::optional<std::int64_t> start, finish;
  std::int64_t made = 0;
  bool struck = false;
  std::string settled;  ///< Ids of 'settled', as in the table.

  std::int64_t end() const { return finish.value_or(made); }
  std::int64_t begin() const { return start ? std::min(*start, end()) : end(); }
};

/// Doses of one farm (nil = all) that finished at `since` or later, in no order. Struck ones too.
Result<std::vector<RawDose>> scan_doses(const Book& book, const Id& farm, std::int64_t since);
/// All of these beds, by ground and finish.
Result<std::vector<RawDose>> scan_doses_on(const Book& book, const SameGround& same, std::span<const Id> beds);
/// Beds with two entries at one time, or with one of two that tell of one ground: where find_pairs may find some. There are
/// few, and this reads little of each dose.
Result<std::vector<Id>> beds_done_twice_at_once(const Book& book, const SameGround& same);
/// When the load was filled or its pass began, whichever is earlier; INT64_MAX when it is not here.
Result<std::int64_t> load_begun(const Book& book, const Id& load);
/// Of a dose whose finish nobody knows: since when it may lie on its bed, the earliest time that anything says of it.
Result<std::int64_t> unfinished_since(const Book& book, const Id& dose);
/// Sets the ground of each and sorts by it and by finish, as find_pairs wants them.
void sort_by_ground(const SameGround& same, std::vector<RawDose>& doses);

/// Pairs (indices) of 'Same bed, twice?': not struck, not skipped, one bed (or joined ones), stretches and times that
/// overlap, by two copies or passes, not yet answered. The first of a pair finished earlier (tie by id).
/// `pass_of(load)`. `doses` as sort_by_ground leaves them.
template <class PassOf>
std::vector<std::pair<std::size_t, std::size_t>> find_pairs(std::span<const RawDose> doses, PassOf pass_of);

/// 1 cm: nobody walks a bed more exactly.
inline constexpr double kOneCentimeter = 0.01;

inline bool is_settled_with(const RawDose& a, const RawDose& b) {
  return a.settled.find(b.id.text()) != std::string::npos || b.settled.find(a.id.text()) != std::string::npos;
}

/// Do the times overlap? An entry of no length counts where it lies inside the other, ends included.
inline bool overlap_in_time(const RawDose& a, const RawDose& b) {
  const std::int64_t from = std::max(a.begin(), b.begin()), to = std::min(a.end(), b.end());
  const bool instant = a.begin() == a.end() || b.begin() == b.end();
  return instant ? from <= to : from < to;
}

inline bool overlap_on_bed(const RawDose& a, const RawDose& b) {
  if (!a.has_stretch || !b.has_stretch) return true;
  return std::min(a.to, b.to) - std::max(a.from, b.from) > kOneCentimeter;
}

template <class PassOf>
std::vector<std::pair<std::size_t, std::size_t>> find_pairs(std::span<const RawDose> doses, PassOf pass_of) {
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  const auto counts = [](const RawDose& dose) { return !dose.struck && dose.how != DoseHow::Skipped; };
  for (std::size_t j = 0; j < doses.size(); ++j) {
    if (!counts(doses[j])) continue;
    // Sorted by finish: an earlier one whose finish lies before this start cannot overlap, nor any before it.
    for (std::size_t i = j; i-- > 0 && doses[i].ground == doses[j].ground && doses[i].end() >= doses[j].begin();) {
      if (!counts(doses[i]) || !overlap_in_time(doses[i], doses[j]) || !overlap_on_bed(doses[i], doses[j])) continue;
      const bool one_hand = doses[i].lane == doses[j].lane && pass_of(doses[i].load) == pass_of(doses[j].load);
      if (one_hand || is_settled_with(doses[i], doses[j])) continue;
      pairs.emplace_back(i, j);
    }
  }
  return pairs;
}

}  // namespace steep
