#include <array>

#include "base/text.h"
#include "book/pass_commands.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/parts.h"
#include "screens/spraying.h"

namespace steep {
namespace {

// ---- What is asked for ----

Do done_with(const SprayingView& view) {
  return {[pass = view.pass, bed = view.hand](Book& book, const Going& going) {
    DoneRequest request;
    request.pass = pass;
    request.bed = bed;
    return bed_done(book, request, going);
  }};
}
Do half_of(const SprayingView& view) {
  return {[pass = view.pass, bed = view.hand](Book& book, const Going& going) {
    return bed_half(book, pass, bed, false, going);
  }};
}
Do skip_with(const SprayingView& view, std::string reason) {
  return {[pass = view.pass, bed = view.hand, reason = std::move(reason)](Book& book, const Going& going) {
    return skip_bed(book, pass, bed, reason, going);
  }};
}
Do undo_last(const SprayingView& view) {
  return {[pass = view.pass](Book& book, const Going& going) { return undo_press(book, pass, going); }};
}
Do change_half(const SprayingView& view, Written from, Written to) {
  return {[dose = view.half_dose, from = std::move(from), to = std::move(to)](Book& book, const Going& going) {
    return change_stretch(book, dose, from, to, going);
  }};
}

/// A press that writes puts the walk back in charge of which bed is in hand.
std::optional<Ask> written(SprayingInput& input, Do ask) {
  input.chosen = {};
  input.sheet.clear();
  input.from.clear();
  input.to.clear();
  return ask;
}

// ---- Figures ----

/// With large text on a phone the bed in hand would fall below the fold: it stands on top then, and the
/// amounts follow below the beds.
bool is_crowded() { return look().stacks() && look().screen() <= ScreenClass::Landscape; }

void draw_head(Pen& pen, const SprayingView::Head& head) {
  if (is_crowded()) {
    tank_head(pen, {.number = head.number, .words = head.words, .words2 = head.words2, .spoken = head.spoken});
    return;
  }
  tank_head(pen, {.number = head.number,
                  .words = head.words,
                  .words2 = head.words2,
                  .amount = head.amount,
                  .amount_unit = head.amount_unit,
                  .line2 = head.line2,
                  .line3 = head.line3,
                  .spoken = head.spoken});
}

void draw_gauge(Pen& pen, const SprayingView& view, SprayingInput& input) {
  std::vector<TankRow> rows;
  std::size_t first = 0;
  while (is_crowded() && !view.hand.is_nil() && first + 1 < view.rows.size() &&
         view.rows[first].state != TankRowState::Current)
    ++first;
  for (std::size_t i = first; i < view.rows.size(); ++i) {
    const SprayingView::Row& row = view.rows[i];
    rows.push_back({.state = row.state,
                    .number = row.number,
                    .crop = row.crop,
                    .right = row.right,
                    .flag = row.flag,
                    .slab = row.slab,
                    .from_this_load = row.from_this_load,
                    .refill = row.refill,
                    .treated_from = row.treated_from,
                    .treated_to = row.treated_to,
                    .spoken = row.spoken});
  }
  const SprayingView::Loupe& hand = view.loupe;
  TankGauge gauge;
  gauge.id = "tank";
  gauge.rows = rows;
  gauge.loupe = {.number = hand.number,
                 .crop = hand.crop,
                 .size = hand.size,
                 .volume = hand.volume,
                 .slab_unit = hand.slab_unit,
                 .walk = hand.walk,
                 .walk_text = hand.walk_text,
                 .walked = hand.walked,
                 .wait = hand.wait,
                 .wait_text = hand.wait_text,
                 .treated_from = hand.treated_from,
                 .treated_to = hand.treated_to};
  gauge.used = view.used;
  gauge.used_word = view.used_word;
  gauge.sump = view.sump;
  gauge.sump_spoken = view.sump_spoken;
  gauge.then = view.then;
  const int pressed = tank_gauge(pen, gauge);
  if (pressed >= 0 && first + static_cast<std::size_t>(pressed) < view.rows.size()) {
    const SprayingView::Row& row = view.rows[first + static_cast<std::size_t>(pressed)];
    if (row.state != TankRowState::Done && row.state != TankRowState::Skipped) input.chosen = row.bed;
  }
}

std::optional<Ask> draw_said(Pen& pen, const SprayingView& view, SprayingInput& input) {
  std::optional<Ask> ask;
  problem_line(pen, view.problem);
  for (std::size_t i = 0; i < view.notes.size(); ++i) {
    IdScope scope("note", static_cast<std::int64_t>(i));
    caution_line(pen, {.id = "note", .text = view.notes[i]});
    pen.space(size::kGrid);
  }
  if (!view.stop.empty()) {
    if (warn_block(pen, {.id = "stop", .first = view.stop, .left = view.skip_go}) == 0) input.sheet = "skip";
  } else if (!view.warn_first.empty()) {
    const int pressed = warn_block(pen, {.id = "warn",
                                         .first = view.warn_first,
                                         .second = view.warn_second,
                                         .left = view.warn_skip,
                                         .right = view.warn_spray});
    if (pressed == 0) input.sheet = "skip";
    if (pressed == 1) ask = written(input, done_with(view));
    pen.space(size::kGrid);
  }
  return ask;
}

// ---- Buttons ----

ButtonSpec done_button(const SprayingView& view) {
  if (view.hand.is_nil()) {
    return {.id = "done", .text = view.end, .second = view.end_second, .icon = Icon::Tick, .kind = ButtonKind::Done};
  }
  // The spoken name says what it writes and what comes next.
  return {.id = "done",
          .text = view.done,
          .second = view.done_second,
          .icon = Icon::Tick,
          .kind = ButtonKind::Done,
          .spoken = view.done_spoken,
          .enabled = view.stop.empty()};
}

enum PassKey { Half, Skip, Undo, Refill };

PassButton pass_key(const SprayingView& view, PassKey key) {
  switch (key) {
    case Half:
      return {.id = "half",
              .word = view.half,
              .second = view.half_second,
              .icon = Icon::HalfBed,
              .enabled = view.can_half,
              .spoken = view.half_spoken};
    case Skip:
      return {.id = "skip",
              .word = view.skip,
              .second = view.skip_second,
              .icon = Icon::SkipNext,
              .enabled = view.can_skip,
              .spoken = view.skip_spoken};
    case Undo:
      return {.id = "undo",
              .word = view.undo,
              .second = view.undo_second,
              .icon = Icon::Undo,
              .enabled = view.can_undo,
              .spoken = view.undo_spoken};
    case Refill:
      return {.id = "refill",
              .word = view.refill,
              .second = view.refill_second,
              .icon = Icon::WaterPump,
              .spoken = view.refill_spoken};
  }
  return {};
}

std::optional<Ask> key_pressed_on_pass(PassKey key, const SprayingView& view, SprayingInput& input) {
  switch (key) {
    case Half: return written(input, half_of(view));
    case Skip: input.sheet = "skip"; return std::nullopt;
    case Undo: return written(input, undo_last(view));
    case Refill: return Go{{"refill", view.pass, view.hand}};
  }
  return std::nullopt;
}

std::optional<Ask> done_pressed(const SprayingView& view, SprayingInput& input) {
  if (view.hand.is_nil()) return Go{{"end-pass", view.pass}};
  return written(input, done_with(view));
}

/// 'Half' was just written: which half, or feet.
std::optional<Ask> draw_offer(Pen& pen, const SprayingView& view, SprayingInput& input) {
  if (view.half_dose.is_nil() || !view.other_from.unit) return std::nullopt;
  const int pressed = strip_offer(pen, {.id = "offer", .other_half = view.other_half, .feet = view.feet});
  pen.space(10);
  if (pressed == 0) return written(input, change_half(view, view.other_from, view.other_to));
  if (pressed == 1) {
    input.sheet = "feet";
    input.from = view.from_now.text;
    input.to = view.to_now.text;
  }
  return std::nullopt;
}

/// Portrait and wide screens: offer, the row of four, 'done' nearest the thumb.
std::optional<Ask> draw_keys_below(Pen& pen, const SprayingView& view, SprayingInput& input) {
  std::optional<Ask> ask = draw_offer(pen, view, input);
  const std::array<PassButton, 4> four{pass_key(view, Half), pass_key(view, Skip), pass_key(view, Undo),
                                       pass_key(view, Refill)};
  const int pressed = pass_buttons(pen, four);
  pen.space(10);
  const bool done = button(pen, done_button(view));
  if (pressed >= 0) ask = key_pressed_on_pass(static_cast<PassKey>(pressed), view, input);
  if (done) ask = done_pressed(view, input);
  return ask;
}

/// Lying: undo beside the saved mark, 'done' in the middle of the thumb's column, the rest below.
std::optional<Ask> draw_keys_beside(Screen& screen, ScreenPart& part, const SprayingView& view, SprayingInput& input) {
  std::optional<Ask> ask;
  const float foot = part.area().bottom > 0 ? look().height - look().safe.bottom - 8 : 0;
  Pen& pen = part.pen();
  const Box beside = screen.beside_mark();
  if (!beside.empty()) {
    const std::string undo = view.undo + " " + view.undo_second;
    const ButtonSpec spec{
        .id = "undo", .text = undo, .icon = Icon::Undo, .spoken = view.undo_spoken, .enabled = view.can_undo};
    const float width = std::min(beside.width(), button_width(spec));
    if (button({beside.right - width, beside.top, beside.right, beside.bottom}, spec))
      ask = written(input, undo_last(view));
  }
  if (auto asked = draw_offer(pen, view, input)) ask = asked;
  const float row = scaled(size::kPassButton);
  const float height = std::max(size::kDone, foot - pen.y - row - 12);
  if (button(pen.take(height), done_button(view))) ask = done_pressed(view, input);
  pen.space(12);
  const std::array<PassButton, 3> three{pass_key(view, Half), pass_key(view, Skip), pass_key(view, Refill)};
  static constexpr std::array<PassKey, 3> kKeys{Half, Skip, Refill};
  const int pressed = pass_buttons(pen.take(row), three);
  if (pressed >= 0) ask = key_pressed_on_pass(kKeys[static_cast<std::size_t>(pressed)], view, input);
  return ask;
}

// ---- Sheets ----

std::optional<Ask> skip_sheet(const SprayingView& view, SprayingInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "skip", .title = view.skip_title});
  paragraph(sheet.pen(), view.skip_why);
  sheet.pen().space(size::kGrid);
  std::vector<Choice> cells;
  for (const SprayingView::Reason& reason : view.reasons) cells.push_back({.text = reason.text});
  if (const int i = choice_cells(sheet.pen(), "reasons", view.skip_title, cells, -1); i >= 0) {
    ask = written(input, skip_with(view, view.reasons[static_cast<std::size_t>(i)].key));
  }
  sheet.pen().space(size::kGroupGap);
  text_field(sheet.pen(), {.id = "own-words", .label = view.skip_other_label, .max_length = 120}, input.skip_words);
  sheet.pen().space(size::kGrid);
  const bool has_words = !trim(input.skip_words).empty();
  if (button(sheet.pen(), {.id = "skip-go", .text = view.skip_go, .enabled = has_words}) && has_words) {
    ask = written(input, skip_with(view, std::string(trim(input.skip_words))));
    input.skip_words.clear();
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

std::string stepped_length(const Written& now, const Stepped& by, const Written& most) {
  const double end = amount_in(si(most).to_double(), *now.unit);
  return write_quantity(step_value(now.amount.to_double(), usual_step(*now.unit), by, 0, end), *now.unit, 1).text;
}

std::optional<Ask> feet_sheet(const SprayingView& view, SprayingInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "feet", .title = view.feet_title});
  const std::array<Stepper, 2> two{
      Stepper{.id = "from",
              .label = view.feet_from,
              .value = view.from_text,
              .unit = view.unit_text,
              .spoken = view.from_spoken},
      Stepper{
          .id = "to", .label = view.feet_to, .value = view.to_text, .unit = view.unit_text, .spoken = view.to_spoken}};
  int which = -1;
  const Stepped by = steppers(sheet.pen(), two, which);
  if (which == 0 && by) input.from = stepped_length(view.from_now, by, view.bed_length);
  if (which == 1 && by) input.to = stepped_length(view.to_now, by, view.bed_length);
  if (which >= 0 && by.open)
    open_amount(input.typing, which == 0 ? "from" : "to", which == 0 ? view.from_now : view.to_now,
                *view.from_now.unit);
  sheet.pen().space(size::kGroupGap);
  if (button(sheet.pen(), {.id = "feet-save", .text = view.feet_save, .kind = ButtonKind::Primary})) {
    ask = written(input, change_half(view, view.from_now, view.to_now));
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

void draw_typing(const SprayingView& view, SprayingInput& input) {
  const bool from = input.typing.what == "from";
  AmountAsk ask{.title = from ? std::string_view(view.feet_from) : std::string_view(view.feet_to),
                .dimension = Dimension::Length,
                .units = usual_units(Dimension::Length)};
  const AmountAnswer answer = amount_sheet(input.typing, ask, view.units);
  if (answer.written) (from ? input.from : input.to) = answer.written->text;
}

}  // namespace

std::optional<Ask> draw_spraying(const SprayingView& view, SprayingInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("spraying", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen(), 860);
    draw_head(pen, view.head);
    pen.space(8);
    if (auto asked = draw_said(pen, view, input)) ask = asked;
    draw_gauge(pen, view, input);  // All beds: any of them may be taken in hand.
    if (is_crowded()) {
      if (!view.head.amount.empty()) paragraph(pen, view.head.amount + " " + view.head.amount_unit, TextStyle::Strong);
      paragraph(pen, view.head.line2);
      paragraph(pen, view.head.line3);
    }
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions(860);
    if (screen.actions_in_column()) {
      if (auto asked = draw_keys_beside(screen, actions, view, input)) ask = asked;
    } else {
      Pen& pen = actions.pen();
      if (auto asked = draw_keys_below(pen, view, input)) ask = asked;
    }
  }
  if (!furniture.covered) {
    if (input.typing.is_open()) {
      draw_typing(view, input);
    } else if (input.sheet == "skip" && !view.skip_title.empty()) {
      if (auto asked = skip_sheet(view, input)) ask = asked;
    } else if (input.sheet == "feet" && view.feet_title.empty()) {
      // Made for the next frame.
    } else if (input.sheet == "feet" && view.from_now.unit) {
      if (auto asked = feet_sheet(view, input)) ask = asked;
    } else {
      input.sheet.clear();
    }
  }
  if (!ask) ask = furniture.asked(screen);
  if (ask && std::holds_alternative<Back>(*ask)) return Go{{"today", {}}};
  return ask;
}

}  // namespace steep
