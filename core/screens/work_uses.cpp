#include "screens/work_uses.h"

#include <algorithm>

#include "base/text.h"
#include "book/brew_commands.h"
#include "book/pass_state.h"
#include "book/tables.h"
#include "book/things.h"
#include "book/today.h"
#include "book/told.h"
#include "quantity/unit.h"
#include "screens/amounts.h"
#include "screens/brew_figure.h"
#include "screens/counted.h"
#include "screens/fact_text.h"
#include "screens/work_result.h"

namespace steep {
namespace {

struct Found {
  const Surroundings& around;
  const Calculation& calculation;
  const Inputs& inputs;
  const Answer& answer;
};
using Uses = std::vector<WorkUse>;

/// A volume among the results, in the unit of tanks; empty when it is not there.
std::string volume_text(const Found& found, std::string_view name) {
  const ResultValue* result = find_result(found.answer, name);
  return result ? write_quantity(Volume::from_si(si_of(result->number, unit(result->spec->unit))),
                                 tank_unit(found.around.units), 2)
                      .text
                : std::string();
}

std::string rate_text(const ResultValue& rate, const UnitsShown& units) {
  return write_quantity(VolumePerArea::from_si(si_of(rate.number, unit(rate.spec->unit))),
                        unit(units.system == System::Metric ? "L/ha" : "gal/acre"), 2)
      .text;
}

void fill(DraftFields& form, std::string_view key, std::string value) {
  if (!value.empty()) form.emplace(key, std::move(value));
}

// ---- A calibration of a rig ----

Do keep_calibration(const EnterFields& fields, const Id& farm) {
  Do ask;
  ask.what = [fields, farm](Book& book, const Going& going) {
    EnterAs as;
    as.farm = farm;
    return enter(book, "calibration", fields, as, going);
  };
  ask.then = [](const Outcome& outcome) -> std::optional<Ask> { return Go{{"record", outcome.record}}; };
  return ask;
}

Result<void> for_a_rig(const Found& found, Uses& uses) {
  const Words& words = found.around.words;
  TRY_ASSIGN(const std::vector<Rig>& all, rigs(found.around.book));
  const bool walks = found.calculation.name == "course";
  WorkUse use{walks ? "walk-it" : "calibration", {}, words("work.which_rig"_w), walks ? Icon::Walk : Icon::Spray, {}};
  for (const Rig& rig : all) {
    if (walks)
      use.options.push_back({rig.name, {}, Go{{"calibration", rig.id}}});
    else
      use.options.push_back({rig.name,
                             {},
                             keep_calibration(calibration_fields(found.around, rig.id, found.inputs, found.answer, {}),
                                              found.around.farm)});
  }
  if (use.options.empty()) return {};
  const bool one = use.options.size() == 1;
  use.text = walks ? one ? words("work.walk_with"_w, {use.options.front().first}) : words("work.walk_it"_w)
             : one ? words("work.keep_for"_w, {use.options.front().first})
                   : words("work.keep_for_rig"_w);
  uses.push_back(std::move(use));
  return {};
}

// ---- A pass: its start, or the refill of the one that is open ----

Result<void> for_a_pass(const Found& found, Uses& uses) {
  const Words& words = found.around.words;
  DraftFields form;
  const bool loads = found.calculation.name == "loads";
  fill(form, "tea", volume_text(found, loads ? "load-1-add-tea" : "tea"));
  fill(form, "water", volume_text(found, loads ? "load-1-add-water" : "water"));
  if (form.empty()) return {};  // Two readings: nothing is chosen yet.
  TRY_ASSIGN(const std::optional<Id>& open, open_pass(found.around.book));
  if (open) {
    TRY_ASSIGN(const PassState& state, pass_state(found.around.book, *open, {}, found.around.now));
    const Id bed = state.hand() ? state.hand()->bed : Id{};
    uses.push_back({"refill",
                    words("work.for_refill"_w, {state.code}),
                    {},
                    Icon::WaterPump,
                    {{{}, {}, Go{{"refill", *open, bed}, false, form}}}});
    return {};
  }
  if (found.around.farm.is_nil()) return {};
  for (const char* name : {"tea-rate", "spray-rate"})
    if (const ResultValue* rate = find_result(found.answer, name))
      fill(form, name, rate_text(*rate, found.around.units));
  uses.push_back({"pass", words("work.for_pass"_w), {}, Icon::Spray, {{{}, {}, Go{{"start-pass"}, false, form}}}});
  return {};
}

// ---- A brew: what goes in, or a reading of it ----

Result<void> for_a_new_brew(const Found& found, Uses& uses) {
  DraftFields form;
  fill(form, "fill", volume_text(found, found.calculation.name == "plan" ? "vessel-1-fill" : "fill"));
  if (form.empty()) return {};
  // Exact amounts go to the lot of that name; a range is for the person to choose from.
  TRY_ASSIGN(const std::vector<Lot>& all, lots(found.around.book));
  int number = 0;
  for (const Value* line : found.inputs.all("line")) {
    ++number;
    if (line->columns.size() < 2 || !line->columns[0] || !line->columns[1] || line->columns[2]) continue;
    const Unit& written = *line->columns[1]->written->unit;
    const std::string stem = "line-" + std::to_string(number) + "-low-";
    const ResultValue* amount =
        find_result(found.answer, stem + (written.dimension == Dimension::Mass ? "weight" : "volume"));
    const auto lot = std::find_if(all.begin(), all.end(),
                                  [&](const Lot& one) { return lower(one.name()) == lower(line->columns[0]->text); });
    if (amount && lot != all.end())
      form["lot:" + lot->id.text()] =
          write_quantity(amount_in(si_of(amount->number, unit(amount->spec->unit)), written), written).text;
  }
  uses.push_back(
      {"brew", found.around.words("work.for_brew"_w), {}, Icon::Brew, {{{}, {}, Go{{"start-brew"}, false, form}}}});
  return {};
}

/// 'Write 7.1 mg/L as a reading of Brew 31': the oxygen that was measured.
Result<void> for_a_reading(const Found& found, Uses& uses) {
  const Value* oxygen = found.inputs.find("oxygen");
  if (!oxygen || !oxygen->written || found.around.farm.is_nil()) return {};
  const Words& words = found.around.words;
  const std::string shown = show(*oxygen->written, found.around.units, words);
  TRY_ASSIGN(const BedStates* states, found.around.beds.get(found.around.book, found.around.farm, found.around.now));
  TRY_ASSIGN(const Today& today, read_today(found.around.book, *states, found.around.person, found.around.now));
  WorkUse use{"reading", words("work.as_reading"_w, {shown}), words("work.which_brew"_w), Icon::Fish, {}};
  for (const RunningBrew& brew : today.brews) {
    ReadingGiven given;
    given.of = brew.sheet.brew.id;
    given.quantity = "oxygen";
    given.value = *oxygen->written;
    Do ask{[given](Book& book, const Going& going) { return add_reading(book, given, going); }};
    ask.then = [of = given.of](const Outcome&) -> std::optional<Ask> { return Go{{"brew-page", of}}; };
    use.options.push_back({brew_title(brew.sheet, words), {}, std::move(ask)});
    if (given.of == found.around.record) {  // Opened from this brew: no question which.
      use.options = {std::move(use.options.back())};
      break;
    }
  }
  if (use.options.empty()) return {};
  if (use.options.size() == 1) use.text = words("work.as_reading_of"_w, {shown, use.options.front().first});
  uses.push_back(std::move(use));
  return {};
}

// ---- A count ----

/// Of the record it was opened from; else of a brew, lot or water that the person names.
Result<std::vector<std::pair<Id, std::string>>> countable(const Found& found) {
  const Book& book = found.around.book;
  const std::string kind = book.kind_of(found.around.record);
  std::vector<std::pair<Id, std::string>> all;
  if (kind == "brew" || kind == "lot" || kind == "water-source")
    return std::vector{std::pair(found.around.record, record_title(found.around, found.around.record))};
  if (!found.around.farm.is_nil()) {
    TRY_ASSIGN(const BedStates* states, found.around.beds.get(book, found.around.farm, found.around.now));
    TRY_ASSIGN(const Today& today, read_today(book, *states, found.around.person, found.around.now));
    for (const RunningBrew& brew : today.brews)
      all.emplace_back(brew.sheet.brew.id, brew_title(brew.sheet, found.around.words));
  }
  TRY_ASSIGN(const std::vector<WaterSource>& waters, water_sources(book));
  for (const WaterSource& water : waters) all.emplace_back(water.id, water.name);
  TRY_ASSIGN(const std::vector<Lot>& known, lots(book));
  for (const Lot& lot : known) all.emplace_back(lot.id, lot.name());
  return all;
}

Result<void> for_a_count(const Found& found, Uses& uses) {
  const auto given = count_given(found.calculation, found.inputs, found.answer);
  if (!given) return {};
  TRY_ASSIGN(const auto& all, countable(found));
  const Book& book = found.around.book;
  const Words& words = found.around.words;
  WorkUse use{"count", words("work.as_count"_w), words("work.which_counted"_w), Icon::Microscope, {}};
  for (const auto& [id, name] : all) {
    CountGiven count = *given;
    count.of = id;
    Do ask{[count](Book& into, const Going& going) { return add_count(into, count, going); }};
    // Both pages list it.
    ask.then = [id = id,
                page = book.kind_of(id) == "brew" ? "brew-page" : "record"](const Outcome&) -> std::optional<Ask> {
      return Go{{page, id}};
    };
    use.options.push_back({name, {}, std::move(ask)});
  }
  if (use.options.empty()) return {};
  if (use.options.size() == 1) use.text = words("work.as_count_of"_w, {use.options.front().first});
  uses.push_back(std::move(use));
  return {};
}

// ---- Whatever it is ----

Result<void> for_the_record(const Found& found, Uses& uses) {
  if (found.around.record.is_nil()) return {};
  TRY_ASSIGN(const auto& record, found.around.book.record(found.around.record));
  if (!record) return {};
  const Words& words = found.around.words;
  const std::string name = kind_and_name(record->kind, record_name(found.around.book, found.around.record), words);
  Do ask{[of = found.around.record, text = answer_text(found.calculation, found.answer, found.around)](
             Book& book, const Going& going) { return add_note(book, of, text, going); }};
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  uses.push_back({"note", words("work.as_note"_w, {name}), {}, Icon::Note, {{{}, {}, std::move(ask)}}});
  return {};
}

struct Kind {
  std::string_view calculation;
  Result<void> (*uses)(const Found&, Uses&);
};
constexpr Kind kKinds[] = {{"calibrate", for_a_rig},  {"course", for_a_rig},      {"loads", for_a_pass},
                           {"ratio", for_a_pass},     {"recipe", for_a_new_brew}, {"plan", for_a_new_brew},
                           {"oxygen", for_a_reading}, {"fields", for_a_count},    {"plates", for_a_count},
                           {"mpn", for_a_count},      {"gm", for_a_count}};

}  // namespace

const ResultValue* find_result(const Answer& answer, std::string_view name) {
  for (const ResultValue& result : answer.results)
    if (result.name == name) return &result;
  return nullptr;
}

EnterFields calibration_fields(const Surroundings& around, const Id& rig, const Inputs& inputs, const Answer& answer,
                               std::string_view pressure) {
  EnterFields fields{{"rig", rig.text()}, {"date", date_text(around.today)}};
  const bool nozzle_flow = inputs.find("flow") != nullptr;
  const std::vector<const Value*> nozzles = inputs.all("nozzle"), catches = inputs.all("catch");
  fields.emplace_back("result.method", nozzle_flow             ? "nozzle-catch"
                                       : inputs.find("refill") ? "refill"
                                                               : "walk-and-catch");
  const ResultValue* pace = find_result(answer, "pace");
  const Value* time = inputs.find("time");
  const std::string seconds = pace ? " " + decimal(pace->number, 1) + " s" : time ? " " + time->text : "";
  std::vector<std::string> list;
  for (const Value* one : nozzles.empty() ? catches : nozzles) list.push_back(one->text + seconds);
  if (!list.empty()) fields.emplace_back("result.catches", join(list, ","));
  for (const char* name : {"course", "swath"})
    if (const Value* value = inputs.find(name)) fields.emplace_back(std::string("result.") + name, value->text);
  if (const ResultValue* speed = find_result(answer, "speed"))
    fields.emplace_back("result.speed", write_quantity(speed->number, unit(speed->spec->unit), 2).text);
  else if (const Value* given = inputs.find("speed"))
    fields.emplace_back("result.speed", given->text);
  if (!pressure.empty()) fields.emplace_back("result.pressure", std::string(pressure));
  const ResultValue* bed_top = find_result(answer, "rate-bed-top");
  const ResultValue* rate = bed_top ? bed_top : find_result(answer, "rate-swath");
  if (rate) fields.emplace_back("result.rate", rate_text(*rate, around.units));
  fields.emplace_back("result.area", bed_top ? "bed-top" : "swath");
  if (!around.person.is_nil()) fields.emplace_back("by", around.person.text());
  return fields;
}

std::string answer_text(const Calculation& calculation, const Answer& answer, const Surroundings& around) {
  std::vector<std::string> lines{around.words(calculation.title)};
  for (const ResultValue* result : results_to_read(answer, around.units, around.words))
    lines.push_back(result_label(*result, around.words) + ": " + result_reading(*result, around).text());
  for (const Remark& note : answer.notes)
    if (note.tone == Remark::Tone::Caution) lines.push_back(around.words(note.word, note.values));
  return join(lines, "\n");
}

Result<std::vector<WorkUse>> work_uses(const Surroundings& around, const Calculation& calculation, const Inputs& inputs,
                                       const Answer& answer) {
  const Found found{around, calculation, inputs, answer};
  Uses uses;
  if (around.book.is_started())
    for (const Kind& kind : kKinds)
      if (kind.calculation == calculation.name) TRY(kind.uses(found, uses));
  TRY(for_the_record(found, uses));
  uses.push_back({"copy",
                  around.words("work.copy"_w),
                  {},
                  Icon::Clipboard,
                  {{{}, {}, CopyText{answer_text(calculation, answer, around)}}}});
  return uses;
}

}  // namespace steep
