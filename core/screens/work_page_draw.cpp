#include <algorithm>

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/numbers.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "screens/parts.h"
#include "screens/work_form.h"
#include "screens/work_page.h"

namespace steep {
namespace {

constexpr float kListPanel = 340, kAnswerPanel = 372;

/// Numbers in a row make one ledger; words and days are rows of their own between them.
void draw_lines(Pen& pen, const std::vector<WorkAnswer::Line>& lines, WorkPageInput& input) {
  for (std::size_t i = 0; i < lines.size();) {
    if (lines[i].is_text) {
      const IdScope scope(lines[i].name);
      if (list_row(pen, {.id = "line",
                         .first = lines[i].number,
                         .second = lines[i].words,
                         .line_above = i > 0,
                         .spoken = lines[i].spoken}))
        input.open_line = lines[i].name;
      ++i;
      continue;
    }
    std::vector<LedgerLine> ledger_lines;
    const std::size_t begin = i;
    for (; i < lines.size() && !lines[i].is_text && !(i > begin && lines[begin].is_main); ++i)
      ledger_lines.push_back({.id = lines[i].name,
                              .words = lines[i].words,
                              .number = lines[i].number,
                              .unit = lines[i].unit,
                              .large = lines[i].is_main});
    if (const int pressed = ledger(pen, ledger_lines); pressed >= 0)
      input.open_line = lines[begin + static_cast<std::size_t>(pressed)].name;
    if (lines[begin].is_main && i < lines.size()) divider(pen, 4, 4);
  }
}

/// Two readings of what was typed: the person says which, and it stands in the field in plain words.
void draw_readings(Pen& pen, const WorkAnswer& answer, WorkPageInput& input) {
  if (answer.readings.empty()) return;
  std::vector<Choice> choices;
  for (const WorkAnswer::Reading& reading : answer.readings) choices.push_back({.text = reading.words});
  heading(pen, answer.which);
  pen.space(6);
  if (const int i = choice_cells(pen, "readings", answer.which, choices, -1, 1); i >= 0) {
    const WorkAnswer::Reading& chosen = answer.readings[static_cast<std::size_t>(i)];
    input.form[chosen.input] = chosen.text;
  }
  pen.space(size::kGrid);
}

std::optional<Ask> use_it(const WorkUse& use, WorkPageInput& input) {
  if (use.options.size() == 1) return use.options.front().ask;
  input.open_use = use.id;
  return std::nullopt;
}

/// All uses but the first, which stands at the thumb.
std::optional<Ask> draw_other_uses(Pen& pen, const WorkPageView& view, WorkPageInput& input, bool with_first) {
  std::optional<Ask> ask;
  for (std::size_t i = with_first ? 0 : 1; i < view.uses.size(); ++i) {
    pen.space(size::kTouchGap);
    if (button(pen, {.id = view.uses[i].id, .text = view.uses[i].text, .icon = view.uses[i].icon}))
      ask = use_it(view.uses[i], input);
  }
  return ask;
}

/// Copying alone is no main action.
bool has_main_use(const WorkPageView& view) { return view.uses.size() > 1; }

std::optional<Ask> draw_main_use(Pen& pen, const WorkPageView& view, WorkPageInput& input) {
  const WorkUse& use = view.uses.front();
  if (button(pen, {.id = use.id, .text = use.text, .icon = use.icon, .kind = ButtonKind::Primary}))
    return use_it(use, input);
  return std::nullopt;
}

std::optional<Ask> draw_answer_card(Pen& pen, const WorkPageView& view, WorkPageInput& input) {
  std::optional<Ask> ask;
  if (!view.problem.empty()) problem_line(pen, view.problem);
  if (!view.answer) {
    if (!view.missing.empty()) {
      Card card(pen, {.id = "missing", .head = view.answer_head, .edge = CardEdge::Dashed});
      paragraph(card.pen, view.missing);
    }
    return ask;
  }
  Card card(pen, {.id = "answer", .head = view.answer_head});
  draw_work_answer(card.pen, view, input);
  ask = draw_other_uses(card.pen, view, input, !has_main_use(view));
  return ask;
}

void formula_sheet(const WorkPageView& view, WorkPageInput& input) {
  const auto& lines = view.answer->lines;
  const auto line = std::find_if(lines.begin(), lines.end(), [&](const auto& l) { return l.name == input.open_line; });
  if (line == lines.end() || draw_formula(*view.answer, *line)) input.open_line.clear();
}

std::optional<Ask> use_sheet(const WorkPageView& view, WorkPageInput& input) {
  const auto use =
      std::find_if(view.uses.begin(), view.uses.end(), [&](const WorkUse& u) { return u.id == input.open_use; });
  if (use == view.uses.end()) {
    input.open_use.clear();
    return std::nullopt;
  }
  std::optional<Ask> ask;
  Sheet sheet({.id = "use", .title = use->title});
  std::vector<Choice> choices;
  for (const WorkUse::Option& option : use->options) choices.push_back({.text = option.first, .second = option.second});
  if (const int i = choice_list(sheet.pen(), "which", use->title, choices, -1); i >= 0) {
    ask = use->options[static_cast<std::size_t>(i)].ask;
    input.open_use.clear();
  }
  if (sheet.closed()) input.open_use.clear();
  return ask;
}

const WorkPageView::Cell* typed_cell(const WorkPageView& view, const std::string& key) {
  for (const auto& group : view.groups)
    for (const auto& item : group.items)
      for (const auto& cell : item.cells)
        if (cell.key == key) return &cell;
  return nullptr;
}

void pad_sheet(const WorkPageView& view, WorkPageInput& input) {
  const std::string key = input.typing.what;
  const WorkPageView::Cell* cell = typed_cell(view, key);
  if (!cell || cell->units.empty()) {
    input.typing = {};
    return;
  }
  const Dimension dimension = unit(input.typing.unit).dimension;
  const AmountAnswer answer = amount_sheet(input.typing,
                                           {.title = cell->label,
                                            .dimension = dimension,
                                            .units = cell->units,
                                            .signs = dimension == Dimension::Temperature},
                                           view.units);
  if (!answer.written) return;
  Value value;
  value.text = answer.written->text;
  value.number = si(*answer.written).to_double();
  value.written = answer.written;
  input.form[key] = as_typed(*cell->spec, value, view.units, view.words);
}

std::optional<Ask> draw_sheets(const WorkPageView& view, WorkPageInput& input) {
  if (input.typing.is_open())
    pad_sheet(view, input);
  else if (view.answer && !input.open_line.empty())
    formula_sheet(view, input);
  else if (view.answer && !input.open_use.empty())
    return use_sheet(view, input);
  return std::nullopt;
}

void draw_beginnings(Pen& pen, const WorkPageView& view, WorkPageInput& input) {
  const int pressed = buttons(pen, {{.id = "example", .text = view.example, .kind = ButtonKind::Quiet},
                                    {.id = "start-over", .text = view.start_over, .kind = ButtonKind::Quiet}});
  if (pressed == 0) input.form = view.example_form;
  if (pressed == 1) input.form = view.known;
}

}  // namespace

bool draw_formula(const WorkAnswer& answer, const WorkAnswer::Line& line) {
  Sheet sheet({.id = "formula", .title = line.words});
  Pen& pen = sheet.pen();
  if (line.is_text)
    heading(pen, line.number, TextStyle::Title);
  else
    big_number(pen, {.number = line.number, .unit = line.unit, .spoken = line.spoken});
  pen.space(size::kGrid);
  heading(pen, answer.how);
  pen.space(4);
  for (const StepShown& step : line.steps) {
    paragraph(pen, step.formula, TextStyle::Strong);
    paragraph(pen, step.below);
    pen.space(size::kGrid);
  }
  divider(pen, 0, size::kGrid);
  paragraph(pen, answer.source_word, TextStyle::LabelStrong);
  paragraph(pen, answer.source, TextStyle::Label);
  pen.space(size::kGrid);
  paragraph(pen, answer.limits_word, TextStyle::LabelStrong);
  paragraph(pen, answer.limits, TextStyle::Label);
  return sheet.closed();
}

void draw_work_answer(Pen& pen, const WorkPageView& view, WorkPageInput& input) {
  const WorkAnswer& answer = *view.answer;
  draw_readings(pen, answer, input);
  for (std::size_t i = 0; i < answer.cautions.size(); ++i) {
    const IdScope scope("caution", static_cast<std::int64_t>(i));
    caution_line(pen, {.id = "caution", .text = answer.cautions[i]});
    pen.space(size::kGrid);
  }
  draw_lines(pen, answer.lines, input);
  for (const std::string& note : answer.notes) {
    pen.space(6);
    paragraph_in(pen, note, TextStyle::Label, colors().ink2);
  }
}

namespace {

/// What was asked for stays in sight while inputs are typed.
std::optional<Ask> draw_foot(Screen& screen, const WorkPageView& view, WorkPageInput& input) {
  if (!view.answer) return std::nullopt;
  const WorkAnswer::Line& first = view.answer->lines.front();
  const bool has_number = first.is_main && !first.is_text;
  if (!has_number && !has_main_use(view)) return std::nullopt;
  ScreenPart actions = screen.actions();
  Pen& pen = actions.pen();
  if (has_number) pair_line(pen, first.words, first.unit.empty() ? first.number : first.number + " " + first.unit);
  if (!has_main_use(view)) return std::nullopt;
  pen.space(6);
  return draw_main_use(pen, view, input);
}

/// Beside the inputs on wide screens.
std::optional<Ask> draw_answer_panel(Screen& screen, const WorkPageView& view, WorkPageInput& input) {
  std::optional<Ask> ask;
  {
    ScreenPart right = screen.right();
    ask = draw_answer_card(right.pen(), view, input);
  }
  if (view.answer && has_main_use(view)) {
    ScreenPart foot = screen.right_foot();
    if (auto asked = draw_main_use(foot.pen(), view, input)) ask = asked;
  }
  return ask;
}

}  // namespace

std::optional<Ask> draw_work_page(const WorkPageView& view, WorkPageInput& input, const Furniture& furniture) {
  if (!input.opened) {
    input.opened = true;
    input.known = view.known;
    for (const auto& [key, value] : view.known) input.form.emplace(key, value);
  }
  const bool desktop = look().screen() == ScreenClass::Desktop, wide = look().wide_rail();
  ScreenSpec spec = furniture.inner("calculation", view.title, view.second);
  if (desktop) spec.left_panel = kListPanel;
  if (wide) spec.right_panel = kAnswerPanel;
  Screen screen(spec);
  std::optional<Ask> ask;
  if (desktop) {
    ScreenPart left = screen.left();
    const std::string& chosen = view.name;
    if (std::string name = draw_topics(left.pen(), view.list, chosen); !name.empty() && name != chosen)
      ask = Go{{"calculation", {}, {}, name}, true};
  }
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen(), 760);
    draw_work_fields(pen, view, input);
    if (!wide)
      if (auto asked = draw_answer_card(pen, view, input)) ask = asked;
    draw_beginnings(pen, view, input);
    main.pen().below(pen);
  }
  if (auto asked = wide ? draw_answer_panel(screen, view, input) : draw_foot(screen, view, input)) ask = asked;
  if (!furniture.covered)
    if (auto asked = draw_sheets(view, input)) ask = asked;
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
