#include <algorithm>
#include <utility>

#include "app/inside.h"
#include "book/work.h"
#include "handover/give_photos.h"
#include "look/frame.h"

namespace steep {
namespace {

constexpr double kToast_s = 4;

}  // namespace

void App::Inside::toast(std::string text) {
  toast_text = std::move(text);
  toast_until_s = seconds + kToast_s;
  platform.announce(toast_text, false);
  again = true;
}

void App::Inside::set_problem(const PagePlace& from, Problem problem) {
  const auto found = kept.find(from);
  if (found != kept.end() && found->second) {
    if (book) platform.announce(surroundings({}).sentence(problem), true);
    found->second->set_problem(std::move(problem));
  }
  again = true;
}

bool App::Inside::has_job() const {
  return busy() || (take && take->stage() == TakeJob::Stage::Reading && here().page == "take");
}
bool App::Inside::busy() const { return demo || slow_deed || (take && take->stage() == TakeJob::Stage::Applying); }

void App::Inside::answer(const Ask& ask, const PagePlace& from) {
  again = true;
  // While a file is being taken in, only its progress is on screen and commands are refused.
  if (busy() && !std::holds_alternative<TakeCancel>(ask) && !std::holds_alternative<TryAgain>(ask)) {
    toast(words()("app.busy"_w));
    return;
  }
  const auto found = kept.find(from);
  if (found != kept.end() && found->second) found->second->set_problem(std::nullopt);

  if (const auto* to = std::get_if<Go>(&ask)) {
    go(*to);
  } else if (std::holds_alternative<Back>(ask)) {
    back();
  } else if (const auto* deed = std::get_if<Do>(&ask)) {
    run(*deed, from, {});
  } else if (const auto* set = std::get_if<Set>(&ask)) {
    for (const auto& [name, value] : set->settings) {
      if (const auto done = platform.set_setting(name, value); !done) set_problem(from, done.error());
    }
    settings = read_settings(platform);
  } else if (std::holds_alternative<TakeFile>(ask)) {
    platform.pick_file([this, from](Result<File> file) {
      if (file) {
        begin_take(std::move(*file));
      } else if (file.error().kind != Trouble::NotFound) {  // Nothing chosen is no trouble.
        set_problem(from, file.error());
      }
      again = true;
    });
  } else if (const auto* apply = std::get_if<TakeApply>(&ask)) {
    if (take && !apply->join.empty()) {
      // The other book's name was typed: the file is read anew, now as another start of this business.
      take->cancel();
      take = std::make_unique<TakeJob>(*book, take_file, apply->join, &platform.photos());
    } else if (take && take->stage() == TakeJob::Stage::Planned) {
      take_file = {};
      if (take->plan().large()) {
        if (const auto safe = platform.make_safety_copy(); !safe) {
          set_problem(from, safe.error());
          return;
        }
      }
      take->apply();
    }
  } else if (const auto* opens = std::get_if<TakeUnlock>(&ask)) {
    if (!locked) return;
    locked->opening = true;
    slowly([this, passphrase = opens->passphrase, from] { unlock_file(passphrase, from); });
  } else if (std::holds_alternative<TakeCancel>(ask)) {
    if (take) take->cancel();
    take.reset();
    locked.reset();
    slow_deed = nullptr;
    if (here().page == "take" && !back()) way = {home()};
  } else if (const auto* file = std::get_if<GiveFile>(&ask)) {
    give(*file, from);
  } else if (const auto* paper = std::get_if<MakePaper>(&ask)) {
    make_paper(*paper, from);
  } else if (const auto* pick = std::get_if<PickPhoto>(&ask)) {
    pick_photo(pick->of, from);
  } else if (const auto* photo = std::get_if<AddPhoto>(&ask)) {
    add_photo(*photo, from);
  } else if (const auto* save = std::get_if<SavePhoto>(&ask)) {
    save_photo(*save, from);
  } else if (const auto* text = std::get_if<CopyText>(&ask)) {
    platform.copy_text(text->text);
    toast(words()("app.copied"_w));
  } else if (std::holds_alternative<TryAgain>(ask)) {
    platform.keep();
  } else if (std::holds_alternative<UseHere>(ask)) {
    platform.use_here();
  } else if (std::holds_alternative<UseNewer>(ask)) {
    platform.use_newer();
  } else if (std::holds_alternative<MakeDemo>(ask)) {
    begin_demo();
  }
}

void App::Inside::run(const Do& ask, const PagePlace& from, const std::string& reason) {
  Going going;
  going.person = settings.person;
  going.reason = reason;
  auto result = ask.what(*book, going);
  if (!result) {
    if (held_up) {
      held_up->problem = result.error();
    } else {
      set_problem(from, result.error());
    }
    return;
  }
  if (!result->written && !result->cautions.empty()) {
    HeldUp held;
    held.ask = ask;
    held.from = from;
    const Surroundings around = surroundings({});
    for (const Caution& caution : result->cautions) held.sentences.push_back(around.sentence(caution));
    for (const std::string& sentence : held.sentences) platform.announce(sentence, true);
    held_up = std::move(held);
    return;
  }
  held_up.reset();
  if (!result->written) return;
  // The first record makes the book: the first run is over.
  if (way.front().page == "first-run" && book->is_started()) {
    way = {home()};
    kept.clear();
    drafts.clear();
    draft_waits.reset();
  }
  if (!asked_lasting) {
    asked_lasting = true;
    platform.ask_lasting();
  }
  if (ask.ends_draft) {
    draft_waits.reset();
    if (const auto dropped = book->drop_draft(form_of(from)); !dropped) set_problem(from, dropped.error());
    drafts.erase(from);
    kept.erase(from);
  }
  if (ask.then) {
    if (const auto onward = ask.then(*result)) answer(*onward, from);
  }
}

void App::Inside::give(const GiveFile& ask, const PagePlace& from) {
  if (!ask.passphrase.empty()) {
    toast(words()("lock.locking"_w));
    return slowly([this, plain = GiveFile{ask.request, ask.share, ask.photos}, passphrase = ask.passphrase, from]() mutable {
      plain.request.lock = GiveRequest::Lock{std::move(passphrase), [this](std::span<std::uint8_t> bytes) { platform.random(bytes); }};
      give(plain, from);
    });
  }
  if (!ask.photos) return give(ask.request, ask.share, from);
  const auto wanted = photos_to_give(*book, ask.request, platform.photos());
  if (!wanted) return set_problem(from, wanted.error());
  read_photos(platform.photos(), *wanted, [this, request = ask.request, share = ask.share, from](std::vector<PhotoBytes> read) mutable {
    if (!book) return;
    request.photos = std::move(read);
    give(std::move(request), share, from);
  });
}

void App::Inside::give(GiveRequest request, bool share, const PagePlace& from) {
  const bool unsaved = platform.storage().state == SaveState::NotSaved;
  request.unsaved = unsaved;
  auto given = steep::give(*book, request);
  if (!given) return set_problem(from, given.error());
  const auto out = [this, from, unsaved, tips = given->tips, photos = given->photos](Result<void> done) {
    if (!done) {
      if (done.error().kind != Trouble::NotFound) set_problem(from, done.error());
      return;
    }
    // Only now is it really out; whether it arrived is said by a file that comes back.
    if (const auto noted = book->note_given(tips, unsaved, photos); !noted) set_problem(from, noted.error());
    again = true;
  };
  if (share) {
    platform.share_file(std::move(given->file), out);
  } else {
    platform.save_file(std::move(given->file), out);
  }
}

void App::Inside::make_paper(const MakePaper& ask, const PagePlace& from) {
  auto file = ask.make(*book);
  if (!file) return set_problem(from, file.error());
  const auto out = [this, from](Result<void> done) {
    if (!done && done.error().kind != Trouble::NotFound) set_problem(from, done.error());
  };
  switch (ask.how) {
    case MakePaper::How::Print: platform.print_page(std::move(*file), out); break;
    case MakePaper::How::Save: platform.save_file(std::move(*file), out); break;
    case MakePaper::How::Share: platform.share_file(std::move(*file), out); break;
  }
}

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
  begin_take({std::move(locked->file.name), std::move(*opened), {}});
}

void App::Inside::begin_take(File file) {
  if (!book || busy()) return;
  if (take) take->cancel();
  take.reset();
  locked.reset();
  if (is_locked(file.bytes)) {
    locked = LockedFile{std::move(file)};
    return go({{"take", {}}});
  }
  take_file = file;
  take = std::make_unique<TakeJob>(*book, std::move(file), std::string(), &platform.photos());
  go({{"take", {}}});
}

bool App::Inside::take_quietly(File file) {
  // Only into a book that is there: the first file of all is a person's to choose.
  if (!book || !book->is_started() || busy() || quiet_take || (take && take->stage() != TakeJob::Stage::Done && take->stage() != TakeJob::Stage::Failed)) return false;
  if (is_locked(file.bytes)) {
    // Nobody was asked, so nobody is interrupted: it waits on the Book page for its passphrase.
    if (here().page == "take") return false;
    toast(words()("taking.arrived_locked"_w, {file.name}));
    locked = LockedFile{std::move(file)};
    return true;
  }
  if (const auto open = open_pass(*book); !open || *open) return false;
  quiet_take = std::make_unique<TakeJob>(*book, std::move(file), std::string(), &platform.photos());
  again = true;
  return true;
}

/// What came of a file nobody asked for is told in a line; what it leaves to settle stands on Merge.
void App::Inside::work_quietly(std::int64_t milliseconds) {
  quiet_take->step(milliseconds);
  if (quiet_take->stage() == TakeJob::Stage::Planned) {
    if (quiet_take->plan().large()) {
      // Too much for a moment: then its progress is on screen, as of a file that a person chose.
      if (!platform.make_safety_copy()) return quiet_take.reset();
      take = std::move(quiet_take);
      go({{"take", {}}});
      return take->apply();
    }
    // Small enough to be over before the next frame: nothing half taken in is ever drawn.
    quiet_take->apply();
    while (quiet_take->stage() == TakeJob::Stage::Applying) quiet_take->step(50);
  }
  if (quiet_take->stage() != TakeJob::Stage::Done && quiet_take->stage() != TakeJob::Stage::Failed) return;
  const std::unique_ptr<TakeJob> done = std::move(quiet_take);
  const Words say = words();
  const std::string whose = done->plan().header.label.empty() ? say("taking.unnamed_copy"_w) : done->plan().header.label;
  if (done->stage() == TakeJob::Stage::Failed) {
    toast(say("taking.arrived_refused"_w, {whose, surroundings({}).sentence(done->problem())}));
  } else if (done->outcome().added > 0) {
    toast(say.count("taking.arrived"_w, done->outcome().added, {whose}));
  }
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
    if (take->stage() == TakeJob::Stage::Planned && take->plan().nothing_new()) take->apply();
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

void App::Inside::begin_demo() {
  if (!book || book->is_started()) return;
  DemoWish wish;
  wish.now = last_now;
  if (const std::string zone = platform.zone_name(); !zone.empty()) wish.zone_name = zone;
  const BookPlace place = platform.book_place();
  // The maker opens the book itself; two connections would wait for each other. A take that was looked
  // at holds on to the book: it ends first.
  take.reset();
  quiet_take.reset();
  kept.clear();
  book.reset();
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
