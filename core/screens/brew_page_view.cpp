#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"
#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/brew_page.h"
#include "screens/brews.h"
#include "screens/counted.h"

namespace steep {
namespace {

/// The kinds of the pad, in the order in which they are asked.
struct ReadingKind {
  const char* key;
  std::vector<std::string> units_us, units_metric;  ///< Stored words; empty = a bare number or a word.
  std::vector<std::string> words;
};
const std::array<ReadingKind, 6>& reading_kinds() {
  static const std::array<ReadingKind, 6> kinds{{
      {"oxygen", {"mg/L"}, {"mg/L"}, {}},
      {"smell", {}, {}, {"earthy", "sweet", "sour", "foul", "none"}},
      {"temperature", {"degF", "degC"}, {"degC", "degF"}, {}},
      {"foam", {}, {}, {"none", "low", "high", "over"}},
      {"ph", {}, {}, {}},
      {"ec", {"mS/cm", "uS/cm"}, {"mS/cm", "uS/cm"}, {}},
  }};
  return kinds;
}

void say_chart(BrewPageView& view, const RunningBrew& brew, Moment zero, const Surroundings& around) {
  const Words& words = around.words;
  double least = 1e9, most = -1e9;
  for (const Reading& reading : brew.sheet.readings) {
    if (reading.quantity != "oxygen" || !reading.value) continue;
    const double mg = as<Concentration>(*reading.value).milligrams_per_liter();
    view.oxygen.emplace_back(static_cast<double>(reading_time(reading) - zero) / kHour, mg);
    view.oxygen_text.push_back(show_number(mg, around.units, 1));
    least = std::min(least, mg);
    most = std::max(most, mg);
  }
  if (brew.oxygen_floor) {
    view.floor = *brew.oxygen_floor * 1000;  // kg/m³ to mg/L.
    view.figure_text = words("brew.farm_floor"_w, {show_number(view.floor, around.units)});
    least = std::min(least, view.floor);
    most = std::max(most, view.floor);
  }
  if (view.oxygen.empty()) return;
  view.low = std::max(0.0, std::floor((least - 1) / 2) * 2);
  view.high = std::ceil((most + 0.5) / 2) * 2;
  for (double at = view.low; at <= view.high; at += view.high - view.low > 8 ? 4 : 2) {
    view.grid.push_back(at);
    view.grid_text.push_back(show_number(at, around.units, 0));
  }
  view.chart_title = words("brew.oxygen_chart"_w);
  view.chart_spoken = words("brew.say_oxygen"_w, {std::to_string(view.oxygen.size()), view.oxygen_text.back()});
}

void say_balance(BrewPageView& view, const BrewSheet& sheet, const Surroundings& around) {
  if (!sheet.balance.filled) return;
  const Words& words = around.words;
  view.balance_head = words("brew.balance"_w);
  const std::string unit = unit_label(tank_unit(around.units), 2, words);
  const auto line = [&](WordId name, Volume volume, bool total) {
    view.balance.push_back(
        {words(name), tank_number(volume, around.units, words), words("brew.unit_tea"_w, {unit}), total});
  };
  line("brew.filled"_w, *sheet.balance.filled, false);
  line("brew.loaded"_w, sheet.balance.loaded, false);
  if (sheet.balance.discarded.si() > 0) line("brew.poured"_w, sheet.balance.discarded, false);
  const WordId left = sheet.balance.volume_missing ? "brew.left_at_most"_w : "brew.left"_w;
  if (sheet.balance.left) line(left, *sheet.balance.left, true);
}

void say_reading_sheet(BrewPageView& view, const RunningBrew& brew, const BrewPageInput& input,
                       const Surroundings& around) {
  const Words& words = around.words;
  const auto& kinds = reading_kinds();
  const auto index = static_cast<std::size_t>(std::clamp(input.kind, 0, static_cast<int>(kinds.size()) - 1));
  const ReadingKind& kind = kinds[index];
  const auto name = [&](const char* key) { return words.stored(std::string("brew.quantity.") + key, key); };
  for (const ReadingKind& k : kinds) {
    view.kinds.push_back(std::string_view(k.key) == "temperature" ? words("brew.temp"_w) : name(k.key));
    view.kind_keys.emplace_back(k.key);
  }
  for (const std::string& word : kind.words) {
    view.words.push_back(words.stored("brew.word." + word, word));
    view.word_keys.push_back(word);
  }
  const auto& units = around.units.system == System::Metric ? kind.units_metric : kind.units_us;
  for (const std::string& word : units) {
    view.units.push_back(unit_label(unit(word), 2, words));
    view.unit_keys.push_back(word);
    if (word == input.unit) view.unit_chosen = static_cast<int>(view.units.size()) - 1;
  }
  view.sheet_title = words("brew.add_reading"_w);
  view.sheet_note = around.clock(around.now);
  if (const std::string who = person_name(around.book, around.person); !who.empty()) view.sheet_note += " · " + who;
  view.pad_spoken = view.units.empty()
                        ? name(kind.key)
                        : name(kind.key) + ", " +
                              unit_spoken(unit(view.unit_keys[static_cast<std::size_t>(view.unit_chosen)]), 2, words);
  if (std::string_view(kind.key) == "oxygen") view.farm_figure = view.figure_text;
  for (const Reading& reading : brew.sheet.readings) {
    if (reading.quantity == kind.key && !reading.not_taken)
      view.last = words("brew.last"_w, {reading_value(reading, around), around.when(reading_time(reading))});
  }
  view.save = words("brew.save"_w);
  if (index + 1 < kinds.size()) view.save_second = words("brew.then"_w, {name(kinds[index + 1].key)});
  view.why_not = words("app.type_a_number"_w);
  view.note_label = words("brew.note_to_reading"_w);
  if (input.problem) view.error = around.sentence(*input.problem);
}

void say_other_sheets(BrewPageView& view, const BrewSheet& sheet, const BrewPageInput& input,
                      const Surroundings& around) {
  const Words& words = around.words;
  view.verdict_title = words("brew.verdict_title"_w);
  view.verdict_note = words("brew.verdict_note"_w);
  view.why_label = words("brew.why"_w);
  view.verdict_go = words("brew.verdict_go"_w);
  view.verdict_missing = words("brew.verdict_missing"_w);
  for (const char* key : {"ready", "hold", "do-not-use"})
    view.verdicts.emplace_back(key, words.stored(std::string("brew.verdict.") + key, key));
  view.pour_title = words("brew.pour_title"_w);
  view.pour_label = words("brew.pour_label"_w);
  view.pour_where = words("end.where_to"_w);
  view.pour_go = words("brew.pour_go"_w);
  view.pour_missing = words("brew.pour_missing"_w);
  const auto typed = parse_written(input.pour);
  view.pour_now =
      typed ? *typed
            : write_quantity(std::max(Volume{}, sheet.balance.left.value_or(Volume{})), tank_unit(around.units), 2);
  const Shown shown = show_parts(*view.pour_now, around.units, words);
  view.pour_value = shown.number;
  view.pour_unit = shown.unit;
  view.pour_spoken = view.pour_label + " " + shown.speech();
  view.event_title = words("brew.event_title"_w);
  for (const char* key : {"fed", "topped-up", "moved", "power-cut"})
    view.events.emplace_back(key, words.stored(std::string("brew.event.") + key, key));
}

}  // namespace

Result<BrewPageView> brew_page_view(const Surroundings& around, const BrewPageInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const RunningBrew& brew, brew_now(around, around.record));
  Places places;
  if (!around.farm.is_nil()) {
    TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
    places = states->places;
  }
  BrewPageView view;
  view.brew = around.record;
  view.links = work_links(around.words, {"oxygen", "window", "air", "tea-time", "fields"});
  view.opens_reading = around.other == around.record;
  view.shown_in = around.units;
  view.title = brew_title(brew.sheet, words);
  std::vector<std::string> second;
  if (!brew.sheet.vessel_name.empty()) second.push_back(brew.sheet.vessel_name);
  if (brew.age && !brew.over) second.push_back(show_duration(*brew.age, words));
  view.second = join(second, " · ");
  view.figure = brew_figure(brew, places, around);
  const Brew& facts = brew.sheet.brew;
  const Moment start = facts.air_on ? facts.air_on->at : facts.met_water ? facts.met_water->at : facts.made.at;
  say_chart(view, brew, around.zone.start_of(around.zone.local(start).date), around);
  say_balance(view, brew.sheet, around);
  view.readings_head = words("brew.readings"_w);
  for (auto reading = brew.sheet.readings.rbegin(); reading != brew.sheet.readings.rend(); ++reading) {
    TRY_ASSIGN(const std::vector<Note>& beside, notes(around.book, reading->id));
    std::vector<std::string> texts;
    for (const Note& note : beside) texts.push_back(note.text);
    view.readings.push_back({reading_text(*reading, around), around.when(reading_time(*reading)), join(texts, " · ")});
  }
  TRY_ASSIGN(const std::vector<Count>& counted, counts(around.book, around.record));
  view.counts_head = words("count-record.head"_w);
  for (auto count = counted.rbegin(); count != counted.rend(); ++count)
    view.counts.push_back(
        {count->id, count_text(*count, around), count_title(*count, words), around.when(count->when())});
  view.add_reading = words("brew.add_reading"_w);
  view.air_is_on = facts.air_on && !facts.air_off;
  view.can_air = !facts.air_off.is_there();
  view.air = words(facts.air_on ? "brew.air_off"_w : "brew.air_on"_w);
  view.verdict = words("brew.verdict_button"_w);
  view.pour = words("brew.pour_away"_w);
  view.feed = words("brew.event_button"_w);
  say_reading_sheet(view, brew, input, around);
  say_other_sheets(view, brew.sheet, input, around);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

}  // namespace steep
