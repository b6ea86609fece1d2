#include "screens/record_page.h"

#include "base/text.h"
#include "book/audit.h"
#include "book/brew_commands.h"
#include "book/given_up.h"
#include "book/record_commands.h"
#include "book/things.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "screens/counted.h"
#include "screens/fact_text.h"
#include "screens/parts.h"

namespace steep {
namespace {

/// 'wind: 3 mph → 5 mph'; a first value has no arrow.
std::string field_line(const FieldChange& field, std::string_view kind, const Surroundings& around) {
  std::vector<std::string> before;
  for (const FieldValue& old : field.before) before.push_back(value_text(old, around));
  const std::string name = field_name(kind, field.now.key, around.words), now = value_text(field.now, around);
  if (before.empty() || (before.size() == 1 && before.front() == now)) return name + ": " + now;
  return name + ": " + join(before, " ≠ ") + " → " + now;
}

RecordPageView::Line line_of(const RecordChange& change, std::string_view kind, const Surroundings& around) {
  const Words& words = around.words;
  const HistoryLine& line = change.line;
  RecordPageView::Line shown;
  std::vector<std::string> head = {
      author_text(around, {line.change.wall}, person_name(around.book, line.change.person), line.copy)};
  if (change.creates) head.push_back(words("record.first_written"_w));
  if (line.clock_doubtful) head.push_back(words("settle.clock_doubtful"_w));
  if (!line.ready) head.push_back(words("record.waiting"_w));
  if (line.aside) head.push_back(words("merge.is_aside"_w));
  shown.head = join(head, " · ");
  for (const FieldChange& field : change.fields) {
    // Of a fact written whole only what moved; the rest stands in its first line.
    const bool same = field.before.size() == 1 && field.before.front() == field.now;
    if (!same) shown.facts.push_back(field_line(field, kind, around));
  }
  if (shown.facts.empty() && !change.fields.empty()) shown.facts.push_back(words("record.said_again"_w));
  if (!line.change.why.empty()) shown.why = words("record.why"_w, {reason_text(line.change.why, words)});
  return shown;
}

/// What this record is one with, either way round.
void fill_joined(RecordPageView& view, const Record& record, const Surroundings& around) {
  const FieldValue* same = record.field("same_as");
  const auto id = same && same->type == FieldType::Reference ? Id::parse(same->text) : std::nullopt;
  if (!id) return;
  view.joined_with = *id;
  view.joined = around.words("record.one_with"_w, {record_title(around, *id)});
  view.part = around.words("record.part"_w);
  view.part_text = around.words("record.part_text"_w, {record_title(around, *id)});
}

}  // namespace

Result<RecordPageView> record_page_view(const Surroundings& around, const RecordPageInput&) {
  const Words& words = around.words;
  TRY_ASSIGN(const auto& record, around.book.record(around.record));
  if (!record) return refuse(Trouble::NotFound, "record.not_here"_w);
  RecordPageView view;
  view.record = around.record;
  view.title = record_title(around, around.record);
  const std::string made = around.when(record->made.at), by = person_name(around.book, record->made_by);
  view.second = by.empty() ? made : words("record.made"_w, {made, by});
  if (!record->struck.empty()) view.struck = words("record.struck"_w, {reason_text(record->struck, words)});
  view.differs = record->differs();
  for (const Group& group : record->groups)
    view.facts.emplace_back(sentence_case(group_name(record->kind, group.key, words)),
                            fact_text(group.stand_in(), around));
  TRY_ASSIGN(const std::vector<Count>& counted, counts(around.book, around.record));
  for (const Count& count : counted)
    view.facts.emplace_back(count_title(count, words) + ", " + around.when(count.when()), count_text(count, around));
  fill_joined(view, *record, around);
  TRY_ASSIGN(const auto& reviews, around.book.reviews());
  for (const Review& review : reviews)
    if (review.record == around.record &&
        (review.why == "review.edited_unaware"_w || review.why == "review.late_child"_w))
      view.decide = words("record.decide"_w);
  TRY_ASSIGN(const auto& given_up, given_up_for_none(around.book));
  if (given_up.count(around.record) > 0) view.decide = words("record.decide"_w);
  TRY_ASSIGN(const auto& history, changes_of(around.book, around.record));
  for (auto change = history.rbegin(); change != history.rend(); ++change)
    view.history.push_back(line_of(*change, record->kind, around));
  TRY_ASSIGN(const auto& children, children_of(around.book, around.record));
  view.children = children.size();
  if (record->kind == "hold" && record->struck.empty() && children.empty()) {
    view.release = words("record.release"_w);
    view.release_it = words("record.release_it"_w);
    view.release_text = words("record.release_text"_w);
  }
  if (record->kind != "book") {
    TRY_ASSIGN(view.photos, photos_view(around, around.record));
  }
  view.history_head = words("beds.history"_w);
  view.strike = words("record.strike"_w);
  view.restore = words("record.restore"_w);
  view.settle = words("record.settle"_w);
  view.confirm_text =
      children.empty() ? words("record.strike_text"_w, {view.title})
                       : words.count("record.strike_children"_w, static_cast<long long>(children.size()), {view.title});
  view.reason_label = words("settle.reason"_w);
  view.go = words("record.strike_it"_w);
  view.safe = words("record.keep_it"_w);
  view.why_not = words("record.reason_first"_w);
  return view;
}

namespace {

std::optional<Ask> draw_facts(Pen& column, const RecordPageView& view) {
  if (!view.struck.empty()) paragraph_in(column, view.struck, TextStyle::Strong, colors().beet);
  {
    Card card(column, {.id = "facts"});
    for (const auto& [name, value] : view.facts) pair_line(card.pen, name, value);
  }
  if (!view.joined.empty() && list_row(column, {.id = "joined", .icon = Icon::Link, .first = view.joined}))
    return Go{{"record", view.joined_with}};
  return {};
}

void draw_history(Pen& column, const RecordPageView& view) {
  heading(column, view.history_head);
  column.space(6);
  for (const auto& line : view.history) {
    paragraph(column, line.head, TextStyle::Label);
    for (const std::string& fact : line.facts) paragraph(column, fact);
    if (!line.why.empty()) paragraph(column, line.why, TextStyle::Label);
    divider(column, 6, 6);
  }
}

std::optional<Ask> draw_actions(Pen& pen, const RecordPageView& view, RecordPageInput& input) {
  std::optional<Ask> ask;
  const auto main_button = [&](const char* id, const std::string& text, Icon icon) {
    return button(pen, {.id = id, .text = text, .icon = icon, .kind = ButtonKind::Primary});
  };
  if (view.differs && main_button("settle", view.settle, Icon::Differs)) ask = Go{{"settle", view.record}};
  if (!view.decide.empty() && main_button("decide", view.decide, Icon::Question)) ask = Go{{"decide", view.record}};
  if (!view.release.empty() && main_button("release", view.release, Icon::None)) input.releasing = true;
  if (!view.part.empty() && button(pen, {.id = "part", .text = view.part, .icon = Icon::Differs})) input.parting = true;
  const bool struck = !view.struck.empty();
  if (button(pen, {.id = struck ? "restore" : "strike",
                   .text = struck ? view.restore : view.strike,
                   .icon = struck ? Icon::Undo : Icon::Strike}))
    input.confirming = true;
  return ask;
}

/// Asks for the reason, then for `deed` with it. `open` falls when the sheet has been answered.
std::optional<Ask> reason_sheet(std::string_view sheet_id, std::string_view title, Confirm what,
                                const RecordPageView& view, RecordPageInput& input, bool& open,
                                Function<Result<Outcome>(Book&, const std::string& why, const Going&)> deed) {
  Sheet sheet({.id = sheet_id, .title = title});
  what.reason_label = view.reason_label;
  what.safe = view.safe;
  what.can_go = !trim(input.reason).empty();
  what.why_not = view.why_not;
  const int pressed = confirm(sheet.pen(), what, input.reason);
  std::optional<Ask> ask;
  if (pressed == 1) {
    ask = Do{[deed = std::move(deed), why = input.reason](Book& book, const Going& going) {
      return deed(book, why, going);
    }};
  }
  if (pressed >= 0 || sheet.closed()) {
    open = false;
    input.reason.clear();
  }
  return ask;
}

std::optional<Ask> draw_sheets(const RecordPageView& view, RecordPageInput& input) {
  if (input.confirming) {
    const bool restoring = !view.struck.empty();
    const std::string& title = restoring ? view.restore : view.strike;
    return reason_sheet(
        "confirm", title,
        {.id = "strike", .text = restoring ? view.struck : view.confirm_text, .go = restoring ? view.restore : view.go},
        view, input, input.confirming,
        [record = view.record, restoring](Book& book, const std::string& why, const Going& going) {
          return restoring ? restore(book, record, true, why, going) : strike(book, record, why, going);
        });
  }
  if (input.releasing) {
    return reason_sheet("releasing", view.release, {.id = "release", .text = view.release_text, .go = view.release_it},
                        view, input, input.releasing,
                        [record = view.record](Book& book, const std::string& why, const Going& going) {
                          return release_hold(book, record, why, going);
                        });
  }
  if (input.parting) {
    return reason_sheet("parting", view.part, {.id = "part", .text = view.part_text, .go = view.part}, view, input,
                        input.parting, [record = view.record](Book& book, const std::string& why, const Going& going) {
                          return part_same(book, record, why, going);
                        });
  }
  return {};
}

}  // namespace

std::optional<Ask> draw_record_page(const RecordPageView& view, RecordPageInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  const auto answer = [&](std::optional<Ask> of_part) {
    if (of_part) ask = std::move(of_part);
  };
  Screen screen(furniture.form("record", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    answer(draw_facts(column, view));
    column.space(8);
    answer(draw_photos(column, view.photos, furniture));
    draw_history(column, view);
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    answer(draw_actions(actions.pen(), view, input));
  }
  if (!furniture.covered) answer(draw_sheets(view, input));
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
