#include <algorithm>

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

void draw_lots(Pen& pen, const StartBrewView& view, StartBrewInput& input) {
  if (view.lots.empty() && view.without_lot.empty()) return;
  Card card(pen, {.id = "lots", .head = view.in_head});
  paragraph_in(card.pen, view.in_why, TextStyle::Label, colors().ink2);
  for (const StartBrewView::Lot& lot : view.lots) {
    IdScope scope(lot.id);
    bool on = lot.on;
    const std::string key = "lot:" + lot.id;
    const bool beside = lot.on && card.pen.width() >= 300 && text_size(TextStyle::Body) < 20;
    Pen words = beside ? card.pen.column({-1, 168}, 0) : card.pen;
    const float top = words.y;
    if (check_row(words, "lot", lot.name, on, lot.detail)) {
      input.form.erase("off:" + lot.id);
      if (on) {
        input.form[key] = "not taken";  // Until an amount is typed.
        open_amount(input.typing, key, lot.written, unit(lot.unit));
      } else {
        input.form.erase(key);
        input.form["off:" + lot.id] = "yes";
      }
    }
    card.pen.below(words);
    if (!lot.on) continue;
    Pen at = beside ? card.pen.column({-1, 168}, 1) : card.pen;
    if (beside) at.y = top;
    const Stepped by = stepper(at, {.id = "amount",
                                    .value = lot.value,
                                    .unit = lot.shown_unit,
                                    .spoken = lot.spoken,
                                    .due = lot.proposed || !lot.written});
    const double now = lot.written ? lot.written->amount.to_double() : 0;
    if (by)
      input.form[key] = write_quantity(step_value(now,
                                                  now >= 20  ? 1
                                                  : now >= 2 ? 0.5
                                                  : now >= 1 ? 0.25
                                                             : 0.05,
                                                  by, 0, 1e6),
                                       unit(lot.unit), 2)
                            .text;
    if (by.open) open_amount(input.typing, key, lot.written, unit(lot.unit));
    card.pen.below(at);
    card.pen.space(size::kGrid);
  }
  for (std::size_t i = 0; i < view.without_lot.size(); ++i) {
    IdScope scope("without", static_cast<std::int64_t>(i));
    caution_line(card.pen, {.id = "lot", .text = view.without_lot[i]});
  }
}

std::optional<Ask> list_sheet(const StartBrewView& view, StartBrewInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "list", .title = view.list_title});
  Pen& pen = sheet.pen();
  if (input.sheet == "new-vessel") {
    problem_line(pen, view.problem);
    text_field(pen, {.id = "vessel-name", .label = view.vessel_name, .max_length = 60}, input.form["new-vessel"]);
    pen.space(size::kGrid);
    text_field(pen, {.id = "vessel-size", .label = view.vessel_holds, .kind = FieldKind::Decimal, .max_length = 12},
               input.form["new-vessel-size"]);
    pen.space(size::kGrid);
    text_field(pen,
               {.id = "vessel-working", .label = view.vessel_working, .kind = FieldKind::Decimal, .max_length = 12},
               input.form["new-vessel-working"]);
    pen.space(size::kGroupGap);
    const bool ready = !trim(input.form["new-vessel"]).empty();
    if (button(pen, {.id = "vessel-save", .text = view.vessel_save, .kind = ButtonKind::Primary, .enabled = ready}) &&
        ready) {
      EnterFields fields{{"name", std::string(trim(input.form["new-vessel"]))}};
      const std::string holds(trim(input.form["new-vessel-size"]));
      if (!holds.empty()) fields.emplace_back("volume.nominal", holds + " " + std::string(tank_unit(view.units).word));
      const std::string working(trim(input.form["new-vessel-working"]));
      if (!working.empty())
        fields.emplace_back("volume.working", working + " " + std::string(tank_unit(view.units).word));
      EnterAs as;
      as.habits = {view.units.mark, view.units.gallons};
      ask = Do{[fields, as](Book& book, const Going& going) { return enter(book, "vessel", fields, as, going); }};
      for (const char* key : {"new-vessel", "new-vessel-size", "new-vessel-working", "vessel"}) input.form.erase(key);
      input.sheet.clear();
    }
  } else {
    std::vector<Choice> choices;
    int chosen = -1;
    for (std::size_t i = 0; i < view.options.size(); ++i) {
      choices.push_back({.text = view.options[i].first, .second = view.options[i].second});
      if (view.options[i].chosen) chosen = static_cast<int>(i);
    }
    if (const int i = choice_list(pen, "options", view.list_title, choices, chosen); i >= 0) {
      const StartBrewView::Option& option = view.options[static_cast<std::size_t>(i)];
      if (option.key.rfind("new:", 0) == 0) {
        const std::string kind = option.key.substr(4);
        ask = Do{[kind, name = option.first](Book& book, const Going& going) {
          return enter(book, "water-source", {{"name", name}, {"kind", kind}}, {}, going);
        }};
      } else {
        input.form[input.sheet] = option.key;
        if (input.sheet == "vessel" || input.sheet == "plan") input.form.erase("fill");
        // Another plan or recipe proposes anew.
        if (input.sheet == "plan" || input.sheet == "recipe")
          std::erase_if(input.form, [](const auto& entry) {
            return entry.first.rfind("lot:", 0) == 0 || entry.first.rfind("off:", 0) == 0;
          });
      }
      input.sheet.clear();
    }
    if (!view.list_add.empty()) {
      pen.space(size::kGrid);
      if (input.sheet == "vessel") {
        if (button(pen, {.id = "add", .text = view.list_add, .icon = Icon::Plus})) input.sheet = "new-vessel";
      } else {
        paragraph(pen, view.list_add);
      }
    }
  }
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

}  // namespace

std::optional<Ask> draw_start_brew(const StartBrewView& view, StartBrewInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("start-brew", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    if (input.sheet.empty()) problem_line(pen, view.problem);
    {
      Card card(pen, {.id = "known"});
      for (std::size_t i = 0; i < view.lines.size(); ++i) {
        const Line& line = view.lines[i];
        const Icon icon = line.missing          ? Icon::Question
                          : line.id == "plan"   ? Icon::Calendar
                          : line.id == "recipe" ? Icon::Brew
                          : line.id == "vessel" ? Icon::Vessel
                                                : Icon::Water;
        if (list_row(card.pen, {.id = line.id,
                                .icon = icon,
                                .first = line.first,
                                .second = line.second,
                                .line_above = i > 0,
                                .spoken = line.spoken}))
          input.sheet = line.id;
      }
    }
    {
      Card card(pen, {.id = "fill", .head = view.fill_question, .edge = CardEdge::Ink});
      const Stepped by = stepper(card.pen, {.id = "fill-amount",
                                            .label = view.fill_label,
                                            .value = view.fill_value,
                                            .unit = view.fill_unit,
                                            .spoken = view.fill_spoken});
      const Unit& unit_now = view.fill ? *view.fill->unit : tank_unit(view.units);
      if (by)
        input.form["fill"] = write_quantity(step_value(view.fill ? view.fill->amount.to_double() : 0,
                                                       usual_step(unit_now) * 5, by, 0, 1e6),
                                            unit_now, 2)
                                 .text;
      if (by.open) open_amount(input.typing, "fill", view.fill, unit_now);
      if (!view.fill_note.empty()) caution_line(card.pen, {.id = "brim", .text = view.fill_note});
    }
    draw_lots(pen, view, input);
    {
      Card card(pen, {.id = "clocks"});
      bool in_water = view.in_water, air = view.air_on;
      if (check_row(card.pen, "in-water", view.water_check, in_water)) set_or_erase(input.form, "no-water", !in_water);
      if (check_row(card.pen, "air", view.air_check, air)) set_or_erase(input.form, "no-air", !air);
    }
    if (auto asked = draw_work_links(pen, view.links, {})) ask = asked;
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    if (button(pen, {.id = "start",
                     .text = view.start,
                     .icon = Icon::Brew,
                     .kind = ButtonKind::Primary,
                     .enabled = view.can_start}) &&
        view.can_start)
      ask = start_it(view);
  }
  if (!furniture.covered) {
    if (input.typing.is_open()) {
      draw_typing(view, input);
    } else if (!input.sheet.empty() && input.sheet == view.sheet) {
      if (auto asked = list_sheet(view, input)) ask = asked;
    }
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
