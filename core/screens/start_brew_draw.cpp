#include <algorithm>
#include <utility>

#include "base/text.h"
#include "book/enter.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/amounts.h"
#include "screens/parts.h"
#include "screens/start_brew.h"

namespace steep {
namespace {

using Line = StartBrewView::Line;

void set_or_erase(DraftFields& form, const char* key, bool set) {
  if (set) {
    form[key] = "yes";
  } else {
    form.erase(key);
  }
}

/// So large a step that a press is felt, at any size.
double lot_step(double amount) {
  if (amount >= 20) return 1;
  if (amount >= 2) return 0.5;
  return amount >= 1 ? 0.25 : 0.05;
}

void take_lot(const StartBrewView::Lot& lot, bool on, StartBrewInput& input) {
  const std::string key = "lot:" + lot.id;
  if (!on) {
    input.form.erase(key);
    input.form["off:" + lot.id] = "yes";
    return;
  }
  input.form.erase("off:" + lot.id);
  input.form[key] = "not taken";  // Until an amount is typed.
  open_amount(input.typing, key, lot.written, unit(lot.unit));
}

void draw_lot_amount(Pen& at, const StartBrewView::Lot& lot, StartBrewInput& input) {
  const std::string key = "lot:" + lot.id;
  const Stepped by = stepper(at, {.id = "amount",
                                  .value = lot.value,
                                  .unit = lot.shown_unit,
                                  .spoken = lot.spoken,
                                  .due = lot.proposed || !lot.written});
  const double now = lot.written ? lot.written->amount.to_double() : 0;
  if (by) input.form[key] = write_quantity(step_value(now, lot_step(now), by, 0, 1e6), unit(lot.unit), 2).text;
  if (by.open) open_amount(input.typing, key, lot.written, unit(lot.unit));
}

void draw_lots(Pen& pen, const StartBrewView& view, StartBrewInput& input) {
  if (view.lots.empty() && view.without_lot.empty()) return;
  Card card(pen, {.id = "lots", .head = view.in_head});
  paragraph_in(card.pen, view.in_why, TextStyle::Label, colors().ink2);
  for (const StartBrewView::Lot& lot : view.lots) {
    IdScope scope(lot.id);
    const bool beside = lot.on && card.pen.width() >= 300 && text_size(TextStyle::Body) < 20;
    Pen words = beside ? card.pen.column({-1, 168}, 0) : card.pen;
    const float top = words.y;
    bool on = lot.on;
    if (check_row(words, "lot", lot.name, on, lot.detail)) take_lot(lot, on, input);
    card.pen.below(words);
    if (!lot.on) continue;
    Pen at = beside ? card.pen.column({-1, 168}, 1) : card.pen;
    if (beside) at.y = top;
    draw_lot_amount(at, lot, input);
    card.pen.below(at);
    card.pen.space(size::kGrid);
  }
  for (std::size_t i = 0; i < view.without_lot.size(); ++i) {
    IdScope scope("without", static_cast<std::int64_t>(i));
    caution_line(card.pen, {.id = "lot", .text = view.without_lot[i]});
  }
}

/// A new vessel as it was typed, entered; the form forgets it.
Ask enter_vessel(StartBrewInput& input, const UnitsShown& units) {
  EnterFields fields{{"name", std::string(trim(input.form["new-vessel"]))}};
  const auto add_volume = [&](const char* field, const char* typed) {
    const std::string_view number = trim(input.form[typed]);
    if (!number.empty()) fields.emplace_back(field, std::string(number) + " " + std::string(tank_unit(units).word));
  };
  add_volume("volume.nominal", "new-vessel-size");
  add_volume("volume.working", "new-vessel-working");
  EnterAs as;
  as.habits = {units.mark, units.gallons};
  for (const char* key : {"new-vessel", "new-vessel-size", "new-vessel-working", "vessel"}) input.form.erase(key);
  input.sheet.clear();
  return Do{[fields, as](Book& book, const Going& going) { return enter(book, "vessel", fields, as, going); }};
}

std::optional<Ask> draw_new_vessel(Pen& pen, const StartBrewView& view, StartBrewInput& input) {
  text_field(pen, {.id = "vessel-name", .label = view.vessel_name, .max_length = 60}, input.form["new-vessel"]);
  pen.space(size::kGrid);
  text_field(pen, {.id = "vessel-size", .label = view.vessel_holds, .kind = FieldKind::Decimal, .max_length = 12},
             input.form["new-vessel-size"]);
  pen.space(size::kGrid);
  text_field(pen, {.id = "vessel-working", .label = view.vessel_working, .kind = FieldKind::Decimal, .max_length = 12},
             input.form["new-vessel-working"]);
  pen.space(size::kGroupGap);
  const bool ready = !trim(input.form["new-vessel"]).empty();
  if (button(pen, {.id = "vessel-save", .text = view.vessel_save, .kind = ButtonKind::Primary, .enabled = ready}) &&
      ready)
    return enter_vessel(input, view.units);
  return {};
}

/// One of the list was pressed: it goes into the form, or a new kind of water is entered.
std::optional<Ask> choose(const StartBrewView::Option& option, StartBrewInput& input) {
  const std::string about = std::exchange(input.sheet, {});
  if (option.key.rfind("new:", 0) == 0) {
    return Do{[kind = option.key.substr(4), name = option.first](Book& book, const Going& going) {
      return enter(book, "water-source", {{"name", name}, {"kind", kind}}, {}, going);
    }};
  }
  input.form[about] = option.key;
  if (about == "vessel" || about == "plan") input.form.erase("fill");
  // Another plan or recipe proposes anew.
  if (about == "plan" || about == "recipe")
    std::erase_if(input.form, [](const auto& entry) {
      return entry.first.rfind("lot:", 0) == 0 || entry.first.rfind("off:", 0) == 0;
    });
  return {};
}

std::optional<Ask> draw_options(Pen& pen, const StartBrewView& view, StartBrewInput& input) {
  std::vector<Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < view.options.size(); ++i) {
    choices.push_back({.text = view.options[i].first, .second = view.options[i].second});
    if (view.options[i].chosen) chosen = static_cast<int>(i);
  }
  const bool of_vessels = input.sheet == "vessel";
  std::optional<Ask> ask;
  if (const int i = choice_list(pen, "options", view.list_title, choices, chosen); i >= 0)
    ask = choose(view.options[static_cast<std::size_t>(i)], input);
  if (view.list_add.empty()) return ask;
  pen.space(size::kGrid);
  if (!of_vessels)
    paragraph(pen, view.list_add);
  else if (button(pen, {.id = "add", .text = view.list_add, .icon = Icon::Plus}))
    input.sheet = "new-vessel";
  return ask;
}

std::optional<Ask> list_sheet(const StartBrewView& view, StartBrewInput& input) {
  Sheet sheet({.id = "list", .title = view.list_title});
  auto ask =
      input.sheet == "new-vessel" ? draw_new_vessel(sheet.pen(), view, input) : draw_options(sheet.pen(), view, input);
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

void draw_typing(const StartBrewView& view, StartBrewInput& input) {
  const std::string what = input.typing.what;
  const Unit& now = unit(input.typing.unit);
  AmountAsk ask{.title = view.fill_label, .dimension = now.dimension, .units = usual_units(now.dimension)};
  if (std::find(ask.units.begin(), ask.units.end(), &now) == ask.units.end()) ask.units.insert(ask.units.begin(), &now);
  for (const StartBrewView::Lot& lot : view.lots) {
    if (what == "lot:" + lot.id) {
      ask.title = lot.name;
      ask.can_be_not_taken = true;
    }
  }
  const AmountAnswer answer = amount_sheet(input.typing, ask, view.units);
  if (answer.written) input.form[what] = answer.written->text;
}

Do start_it(const StartBrewView& view) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [given = view.given, in_water = view.in_water, air = view.air_on](Book& book, const Going& going) mutable {
    if (in_water) given.met_water = book.now().at;
    if (air) given.air_on = book.now().at;
    return start_brew(book, given, going);
  };
  ask.then = [](const Outcome& outcome) -> std::optional<Ask> { return Go{{"brew-page", outcome.record}, true}; };
  return ask;
}

Icon icon_of(const Line& line) {
  if (line.missing) return Icon::Question;
  if (line.id == "plan") return Icon::Calendar;
  if (line.id == "recipe") return Icon::Brew;
  return line.id == "vessel" ? Icon::Vessel : Icon::Water;
}

void draw_known(Pen& pen, const StartBrewView& view, StartBrewInput& input) {
  Card card(pen, {.id = "known"});
  for (std::size_t i = 0; i < view.lines.size(); ++i) {
    const Line& line = view.lines[i];
    if (list_row(card.pen, {.id = line.id,
                            .icon = icon_of(line),
                            .first = line.first,
                            .second = line.second,
                            .line_above = i > 0,
                            .spoken = line.spoken}))
      input.sheet = line.id;
  }
}

void draw_fill(Pen& pen, const StartBrewView& view, StartBrewInput& input) {
  Card card(pen, {.id = "fill", .head = view.fill_question, .edge = CardEdge::Ink});
  const Stepped by = stepper(card.pen, {.id = "fill-amount",
                                        .label = view.fill_label,
                                        .value = view.fill_value,
                                        .unit = view.fill_unit,
                                        .spoken = view.fill_spoken});
  const Unit& unit_now = view.fill ? *view.fill->unit : tank_unit(view.units);
  if (by) {
    const double now = view.fill ? view.fill->amount.to_double() : 0;
    input.form["fill"] = write_quantity(step_value(now, usual_step(unit_now) * 5, by, 0, 1e6), unit_now, 2).text;
  }
  if (by.open) open_amount(input.typing, "fill", view.fill, unit_now);
  if (!view.fill_note.empty()) caution_line(card.pen, {.id = "brim", .text = view.fill_note});
}

void draw_clocks(Pen& pen, const StartBrewView& view, StartBrewInput& input) {
  Card card(pen, {.id = "clocks"});
  bool in_water = view.in_water, air = view.air_on;
  if (check_row(card.pen, "in-water", view.water_check, in_water)) set_or_erase(input.form, "no-water", !in_water);
  if (check_row(card.pen, "air", view.air_check, air)) set_or_erase(input.form, "no-air", !air);
}

std::optional<Ask> draw_start(Pen& pen, const StartBrewView& view) {
  if (!view.missing.empty()) missing_line(pen, view.missing);
  const bool pressed = button(
      pen,
      {.id = "start", .text = view.start, .icon = Icon::Brew, .kind = ButtonKind::Primary, .enabled = view.can_start});
  if (pressed && view.can_start) return start_it(view);
  return {};
}

}  // namespace

std::optional<Ask> draw_start_brew(const StartBrewView& view, StartBrewInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("start-brew", view.title, view.second));
  std::optional<Ask> ask;
  const auto answer = [&](std::optional<Ask> of_part) {
    if (of_part) ask = std::move(of_part);
  };
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    if (input.sheet.empty()) problem_line(pen, view.problem);
    draw_known(pen, view, input);
    draw_fill(pen, view, input);
    draw_lots(pen, view, input);
    draw_clocks(pen, view, input);
    answer(draw_work_links(pen, view.links, {}));
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    answer(draw_start(actions.pen(), view));
  }
  if (!furniture.covered) {
    if (input.typing.is_open())
      draw_typing(view, input);
    else if (!input.sheet.empty() && input.sheet == view.sheet)
      answer(list_sheet(view, input));
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
