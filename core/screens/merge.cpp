#include "screens/merge.h"

#include <algorithm>
#include <map>

#include "base/sorting.h"
#include "base/text.h"
#include "book/differing.h"
#include "book/questions.h"
#include "book/settle_commands.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/frame.h"
#include "look/rows.h"
#include "look/settle.h"
#include "look/sheet.h"
#include "screens/fact_text.h"
#include "screens/parts.h"
#include "screens/record_line.h"

namespace steep {
namespace {

constexpr float kListPanel = 340;
enum Section { kSettle, kQuestion, kLook, kWaiting, kNew, kSections };
/// Of what the newest file brought; the rest is in the lists of beds, brews, passes.
constexpr std::size_t kNewShown = 30;

Section section_of(QuestionKind kind) {
  switch (kind) {
    case QuestionKind::SameBedTwice:
    case QuestionKind::SameThing: return kQuestion;
    case QuestionKind::Differs:
    case QuestionKind::EditedUnaware:
    case QuestionKind::GivenUp:
    case QuestionKind::LateChild: return kSettle;
    case QuestionKind::Finding: return kLook;
    case QuestionKind::Waiting: return kWaiting;
  }
  return kLook;
}

Icon sign_of(int section) {
  static constexpr Icon kSigns[] = {Icon::Differs, Icon::Question, Icon::CautionDue, Icon::Clock, Icon::New};
  return kSigns[section];
}

/// Where the question is answered.
PagePlace place_of(const OpenQuestion& question) {
  switch (question.kind) {
    case QuestionKind::SameBedTwice: return {"twice", question.record, question.other};
    case QuestionKind::SameThing: return {"same-thing", question.record, question.other};
    case QuestionKind::Differs: return {"settle", question.record};
    case QuestionKind::EditedUnaware:
    case QuestionKind::GivenUp:
    case QuestionKind::LateChild: return {"decide", question.record};
    case QuestionKind::Finding:
      if (!question.record.is_nil()) return {"record", question.record};
      break;
    case QuestionKind::Waiting: break;
  }
  return {};
}

MergeView::Row row_of(const OpenQuestion& question, const Surroundings& around) {
  MergeView::Row row;
  row.section = section_of(question.kind);
  row.sign = sign_of(row.section);
  row.leads_to = place_of(question);
  row.settles = question.kind == QuestionKind::Differs;
  const std::string sentence = spell(question.word, question.values, around.words, around.spell_as());
  std::vector<std::string> second;
  if (row.settles) {
    row.first = record_title(around, question.record);
    second.push_back(group_name(question.record_kind, question.group, around.words));
  } else {
    row.first = sentence;
    if (question.kind == QuestionKind::Finding && !question.record.is_nil())
      second.push_back(record_title(around, question.record));
  }
  if (question.since.ms > 0) second.push_back(around.when(question.since));
  row.second = join(second, " · ");
  return row;
}

/// One row a record: its facts that differ stand below its name.
void add_row(std::vector<MergeView::Row>& rows, MergeView::Row row) {
  if (row.settles && !rows.empty() && rows.back().settles && rows.back().leads_to == row.leads_to) {
    rows.back().second = row.second.substr(0, row.second.find(" · ")) + ", " + rows.back().second;
    return;
  }
  // What is said of one record stands together: of thousands of rows only these can be the same.
  for (auto one = rows.rbegin(); one != rows.rend() && one->leads_to.record == row.leads_to.record; ++one)
    if (*one == row) return;
  rows.push_back(std::move(row));
}

Result<void> fill_questions(MergeView& view, const Surroundings& around) {
  TRY_ASSIGN(auto questions, open_questions(around.book));
  // Facts of one record beside each other, in the order in which the records came up.
  std::map<Id, std::size_t> order;
  for (const OpenQuestion& question : questions) order.try_emplace(question.record, order.size());
  sort_list(questions, [&](const OpenQuestion& a, const OpenQuestion& b) {
    const auto place = [&](const OpenQuestion& q) {
      return std::pair(static_cast<int>(section_of(q.kind)), order.at(q.record));
    };
    return place(a) < place(b);
  });
  for (const OpenQuestion& question : questions) add_row(view.rows, row_of(question, around));
  TRY_ASSIGN(const std::vector<AskedFact> asks, open_asks(around.book));
  for (const AskedFact& ask : asks)
    for (MergeView::Row& row : view.rows)
      if (row.settles && row.leads_to.record == ask.record)
        row.second +=
            " · " + (ask.person == around.person ? around.words("asking.put_to_you"_w)
                                                 : around.words("asking.put_to"_w, {first_name(around, ask.person)}));
  return {};
}

Result<void> fill_files(MergeView& view, const Surroundings& around) {
  const Words& words = around.words;
  TRY_ASSIGN(const auto& batches, around.book.batches());
  for (const Book::Batch& batch : batches) {
    MergeView::BatchShown shown;
    shown.row = batch.row;
    shown.first = batch.from.empty() ? batch.file : batch.from;
    shown.second = around.when(batch.at) + " · " + words.count("merge.changes"_w, batch.changes) +
                   (batch.aside ? " · " + words("merge.is_aside"_w) : "");
    shown.button = words(batch.aside ? "merge.back_in"_w : "merge.set_aside"_w);
    shown.aside = batch.aside;
    view.batches.push_back(std::move(shown));
  }
  const auto newest =
      std::find_if(batches.begin(), batches.end(), [](const Book::Batch& batch) { return !batch.aside; });
  if (newest == batches.end()) return {};
  view.last_file = newest->from.empty() ? newest->file : newest->from;
  view.last_file_when = words("merge.file_of"_w, {around.when(newest->at)});
  TRY_ASSIGN(const std::vector<Id>& made, around.book.made_by_batch(newest->row, kNewShown));
  for (const Id& id : made) {
    MergeView::Row row;
    row.section = kNew;
    row.sign = sign_of(kNew);
    row.first = record_title(around, id);
    row.leads_to = {"record", id};
    TRY_ASSIGN(const auto& record, around.book.record(id));
    if (record) {
      TRY_ASSIGN(row.second, record_line(around, *record));
      row.second += (row.second.empty() ? "" : " · ") + around.when(record->made.at);
    }
    view.rows.push_back(std::move(row));
  }
  return {};
}

Result<void> fill_sides(MergeView& view, const Surroundings& around) {
  const Words& words = around.words;
  const auto differing =
      std::count_if(view.rows.begin(), view.rows.end(), [](const MergeView::Row& row) { return row.settles; });
  if (differing < 2) return {};
  TRY_ASSIGN(const auto& all, sides(around.book));
  for (const Side& side : all) {
    const auto n = static_cast<long long>(side.facts);
    const std::string called = side.label.empty() ? copy_told(around.book, side.copy, {}, words) : side.called;
    view.sides.push_back(
        {side.copy, words.count("merge.side"_w, n, {called}), words.count("merge.side_sure"_w, n, {called})});
  }
  view.keep_side = words("merge.keep_side"_w);
  view.side_title = words("merge.side_title"_w);
  view.side_go = words("merge.side_go"_w);
  view.side_safe = words("settle.later"_w);
  view.reason_label = words("merge.side_reason"_w);
  view.why_not = words("merge.side_why_not"_w);
  return {};
}

/// The record in the main part, with the way to the one before and after it.
Result<void> fill_chosen(MergeView& view, const Surroundings& around, const MergeInput& input) {
  std::vector<Id> all;
  for (const auto& row : view.rows)
    if (row.settles) all.push_back(row.leads_to.record);
  if (all.empty()) return {};
  const auto found = std::find(all.begin(), all.end(), input.chosen);
  const std::size_t at = found == all.end() ? 0 : static_cast<std::size_t>(found - all.begin());
  TRY_ASSIGN(view.chosen, settle_of(around, all[at], input.settle));
  view.position =
      around.words("merge.position"_w, {std::to_string(at + 1), std::to_string(all.size()), view.chosen->second});
  view.before = around.words("settle.before_button"_w);
  view.next = around.words("settle.next_button"_w);
  if (at > 0) view.before_record = all[at - 1];
  if (at + 1 < all.size()) view.next_record = all[at + 1];
  return {};
}

void choose(MergeInput& input, const Id& record) {
  input.chosen = record;
  input.settle = {};
}

void draw_list(Pen& pen, const MergeView& view, MergeInput& input, bool wide, std::optional<Ask>& ask) {
  if (!view.last_file.empty())
    list_row(pen, {.id = "last-file",
                   .icon = Icon::FileIn,
                   .first = view.last_file,
                   .second = view.last_file_when,
                   .opens = false});
  static constexpr Icon kSigns[] = {Icon::Differs, Icon::Question, Icon::CautionDue};
  std::vector<SettleCount> counts;
  for (std::size_t i = 0; i < view.counts.size(); ++i)
    counts.push_back({kSigns[i], view.counts[i].first, view.counts[i].second});
  settle_counts(pen, counts);
  pen.space(8);
  if (!view.sides.empty() && button(pen, {.id = "keep-side", .text = view.keep_side})) input.keeping = true;
  int section = -1;
  for (std::size_t i = 0; i < view.rows.size(); ++i) {
    const auto& row = view.rows[i];
    if (row.section != section) {
      section = row.section;
      pen.space(6);
      heading(pen, view.sections[static_cast<std::size_t>(section)], TextStyle::Strong);
    }
    const IdScope scope("row", static_cast<std::int64_t>(i));
    if (row.leads_to.page.empty()) {
      caution_line(pen, {.id = "row", .text = row.first});
      continue;
    }
    const bool shown = wide && row.settles && view.chosen && row.leads_to.record == view.chosen->record;
    if (!settle_row(pen, {.id = "row", .sign = row.sign, .first = row.first, .second = row.second, .chosen = shown}))
      continue;
    if (wide && row.settles)
      choose(input, row.leads_to.record);
    else
      ask = Go{row.leads_to};
  }
}

void draw_batches(Pen& pen, const MergeView& view, std::optional<Ask>& ask) {
  if (view.batches.empty()) return;
  pen.space(12);
  heading(pen, view.batches_head, TextStyle::Strong);
  paragraph(pen, view.aside_note, TextStyle::Label);
  for (const auto& batch : view.batches) {
    const IdScope scope("batch", batch.row);
    list_row(pen, {.id = "row", .icon = Icon::FileIn, .first = batch.first, .second = batch.second, .opens = false});
    if (button(
            pen,
            {.id = "aside", .text = batch.button, .spoken = batch.button + ", " + batch.first + ", " + batch.second}))
      ask = write_plainly(
          [row = batch.row, aside = !batch.aside](Book& book, const Id&) { return book.set_aside(row, aside); });
    pen.space(6);
  }
}

/// The chosen record's head: which of how many, its name, the ways to its neighbors.
void draw_detail_head(Pen& pen, const MergeView& view, MergeInput& input) {
  const float parts[] = {-1, 120, 120};
  Pen name = pen.column(parts, 0), before = pen.column(parts, 1), next = pen.column(parts, 2);
  paragraph(name, view.position, TextStyle::Label);
  heading(name, view.chosen->title, TextStyle::Title);
  if (button(before, {.id = "before-record",
                      .text = view.before,
                      .icon = Icon::ChevronLeft,
                      .enabled = !view.before_record.is_nil()}))
    choose(input, view.before_record);
  if (button(next, {.id = "next-record",
                    .text = view.next,
                    .icon_after = Icon::ChevronRight,
                    .enabled = !view.next_record.is_nil()}))
    choose(input, view.next_record);
  for (const Pen* one : {&name, &before, &next}) pen.below(*one);
  pen.space(12);
}

/// Of the desktop: no facts differ. What else waits is a press away, the first of it in sight.
void draw_nothing_differs(Pen& pen, const MergeView& view, std::optional<Ask>& ask) {
  const auto waits = [](const MergeView::Row& row) { return row.section < kNew && !row.leads_to.page.empty(); };
  const auto first = std::find_if(view.rows.begin(), view.rows.end(), waits);
  if (first == view.rows.end()) {
    paragraph(pen, view.nothing, TextStyle::Strong);
    paragraph(pen, view.nothing_why, TextStyle::Label);
    return;
  }
  Pen column = reading_column(pen);
  paragraph(column, view.copies_agree, TextStyle::Strong);
  paragraph(column, view.rest_waits, TextStyle::Label);
  column.space(size::kGrid);
  if (button(column, {.id = "first-open", .text = first->first, .icon = first->sign, .kind = ButtonKind::Primary}))
    ask = Go{first->leads_to};
  pen.below(column);
}

void side_sheet(const MergeView& view, MergeInput& input, std::optional<Ask>& ask) {
  Sheet sheet({.id = "keep-side", .title = view.side_title});
  std::vector<Choice> copies;
  for (const auto& side : view.sides) copies.push_back({.text = side.text});
  if (const int i = choice_list(sheet.pen(), "sides", view.side_title, copies, input.side); i >= 0) input.side = i;
  const bool chosen = input.side >= 0 && input.side < static_cast<int>(view.sides.size());
  const auto* side = chosen ? &view.sides[static_cast<std::size_t>(input.side)] : nullptr;
  const bool ready = side && !trim(input.reason).empty();
  const int pressed = confirm(sheet.pen(),
                              {.id = "side",
                               .text = side ? std::string_view(side->sure) : std::string_view(),
                               .reason_label = view.reason_label,
                               .go = view.side_go,
                               .safe = view.side_safe,
                               .can_go = ready,
                               .why_not = view.why_not},
                              input.reason);
  if (pressed == 1 && ready)
    ask = Do{[copy = side->copy, why = input.reason](Book& book, const Going& going) {
      return settle_side(book, copy, why, going);
    }};
  if (pressed >= 0 || sheet.closed()) {
    input.keeping = false;
    input.side = -1;
    input.reason.clear();
  }
}

}  // namespace

Result<MergeView> merge_view(const Surroundings& around, const MergeInput& input) {
  const Words& words = around.words;
  MergeView view;
  view.title = words("merge.title"_w);
  view.second = words("merge.second"_w);
  view.footnote = words("merge.nothing_lost"_w);
  view.nothing = words("merge.nothing"_w);
  view.nothing_why = words("merge.nothing_why"_w);
  view.copies_agree = words("merge.copies_agree"_w);
  view.rest_waits = words("merge.rest_waits"_w);
  view.take = words("book.take"_w);
  view.sections = {words("merge.to_settle"_w), words("merge.question"_w), words("merge.to_look_at"_w),
                   words("merge.waiting"_w), words("merge.new"_w)};
  view.batches_head = words("merge.files"_w);
  view.aside_note = words("merge.aside_note"_w);
  TRY(fill_questions(view, around));
  int counts[kSections] = {};
  for (const auto& row : view.rows) ++counts[row.section];
  for (const Section section : {kSettle, kQuestion, kLook})
    view.counts.emplace_back(show_count(counts[section], around.units),
                             words.count(section == kSettle     ? "merge.n_settle"_w
                                         : section == kQuestion ? "merge.n_question"_w
                                                                : "merge.n_look"_w,
                                         counts[section]));
  TRY(fill_sides(view, around));
  TRY(fill_files(view, around));
  TRY(fill_chosen(view, around, input));
  return view;
}

std::optional<Ask> draw_merge(const MergeView& view, MergeInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  const bool wide = look().wide_rail();
  ScreenSpec spec =
      wide ? furniture.tab("merge", view.title, view.second) : furniture.inner("merge", view.title, view.second);
  if (!wide) spec.back = true;
  const bool panel = wide && !view.rows.empty();
  if (panel) spec.left_panel = kListPanel;
  Screen screen(spec);
  if (panel) {
    ScreenPart left = screen.left();
    draw_list(left.pen(), view, input, true, ask);
    draw_batches(left.pen(), view, ask);
    paragraph(left.pen(), view.footnote, TextStyle::Label);
  }
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    problem_line(pen, furniture.problem);
    if (view.rows.empty()) {
      if (empty_state(pen, {.id = "none",
                            .first = view.nothing,
                            .why = view.nothing_why,
                            .button = view.take,
                            .icon = Icon::FileIn}))
        ask = TakeFile{};
      draw_batches(pen, view, ask);
    } else if (!wide) {
      draw_list(pen, view, input, false, ask);
      draw_batches(pen, view, ask);
      paragraph(pen, view.footnote, TextStyle::Label);
    } else if (view.chosen) {
      draw_detail_head(pen, view, input);
      if (auto put = draw_settle_cards(pen, *view.chosen, input.settle, false)) ask = std::move(put);
    } else {
      draw_nothing_differs(pen, view, ask);
    }
  }
  if (wide && view.chosen) {
    ScreenPart actions = screen.actions(screen.main_area().width());
    if (auto settled = draw_settle_buttons(actions.pen(), *view.chosen, input.settle)) {
      if (std::holds_alternative<Back>(*settled)) {
        choose(input, view.next_record);
      } else {
        std::get<Do>(*settled).then = {};
        ask = std::move(settled);
      }
    }
  }
  if (input.keeping && !furniture.covered) side_sheet(view, input, ask);
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
