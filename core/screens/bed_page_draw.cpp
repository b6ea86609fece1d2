#include "book/brew_commands.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/numbers.h"
#include "look/sheet.h"
#include "screens/bed_page.h"
#include "screens/parts.h"

namespace steep {
namespace {

constexpr std::string_view kSettingsPage = "farm-rule";

void question_card(Pen& pen, const BedPageView& view, std::optional<Ask>& ask) {
  if (view.question.empty()) return;
  Card card(pen, {.id = "question",
                  .head = view.question,
                  .sign = Icon::Question,
                  .edge = CardEdge::Ink,
                  .press_whole = true,
                  .spoken = view.question});
  if (card.pressed()) ask = Go{{"twice", view.question_first}};
}

void sums(Pen& pen, const BedPageView& view) {
  const NumberGroup groups[] = {
      {view.due_label, view.due_number, view.due_unit, view.due_detail},
      {view.sum_label, view.sum_number, view.sum_unit, view.sum_detail},
  };
  number_cards(pen, groups);
  if (!view.other_detail.empty()) paragraph(pen, view.other_detail, TextStyle::Label);
}

Do harvest_of(const BedPageView& view, const BedPageInput& input) {
  Do ask;
  const Habits habits{view.units.mark, view.units.gallons};
  ask.what = [bed = view.bed, typed = input.amount, habits](Book& book, const Going& going) -> Result<Outcome> {
    HarvestGiven given;
    given.bed = bed;
    if (!typed.empty()) {
      constexpr Dimension kAmounts[] = {Dimension::Mass, Dimension::Count, Dimension::Volume};
      TRY_ASSIGN(given.amount, read_quantity(typed, kAmounts, habits));
    }
    return add_harvest(book, given, going);
  };
  return ask;
}

Do note_of(const BedPageView& view, const BedPageInput& input) {
  Do ask;
  ask.what = [bed = view.bed, text = input.text](Book& book, const Going& going) {
    return add_note(book, bed, text, going);
  };
  return ask;
}

Do hold_of(const BedPageView& view, const BedPageInput& input) {
  Do ask;
  ask.what = [bed = view.bed, input](Book& book, const Going& going) {
    return set_hold(book, bed, input.hold_harvest, input.hold_entry, std::nullopt, input.text, going);
  };
  return ask;
}

}  // namespace

void draw_bed_holds(Pen& pen, const BedPageView& view, std::optional<Ask>& ask) {
  int number = 0;
  for (const HoldShown& hold : view.holds) {
    const IdScope scope("hold", number++);
    const RuleEvent event = hold_card(pen, {.id = "hold",
                                            .kind = hold.kind,
                                            .what = hold.what,
                                            .until = hold.until,
                                            .left = hold.left,
                                            .left_words = hold.left_words,
                                            .rule = hold.rule,
                                            .rule_button = hold.rule_button});
    if (event == RuleEvent::Open && !hold.by_hand.is_nil())
      ask = Go{{"record", hold.by_hand}};
    else if (event == RuleEvent::Button || event == RuleEvent::Open)
      ask = Go{{std::string(kSettingsPage), {}}};
  }
}

void draw_bed_history(Pen& pen, const BedPageView& view, bool with_thread, std::optional<Ask>& ask) {
  if (view.history.empty()) paragraph(pen, view.no_history, TextStyle::Label);
  for (std::size_t i = 0; i < view.history.size(); ++i) {
    const HistoryShown& line = view.history[i];
    const IdScope scope("line", static_cast<std::int64_t>(i));
    HistoryEntry entry{.id = "entry",
                       .day = line.day,
                       .clock = line.clock,
                       .sign = line.sign,
                       .icon = line.icon,
                       .first = line.first,
                       .second = line.second,
                       .struck = line.struck,
                       .struck_why = line.struck_why,
                       .thread_above = i > 0,
                       .thread_below = i + 1 < view.history.size(),
                       .spoken = line.spoken};
    if (with_thread ? history_line(pen, entry) : history_row(pen, entry)) ask = Go{{"record", line.record}};
  }
}

std::optional<Ask> draw_add_sheet(const BedPageView& view, BedPageInput& input) {
  if (!input.adding) return std::nullopt;
  const Words& words = look_words();
  Sheet sheet({.id = "add", .title = view.add_text});
  Pen& pen = sheet.pen();
  std::optional<Ask> ask;
  const std::string texts[] = {words("beds.add_harvest"_w), words("beds.add_note"_w), words("beds.add_hold"_w)};
  const Choice choices[] = {{.text = texts[0]}, {.text = texts[1]}, {.text = texts[2]}};
  if (const int chosen = segmented(pen, "form", view.add_text, choices, input.adds); chosen >= 0) input.adds = chosen;
  pen.space(12);
  const std::string amount = words("beds.harvest_amount_field"_w),
                    text = words(input.adds == 2 ? "beds.hold_why"_w : "look.note"_w);
  if (input.adds == 0) text_field(pen, {.id = "amount", .label = amount}, input.amount);
  if (input.adds > 0)
    text_field(pen, {.id = "text", .label = text, .kind = input.adds == 1 ? FieldKind::MultiLine : FieldKind::Text},
               input.text);
  if (input.adds == 2) {
    check_row(pen, "harvest", words("beds.hold_harvest"_w), input.hold_harvest);
    check_row(pen, "entry", words("beds.hold_entry"_w), input.hold_entry);
  }
  pen.space(12);
  const std::string save = words("beds.save"_w);
  if (input.adds >= 0 && button(pen, {.id = "save", .text = save, .kind = ButtonKind::Primary})) {
    ask = input.adds == 0 ? harvest_of(view, input) : input.adds == 1 ? note_of(view, input) : hold_of(view, input);
    input.adding = false;
    input.amount.clear();
    input.text.clear();
  }
  if (sheet.closed()) input.adding = false;
  return ask;
}

std::optional<Ask> draw_bed_page(const BedPageView& view, BedPageInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("bed", view.title, view.second));
  {
    ScreenPart main = screen.main();
    in_two_parts(
        main.pen(),
        [&](Pen& pen) {
          draw_bed_strip(pen.take(bed_strip_height(pen.width(), view.strip.strip(), true)), view.strip.strip(),
                         colors().ground);
          pen.space(12);
          problem_line(pen, furniture.problem);
          question_card(pen, view, ask);
          draw_bed_holds(pen, view, ask);
          sums(pen, view);
          pen.space(8);
        },
        [&](Pen& pen) {
          if (heading_with_link(pen, view.history_head, "filter", view.filter_text, Icon::Filter))
            input.teas_only = !input.teas_only;
          pen.space(8);
          draw_bed_history(pen, view, true, ask);
          pen.space(12);
          if (auto photo = draw_photos(pen, view.photos, furniture)) ask = std::move(photo);
        },
        size::kReading);
  }
  {
    ScreenPart actions = screen.actions();
    const int pressed = buttons(actions.pen(),
                                {{.id = "note", .text = view.note_text, .icon = Icon::Note},
                                 {.id = "add", .text = view.add_text, .icon = Icon::Plus, .kind = ButtonKind::Primary}},
                                {-1, -2});
    if (pressed >= 0) {
      input.adding = true;
      input.adds = pressed == 0 ? 1 : 0;
    }
  }
  if (!furniture.covered)
    if (auto add = draw_add_sheet(view, input)) ask = std::move(add);
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
