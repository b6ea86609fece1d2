#include "screens/book_screen.h"

#include "book/questions.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/draw.h"
#include "look/frame.h"
#include "look/press.h"
#include "look/rows.h"
#include "screens/parts.h"
#include "screens/photo_words.h"

namespace steep {
namespace {

void fill_saved(BookScreenView& view, const Surroundings& around) {
  const Words& words = around.words;
  const StorageHealth health = around.platform.storage();
  view.all_saved = health.state == SaveState::Saved;
  view.unsaved = health.state == SaveState::NotSaved;
  view.saved_head = words(view.all_saved ? "book.all_saved"_w : view.unsaved ? "book.not_saved"_w : "book.saving"_w);
  if (health.last_saved.ms > 0) view.saved_detail = words("book.last_saved"_w, {around.when(health.last_saved)});
  if (view.unsaved) view.saved_detail = words("book.give_file_now"_w);
  if (health.photos_left > 0)
    view.storage_caution = words.count("storage.photos_left"_w, health.photos_left);
  else if (!health.lasting)
    view.storage_caution = words("book.not_lasting"_w);
}

void fill_handover(BookScreenView& view, const Surroundings& around, const Book::HandedOver& handed) {
  const Words& words = around.words;
  view.handover = words("book.handover"_w);
  view.works_offline = words("book.works_offline"_w);
  view.not_given_number = show_count(handed.not_given, around.units);
  view.not_given = words("book.not_given"_w);
  if (handed.not_given > 0 && handed.not_given_since.ms > 0)
    view.not_given_note = words("book.since"_w, {around.when(handed.not_given_since)});
  view.given_number = show_count(handed.given, around.units);
  view.given = words("book.given"_w);
  if (handed.given > 0 && handed.given_at.ms > 0) view.given_note = around.when(handed.given_at);
  view.any_confirmed = handed.confirmed > 0;
  view.confirmed =
      view.any_confirmed ? words("book.confirmed_by"_w, {handed.confirmed_by}) : words("book.not_confirmed_yet"_w);
  if (view.any_confirmed && handed.confirmed_at.ms > 0) view.confirmed_note = around.when(handed.confirmed_at);
}

void fill_notice(BookScreenView& view, const Surroundings& around) {
  const auto notice = around.book.notice();
  if (!notice) return;
  const Words& words = around.words;
  view.notice_read = words("book.notice_read"_w);
  switch (notice->befell) {
    case Book::Befell::Restored:
      view.notice = words("book.restored"_w, {around.when(notice->at)});
      view.notice_text = words("book.restored_text"_w);
      break;
    case Book::Befell::Continued:
      view.notice = words("book.continued"_w, {around.when(notice->at)});
      view.notice_text = words("book.continued_text"_w);
      break;
    case Book::Befell::GivenUnsaved:
      view.notice = words("book.given_unsaved"_w, {around.when(notice->at)});
      view.notice_text = words("book.given_unsaved_text"_w);
      break;
  }
}

}  // namespace

Result<BookScreenView> book_screen_view(const Surroundings& around, const BookScreenInput&) {
  const Words& words = around.words;
  BookScreenView view;
  view.title = words("book.title"_w);
  const std::string label = around.book.copy_label();
  view.second = label.empty() ? around.book.name() : label;
  fill_saved(view, around);
  TRY_ASSIGN(const auto& handed, around.book.handed_over());
  fill_handover(view, around, handed);
  view.can_give = around.book.is_started();
  view.shares = around.platform.can(Verb::ShareFile);
  view.give = words("book.give"_w);
  if (!view.can_give) view.give_why_not = words("give.no_book"_w);
  view.take = words("book.take"_w);
  TRY_ASSIGN(const auto& peers, around.book.peers());
  for (const Book::Peer& peer : peers) {
    BookScreenView::Peer shown;
    shown.label = peer.label.empty() ? short_code(peer.copy) : peer.label;
    if (peer.heard.ms > 0) shown.heard = words("book.taken_in"_w, {around.when(peer.heard)});
    view.peers.push_back(std::move(shown));
  }
  TRY_ASSIGN(const QuestionCounts& counts, question_counts(around.book));
  view.questions = words("book.questions"_w);
  view.questions_detail = counts.all() == 0 ? words("book.nothing_open"_w) : words.count("book.open"_w, counts.all());
  view.report = words("book.report"_w);
  view.report_detail = words("book.report_detail"_w);
  view.work = words("work.title"_w);
  view.work_detail = words("work.detail"_w);
  view.settings = words("app.tab_settings"_w);
  view.same_head = words("book.same"_w);
  view.digest = around.book.digest_code();
  view.digest_why = words("book.digest_why"_w);
  if (const int aside = around.book.files_aside(); aside > 0)
    view.digest_aside = words.count("book.digest_aside"_w, aside);
  if (view.can_give) {
    TRY_ASSIGN(const auto photos, photos_to_give(around.book, {}, around.platform.photos()));
    view.photos = given_photo_lines(photos, around.units, words);
  }
  view.give_part = words("book.give_part"_w);
  fill_notice(view, around);
  if (around.locked) {
    view.locked = words("book.locked_came"_w);
    view.locked_text = words("book.locked_came_text"_w, {around.locked->file.name});
    view.locked_open = words("taking.open_it"_w);
  }
  return view;
}

namespace {

/// What the person has to read before going on: what befell this copy, a locked file that came.
std::optional<Ask> draw_news(Pen& column, const BookScreenView& view) {
  std::optional<Ask> ask;
  if (!view.notice.empty()) {
    Card card(column, {.id = "notice", .head = view.notice, .sign = Icon::CautionDue, .edge = CardEdge::Ink});
    paragraph(card.pen, view.notice_text);
    card.pen.space(8);
    if (button(card.pen, {.id = "notice-read", .text = view.notice_read}))
      ask = write_plainly([](Book& book, const Id&) { return book.notice_read(); });
  }
  if (!view.locked.empty()) {
    Card card(column, {.id = "locked", .head = view.locked, .sign = Icon::FileIn, .edge = CardEdge::Ink});
    paragraph(card.pen, view.locked_text);
    card.pen.space(8);
    if (button(card.pen, {.id = "open", .text = view.locked_open})) ask = Go{{"take", {}}};
  }
  return ask;
}

/// The one thing that everybody looks for here, larger than all else.
void saved_state(Pen& pen, Icon icon, std::string_view head, std::string_view detail) {
  const float sign = 42, left = sign + 14, room = pen.width() - left;
  const float first = wrapped_height(room, TextStyle::Title, head),
              second = detail.empty() ? 0 : wrapped_height(room, TextStyle::Label, detail);
  const Box row = pen.take(std::max(sign, first + second));
  draw_icon({row.left + sign / 2, row.center().y}, sign, icon, colors().ink);
  const float top = row.center().y - (first + second) / 2;
  draw_wrapped({row.left + left, top, row.right, top + first}, TextStyle::Title, colors().ink, head);
  draw_wrapped({row.left + left, top + first, row.right, row.bottom}, TextStyle::Label, colors().ink, detail);
  add_text_item(Role::Status, std::string(head) + (detail.empty() ? "" : ", ") + std::string(detail), row);
}

void draw_saved(Pen& column, const BookScreenView& view) {
  const CardEdge edge = view.all_saved ? CardEdge::Leaf : view.unsaved ? CardEdge::Beet : CardEdge::Grey;
  const Icon icon = view.all_saved ? Icon::SavedTick : view.unsaved ? Icon::NotSaved : Icon::SavingDots;
  {
    Card card(column, {.id = "saved", .edge = edge});
    saved_state(card.pen, icon, view.saved_head, view.saved_detail);
  }
  if (!view.storage_caution.empty()) caution_note(column, view.storage_caution);
}

GiveFile give_all(const BookScreenView& view) {
  GiveFile give;
  give.request.unsaved = view.unsaved;
  give.share = view.shares;
  give.photos = !view.photos.empty();
  return give;
}

std::optional<Ask> draw_handover(Pen& column, const BookScreenView& view) {
  std::optional<Ask> ask;
  Card card(column, {.id = "handover", .head = view.handover, .note = view.works_offline});
  count_row(card.pen, {.number = view.not_given_number, .words = view.not_given, .note = view.not_given_note});
  count_row(card.pen, {.number = view.given_number, .words = view.given, .note = view.given_note});
  if (view.any_confirmed)
    count_row(card.pen, {.sign = Icon::SavedTick, .words = view.confirmed, .note = view.confirmed_note});
  else
    count_row(card.pen, {.number = "–", .words = view.confirmed});
  card.pen.space(8);
  if (button(card.pen, {.id = "give",
                        .text = view.give,
                        .icon = Icon::FileOut,
                        .kind = ButtonKind::Primary,
                        .enabled = view.can_give,
                        .why_not = view.give_why_not}))
    ask = give_all(view);
  for (const std::string& line : view.photos) paragraph(card.pen, line, TextStyle::Label);
  card.pen.space(8);
  if (button(card.pen, {.id = "take", .text = view.take, .icon = Icon::FileIn, .file_pick = true})) ask = TakeFile{};
  if (view.can_give &&
      button(card.pen,
             {.id = "give-part", .text = view.give_part, .icon_after = Icon::ChevronRight, .kind = ButtonKind::Quiet}))
    ask = Go{{"give", {}}};
  for (std::size_t i = 0; i < view.peers.size(); ++i) {
    const IdScope scope("peer", static_cast<std::int64_t>(i));
    const auto& peer = view.peers[i];
    list_row(card.pen, {.id = "row",
                        .icon = peer.icon,
                        .first = peer.label,
                        .value = peer.heard,
                        .value_plain = true,
                        .opens = false,
                        .line_above = true});
  }
  return ask;
}

std::optional<Ask> draw_onward(Pen& column, const BookScreenView& view) {
  std::optional<Ask> ask;
  Card card(column, {.id = "onward"});
  if (list_row(card.pen,
               {.id = "questions", .icon = Icon::Merge, .first = view.questions, .second = view.questions_detail}))
    ask = Go{{"merge", {}}};
  if (list_row(card.pen, {.id = "report",
                          .icon = Icon::Clipboard,
                          .first = view.report,
                          .second = view.report_detail,
                          .line_above = true}))
    ask = Go{{"reports", {}}};
  if (list_row(
          card.pen,
          {.id = "work", .icon = Icon::Dialpad, .first = view.work, .second = view.work_detail, .line_above = true}))
    ask = Go{{"work", {}}};
  return ask;
}

void draw_digest(Pen& column, const BookScreenView& view) {
  Card card(column, {.id = "same", .head = view.same_head});
  paragraph(card.pen, view.digest, TextStyle::M);
  paragraph(card.pen, view.digest_why, TextStyle::Label);
  if (!view.digest_aside.empty()) caution_note(card.pen, view.digest_aside);
}

}  // namespace

std::optional<Ask> draw_book_screen(const BookScreenView& view, BookScreenInput&, const Furniture& furniture) {
  std::optional<Ask> ask;
  const auto answer = [&](std::optional<Ask> of_card) {
    if (of_card) ask = std::move(of_card);
  };
  ScreenSpec spec = furniture.tab("book", view.title, view.second);
  if (!look().wide_rail()) {
    spec.corner = Icon::Settings;
    spec.corner_name = view.settings;
  }
  Screen screen(spec);
  {
    ScreenPart main = screen.main();
    in_two_parts(
        main.pen(),
        [&](Pen& pen) {
          problem_line(pen, furniture.problem);
          answer(draw_news(pen, view));
          draw_saved(pen, view);
          answer(draw_handover(pen, view));
        },
        [&](Pen& pen) {
          answer(draw_onward(pen, view));
          draw_digest(pen, view);
        },
        size::kReading);
  }
  if (screen.corner_pressed()) ask = Go{{"settings", {}}};
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
