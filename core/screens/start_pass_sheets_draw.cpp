// The sheets of the start of a pass: each asks for one of its lines.
#include <algorithm>
#include <array>

#include "base/text.h"
#include "book/brew_commands.h"
#include "book/enter.h"
#include "look/button.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/form_text.h"
#include "screens/start_pass.h"

namespace steep {
namespace {

using Amount = StartPassView::Amount;
using Option = StartPassView::Option;

void step_amount(DraftFields& form, const std::string& key, const Amount& amount, const Stepped& by) {
  const Unit* of = find_unit(amount.unit_word);
  if (!of) return;
  const double now = amount.written ? amount.written->amount.to_double() : 0;
  const double least = of->dimension == Dimension::Temperature ? -60 : 0;
  form[key] = write_quantity(step_value(now, usual_step(*of), by, least, 1e6), *of, 3).text;
}

Stepper stepper_of(std::string_view id, const Amount& amount) {
  return {.id = id,
          .label = amount.label,
          .value = amount.value,
          .unit = amount.unit,
          .spoken = amount.spoken,
          .due = !amount.written};
}

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

std::optional<Ask> wash_sheet(Pen& pen, const StartPassView& view, StartPassInput& input) {
  std::string& how = input.form["wash-words"];
  if (!view.options.empty()) {
    if (const int i = option_list(pen, "methods", view.sheet_title, view.options); i >= 0)
      how = view.options[static_cast<std::size_t>(i)].key;
    pen.space(size::kGrid);
  }
  text_field(pen, {.id = "wash-words", .label = view.wash_how, .max_length = 80}, how);
  pen.space(size::kGroupGap);
  const std::string method(trim(how));
  const ButtonSpec save{
      .id = "wash-save", .text = view.wash_save, .kind = ButtonKind::Primary, .enabled = !method.empty()};
  if (!button(pen, save) || method.empty()) return std::nullopt;
  input.form.erase("wash-words");
  for (const char* key : {"tea", "water"}) input.form.erase(key);  // Nothing stays: the load is proposed anew.
  input.sheet.clear();
  return Do{[rig = view.choices.rig, method](Book& book, const Going& going) {
    return add_wash(book, rig, method, book.now().at, going);
  }};
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
  const std::array<AmountByKey, 2> amounts{std::pair{std::string("spray-rate"), &view.spray_rate},
                                           std::pair{std::string("tea-rate"), &view.tea_rate}};
  if (!view.rates_unknown) {
    draw_start_amounts(pen, input, amounts);
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
  const std::array<AmountByKey, 2> amounts{std::pair{std::string("wind"), &view.wind},
                                           std::pair{std::string("temperature"), &view.temperature}};
  draw_start_amounts(pen, input, amounts);
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

}  // namespace

void draw_start_amounts(Pen& pen, StartPassInput& input, std::span<const AmountByKey> amounts) {
  std::vector<Stepper> specs;
  for (const auto& [key, amount] : amounts) specs.push_back(stepper_of(key, *amount));
  int which = -1;
  const Stepped by = steppers(pen, specs, which);
  if (which < 0) return;
  const auto& [key, amount] = amounts[static_cast<std::size_t>(which)];
  if (by) step_amount(input.form, key, *amount, by);
  if (by.open) open_amount(input.typing, key, amount->written, unit(amount->unit_word));
}

std::optional<Ask> draw_start_sheet(const StartPassView& view, StartPassInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "list", .title = view.sheet_title});
  const std::string open = input.sheet;
  if (open == "who") ask = who_sheet(sheet.pen(), view, input);
  if (open == "plan") plan_sheet_list(sheet.pen(), view, input);
  if (open == "wash") ask = wash_sheet(sheet.pen(), view, input);
  if (open == "rig") rig_sheet(sheet.pen(), view, input);
  if (open == "brew") ask = brew_sheet_list(sheet.pen(), view, input);
  if (open == "rates") rates_sheet(sheet.pen(), view, input);
  if (open == "beds") beds_sheet(sheet.pen(), view, input);
  if (open == "weather") weather_sheet(sheet.pen(), view, input);
  if (open == "new-rig") ask = new_rig_sheet(sheet.pen(), view, input);
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

}  // namespace steep
