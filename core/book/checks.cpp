#include "book/checks.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "base/version.h"
#include "book/codes.h"
#include "book/doubts.h"
#include "book/limit_kinds.h"
#include "book/rows.h"
#include "book/spelled.h"
#include "book/wait_rules.h"
#include "trade/tea_time.h"

namespace steep {
namespace {

constexpr double kStrongWind = 15.0;  // m/s, 33 mph. Common practice, no source.
constexpr std::int64_t kClocksApart = 15 * kMinute;
constexpr std::int64_t kYear = 366 * kDay;
constexpr Id kNoPass{{1}};  // Of no tankful: where labels alone are asked about.

const FarmLimit* find_limit(std::span<const FarmLimit> limits, std::string_view which) {
  for (const FarmLimit& limit : limits)
    if (limit.which == which) return &limit;
  return nullptr;
}

/// Who decided on it.
std::string limit_by(std::span<const FarmLimit> limits, std::string_view which) {
  const FarmLimit* limit = find_limit(limits, which);
  return limit ? limit->by : std::string();
}

std::string limit_typed(std::span<const FarmLimit> limits, std::string_view which) {
  const FarmLimit* limit = find_limit(limits, which);
  return limit ? limit->typed : std::string();
}

/// The last oxygen of the brew, as it was typed.
Result<std::optional<Written>> last_oxygen(const Book& book, const Id& brew) {
  TRY_ASSIGN(const std::vector<Reading>& all, readings(book, brew));
  std::optional<Written> last;
  for (const Reading& reading : all)
    if (reading.quantity == "oxygen" && reading.value && reading.value->dimension() == Dimension::MassPerVolume)
      last = *reading.value;
  return last;
}

}  // namespace

std::optional<Caution> unit_slip(const Written& typed, double expected_si, std::string place) {
  const double amount = si(typed).to_double();
  if (expected_si <= 0 || amount <= 0) return std::nullopt;
  const double ratio = amount / expected_si;
  // Pounds and kilograms, gallons and litres, a slipped decimal mark.
  static constexpr double kSlips[] = {2.20462, 1 / 2.20462, 3.78541, 1 / 3.78541, 10, 0.1};
  for (const double slip : kSlips)
    if (std::abs(ratio / slip - 1) < 0.03)
      return Caution{"check.unit-slip"_w, {amount_value_text(typed), decimal(ratio, 2)}, std::move(place), {}};
  return std::nullopt;
}

Result<void> check_left(const std::optional<Written>& left, std::optional<Volume> held) {
  constexpr double kDrop = 1e-5;  // m³; what rounding may make of equal volumes.
  if (!left || !held || as<Volume>(*left).si() <= held->si() + kDrop) return {};
  return refuse(Trouble::Ask, "check.left-more-than-held"_w, {amount_value_text(*left), amount_value_text(*held)},
                "left");
}

Result<void> check_when(Moment at, Moment now, std::string_view place) {
  const bool clock_is_wrong = now.ms < kProgramBornMs;  // Then nothing can be held against it.
  if (at > now + kClocksApart && !clock_is_wrong)
    return refuse(Trouble::Ask, "check.in-the-future"_w, {moment_value_text(at)}, place);
  if (at < now - 10 * kYear) return refuse(Trouble::Ask, "check.long-ago"_w, {moment_value_text(at)}, place);
  return {};
}

Result<void> check_planned(Moment at, Moment now, std::string_view place) {
  const bool clock_is_wrong = now.ms < kProgramBornMs;
  if (at < now - kDay && !clock_is_wrong)
    return refuse(Trouble::Ask, "check.plan-past"_w, {moment_value_text(at)}, place);
  if (at > now + 2 * kYear) return refuse(Trouble::Ask, "check.plan-far"_w, {moment_value_text(at)}, place);
  return {};
}

Result<std::vector<Problem>> label_stops(const Book& book, std::vector<Id> lots, const std::optional<TankRest>& rest,
                                         const Places& places, std::span<const Id> beds) {
  std::vector<Problem> stops;
  if (lots.empty() && !rest) return stops;
  TRY_ASSIGN(const Doubts& doubts, Doubts::read(book));
  TRY_ASSIGN(const WaitRules& rules,
             WaitRules::read(book, places.farm, doubts, places.same, rest ? rest->pass : kNoPass));
  if (rest)
    for (const Id& lot : rules.tank(rest->load).lots) lots.push_back(lot);
  for (const Id& id : beds) {
    const Bed* bed = places.bed(id);
    if (!bed) continue;
    for (const Planting* planting : places.crops_of(id))
      for (const Id& material : rules.labels_without(lots, planting->crop))
        stops.push_back({Trouble::BadInput,
                         "check.crop-not-on-label"_w,
                         {bed->name, rules.material_name(material), planting->crop},
                         bed->name});
  }
  return stops;
}

Result<std::vector<Caution>> tank_cautions(const Book& book, const Id& rig, const Id& brew, Moment at, const Id& pass) {
  std::vector<Caution> cautions;
  TRY_ASSIGN(const Rig& of, read_rig(book, rig));
  TRY_ASSIGN(const TankHistory& history, rig_history(book, rig, at, pass));
  // Tea after the same brew is not 'something else'.
  const bool same = history.tea_only && !brew.is_nil() && history.held_brew == brew;
  if (history.is_clean() || same) return cautions;
  std::string held = history.held;
  if (held.empty() && !history.held_brew.is_nil()) {
    TRY_ASSIGN(const Codes& codes, Codes::read(book));
    held = code_value_text("brew", codes.text(history.held_brew));
  }
  if (held.empty()) held = word_value_text("check", "held-not-known");
  cautions.push_back({"check.tank-not-cleaned"_w, {of.name, held, moment_value_text(*history.held_at)}, "rig", rig});
  return cautions;
}

Result<std::vector<Caution>> brew_cautions(const Book& book, std::span<const FarmLimit> limits, const Id& brew_id,
                                           const std::optional<Volume>& tea, Moment at, Volume counted) {
  std::vector<Caution> cautions;
  TRY_ASSIGN(const Brew& brew, read_brew(book, brew_id));
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  const std::string code = code_value_text("brew", codes.text(brew_id));
  const auto add = [&](WordId word, std::vector<std::string> more, std::string_view which = {}) {
    more.insert(more.begin(), code);
    if (!which.empty()) more.push_back(limit_by(limits, which));
    cautions.push_back({word, std::move(more), "mix.brew", brew_id});
  };
  if (brew.verdict == "do-not-use")
    add("check.brew-not-to-use"_w, {person_name(book, brew.verdict_by), brew.verdict_why});
  if (brew.verdict == "hold") add("check.brew-on-hold"_w, {person_name(book, brew.verdict_by), brew.verdict_why});
  const Taken<Stamp> begun = brew.met_water ? brew.met_water : brew.air_on;
  const auto hours = [&](Moment from) { return Duration::from_milliseconds(static_cast<double>(at - from)); };
  if (const auto most = limit_si(limits, "brew-age"); most && begun && hours(begun->at).si() > *most)
    add("check.brew-too-old"_w, {amount_value_text(hours(begun->at)), amount_value_text(Duration::from_si(*most))},
        "brew-age");
  if (const auto most = limit_si(limits, "air-off"); most && brew.air_off && hours(brew.air_off->at).si() > *most)
    add("check.off-air-too-long"_w,
        {amount_value_text(hours(brew.air_off->at)), amount_value_text(Duration::from_si(*most))}, "air-off");
  if (const auto floor = limit_si(limits, "oxygen")) {
    TRY_ASSIGN(const std::optional<Written>& last, last_oxygen(book, brew_id));
    if (last && si(*last).to_double() < *floor * (1 - 1e-9))
      add("check.oxygen-under"_w, {amount_value_text(*last), limit_typed(limits, "oxygen")}, "oxygen");
  }
  std::string word;
  if (auto recipe = read_recipe(book, brew.recipe)) word = recipe->word;
  if (word == "extract" && brew.met_water && brew.met_water->at <= at) {
    if (const auto time = tea_time(brew.met_water->at, at)) {
      if (time->liquid == Liquid::ExtractSoonTea) add("check.extract-soon-tea-brew"_w, {std::to_string(time->minutes)});
      if (time->liquid == Liquid::Tea) add("check.extract-is-tea"_w, {std::to_string(time->minutes)});
    }
  }
  TRY_ASSIGN(const BrewBalance& balance, read_brew_balance(book, brew_id));
  if (tea && balance.left && tea->si() > balance.left->si() + counted.si() + 1e-5)
    add("check.brew-overdrawn"_w,
        {amount_value_text(*tea), amount_value_text(std::max(Volume{}, *balance.left + counted))});
  return cautions;
}

std::vector<Caution> weather_cautions(const Farm& farm, std::span<const FarmLimit> limits,
                                      const std::optional<Speed>& wind, const std::optional<Temperature>& temperature,
                                      Moment at) {
  std::vector<Caution> cautions;
  const auto limit_text = [&](std::string_view which) {
    const std::string typed = limit_typed(limits, which);
    const auto written = parse_written(typed);
    return written ? amount_value_text(*written) : typed;
  };
  const auto add = [&](WordId word, std::string value, std::string_view which) {
    cautions.push_back(
        {word, {std::move(value), limit_text(which), limit_by(limits, which)}, "weather_start", farm.id});
  };
  const auto speed_text = [](Speed speed) { return amount_value_text(write_quantity(speed, unit("mph"), 1)); };
  if (wind) {
    if (const auto most = limit_si(limits, "wind-high"); most && wind->si() > *most * (1 + 1e-9)) {
      add("check.wind-over"_w, speed_text(*wind), "wind-high");
    } else if (wind->si() > kStrongWind) {
      cautions.push_back({"check.wind-rare"_w, {speed_text(*wind)}, "weather_start", farm.id});
    }
    if (const auto least = limit_si(limits, "wind-low"); least && wind->si() < *least * (1 - 1e-9))
      add("check.wind-under"_w, speed_text(*wind), "wind-low");
  }
  if (temperature) {
    const auto text = amount_value_text(write_quantity(temperature->fahrenheit(), unit("degF"), 1));
    if (const auto most = limit_si(limits, "temperature-high"); most && temperature->si() > *most + 1e-9)
      add("check.temperature-over"_w, text, "temperature-high");
    if (const auto least = limit_si(limits, "temperature-low"); least && temperature->si() < *least - 1e-9)
      add("check.temperature-under"_w, text, "temperature-low");
  }
  const auto from = limit_si(limits, "hour-from"), to = limit_si(limits, "hour-to");
  if (from && to) {
    const LocalTime local = farm.zone.local(at);
    const double now = local.hour * 3600 + local.minute * 60;
    // 'From 18 to 9' runs over midnight.
    const bool inside = *from <= *to ? now >= *from && now <= *to : now >= *from || now <= *to;
    // As the clock of that day shows them.
    const auto clock_text = [&](double seconds) {
      const int minutes = static_cast<int>(seconds / 60 + 0.5);
      const auto moments = farm.zone.instants({local.date, minutes / 60 % 24, minutes % 60, 0});
      return moment_value_text(moments.empty() ? farm.zone.start_of(local.date) : moments.front());
    };
    if (!inside)
      cautions.push_back({"check.outside-hours"_w,
                          {clock_text(*from), clock_text(*to), limit_by(limits, "hour-from")},
                          "start",
                          farm.id});
  }
  return cautions;
}

Result<std::vector<Caution>> lot_cautions(const Book& book, const Farm* farm, const Id& lot_id,
                                          const std::optional<Written>& amount, Moment at,
                                          const std::optional<Written>& counted) {
  std::vector<Caution> cautions;
  if (lot_id.is_nil()) return cautions;
  TRY_ASSIGN(const Lot& lot, read_lot(book, lot_id));
  const Zone zone = farm ? farm->zone : Zone();
  if (lot.expires && *lot.expires < zone.local(at).date)
    cautions.push_back({"check.lot-expired"_w, {lot.name(), date_value_text(*lot.expires)}, "amount.lot", lot_id});
  TRY_ASSIGN(const LotBalance& balance, lot_balance(book, lot_id));
  if (amount && balance.left && balance.unit && amount->dimension() == balance.unit->dimension) {
    const auto in_own = [&](const Written& one) { return amount_in(si(one).to_double(), *balance.unit); };
    const bool of_kind = counted && counted->dimension() == balance.unit->dimension;
    const double left = *balance.left + (of_kind ? in_own(*counted) : 0);
    if (in_own(*amount) > left + 1e-9)
      cautions.push_back({"check.lot-overdrawn"_w,
                          {lot.name(), amount_value_text(*amount),
                           amount_value_text(write_quantity(std::max(0.0, left), *balance.unit))},
                          "amount.amount",
                          lot_id});
  }
  if (auto material = read_material(book, lot.material)) {
    if (material->allowed == "no" || material->allowed == "ask")
      cautions.push_back({material->allowed == "no" ? "check.material-not-allowed"_w : "check.material-ask"_w,
                          {material->name},
                          "amount.lot",
                          lot_id});
  }
  return cautions;
}

Result<std::vector<Caution>> calibration_cautions(const Book& book, const Farm& farm, std::span<const FarmLimit> limits,
                                                  const Id& rig, Moment at) {
  std::vector<Caution> cautions;
  const auto most = limit_si(limits, "calibration-age");
  if (!most) return cautions;
  TRY_ASSIGN(const Rig& of, read_rig(book, rig));
  TRY_ASSIGN(const std::optional<RigCalibration>& calibration, calibration_in_force(book, rig));
  if (!calibration) {
    cautions.push_back({"check.no-calibration"_w, {of.name}, "calibration", rig});
    return cautions;
  }
  const int age = calibration->age_days(farm.day(at), farm.zone);
  if (age * 86400.0 > *most)
    cautions.push_back({"check.calibration-old"_w,
                        {of.name, std::to_string(age), decimal(*most / 86400, 1), limit_by(limits, "calibration-age")},
                        "calibration",
                        rig});
  return cautions;
}

Result<std::vector<Id>> overlapping_doses(const Book& book, const Id& bed, Stretch stretch, Moment start, Moment finish,
                                          const Id& except) {
  TRY_ASSIGN(const SameGround& same, SameGround::read(book));
  std::vector<Dose> doses;
  for (const Id& one : same.same(bed)) {
    TRY_ASSIGN(const std::vector<Dose>& on, doses_on_bed(book, one));
    doses.insert(doses.end(), on.begin(), on.end());
  }
  std::vector<Id> found;
  for (const Dose& dose : doses) {
    if (dose.id == except || dose.is_skipped() || !dose.finish) continue;
    const Moment begin = dose.start ? std::min(dose.start->at, dose.finish->at) : dose.finish->at;
    const Moment from = std::max(begin, start), to = std::min(dose.finish->at, finish);
    const bool instant = begin == dose.finish->at || start == finish;
    if (instant ? from > to : from >= to) continue;
    const Stretch other = dose.stretch();
    const bool everywhere = other.length().si() <= 0 || stretch.length().si() <= 0;
    if (everywhere || std::min(other.to, stretch.to).si() - std::max(other.from, stretch.from).si() > 0.01)
      found.push_back(dose.id);
  }
  return found;
}

}  // namespace steep
