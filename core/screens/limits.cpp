#include "screens/limits.h"

#include <cmath>

#include "base/text.h"
#include "book/farm_commands.h"
#include "book/places.h"
#include "book/things.h"
#include "look/button.h"
#include "look/card.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "quantity/time_shown.h"
#include "screens/parts.h"

namespace steep {
namespace {

using Row = LimitsView::Row;

bool is_clock(std::string_view which) { return which == "hour-from" || which == "hour-to"; }

/// Hours of the day as the clock shows them, all else as a quantity.
std::string value_text(std::string_view which, const Written& value, const Surroundings& around) {
  if (!is_clock(which)) return show(value, around.units, around.words);
  const int minutes = static_cast<int>(std::lround(si(value).to_double() / 60));
  LocalTime time;
  time.hour = minutes / 60 % 24;
  time.minute = minutes % 60;
  return show_clock(time, around.units.clock, around.words);
}

Row row_of(const LimitKind& kind, const FarmLimit* limit, const Surroundings& around) {
  const Words& words = around.words;
  Row row;
  row.which = kind.which;
  row.name = sentence_case(words.stored("limit-name." + row.which, row.which));
  row.why = words.stored("limit-why." + row.which, {});
  const auto own = limit ? limit_written(*limit) : std::nullopt;
  row.is_set = own.has_value();
  if (own) {
    row.value = value_text(kind.which, *own, around);
    row.whose = limit->by.empty() ? words("limits.set"_w) : words("limits.set_by"_w, {limit->by});
  } else if (!kind.standard.empty()) {
    row.value = value_text(kind.which, *parse_written(kind.standard), around);
    row.whose = words("limits.common"_w);
  } else {
    row.value = "—";
    row.whose = words("limits.not_set"_w);
  }
  row.spoken = row.name + ", " + (own || !kind.standard.empty() ? row.value + ", " : "") + row.whose;
  return row;
}

WordId head_of(LimitUse use) {
  switch (use) {
    case LimitUse::Brew: return "limits.brew"_w;
    case LimitUse::Plan: return "limits.plan"_w;
    case LimitUse::Field: return "limits.field"_w;
  }
  return {};
}

/// Units of the reader's system first.
std::vector<const Unit*> units_of(const LimitKind& kind, const UnitsShown& units) {
  const bool metric = units.system == System::Metric;
  if (is_clock(kind.which)) return {&unit("h")};
  if (kind.unit == "m/s") return metric ? std::vector{&unit("m/s"), &unit("km/h")} : std::vector{&unit("mph")};
  if (kind.unit == "degC") return {&unit(metric ? "degC" : "degF")};
  if (kind.unit == "h") return {&unit("h"), &unit("day")};
  if (kind.unit == "min") return {&unit("min"), &unit("h")};
  return {&unit(kind.unit)};
}

const Row* open_row(const LimitsView& view, std::string_view which) {
  for (const LimitsView::Group& group : view.groups)
    for (const Row& row : group.rows)
      if (row.which == which) return &row;
  return nullptr;
}

Do set_to(const LimitsView& view, std::string_view which, std::optional<Written> value) {
  return {[farm = view.farm, by = view.by, which = std::string(which), value](Book& book, const Going& going) {
    return set_limit(book, farm, which, value, by, going);
  }};
}

void draw_group(Pen& pen, const LimitsView::Group& group, LimitsInput& input) {
  Card card(pen, {.id = group.head, .head = group.head});
  for (std::size_t i = 0; i < group.rows.size(); ++i) {
    const Row& row = group.rows[i];
    if (list_row(card.pen, {.id = row.which,
                            .first = row.name,
                            .second = row.whose,
                            .value = row.value,
                            .line_above = i > 0,
                            .spoken = row.spoken}))
      input.open = row.which;
  }
}

std::optional<Ask> limit_sheet(const LimitsView& view, const Row& row, LimitsInput& input) {
  std::optional<Ask> ask;
  const LimitKind& kind = *find_limit_kind(row.which);
  const auto units = units_of(kind, view.units);
  if (input.typing.is_open()) {
    const AmountAnswer answer = amount_sheet(
        input.typing,
        {.title = row.name, .dimension = unit(input.typing.unit).dimension, .units = units, .signs = kind.least < 0},
        view.units);
    if (answer.written) ask = set_to(view, row.which, *answer.written);
    return ask;
  }
  Sheet sheet({.id = "limit", .title = row.name + " · " + row.value});
  Pen& pen = sheet.pen();
  paragraph(pen, row.why);
  pen.space(size::kGrid);
  paragraph_in(pen, row.whose, TextStyle::Label, colors().ink2);
  pen.space(size::kGroupGap);
  if (button(pen, {.id = "change", .text = view.change, .icon = Icon::Pencil, .kind = ButtonKind::Primary})) {
    input.problem.reset();
    open_amount(input.typing, row.which, std::nullopt, *units.front());
  }
  if (row.is_set) {
    pen.space(size::kGrid);
    if (button(pen, {.id = "take-back", .text = view.take_back})) ask = set_to(view, row.which, std::nullopt);
  }
  if (sheet.closed()) {
    input.open.clear();
    input.problem.reset();
  }
  return ask;
}

}  // namespace

Result<LimitsView> limits_view(const Surroundings& around, const LimitsInput& input) {
  const Words& words = around.words;
  LimitsView view;
  view.title = words("limits.title"_w);
  view.units = around.units;
  view.change = words("limits.change"_w);
  view.take_back = words("limits.take_back"_w);
  if (around.farm.is_nil()) {
    view.second = words("today.no_farm"_w);
    return view;
  }
  TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
  const Places& places = states->places;
  view.farm = around.farm;
  view.by = person_name(around.book, around.person);
  view.second = places.farm.name;
  view.note = words("limits.note"_w);
  for (const LimitUse use : {LimitUse::Plan, LimitUse::Brew, LimitUse::Field}) {
    LimitsView::Group group{words(head_of(use)), {}};
    for (const LimitKind& kind : limit_kinds())
      if (kind.use == use) group.rows.push_back(row_of(kind, places.limit(kind.which), around));
    view.groups.push_back(std::move(group));
  }
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

std::optional<Ask> draw_limits(const LimitsView& view, LimitsInput& input, const Furniture& furniture) {
  Screen screen(furniture.inner("limits", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen& whole = main.pen();
    const bool wide = whole.width() >= 760;
    Pen note = wide ? whole : reading_column(whole);
    paragraph(note, view.note, TextStyle::Label);
    note.space(size::kGrid);
    whole.below(note);
    if (wide) {
      const float top = whole.y;
      Pen left = whole.column({-1, -1}, 0, 24), right = whole.column({-1, -1}, 1, 24);
      left.y = right.y = top;
      for (std::size_t i = 0; i < view.groups.size(); ++i)
        draw_group(i + 1 < view.groups.size() ? left : right, view.groups[i], input);
      whole.below(left);
      whole.below(right);
    } else {
      Pen pen = reading_column(whole);
      for (const LimitsView::Group& group : view.groups) draw_group(pen, group, input);
      whole.below(pen);
    }
  }
  if (!furniture.covered && !input.open.empty()) {
    if (const Row* row = open_row(view, input.open)) {
      if (auto asked = limit_sheet(view, *row, input)) ask = asked;
    } else {
      input.open.clear();
    }
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
