#include <array>

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/frame.h"
#include "look/load_figures.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "look/stepper.h"

#include "screens/parts.h"
#include "screens/refill.h"

namespace steep {
namespace {

void step(DraftFields& form, const std::string& key, const std::optional<Written>& now, const Unit& unit_if_none,
          const Stepped& by, double most) {
  const Unit& unit = now ? *now->unit : unit_if_none;
  const double value = now ? now->amount.to_double() : 0;
  form[key] = write_quantity(step_value(value, usual_step(unit), by, 0, most), unit, 3).text;
}

void draw_where(Pen& pen, const RefillView& view, RefillInput& input) {
  if (!view.has_bed) return;
  heading(pen, view.question, TextStyle::Strong);
  pen.space(4);
  run_dry(pen, {.number = view.number,
                .at = view.at,
                .left_text = view.left_text,
                .right_text = view.right_text,
                .zero = view.zero,
                .here = view.here,
                .end = view.end,
                .from_far_end = view.from_far_end,
                .spoken = view.spoken});
  pen.space(size::kGrid);
  const bool beside = !look().stacks() && !view.proposed.empty();
  Pen left = beside ? pen.column({-64, -36}, 0, 12) : pen;
  const Stepped by =
      stepper(left, {.id = "at", .value = view.at_value, .unit = view.at_unit, .spoken = view.at_spoken});
  if (by) {
    const double most = amount_in(si(view.bed_length).to_double(), *view.at_now.unit);
    step(input.form, "at", view.at_now, *view.at_now.unit, by, most);
  }
  if (by.open) open_amount(input.typing, "at", view.at_now, *view.at_now.unit);
  if (beside) {
    Pen right = pen.column({-64, -36}, 1, 12);
    paragraph_in(right, view.proposed, TextStyle::Label, colors().ink2);
    pen.below(right);
  }
  pen.below(left);
}

void draw_covers(Pen& pen, const RefillView& view) {
  if (view.slabs.empty()) return;
  std::vector<LoadBar::Slab> slabs;
  for (const auto& [text, share] : view.slabs) slabs.push_back({text, share});
  load_bar(pen, {.label = view.covers_label,
                 .right = view.covers,
                 .slabs = slabs,
                 .sump_share = view.sump_share,
                 .below_right = view.stays,
                 .spoken = view.covers_spoken});
}

void draw_dry(Pen& pen, const RefillView& view, RefillInput& input) {
  if (view.dry_question.empty()) return;
  Card card(pen, {.id = "dry",
                  .head = view.dry_question,
                  .sign = view.dry_chosen < 0 ? Icon::Question : Icon::None,
                  .edge = CardEdge::Ink});
  const std::array<Choice, 2> ways{Choice{.text = view.dry}, Choice{.text = view.not_dry}};
  const int i = choice_cells(card.pen, "ways", view.dry_question, ways, view.dry_chosen);
  if (i >= 0) input.form["dry"] = i == 0 ? "yes" : "no";
}

void draw_closing(Pen& pen, const RefillView& view, RefillInput& input) {
  heading_with_note(pen, view.closes, view.closes_note);
  pen.space(4);
  if (view.ledger.empty()) {
    const Stepped by = stepper(pen, {.id = "left",
                                     .label = view.left_label,
                                     .value = view.left_value,
                                     .unit = view.left_unit,
                                     .spoken = view.left_spoken});
    if (by) step(input.form, "left", view.left_now, *view.left_now.unit, by, 1e6);
    if (by.open) open_amount(input.typing, "left", view.left_now, *view.left_now.unit);
    return;
  }
  Card card(pen, {.id = "closing"});
  if (look().stacks()) {
    // Large words leave no room for columns: each line is a row of its own.
    for (std::size_t i = 0; i < view.ledger.size(); ++i) {
      IdScope scope("line", static_cast<std::int64_t>(i));
      const RefillView::Line& line = view.ledger[i];
      const std::string amount = line.number + " " + line.unit;
      if (list_row(card.pen,
                   {.id = "row", .first = amount, .second = line.words, .opens = i == 1, .line_above = i > 0})) {
        open_amount(input.typing, "left", view.left_now, *view.left_now.unit);
      }
    }
    return;
  }
  std::vector<LedgerLine> lines;
  for (std::size_t i = 0; i < view.ledger.size(); ++i) {
    const RefillView::Line& line = view.ledger[i];
    // What was left is read off the tank: a tap types it.
    lines.push_back({.id = i == 1 ? "left" : "",
                     .words = line.words,
                     .number = line.number,
                     .unit = line.unit,
                     .icon = i == 1 ? Icon::Pencil : Icon::None,
                     .total = line.total});
  }
  if (ledger(card.pen, lines) == 1) open_amount(input.typing, "left", view.left_now, *view.left_now.unit);
}

void draw_next(Pen& pen, const RefillView& view, RefillInput& input) {
  if (view.brew.empty()) {
    heading(pen, view.next);
  } else if (heading_with_link(pen, view.next, "brew", view.brew)) {
    input.brews_open = true;
  }
  pen.space(4);
  std::vector<Stepper> specs;
  std::vector<std::string> keys;
  if (view.has_tea) {
    specs.push_back({.id = "tea",
                     .label = view.tea_label,
                     .value = view.tea_value,
                     .unit = view.tea_unit,
                     .spoken = view.tea_spoken});
    keys.emplace_back("tea");
  }
  specs.push_back({.id = "water",
                   .label = view.water_label,
                   .value = view.water_value,
                   .unit = view.water_unit,
                   .spoken = view.water_spoken});
  keys.emplace_back("water");
  int which = -1;
  const Stepped by = steppers(pen, specs, which);
  if (which >= 0) {
    const std::string& key = keys[static_cast<std::size_t>(which)];
    const std::optional<Written>& now = key == "tea" ? view.tea_now : view.water_now;
    if (by) step(input.form, key, now, *view.left_now.unit, by, 1e6);
    if (by.open) open_amount(input.typing, key, now, *view.left_now.unit);
  }
  if (!view.sum.empty()) {
    pen.space(6);
    paragraph(pen, view.sum);
  }
}

void draw_typing(const RefillView& view, RefillInput& input) {
  const std::string what = input.typing.what;
  const bool length = what == "at";
  const Dimension dimension = length ? Dimension::Length : Dimension::Volume;
  std::string_view title = view.left_label;
  if (what == "tea") title = view.tea_label;
  if (what == "water") title = view.water_label;
  if (length) title = view.question;
  const AmountAnswer answer =
      amount_sheet(input.typing, {.title = title, .dimension = dimension, .units = usual_units(dimension)}, view.units);
  if (answer.written) input.form[what] = answer.written->text;
}

void draw_brews(const RefillView& view, RefillInput& input) {
  Sheet sheet({.id = "brews", .title = view.brews_title});
  std::vector<Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < view.brews.size(); ++i) {
    choices.push_back({.text = view.brews[i].first, .second = view.brews[i].second});
    if (view.brews[i].chosen) chosen = static_cast<int>(i);
  }
  if (const int i = choice_list(sheet.pen(), "list", view.brews_title, choices, chosen); i >= 0) {
    input.form["brew"] = view.brews[static_cast<std::size_t>(i)].key;
    input.brews_open = false;
  }
  if (sheet.closed()) input.brews_open = false;
}

Do refill_it(const RefillView& view) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [request = view.request](Book& book, const Going& going) { return refill(book, request, going); };
  ask.then = [pass = view.pass](const Outcome&) -> std::optional<Ask> { return Go{{"spraying", pass}, true}; };
  return ask;
}

}  // namespace

std::optional<Ask> draw_refill(const RefillView& view, RefillInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("refill", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    problem_line(pen, view.problem);
    draw_where(pen, view, input);
    pen.space(size::kGroupGap);
    draw_covers(pen, view);
    pen.space(size::kGroupGap);
    draw_dry(pen, view, input);
    draw_closing(pen, view, input);
    pen.space(4);
    draw_next(pen, view, input);
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    const int pressed = buttons(pen,
                                {{.id = "fill-up", .text = view.fill_up, .enabled = view.full_water.has_value()},
                                 {.id = "go",
                                  .text = view.go,
                                  .icon = Icon::WaterPump,
                                  .kind = ButtonKind::Primary,
                                  .enabled = view.missing.empty()}},
                                {1, 2});
    if (pressed == 0 && view.full_water) {
      if (view.full_tea) input.form["tea"] = view.full_tea->text;
      input.form["water"] = view.full_water->text;
    }
    if (pressed == 1 && view.missing.empty()) ask = refill_it(view);
  }
  if (!furniture.covered) {
    if (input.typing.is_open()) {
      draw_typing(view, input);
    } else if (input.brews_open && !view.brews_title.empty()) {
      draw_brews(view, input);
    }
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
