#include "book/totals.h"

#include "book/places.h"

namespace steep {

void VolumeSum::add(const ShownVolume& volume) {
  if (volume.how == HowKnown::Skipped) return;
  ++doses;
  if (!volume.spray) {
    ++not_known;
    return;
  }
  estimated += volume.is_estimate();
  spray += *volume.spray;
  if (volume.tea) {
    tea += *volume.tea;
  } else {
    ++tea_not_known;
  }
}

std::set<Id> left_out_of_totals(std::span<const DosePair> pairs) {
  std::set<Id> out;
  for (const DosePair& pair : pairs) out.insert(pair.second);
  return out;
}

Result<FarmTotals> farm_totals(const Book& book, const Id& farm, Date from, Date to) {
  FarmTotals totals;
  TRY_ASSIGN(const std::vector<Pass>& all, passes(book, farm, from, to));
  TRY_ASSIGN(const std::vector<DosePair>& pairs, same_bed_pairs(book, farm));
  const std::set<Id> left_out = left_out_of_totals(pairs);
  std::set<Id> once;
  for (const Pass& pass : all) {
    TRY_ASSIGN(const std::vector<LoadSheet>& sheets, load_sheets(book, pass));
    bool tea_here = false, other_here = false;
    for (const LoadSheet& sheet : sheets) {
      const bool tea = !sheet.load.brew.is_nil() || sheet.load.tea.value_or(Volume{}).si() > 0;
      for (std::size_t i = 0; i < sheet.doses.size(); ++i) {
        const Dose& dose = sheet.doses[i];
        if (dose.is_skipped()) continue;
        if (left_out.count(dose.id) != 0) {
          once.insert(dose.bed);
          continue;
        }
        (tea ? totals.tea : totals.other).add(sheet.volumes[i]);
        (tea ? totals.tea_length : totals.other_length) += dose.stretch().length();
        (tea ? totals.tea_area : totals.other_area) += dose.area();
        (tea ? tea_here : other_here) = true;
      }
    }
    totals.tea_passes += tea_here;
    totals.other_passes += other_here;
  }
  totals.beds_once = static_cast<int>(once.size());
  return totals;
}

}  // namespace steep
