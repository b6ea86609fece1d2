#pragma once
/// The checks between records: before a command, and over everything that a take touched.
///
/// Stop and Ask come as Problems, Warn as Cautions, what stands in the review list as Findings.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/places.h"
#include "book/tank_rest.h"
#include "book/things.h"
#include "book/work.h"
#include "quantity/written.h"

namespace steep {

// ---- One value ---------------------------------------------------------------------------------

/// Likely unit slips against what is expected: ×2.2, ×3.785, ×0.264, ×10.
std::optional<Caution> unit_slip(const Written& typed, double expected_si, std::string place);
/// A time of something done: ten years ago, or ahead of the clock by more than phones run apart.
Result<void> check_when(Moment at, Moment now, std::string_view place);
/// Ask when more is said to be left than was in the tank.
Result<void> check_left(const std::optional<Written>& left, std::optional<Volume> held);
/// A time of something intended: past, or years ahead.
Result<void> check_planned(Moment at, Moment now, std::string_view place);

// ---- Before work -------------------------------------------------------------------------------

/// A labelled product whose label lacks a crop of the bed: Stop before work, a finding after the fact. `lots`: what goes into
/// the tank, with `rest` of what may still be in it.
Result<std::vector<Problem>> label_stops(const Book& book, std::vector<Id> lots, const std::optional<TankRest>& rest,
                                         const Places& places, std::span<const Id> beds);
/// The tank was not cleaned since it held something else. `pass`: whose own loads do not count.
Result<std::vector<Caution>> tank_cautions(const Book& book, const Id& rig, const Id& brew, Moment at, const Id& pass);
/// The brew's age, its time off air, oxygen under the floor, verdict, an extract that counts as tea, more taken than is
/// left. `counted`: what the record that is corrected has taken already.
Result<std::vector<Caution>> brew_cautions(const Book& book, std::span<const FarmLimit> limits, const Id& brew,
                                           const std::optional<Volume>& tea, Moment at, Volume counted = {});
/// Wind, temperature and hours beside the farm's own limits.
std::vector<Caution> weather_cautions(const Farm& farm, std::span<const FarmLimit> limits,
                                      const std::optional<Speed>& wind, const std::optional<Temperature>& temperature,
                                      Moment at);
/// The lot expired, or more taken than is left. `counted` as above.
Result<std::vector<Caution>> lot_cautions(const Book& book, const Farm* farm, const Id& lot,
                                          const std::optional<Written>& amount, Moment at,
                                          const std::optional<Written>& counted = {});
/// The calibration's age.
Result<std::vector<Caution>> calibration_cautions(const Book& book, const Farm& farm, std::span<const FarmLimit> limits,
                                                  const Id& rig, Moment at);
/// The same bed, under any of its ids, in overlapping time by other entries: Ask.
Result<std::vector<Id>> overlapping_doses(const Book& book, const Id& bed, Stretch stretch, Moment start, Moment finish,
                                          const Id& except);

}  // namespace steep
