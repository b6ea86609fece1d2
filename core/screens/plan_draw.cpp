#include <algorithm>

#include "book/plan_commands.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/draw.h"
#include "look/numbers.h"
#include "look/rows.h"
#include "look/stepper.h"
#include "screens/parts.h"
#include "screens/plan.h"

namespace steep {
namespace {

void draw_ledger(Pen& pen, const std::vector<PlanPageView::Line>& lines, PlanPageInput& input) {
  std::vector<LedgerLine> drawn;
  for (const auto& line : lines)
    drawn.push_back({.id = line.id,
                     .words = line.words,
                     .detail = line.detail,
                     .number = line.number,
                     .unit = line.unit,
                     .icon = line.id == "beds" ? Icon::Pencil : Icon::None,
                     .strong = line.id == "beds",
                     .total = line.total,
                     .large = line.total});
  if (const int i = ledger(pen, drawn); i >= 0) input.sheet = "formula:" + lines[static_cast<std::size_t>(i)].id;
}

void draw_tea(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  Card card(pen, {.id = "tea"});
  paragraph_in(card.pen, view.rates_of, TextStyle::Label, colors().ink2);
  card.pen.space(4);
  draw_ledger(card.pen, view.tea, input);
}

void draw_loads(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  Card card(pen, {.id = "loads", .head = view.loads_head});
  draw_ledger(card.pen, view.loads, input);
}

void draw_ingredient(Pen& pen, const PlanPageView::Ingredient& one, PlanPageInput& input) {
  IdScope scope(one.id);
  const bool beside = pen.width() >= 300 && text_size(TextStyle::Body) < 20;
  Pen words = beside ? pen.column({-1, 168}, 0) : pen;
  const float top = words.y;
  paragraph_in(words, one.name, TextStyle::Strong, colors().ink);
  paragraph_in(words, one.second, one.due ? TextStyle::LabelStrong : TextStyle::Label,
               one.due ? colors().duetext : colors().ink2);
  Pen at = beside ? pen.column({-1, 168}, 1) : words;
  if (beside) at.y = top;
  const Stepped by =
      stepper(at, {.id = "amount", .value = one.value, .unit = one.unit, .spoken = one.spoken, .due = !one.chosen});
  const Unit& of = unit(one.unit_word);
  const std::string key = "line:" + one.id;
  if (by) {
    const double now = one.written ? one.written->amount.to_double() : 0;
    const double step = now >= 20 ? 1 : now >= 2 ? 0.5 : now >= 1 ? 0.25 : 0.05;
    input.form[key] = write_quantity(step_value(now, step, by, 0, 1e6), of, 2).text;
  }
  if (by.open) open_amount(input.typing, key, one.written, of);
  pen.below(words);
  pen.below(at);
  pen.space(size::kGrid);
}

void draw_recipe(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  Card card(pen, {.id = "recipe"});
  const std::string head = view.recipe_note.empty() ? view.recipe : view.recipe + " " + view.recipe_note;
  if (heading_with_link(card.pen, head, "change-recipe", view.recipe_change, Icon::ChevronRight, TextStyle::Strong))
    input.sheet = "recipe";
  card.pen.space(6);
  for (const auto& one : view.ingredients) draw_ingredient(card.pen, one, input);
  if (!view.rules.empty())
    rule_line(card.pen, {.id = "rules", .head = view.rule_head, .lines = view.rules, .opens = false});
}

Icon icon_of(const std::string& id) {
  if (id == "vessels") return Icon::Vessel;
  if (id == "water") return Icon::WaterPump;
  if (id == "temperature") return Icon::Thermometer;
  return Icon::Question;
}

void draw_things(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  for (std::size_t i = 0; i < view.things.size(); ++i) {
    const auto& row = view.things[i];
    IdScope scope("thing", static_cast<std::int64_t>(i));
    if (!list_row(pen, {.id = row.id,
                        .icon = icon_of(row.id),
                        .first = row.first,
                        .second = row.second,
                        .value = row.value,
                        .second_color = row.due ? colors().duetext : 0,
                        .line_above = i > 0,
                        .spoken = row.spoken}))
      continue;
    const auto amount =
        std::find_if(view.amounts.begin(), view.amounts.end(), [&](const auto& a) { return a.key == row.id; });
    if (amount != view.amounts.end())
      open_amount(input.typing, amount->key, amount->written, unit(amount->unit_word));
    else
      input.sheet = row.id;
  }
}

void draw_start(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  if (view.starts.empty()) return;
  pen.space(size::kGrid);
  paragraph_in(pen, view.start_name, TextStyle::LabelStrong, colors().ink);
  pen.space(4);
  std::vector<Choice> choices;
  for (const std::string& start : view.starts) choices.push_back({.text = start});
  const int i = segmented(pen, "start", view.start_name, choices, view.start);
  if (i == 0 || i == 1) {
    input.form.erase("air-on");
    input.form.erase("air-now");
  }
  if (i == 1) input.form["air-now"] = "yes";
  if (i == 2) input.sheet = "air-on";
  if (!view.figure.has_ribbon) return;
  pen.space(10);
  draw_brew_ribbon(pen, view.figure);
  const float y = pen.y;
  Pen left = pen.column({-1, -1}, 0), right = pen.column({-1, -1}, 1);
  left.y = right.y = y;
  paragraph_in(left, view.start_text, TextStyle::Label, colors().ink);
  if (!view.ready_text.empty())
    paragraph_in(right, view.ready_text, TextStyle::LabelStrong, colors().ink, Align::Right);
  pen.below(left);
  pen.below(right);
}

void draw_brewing(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  if (view.things.empty()) return;
  Card card(pen, {.id = "brewing", .edge = view.missing.empty() ? CardEdge::Grey : CardEdge::Ink});
  draw_things(card.pen, view, input);
  draw_start(card.pen, view, input);
}

/// The chain of times; each opens its formula.
void draw_times(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  Card card(pen, {.id = "times", .head = view.times_head});
  for (std::size_t i = 0; i < view.times.size(); ++i) {
    const auto& line = view.times[i];
    if (list_row(card.pen, {.id = line.id, .first = line.words, .value = line.number, .line_above = i > 0}))
      input.sheet = "formula:" + line.id;
  }
  paragraph_in(card.pen, view.estimate, TextStyle::Label, colors().ink2);
}

void draw_doubts(Pen& pen, const PlanPageView& view) {
  if (view.doubts.empty()) return;
  Card card(pen, {.id = "doubts", .head = view.doubts_head, .sign = Icon::CautionDue});
  for (std::size_t i = 0; i < view.doubts.size(); ++i) {
    IdScope scope("doubt", static_cast<std::int64_t>(i));
    if (i > 0) card.pen.space(4);
    caution_line(card.pen, {.id = "doubt", .text = view.doubts[i]});
  }
}

Do write_it(const PlanPageView& view) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [choices = view.choices](Book& book, const Going& going) -> Result<Outcome> {
    TRY_ASSIGN(const BedStates& states, bed_states(book, choices.farm, book.now().at));
    return write_plan(book, states, choices, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Go{{"today", {}}}; };
  return ask;
}

void draw_first(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  if (view.tea.empty()) return;
  draw_tea(pen, view, input);
  draw_recipe(pen, view, input);
}

void draw_second(Pen& pen, const PlanPageView& view, PlanPageInput& input) {
  draw_brewing(pen, view, input);
  if (view.tea.empty()) return;
  draw_doubts(pen, view);
  draw_times(pen, view, input);
  draw_loads(pen, view, input);
}

}  // namespace

std::optional<Ask> draw_plan_page(const PlanPageView& view, PlanPageInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("plan", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen& whole = main.pen();
    if (whole.width() >= 760 && !view.tea.empty()) {
      if (input.sheet.empty()) problem_line(whole, view.problem);
      Pen left = whole.column({-1, -1}, 0, 24), right = whole.column({-1, -1}, 1, 24);
      draw_first(left, view, input);
      draw_second(right, view, input);
      whole.below(left);
      whole.below(right);
    } else {
      Pen pen = reading_column(whole);
      if (input.sheet.empty()) problem_line(pen, view.problem);
      draw_first(pen, view, input);
      draw_second(pen, view, input);
      whole.below(pen);
    }
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    if (button(pen, {.id = "write",
                     .text = view.write,
                     .icon = Icon::Brew,
                     .kind = ButtonKind::Primary,
                     .enabled = view.can_write}) &&
        view.can_write)
      ask = write_it(view);
  }
  if (!furniture.covered) {
    if (auto asked = draw_plan_sheet(view, input)) ask = asked;
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
