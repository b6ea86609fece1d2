#pragma once
/// How the papers of this folder put values into words: always with unit, always saying of what.

#include <optional>
#include <string>
#include <vector>

#include "book/report_data.h"
#include "book/spelled.h"
#include "quantity/units_shown.h"

namespace steep {

/// As the day of today it has every other day printed with its year.
constexpr Date kFarFromToday{1, 1, 1};

struct PaperSheet {
  const ReportData& data;
  const Words& words;
  UnitsShown units;

  /// Days with their year: nobody who reads a paper knows which Saturday was meant.
  SpellAs spell_as() const { return {units, data.farm.zone, kFarFromToday}; }
  std::string day(Moment at) const;    ///< '14 May 2026'
  std::string clock(Moment at) const;  ///< '6:46 pm'
  std::string when(Moment at) const;   ///< '14 May 2026, 6:46 pm'
  /// '6:46 pm'; on another day than `start` '15 May 12:10 am'.
  std::string clock_since(Moment start, Moment at) const;
  /// From one time to another in two lines: '14 May 2026', '6:40–7:20 pm'; over midnight each in full. Never wrapped.
  std::vector<std::string> span(Moment from, std::optional<Moment> to) const;
  /// Ends of one wait on several beds, the first and the last; days alone where it ends with a day.
  std::vector<std::string> first_and_last(Moment first, Moment last) const;
  std::string bed_length(Length length) const;  ///< In ft or m however long: beds are measured so.
  std::string stretch(Stretch stretch) const;   ///< '50 to 100 ft'
  std::string field_area(Area area) const;  ///< In acres or hectares as rates are; under 0.1 of them in ft² or m².
  /// '5.89 gal spray (2.62 tea)'; without tea '0.40 gal spray'; '~' in front of an estimate.
  std::string spray(std::optional<Volume> spray, std::optional<Volume> tea, bool estimate) const;
  std::string spray(const VolumeSum& sum, bool has_tea) const;
  /// 'measured', 'share of load', 'rate × area', 'not known'.
  std::string how(HowKnown how) const;
  /// End of a hold: 'Fri 15 May 2026, 6:46 pm', 'held: rule not decided', 'none recorded'.
  std::string hold_end(const Hold& hold) const;
  /// 'farm rule (Alder Reach), Ana Leland: 1 day'; while copies disagree each reading.
  std::string rule(const RuleWait& rule) const;
  std::string reason(const std::string& why) const;  ///< Of a strike; ours are stored words.
  /// Of what was not written when it was done: 'written 14 May 2026, 8:10 pm, from paper'.
  std::string written(const RecordFacts& facts) const;
  /// 'reason: the customer was waiting', of what was written in spite of a caution, or corrected; else empty.
  std::string reason_given(const Id& record) const;
  std::string wind(const Weather& weather) const;
  std::string not_taken() const { return words("paper.not_taken"_w); }
};

}  // namespace steep
