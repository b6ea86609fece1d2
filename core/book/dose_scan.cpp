#include "book/dose_scan.h"

#include <algorithm>

namespace steep {

Result<std::vector<RawDose>> scan_doses(const Book& book, const Id& farm, std::int64_t since) {
  Query query = book.db().query(
      "SELECT uid, what_load, what_bed, lane, made_by, what_from_si, what_to_si, what_width_si, what_volume_si, what_how, "
      "when_start, when_finish, made_ms, struck IS NOT NULL, settled FROM k_dose "
      "WHERE COALESCE(when_finish, made_ms) >= ?1 AND (?2 = '' OR part >= ?2 || '/' AND part < ?2 || '0')");
  query.bind(1, since).bind(2, farm.is_nil() ? std::string() : farm.text());
  std::vector<RawDose> doses;
  while (query.next()) {
    RawDose& dose = doses.emplace_back();
    dose.id = query.id(0);
    dose.load = query.id(1);
    dose.bed = query.id(2);
    dose.lane = query.integer(3);
    dose.made_by = query.id(4);
    dose.has_stretch = !query.is_null(5) && !query.is_null(6);
    if (dose.has_stretch) {
      dose.from = std::min(query.real(5), query.real(6));
      dose.to = std::max(query.real(5), query.real(6));
    }
    dose.width = query.maybe_real(7).value_or(0);
    dose.volume = query.maybe_real(8);
    const std::string_view how = query.text_view(9);
    dose.how = how == "skipped" ? DoseHow::Skipped : how == "part" ? DoseHow::Part : DoseHow::Done;
    dose.start = query.maybe_integer(10);
    dose.finish = query.maybe_integer(11);
    dose.made = query.integer(12);
    dose.struck = query.integer(13) != 0;
    if (!query.is_null(14)) dose.settled = query.text(14);
  }
  TRY(query.done());
  std::sort(doses.begin(), doses.end(), [](const RawDose& a, const RawDose& b) {
    if (a.bed != b.bed) return a.bed < b.bed;
    return a.end() != b.end() ? a.end() < b.end() : a.id < b.id;
  });
  return doses;
}

}  // namespace steep
