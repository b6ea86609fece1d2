// What takes longer than a frame: files taken in, locks opened, the demo farm made.
#include <utility>

#include "app/inside.h"
#include "book/leave_demo.h"
#include "book/work.h"
#include "handover/lock.h"
#include "handover/safety_copy.h"

namespace steep {

bool App::Inside::has_job() const {
  return busy() || (take && take->stage() == TakeJob::Stage::Reading && here().page == "take");
}
bool App::Inside::busy() const { return demo || slow_deed || (take && take->stage() == TakeJob::Stage::Applying); }

void App::Inside::slowly(Function<void()> deed) {
  slow_deed = std::move(deed);
  slow_said = false;
  again = true;
}

void App::Inside::unlock_file(const Passphrase& passphrase, const PagePlace& from) {
  if (!locked || !book) return;
  auto opened = unlock(locked->file.bytes, passphrase);
  locked->opening = false;
  if (!opened) return set_problem(from, opened.error());
  File file{std::move(locked->file.name), std::move(*opened), {}};
  locked.reset();
  begin_take(std::move(file));
}

void App::Inside::begin_take(File file) {
  if (!book) return;
  if (busy()) return toast(chosen_words()("app.busy"_w));
  // Nobody decided about a locked one that came by itself.
  if (locked && locked_came) come_again = locked->file.name;
  end_take();
  if (is_locked(file.bytes)) {
    locked = LockedFile{std::move(file)};
    locked_came = false;
    return go({{"take", {}}});
  }
  take_file = file;
  take = std::make_unique<TakeJob>(*book, std::move(file), std::string(), &platform.photos());
  go({{"take", {}}});
}

/// Not over one that somebody looks at: several dropped at once are several decisions.
void App::Inside::take_dropped() {
  if (dropped_files.empty() || !book || busy() || here().page == "take") return;
  File next = std::move(dropped_files.front());
  dropped_files.pop_front();
  begin_take(std::move(next));
}

bool App::Inside::take_quietly(File file) {
  // Only into a book that is there: the first file of all is a person's to choose.
  if (!book || !book->is_started() || busy() || quiet_take || is_taking()) return false;
  if (is_locked(file.bytes)) {
    // Nobody was asked, so nobody is interrupted: it waits on the Book page for its passphrase.
    if (here().page == "take" || (locked && locked->file.name != file.name)) return false;
    toast(chosen_words()("taking.arrived_locked"_w, {file.name}));
    locked = LockedFile{std::move(file)};
    locked_came = true;
    return true;
  }
  if (const auto open = open_pass(*book); !open || *open) return false;
  quiet_file = file.name;
  quiet_take = std::make_unique<TakeJob>(*book, std::move(file), std::string(), &platform.photos());
  again = true;
  return true;
}

/// Ends a take that is looked at or waits.
void App::Inside::end_take() {
  if (take) take->cancel();
  take.reset();
  locked.reset();
  take_aside.waits = false;
}

void App::Inside::when_set_aside(Aside& aside, Function<void(const Result<void>&)> then) {
  if (aside.waits) return;
  aside.waits = true;
  platform.make_safety_copy([this, &aside, asked = ++aside.asked, then = std::move(then)](Result<void> safe) {
    if (!aside.waits || asked != aside.asked) return;  // Nobody waits for it any more.
    aside.waits = false;
    again = true;
    if (safe) note_safety_copy(platform);
    then(safe);
  });
}

bool App::Inside::is_taking() const {
  return take && take->stage() != TakeJob::Stage::Done && take->stage() != TakeJob::Stage::Failed;
}

std::string App::Inside::giver_of(const TakePlan& plan) const {
  return plan.header.label.empty() ? chosen_words()("taking.unnamed_copy"_w) : plan.header.label;
}

/// Too much for a moment: its progress is on screen, as of a file that a person chose.
void App::Inside::take_on_screen() {
  if (is_taking()) return;  // What a person began goes first.
  when_set_aside(quiet_aside, [this](const Result<void>& safe) {
    if (!quiet_take || is_taking()) return;
    std::unique_ptr<TakeJob> job = std::move(quiet_take);
    if (!safe) return refuse_quietly(job->plan(), safe.error());
    end_take();
    take = std::move(job);
    go({{"take", {}}});
    take->apply({});
  });
}

/// Small enough to be over before the next frame: nothing half taken in is ever drawn.
void App::Inside::apply_quietly() {
  if (!quiet_take || quiet_take->stage() != TakeJob::Stage::Planned) return;
  quiet_take->apply({});
  while (quiet_take->stage() == TakeJob::Stage::Applying) quiet_take->step(50);
}

/// What came of a file nobody asked for is told in a line; what it leaves to settle stands on Merge.
void App::Inside::work_quietly(std::int64_t milliseconds) {
  quiet_take->step(milliseconds);
  if (quiet_take->stage() == TakeJob::Stage::Planned) {
    if (quiet_take->plan().large()) return take_on_screen();
    if (quiet_aside.waits) return;
    if (safety_copy_due(platform, quiet_take->plan()))
      return when_set_aside(quiet_aside, [this](const Result<void>&) { apply_quietly(); });
    apply_quietly();
  }
  if (quiet_take->stage() != TakeJob::Stage::Done && quiet_take->stage() != TakeJob::Stage::Failed) return;
  const std::unique_ptr<TakeJob> done = std::move(quiet_take);
  if (done->stage() == TakeJob::Stage::Failed) return refuse_quietly(done->plan(), done->problem());
  told_refused.erase(quiet_file);
  if (done->outcome().added > 0)
    toast(chosen_words().count("taking.arrived"_w, done->outcome().added, {giver_of(done->plan())}));
}

/// Where nothing is wrong with the file itself it may come again, and then this is not said anew.
void App::Inside::refuse_quietly(const TakePlan& plan, const Problem& problem) {
  const bool passes =
      problem.kind == Trouble::System || problem.word == "book.pass_open"_w || problem.word == "book.busy"_w;
  if (passes) come_again = quiet_file;
  if (passes && !told_refused.insert(quiet_file).second) return;
  toast(chosen_words()("taking.arrived_refused"_w, {giver_of(plan), surroundings({}).sentence(problem)}));
}

/// Long jobs go on for about that long.
void App::Inside::work(std::int64_t milliseconds) {
  if (slow_said) {
    slow_said = false;
    if (const auto deed = std::exchange(slow_deed, nullptr)) deed();
  }
  if (quiet_take) work_quietly(milliseconds);
  if (take) {
    take->step(milliseconds);
    // Nothing new brings no change, but what the giver has of ours is confirmed by it: that asks nobody.
    if (take->stage() == TakeJob::Stage::Planned && take->plan().nothing_new()) take->apply(settings.person);
    if (take->stage() == TakeJob::Stage::Done && way.front().page == "first-run" && book->is_started()) {
      // The farm came from the file: the program begins.
      settings = read_settings(platform);
      way = {home(), {"take", {}}};
    }
  }
  if (demo) {
    const auto step = demo->step();
    if (!step) {
      demo.reset();
      open_book();
      trouble = step.error();
      set_problem(here(), step.error());
      return;
    }
    demo_share = step->share;
    if (step->done) {
      demo.reset();
      platform.keep();
      open_book();
    }
  }
}

/// Whoever comes next opens the book itself; two connections would wait for each other. A take that was looked at holds on
/// to the book: it ends first.
void App::Inside::let_go_of_book() {
  end_take();
  quiet_take.reset();
  quiet_aside.waits = false;
  kept.clear();
  book.reset();
}

void App::Inside::end_demo() {
  if (!book || !book->is_demo()) return;
  const PagePlace from = here();
  let_go_of_book();
  const auto left = leave_demo(platform.book_place());
  open_book();
  if (left) return platform.keep();
  go(Go{from});
  page(from);
  set_problem(from, left.error());
}

void App::Inside::begin_demo() {
  if (!book || book->is_started()) return;
  DemoWish wish;
  wish.now = last_now;
  if (const std::string zone = platform.zone_name(); !zone.empty()) wish.zone_name = zone;
  const BookPlace place = platform.book_place();
  let_go_of_book();
  auto maker = DemoMaker::start(place, wish, [this] { platform.keep(); });
  if (!maker) {
    open_book();
    page(here());
    set_problem(here(), maker.error());
    return;
  }
  demo = std::move(*maker);
  demo_share = 0;
}

}  // namespace steep
