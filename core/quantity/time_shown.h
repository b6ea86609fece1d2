#pragma once
/// Days, clocks and lengths of time as people see them. Date order is never all digits.

#include <cstdint>
#include <string>

#include "base/moment.h"
#include "base/words.h"
#include "base/zone.h"
#include "quantity/quantities.h"
#include "quantity/units_shown.h"

namespace steep {

/// '6:46 pm' or '18:46'.
std::string show_clock(LocalTime, Clock, const Words&);
/// '6:40–7:20 pm', '11:40 am–12:10 pm', '18:40–19:20'.
std::string show_clock_span(LocalTime from, LocalTime to, Clock, const Words&);
/// 'Thu 14 May' / 'jue 14 may'; the year is added when it differs from `today`'s.
std::string show_day(Date, Date today, const Words&);
/// 'Thu 14 May 2026'.
std::string show_full_day(Date, const Words&);
/// '14 May' without the weekday, with the year when it differs from `today`'s.
std::string show_short_day(Date, Date today, const Words&);
/// 'today', 'yesterday', 'tomorrow', within six days the weekday ('Fri'), else show_day.
std::string show_near_day(Date, Date today, const Words&);
/// 'Fri 6:46 pm'; for today the clock alone; further off 'Thu 14 May, 6:46 pm'.
std::string show_when(LocalTime, Date today, Clock, const Words&);
/// '14 May 2026, 6:46 pm'-like with weekday and year: for papers.
std::string show_full_when(LocalTime, Clock, const Words&);

/// '45 s', '20 min', '1 h 20 min', '3 d 4 h'; two parts at most, rounded to the smaller.
std::string show_duration(Duration, const Words&);
/// Signed civil days: 'today', 'in 3 days', '2 days ago'.
std::string show_days_from(Date then, Date today, const Words&);

}  // namespace steep
