#include <algorithm>
#include <array>

#include "look/button.h"
#include "look/choice.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/form_text.h"
#include "screens/plan.h"

namespace steep {
namespace {

using Amount = PlanPageView::Amount;
using Line = PlanPageView::Line;

const Amount* amount_named(const PlanPageView& view, std::string_view key) {
  for (const Amount& amount : view.amounts)
    if (amount.key == key) return &amount;
  return nullptr;
}

void step_amount(PlanPageInput& input, const Amount& amount, const Stepped& by) {
  const Unit* of = find_unit(amount.unit_word);
  if (by && of)
    input.form[amount.key] =
        write_quantity(step_value(amount.written ? amount.written->amount.to_double() : 0, usual_step(*of), by, 0, 1e6),
                       *of, 3)
            .text;
  if (by.open && of) open_amount(input.typing, amount.key, amount.written, *of);
}

void rates_sheet(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  const Amount *spray = amount_named(view, "spray-rate"), *tea = amount_named(view, "tea-rate");
  const std::array<const Amount*, 2> both{spray, tea};
  std::vector<Stepper> specs;
  for (const Amount* a : both)
    specs.push_back(
        {.id = a->key, .label = a->label, .value = a->value, .unit = a->unit, .spoken = a->spoken, .due = !a->written});
  int which = -1;
  const Stepped by = steppers(pen, specs, which);
  if (which >= 0) step_amount(input, *both[static_cast<std::size_t>(which)], by);
  pen.space(size::kGrid);
  std::vector<Choice> choices;
  for (const auto& area : view.areas) choices.push_back({.text = area.first});
  const int chosen = view.areas.size() == 2 && view.areas[1].chosen ? 1 : 0;
  if (const int i = choice_cells(pen, "area", view.sheet_title, choices, chosen, 2); i >= 0)
    input.form["area"] = view.areas[static_cast<std::size_t>(i)].key;
}

void beds_sheet(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  std::vector<Id> chosen;
  for (const auto& option : view.options)
    if (option.chosen) chosen.push_back(Id::parse(option.key).value_or(Id{}));
  bool changed = false;
  for (std::size_t i = 0; i < view.areas.size(); ++i) {
    IdScope scope("block", static_cast<std::int64_t>(i));
    bool on = view.areas[i].chosen;
    if (!check_row(pen, "block", view.areas[i].first, on)) continue;
    for (const std::string_view text : split(view.areas[i].key, ' ')) {
      const Id id = Id::parse(text).value_or(Id{});
      chosen.erase(std::remove(chosen.begin(), chosen.end(), id), chosen.end());
      if (on) chosen.push_back(id);
    }
    changed = true;
  }
  for (const auto& option : view.options) {
    IdScope scope(option.key);
    bool on = option.chosen;
    if (!check_row(pen, "bed", option.first, on, option.second)) continue;
    const Id id = Id::parse(option.key).value_or(Id{});
    if (on)
      chosen.push_back(id);
    else
      chosen.erase(std::remove(chosen.begin(), chosen.end(), id), chosen.end());
    changed = true;
  }
  if (changed) input.form["beds"] = chosen.empty() ? "none" : ids_text(chosen);
}

void vessels_sheet(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  paragraph(pen, view.sheet_note);
  pen.space(size::kGrid);
  std::vector<Id> chosen;
  for (const auto& option : view.options)
    if (option.chosen) chosen.push_back(Id::parse(option.key).value_or(Id{}));
  for (const auto& option : view.options) {
    IdScope scope(option.key);
    bool on = option.chosen;
    if (!check_row(pen, "vessel", option.first, on, option.second)) continue;
    const Id id = Id::parse(option.key).value_or(Id{});
    if (on)
      chosen.push_back(id);
    else
      chosen.erase(std::remove(chosen.begin(), chosen.end(), id), chosen.end());
    input.form["vessels"] = ids_text(chosen);
  }
}

/// One of a list: its key goes into the form under the sheet's name.
void list_sheet(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  std::vector<Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < view.options.size(); ++i) {
    choices.push_back({.text = view.options[i].first, .second = view.options[i].second});
    if (view.options[i].chosen) chosen = static_cast<int>(i);
  }
  if (!view.sheet_note.empty()) paragraph(pen, view.sheet_note);
  const int i = choice_list(pen, "options", view.sheet_title, choices, chosen);
  if (i < 0) return;
  input.form[input.sheet] = view.options[static_cast<std::size_t>(i)].key;
  // Amounts were meant for the other recipe.
  if (input.sheet == "recipe")
    std::erase_if(input.form, [](const auto& entry) { return entry.first.rfind("line:", 0) == 0; });
  input.sheet.clear();
}

/// The same clock another day; in the gap of spring an hour later.
Moment another_day(const Zone& zone, Moment at, int days) {
  LocalTime local = zone.local(at);
  local.date = local.date + days;
  const auto moments = zone.instants(local);
  return moments.empty() ? at + days * kDay : moments.front();
}

void time_sheet(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  const std::string key = input.sheet == "air-on" ? "air-on" : "at";
  const auto set = [&](Moment at) {
    input.form[key] = std::to_string(at.ms);
    if (key == "air-on") input.form.erase("air-now");
  };
  const std::string day_spoken = view.day_label + " " + view.day, clock_spoken = view.clock_label + " " + view.clock;
  if (const Stepped by = stepper(
          pen, {.id = "day", .label = view.day_label, .value = view.day, .spoken = day_spoken, .can_type = false}))
    set(another_day(view.zone, view.time, by.steps));
  pen.space(size::kGrid);
  constexpr std::int64_t kStep = 15 * kMinute;
  if (const Stepped by = stepper(
          pen,
          {.id = "clock", .label = view.clock_label, .value = view.clock, .spoken = clock_spoken, .can_type = false})) {
    // To whole quarters of an hour.
    const std::int64_t rest = view.time.ms % kStep;
    const std::int64_t base = rest == 0      ? view.time.ms
                              : by.steps > 0 ? view.time.ms - rest
                                             : view.time.ms - rest + kStep;
    set(Moment{base + by.steps * kStep});
  }
  pen.space(size::kGroupGap);
  if (button(pen, {.id = "done", .text = view.done, .kind = ButtonKind::Primary})) input.sheet.clear();
}

const Line* line_named(const PlanPageView& view, std::string_view id) {
  for (const auto* lines : {&view.tea, &view.loads, &view.times})
    for (const Line& line : *lines)
      if (line.id == id) return &line;
  return nullptr;
}

std::optional<Ask> formula_sheet(Pen& pen, const PlanPageView& view, const Line& line, PlanPageInput& input) {
  paragraph(pen, line.formula);
  if (!line.numbers.empty()) {
    pen.space(size::kGrid);
    paragraph(pen, line.numbers, TextStyle::Strong);
  }
  if (!line.note.empty()) {
    pen.space(size::kGrid);
    paragraph_in(pen, line.note, TextStyle::Label, colors().ink2);
  }
  for (std::size_t i = 0; i < line.changes.size(); ++i) {
    IdScope scope("change", static_cast<std::int64_t>(i));
    pen.space(i == 0 ? size::kGroupGap : size::kGrid);
    const auto& [to, words] = line.changes[i];
    if (!button(pen, {.id = "change", .text = words, .icon = Icon::Pencil})) continue;
    input.sheet.clear();
    if (to == "limits") return Go{{"limits", {}}};
    if (const Amount* amount = amount_named(view, to))
      open_amount(input.typing, amount->key, amount->written, unit(amount->unit_word));
    else
      input.sheet = to;
  }
  return std::nullopt;
}

void draw_typing(const PlanPageView& view, PlanPageInput& input) {
  const std::string what = input.typing.what;
  const Unit& now = unit(input.typing.unit);
  AmountAsk ask{.dimension = now.dimension, .units = usual_units(now.dimension)};
  if (std::find(ask.units.begin(), ask.units.end(), &now) == ask.units.end()) ask.units.insert(ask.units.begin(), &now);
  if (const Amount* amount = amount_named(view, what)) ask.title = amount->label;
  for (const auto& one : view.ingredients)
    if (what == "line:" + one.id) ask.title = one.name;
  const AmountAnswer answer = amount_sheet(input.typing, ask, view.units);
  if (answer.written) input.form[what] = answer.written->text;
}

}  // namespace

std::optional<Ask> draw_plan_sheet(const PlanPageView& view, PlanPageInput& input) {
  if (input.typing.is_open()) {
    draw_typing(view, input);
    return std::nullopt;
  }
  if (input.sheet.empty() || input.sheet != view.sheet) return std::nullopt;  // Else it is made for the next frame.
  const std::string open = input.sheet;
  const Line* line = open.rfind("formula:", 0) == 0 ? line_named(view, std::string_view(open).substr(8)) : nullptr;
  if (open.rfind("formula:", 0) == 0 && !line) {
    input.sheet.clear();
    return std::nullopt;
  }
  const std::string title =
      line ? line->words + " · " + line->number + (line->unit.empty() ? "" : " " + line->unit) : view.sheet_title;
  Sheet sheet({.id = "list", .title = title});
  Pen& pen = sheet.pen();
  std::optional<Ask> ask;
  if (line)
    ask = formula_sheet(pen, view, *line, input);
  else if (open == "beds")
    beds_sheet(pen, view, input);
  else if (open == "rates")
    rates_sheet(pen, view, input);
  else if (open == "vessels")
    vessels_sheet(pen, view, input);
  else if (open == "time" || open == "air-on")
    time_sheet(pen, view, input);
  else
    list_sheet(pen, view, input);
  if (sheet.closed() && input.sheet == open) input.sheet.clear();
  return ask;
}

}  // namespace steep
