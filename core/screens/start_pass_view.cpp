#include <algorithm>

#include "book/bed_states.h"
#include "screens/amounts.h"
#include "screens/form_text.h"
#include "screens/start_pass.h"
#include "screens/tea_left.h"

namespace steep {
namespace {

using Option = StartPassView::Option;
using Amount = StartPassView::Amount;

const std::vector<std::string> kDirections = {"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
const std::vector<std::string> kSkies = {"clear", "cloudy", "overcast", "drizzle"};

Amount amount_of(std::string label, const std::optional<Written>& written, const Unit& unit,
                 const Surroundings& around) {
  Amount amount;
  amount.label = std::move(label);
  amount.written = written;
  amount.unit_word = written ? written->unit->word : unit.word;
  CellShown cell = cell_shown(amount.label, written, unit, around.units, around.words);
  amount.value = std::move(cell.value);
  amount.unit = std::move(cell.unit);
  amount.spoken = std::move(cell.spoken);
  return amount;
}

void say_who(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  if (sheet.person_name.empty()) return;
  const Words& words = around.words;
  const std::string with =
      sheet.other_names.empty() ? words("start.alone"_w) : words("start.with"_w, {join(sheet.other_names, ", ")});
  view.lines.push_back({"who", sheet.person_name, with, words("start.change_who"_w, {sheet.person_name, with})});
}

std::string plan_words(const PlannedWork& plan, const Surroundings& around) {
  const std::string beds = around.words.count("plan.beds_planned"_w, static_cast<long long>(plan.beds.size()));
  return plan.at ? around.when(plan.at->at) + ", " + beds : beds;
}

void say_plan(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  if (!sheet.planned) return;
  const std::string first = around.words("brew.from_plan"_w), second = plan_words(*sheet.planned, around);
  view.lines.push_back({"plan", first, second, around.words("start.change_rates"_w, {first + ", " + second})});
}

Result<void> plan_list(StartPassView& view, const Surroundings& around, const StartSheet& sheet) {
  TRY_ASSIGN(const std::vector<PlannedWork>& plans, open_plans(around.book, around.farm));
  view.sheet_title = around.words("brew.from_plan"_w);
  for (const PlannedWork& plan : plans)
    if (plan.what == "pass")
      view.options.push_back({plan.id.text(), plan_words(plan, around), {}, plan.id == sheet.chosen.plan});
  view.options.push_back({"none", around.words("brew.without_plan"_w), {}, !sheet.planned});
  return {};
}

void say_rig(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  if (!sheet.rig) return;
  const Words& words = around.words;
  std::string first = sheet.rig->name;
  if (sheet.rig->tank_typed) {
    const bool us_gallons = sheet.rig->tank_typed->unit->word == "gal";
    const std::string tank = show(*sheet.rig->tank_typed, around.units, words);
    first = words(us_gallons ? "start.rig_tank_us"_w : "start.rig_tank"_w, {sheet.rig->name, tank});
  }
  const std::string second =
      sheet.rig->dead ? words("start.cannot_be_sprayed"_w, {tank_text(*sheet.rig->dead, around.units, words)})
                      : words("start.dead_not_known"_w);
  view.lines.push_back({"rig", first, second, words("start.change_rig"_w, {first, second})});
}

std::string aim_word(Aim aim, const Words& words) {
  return words(aim == Aim::Leaf ? "start.on_leaf"_w : aim == Aim::Soil ? "start.on_soil"_w : "start.as_drench"_w);
}

void say_brew(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  if (!sheet.brew && !sheet.chosen.no_tea) return;
  const std::string aim = sheet.chosen.aim ? aim_word(*sheet.chosen.aim, words) : std::string();
  std::string first = sheet.chosen.no_tea ? words("start.no_tea"_w) : words("brew.code"_w, {sheet.brew_code});
  if (!aim.empty()) first += ", " + aim;
  std::string second;
  if (sheet.brew) {
    second = tea_left_text(sheet.brew_balance, around);
    if (sheet.brew->air_off) {
      const std::string off = words("start.air_off"_w, {around.when(sheet.brew->air_off->at)});
      second = second.empty() ? off : second + " · " + off;
    }
  }
  view.lines.push_back({"brew", first, second, words("start.change_brew"_w, {first, second})});
}

void say_rates(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  std::string first, second;
  if (sheet.chosen.rates_unknown) {
    first = words("start.rates_unknown"_w);
  } else if (sheet.chosen.spray_rate) {
    std::optional<VolumePerArea> tea;
    if (sheet.chosen.tea_rate) tea = as<VolumePerArea>(*sheet.chosen.tea_rate);
    first = rates_words(as<VolumePerArea>(*sheet.chosen.spray_rate), tea, around.units, words);
    const bool swath = sheet.chosen.rate_area == RateArea::Swath;
    if (sheet.on_beds) {
      second = words(swath ? "start.of_swath_sum"_w : "start.of_bed_top_sum"_w,
                     {spray_shown(sheet.on_beds->spray(), sheet.on_beds->tea, false, around.units, words).text()});
    } else {
      second = words(swath ? "start.of_swath"_w : "start.of_bed_top"_w);
    }
  } else {
    return;
  }
  view.lines.push_back({"rates", first, second, words("start.change_rates"_w, {first})});
}

std::string beds_range(const std::vector<Bed>& beds, const Words& words) {
  if (beds.empty()) return {};
  return beds.size() == 1 ? beds.front().name : words("start.bed_range"_w, {beds.front().name, beds.back().name});
}

void say_beds(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  if (sheet.beds.empty()) return;
  const std::string first =
      words.count("start.beds"_w, static_cast<long long>(sheet.beds.size()), {beds_range(sheet.beds, words)});
  const std::string second = along_text(sheet.length, around.units, words);
  view.lines.push_back({"beds", first, second, words("start.change_beds"_w, {first})});
}

void say_load(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  const Unit& unit = tank_unit(around.units);
  view.load_question = words("start.load_question"_w);
  view.has_tea = !sheet.chosen.no_tea;
  view.volumes_not_taken = sheet.chosen.volumes_not_taken;
  view.tea = amount_of(words("start.tea"_w), sheet.chosen.tea, unit, around);
  view.water = amount_of(sheet.water ? sheet.water->name : words("start.water"_w), sheet.chosen.water, unit, around);
  view.not_taken = words("start.volumes_not_taken"_w);
  if (sheet.stays().si() > 0)
    view.load_stays = words("start.load_stays"_w, {tank_text(sheet.stays(), around.units, words), sheet.rest_code});
  if (sheet.load_spray && !view.volumes_not_taken) {
    const std::string spray = tank_text(*sheet.load_spray, around.units, words);
    if (sheet.load_lasts) {
      view.load_sum = words("start.load_lasts"_w, {spray});
    } else if (!sheet.load_ends_bed.empty()) {
      view.load_sum = words(sheet.load_is_full ? "start.load_full_to"_w : "start.load_to"_w,
                            {spray, along_text(sheet.load_ends_at, around.units, words), sheet.load_ends_bed});
    } else {
      view.load_sum = words("start.load_sum"_w, {spray});
    }
  }
}

void say_walk(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  view.walk_question = words("start.walk_question"_w);
  view.turn = words("start.turn"_w);
  view.same_end = words("start.same_end"_w);
  view.from_word = words("start.from"_w);
  const Bed* first = sheet.beds.empty() ? nullptr : &sheet.beds.front();
  view.zero_end = first && !first->zero_end.empty() ? first->zero_end : words("start.zero_end"_w);
  view.far_end = first && !first->far_end.empty() ? first->far_end : words("start.far_end"_w);
  if (sheet.chosen.walk) view.walk = *sheet.chosen.walk == Walk::TurnAtEachBed ? 0 : 1;
  if (sheet.chosen.from_far_end) view.from = *sheet.chosen.from_far_end ? 1 : 0;
}

void say_weather(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  view.weather_question = words("start.weather_question"_w);
  view.weather_other = words("start.weather_enter"_w);
  const WeatherGiven& chosen = sheet.chosen.weather;
  const bool typed = chosen.is_answered() && !chosen.not_taken;
  if (typed) {
    view.weather_last = weather_words(chosen, around.units, words);
  } else if (sheet.last_weather) {
    view.weather_last = weather_words(*sheet.last_weather, around.units, words);
    view.last_weather = sheet.last_weather;
  }
  view.weather = chosen.not_taken ? 1 : typed ? 0 : -1;
}

std::string missing_word(StartMissing missing, const Words& words) {
  switch (missing) {
    case StartMissing::Person: return words("start.missing_person"_w);
    case StartMissing::Rig: return words("start.missing_rig"_w);
    case StartMissing::Beds: return words("start.missing_beds"_w);
    case StartMissing::Aim: return words("start.missing_aim"_w);
    case StartMissing::Brew: return words("start.missing_brew"_w);
    case StartMissing::Rates: return words("start.missing_rates"_w);
    case StartMissing::Load: return words("start.missing_load"_w);
    case StartMissing::Walk: return words("start.missing_walk"_w);
    case StartMissing::Weather: return words("start.missing_weather"_w);
  }
  return {};
}

/// Lines that are missing stand in the list as well, so that one press leads to each.
void say_missing(StartPassView& view, const StartSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  std::vector<std::string> fields;
  const auto ask = [&](const char* id, WordId question, WordId why) {
    view.lines.push_back({id, words(question), words(why), words(question)});
  };
  for (const StartMissing missing : sheet.missing) {
    fields.push_back(missing_word(missing, words));
    switch (missing) {
      case StartMissing::Person: ask("?who", "start.ask_person"_w, "start.ask_person_why"_w); break;
      case StartMissing::Rig: ask("?rig", "start.ask_rig"_w, "start.ask_rig_why"_w); break;
      case StartMissing::Beds: ask("?beds", "start.ask_beds"_w, "start.ask_beds_why"_w); break;
      case StartMissing::Aim:
      case StartMissing::Brew:
        if (view.lines.empty() || view.lines.back().id != "?brew")
          ask("?brew", "start.ask_brew"_w, "start.ask_brew_why"_w);
        break;
      case StartMissing::Rates: ask("?rates", "start.ask_rates"_w, "start.ask_rates_why"_w); break;
      case StartMissing::Load: view.load_missing = true; break;
      case StartMissing::Walk: view.walk_missing = true; break;
      case StartMissing::Weather: view.weather_missing = true; break;
    }
  }
  if (!fields.empty())
    view.missing = words.count("start.missing"_w, static_cast<long long>(fields.size()), {join(fields, ", ")});
  view.can_start = sheet.missing.empty() && sheet.stops.empty();
}

// ---- Lists ----

Result<void> people_list(StartPassView& view, const Surroundings& around, const StartSheet& sheet) {
  TRY_ASSIGN(const std::vector<Person>& all, people(around.book));
  for (const Person& person : all) {
    const bool self = person.id == sheet.chosen.person;
    const bool other =
        std::find(sheet.chosen.others.begin(), sheet.chosen.others.end(), person.id) != sheet.chosen.others.end();
    view.options.push_back(
        {person.id.text(), person.name, self ? around.words("start.at_device"_w) : person.role, self || other});
  }
  view.sheet_title = around.words("start.who_title"_w);
  view.sheet_note = around.words("start.who_note"_w);
  return {};
}

Result<void> rig_list(StartPassView& view, const Surroundings& around, const StartSheet& sheet) {
  const Words& words = around.words;
  TRY_ASSIGN(const std::vector<Rig>& all, rigs(around.book));
  for (const Rig& rig : all) {
    const std::string tank =
        rig.tank_typed ? show(*rig.tank_typed, around.units, words) : words("start.tank_not_known"_w);
    view.options.push_back({rig.id.text(), rig.name, tank, rig.id == sheet.chosen.rig});
  }
  view.sheet_title = words("start.rig_title"_w);
  view.sheet_add = words("start.new_rig"_w);
  return {};
}

Result<void> brew_list(StartPassView& view, const Surroundings& around, const StartSheet& sheet) {
  const Words& words = around.words;
  TRY_ASSIGN(const std::vector<Brew>& all, usable_brews(around.book, around.now));
  for (const Brew& brew : all) {
    TRY_ASSIGN(const BrewSheet& facts, read_brew_sheet(around.book, brew.id));
    std::string second = facts.vessel_name;
    if (const std::string left = tea_left_text(facts.balance, around); !left.empty())
      second = second.empty() ? left : second + " · " + left;
    view.options.push_back({brew.id.text(), words("brew.code"_w, {facts.code}), second,
                            !sheet.chosen.no_tea && brew.id == sheet.chosen.brew});
  }
  view.options.push_back({"none", words("start.no_tea"_w), words("start.no_tea_why"_w), sheet.chosen.no_tea});
  view.sheet_title = words("start.brew_title"_w);
  view.sheet_add = words("today.start_brew"_w);
  for (const auto& [key, aim] :
       {std::pair{"leaf", Aim::Leaf}, std::pair{"soil", Aim::Soil}, std::pair{"drench", Aim::Drench}}) {
    view.aims.push_back({key, aim_word(aim, words), {}, sheet.chosen.aim == aim});
  }
  return {};
}

void rate_list(StartPassView& view, const Surroundings& around, const StartSheet& sheet) {
  const Words& words = around.words;
  const Unit& rate = unit(around.units.system == System::Metric ? "L/ha" : "gal/acre");
  view.sheet_title = words("start.rates_title"_w);
  view.spray_rate = amount_of(words("start.spray_rate"_w), sheet.chosen.spray_rate, rate, around);
  view.tea_rate = amount_of(words("start.tea_rate"_w), sheet.chosen.tea_rate, rate, around);
  view.rates_unknown = sheet.chosen.rates_unknown;
  view.dont_know = words("start.dont_know"_w);
  const RateArea area = sheet.chosen.rate_area.value_or(RateArea::BedTop);
  view.areas = {{"bed-top", words("start.bed_top"_w), {}, area == RateArea::BedTop},
                {"swath", words("start.swath"_w), {}, area == RateArea::Swath}};
}

void bed_list(StartPassView& view, const Surroundings& around, const StartSheet& sheet) {
  view.sheet_title = around.words("start.beds_title"_w);
  const auto chosen = [&](const Id& id) {
    return std::any_of(sheet.beds.begin(), sheet.beds.end(), [&](const Bed& bed) { return bed.id == id; });
  };
  const auto states = around.beds.get(around.book, around.farm, around.now);
  for (const Bed& bed : sheet.places.beds) {
    std::string second = sheet.places.crop_names(bed.id);
    const BedState* state = states ? (*states)->bed(bed.id) : nullptr;
    if (state && state->is_due()) second += (second.empty() ? "" : " · ") + around.words("spray.due"_w);
    view.options.push_back({bed.id.text(), bed.name, second, chosen(bed.id)});
  }
  for (const Block& block : sheet.places.blocks) {
    bool all = true, any = false;
    for (const Bed& bed : sheet.places.beds) {
      if (bed.block != block.id) continue;
      any = true;
      all = all && chosen(bed.id);
    }
    if (any) view.areas.push_back({block.id.text(), around.words("start.all_of"_w, {block.name}), {}, all});
  }
}

void weather_list(StartPassView& view, const Surroundings& around, const StartSheet& sheet) {
  const Words& words = around.words;
  const bool metric = around.units.system == System::Metric;
  view.sheet_title = words("start.weather_question"_w);
  view.wind = amount_of(words("start.wind"_w), sheet.chosen.weather.wind, unit(metric ? "km/h" : "mph"), around);
  view.temperature =
      amount_of(words("start.temperature"_w), sheet.chosen.weather.temperature, unit(metric ? "degC" : "degF"), around);
  for (const std::string& key : kDirections) {
    view.directions.push_back(
        {key, words.stored("start.direction." + key, key), {}, sheet.chosen.weather.direction == key});
  }
  for (const std::string& key : kSkies)
    view.skies.push_back({key, words.stored("start.sky." + key, key), {}, sheet.chosen.weather.sky == key});
}

void new_rig(StartPassView& view, const Surroundings& around, const StartPassInput& input) {
  const Words& words = around.words;
  view.sheet_title = words("start.new_rig"_w);
  view.rig_name_label = words("start.rig_name"_w);
  view.rig_tank_label = words("start.rig_tank_label"_w);
  view.rig_dead_label = words("start.rig_dead_label"_w);
  view.rig_save = words("start.rig_save"_w);
  const std::string kind = form_text(input.form, "new-rig-kind"), gallon = form_text(input.form, "new-rig-unit");
  for (const char* key : {"backpack", "cart", "boom", "hose", "can", "injector"}) {
    view.rig_kinds.push_back({key, words.stored(std::string("start.rig_kind.") + key, key), {}, kind == key});
  }
  for (const char* key : {"gal", "imperial gal", "L"}) {
    view.rig_units.push_back({key, words.stored(std::string("start.rig_unit.") + key, key), {}, gallon == key});
  }
}

Result<void> wash_list(StartPassView& view, const Surroundings& around, const StartPassInput& input,
                       const StartSheet& sheet) {
  const Words& words = around.words;
  TRY_ASSIGN(const std::vector<std::string>& methods, wash_methods(around.book, sheet.chosen.rig));
  const std::string how = form_text(input.form, "wash-words");
  for (const std::string& method : methods) view.options.push_back({method, method, {}, method == how});
  view.sheet_title = words("end.wash_question"_w, {sheet.rig ? sheet.rig->name : std::string()});
  view.wash_how = words("end.wash_how"_w);
  view.wash_save = words("start.write_wash"_w);
  return {};
}

/// Something may be in the tank that nobody wrote was washed out.
bool may_need_wash(const StartSheet& sheet) {
  return sheet.rest || std::any_of(sheet.cautions.begin(), sheet.cautions.end(),
                                   [](const Caution& caution) { return caution.word == "check.tank-not-cleaned"_w; });
}

Result<void> open_list(StartPassView& view, const Surroundings& around, const StartPassInput& input,
                       const StartSheet& sheet) {
  view.sheet = input.sheet;
  view.done = around.words("start.done"_w);
  if (input.sheet == "who") return people_list(view, around, sheet);
  if (input.sheet == "plan") return plan_list(view, around, sheet);
  if (input.sheet == "rig") return rig_list(view, around, sheet);
  if (input.sheet == "wash") return wash_list(view, around, input, sheet);
  if (input.sheet == "brew") return brew_list(view, around, sheet);
  if (input.sheet == "rates") rate_list(view, around, sheet);
  if (input.sheet == "beds") bed_list(view, around, sheet);
  if (input.sheet == "weather") weather_list(view, around, sheet);
  if (input.sheet == "new-rig") new_rig(view, around, input);
  return {};
}

}  // namespace

std::string weather_words(const WeatherGiven& weather, const UnitsShown& units, const Words& words) {
  if (weather.not_taken) return words("start.weather_not_taken"_w);
  std::vector<std::string> parts;
  if (weather.wind) {
    const std::string wind = words("start.wind_of"_w, {show(*weather.wind, units, words)});
    parts.push_back(weather.direction.empty()
                        ? wind
                        : wind + " " + words.stored("start.direction." + weather.direction, weather.direction));
  }
  if (weather.temperature) parts.push_back(show(*weather.temperature, units, words));
  if (!weather.sky.empty()) parts.push_back(words.stored("start.sky." + weather.sky, weather.sky));
  return join(parts, ", ");
}

std::string rates_words(std::optional<VolumePerArea> spray, std::optional<VolumePerArea> tea, const UnitsShown& units,
                        const Words& words) {
  if (!spray) return words("start.rates_unknown"_w);
  const bool metric = units.system == System::Metric;
  const Unit& rate = unit(metric ? "L/ha" : "gal/acre");
  const std::string of_spray = show_in(rate, spray->si(), units, words).number;
  if (!tea || tea->si() <= 0) return words(metric ? "start.rate_metric"_w : "start.rate_us"_w, {of_spray});
  return words(metric ? "start.rates_metric"_w : "start.rates_us"_w,
               {of_spray, show_in(rate, tea->si(), units, words).number});
}

Result<StartPassView> start_pass_view(const Surroundings& around, const StartPassInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const StartSheet& sheet, start_sheet(around.book, start_choices(input.form, around), around.now));
  StartPassView view;
  view.units = around.units;
  view.title = words("start.title"_w);
  view.second = sheet.beds.empty() ? words("start.no_beds_yet"_w)
                                   : words.count("start.second"_w, static_cast<long long>(sheet.beds.size()),
                                                 {sheet.place, along_text(sheet.length, around.units, words)});
  view.known = words("start.known"_w);
  view.known_note = words("start.tap_changes"_w);
  say_plan(view, sheet, around);
  say_who(view, sheet, around);
  say_rig(view, sheet, around);
  say_brew(view, sheet, around);
  say_rates(view, sheet, around);
  say_beds(view, sheet, around);
  say_load(view, sheet, around);
  say_walk(view, sheet, around);
  say_weather(view, sheet, around);
  say_missing(view, sheet, around);
  for (const Caution& caution : sheet.cautions) view.cautions.push_back(around.sentence(caution));
  for (const Problem& stop : sheet.stops) view.stops.push_back(around.sentence(stop));
  if (may_need_wash(sheet)) view.cleaned = words("start.cleaned_since"_w);
  if (input.problem) view.problem = around.sentence(*input.problem);
  view.start = sheet.beds.empty() ? words("start.start"_w) : words("start.start_with"_w, {sheet.beds.front().name});
  view.choices = sheet.chosen;
  TRY(open_list(view, around, input, sheet));
  return view;
}

}  // namespace steep
