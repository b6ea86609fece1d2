#include "screens/merge.h"

#include "book/questions.h"
#include "book/tables.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/frame.h"
#include "look/rows.h"
#include "look/settle.h"
#include "screens/parts.h"

namespace steep {
namespace {

constexpr float kListPanel = 340;
constexpr int kSections = 4;

int section_of(QuestionKind kind) {
  switch (kind) {
    case QuestionKind::SameBedTwice:
    case QuestionKind::SameThing: return 1;
    case QuestionKind::Differs:
    case QuestionKind::EditedUnaware: return 0;
    case QuestionKind::LateChild:
    case QuestionKind::Finding: return 2;
    case QuestionKind::Waiting: return 3;
  }
  return 2;
}

Icon sign_of(int section) {
  static constexpr Icon kSigns[] = {Icon::Differs, Icon::Question, Icon::CautionDue, Icon::Clock};
  return kSigns[section];
}

MergeView::Row row_of(const OpenQuestion& question, const Surroundings& around) {
  MergeView::Row row;
  row.section = section_of(question.kind);
  row.sign = sign_of(row.section);
  row.record = question.record;
  row.other = question.other;
  row.first = spell(question.word, question.values, around.words, around.spell_as());
  const std::string name = record_name(around.book, question.record);
  row.second = around.words.stored("kind." + question.record_kind, question.record_kind) + (name.empty() ? "" : " " + name);
  if (question.since.ms > 0) row.second += " · " + around.when(question.since);
  return row;
}

/// Where pressing a row leads.
PagePlace place_of(const MergeView::Row& row) {
  if (row.section == 1 && !row.other.is_nil()) return {"twice", row.record};
  if (row.section == 0) return {"settle", row.record};
  return {"record", row.record};
}

void draw_list(Pen& pen, const MergeView& view, MergeInput& input, bool wide, std::optional<Ask>& asked) {
  std::vector<SettleCount> counts;
  for (std::size_t i = 0; i < view.counts.size(); ++i) counts.push_back({sign_of(static_cast<int>(i)), view.counts[i].first, view.counts[i].second});
  settle_counts(pen, counts);
  pen.space(8);
  int section = -1;
  for (std::size_t i = 0; i < view.rows.size(); ++i) {
    const auto& row = view.rows[i];
    if (row.section != section) {
      section = row.section;
      pen.space(6);
      heading(pen, view.sections[static_cast<std::size_t>(section)], TextStyle::Strong);
    }
    const IdScope scope("row", static_cast<std::int64_t>(i));
    if (!settle_row(pen, {.id = "row", .sign = row.sign, .first = row.first, .second = row.second, .chosen = wide && row.record == input.chosen}))
      continue;
    if (wide && row.section == 0) {
      input.chosen = row.record;
      input.settle = {};
    } else {
      asked = Go{place_of(row)};
    }
  }
}

void draw_batches(Pen& pen, const MergeView& view, std::optional<Ask>& asked) {
  if (view.batches.empty()) return;
  pen.space(12);
  heading(pen, view.batches_head, TextStyle::Strong);
  for (const auto& batch : view.batches) {
    const IdScope scope("batch", batch.row);
    list_row(pen, {.id = "row", .icon = Icon::FileIn, .first = batch.first, .second = batch.second, .opens = false});
    if (button(pen, {.id = "aside", .text = batch.button}))
      asked = write_plainly([row = batch.row, aside = !batch.aside](Book& book, const Id&) { return book.set_aside(row, aside); });
    pen.space(6);
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
  view.take = words("book.take"_w);
  view.sections = {words("merge.to_settle"_w), words("merge.question"_w), words("merge.to_look_at"_w), words("merge.waiting"_w)};
  view.batches_head = words("merge.files"_w);
  TRY_ASSIGN(const auto questions, open_questions(around.book));
  int counts[kSections] = {};
  for (int section = 0; section < kSections; ++section)
    for (const OpenQuestion& question : questions)
      if (section_of(question.kind) == section) {
        view.rows.push_back(row_of(question, around));
        ++counts[section];
      }
  for (int section = 0; section < 3; ++section)
    view.counts.emplace_back(std::to_string(counts[section]), view.sections[static_cast<std::size_t>(section)]);
  TRY_ASSIGN(const auto batches, around.book.batches());
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
  if (!input.chosen.is_nil()) {
    TRY_ASSIGN(view.chosen, settle_of(around, input.chosen));
  }
  return view;
}

std::optional<Ask> draw_merge(const MergeView& view, MergeInput& input, const Furniture& furniture) {
  std::optional<Ask> asked;
  const bool wide = look().wide_rail();
  ScreenSpec spec = wide ? furniture.tab("merge", view.title, view.second) : furniture.inner("merge", view.title, view.second);
  if (!wide) spec.back = true;
  if (wide && !view.rows.empty()) spec.left_panel = kListPanel;
  Screen screen(spec);
  if (wide && !view.rows.empty()) {
    ScreenPart left = screen.left();
    draw_list(left.pen(), view, input, true, asked);
    draw_batches(left.pen(), view, asked);
    paragraph(left.pen(), view.footnote, TextStyle::Label);
  }
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    problem_line(pen, input.problem ? look_words()(*input.problem) : std::string());
    if (view.rows.empty()) {
      if (empty_state(pen, {.id = "none", .first = view.nothing, .why = view.nothing_why, .button = view.take, .icon = Icon::FileIn}))
        asked = TakeFile{};
      draw_batches(pen, view, asked);
    } else if (!wide) {
      draw_list(pen, view, input, false, asked);
      draw_batches(pen, view, asked);
    } else if (view.chosen) {
      heading(pen, view.chosen->title);
      pen.space(8);
      draw_settle_cards(pen, *view.chosen, input.settle);
    } else {
      paragraph(pen, view.nothing_why, TextStyle::Label);
    }
  }
  if (wide && view.chosen) {
    ScreenPart actions = screen.actions();
    if (auto settled = draw_settle_buttons(actions.pen(), *view.chosen, input.settle)) {
      if (std::holds_alternative<Back>(*settled)) {
        input.chosen = {};
      } else {
        std::get<Do>(*settled).then = {};
        asked = std::move(settled);
      }
    }
  }
  if (!asked) asked = furniture.asked(screen);
  return asked;
}

}  // namespace steep
