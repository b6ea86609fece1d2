#pragma once
/// Tea or extract? Not a name but a time: minutes from compost meeting water to a dose's finish.
///
/// Answers for one dose, never for a brew: the first beds of a load may be extract and the last
/// ones tea. What a recipe calls the liquid decides nothing.
///
/// Source:   [NOSB-2004] Compost Tea Task Force Report, 6 April 2004: an extract is held no more than
///           1 hour before application (from memory); [CFR-112.3] 21 CFR 112.3, definition of
///           'agricultural tea': held longer than 1 hour before application.
/// Formula:  extract when finish − met water <= 60 min, tea when longer.
/// Changes:  a part of a minute counts as a whole one, so 60 min 30 s is shown as 61 and is tea.
/// Limits:   a line drawn by rules, not by biology. Without both times the cautious reading is tea.
/// Accuracy: exact on the recorded milliseconds.

#include <cstdint>

#include "base/moment.h"
#include "base/result.h"

namespace steep {

constexpr std::int64_t kExtractMinutes = 60;      ///< The last minute that is still extract.
constexpr std::int64_t kExtractWarnMinutes = 50;  ///< From here on a person is told that time runs out.

enum class Liquid {
  Extract,
  ExtractSoonTea,  ///< Still extract, 50 to 60 minutes gone: say so.
  Tea,
};

struct TeaTime {
  std::int64_t minutes = 0;  ///< Started minutes since compost met water.
  Liquid liquid = Liquid::Tea;
};

/// The time in water of a dose that finished at `finish`.
/// Trouble: BadInput  `finish` is earlier than `met_water`.
Result<TeaTime> tea_time(Moment met_water, Moment finish);

/// The moment at which an extract becomes tea: the last one at which a dose may finish as extract.
constexpr Moment extract_until(Moment met_water) { return met_water + kExtractMinutes * kMinute; }

}  // namespace steep
