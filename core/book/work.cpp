#include "book/work.h"

#include <algorithm>
#include <cmath>

#include "book/codes.h"
#include "book/places.h"
#include "book/rows.h"
#include "book/same_ground.h"

namespace steep {
namespace {

void read_row(Rows& rows, Brew& brew) {
  brew.number = rows.number("number");
  brew.recipe = rows.reference("recipe");
  brew.vessel = rows.reference("vessel");
  brew.water = rows.reference("water");
  brew.target = rows.reference("target");
  brew.fill = rows.quantity<Volume>("fill");
  brew.fill_typed = rows.written("fill");
  brew.treatment = rows.text("treatment.how");
  brew.treatment_from = rows.instant("treatment.from");
  brew.treatment_to = rows.instant("treatment.to");
  brew.met_water = rows.instant("met_water");
  brew.air_on = rows.instant("air_on");
  brew.air_off = rows.instant("air_off");
  brew.verdict = rows.text("verdict.word");
  brew.verdict_by = rows.reference("verdict.by");
  brew.verdict_why = rows.text("verdict.why");
  brew.verdict_at = rows.instant("verdict.at");
}
void read_row(Rows& rows, BrewLine& line) {
  line.brew = rows.reference("brew");
  line.lot = rows.reference("amount.lot");
  line.amount = rows.written("amount.amount");
}
void read_row(Rows& rows, BrewEvent& event) {
  event.brew = rows.reference("brew");
  event.what = rows.text("what");
  event.at = rows.instant("at");
  event.amount = rows.written("amount");
  event.note = rows.text("note");
}
void read_row(Rows& rows, Reading& reading) {
  reading.of = rows.reference("of");
  reading.quantity = rows.text("quantity");
  reading.value = rows.written("value.value");
  reading.number = rows.number("value.value");
  if (!reading.value && !reading.number) reading.word = rows.text("value.value");
  reading.not_taken = rows.taken_text("value.value").is_not_taken();
  reading.instrument = rows.text("value.instrument");
  reading.at = rows.instant("at");
  reading.checked = rows.date("checked");
}
Weather read_weather(Rows& rows, std::string_view group) {
  const auto key = [&](std::string_view field) { return std::string(group) + '.' + std::string(field); };
  Weather weather;
  weather.wind = rows.quantity<Speed>(key("wind"));
  weather.direction = rows.text(key("direction"));
  weather.temperature = rows.quantity<Temperature>(key("temperature"));
  weather.sky = rows.text(key("sky"));
  weather.where = rows.text(key("where"));
  weather.not_taken = weather.wind.is_not_taken() && weather.is_empty();
  return weather;
}
void read_row(Rows& rows, Pass& pass) {
  pass.farm = rows.reference("farm");
  pass.number = rows.number("number");
  pass.rig = rows.reference("rig");
  pass.calibration = rows.reference("calibration");
  const std::string aim = rows.text("aim");
  pass.aim = aim == "soil" ? Aim::Soil : aim == "drench" ? Aim::Drench : Aim::Leaf;
  pass.people = rows.ids("people");
  pass.start = rows.instant("start").value_or(pass.made);
  pass.finish = rows.instant("finish");
  pass.weather_start = read_weather(rows, "weather_start");
  pass.weather_finish = read_weather(rows, "weather_finish");
  pass.tea_rate = rows.quantity<VolumePerArea>("rates.tea");
  pass.spray_rate = rows.quantity<VolumePerArea>("rates.spray");
  pass.rate_area = rows.text("rates.area") == "swath" ? RateArea::Swath : RateArea::BedTop;
  pass.walk = rows.text("walk.way") == "turn" ? Walk::TurnAtEachBed : Walk::SameEnd;
  pass.from_far_end = rows.text("walk.from") == "far";
  pass.beds = rows.ids("beds");
  pass.undone = static_cast<int>(std::lround(rows.number("undone").value_or(0)));
}
void read_row(Rows& rows, Load& load) {
  load.pass = rows.reference("pass");
  load.number = static_cast<int>(std::lround(rows.number("number").value_or(0)));
  load.brew = rows.reference("mix.brew");
  load.tea = rows.quantity<Volume>("mix.tea");
  load.water_source = rows.reference("mix.source");
  load.water = rows.quantity<Volume>("mix.water");
  load.filled = rows.instant("filled");
  load.before_held = rows.taken_text("before.held");
  load.before_cleaned = rows.yes_no("before.cleaned");
  load.left = rows.quantity<Volume>("left");
  load.closed = rows.instant("closed");
}
void read_row(Rows& rows, LoadLine& line) {
  line.load = rows.reference("load");
  line.lot = rows.reference("amount.lot");
  line.amount = rows.written("amount.amount");
}
void read_row(Rows& rows, Dose& dose) {
  dose.load = rows.reference("what.load");
  dose.bed = rows.reference("what.bed");
  dose.from = rows.quantity<Length>("what.from");
  dose.to = rows.quantity<Length>("what.to");
  dose.width = rows.quantity<Length>("what.width");
  dose.volume = rows.quantity<Volume>("what.volume");
  const std::string how = rows.text("what.how");
  dose.how = how == "skipped" ? DoseHow::Skipped : how == "part" ? DoseHow::Part : DoseHow::Done;
  dose.start = rows.instant("when.start");
  dose.finish = rows.instant("when.finish");
  dose.note = rows.text("note");
  dose.settled = rows.ids("settled");
}
void read_row(Rows& rows, Discard& discard) {
  discard.of = rows.reference("of");
  discard.volume = rows.quantity<Volume>("volume");
  discard.place = rows.reference("where.place");
  discard.words = rows.text("where.words");
  discard.at = rows.instant("at");
}
void read_row(Rows& rows, PlannedWork& plan) {
  plan.what = rows.text("what");
  plan.farm = rows.reference("farm");
  plan.recipe = rows.reference("recipe");
  plan.vessel = rows.reference("vessel");
  plan.became = rows.reference("became");
  plan.rig = rows.reference("rig");
  plan.water = rows.reference("water");
  const std::string aim = rows.text("aim");
  if (!aim.empty()) plan.aim = aim == "leaf" ? Aim::Leaf : aim == "soil" ? Aim::Soil : Aim::Drench;
  for (const std::string& item : rows.list("lines")) {
    const auto space = item.find(' ');
    if (space == std::string::npos) continue;
    const auto of = Id::parse(std::string_view(item).substr(0, space));
    const auto amount = parse_written(std::string_view(item).substr(space + 1));
    if (of && amount) plan.lines.push_back({*of, *amount});
  }
  plan.brews = rows.ids("brews");
  plan.volume_typed = rows.written("volume");
  plan.tea_rate_typed = rows.written("rates.tea");
  plan.spray_rate_typed = rows.written("rates.spray");
  plan.at = rows.instant("at");
  plan.water_from = rows.instant("water_from");
  plan.beds = rows.ids("beds");
  plan.volume = rows.quantity<Volume>("volume");
  plan.tea_rate = rows.quantity<VolumePerArea>("rates.tea");
  plan.spray_rate = rows.quantity<VolumePerArea>("rates.spray");
  plan.rate_area = rows.text("rates.area") == "swath" ? RateArea::Swath : RateArea::BedTop;
  plan.not_done = rows.text("not_done");
}
void read_row(Rows& rows, Note& note) {
  note.of = rows.reference("of");
  note.text = rows.text("text");
  note.at = rows.instant("at");
}

template <class T>
Result<T> one(const Book& book, std::string_view kind, const Id& id) {
  return read_one<T>(book, kind, id, "thing.not-here"_w, [](Rows& r, T& record) { read_row(r, record); });
}

template <class T>
Result<std::vector<T>> read_rows(Rows& rows) {
  return read_all<T>(rows, [](Rows& r, T& record) { read_row(r, record); });
}

template <class T>
Result<std::vector<T>> under(const Book& book, std::string_view kind, std::string_view column, const Id& parent,
                             std::string_view order, Struck struck = Struck::LeaveOut) {
  Rows rows(book, kind,
            "WHERE \"" + std::string(column) + "\" = ?" + (struck == Struck::LeaveOut ? " AND struck IS NULL" : "") +
                " ORDER BY " + std::string(order));
  rows.query().bind(1, parent);
  return read_rows<T>(rows);
}

std::string name_of(const Book& book, std::string_view kind, const Id& id) {
  if (id.is_nil()) return {};
  Query query = book.db().query("SELECT name FROM " + wide_name(kind) + " WHERE uid = ?");
  query.bind(1, id);
  std::string name;
  if (query.next()) name = query.text(0);
  (void)query.done();
  return name;
}

}  // namespace

Stretch Dose::stretch() const {
  if (!from || !to) return {};
  return *from <= *to ? Stretch{*from, *to} : Stretch{*to, *from};
}

Area Dose::area() const { return width ? stretch().length() * *width : Area{}; }

Result<Brew> read_brew(const Book& book, const Id& id) { return one<Brew>(book, "brew", id); }
Result<Pass> read_pass(const Book& book, const Id& id) { return one<Pass>(book, "pass", id); }
Result<Load> read_load(const Book& book, const Id& id) { return one<Load>(book, "load", id); }
Result<Dose> read_dose(const Book& book, const Id& id) { return one<Dose>(book, "dose", id); }
Result<PlannedWork> read_plan(const Book& book, const Id& id) { return one<PlannedWork>(book, "plan", id); }

namespace {

/// A weight or a length that somebody wrote there is in no balance of volumes.
Result<Volume> topped_up(const Book& book, const Id& brew) {
  Query query = book.db().query("SELECT amount FROM k_event WHERE struck IS NULL AND brew = ? AND what = 'topped-up'");
  query.bind(1, brew);
  Volume sum;
  while (query.next()) {
    const auto amount = parse_written(query.text(0));
    if (amount && amount->dimension() == Dimension::Volume) sum += as<Volume>(*amount);
  }
  TRY(query.done());
  return sum;
}

}  // namespace

Result<BrewBalance> read_brew_balance(const Book& book, const Id& id) {
  BrewBalance balance;
  TRY_ASSIGN(const Brew& brew, read_brew(book, id));
  balance.filled = brew.fill;
  TRY_ASSIGN(const Volume topped, topped_up(book, id));
  if (balance.filled) balance.filled = *balance.filled + topped;

  Query loads = book.db().query("SELECT l.mix_tea_si, l.uid FROM k_load l WHERE l.struck IS NULL AND l.mix_brew = ?");
  loads.bind(1, id);
  while (loads.next()) {
    ++balance.loads;
    if (loads.is_null(0)) {
      balance.volume_missing = true;
    } else {
      balance.loaded += Volume::from_si(loads.real(0));
    }
  }
  TRY(loads.done());
  Query poured = book.db().query("SELECT volume_si FROM k_discard WHERE struck IS NULL AND \"of\" = ?");
  poured.bind(1, id);
  while (poured.next()) {
    if (poured.is_null(0)) {
      balance.volume_missing = true;
    } else {
      balance.discarded += Volume::from_si(poured.real(0));
    }
  }
  TRY(poured.done());
  if (balance.filled) balance.left = *balance.filled - balance.loaded - balance.discarded;
  return balance;
}

Result<BrewSheet> read_brew_sheet(const Book& book, const Id& id) {
  BrewSheet sheet;
  TRY_ASSIGN(sheet.brew, read_brew(book, id));
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  sheet.code = codes.text(id);
  sheet.recipe_name = name_of(book, "recipe", sheet.brew.recipe);
  sheet.vessel_name = name_of(book, "vessel", sheet.brew.vessel);
  sheet.water_name = name_of(book, "water-source", sheet.brew.water);
  sheet.verdict_by_name = name_of(book, "person", sheet.brew.verdict_by);
  TRY_ASSIGN(sheet.lines, under<BrewLine>(book, "brew-line", "brew", id, "uid"));
  for (const BrewLine& line : sheet.lines) {
    auto lot = read_lot(book, line.lot);
    sheet.lots.push_back(lot ? std::move(*lot) : Lot{});
  }
  TRY_ASSIGN(sheet.events, under<BrewEvent>(book, "event", "brew", id, "COALESCE(at, made_ms), uid"));
  TRY_ASSIGN(sheet.readings, readings(book, id));
  TRY_ASSIGN(sheet.balance, read_brew_balance(book, id));
  return sheet;
}

Result<std::vector<Brew>> brews(const Book& book, Struck struck) {
  Rows rows(book, "brew",
            struck == Struck::LeaveOut
                ? "WHERE struck IS NULL ORDER BY COALESCE(met_water, air_on, made_ms) DESC, uid DESC"
                : "ORDER BY COALESCE(met_water, air_on, made_ms) DESC, uid DESC");
  return read_rows<Brew>(rows);
}

Result<std::vector<Brew>> usable_brews(const Book& book, Moment now) {
  // A brew older than a month is not offered: it stays in the list of brews.
  Rows rows(book, "brew",
            "WHERE struck IS NULL AND verdict_word IS NOT 'do-not-use' AND COALESCE(met_water, air_on) <= ?1 AND "
            "COALESCE(met_water, air_on) > ?2 ORDER BY COALESCE(met_water, air_on) DESC, uid DESC");
  rows.query().bind(1, now.ms).bind(2, now.ms - 31 * kDay);
  TRY_ASSIGN(const std::vector<Brew>& recent, read_rows<Brew>(rows));
  std::vector<Brew> usable;
  for (const Brew& brew : recent) {
    TRY_ASSIGN(const BrewBalance& balance, read_brew_balance(book, brew.id));
    if (!balance.left || *balance.left > Volume::from_milliliters(10)) usable.push_back(brew);
  }
  return usable;
}

Result<std::vector<Brew>> ready_brews(const Book& book, const Id& recipe) {
  Rows rows(book, "brew",
            "WHERE struck IS NULL AND recipe = ? AND verdict_word = 'ready' AND verdict_at > air_on "
            "ORDER BY air_on DESC, uid DESC LIMIT 40");
  rows.query().bind(1, recipe);
  return read_rows<Brew>(rows);
}

namespace {

/// A strike takes along all that hangs on the record; a dose that came afterwards stands, and with it counts what it was sprayed
/// out of.
constexpr std::string_view kStandingDose = "d.struck IS NULL AND d.what_how IS NOT 'skipped'";

}  // namespace

Result<std::vector<Pass>> passes(const Book& book, const Id& farm, std::optional<Date> from, std::optional<Date> to,
                                 Struck struck) {
  TRY_ASSIGN(const Farm& of, read_farm(book, farm));
  const Moment first = from ? of.zone.start_of(*from) : Moment{INT64_MIN / 2};
  const Moment end = to ? of.zone.start_of(*to + 1) : Moment{INT64_MAX / 2};
  std::string where = "WHERE farm = ? AND start >= ? AND start < ?";
  if (struck == Struck::LeaveOut)
    where +=
        " AND (struck IS NULL OR EXISTS(SELECT 1 FROM k_load l JOIN k_dose d ON d.what_load = l.uid WHERE l.pass = "
        "k_pass.uid AND " +
        std::string(kStandingDose) + "))";
  Rows rows(book, "pass", where + " ORDER BY start, uid");
  rows.query().bind(1, farm).bind(2, first.ms).bind(3, end.ms);
  return read_rows<Pass>(rows);
}

namespace {

/// The newest open pass begun in one of the lanes.
template <class LaneFits>
Result<std::optional<Pass>> newest_open(const Book& book, LaneFits fits) {
  std::vector<Id> lanes;
  for (const Lane& lane : book.lanes())
    if (fits(lane)) lanes.push_back(lane.id);
  Rows rows(book, "pass", "WHERE struck IS NULL AND finish IS NULL ORDER BY start DESC, uid DESC");
  std::optional<Pass> newest;
  while (!newest && rows.next()) {
    Pass pass;
    rows.facts(pass);
    read_row(rows, pass);
    // 'Not taken' is an answer too: such a pass was ended without a time.
    if (pass.finish.is_not_taken()) continue;
    if (std::find(lanes.begin(), lanes.end(), pass.lane) != lanes.end()) newest = std::move(pass);
  }
  TRY(rows.done());
  return newest;
}

}  // namespace

Result<std::optional<Id>> open_pass(const Book& book) {
  TRY_ASSIGN(const auto& pass, newest_open(book, [](const Lane& lane) { return lane.mine; }));
  return pass ? std::optional(pass->id) : std::nullopt;
}

Result<std::optional<Id>> pass_to_go_on(const Book& book) {
  TRY_ASSIGN(const auto& open, open_pass(book));
  if (open) return open;
  TRY_ASSIGN(const auto& earlier, newest_open(book, [](const Lane& lane) { return lane.ours; }));
  const bool fresh = earlier && book.now().at - earlier->start.at < kDay;
  return fresh ? std::optional(earlier->id) : std::nullopt;
}

Result<std::vector<Load>> loads(const Book& book, const Id& pass, Struck struck) {
  std::string where = "WHERE pass = ?";
  if (struck == Struck::LeaveOut)
    where += " AND (struck IS NULL OR EXISTS(SELECT 1 FROM k_dose d WHERE d.what_load = k_load.uid AND " +
             std::string(kStandingDose) + "))";
  Rows rows(book, "load", where + " ORDER BY number_n, uid");
  rows.query().bind(1, pass);
  return read_rows<Load>(rows);
}
Result<std::vector<LoadLine>> load_lines(const Book& book, const Id& load) {
  Rows rows(
      book, "load-line",
      "WHERE load = ? AND (struck IS NULL OR EXISTS(SELECT 1 FROM k_load l JOIN k_dose d ON d.what_load = l.uid WHERE "
      "l.uid = k_load_line.load AND l.struck IS NOT NULL AND " +
          std::string(kStandingDose) + ")) ORDER BY uid");
  rows.query().bind(1, load);
  return read_rows<LoadLine>(rows);
}
Result<std::vector<Dose>> doses_of_pass(const Book& book, const Id& pass, Struck struck) {
  Rows rows(book, "dose",
            struck == Struck::LeaveOut
                ? "WHERE what_load IN (SELECT uid FROM k_load WHERE pass = ?) AND struck IS NULL ORDER BY made_ms, uid"
                : "WHERE what_load IN (SELECT uid FROM k_load WHERE pass = ?) ORDER BY made_ms, uid");
  rows.query().bind(1, pass);
  return read_rows<Dose>(rows);
}
Result<std::vector<Dose>> doses_on_bed(const Book& book, const Id& bed, Struck struck) {
  return under<Dose>(book, "dose", "what_bed", bed, "COALESCE(when_finish, made_ms), uid", struck);
}
Result<std::vector<Discard>> discards(const Book& book, const Id& of) {
  return under<Discard>(book, "discard", "of", of, "COALESCE(at, made_ms), uid");
}
Result<std::vector<Reading>> readings(const Book& book, const Id& of) {
  return under<Reading>(book, "reading", "of", of, "COALESCE(at, made_ms), uid");
}
Result<std::vector<Note>> notes(const Book& book, const Id& of) {
  return under<Note>(book, "note", "of", of, "COALESCE(at, made_ms), uid");
}
Result<std::vector<PlannedWork>> open_plans(const Book& book, const Id& farm) {
  Rows rows(
      book, "plan",
      "WHERE farm = ? AND struck IS NULL AND became IS NULL AND not_done IS NULL ORDER BY COALESCE(at, made_ms), uid");
  rows.query().bind(1, farm);
  return read_rows<PlannedWork>(rows);
}
Result<std::vector<PlannedWork>> planned_picks(const Book& book, const SameGround& ground, const Id& farm) {
  std::vector<Id> farms = ground.farms_beside(farm);
  farms.insert(farms.begin(), farm);
  std::vector<PlannedWork> picks;
  for (const Id& one : farms) {
    TRY_ASSIGN(const std::vector<PlannedWork> plans, open_plans(book, one));
    for (const PlannedWork& plan : plans)
      if (plan.what == "pick" && plan.at) picks.push_back(plan);
  }
  return picks;
}
Result<std::vector<PlannedWork>> open_brew_plans(const Book& book) {
  Rows rows(book, "plan",
            "WHERE what = 'brew' AND struck IS NULL AND became IS NULL AND not_done IS NULL ORDER BY COALESCE(at, "
            "made_ms), uid");
  return read_rows<PlannedWork>(rows);
}

}  // namespace steep
