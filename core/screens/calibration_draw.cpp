#include <algorithm>
#include <array>
#include <cmath>

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/draw.h"
#include "look/frame.h"
#include "look/numbers.h"
#include "look/press.h"
#include "look/rows.h"
#include "look/walk_catch.h"
#include "quantity/unit.h"
#include "screens/calibration.h"
#include "screens/parts.h"
#include "screens/work_page.h"

namespace steep {
namespace {

using Cell = CalibrationView::Cell;

constexpr float kJugsHigh = 150;

/// A small box with label and number; grey when it only shows, ink when it can be pressed.
bool number_cell(const Box& box, const Cell& cell, bool filled) {
  const Tokens& t = colors();
  const bool pressable = !filled;
  Press hit;
  if (pressable)
    hit = press({.id = item_id(cell.key), .name = cell.spoken}, box);
  else
    add_text_item(Role::Text, cell.spoken, box);
  const bool dark = filled || hit.down;
  panel(box, dark ? t.ink : t.surface, dark ? t.ink : t.line, size::kEdgePress, size::kRadiusChip);
  const float label_high = line_height(TextStyle::Label);
  const Box inside = box.inset(10, 6);
  draw_text(inside.with_height(label_high), TextStyle::Label, dark ? t.surface : t.ink2, cell.label);
  draw_number(inside.left, inside.bottom - 6, TextStyle::Title, cell.value, TextStyle::Label, cell.unit,
              dark ? t.surface : t.ink);
  if (hit.focused) focus_ring(box.inset(3), size::kRadiusChip);
  return hit.pressed;
}

/// 'a value ✎' at the left: what can be typed differently. Small words, a finger's height.
bool value_link(Pen& pen, std::string_view id, const std::string& text) {
  const Tokens& t = colors();
  const float width = text_width(TextStyle::Label, text) + 32;
  const Box row = pen.take(36), area{row.left, row.center().y - size::kTouch / 2,
                                     row.left + std::max(width, size::kTouch), row.center().y + size::kTouch / 2};
  const Press hit = press({.id = item_id(id), .name = text}, area);
  if (hit.down) fill_box(area.inset(-4, 8), t.well, size::kRadiusChip);
  draw_text(row, TextStyle::Label, t.ink, text);
  draw_icon({row.left + width - 14, row.center().y}, 18, Icon::Pencil, t.ink);
  if (hit.focused) focus_ring(area.inset(0, 6), 4);
  return hit.pressed;
}

void open_typing(const CalibrationView& view, CalibrationInput& input, const std::string& key,
                 const std::optional<Written>& now) {
  for (const CalibrationView::Typed& typed : view.typed)
    if (typed.key == key) open_amount(input.typing, key, now, *typed.units.front());
}

double elapsed_s(const CalibrationInput& input) { return std::max(0.0, look_time() - input.since_s); }

void start_watch(CalibrationInput& input, std::string_view what) {
  input.timing = what;
  input.since_s = look_time();
}

/// Wakes the page at the next full second.
void tick(const CalibrationInput& input) { want_frame(1 - (elapsed_s(input) - std::floor(elapsed_s(input)))); }

std::string with_seconds(std::string text, double seconds) {
  const std::size_t place = text.find("{0}");
  return place == std::string::npos ? text : text.replace(place, 3, std::to_string(static_cast<long long>(seconds)));
}

/// The timed walks and their pace: four in a row, or two and two where the words need it.
void draw_walks(Pen& pen, const CalibrationView& view, CalibrationInput& input) {
  const float high = line_height(TextStyle::Label) + line_height(TextStyle::Title) + 14;
  float widest = 0;
  for (const Cell& cell : view.walks) widest = std::max(widest, text_width(TextStyle::Label, cell.label));
  std::vector<Box> boxes;
  if (widest + 20 <= (pen.width() - 3 * size::kTouchGap) / 4.15f) {
    boxes = columns(pen.take(high), {-1, -1, -1, -1.15f});
  } else {
    boxes = columns(pen.take(high), {-1, -1});
    pen.space(size::kTouchGap);
    for (const Box& box : columns(pen.take(high), {-1, -1})) boxes.push_back(box);
  }
  for (std::size_t i = 0; i < view.walks.size(); ++i)
    if (number_cell(boxes[i], view.walks[i], false)) open_typing(view, input, view.walks[i].key, view.walks[i].written);
  number_cell(boxes.back(), view.pace, true);
}

void draw_walk(Pen& pen, const CalibrationView& view, CalibrationInput& input) {
  Card card(pen, {.id = "walk",
                  .head = view.walk_head,
                  .note = view.walks_done ? std::string_view(view.done) : std::string_view(),
                  .note_icon = view.walks_done ? Icon::SavedTick : Icon::None,
                  .note_strong = true,
                  .edge = view.walks_done ? CardEdge::Grey : CardEdge::Ink});
  if (!view.has_course) {
    if (button(card.pen, {.id = "width", .text = view.course, .icon = Icon::Ruler}))
      open_typing(view, input, "bed-top", std::nullopt);
    return;
  }
  if (value_link(card.pen, "width", view.course)) open_typing(view, input, "bed-top", std::nullopt);
  std::array<std::string_view, 5> marks;
  std::copy(view.marks.begin(), view.marks.end(), marks.begin());
  walk_course(card.pen, {.marks = marks, .spoken = view.course_spoken});
  card.pen.space(4);
  draw_walks(card.pen, view, input);
  if (input.timing == "walk") {
    tick(input);
    card.pen.space(size::kTouchGap);
    const std::string stop = with_seconds(view.stop_walk, elapsed_s(input));
    if (button(card.pen, {.id = "watch", .text = stop, .icon = Icon::Stop, .kind = ButtonKind::Filled}) &&
        view.next_walk >= 0) {
      const long long seconds = std::llround(elapsed_s(input));
      if (seconds > 0) input.form["walk." + std::to_string(view.next_walk)] = std::to_string(seconds) + " s";
      input.timing.clear();
    }
  } else if (view.next_walk >= 0) {
    card.pen.space(size::kTouchGap);
    if (button(card.pen, {.id = "watch", .text = view.start_walk, .icon = Icon::Timer})) start_watch(input, "walk");
  }
}

/// The number of one jug: large, with the thick line under the one in hand.
void jug_number(Pen& pen, const Cell& cell, int i, const CalibrationView& view, CalibrationInput& input) {
  const IdScope scope("jug", i);
  const Tokens& t = colors();
  const float label = line_height(TextStyle::Label), number = line_height(TextStyle::M);
  const Box box = pen.take(std::max(label + number + 8, size::kTouch));
  const bool in_hand = input.hand == i;
  const Press hit = press({.id = item_id("number"), .name = cell.spoken, .on = in_hand}, box);
  if (hit.down) fill_box(box, t.well, 4);
  draw_text(box.with_height(label), in_hand ? TextStyle::LabelStrong : TextStyle::Label, in_hand ? t.ink : t.ink2,
            cell.label);
  draw_number(box.left, box.bottom - 10, TextStyle::M, cell.value, TextStyle::Body, cell.unit, t.ink);
  if (in_hand) fill_box({box.left, box.bottom - 3, box.right, box.bottom}, t.ink);
  if (hit.focused) focus_ring(box, 4);
  pen.space(6);
  if (!hit.pressed) return;
  input.hand = i;
  open_typing(view, input, cell.key, cell.written);
}

void draw_jugs(Pen& pen, const CalibrationView& view, CalibrationInput& input) {
  const std::size_t count = view.catches.size();
  if (count == 2 && pen.width() >= 280) {
    Pen pictures = pen.column({-1, -1}, 0, 16), numbers = pen.column({-1, -1}, 1, 16);
    const auto boxes = columns(pictures.take(kJugsHigh), {-1, -1}, 12);
    for (std::size_t i = 0; i < count; ++i)
      draw_jug(boxes[i], view.catches[i].label, view.levels[i], input.hand == static_cast<int>(i));
    numbers.space(14);
    for (std::size_t i = 0; i < count; ++i) jug_number(numbers, view.catches[i], static_cast<int>(i), view, input);
    pen.below(pictures);
    pen.below(numbers);
    return;
  }
  for (std::size_t i = 0; i < count; i += 3) {
    const auto in_row = static_cast<int>(std::min<std::size_t>(3, count - i));
    float deepest = pen.y;
    for (int k = 0; k < in_row; ++k) {
      Pen column = pen.column({-1, -1, -1}, static_cast<std::size_t>(k), 12);
      jug_number(column, view.catches[i + static_cast<std::size_t>(k)], static_cast<int>(i) + k, view, input);
      deepest = std::max(deepest, column.y);
    }
    pen.y = deepest;
  }
}

void move_catch(const CalibrationView& view, CalibrationInput& input, int steps) {
  const Cell& cell = view.catches[static_cast<std::size_t>(input.hand)];
  const Unit& in = cell.written ? *cell.written->unit : *view.catch_unit;
  const double step = &in == view.catch_unit ? view.step : usual_step(in);
  const double now = cell.written ? cell.written->amount.to_double() : 0;
  input.form[cell.key] = write_quantity(std::max(0.0, now + steps * step), in, 2).text;
}

void draw_catch(Pen& pen, const CalibrationView& view, CalibrationInput& input) {
  input.hand = std::clamp(input.hand, 0, static_cast<int>(view.catches.size()) - 1);
  Card card(pen, {.id = "catch", .edge = view.catch_s > 0 ? CardEdge::Ink : CardEdge::Grey});
  if (heading_with_link(card.pen, view.catch_head, "pressure", view.pressure, Icon::Gauge, TextStyle::Strong))
    open_typing(view, input, "pressure", std::nullopt);
  draw_jugs(card.pen, view, input);
  card.pen.space(10);
  const bool running = input.timing == "catch";
  std::string watch = view.time_it;
  if (running) {
    const double left = view.catch_s - elapsed_s(input);
    watch = left > 0 ? with_seconds(view.time_left, std::ceil(left)) : view.time_over;
    if (left > 0) tick(input);
  }
  const auto boxes =
      columns(card.pen.take(std::max(48.0f, line_height(TextStyle::SmallButton) + 28)), {-1, -2.1f, -1}, 10);
  if (icon_button(boxes[0], "less", Icon::Minus, view.less, true)) move_catch(view, input, -1);
  if (button(boxes[1], {.id = "watch",
                        .text = watch,
                        .icon = running ? Icon::Stop : Icon::Timer,
                        .kind = running ? ButtonKind::Filled : ButtonKind::Secondary,
                        .enabled = view.catch_s > 0}) &&
      view.catch_s > 0) {
    if (running)
      input.timing.clear();
    else
      start_watch(input, "catch");
  }
  if (icon_button(boxes[2], "more", Icon::Plus, view.more, true)) move_catch(view, input, 1);
}

void draw_rate(Pen& pen, const CalibrationView& view, CalibrationInput& input) {
  if (view.rate.empty()) return;
  Card card(pen, {.id = "gives"});
  paragraph_in(card.pen, view.gives_head, TextStyle::Label, colors().ink2);
  big_number(
      card.pen,
      {.number = view.rate, .unit = view.rate_unit, .detail = view.rate_detail, .xl = false, .words_at_right = false});
  divider(card.pen, 4, 4);
  if (list_row(card.pen, {.id = "swath", .first = view.swath_words, .value = view.swath_value}))
    open_typing(view, input, "swath", std::nullopt);
  for (const CalibrationView::Pair& pair : view.pairs) pair_line(card.pen, pair.words, pair.value);
  for (std::size_t i = 0; i < view.answer->cautions.size(); ++i) {
    const IdScope scope("caution", static_cast<std::int64_t>(i));
    card.pen.space(6);
    caution_line(card.pen, {.id = "caution", .text = view.answer->cautions[i]});
  }
  card.pen.space(4);
  if (button(card.pen, {.id = "how", .text = view.how, .icon_after = Icon::ChevronRight, .kind = ButtonKind::Quiet}))
    input.how_open = true;
}

void draw_typing(const CalibrationView& view, CalibrationInput& input) {
  for (const CalibrationView::Typed& typed : view.typed) {
    if (typed.key != input.typing.what) continue;
    const AmountAnswer answer = amount_sheet(
        input.typing, {.title = typed.title, .dimension = unit(input.typing.unit).dimension, .units = typed.units},
        view.units);
    if (answer.written) input.form[typed.key] = answer.written->text;
    return;
  }
  input.typing = {};
}

void draw_how(const CalibrationView& view, CalibrationInput& input) {
  const auto& lines = view.answer->lines;
  auto line = std::find_if(lines.begin(), lines.end(), [](const auto& l) { return l.name == "rate-bed-top"; });
  if (line == lines.end()) line = lines.begin();
  if (draw_formula(*view.answer, *line)) input.how_open = false;
}

Do use_it(const CalibrationView& view) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [fields = view.fields, farm = view.farm](Book& book, const Going& going) {
    EnterAs as;
    as.farm = farm;
    return enter(book, "calibration", fields, as, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

}  // namespace

std::optional<Ask> draw_calibration(const CalibrationView& view, CalibrationInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("calibration", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    problem_line(pen, view.problem);
    draw_walk(pen, view, input);
    if (view.has_course) draw_catch(pen, view, input);
    draw_rate(pen, view, input);
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    if (view.can_use && button(pen, {.id = "use", .text = view.use, .kind = ButtonKind::Primary})) ask = use_it(view);
  }
  if (!furniture.covered) {
    if (input.typing.is_open())
      draw_typing(view, input);
    else if (input.how_open && view.answer)
      draw_how(view, input);
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
