// Rules and thresholds that somebody else set: bands, hours, waits, heat.
#include <string>
#include <string_view>
#include <vector>

#include "published/published.h"
#include "trade/compost_heat.h"
#include "trade/hold.h"
#include "trade/nozzle.h"
#include "trade/spraytime.h"
#include "trade/sun.h"
#include "trade/water.h"
#include "trade/wetbulb.h"

using namespace steep;
using namespace steep::published;

namespace {

Zone eastern() { return *Zone::from_rule("America/New_York", "EST5EDT,M3.2.0,M11.1.0"); }
Moment clock(Date date, int hour, int minute = 0) { return eastern().instants({date, hour, minute, 0}).front(); }

TEST_CASE("rules: Delta T bands") {
  constexpr const char* kBands =
      "Australian weather bureau, Delta T 2-8 preferred, not above 10 (quoted at peakhydromet.com, "
      "abovecapricorn.blogspot.com)";
  struct Row {
    double delta;
    DeltaTBand band;
  };
  for (const Row& row : {Row{1.9, DeltaTBand::Low},
                         {2, DeltaTBand::Preferred},
                         {5, DeltaTBand::Preferred},
                         {8, DeltaTBand::Preferred},
                         {8.1, DeltaTBand::Marginal},
                         {10, DeltaTBand::Marginal},
                         {10.1, DeltaTBand::High}})
    PUBLISHED("rules", kBands, std::to_string(row.delta),
              delta_t_band(TemperatureDifference::from_celsius_degrees(row.delta)) == row.band);
  // The paper's example of a wet bulb, 20 °C and 50 %: 6.3 °C, within the preferred band.
  PUBLISHED("rules", kBands, "20 C and 50 %",
            delta_t_band(*delta_t(Temperature::from_celsius(20), Share::from_percent(50))) == DeltaTBand::Preferred);
}

/// The span of that minute.
SpraySpan span_at(const std::vector<SpraySpan>& spans, Moment at) {
  for (const SpraySpan& span : spans)
    if (span.from <= at && at < span.to) return span;
  FAIL("no span");
  return {};
}

TEST_CASE("rules: signs of an inversion, and wind windows") {
  const Place wooster{40.8051, -81.9351};
  const Date day{2025, 10, 15};
  // Rise 11:39:23, set 22:46:50 UTC that day by astronomy-engine: 7:39 and 18:47 on the farm's clock.
  const auto signs = [&](int hour, int minute, double wind_km_h) {
    const Moment at = clock(day, hour, minute);
    const std::vector<WeatherSample> weather{{at, Speed::from_kilometers_per_hour(wind_km_h), {}, {}}};
    return span_at(*spray_times(wooster, day, eastern(), {}, weather), at).inversion_signs;
  };
  constexpr const char* kHours =
      "GRDC spray manual 10.8: from 1-2 h before sunset to about 1 h after sunrise; Canola Council p=9205: wind under "
      "3 km/h";
  PUBLISHED("rules", kHours, "half an hour before sunset, 2 km/h", signs(18, 17, 2));
  PUBLISHED("rules", kHours, "half an hour after sunrise, 2 km/h", signs(8, 9, 2));
  PUBLISHED("rules", kHours, "half an hour before sunset, 12 km/h", !signs(18, 17, 12));
  PUBLISHED("rules", kHours, "noon, 2 km/h", !signs(13, 0, 2));

  SprayLimits window;
  window.least_wind = Speed::from_miles_per_hour(3);
  window.most_wind = Speed::from_miles_per_hour(10);
  const auto check = [&](double mph) {
    const Moment at = clock(day, 12);
    const std::vector<WeatherSample> weather{{at, Speed::from_miles_per_hour(mph), {}, {}}};
    return span_at(*spray_times(wooster, day, eastern(), window, weather), at);
  };
  constexpr const char* kWind =
      "extension wind window of 3-10 mph (from memory); labels with a maximum of 10 mph (mafg.net 5248)";
  PUBLISHED("rules", kWind, "3 mph is inside", check(3).within_all());
  PUBLISHED("rules", kWind, "10 mph is inside", check(10).within_all());
  PUBLISHED("rules", kWind, "2 mph is under it", check(2).is_outside(SprayCheck::LeastWind));
  PUBLISHED("rules", kWind, "11 mph is over it", check(11).is_outside(SprayCheck::MostWind));
}

TEST_CASE("rules: the longer of two waits governs, by the calendar") {
  struct Row {
    Date applied, after_90, after_120;
  };
  constexpr const char* kRule = "7 CFR 205.203(c)(1), 90 and 120 days; dates by a calendar program";
  for (const Row& row : {Row{{2026, 3, 1}, {2026, 5, 30}, {2026, 6, 29}},
                         {{2027, 12, 1}, {2028, 2, 29}, {2028, 3, 30}},
                         {{2026, 11, 1}, {2027, 1, 30}, {2027, 3, 1}}}) {
    Treatment off_soil;
    off_soil.finishes = {clock(row.applied, 12)};
    off_soil.harvest = {{{RuleSource::Kind::Standard, "NOP", "205.203(c)(1)", {}}, {Wait::days(90)}}};
    Treatment both = off_soil;
    both.harvest.push_back({{RuleSource::Kind::Standard, "NOP", "205.203(c)(1)", {}}, {Wait::days(120)}});
    const Hold shorter = harvest_hold(std::vector{off_soil}, DayCounting::Dates, eastern());
    const Hold longer = harvest_hold(std::vector{both}, DayCounting::Dates, eastern());
    PUBLISHED("rules", kRule, date_text(row.applied) + ", off the soil", shorter.first_day == row.after_90);
    PUBLISHED("rules", kRule, date_text(row.applied) + ", touching it", longer.first_day == row.after_120);
    PUBLISHED("rules", kRule, date_text(row.applied) + ", of two stretches",
              latest_hold(std::vector{shorter, longer}).first_day == row.after_120);
  }
  constexpr const char* kEntry =
      "40 CFR 156.208: restricted entry of 48, 24, 12 h by toxicity, 4 h for reduced risk; from the end of application "
      "(from memory)";
  for (const int hours : {4, 12, 24, 48}) {
    Treatment sprayed;
    sprayed.finishes = {clock({2026, 6, 3}, 18, 20)};
    sprayed.entry = {{{RuleSource::Kind::Label, "label", "", {}}, {Wait::hours(hours)}}};
    const Hold hold = entry_hold(std::vector{sprayed}, eastern());
    PUBLISHED("rules", kEntry, std::to_string(hours) + " h", hold.until == sprayed.finishes[0] + hours * kHour);
  }
}

TEST_CASE("rules: heat of a pile, as each rule is written") {
  struct Row {
    std::string_view section;
    double floor_F, ceiling_F;
    int days;
    bool in_a_row;
    int turnings;
    double least_ratio, most_ratio;
    const char* source;
  };
  constexpr const char* kNop =
      "7 CFR 205.203(c)(2): C:N 25:1-40:1, 131-170 F, 3 days or 15 with 5 turnings (read at omri.org)";
  constexpr const char* kPsr =
      "21 CFR 112.54(b): 131 F, 3 consecutive days, or 15 days with 5 turnings, and curing (from memory)";
  for (const Row& row : {Row{"7 CFR 205.203(c)(2)(ii)", 131, 170, 3, false, 0, 25, 40, kNop},
                         {"7 CFR 205.203(c)(2)(iii)", 131, 170, 15, false, 5, 25, 40, kNop},
                         {"NOP 5021", 131, 0, 3, false, 0, 0, 0,
                          "NOP 5021 (2011): any method reaching 131 F for 3 days (read at omri.org)"},
                         {"21 CFR 112.54(b)(1)", 131, 0, 3, true, 0, 0, 0, kPsr},
                         {"21 CFR 112.54(b)(2)", 131, 0, 15, false, 5, 0, 0, kPsr}}) {
    const HeatRule* ours = nullptr;
    for (const HeatRule& rule : published_heat_rules())
      if (rule.section == row.section) ours = &rule;
    const std::string name(row.section);
    REQUIRE_MESSAGE(ours, name);
    PUBLISHED("rules", row.source, name + ", heat",
              within(ours->floor.fahrenheit(), row.floor_F, 1e-9) &&
                  (row.ceiling_F > 0 ? ours->ceiling && within(ours->ceiling->fahrenheit(), row.ceiling_F, 1e-9)
                                     : !ours->ceiling));
    PUBLISHED("rules", row.source, name + ", days and turnings",
              ours->days == row.days && ours->consecutive == row.in_a_row && ours->turnings == row.turnings);
    PUBLISHED("rules", row.source, name + ", C:N",
              ours->least_ratio.value_or(0) == row.least_ratio && ours->most_ratio.value_or(0) == row.most_ratio);
  }
}

TEST_CASE("rules: of thumb") {
  constexpr const char* kStanding = "common practice, no source: stand 24 h or aerate 12 h, free chlorine only";
  const auto hours = Duration::from_hours;
  PUBLISHED_NUMBER("rules", kStanding, "24 h", *standing_share(Disinfectant::FreeChlorine, {}, hours(24), hours(0)), 1,
                   1e-12);
  PUBLISHED_NUMBER("rules", kStanding, "12 h of air",
                   *standing_share(Disinfectant::FreeChlorine, {}, hours(0), hours(12)), 1, 1e-12);
  PUBLISHED("rules", "chloramine does not leave by standing or aerating (USFS Tech Tip 0523-1301 and others)",
            "never counts", !standing_share(Disinfectant::Chloramine, {}, hours(100), hours(100)));
  constexpr const char* kWorn = "common practice, no source: worn at 10 % over new, clogged at 10 % under";
  const auto state = [](double now) {
    return check_nozzle(Flow::from_liters_per_minute(now), Flow::from_liters_per_minute(1))->state;
  };
  PUBLISHED("rules", kWorn, "1.10 of new", state(1.10) == NozzleState::Worn);
  PUBLISHED("rules", kWorn, "1.09 of new", state(1.09) == NozzleState::AsNew);
  PUBLISHED("rules", kWorn, "0.90 of new", state(0.90) == NozzleState::Clogged);
}

}  // namespace
