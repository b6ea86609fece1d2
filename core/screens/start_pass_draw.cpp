#include <algorithm>
#include <array>

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/frame.h"
#include "look/rows.h"
#include "screens/form_text.h"
#include "screens/parts.h"
#include "screens/start_pass.h"

namespace steep {
namespace {

using Amount = StartPassView::Amount;

Icon icon_of(const std::string& id) {
  const std::string_view what = id.front() == '?' ? std::string_view(id).substr(1) : std::string_view(id);
  if (what == "who") return Icon::Person;
  if (what == "plan") return Icon::Calendar;
  if (what == "rig") return Icon::Spray;
  if (what == "brew") return Icon::Flask;
  if (what == "rates") return Icon::Gauge;
  return Icon::Beds;
}

void open_sheet(StartPassInput& input, std::string_view line) {
  input.sheet = line.front() == '?' ? line.substr(1) : line;
}

std::optional<Ask> draw_known(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, {.id = "known", .head = view.known, .note = view.known_note});
  bool first = true;
  for (const StartPassView::Line& line : view.lines) {
    const bool missing = line.id.front() == '?';
    const ListRow row{.id = line.id,
                      .icon = missing ? Icon::Question : icon_of(line.id),
                      .first = line.first,
                      .second = line.second,
                      .line_above = !first,
                      .spoken = line.spoken};
    if (list_row(card.pen, row)) open_sheet(input, line.id);
    first = false;
  }
  return std::nullopt;
}

CardSpec question(std::string_view id, std::string_view head, bool missing) {
  return {.id = id, .head = head, .sign = missing ? Icon::Question : Icon::None, .edge = CardEdge::Ink};
}

void draw_load(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, question("load", view.load_question, view.load_missing));
  if (!view.volumes_not_taken) {
    std::vector<AmountByKey> amounts;
    if (view.has_tea) amounts.emplace_back("tea", &view.tea);
    amounts.emplace_back("water", &view.water);
    draw_start_amounts(card.pen, input, amounts);
    for (const std::string& line : {view.load_stays, view.load_sum}) {
      if (line.empty()) continue;
      card.pen.space(6);
      paragraph(card.pen, line);
    }
  }
  // 'Not taken' is a key of the number pad; here it is only shown, and taken back.
  bool not_taken = view.volumes_not_taken;
  if (not_taken && check_row(card.pen, "volumes-not-taken", view.not_taken, not_taken))
    input.form.erase("volumes-not-taken");
}

void draw_walk(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, question("walk", view.walk_question, view.walk_missing));
  const std::array<Choice, 2> ways{Choice{.text = view.turn}, Choice{.text = view.same_end}};
  if (const int i = choice_cells(card.pen, "walk", view.walk_question, ways, view.walk); i >= 0) {
    input.form["walk"] = i == 0 ? "turn" : "same";
    if (!form_has(input.form, "from") && view.from >= 0) input.form["from"] = view.from == 1 ? "far" : "zero";
  }
  card.pen.space(size::kTouchGap);
  const float word = std::max(64.0f, text_width(TextStyle::Body, view.from_word) + 8);
  const std::array<Choice, 2> ends{Choice{.text = view.zero_end}, Choice{.text = view.far_end}};
  Pen words = card.pen.column({word, -1}, 0), cells = card.pen.column({word, -1}, 1);
  draw_text(words.take(size::kTouch), TextStyle::Body, colors().ink, view.from_word);
  if (const int i = choice_cells(cells, "from", view.from_word, ends, view.from); i >= 0)
    input.form["from"] = i == 1 ? "far" : "zero";
  card.pen.below(cells);
}

void draw_weather(Pen& pen, const StartPassView& view, StartPassInput& input) {
  Card card(pen, question("weather", view.weather_question, view.weather_missing));
  const bool has_last = !view.weather_last.empty();
  std::vector<Choice> cells;
  if (has_last) cells.push_back({.text = view.weather_last});
  if (!has_last) cells.push_back({.text = view.weather_other});
  const std::string not_taken(look_words()("look.not_taken"_w));
  cells.push_back({.text = not_taken});
  const std::array<float, 2> shares{3, 2};
  const int chosen = view.weather == 1 ? 1 : view.weather == 0 ? 0 : -1;
  const int i = choice_cells(card.pen, "weather", view.weather_question, cells, chosen, 2, shares);
  if (i == 1) {
    input.form["weather-not-taken"] = "yes";
  } else if (i == 0) {
    input.form.erase("weather-not-taken");
    if (view.last_weather && view.weather != 0) {
      const WeatherGiven& last = *view.last_weather;
      if (last.wind) input.form["wind"] = last.wind->text;
      if (last.temperature) input.form["temperature"] = last.temperature->text;
      if (!last.direction.empty()) input.form["direction"] = last.direction;
      if (!last.sky.empty()) input.form["sky"] = last.sky;
      if (!last.where.empty()) input.form["where"] = last.where;
    } else {
      input.sheet = "weather";
    }
  }
}

void draw_typing(const StartPassView& view, StartPassInput& input) {
  struct Typed {
    std::string_view key;
    const Amount* amount;
  };
  for (const Typed& typed :
       {Typed{"tea", &view.tea}, Typed{"water", &view.water}, Typed{"spray-rate", &view.spray_rate},
        Typed{"tea-rate", &view.tea_rate}, Typed{"wind", &view.wind}, Typed{"temperature", &view.temperature}}) {
    if (typed.key != input.typing.what) continue;
    const Unit& now = unit(input.typing.unit);
    AmountAsk ask{.title = typed.amount->label, .dimension = now.dimension, .units = usual_units(now.dimension)};
    if (std::find(ask.units.begin(), ask.units.end(), &now) == ask.units.end())
      ask.units.insert(ask.units.begin(), &now);
    ask.signs = now.dimension == Dimension::Temperature;
    ask.can_be_not_taken = now.dimension == Dimension::Volume;
    const AmountAnswer answer = amount_sheet(input.typing, ask, view.units);
    if (answer.written) input.form[std::string(typed.key)] = answer.written->text;
    if (answer.event == AmountEvent::NotTaken) input.form["volumes-not-taken"] = "yes";
    return;
  }
  input.typing = {};
}

Do start_it(const StartChoices& choices) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [choices](Book& book, const Going& going) { return start_pass(book, choices, going); };
  ask.then = [](const Outcome& outcome) -> std::optional<Ask> { return Go{{"spraying", outcome.record}, true}; };
  return ask;
}

}  // namespace

std::optional<Ask> draw_start_pass(const StartPassView& view, StartPassInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("start-pass", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    if (input.sheet.empty()) problem_line(pen, view.problem);
    ask = draw_known(pen, view, input);
    draw_load(pen, view, input);
    draw_walk(pen, view, input);
    draw_weather(pen, view, input);
    for (std::size_t i = 0; i < view.stops.size(); ++i) problem_line(pen, view.stops[i]);
    for (std::size_t i = 0; i < view.cautions.size(); ++i) {
      IdScope scope("caution", static_cast<std::int64_t>(i));
      caution_line(pen, {.id = "caution", .text = view.cautions[i]});
    }
    if (!view.cleaned.empty()) {
      pen.space(size::kGrid);
      if (button(pen, {.id = "cleaned", .text = view.cleaned})) open_sheet(input, "wash");
    }
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    const ButtonSpec start{
        .id = "start", .text = view.start, .icon = Icon::Spray, .kind = ButtonKind::Primary, .enabled = view.can_start};
    if (button(pen, start) && view.can_start) ask = start_it(view.choices);
  }
  if (!furniture.covered) {
    if (input.typing.is_open()) {
      draw_typing(view, input);
    } else if (!input.sheet.empty() && input.sheet == view.sheet) {  // Else it is made for the next frame.
      if (auto asked = draw_start_sheet(view, input)) ask = asked;
    }
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
