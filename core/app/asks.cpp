// What pages ask for, carried out.
#include <utility>

#include "app/inside.h"
#include "book/takes_reason.h"
#include "handover/give_photos.h"
#include "handover/safety_copy.h"
#include "look/sheet.h"

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
  refused_on = sheet_on_screen();
  Page* shown = platform.storage().elsewhere ? nullptr : kept_page(from);
  if (shown) {
    if (book) platform.announce(surroundings({}).sentence(problem), true);
    shown->set_problem(std::move(problem));
  } else if (book) {  // No page that could show it is drawn.
    toast(surroundings({}).sentence(problem));
  }
  again = true;
}

Page* App::Inside::kept_page(const PagePlace& place) {
  const auto found = kept.find(place);
  return found == kept.end() ? nullptr : found->second.get();
}

void App::Inside::answer(const Ask& ask, const PagePlace& from) {
  again = true;
  // While a file is being taken in, only its progress is on screen and commands are refused.
  if (busy() && !std::holds_alternative<TakeCancel>(ask) && !std::holds_alternative<TryAgain>(ask)) {
    toast(chosen_words()("app.busy"_w));
    return;
  }
  if (Page* shown = kept_page(from)) shown->set_problem(std::nullopt);
  std::visit([&](const auto& one) { on(one, from); }, ask);
}

void App::Inside::on(const Go& ask, const PagePlace&) { go(ask); }
void App::Inside::on(const Back&, const PagePlace&) { back(); }
void App::Inside::on(const Do& ask, const PagePlace& from) { run(ask, from, {}); }
void App::Inside::on(const TryAgain&, const PagePlace&) { platform.keep(); }
void App::Inside::on(const UseHere&, const PagePlace&) { platform.use_here(); }
void App::Inside::on(const UseNewer&, const PagePlace&) { platform.use_newer(); }
void App::Inside::on(const MakeDemo&, const PagePlace&) { begin_demo(); }
void App::Inside::on(const LeaveDemo&, const PagePlace&) { end_demo(); }

void App::Inside::on(const Set& ask, const PagePlace& from) {
  for (const auto& [name, value] : ask.settings) {
    if (const auto done = platform.set_setting(name, value); !done) set_problem(from, done.error());
  }
  settings = read_settings(platform);
}

void App::Inside::on(const CopyText& ask, const PagePlace&) {
  platform.copy_text(ask.text);
  toast(chosen_words()("app.copied"_w));
}

void App::Inside::on(const TakeFile&, const PagePlace& from) {
  platform.pick_file([this, from](Result<File> file) {
    if (file) {
      begin_take(std::move(*file));
    } else if (file.error().kind != Trouble::NotFound) {  // Nothing chosen is no trouble.
      set_problem(from, file.error());
    }
    again = true;
  });
}

void App::Inside::on(const TakeApply& ask, const PagePlace& from) {
  if (!take) return;
  if (!ask.join.empty()) {
    // The other book's name was typed: the file is read anew, now as another start of this business.
    take->cancel();
    take_aside.waits = false;
    take = std::make_unique<TakeJob>(*book, take_file, ask.join, &platform.photos());
    return;
  }
  if (take->stage() != TakeJob::Stage::Planned) return;
  if (!book->is_started() || !safety_copy_due(platform, take->plan())) return apply_take();
  when_set_aside(take_aside, [this, from](const Result<void>& safe) {
    if (!take || take->stage() != TakeJob::Stage::Planned) return;
    // The copy of the day is not worth refusing a few records.
    if (!safe && take->plan().large()) return set_problem(from, safe.error());
    apply_take();
  });
}

void App::Inside::apply_take() {
  take_file = {};
  take->apply(settings.person);
}

void App::Inside::on(const TakeUnlock& ask, const PagePlace& from) {
  if (!locked) return;
  locked->opening = true;
  slowly([this, passphrase = ask.passphrase, from] { unlock_file(passphrase, from); });
}

void App::Inside::on(const TakeCancel&, const PagePlace&) {
  end_take();
  slow_deed = nullptr;
  if (here().page == "take" && !back()) way = {home()};
}

/// Until the person gives a reason, or leaves it.
void App::Inside::hold_up(const Do& ask, const PagePlace& from, std::vector<std::string> sentences) {
  for (const std::string& sentence : sentences) platform.announce(sentence, true);
  if (Page* shown = held_up ? nullptr : kept_page(from)) shown->take_back();
  held_up = HeldUp{ask, from, std::move(sentences), {}, {}};
}

/// Nothing was written: what was typed is there still, and says why.
void App::Inside::refuse_it(const PagePlace& from, const Problem& problem) {
  if (Page* shown = kept_page(from)) shown->take_back();
  set_problem(from, problem);
}

void App::Inside::run(const Do& ask, const PagePlace& from, const std::string& reason) {
  Going going;
  going.person = settings.person;
  going.reason = reason;
  auto result = ask.what(*book, going);
  if (!result) {
    if (held_up)
      held_up->problem = result.error();
    else if (takes_reason(result.error()))
      hold_up(ask, from, {surroundings({}).sentence(result.error())});
    else
      refuse_it(from, result.error());
    return;
  }
  if (!result->written && !result->cautions.empty()) {
    std::vector<std::string> sentences;
    for (const Caution& caution : result->cautions) sentences.push_back(surroundings({}).sentence(caution));
    return hold_up(ask, from, std::move(sentences));
  }
  if (Page* shown = held_up ? kept_page(from) : nullptr) shown->go_on();
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

void App::Inside::on(const GiveFile& ask, const PagePlace& from) {
  if (!ask.passphrase.empty()) {
    toast(chosen_words()("lock.locking"_w));
    return slowly([this, plain = GiveFile{ask.request, ask.share, ask.photos}, passphrase = ask.passphrase,
                   from]() mutable {
      plain.request.lock =
          GiveRequest::Lock{std::move(passphrase), [this](std::span<std::uint8_t> bytes) { platform.random(bytes); }};
      on(plain, from);
    });
  }
  if (!ask.photos) return give(ask.request, ask.share, from);
  const auto wanted = photos_to_give(*book, ask.request, platform.photos());
  if (!wanted) return set_problem(from, wanted.error());
  read_photos(platform.photos(), *wanted,
              [this, request = ask.request, share = ask.share, from](std::vector<PhotoBytes> read) mutable {
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
  const auto out = [this, from, unsaved, to = request.lacking_at, tips = given->tips,
                    photos = given->photos](Result<void> done) {
    if (!done) {
      if (done.error().kind != Trouble::NotFound) set_problem(from, done.error());
      return;
    }
    // Only now is it really out; whether it arrived is said by a file that comes back.
    if (const auto noted = book->note_given(tips, unsaved, photos, to); !noted) set_problem(from, noted.error());
    again = true;
  };
  if (share) {
    platform.share_file(std::move(given->file), out);
  } else {
    platform.save_file(std::move(given->file), out);
  }
}

void App::Inside::on(const MakePaper& ask, const PagePlace& from) {
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

}  // namespace steep
