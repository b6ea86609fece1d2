#include <algorithm>

#include "base/text.h"
#include "book/brew_commands.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/chart.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/number_pad.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/brew_page.h"
#include "screens/parts.h"

namespace steep {
namespace {

void draw_chart(Pen& pen, const BrewPageView& view) {
  if (view.oxygen.empty() || !view.figure.has_ribbon) return;
  std::vector<RibbonAxis::Sun> suns;
  for (const auto& [rise, set] : view.figure.suns) suns.push_back({rise, set});
  std::vector<Chart::Grid> grid;
  for (std::size_t i = 0; i < view.grid.size(); ++i) grid.push_back({view.grid[i], view.grid_text[i]});
  // First, lowest and last are labelled.
  const auto lowest = std::min_element(view.oxygen.begin(), view.oxygen.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
  std::vector<Chart::Reading> readings;
  for (std::size_t i = 0; i < view.oxygen.size(); ++i) {
    const bool labelled =
        i == 0 || i + 1 == view.oxygen.size() || view.oxygen.begin() + static_cast<std::ptrdiff_t>(i) == lowest;
    readings.push_back({view.oxygen[i].first, view.oxygen[i].second,
                        labelled ? std::string_view(view.oxygen_text[i]) : std::string_view()});
  }
  Chart figure;
  figure.title = view.chart_title;
  figure.axis.from_h = view.figure.from_h;
  figure.axis.to_h = view.figure.to_h;
  figure.axis.days = suns;
  figure.axis.night_at_start = view.figure.night_at_start;
  figure.axis.now_h = view.figure.now_h;
  figure.low = view.low;
  figure.high = view.high;
  figure.grid = grid;
  figure.readings = readings;
  figure.has_figure = view.floor >= 0;
  figure.figure = view.floor;
  figure.figure_text = view.figure_text;
  figure.spoken = view.chart_spoken;
  chart(pen, figure);
}

void draw_balance(Pen& pen, const BrewPageView& view) {
  if (view.balance.empty()) return;
  Card card(pen, {.id = "balance", .head = view.balance_head});
  std::vector<LedgerLine> lines;
  for (const BrewPageView::Line& line : view.balance)
    lines.push_back({.words = line.words, .number = line.number, .unit = line.unit, .total = line.total});
  ledger(card.pen, lines);
}

void draw_readings(Pen& pen, const BrewPageView& view) {
  if (view.readings.empty()) return;
  Card card(pen, {.id = "readings", .head = view.readings_head});
  for (std::size_t i = 0; i < view.readings.size(); ++i) {
    IdScope scope("reading", static_cast<std::int64_t>(i));
    list_row(card.pen, {.id = "row",
                        .first = view.readings[i].first,
                        .second = view.readings[i].note,
                        .value = view.readings[i].second,
                        .value_plain = true,
                        .opens = false,
                        .line_above = i > 0});
  }
}

/// Each opens its record, with what stands behind the number.
std::optional<Ask> draw_counts(Pen& pen, const BrewPageView& view) {
  std::optional<Ask> ask;
  if (view.counts.empty()) return ask;
  Card card(pen, {.id = "counts", .head = view.counts_head});
  for (std::size_t i = 0; i < view.counts.size(); ++i) {
    const auto& count = view.counts[i];
    IdScope scope("count", static_cast<std::int64_t>(i));
    if (list_row(card.pen, {.id = "row",
                            .icon = Icon::Microscope,
                            .first = count.first,
                            .second = count.second,
                            .value = count.when,
                            .value_plain = true,
                            .line_above = i > 0}))
      ask = Go{{"record", count.id}};
  }
  return ask;
}

void clear_pad(BrewPageInput& input) {
  input.typed.clear();
  input.unit.clear();
  input.word = -1;
  input.noting = false;
  input.note.clear();
}

/// Once what was typed is in the book; a refused one stays where it can be mended.
void go_on_when_saved(const BrewPageView& view, BrewPageInput& input) {
  if (input.problem) input.readings_before.reset();
  if (!input.readings_before || view.readings.size() <= *input.readings_before) return;
  input.readings_before.reset();
  clear_pad(input);
  if (input.kind + 1 < static_cast<int>(view.kinds.size())) {
    ++input.kind;
  } else {
    input.sheet.clear();
    input.kind = 0;
  }
}

/// What the pad holds, as a reading; nullopt when it does not read (the sentence is put into the input).
std::optional<ReadingGiven> reading_given(const BrewPageView& view, BrewPageInput& input, bool not_taken) {
  ReadingGiven given;
  given.of = view.brew;
  given.quantity = view.kind_keys[static_cast<std::size_t>(input.kind)];
  given.not_taken = not_taken;
  given.note = input.note;
  if (not_taken) return given;
  if (!view.word_keys.empty()) {
    if (input.word < 0) return std::nullopt;
    given.word = view.word_keys[static_cast<std::size_t>(input.word)];
    return given;
  }
  if (view.unit_keys.empty()) {
    const auto number = read_number(input.typed, view.shown_in.mark);
    if (!number) {
      input.problem = number.error();
      return std::nullopt;
    }
    given.number = number->text;
    return given;
  }
  const Unit& in = unit(view.unit_keys[static_cast<std::size_t>(view.unit_chosen)]);
  auto value = read_quantity(input.typed, in.dimension, {view.shown_in.mark, view.shown_in.gallons}, &in);
  if (!value) {
    input.problem = value.error();
    return std::nullopt;
  }
  given.value = std::move(*value);
  return given;
}

std::optional<Ask> reading_sheet(const BrewPageView& view, BrewPageInput& input) {
  std::optional<Ask> ask;
  std::vector<Choice> kinds, words, units;
  for (const std::string& text : view.kinds) kinds.push_back({.text = text});
  for (const std::string& text : view.words) words.push_back({.text = text});
  for (const std::string& text : view.units) units.push_back({.text = text});
  NumberPad pad;
  pad.id = "reading-pad";
  pad.spoken = view.pad_spoken;
  pad.kinds = kinds;
  pad.kind = input.kind;
  if (units.size() > 1) {
    pad.units = units;
    pad.unit_chosen = view.unit_chosen;
  } else if (!units.empty()) {
    pad.unit = view.units.front();
  }
  pad.farm_figure = view.farm_figure;
  pad.last = view.last;
  pad.error = view.error;
  pad.words = words;
  pad.word_chosen = input.word;
  pad.mark = view.shown_in.mark == DecimalMark::Comma ? ',' : '.';
  pad.sign_key = view.kind_keys[static_cast<std::size_t>(input.kind)] == "temperature";
  pad.note_key = !input.noting;
  pad.save = view.save;
  pad.save_second = view.save_second;
  pad.can_save = view.words.empty() ? !input.typed.empty() : input.word >= 0;
  pad.why_not = view.why_not;

  Sheet sheet({.id = "reading",
               .title = view.sheet_title,
               .note = view.sheet_note,
               .note_icon = Icon::Clock,
               .says_refusals = false});
  if (input.noting) {
    text_field(sheet.pen(), {.id = "note-text", .label = view.note_label, .max_length = 200}, input.note);
    sheet.pen().space(size::kGrid);
  }
  const NumberPadEvent event = number_pad(sheet.pen(), pad, input.typed);
  if (event.changed) input.problem.reset();
  if (event.note) input.noting = true;
  if (event.unit >= 0) input.unit = view.unit_keys[static_cast<std::size_t>(event.unit)];
  if (event.word >= 0) input.word = event.word;
  if (event.saved || event.not_taken) {
    if (const auto given = reading_given(view, input, event.not_taken)) {
      ask = Do{[given = *given](Book& book, const Going& going) { return add_reading(book, given, going); }};
      input.readings_before = view.readings.size();
    }
  } else if (event.kind >= 0) {
    input.kind = event.kind;
    clear_pad(input);
    input.problem.reset();
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

std::optional<Ask> verdict_sheet(const BrewPageView& view, BrewPageInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "verdict", .title = view.verdict_title});
  Pen& pen = sheet.pen();
  paragraph(pen, view.verdict_note);
  pen.space(size::kGrid);
  std::vector<Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < view.verdicts.size(); ++i) {
    choices.push_back({.text = view.verdicts[i].second});
    if (view.verdicts[i].first == input.verdict) chosen = static_cast<int>(i);
  }
  if (const int i = choice_cells(pen, "which", view.verdict_title, choices, chosen, 3); i >= 0)
    input.verdict = view.verdicts[static_cast<std::size_t>(i)].first;
  pen.space(size::kGrid);
  text_field(pen, {.id = "why", .label = view.why_label, .max_length = 200}, input.why);
  pen.space(size::kGroupGap);
  // 'Hold' and 'do not use' need their reason; 'ready' may stand without.
  const bool ready = input.verdict == "ready" || (!input.verdict.empty() && !trim(input.why).empty());
  if (button(pen, {.id = "verdict-go",
                   .text = view.verdict_go,
                   .kind = ButtonKind::Primary,
                   .enabled = ready,
                   .why_not = view.verdict_missing}) &&
      ready) {
    ask = Do{[brew = view.brew, word = input.verdict, why = std::string(trim(input.why))](
                 Book& book, const Going& going) { return set_verdict(book, brew, word, why, going); }};
    input.sheet.clear();
    input.why.clear();
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

std::optional<Ask> pour_sheet(const BrewPageView& view, BrewPageInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "pour", .title = view.pour_title});
  Pen& pen = sheet.pen();
  const Stepped by = stepper(pen, {.id = "pour-amount",
                                   .label = view.pour_label,
                                   .value = view.pour_value,
                                   .unit = view.pour_unit,
                                   .spoken = view.pour_spoken});
  if (by)
    input.pour =
        write_quantity(step_value(view.pour_now->amount.to_double(), usual_step(*view.pour_now->unit), by, 0, 1e6),
                       *view.pour_now->unit, 2)
            .text;
  if (by.open) open_amount(input.typing, "pour", view.pour_now, *view.pour_now->unit);
  pen.space(size::kGrid);
  text_field(pen, {.id = "pour-where", .label = view.pour_where, .max_length = 80}, input.pour_where);
  pen.space(size::kGroupGap);
  const bool ready = !trim(input.pour_where).empty();
  if (button(pen, {.id = "pour-go",
                   .text = view.pour_go,
                   .icon = Icon::WaterOff,
                   .kind = ButtonKind::Primary,
                   .enabled = ready,
                   .why_not = view.pour_missing}) &&
      ready) {
    ask = Do{[brew = view.brew, volume = view.pour_now, where = std::string(trim(input.pour_where))](
                 Book& book, const Going& going) {
      return add_discard(book, brew, volume, {}, where, book.now().at, going);
    }};
    input.sheet.clear();
    input.pour.clear();
    input.pour_where.clear();
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

std::optional<Ask> event_sheet(const BrewPageView& view, BrewPageInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "event", .title = view.event_title});
  std::vector<Choice> choices;
  for (const auto& [key, text] : view.events) choices.push_back({.text = text});
  if (const int i = choice_cells(sheet.pen(), "what", view.event_title, choices, -1); i >= 0) {
    ask = Do{[brew = view.brew, what = view.events[static_cast<std::size_t>(i)].first](Book& book, const Going& going) {
      return add_event(book, brew, what, book.now().at, std::nullopt, {}, going);
    }};
    input.sheet.clear();
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

std::optional<Ask> draw_sheets(const BrewPageView& view, BrewPageInput& input) {
  if (input.typing.is_open()) {
    const AmountAnswer typed = amount_sheet(
        input.typing,
        {.title = view.pour_label, .dimension = Dimension::Volume, .units = usual_units(Dimension::Volume)},
        view.shown_in);
    if (typed.written) input.pour = typed.written->text;
    return std::nullopt;
  }
  if (input.sheet == "reading") return reading_sheet(view, input);
  if (input.sheet == "verdict") return verdict_sheet(view, input);
  if (input.sheet == "pour") return pour_sheet(view, input);
  if (input.sheet == "event") return event_sheet(view, input);
  return std::nullopt;
}

Do air(const BrewPageView& view) {
  return {[brew = view.brew, off = view.air_is_on](Book& book, const Going& going) {
    return off ? set_air_off(book, brew, book.now().at, going) : set_air_on(book, brew, book.now().at, going);
  }};
}

}  // namespace

std::optional<Ask> draw_brew_page(const BrewPageView& view, BrewPageInput& input, const Furniture& furniture) {
  if (view.opens_reading && !input.opened) {
    input.opened = true;
    input.sheet = "reading";
  }
  go_on_when_saved(view, input);
  Screen screen(furniture.form("brew-page", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    in_two_parts(
        main.pen(),
        [&](Pen& pen) {
          if (input.sheet.empty()) problem_line(pen, view.problem);
          draw_brew_numbers(pen, view.figure);
          pen.space(4);
          draw_brew_ribbon(pen, view.figure);
          if (!view.figure.note.empty()) paragraph_in(pen, view.figure.note, TextStyle::Label, colors().ink2);
          pen.space(size::kGrid);
          draw_chart(pen, view);
          pen.space(size::kCardGap);
        },
        [&](Pen& pen) {
          draw_balance(pen, view);
          draw_readings(pen, view);
          if (auto asked = draw_counts(pen, view)) ask = asked;
          if (auto asked = draw_work_links(pen, view.links, view.brew)) ask = asked;
          if (auto asked = draw_photos(pen, view.photos, furniture)) ask = asked;
        });
  }
  {
    ScreenPart actions = screen.actions(760);
    Pen& pen = actions.pen();
    const PassButton row[4] = {{.id = "air", .word = view.air, .icon = Icon::Air, .enabled = view.can_air},
                               {.id = "verdict", .word = view.verdict, .icon = Icon::Clipboard},
                               {.id = "event", .word = view.feed, .icon = Icon::Eyedropper},
                               {.id = "pour", .word = view.pour, .icon = Icon::WaterOff}};
    const int pressed = pass_buttons(pen, row);
    pen.space(10);
    if (button(pen, {.id = "add-reading", .text = view.add_reading, .icon = Icon::Plus, .kind = ButtonKind::Primary})) {
      input.sheet = "reading";
      input.kind = 0;
    }
    if (pressed == 0) ask = air(view);
    if (pressed == 1) input.sheet = "verdict";
    if (pressed == 2) input.sheet = "event";
    if (pressed == 3) input.sheet = "pour";
  }
  if (!furniture.covered) {
    if (auto asked = draw_sheets(view, input)) ask = asked;
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
