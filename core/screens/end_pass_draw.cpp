#include <array>

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/hold.h"
#include "look/numbers.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/end_pass.h"
#include "screens/parts.h"

namespace steep {
namespace {

CardSpec question(std::string_view id, std::string_view head, bool missing) {
  return {.id = id, .head = head, .sign = missing ? Icon::Question : Icon::None, .edge = CardEdge::Ink};
}

int option_cells(Pen& pen, std::string_view id, std::string_view name, const std::vector<EndPassView::Option>& options,
                 int per_row) {
  std::vector<Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < options.size(); ++i) {
    choices.push_back({.text = options[i].text});
    if (options[i].chosen) chosen = static_cast<int>(i);
  }
  return choice_cells(pen, id, name, choices, chosen, per_row);
}

void step(DraftFields& form, const std::string& key, const std::optional<Written>& now, const Unit& unit_if_none,
          const Stepped& by, double least) {
  const Unit& unit = now ? *now->unit : unit_if_none;
  form[key] =
      write_quantity(step_value(now ? now->amount.to_double() : 0, usual_step(unit), by, least, 1e6), unit, 3).text;
}

void draw_sums(Pen& pen, const EndPassView& view) {
  Card card(pen, {.id = "sums"});
  std::vector<NumberGroup> groups;
  for (const EndPassView::Group& group : view.sums) groups.push_back({.number = group.number, .unit = group.words});
  number_groups(card.pen, groups, true);
  if (!view.went_in.empty()) {
    divider(card.pen, 6, 6);
    paragraph_in(card.pen, view.went_in, TextStyle::Label, colors().ink2);
  }
}

void draw_left(Pen& pen, const EndPassView& view, EndPassInput& input) {
  Card card(pen, question("left", view.left_question, view.left_missing));
  const bool beside = !look().stacks();
  Pen left = beside ? card.pen.column({-60, -40}, 0, 12) : card.pen;
  const Stepped by = stepper(
      left, {.id = "left-amount", .value = view.left_value, .unit = view.left_unit, .spoken = view.left_spoken});
  if (by) step(input.form, "left", view.left_now, *view.left_now->unit, by, 0);
  if (by.open) open_amount(input.typing, "left", view.left_now, *view.left_now->unit);
  if (beside) {
    Pen right = card.pen.column({-60, -40}, 1, 12);
    draw_text(right.here(size::kTouch), TextStyle::Body, colors().ink, view.left_detail);
    add_text_item(Role::Text, view.left_detail, right.take(size::kTouch));
  } else {
    paragraph(left, view.left_detail);
  }
  card.pen.below(left);
  card.pen.space(size::kTouchGap);
  if (const int i = option_cells(card.pen, "where", view.left_question, view.where, 2); i >= 0) {
    input.form["where"] = view.where[static_cast<std::size_t>(i)].key;
  }
  if (view.asks_words) {
    card.pen.space(size::kGrid);
    text_field(card.pen, {.id = "words", .label = view.elsewhere_label, .max_length = 80}, input.form["words"]);
  }
}

void draw_wash(Pen& pen, const EndPassView& view, EndPassInput& input) {
  Card card(pen, question("wash", view.wash_question, view.wash_missing));
  if (const int i = option_cells(card.pen, "wash-how", view.wash_question, view.wash, 3); i >= 0) {
    input.form["wash"] = view.wash[static_cast<std::size_t>(i)].key;
  }
  if (view.asks_wash_words) {
    card.pen.space(size::kGrid);
    text_field(card.pen, {.id = "wash-words", .label = view.wash_words_label, .max_length = 80},
               input.form["wash-words"]);
  }
}

void take_weather(DraftFields& form, const WeatherGiven& last) {
  form.erase("weather-not-taken");
  if (last.wind) form["wind"] = last.wind->text;
  if (last.temperature) form["temperature"] = last.temperature->text;
  form["direction"] = last.direction;
  form["sky"] = last.sky;
  form["where-measured"] = last.where;
}

void draw_weather(Pen& pen, const EndPassView& view, EndPassInput& input) {
  Card card(pen, question("weather", view.weather_question, view.weather_missing));
  const std::string not_taken = look_words()("look.not_taken"_w);
  const std::array<Choice, 2> cells{Choice{.text = view.weather_last.empty() ? view.weather_enter : view.weather_last},
                                    Choice{.text = not_taken}};
  const std::array<float, 2> shares{3, 2};
  const int i = choice_cells(card.pen, "weather", view.weather_question, cells, view.weather, 2, shares);
  if (i == 1) input.form["weather-not-taken"] = "yes";
  if (i == 0 && view.last_weather && view.weather != 0) {
    take_weather(input.form, *view.last_weather);
  } else if (i == 0) {
    input.form.erase("weather-not-taken");
    input.weather_open = true;
  }
}

void weather_sheet(const EndPassView& view, EndPassInput& input) {
  Sheet sheet({.id = "weather-sheet", .title = view.weather_title});
  Pen& pen = sheet.pen();
  const std::array<Stepper, 2> two{Stepper{.id = "wind",
                                           .label = view.wind_label,
                                           .value = view.wind_value,
                                           .unit = view.wind_unit,
                                           .spoken = view.wind_spoken},
                                   Stepper{.id = "temperature",
                                           .label = view.temp_label,
                                           .value = view.temp_value,
                                           .unit = view.temp_unit,
                                           .spoken = view.temp_spoken}};
  int which = -1;
  const Stepped by = steppers(pen, two, which);
  if (which == 0 && by) step(input.form, "wind", view.wind, *view.wind_in, by, 0);
  if (which == 1 && by) step(input.form, "temperature", view.temperature, *view.temp_in, by, -60);
  if (which >= 0 && by.open) {
    open_amount(input.typing, which == 0 ? "wind" : "temperature", which == 0 ? view.wind : view.temperature,
                which == 0 ? *view.wind_in : *view.temp_in);
  }
  pen.space(size::kGrid);
  if (const int i = option_cells(pen, "direction", view.weather_title, view.directions, 4); i >= 0)
    input.form["direction"] = view.directions[static_cast<std::size_t>(i)].key;
  pen.space(size::kGrid);
  if (const int i = option_cells(pen, "sky", view.weather_title, view.skies, 2); i >= 0)
    input.form["sky"] = view.skies[static_cast<std::size_t>(i)].key;
  pen.space(size::kGroupGap);
  if (button(pen, {.id = "done", .text = view.weather_done, .kind = ButtonKind::Primary}) || sheet.closed())
    input.weather_open = false;
}

void draw_typing(const EndPassView& view, EndPassInput& input) {
  const std::string what = input.typing.what;
  const Dimension dimension = unit(input.typing.unit).dimension;
  std::string_view title = view.left_question;
  if (what == "wind") title = view.wind_label;
  if (what == "temperature") title = view.temp_label;
  AmountAsk ask{.title = title, .dimension = dimension, .units = usual_units(dimension)};
  ask.signs = dimension == Dimension::Temperature;
  const AmountAnswer answer = amount_sheet(input.typing, ask, view.units);
  if (answer.written) input.form[what] = answer.written->text;
}

Do end_it(const EndRequest& request) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [request](Book& book, const Going& going) { return end_pass(book, request, going); };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Go{{"today", {}}}; };
  return ask;
}

}  // namespace

std::optional<Ask> draw_end_pass(const EndPassView& view, EndPassInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("end-pass", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    problem_line(pen, view.problem);
    draw_sums(pen, view);
    if (!view.open_beds.empty()) {
      caution_line(pen, {.id = "open-beds", .text = view.open_beds});
      pen.space(size::kCardGap);
    }
    draw_left(pen, view, input);
    draw_wash(pen, view, input);
    draw_weather(pen, view, input);
    if (!view.waits.empty()) {
      hold_note(
          pen, {.kind = view.waits_entry ? HoldKind::NoEntry : HoldKind::NoHarvest, .text = view.waits, .card = false});
    }
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    if (button(pen, {.id = "end",
                     .text = view.end,
                     .icon = Icon::Tick,
                     .kind = ButtonKind::Primary,
                     .enabled = view.can_end}) &&
        view.can_end) {
      ask = end_it(view.request);
    }
  }
  if (!furniture.covered) {
    if (input.typing.is_open()) {
      draw_typing(view, input);
    } else if (input.weather_open) {
      weather_sheet(view, input);
    }
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
