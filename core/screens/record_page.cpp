#include "screens/record_page.h"

#include "base/text.h"
#include "book/record_commands.h"
#include "book/tables.h"
#include "book/things.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/frame.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "screens/parts.h"
#include "screens/settle_view.h"

namespace steep {
namespace {

std::string group_name(std::string_view kind, std::string_view group, const Words& words) {
  return words.stored("field." + std::string(kind) + "." + std::string(group), words.stored("field." + std::string(group), group));
}

RecordPageView::Line line_of(const HistoryLine& line, std::string_view kind, const Surroundings& around) {
  const Words& words = around.words;
  RecordPageView::Line shown;
  std::vector<std::string> head = {around.when({line.change.wall})};
  const std::string who = person_name(around.book, line.change.person);
  if (!who.empty()) head.push_back(who);
  if (!line.copy.empty()) head.push_back(line.copy);
  if (line.clock_doubtful) head.push_back(words("settle.clock_doubtful"_w));
  if (!line.ready) head.push_back(words("record.waiting"_w));
  if (line.aside) head.push_back(words("merge.is_aside"_w));
  shown.head = join(head, " · ");
  std::vector<std::string> detail;
  std::string_view group;
  std::vector<FieldValue> fields;
  const auto flush = [&] {
    if (!fields.empty()) detail.push_back(group_name(kind, group, words) + ": " + fact_text(fields, around));
    fields.clear();
  };
  for (const FieldValue& field : line.change.fields) {
    if (group_of(field.key) != group) flush();
    group = group_of(field.key);
    fields.push_back(field);
  }
  flush();
  if (!line.change.why.empty()) detail.push_back(words("record.why"_w, {words.stored("why." + line.change.why, line.change.why)}));
  shown.detail = join(detail, "; ");
  return shown;
}

}  // namespace

Result<RecordPageView> record_page_view(const Surroundings& around, const RecordPageInput&) {
  const Words& words = around.words;
  TRY_ASSIGN(const auto record, around.book.record(around.record));
  if (!record) return refuse(Trouble::NotFound, "record.not_here"_w);
  RecordPageView view;
  view.record = around.record;
  const std::string name = record_name(around.book, around.record);
  view.title = words.stored("kind." + record->kind, record->kind) + (name.empty() ? "" : " " + name);
  view.second = words("record.made"_w, {around.when(record->made.at), person_name(around.book, record->made_by)});
  if (!record->struck.empty()) view.struck = words("record.struck"_w, {words.stored("why." + record->struck, record->struck)});
  view.differs = record->differs();
  for (const Group& group : record->groups)
    view.facts.emplace_back(group_name(record->kind, group.key, words), fact_text(group.heads.front().fields, around));
  TRY_ASSIGN(const auto history, around.book.history(around.record));
  for (auto line = history.rbegin(); line != history.rend(); ++line) view.history.push_back(line_of(*line, record->kind, around));
  TRY_ASSIGN(const auto children, children_of(around.book, around.record));
  view.children = children.size();
  view.history_head = words("beds.history"_w);
  view.strike = words("record.strike"_w);
  view.restore = words("record.restore"_w);
  view.settle = words("record.settle"_w);
  view.confirm_text = children.empty() ? words("record.strike_text"_w, {view.title})
                                       : words.count("record.strike_children"_w, static_cast<long long>(children.size()), {view.title});
  view.reason_label = words("settle.reason"_w);
  view.go = words("record.strike_it"_w);
  view.safe = words("record.keep_it"_w);
  view.why_not = words("record.reason_first"_w);
  return view;
}

std::optional<Ask> draw_record_page(const RecordPageView& view, RecordPageInput& input, const Furniture& furniture) {
  std::optional<Ask> asked;
  Screen screen(furniture.form("record", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, input.problem ? look_words()(*input.problem) : std::string());
    if (!view.struck.empty()) paragraph_in(column, view.struck, TextStyle::Strong, colors().beet);
    {
      Card card(column, {.id = "facts"});
      for (const auto& [name, value] : view.facts) pair_line(card.pen, name, value);
    }
    heading(column, view.history_head);
    column.space(6);
    for (const auto& line : view.history) {
      paragraph(column, line.head, TextStyle::Label);
      paragraph(column, line.detail);
      divider(column, 6, 6);
    }
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    if (view.differs && button(actions.pen(), {.id = "settle", .text = view.settle, .icon = Icon::Differs, .kind = ButtonKind::Primary}))
      asked = Go{{"settle", view.record}};
    if (view.struck.empty() && button(actions.pen(), {.id = "strike", .text = view.strike, .icon = Icon::Strike})) input.confirming = true;
    if (!view.struck.empty() && button(actions.pen(), {.id = "restore", .text = view.restore, .icon = Icon::Undo})) input.confirming = true;
  }
  if (input.confirming) {
    const bool restoring = !view.struck.empty();
    const std::string title = restoring ? view.restore : view.strike;
    Sheet sheet({.id = "confirm", .title = title});
    const bool can_go = !trim(input.reason).empty();
    const int pressed = confirm(sheet.pen(), {.id = "strike", .text = restoring ? std::string_view(view.struck) : view.confirm_text,
                                              .reason_label = view.reason_label, .go = restoring ? std::string_view(view.restore) : view.go,
                                              .safe = view.safe, .can_go = can_go, .why_not = view.why_not},
                                input.reason);
    if (pressed == 1) {
      Do ask;
      ask.what = [record = view.record, why = input.reason, restoring](Book& book, const Going& going) {
        return restoring ? restore(book, record, true, why, going) : strike(book, record, why, going);
      };
      asked = std::move(ask);
    }
    if (pressed >= 0 || sheet.closed()) {
      input.confirming = false;
      input.reason.clear();
    }
  }
  if (!asked) asked = furniture.asked(screen);
  return asked;
}

}  // namespace steep
