#include <algorithm>

#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/end_pass.h"
#include "screens/form_text.h"
#include "screens/start_pass.h"
#include "screens/strip_of_bed.h"

namespace steep {
namespace {

using Option = EndPassView::Option;

void say_sums(EndPassView& view, const EndSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  view.sums.push_back({show_count(sheet.beds, around.units), words(sheet.beds == 1 ? "today.bed"_w : "today.beds"_w)});
  const std::string unit = unit_label(along_unit(around.units), 2, words);
  std::string measured = unit;
  if (sheet.area) measured = words("end.length_area"_w, {unit, show(*sheet.area, around.units, words)});
  view.sums.push_back({along_number(sheet.length, around.units, words), measured});
  if (sheet.spray) {
    const SprayShown spray = spray_shown(*sheet.spray, sheet.tea, sheet.is_estimate, around.units, words);
    view.sums.push_back({spray.number, spray.words});
  }
  if (sheet.went_in) {
    view.went_in = words.count("end.went_in"_w, sheet.loads,
                               {spray_shown(*sheet.went_in, sheet.tea_in, false, around.units, words).text()});
  }
  std::vector<std::string> open;
  for (const PassBed& bed : sheet.state.beds) {
    if (bed.progress == BedProgress::Open || bed.progress == BedProgress::Part) open.push_back(bed.name);
  }
  if (!open.empty())
    view.open_beds = words.count("end.open_beds"_w, static_cast<long long>(open.size()), {join(open, ", ")});
}

/// 'place:<id>' for a place where something was poured before.
void say_left(EndPassView& view, const EndSheet& sheet, const EndPassInput& input, const Surroundings& around) {
  const Words& words = around.words;
  const std::string where = form_text(input.form, "where");
  view.left_question = words("end.left_question"_w);
  view.left_now = form_amount(input.form, "left");
  if (!view.left_now) view.left_now = write_quantity(sheet.left, tank_unit(around.units), 2);
  const Shown shown = show_parts(*view.left_now, around.units, words);
  view.left_value = shown.number;
  view.left_unit = shown.unit;
  view.left_spoken = words("end.say_left"_w, {shown.speech()});
  const Volume left = as<Volume>(*view.left_now);
  const auto tea = sheet.state.tank.tea_of(left);
  view.left_detail = tea && tea->si() > 0 ? words("end.spray_tea"_w, {tank_number(*tea, around.units, words)})
                                          : words("end.spray_alone"_w);
  for (std::size_t i = 0; i < std::min<std::size_t>(1, sheet.poured_before.size()); ++i) {
    const std::string key = "place:" + sheet.poured_before[i].first.text();
    view.where.push_back({key, words("end.poured_on"_w, {sheet.poured_before[i].second}), where == key});
  }
  view.where.push_back({"elsewhere", words("end.poured_elsewhere"_w), where == "elsewhere"});
  view.where.push_back({"stays", words("end.stays"_w), where == "stays"});
  view.where.push_back({"nothing", words("end.nothing"_w), where == "nothing"});
  view.asks_words = where == "elsewhere";
  view.elsewhere_label = words("end.where_to"_w);
  view.left_missing = where.empty() || (view.asks_words && trim(form_text(input.form, "words")).empty());

  view.request.left =
      where == "nothing" ? std::optional<Written>(write_quantity(Volume{}, tank_unit(around.units))) : view.left_now;
  if (where == "elsewhere") view.request.where = LeftOver::PouredElsewhere;
  if (where == "stays") view.request.where = LeftOver::StaysInTank;
  if (where.rfind("place:", 0) == 0) {
    view.request.where = LeftOver::PouredOn;
    view.request.place = Id::parse(where.substr(6)).value_or(Id{});
  }
  view.request.place_words = std::string(trim(form_text(input.form, "words")));
}

void say_wash(EndPassView& view, const EndSheet& sheet, const EndPassInput& input, const Surroundings& around) {
  const Words& words = around.words;
  const std::string wash = form_text(input.form, "wash");
  view.wash_question = words("end.wash_question"_w, {sheet.state.rig_name});
  if (!sheet.wash_methods.empty()) {
    const std::string key = "method:" + sheet.wash_methods.front();
    view.wash.push_back({key, sheet.wash_methods.front(), wash == key});
  }
  view.wash.push_back(
      {"other", words(sheet.wash_methods.empty() ? "end.washed"_w : "end.other_wash"_w), wash == "other"});
  view.wash.push_back({"none", words("end.not_washed"_w), wash == "none"});
  view.asks_wash_words = wash == "other";
  view.wash_words_label = words("end.wash_how"_w);
  const std::string told(trim(form_text(input.form, "wash-words")));
  view.wash_missing = wash.empty() || (view.asks_wash_words && told.empty());
  view.request.washed = !wash.empty() && wash != "none";
  view.request.wash_method = wash.rfind("method:", 0) == 0 ? wash.substr(7) : told;
}

WeatherGiven weather_of(const DraftFields& form) {
  WeatherGiven weather;
  weather.not_taken = form_has(form, "weather-not-taken");
  if (weather.not_taken) return weather;
  weather.wind = form_amount(form, "wind");
  weather.temperature = form_amount(form, "temperature");
  weather.direction = form_text(form, "direction");
  weather.sky = form_text(form, "sky");
  weather.where = form_text(form, "where-measured");
  return weather;
}

void say_weather(EndPassView& view, const EndSheet& sheet, const EndPassInput& input, const Surroundings& around) {
  const Words& words = around.words;
  const bool metric = around.units.system == System::Metric;
  const WeatherGiven chosen = weather_of(input.form);
  const bool typed = chosen.is_answered() && !chosen.not_taken;
  view.weather_question = words("end.weather_question"_w);
  view.weather_enter = words("start.weather_enter"_w);
  if (typed) {
    view.weather_last = weather_words(chosen, around.units, words);
  } else if (sheet.last_weather && !sheet.last_weather->not_taken) {
    view.weather_last = weather_words(*sheet.last_weather, around.units, words);
    view.last_weather = sheet.last_weather;
  }
  view.weather = chosen.not_taken ? 1 : typed ? 0 : -1;
  view.weather_missing = !chosen.is_answered();
  view.request.weather = chosen;

  view.weather_title = view.weather_question;
  view.weather_done = words("start.done"_w);
  view.wind = chosen.wind;
  view.temperature = chosen.temperature;
  view.wind_in = &unit(metric ? "km/h" : "mph");
  view.temp_in = &unit(metric ? "degC" : "degF");
  view.wind_label = words("start.wind"_w);
  view.temp_label = words("start.temperature"_w);
  const auto put = [&](const std::optional<Written>& written, const Unit& in, const std::string& label,
                       std::string& value, std::string& word, std::string& spoken) {
    CellShown cell = cell_shown(label, written, in, around.units, words);
    value = std::move(cell.value);
    word = std::move(cell.unit);
    spoken = std::move(cell.spoken);
  };
  put(view.wind, *view.wind_in, view.wind_label, view.wind_value, view.wind_unit, view.wind_spoken);
  put(view.temperature, *view.temp_in, view.temp_label, view.temp_value, view.temp_unit, view.temp_spoken);
  for (const char* key : {"N", "NE", "E", "SE", "S", "SW", "W", "NW"}) {
    view.directions.push_back({key, words.stored(std::string("start.direction.") + key, key), chosen.direction == key});
  }
  for (const char* key : {"clear", "cloudy", "overcast", "drizzle"}) {
    view.skies.push_back({key, words.stored(std::string("start.sky.") + key, key), chosen.sky == key});
  }
}

/// 'N1 Fri 6:41 pm … N24 Fri 7:20 pm': whose wait ends first and whose ends last, in whatever order they were walked.
std::string first_to_last(const std::vector<const WaitStarted*>& beds, Hold WaitStarted::*wait,
                          const Surroundings& around) {
  const auto ends_before = [&](const WaitStarted* a, const WaitStarted* b) {
    return *(a->*wait).until < *(b->*wait).until;
  };
  const auto at = [&](const WaitStarted& bed) { return bed.name + " " + until_text(bed.*wait, around); };
  const auto [first, last] = std::minmax_element(beds.begin(), beds.end(), ends_before);
  return first == last ? at(**first) : at(**first) + " … " + at(**last);
}

/// The waits that the pass started, those of entry first.
void say_waits(EndPassView& view, const EndSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  const auto beds_with = [&](Hold WaitStarted::*wait, Hold::State state) {
    std::vector<const WaitStarted*> beds;
    for (const WaitStarted& bed : sheet.waits)
      if ((bed.*wait).state == state) beds.push_back(&bed);
    return beds;
  };
  std::vector<std::string> lines;
  const auto say_until = [&](WordId word, Hold WaitStarted::*wait) {
    const auto beds = beds_with(wait, Hold::State::Until);
    if (!beds.empty())
      lines.push_back(words.count(word, static_cast<long long>(beds.size()), {first_to_last(beds, wait, around)}));
  };
  const auto say_unknown = [&](WordId word, Hold WaitStarted::*wait) {
    const auto beds = beds_with(wait, Hold::State::NotKnown);
    if (!beds.empty()) lines.push_back(words.count(word, static_cast<long long>(beds.size())));
  };
  say_until("end.no_entry"_w, &WaitStarted::entry);
  say_unknown("end.no_entry_unknown"_w, &WaitStarted::entry);
  view.waits_entry = !lines.empty();
  say_until("end.no_harvest"_w, &WaitStarted::harvest);
  say_unknown("end.no_date"_w, &WaitStarted::harvest);
  view.waits = join(lines, "\n");
}

}  // namespace

DraftFields draft_fields(const EndPassInput& input) {
  DraftFields typed;
  for (const auto& [key, value] : input.form) {
    if (!value.empty()) typed.emplace(key, value);
  }
  return typed;
}
void from_draft(EndPassInput& input, const DraftFields& fields) { input.form = fields; }

Result<EndPassView> end_pass_view(const Surroundings& around, const EndPassInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const EndSheet& sheet, end_sheet(around.book, around.record, around.now));
  EndPassView view;
  view.pass = around.record;
  view.units = around.units;
  view.request.pass = around.record;
  view.title = words("end.title"_w, {sheet.state.code});
  const Moment start = sheet.state.pass.start.at;
  view.second =
      words("end.second"_w, {sheet.state.place, show_clock_span(around.zone.local(start), around.zone.local(around.now),
                                                                around.units.clock, words)});
  say_sums(view, sheet, around);
  say_left(view, sheet, input, around);
  say_wash(view, sheet, input, around);
  say_weather(view, sheet, input, around);
  say_waits(view, sheet, around);
  std::vector<std::string> missing;
  if (view.left_missing) missing.push_back(words("end.missing_left"_w));
  if (view.wash_missing) missing.push_back(words("end.missing_wash"_w));
  if (view.weather_missing) missing.push_back(words("start.missing_weather"_w));
  if (!missing.empty())
    view.missing = words.count("start.missing"_w, static_cast<long long>(missing.size()), {join(missing, ", ")});
  view.can_end = missing.empty();
  view.end = words("spray.end_pass"_w);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

}  // namespace steep
