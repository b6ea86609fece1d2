#include "screens/twice.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"
#include "book/brew_commands.h"
#include "book/record_commands.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/hold.h"
#include "look/overlap.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/parts.h"
#include "screens/strip_of_bed.h"

namespace steep {
namespace {

Moment begin_of(const Dose& dose) { return dose.start ? dose.start->at : dose.finish ? dose.finish->at : dose.made.at; }
Moment end_of(const Dose& dose) { return dose.finish ? dose.finish->at : dose.made.at; }

TwiceView::Entry entry_of(const TwiceEntry& entry, Moment zero, const Surroundings& around) {
  const Words& words = around.words;
  TwiceView::Entry shown;
  // First names: both stand in full on the papers.
  shown.name = entry.who;
  shown.head = words("twice.who_when"_w,
                     {shown.name, show_clock_span(around.zone.local(begin_of(entry.dose)),
                                                  around.zone.local(end_of(entry.dose)), around.units.clock, words)});
  const std::string load = words("twice.pass_load"_w, {entry.pass_code, std::to_string(entry.load_number)});
  shown.detail = entry.copy.empty() ? load : load + " · " + entry.copy;
  if (entry.volume.spray) {
    const SprayShown spray =
        spray_shown(*entry.volume.spray, std::nullopt, entry.volume.is_estimate(), around.units, words);
    shown.volume = spray.text();
    if (entry.volume.tea && entry.volume.tea->si() > 0)
      shown.tea = words("twice.tea"_w, {tank_number(*entry.volume.tea, around.units, words)});
  } else {
    shown.volume = words("spray.volume_not_known"_w);
  }
  shown.start_min = static_cast<double>(begin_of(entry.dose) - zero) / kMinute;
  shown.finish_min = std::max(shown.start_min + 0.1, static_cast<double>(end_of(entry.dose) - zero) / kMinute);
  return shown;
}

/// A minute of room on both sides, a tick for every minute (every fifth on a long axis).
void lay_axis(TwiceView& view, Moment zero, const Surroundings& around) {
  const double first = std::min(view.entries[0].start_min, view.entries[1].start_min);
  const double last = std::max(view.entries[0].finish_min, view.entries[1].finish_min);
  const double room = std::max(1.0, std::ceil((last - first) * 0.2));
  view.from_min = std::floor(first) - room;
  view.to_min = std::ceil(last) + room;
  const double span = view.to_min - view.from_min;
  const double step = span <= 8 ? 1 : span <= 40 ? 5 : span <= 100 ? 15 : 60;
  for (double at = std::ceil(view.from_min / step) * step; at <= view.to_min; at += step) {
    view.ticks.emplace_back(at, around.clock(zero + static_cast<std::int64_t>(at * kMinute)));
  }
}

/// The pair that one of its doses belongs to; the page was asked for by one alone.
Result<void> find_pair(const Book& book, Id& first, Id& second) {
  TRY_ASSIGN(const std::vector<DosePair>& pairs, same_bed_pairs(book));
  for (const DosePair& pair : pairs) {
    if (pair.first != first && pair.second != first) continue;
    second = pair.second;
    first = pair.first;
    return {};
  }
  return refuse(Trouble::NotFound, "twice.settled"_w);
}

/// 'No entry until Fri 4:04 pm. No harvest until Sat 6:46 pm. Waits count …'
void say_holds(TwiceView& view, const TwiceSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  const auto add = [&](const Hold& hold, WordId until, WordId not_known) {
    if (!hold.holds_at(around.now)) return false;
    const bool known = hold.state == Hold::State::Until;
    view.held_text += (known ? words(until, {until_text(hold, around)}) : words(not_known)) + ". ";
    return true;
  };
  view.no_entry = add(sheet.entry, "spray.no_entry_until"_w, "spray.entry_not_known"_w);
  const bool no_harvest = add(sheet.harvest, "spray.no_harvest_until"_w, "spray.harvest_not_known"_w);
  view.holds = view.no_entry || no_harvest;
  view.held = words(view.holds ? "twice.held"_w : "twice.to_settle"_w);
  view.held_text += words("twice.counted"_w, {view.entries[0].name});
}

void say_sheets(TwiceView& view, const TwiceSheet& sheet, const TwiceInput& input, const Surroundings& around) {
  const Words& words = around.words;
  view.keep_title = words("twice.keep_which"_w);
  view.keep[0] = view.entries[0].head;
  view.keep[1] = view.entries[1].head;
  view.met_title = words("twice.met_title"_w);
  view.met_label = words("twice.met_at"_w);
  view.met_go = words("twice.met_go"_w);
  view.first_side =
      words("twice.from_zero"_w, {sheet.bed.zero_end.empty() ? words("start.zero_end"_w) : sheet.bed.zero_end});
  view.sides[0] = view.entries[0].name;
  view.sides[1] = view.entries[1].name;
  view.note_title = words("twice.note"_w);
  view.note_label = words("twice.note_label"_w);
  view.note_save = words("twice.note_save"_w);
  const Unit& unit = along_unit(around.units);
  view.length = write_quantity(sheet.bed.whole().length(), unit, 1);
  const auto typed = parse_written(input.met);
  view.met = typed ? *typed : write_quantity((sheet.overlap.from + sheet.overlap.to) / 2, unit, 0);
  const Shown met = show_parts(view.met, around.units, words);
  view.met_value = met.number;
  view.met_unit = met.unit;
  view.met_spoken = view.met_label + " " + met.speech();
}

}  // namespace

Result<TwiceView> twice_view(const Surroundings& around, const TwiceInput& input) {
  const Words& words = around.words;
  Id first = around.record, second = around.other;
  if (second.is_nil()) TRY(find_pair(around.book, first, second));
  TRY_ASSIGN(const TwiceSheet& sheet, twice_sheet(around.book, first, second, around.now));
  TwiceView view;
  view.first = sheet.first.dose.id;
  view.second = sheet.second.dose.id;
  view.units = around.units;
  const Moment zero = around.zone.start_of(around.zone.local(begin_of(sheet.first.dose)).date);
  view.title = words("twice.title"_w);
  const std::string bed = sheet.crops.empty() ? sheet.bed.name : sheet.bed.name + " " + sheet.crops;
  view.line = words("twice.line"_w,
                    {bed, sheet.bed.length ? along_text(*sheet.bed.length, around.units, words) : std::string("–"),
                     show_day(around.zone.local(begin_of(sheet.first.dose)).date, around.today, words)});
  view.entries[0] = entry_of(sheet.first, zero, around);
  view.entries[1] = entry_of(sheet.second, zero, around);
  const double overlap = std::max<double>(0, static_cast<double>(sheet.overlap_to - sheet.overlap_from) / kSecond);
  view.both_at = words("twice.both_at"_w, {sheet.bed.name, show_duration(Duration::from_seconds(overlap), words)});
  view.overlap_spoken = view.both_at;
  lay_axis(view, zero, around);
  say_holds(view, sheet, around);
  view.answers[0] = {words("twice.same"_w), words("twice.same_why"_w)};
  view.answers[1] = {words("twice.parts"_w), words("twice.parts_why"_w)};
  view.answers[2] = {words("twice.both"_w), words("twice.both_why"_w)};
  view.later = words("twice.later"_w);
  view.note = words("twice.note"_w);
  say_sheets(view, sheet, input, around);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

namespace {

Do answer_with(TwiceRequest request) {
  Do ask;
  ask.what = [request = std::move(request)](Book& book, const Going& going) {
    return answer_same_bed_twice(book, request, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

TwiceRequest request_of(const TwiceView& view, TwiceAnswer answer) {
  TwiceRequest request;
  request.first = view.first;
  request.second = view.second;
  request.answer = answer;
  return request;
}

void draw_entries(Pen& pen, const TwiceView& view) {
  Card card(pen, {.id = "entries"});
  for (int i = 0; i < 2; ++i) {
    const TwiceView::Entry& entry = view.entries[i];
    IdScope scope("entry", i);
    list_row(card.pen, {.id = "entry",
                        .icon = Icon::Person,
                        .first = entry.head,
                        .second = entry.detail,
                        .value = entry.volume,
                        .value2 = entry.tea,
                        .opens = false,
                        .line_above = i > 0});
  }
}

void draw_overlap(Pen& pen, const TwiceView& view) {
  heading(pen, view.both_at, TextStyle::Strong);
  const std::array<Overlap::Bar, 2> bars{
      Overlap::Bar{view.entries[0].name, view.entries[0].start_min, view.entries[0].finish_min},
      Overlap::Bar{view.entries[1].name, view.entries[1].start_min, view.entries[1].finish_min}};
  std::vector<Overlap::TickMark> ticks;
  for (const auto& [at, text] : view.ticks) ticks.push_back({at, text});
  overlap(pen,
          {.from_h = view.from_min, .to_h = view.to_min, .bars = bars, .ticks = ticks, .spoken = view.overlap_spoken});
}

std::optional<Ask> keep_sheet(const TwiceView& view, TwiceInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "keep", .title = view.keep_title});
  const std::array<Choice, 2> two{Choice{.text = view.keep[0], .second = view.entries[0].detail},
                                  Choice{.text = view.keep[1], .second = view.entries[1].detail}};
  if (const int i = choice_list(sheet.pen(), "which", view.keep_title, two, -1); i >= 0) {
    TwiceRequest request = request_of(view, TwiceAnswer::SameWork);
    request.kept = i == 0 ? view.first : view.second;
    ask = answer_with(request);
    input.sheet.clear();
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

std::optional<Ask> met_sheet(const TwiceView& view, TwiceInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "met", .title = view.met_title});
  Pen& pen = sheet.pen();
  const Stepped by = stepper(pen, {.id = "met-at",
                                   .label = view.met_label,
                                   .value = view.met_value,
                                   .unit = view.met_unit,
                                   .spoken = view.met_spoken});
  if (by) {
    const double most = amount_in(si(view.length).to_double(), *view.met.unit);
    input.met = write_quantity(step_value(view.met.amount.to_double(), usual_step(*view.met.unit), by, 0, most),
                               *view.met.unit, 1)
                    .text;
  }
  if (by.open) open_amount(input.typing, "met", view.met, *view.met.unit);
  pen.space(size::kGroupGap);
  paragraph(pen, view.first_side);
  const std::array<Choice, 2> who{Choice{.text = view.sides[0]}, Choice{.text = view.sides[1]}};
  if (const int i = choice_cells(pen, "side", view.first_side, who, input.first_at_zero ? 0 : 1); i >= 0)
    input.first_at_zero = i == 0;
  pen.space(size::kGroupGap);
  if (button(pen, {.id = "met-go", .text = view.met_go, .kind = ButtonKind::Primary})) {
    TwiceRequest request = request_of(view, TwiceAnswer::EachAPart);
    request.met = quantity_value("met", view.met.text);
    request.first_at_zero_end = input.first_at_zero;
    ask = answer_with(request);
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

std::optional<Ask> note_sheet(const TwiceView& view, TwiceInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "note", .title = view.note_title});
  text_field(sheet.pen(),
             {.id = "note-text", .label = view.note_label, .kind = FieldKind::MultiLine, .max_length = 500},
             input.note);
  sheet.pen().space(size::kGroupGap);
  const bool ready = !trim(input.note).empty();
  if (button(sheet.pen(), {.id = "note-save", .text = view.note_save, .kind = ButtonKind::Primary, .enabled = ready}) &&
      ready) {
    ask = Do{[of = view.second, text = input.note](Book& book, const Going& going) {
      return add_note(book, of, text, going);
    }};
    input.note.clear();
    input.sheet.clear();
  }
  if (sheet.closed()) input.sheet.clear();
  return ask;
}

/// Same work, each a part, or both in full: the first two ask on in a sheet.
std::optional<Ask> draw_answers(Pen& pen, const TwiceView& view, TwiceInput& input) {
  std::optional<Ask> ask;
  for (int i = 0; i < 3; ++i) {
    const IdScope scope("answer", i);
    if (!big_choice(
            pen, {.id = "answer", .first = view.answers[i].first, .second = view.answers[i].second, .strips = i + 1}))
      continue;
    if (i == 0) input.sheet = "keep";
    if (i == 1) input.sheet = "met";
    if (i == 2) ask = answer_with(request_of(view, TwiceAnswer::BothFull));
  }
  return ask;
}

std::optional<Ask> draw_sheet(const TwiceView& view, TwiceInput& input) {
  if (input.typing.is_open()) {
    const AmountAnswer typed = amount_sheet(
        input.typing,
        {.title = view.met_label, .dimension = Dimension::Length, .units = usual_units(Dimension::Length)}, view.units);
    if (typed.written) input.met = typed.written->text;
    return std::nullopt;
  }
  if (input.sheet == "keep") return keep_sheet(view, input);
  if (input.sheet == "met") return met_sheet(view, input);
  if (input.sheet == "note") return note_sheet(view, input);
  return std::nullopt;
}

}  // namespace

std::optional<Ask> draw_twice(const TwiceView& view, TwiceInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("twice", view.title, view.line));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    if (input.sheet.empty()) problem_line(pen, view.problem);
    draw_entries(pen, view);
    draw_overlap(pen, view);
    pen.space(6);
    if (view.holds) {
      hold_note(
          pen,
          {.kind = view.no_entry ? HoldKind::NoEntry : HoldKind::NoHarvest, .head = view.held, .text = view.held_text});
    } else {
      caution_line(pen, {.id = "to-settle", .text = "**" + view.held + "** " + view.held_text});
    }
    pen.space(6);
    if (auto asked = draw_answers(pen, view, input)) ask = asked;
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    const int pressed =
        buttons(pen, {{.id = "later", .text = view.later}, {.id = "note", .text = view.note, .icon = Icon::Note}});
    if (pressed == 0) ask = Back{};
    if (pressed == 1) input.sheet = "note";
  }
  if (!furniture.covered)
    if (auto asked = draw_sheet(view, input)) ask = asked;
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
