#include <algorithm>
#include <array>

#include "book/enter.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/form_text.h"
#include "screens/parts.h"
#include "screens/start_pass.h"

namespace steep {
namespace {

using Amount = StartPassView::Amount;
using Option = StartPassView::Option;

Icon icon_of(const std::string& id) {
  const std::string_view what = id.front() == '?' ? std::string_view(id).substr(1) : std::string_view(id);
  if (what == "who") return Icon::Person;
  if (what == "plan") return Icon::Calendar;
  if (what == "rig") return Icon::Spray;
  if (what == "brew") return Icon::Flask;
  if (what == "rates") return Icon::Gauge;
  return Icon::Beds;
}

void open_sheet(StartPassInput& input, std::string_view line) {
  input.sheet = line.front() == '?' ? line.substr(1) : line;
}

/// What a stepper or the number pad makes of an amount.
void set_amount(DraftFields& form, const std::string& key, const Written& written) { form[key] = written.text; }

void step_amount(DraftFields& form, const std::string& key, const Amount& amount, const Stepped& by) {
  const Unit* of = find_unit(amount.unit_word);
  if (!of) return;
  const double now = amount.written ? amount.written->amount.to_double() : 0;
  const double least = of->dimension == Dimension::Temperature ? -60 : 0;
  set_amount(form, key, write_quantity(step_value(now, usual_step(*of), by, least, 1e6), *of, 3));
}

Stepper stepper_of(std::string_view id, const Amount& amount) {
  return {.id = id,
          .label = amount.label,
          .value = amount.value,
          .unit = amount.unit,
          .spoken = amount.spoken,
          .due = !amount.written};
}

/// One or two amounts side by side; a tap on a number opens the pad.
void draw_amounts(Pen& pen, StartPassInput& input, std::span<const std::pair<std::string, const Amount*>> amounts) {
  std::vector<Stepper> specs;
  for (const auto& [key, amount] : amounts) specs.push_back(stepper_of(key, *amount));
  int which = -1;
  const Stepped by = steppers(pen, specs, which);
  if (which < 0) return;
  const auto& [key, amount] = amounts[static_cast<std::size_t>(which)];
  if (by) step_amount(input.form, key, *amount, by);
  if (by.open) open_amount(input.typing, key, amount->written, unit(amount->unit_word));
}

std::optional<Ask> draw_known(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, {.id = "known", .head = view.known, .note = view.known_note});
  bool first = true;
  for (const StartPassView::Line& line : view.lines) {
    const bool missing = line.id.front() == '?';
    const ListRow row{.id = line.id,
                      .icon = missing ? Icon::Question : icon_of(line.id),
                      .first = line.first,
                      .second = line.second,
                      .line_above = !first,
                      .spoken = line.spoken};
    if (list_row(card.pen, row)) open_sheet(input, line.id);
    first = false;
  }
  return std::nullopt;
}

CardSpec question(std::string_view id, std::string_view head, bool missing) {
  return {.id = id, .head = head, .sign = missing ? Icon::Question : Icon::None, .edge = CardEdge::Ink};
}

void draw_load(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, question("load", view.load_question, view.load_missing));
  if (!view.volumes_not_taken) {
    std::vector<std::pair<std::string, const Amount*>> amounts;
    if (view.has_tea) amounts.emplace_back("tea", &view.tea);
    amounts.emplace_back("water", &view.water);
    draw_amounts(card.pen, input, amounts);
    if (!view.load_sum.empty()) {
      card.pen.space(6);
      paragraph(card.pen, view.load_sum);
    }
  }
  // 'Not taken' is a key of the number pad; here it is only shown, and taken back.
  bool not_taken = view.volumes_not_taken;
  if (not_taken && check_row(card.pen, "volumes-not-taken", view.not_taken, not_taken))
    input.form.erase("volumes-not-taken");
}

void draw_walk(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, question("walk", view.walk_question, view.walk_missing));
  const std::array<Choice, 2> ways{Choice{.text = view.turn}, Choice{.text = view.same_end}};
  if (const int i = choice_cells(card.pen, "walk", view.walk_question, ways, view.walk); i >= 0) {
    input.form["walk"] = i == 0 ? "turn" : "same";
    if (!form_has(input.form, "from") && view.from >= 0) input.form["from"] = view.from == 1 ? "far" : "zero";
  }
  card.pen.space(size::kTouchGap);
  const float word = std::max(64.0f, text_width(TextStyle::Body, view.from_word) + 8);
  const std::array<Choice, 2> ends{Choice{.text = view.zero_end}, Choice{.text = view.far_end}};
  Pen words = card.pen.column({word, -1}, 0), cells = card.pen.column({word, -1}, 1);
  draw_text(words.take(size::kTouch), TextStyle::Body, colors().ink, view.from_word);
  if (const int i = choice_cells(cells, "from", view.from_word, ends, view.from); i >= 0)
    input.form["from"] = i == 1 ? "far" : "zero";
  card.pen.below(cells);
}

void draw_weather(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, question("weather", view.weather_question, view.weather_missing));
  const bool has_last = !view.weather_last.empty();
  std::vector<Choice> cells;
  if (has_last) cells.push_back({.text = view.weather_last});
  if (!has_last) cells.push_back({.text = view.weather_other});
  const std::string not_taken(look_words()("look.not_taken"_w));
  cells.push_back({.text = not_taken});
  const std::array<float, 2> shares{3, 2};
  const int chosen = view.weather == 1 ? 1 : view.weather == 0 ? 0 : -1;
  const int i = choice_cells(card.pen, "weather", view.weather_question, cells, chosen, 2, shares);
  if (i == 1) {
    input.form["weather-not-taken"] = "yes";
  } else if (i == 0) {
    input.form.erase("weather-not-taken");
    if (view.last_weather && view.weather != 0) {
      const WeatherGiven& last = *view.last_weather;
      if (last.wind) input.form["wind"] = last.wind->text;
      if (last.temperature) input.form["temperature"] = last.temperature->text;
      if (!last.direction.empty()) input.form["direction"] = last.direction;
      if (!last.sky.empty()) input.form["sky"] = last.sky;
      if (!last.where.empty()) input.form["where"] = last.where;
    } else {
      input.sheet = "weather";
    }
  }
}

// ---- Sheets ----

int option_list(Pen& pen, std::string_view id, std::string_view name, const std::vector<Option>& options) {
  std::vector<Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < options.size(); ++i) {
    choices.push_back({.text = options[i].first, .second = options[i].second});
    if (options[i].chosen) chosen = static_cast<int>(i);
  }
  return choice_list(pen, id, name, choices, chosen);
}

int option_cells(Pen& pen, std::string_view id, std::string_view name, const std::vector<Option>& options,
                 int per_row) {
  std::vector<Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < options.size(); ++i) {
    choices.push_back({.text = options[i].first});
    if (options[i].chosen) chosen = static_cast<int>(i);
  }
  return choice_cells(pen, id, name, choices, chosen, per_row);
}

std::optional<Ask> who_sheet(Pen& pen, const StartPassView& view, StartPassInput& input) {
  paragraph(pen, view.sheet_note);
  pen.space(size::kGrid);
  std::optional<Ask> ask;
  std::vector<Id> others = form_ids(input.form, "others");
  for (const Option& option : view.options) {
    IdScope scope(option.key);
    const Id id = Id::parse(option.key).value_or(Id{});
    bool on = option.chosen;
    if (!check_row(pen, "person", option.first, on, option.second)) continue;
    const bool self = id == view.choices.person;
    if (on && view.choices.person.is_nil()) {
      ask = Set{{{setting::kPerson, option.key}}};  // The first one named is who holds the device.
    } else if (on) {
      others.push_back(id);
    } else if (self) {
      ask = Set{{{setting::kPerson, std::string()}}};
    } else {
      others.erase(std::remove(others.begin(), others.end(), id), others.end());
    }
  }
  if (others.empty()) {
    input.form.erase("others");
  } else {
    input.form["others"] = ids_text(others);
  }
  return ask;
}

void rig_sheet(Pen& pen, const StartPassView& view, StartPassInput& input) {
  if (const int i = option_list(pen, "rigs", view.sheet_title, view.options); i >= 0) {
    input.form["rig"] = view.options[static_cast<std::size_t>(i)].key;
    // Another tank is filled otherwise: its load is proposed anew.
    for (const char* key : {"tea", "water"}) input.form.erase(key);
    input.sheet.clear();
  }
  pen.space(size::kGrid);
  if (button(pen, {.id = "new-rig", .text = view.sheet_add, .icon = Icon::Plus})) input.sheet = "new-rig";
}

void plan_sheet_list(Pen& pen, const StartPassView& view, StartPassInput& input) {
  const int i = option_list(pen, "plans", view.sheet_title, view.options);
  if (i < 0) return;
  // Another plan proposes all of it anew.
  for (const char* key : {"beds", "rig", "aim", "brew", "tea-rate", "spray-rate", "area", "tea", "water"})
    input.form.erase(key);
  input.form["plan"] = view.options[static_cast<std::size_t>(i)].key;
  input.sheet.clear();
}

std::optional<Ask> brew_sheet_list(Pen& pen, const StartPassView& view, StartPassInput& input) {
  if (const int i = option_cells(pen, "aim", view.sheet_title, view.aims, 3); i >= 0) {
    input.form["aim"] = view.aims[static_cast<std::size_t>(i)].key;
  }
  pen.space(size::kGrid);
  if (const int i = option_list(pen, "brews", view.sheet_title, view.options); i >= 0) {
    const std::string& key = view.options[static_cast<std::size_t>(i)].key;
    if (key == "none") {
      input.form["no-tea"] = "yes";
      input.form.erase("brew");
    } else {
      input.form.erase("no-tea");
      input.form["brew"] = key;
    }
    if (view.choices.aim) input.sheet.clear();
  }
  pen.space(size::kGrid);
  if (button(pen, {.id = "start-brew", .text = view.sheet_add, .icon = Icon::Plus})) return Go{{"start-brew", {}}};
  return std::nullopt;
}

void rates_sheet(Pen& pen, const StartPassView& view, StartPassInput& input) {
  const std::array<std::pair<std::string, const Amount*>, 2> amounts{
      std::pair{std::string("spray-rate"), &view.spray_rate}, std::pair{std::string("tea-rate"), &view.tea_rate}};
  if (!view.rates_unknown) {
    draw_amounts(pen, input, amounts);
    pen.space(size::kGrid);
    if (const int i = option_cells(pen, "area", view.sheet_title, view.areas, 2); i >= 0) {
      input.form["area"] = view.areas[static_cast<std::size_t>(i)].key;
    }
    pen.space(size::kGrid);
  }
  bool unknown = view.rates_unknown;
  if (check_row(pen, "dont-know", view.dont_know, unknown)) {
    if (unknown) {
      input.form["rates-unknown"] = "yes";
    } else {
      input.form.erase("rates-unknown");
    }
  }
}

void beds_sheet(Pen& pen, const StartPassView& view, StartPassInput& input) {
  std::vector<Id> chosen;
  for (const Option& option : view.options) {
    if (option.chosen) chosen.push_back(Id::parse(option.key).value_or(Id{}));
  }
  bool changed = false;
  for (const Option& option : view.options) {
    IdScope scope(option.key);
    bool on = option.chosen;
    if (!check_row(pen, "bed", option.first, on, option.second)) continue;
    const Id id = Id::parse(option.key).value_or(Id{});
    if (on) {
      chosen.push_back(id);
    } else {
      chosen.erase(std::remove(chosen.begin(), chosen.end(), id), chosen.end());
    }
    changed = true;
  }
  if (!changed) return;
  input.form["beds"] = ids_text(chosen);
  for (const char* key : {"tea", "water"}) input.form.erase(key);
}

void weather_sheet(Pen& pen, const StartPassView& view, StartPassInput& input) {
  const std::array<std::pair<std::string, const Amount*>, 2> amounts{
      std::pair{std::string("wind"), &view.wind}, std::pair{std::string("temperature"), &view.temperature}};
  draw_amounts(pen, input, amounts);
  pen.space(size::kGrid);
  if (const int i = option_cells(pen, "direction", view.sheet_title, view.directions, 4); i >= 0) {
    input.form["direction"] = view.directions[static_cast<std::size_t>(i)].key;
  }
  pen.space(size::kGrid);
  if (const int i = option_cells(pen, "sky", view.sheet_title, view.skies, 2); i >= 0) {
    input.form["sky"] = view.skies[static_cast<std::size_t>(i)].key;
  }
  pen.space(size::kGroupGap);
  if (button(pen, {.id = "done", .text = view.done, .kind = ButtonKind::Primary})) input.sheet.clear();
}

std::string chosen_key(const std::vector<Option>& options, std::string fallback) {
  const auto found = std::find_if(options.begin(), options.end(), [](const Option& option) { return option.chosen; });
  return found == options.end() ? fallback : found->key;
}

/// A rig that the book doesn't have yet: name, kind, tank with the kind of gallon.
std::optional<Ask> new_rig_sheet(Pen& pen, const StartPassView& view, StartPassInput& input) {
  DraftFields& form = input.form;
  problem_line(pen, view.problem);
  text_field(pen, {.id = "rig-name", .label = view.rig_name_label, .max_length = 60}, form["new-rig-name"]);
  pen.space(size::kGrid);
  if (const int i = option_cells(pen, "rig-kind", view.sheet_title, view.rig_kinds, 3); i >= 0) {
    form["new-rig-kind"] = view.rig_kinds[static_cast<std::size_t>(i)].key;
  }
  pen.space(size::kGrid);
  text_field(pen, {.id = "rig-tank", .label = view.rig_tank_label, .kind = FieldKind::Decimal, .max_length = 12},
             form["new-rig-tank"]);
  pen.space(size::kGrid);
  if (const int i = option_cells(pen, "rig-unit", view.rig_tank_label, view.rig_units, 3); i >= 0) {
    form["new-rig-unit"] = view.rig_units[static_cast<std::size_t>(i)].key;
  }
  pen.space(size::kGrid);
  text_field(pen, {.id = "rig-dead", .label = view.rig_dead_label, .kind = FieldKind::Decimal, .max_length = 12},
             form["new-rig-dead"]);
  pen.space(size::kGroupGap);
  const bool ready =
      !form["new-rig-name"].empty() && !form["new-rig-tank"].empty() && !chosen_key(view.rig_units, {}).empty();
  if (!button(pen, {.id = "rig-save", .text = view.rig_save, .kind = ButtonKind::Primary, .enabled = ready}) || !ready)
    return std::nullopt;

  const std::string unit_word = chosen_key(view.rig_units, "gal");
  EnterFields fields{{"name", form["new-rig-name"]},
                     {"kind", chosen_key(view.rig_kinds, "backpack")},
                     {"tank.volume", form["new-rig-tank"] + " " + unit_word}};
  if (!form["new-rig-dead"].empty()) fields.emplace_back("tank.dead", form["new-rig-dead"] + " " + unit_word);
  EnterAs as;
  as.habits = {view.units.mark, unit_word == "imperial gal" ? Gallons::Imperial : Gallons::Us};
  as.farm = view.choices.farm;
  for (const char* key : {"new-rig-name", "new-rig-kind", "new-rig-tank", "new-rig-unit", "new-rig-dead"})
    form.erase(key);
  form.erase("rig");
  input.sheet.clear();
  return Do{[fields, as](Book& book, const Going& going) { return enter(book, "rig", fields, as, going); }};
}

std::optional<Ask> draw_sheet(const StartPassView& view, StartPassInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "list", .title = view.sheet_title});
  const std::string open = input.sheet;
  if (open == "who") ask = who_sheet(sheet.pen(), view, input);
  if (open == "plan") plan_sheet_list(sheet.pen(), view, input);
  if (open == "rig") rig_sheet(sheet.pen(), view, input);
  if (open == "brew") ask = brew_sheet_list(sheet.pen(), view, input);
  if (open == "rates") rates_sheet(sheet.pen(), view, input);
  if (open == "beds") beds_sheet(sheet.pen(), view, input);
  if (open == "weather") weather_sheet(sheet.pen(), view, input);
  if (open == "new-rig") ask = new_rig_sheet(sheet.pen(), view, input);
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

void draw_typing(const StartPassView& view, StartPassInput& input) {
  struct Typed {
    std::string_view key;
    const Amount* amount;
  };
  for (const Typed& typed :
       {Typed{"tea", &view.tea}, Typed{"water", &view.water}, Typed{"spray-rate", &view.spray_rate},
        Typed{"tea-rate", &view.tea_rate}, Typed{"wind", &view.wind}, Typed{"temperature", &view.temperature}}) {
    if (typed.key != input.typing.what) continue;
    const Unit& now = unit(input.typing.unit);
    AmountAsk ask{.title = typed.amount->label, .dimension = now.dimension, .units = usual_units(now.dimension)};
    if (std::find(ask.units.begin(), ask.units.end(), &now) == ask.units.end())
      ask.units.insert(ask.units.begin(), &now);
    ask.signs = now.dimension == Dimension::Temperature;
    ask.can_be_not_taken = now.dimension == Dimension::Volume;
    const AmountAnswer answer = amount_sheet(input.typing, ask, view.units);
    if (answer.written) set_amount(input.form, std::string(typed.key), *answer.written);
    if (answer.event == AmountEvent::NotTaken) input.form["volumes-not-taken"] = "yes";
    return;
  }
  input.typing = {};
}

Do start_it(const StartChoices& choices) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [choices](Book& book, const Going& going) { return start_pass(book, choices, going); };
  ask.then = [](const Outcome& outcome) -> std::optional<Ask> { return Go{{"spraying", outcome.record}, true}; };
  return ask;
}

}  // namespace

std::optional<Ask> draw_start_pass(const StartPassView& view, StartPassInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("start-pass", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    if (input.sheet.empty()) problem_line(pen, view.problem);
    ask = draw_known(pen, view, input);
    draw_load(pen, view, input);
    draw_walk(pen, view, input);
    draw_weather(pen, view, input);
    for (std::size_t i = 0; i < view.stops.size(); ++i) problem_line(pen, view.stops[i]);
    for (std::size_t i = 0; i < view.cautions.size(); ++i) {
      IdScope scope("caution", static_cast<std::int64_t>(i));
      caution_line(pen, {.id = "caution", .text = view.cautions[i]});
    }
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    const ButtonSpec start{
        .id = "start", .text = view.start, .icon = Icon::Spray, .kind = ButtonKind::Primary, .enabled = view.can_start};
    if (button(pen, start) && view.can_start) ask = start_it(view.choices);
  }
  if (!furniture.covered) {
    if (input.typing.is_open()) {
      draw_typing(view, input);
    } else if (!input.sheet.empty() && input.sheet == view.sheet) {  // Else it is made for the next frame.
      if (auto asked = draw_sheet(view, input)) ask = asked;
    }
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
