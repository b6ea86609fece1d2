#include "screens/take_preview.h"

#include "base/text.h"
#include "book/questions.h"
#include "book/things.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/draw.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/rows.h"
#include "quantity/time_shown.h"
#include "screens/fact_text.h"
#include "screens/parts.h"
#include "screens/photo_words.h"

namespace steep {
namespace {

using Stage = TakePreviewView::Stage;

/// More days than these make no preview: the rest is one line.
constexpr std::size_t kDaysShown = 10, kDiffersShown = 20;

class Sections {
 public:
  Sections(TakePreviewView& view, const Surroundings& around) : view_(view), around_(around) {}
  void head(WordId word) { view_.sections.push_back({around_.words(word), {}}); }
  void line(std::string what, std::int64_t n) {
    view_.sections.back().lines.emplace_back(std::move(what), show_count(n, around_.units));
  }
  /// A section without lines is none.
  void end() {
    if (!view_.sections.empty() && view_.sections.back().lines.empty()) view_.sections.pop_back();
  }

 private:
  TakePreviewView& view_;
  const Surroundings& around_;
};

void fill_sections(TakePreviewView& view, const TakePlan& plan, const Surroundings& around) {
  const Words& words = around.words;
  Sections out(view, around);
  out.head("taking.by_copy"_w);
  for (const auto& [copy, n] : plan.by_copy)
    if (n > 0) out.line(copy.empty() ? words("taking.unnamed_copy"_w) : copy, n);
  out.end();
  out.head("taking.by_kind"_w);
  for (const auto& [kind, n] : plan.by_kind) out.line(words.stored("kind." + kind, kind), n);
  if (plan.struck > 0) out.line(words("taking.struck"_w), plan.struck);
  out.end();
  out.head("taking.by_person"_w);
  for (const auto& [person, n] : plan.by_person) {
    const std::string name = person_name(around.book, person);
    // Somebody whom only this file knows has no name here yet.
    out.line(name.empty() ? words(person.is_nil() ? "taking.nobody"_w : "taking.new_person"_w) : name, n);
  }
  out.end();
  out.head("taking.by_day"_w);
  std::int64_t earlier = 0;
  std::size_t shown = 0;
  for (auto day = plan.by_day.rbegin(); day != plan.by_day.rend(); ++day) {
    if (++shown > kDaysShown)
      earlier += day->second;
    else
      out.line(show_day(day->first, around.today, words), day->second);
  }
  if (earlier > 0) out.line(words("taking.earlier"_w), earlier);
  out.end();
}

void fill_differs(TakePreviewView& view, const TakePlan& plan, const Surroundings& around) {
  const Words& words = around.words;
  if (plan.differs.empty()) return;
  view.differs_head = words.count("taking.would_differ"_w, static_cast<long long>(plan.differs.size()));
  for (const PlanDiffers& one : plan.differs) {
    if (view.differs.size() == kDiffersShown) {
      view.differs.push_back(
          words("taking.and_more"_w,
                {show_count(static_cast<long long>(plan.differs.size() - kDiffersShown), around.units)}));
      break;
    }
    view.differs.push_back(record_title(around, one.record) + ": " + plan_differs_text(one, words));
  }
}

void fill_plan(TakePreviewView& view, const TakePlan& plan, const Surroundings& around) {
  const Words& words = around.words;
  if (plan.still_aside > 0) view.cautions.push_back(words.count("taking.still_aside"_w, plan.still_aside));
  if (plan.nothing_new()) {
    view.head = words("taking.nothing_new"_w);
    view.detail = words("taking.nothing_new_why"_w);
    view.safe = words("taking.close"_w);
    return;
  }
  view.photos = photo_lines(plan, around.units, words);
  view.go = words("taking.take_in"_w);
  view.safe = words("taking.leave"_w);
  if (plan.fresh == 0) {
    view.head = words("taking.only_photos"_w);
    return;
  }
  view.head = words.count("taking.fresh"_w, plan.fresh);
  view.detail = words("taking.records"_w,
                      {show_count(plan.records_new, around.units), show_count(plan.records_changed, around.units)});
  fill_sections(view, plan, around);
  fill_differs(view, plan, around);
  if (!plan.compared_all) view.cautions.push_back(words("taking.not_all_compared"_w));
  if (plan.waiting > 0) view.cautions.push_back(words.count("taking.waiting"_w, plan.waiting));
  for (const std::string& gap : plan.gaps)
    view.cautions.push_back(words(plan.book_file ? "taking.dropped"_w : "taking.gap"_w, {gap}));
  if (plan.large()) view.cautions.push_back(words("taking.safety_copy"_w));
  if (plan.header.unsaved && !plan.book_file) view.cautions.push_back(words("taking.unsaved"_w));
}

void fill_outcome(TakePreviewView& view, const Book::TakeIn::Outcome& outcome, const Surroundings& around) {
  const Words& words = around.words;
  view.head = outcome.added == 0 ? words("taking.nothing_new"_w) : words.count("taking.came"_w, outcome.added);
  view.detail = outcome.added == 0 ? words("taking.nothing_new_why"_w)
                                   : words("taking.records"_w, {show_count(outcome.records_new, around.units),
                                                                show_count(outcome.records_changed, around.units)});
  if (outcome.photos > 0) view.photos.push_back(words.count("taking.photos_came"_w, outcome.photos));
  if (outcome.added == 0 && outcome.photos > 0) {
    view.head = words("taking.only_photos"_w);
    view.detail.clear();
  }
  Sections out(view, around);
  out.head("taking.after"_w);
  const auto line = [&](WordId what, std::int64_t n) {
    if (n > 0) out.line(words(what), n);
  };
  line("taking.differing"_w, outcome.differing);
  line("taking.findings"_w, outcome.findings);
  line("taking.waiting_lines"_w, outcome.waiting);
  line("taking.struck"_w, outcome.struck);
  out.end();
  if (outcome.still_aside > 0) view.cautions.push_back(words.count("taking.still_aside"_w, outcome.still_aside));
  if (around.book.is_started() && !around.book.has_house())
    view.cautions.push_back(words("question.no-house"_w, {around.book.name()}));
  if (outcome.twin) view.cautions.push_back(words("cli.take.twin"_w));
  for (const std::string& chain : outcome.broken_chains) view.cautions.push_back(words("cli.take.chain"_w, {chain}));
  if (outcome.added > 0) view.cautions.push_back(words("taking.can_be_set_aside"_w));
  // Also what is no difference of a fact: a strike that crossed with an edit, a second record of one name.
  const auto open = question_counts(around.book);
  view.to_merge = outcome.differing > 0 || outcome.findings > 0 || outcome.waiting > 0 ||
                  (outcome.added > 0 && open && open->to_settle > 0);
  view.safe = words("taking.done"_w);
  if (view.to_merge) view.go = words("taking.look"_w);
}

void fill_failure(TakePreviewView& view, const Problem& problem, const Surroundings& around) {
  view.stage = Stage::Failed;
  view.head = around.words("taking.not_taken"_w);
  view.detail = around.sentence(problem);
  // Where in the file, for whoever mends it: 'line 4012, byte 33'.
  if (problem.place.rfind("line ", 0) == 0)
    if (const auto line = parse_int(problem.place.substr(5, problem.place.find(',') - 5)))
      view.detail += " " + around.words("taking.at_line"_w, {show_count(*line, around.units)});
  view.safe = around.words("taking.close"_w);
  if (problem.word == "take.other_book"_w || problem.word == "take.join_name"_w) {
    view.stage = Stage::OtherBook;
    view.join_label = around.words("taking.join_label"_w);
    view.go = around.words("taking.join"_w);
    if (problem.word == "take.join_name"_w) view.join_error = around.sentence(problem);
  }
}

/// The file's name may be all that a person knows of it.
void fill_locked(TakePreviewView& view, const LockedFile& locked, const Words& words) {
  view.second = locked.file.name;
  view.safe = words("taking.cancel"_w);
  if (locked.opening) {
    view.stage = Stage::Opening;
    view.working = words("taking.opening"_w);
    return;
  }
  view.stage = Stage::Locked;
  view.head = words("taking.locked"_w);
  view.detail = words("taking.locked_why"_w);
  view.passphrase_label = words("lock.passphrase"_w);
  view.go = words("taking.open_it"_w);
}

void progress(Pen& pen, std::string_view words, double share) {
  paragraph(pen, words, TextStyle::Strong);
  pen.space(8);
  const Box box = pen.take(16);
  fill_box(box, colors().well);
  fill_box({box.left, box.top, box.left + box.width() * static_cast<float>(share), box.bottom}, colors().leaf);
  edge_box(box, colors().line, 2);
  pen.space(16);
}

}  // namespace

std::string plan_differs_text(const PlanDiffers& one, const Words& words) {
  switch (one.what) {
    case PlanDiffers::What::Fact: return group_name(one.kind, one.group, words);
    case PlanDiffers::What::Crossed: return words("taking.struck_and_edited"_w);
    case PlanDiffers::What::GivenUp: return words("taking.given_up"_w);
    case PlanDiffers::What::Late: return words("taking.late"_w, {words.stored("kind." + one.group, one.group)});
  }
  return {};
}

Result<TakePreviewView> take_preview_view(const Surroundings& around, const TakePreviewInput&) {
  const Words& words = around.words;
  TakePreviewView view;
  view.title = words("taking.title"_w);
  view.safe = words("taking.close"_w);
  if (around.locked) {
    fill_locked(view, *around.locked, words);
    return view;
  }
  if (!around.take) {
    view.head = words("taking.no_file"_w);
    return view;
  }
  const TakeJob& job = *around.take;
  view.share = job.share();
  const FileHeader& header = job.plan().header;
  if (around.files_waiting > 0)
    view.cautions.push_back(words.count("taking.more_files"_w, static_cast<long long>(around.files_waiting)));
  if (!header.label.empty()) view.second = header.label + (header.made.ms > 0 ? " · " + around.when(header.made) : "");
  switch (job.stage()) {
    case TakeJob::Stage::Reading:
      view.stage = Stage::Reading;
      view.working = words("taking.reading"_w);
      view.safe = words("taking.cancel"_w);
      break;
    case TakeJob::Stage::Planned:
      view.stage = Stage::Planned;
      fill_plan(view, job.plan(), around);
      break;
    case TakeJob::Stage::Applying:
      view.stage = Stage::Applying;
      view.working = words("taking.applying"_w);
      view.safe = words("taking.cancel"_w);
      break;
    case TakeJob::Stage::Done:
      view.stage = Stage::Done;
      fill_outcome(view, job.outcome(), around);
      break;
    case TakeJob::Stage::Failed: fill_failure(view, job.problem(), around); break;
  }
  return view;
}

std::optional<Ask> draw_take_preview(const TakePreviewView& view, TakePreviewInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("take", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    if (!view.working.empty()) progress(column, view.working, view.share);
    if (!view.head.empty()) heading(column, view.head);
    if (!view.detail.empty()) paragraph(column, view.detail);
    for (const std::string& line : view.photos) paragraph(column, line);
    column.space(10);
    for (const std::string& caution : view.cautions) caution_note(column, caution);
    if (!view.cautions.empty()) column.space(8);
    if (!view.differs_head.empty()) {
      Card card(column, {.id = "differs", .head = view.differs_head, .sign = Icon::Differs});
      for (const std::string& line : view.differs) paragraph(card.pen, line);
    }
    for (std::size_t i = 0; i < view.sections.size(); ++i) {
      const IdScope scope("section", static_cast<std::int64_t>(i));
      Card card(column, {.id = "lines", .head = view.sections[i].head});
      for (const auto& [what, n] : view.sections[i].lines) pair_line(card.pen, what, n);
    }
    if (view.stage == Stage::OtherBook)
      text_field(column, {.id = "join", .label = view.join_label, .error = view.join_error}, input.join);
    if (view.stage == Stage::Locked) passphrase_field(column, look_words(), view.passphrase_label, input.passphrase);
    if (view.stage > Stage::Opening) input.passphrase = {};  // It opened: no need to remember it.
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    const ButtonSpec safe{.id = "safe", .text = view.safe},
        go{.id = "go", .text = view.go, .kind = ButtonKind::Primary};
    const int pressed = view.go.empty() ? (button(pen, safe) ? 0 : -1) : buttons(pen, {safe, go}, {-1, -1.6f});
    if (pressed == 0) ask = view.stage == Stage::Done || view.stage == Stage::None ? Ask(Back{}) : Ask(TakeCancel{});
    if (pressed == 1) {
      switch (view.stage) {
        case Stage::Locked: ask = TakeUnlock{input.passphrase.passphrase}; break;
        case Stage::Done: ask = Go{{"merge", {}}, true}; break;
        case Stage::OtherBook: ask = TakeApply{input.join}; break;  // Read anew, now as another start of this business.
        default: ask = TakeApply{};
      }
    }
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
