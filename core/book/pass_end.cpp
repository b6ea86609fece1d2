#include "book/pass_end.h"

#include <algorithm>

#include "book/bed_states.h"
#include "book/checks.h"
#include "book/doubts.h"
#include "book/entry.h"
#include "book/pass_parts.h"
#include "book/rows.h"
#include "book/saves.h"
#include "book/tables.h"
#include "book/wait_rules.h"

namespace steep {
namespace {

void add_sums(EndSheet& sheet) {
  const PassState& state = sheet.state;
  double area = 0, spray = 0, tea = 0, in = 0, tea_in = 0;
  bool area_known = true, spray_known = true, tea_known = true, in_known = true, tea_in_known = true;
  sheet.is_estimate = false;
  for (const LoadSheet& load : state.loads) {
    ++sheet.loads;
    // What stayed from the load before is in `held`, but did not go in twice.
    in_known = in_known && load.load.water && (load.load.tea || load.load.brew.is_nil());
    tea_in_known = tea_in_known && (load.load.tea || load.load.brew.is_nil());
    in += load.load.tea.value_or(Volume{}).si() + load.load.water.value_or(Volume{}).si();
    tea_in += load.load.tea.value_or(Volume{}).si();
    for (std::size_t i = 0; i < load.doses.size(); ++i) {
      const Dose& dose = load.doses[i];
      if (dose.is_skipped()) continue;
      sheet.length += dose.stretch().length();
      area_known = area_known && dose.width;
      area += dose.area().si();
      const ShownVolume& volume = load.volumes[i];
      sheet.is_estimate = sheet.is_estimate || volume.is_estimate();
      spray_known = spray_known && volume.spray;
      tea_known = tea_known && volume.tea;
      spray += volume.spray.value_or(Volume{}).si();
      tea += volume.tea.value_or(Volume{}).si();
    }
  }
  if (area_known) sheet.area = Area::from_si(area);
  if (spray_known) sheet.spray = Volume::from_si(spray);
  if (tea_known) sheet.tea = Volume::from_si(tea);
  if (in_known) sheet.went_in = Volume::from_si(in);
  if (tea_in_known) sheet.tea_in = Volume::from_si(tea_in);
}

Result<void> add_habits(const Book& book, EndSheet& sheet) {
  const Pass& pass = sheet.state.pass;
  Query places = book.db().query(
      "SELECT d.where_place, max(COALESCE(d.at, d.made_ms)) AS last FROM k_discard d WHERE d.struck IS NULL AND "
      "d.where_place IS NOT NULL GROUP BY d.where_place ORDER BY last DESC LIMIT 4");
  std::vector<Id> ids;
  while (places.next()) ids.push_back(places.id(0));
  TRY(places.done());
  for (const Id& id : ids) sheet.poured_before.emplace_back(id, record_name(book, id));
  TRY_ASSIGN(sheet.wash_methods, wash_methods(book, pass.rig));
  return {};
}

/// The wait of each bed from its own last finish in this pass.
Result<void> add_waits(const Book& book, EndSheet& sheet) {
  const PassState& state = sheet.state;
  TRY_ASSIGN(const Doubts& doubts, Doubts::read(book));
  TRY_ASSIGN(const auto& known, kept_places(book, state.farm.id, state.farm.day(state.pass.start.at)));
  const Places& places = *known;
  TRY_ASSIGN(const WaitRules& rules, WaitRules::read(book, state.farm, doubts, places.same, state.pass.id));
  for (const PassBed& row : state.beds) {
    if (!row.finish) continue;
    const bool shared = places.same.is_shared(row.bed);
    std::vector<Treatment> entries;
    std::vector<Hold> harvests;
    std::vector<std::string> crops;
    for (const Planting* planting : places.crops_of(row.bed)) crops.push_back(planting->crop);
    if (crops.empty()) crops.emplace_back();
    for (const LoadSheet& load : state.loads)
      for (const Dose& dose : load.doses) {
        if (dose.bed != row.bed || dose.is_skipped() || !dose.finish) continue;
        const TankFacts& tank = rules.tank(dose.load);
        Treatment entry;
        entry.finishes = {dose.finish->at};
        entry.entry = rules.entry(tank);
        entries.push_back(std::move(entry));
        for (const std::string& crop : crops) {
          Treatment harvest;
          harvest.finishes = {dose.finish->at};
          harvest.harvest = rules.harvest(tank, crop, shared);
          harvests.push_back(rules.harvest_hold({harvest}, shared));
        }
      }
    WaitStarted wait{row.bed, row.name, *row.finish, latest_hold(harvests), rules.entry_hold(entries)};
    if (wait.harvest.state != Hold::State::None || wait.entry.state != Hold::State::None)
      sheet.waits.push_back(std::move(wait));
  }
  return {};
}

}  // namespace

Result<EndSheet> end_sheet(const Book& book, const Id& pass, Moment now) {
  EndSheet sheet;
  TRY_ASSIGN(sheet.state, pass_state(book, pass, {}, now));
  const PassState& state = sheet.state;
  for (const PassBed& bed : state.beds) {
    sheet.beds += bed.progress == BedProgress::Done || bed.progress == BedProgress::Part;
    sheet.part += bed.progress == BedProgress::Part;
    sheet.skipped += bed.progress == BedProgress::Skipped;
    sheet.open_beds += !bed.open.empty();
  }
  add_sums(sheet);
  // What the tank should still hold by the rate, at least what the pump cannot reach.
  sheet.left = state.tank.dead;
  if (state.tank.left)
    sheet.left = std::max(*state.tank.left, std::min(state.tank.dead, state.tank.in_full.value_or(state.tank.dead)));
  TRY(add_habits(book, sheet));
  TRY(add_waits(book, sheet));
  StartChoices choices;
  choices.farm = state.farm.id;
  const Weather& start = state.pass.weather_start;
  if (!start.is_empty()) {
    Rows rows(book, "pass", "WHERE uid = ?");
    rows.query().bind(1, pass);
    if (rows.next()) {
      WeatherGiven weather;
      weather.wind = rows.written("weather_start.wind").maybe();
      weather.temperature = rows.written("weather_start.temperature").maybe();
      weather.direction = start.direction;
      weather.sky = start.sky;
      weather.where = start.where;
      sheet.last_weather = std::move(weather);
    }
    TRY(rows.done());
  }
  return sheet;
}

namespace {

/// Closes the load that is in the tank, and says where what was left of it went.
Result<void> close_load(const Book& book, const PassState& state, const EndRequest& request, Stamp finish,
                        std::vector<Save>& saves) {
  std::optional<Written> left = request.left;
  if (request.where == LeftOver::NothingLeft)
    left = write_quantity(0.0, left ? *left->unit : unit(state.farm.units == System::Metric ? "L" : "gal"));
  TRY_ASSIGN(Save close, change_save(book, state.tank.load,
                                     {quantity_or_not_taken("left", left), instant_value("closed", finish)}));
  saves.push_back(std::move(close));
  const bool elsewhere = request.where == LeftOver::PouredElsewhere, on = request.where == LeftOver::PouredOn;
  if ((!on && !elsewhere) || (left && left->amount.is_zero())) return {};
  std::vector<FieldValue> fields{reference_value("of", state.tank.load), quantity_or_not_taken("volume", left)};
  if (on && request.place.is_nil()) return refuse(Trouble::BadInput, "pass.poured-where"_w, {}, "where.place");
  if (elsewhere && clean_text(request.place_words).empty())
    return refuse(Trouble::BadInput, "pass.poured-where"_w, {}, "where.words");
  if (on)
    add_reference(fields, "where.place", request.place);
  else
    add_text(fields, "where.words", request.place_words);
  fields.push_back(instant_value("at", finish));
  saves.push_back(new_save(book, "discard", std::move(fields)));
  return {};
}

Result<Save> wash_save(const Book& book, const PassState& state, const EndRequest& request, Stamp finish,
                       const Going& going) {
  std::vector<FieldValue> wash{reference_value("of", state.pass.rig)};
  std::string held = state.tank.brew_code.empty() ? std::string() : "brew " + state.tank.brew_code;
  TRY_ASSIGN(const TankHistory& history, rig_history(book, state.pass.rig, book.now().at));
  if (!history.held.empty()) held += (held.empty() ? "" : ", ") + history.held;
  add_text(wash, "held", held);
  add_text(wash, "how.method", request.wash_method);
  if (request.rinsed) wash.push_back(yes_no_value("rinsed", *request.rinsed));
  add_reference(wash, "by", going.person);
  wash.push_back(instant_value("at", finish));
  return new_save(book, "wash", std::move(wash));
}

}  // namespace

Result<Outcome> end_pass(Book& book, const EndRequest& request, const Going& going) {
  const Stamp now = book.now();
  TRY_ASSIGN(const PassState& state, pass_state(book, request.pass, {}, now.at));
  if (state.is_ended) return refuse(Trouble::BadInput, "pass.ended"_w, {code_value_text("pass", state.code)});
  const Stamp finish = request.finish ? stamp_of(book, *request.finish) : now;
  if (finish.at < state.pass.start.at) return refuse(Trouble::BadInput, "check.finish-before-start"_w, {}, "finish");
  Cautions asked(going);
  TRY(asked.ask(check_left(request.left, state.tank.in_full)));
  std::vector<Caution> cautions = asked.take();
  if (request.where != LeftOver::NothingLeft) check_left_by_rate(state.tank, request.left, Volume{}, cautions);

  std::vector<Save> saves;
  if (!state.tank.load.is_nil()) TRY(close_load(book, state, request, finish, saves));
  std::vector<FieldValue> fields{instant_value("finish", finish)};
  add_weather(fields, "weather_finish", request.weather);
  TRY_ASSIGN(Save end, change_save(book, request.pass, std::move(fields)));
  saves.push_back(std::move(end));
  if (request.washed && !state.pass.rig.is_nil()) {
    TRY_ASSIGN(Save wash, wash_save(book, state, request, finish, going));
    saves.push_back(std::move(wash));
  }
  return write_with(book, std::move(saves), request.pass, std::move(cautions), going);
}

}  // namespace steep
