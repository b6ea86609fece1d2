/// take, give, watch.

#include <algorithm>
#include <atomic>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>
#include <set>
#include <thread>

#include "book/given_up.h"
#include "book/questions.h"
#include "book/tables.h"
#include "book/things.h"
#include "book/told.h"
#include "handover/give.h"
#include "handover/give_photos.h"
#include "handover/safety_copy.h"
#include "handover/take.h"
#include "native/cli.h"
#include "native/disk.h"
#include "native/folder_watch.h"
#include "native/passphrase.h"
#include "quantity/time_shown.h"
#include "screens/photo_words.h"
#include "screens/take_preview.h"

namespace steep {
namespace {

struct TakeWords {
  std::vector<std::string> files;
  std::string join, passphrase_file;
  bool look = false;
};

/// Files as named; of a folder all handover files in it, by name. Folders are added to `folders` too.
Result<std::vector<std::string>> files_named(const Cli& cli, const std::vector<std::string>& named,
                                             std::vector<std::string>& folders) {
  std::vector<std::string> files;
  std::error_code none;
  for (const std::string& name : named) {
    if (!std::filesystem::is_directory(name, none)) {
      files.push_back(name);
      continue;
    }
    folders.push_back(name);
    TRY_ASSIGN(const auto inside, handover_files_in(name));
    if (inside.empty()) std::cerr << cli.words()("cli.take.no_files"_w, {name}) << "\n";
    for (const std::string& file : inside) files.push_back((std::filesystem::path(name) / file).string());
  }
  return files;
}

nlohmann::ordered_json as_json(const std::string& file, const Book::TakeIn::Outcome& outcome) {
  return {{"file", file},
          {"lines", outcome.lines},
          {"new", outcome.added},
          {"known", outcome.known},
          {"waiting", outcome.waiting},
          {"records-new", outcome.records_new},
          {"records-changed", outcome.records_changed},
          {"struck", outcome.struck},
          {"differing", outcome.differing},
          {"findings", outcome.findings},
          {"still-aside", outcome.still_aside},
          {"photos", outcome.photos},
          {"twin", outcome.twin}};
}

void print(Cli& cli, const std::string& file, const Book::TakeIn::Outcome& outcome) {
  const Words words = cli.words();
  if (outcome.still_aside > 0) std::cout << words.count("taking.still_aside"_w, outcome.still_aside) << "\n";
  if (outcome.photos > 0) std::cout << words.count("cli.take.photos"_w, outcome.photos, {file}) << "\n";
  if (outcome.added == 0) {
    if (outcome.photos == 0) std::cout << words("cli.take.nothing"_w, {file}) << "\n";
    return;
  }
  std::cout << words.count("cli.take.came"_w, outcome.added,
                           {file, std::to_string(outcome.records_new), std::to_string(outcome.records_changed)})
            << "\n";
  if (outcome.waiting > 0) std::cout << words.count("cli.take.waiting"_w, outcome.waiting) << "\n";
  if (outcome.differing > 0) std::cout << words.count("cli.take.differing"_w, outcome.differing) << "\n";
  if (outcome.findings > 0) std::cout << words.count("cli.take.findings"_w, outcome.findings) << "\n";
  if (outcome.twin) std::cout << words("cli.take.twin"_w) << "\n";
  for (const std::string& chain : outcome.broken_chains) std::cout << words("cli.take.chain"_w, {chain}) << "\n";
}

/// A gigabyte of something else is refused by its first bytes.
Result<void> looks_like_handover(const std::string& path) {
  TRY_ASSIGN(const std::string start, read_start(path, 512));
  const FileNature nature = file_nature(start);
  if (nature != FileNature::BookFile && nature != FileNature::Locked && !photo_type(start))
    TRY(LineSource::open(start));
  return {};
}

std::string_view what_word(PlanDiffers::What what) {
  switch (what) {
    case PlanDiffers::What::Fact: return "fact";
    case PlanDiffers::What::Crossed: return "struck-and-edited";
    case PlanDiffers::What::GivenUp: return "given-up";
    case PlanDiffers::What::Late: return "late-child";
  }
  return "fact";
}

nlohmann::ordered_json plan_json(const Book& book, const std::string& file, const TakePlan& plan) {
  auto copies = nlohmann::ordered_json::object(), kinds = copies, people = copies, days = copies;
  for (const auto& [copy, n] : plan.by_copy) copies[copy] = n;
  for (const auto& [kind, n] : plan.by_kind) kinds[kind] = n;
  for (const auto& [person, n] : plan.by_person)
    people[person.is_nil() ? "" : person_name(book, person).empty() ? person.text() : person_name(book, person)] = n;
  for (const auto& [day, n] : plan.by_day) days[date_text(day)] = n;
  auto differs = nlohmann::ordered_json::array();
  for (const PlanDiffers& one : plan.differs)
    differs.push_back({{"record", one.record.text()},
                       {"kind", one.kind},
                       {"what", what_word(one.what)},
                       {"group", one.group},
                       {"given-up", one.what == PlanDiffers::What::GivenUp}});
  return {{"file", file},
          {"from", plan.header.label},
          {"book", plan.header.name},
          {"lines", plan.changes},
          {"new", plan.fresh},
          {"waiting", plan.waiting},
          {"records-new", plan.records_new},
          {"records-changed", plan.records_changed},
          {"struck", plan.struck},
          {"still-aside", plan.still_aside},
          {"would-differ", differs},
          {"all-compared", plan.compared_all},
          {"by-copy", copies},
          {"by-kind", kinds},
          {"by-person", people},
          {"by-day", days},
          {"missing", plan.gaps},
          {"photos-coming", plan.photos_coming},
          {"photo-bytes", plan.photo_bytes},
          {"photos-missing", plan.photos_missing}};
}

void print_plan(Cli& cli, const Book& book, const std::string& file, const TakePlan& plan) {
  const Words words = cli.words();
  const SpellAs as = cli.spell_as(book);
  std::cout << file << ": "
            << (plan.fresh == 0 ? words("taking.nothing_new"_w) : words.count("taking.fresh"_w, plan.fresh)) << "\n";
  for (const std::string& line : photo_lines(plan, cli.units(), words)) std::cout << "  " << line << "\n";
  const auto line = [&](const std::string& what, std::int64_t n) { std::cout << "    " << n << "  " << what << "\n"; };
  const auto head = [&](WordId word) { std::cout << "  " << words(word) << "\n"; };
  if (plan.still_aside > 0) std::cout << "  " << words.count("taking.still_aside"_w, plan.still_aside) << "\n";
  if (plan.fresh == 0) return;
  head("taking.by_copy"_w);
  for (const auto& [copy, n] : plan.by_copy) line(copy.empty() ? words("taking.unnamed_copy"_w) : copy, n);
  head("taking.by_kind"_w);
  for (const auto& [kind, n] : plan.by_kind) line(words.stored("kind." + kind, kind), n);
  if (plan.struck > 0) line(words("taking.struck"_w), plan.struck);
  head("taking.by_person"_w);
  for (const auto& [person, n] : plan.by_person) {
    const std::string name = person_name(book, person);
    line(name.empty() ? words(person.is_nil() ? "taking.nobody"_w : "taking.new_person"_w) : name, n);
  }
  head("taking.by_day"_w);
  for (const auto& [day, n] : plan.by_day) line(show_day(day, as.today, words), n);
  if (!plan.differs.empty())
    std::cout << "  " << words.count("taking.would_differ"_w, static_cast<long long>(plan.differs.size())) << "\n";
  for (const PlanDiffers& one : plan.differs) {
    std::cout << "    " << kind_and_name(one.kind, record_name(book, one.record), words) << ": "
              << plan_differs_text(one, words) << "\n";
  }
  if (!plan.compared_all) std::cout << "  " << words("taking.not_all_compared"_w) << "\n";
  if (plan.waiting > 0) std::cout << "  " << words.count("taking.waiting"_w, plan.waiting) << "\n";
  if (plan.header.unsaved && !plan.book_file) std::cout << "  " << words("taking.unsaved"_w) << "\n";
  for (const std::string& gap : plan.gaps)
    std::cout << "  " << words(plan.book_file ? "taking.dropped"_w : "taking.gap"_w, {gap}) << "\n";
}

/// A safety copy is made first: always where much comes, else that of the day, which is not worth refusing a few records.
Result<void> apply(Cli& cli, const Book& book, TakeJob& job, bool was_started) {
  Id person;
  if (job.joins()) {
    TRY_ASSIGN(person, cli.person(book));
  }
  if (was_started && safety_copy_due(cli.platform(), job.plan())) {
    const auto safe = cli.platform().copy_aside();
    if (!safe && job.plan().large()) return safe;
    if (safe) note_safety_copy(cli.platform());
  }
  job.apply(person);
  while (job.stage() == TakeJob::Stage::Applying) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) return tl::unexpected<Problem>(job.problem());
  return {};
}

/// nullopt: only looked at.
Result<std::optional<Book::TakeIn::Outcome>> take_one(Cli& cli, Book& book, const std::string& path,
                                                      const TakeWords& words, Unlocker& unlocker,
                                                      nlohmann::ordered_json& answers) {
  TRY(looks_like_handover(path));
  TRY_ASSIGN(std::string bytes, read_to_take(path));
  TRY_ASSIGN(bytes, unlocker.open(std::move(bytes), path));
  const bool was_started = book.is_started();
  TakeJob job(book, {std::filesystem::path(path).filename().string(), std::move(bytes), ""}, words.join,
              &cli.platform().photos());
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) return tl::unexpected<Problem>(job.problem());
  if (words.look) {
    if (cli.json)
      answers.push_back(plan_json(book, path, job.plan()));
    else
      print_plan(cli, book, path, job.plan());
    if (job.plan().waiting > 0 || !job.plan().differs.empty()) cli.status = std::max(cli.status, kToLookAt);
    return std::optional<Book::TakeIn::Outcome>();
  }
  TRY(apply(cli, book, job, was_started));
  return std::optional(job.outcome());
}

/// Strikes that crossed with work or strikes elsewhere, and children that came late: to be decided like facts that differ.
std::size_t crossed_strikes(const Book& book) {
  const auto all = book.reviews();
  const auto given_up = given_up_for_none(book);
  if (!all || !given_up) return 0;
  return to_ask_about(*given_up).size() +
         static_cast<std::size_t>(std::count_if(all->begin(), all->end(), [](const Review& review) {
           return review.why == "review.edited_unaware"_w || review.why == "review.late_child"_w;
         }));
}

/// What came of a file, and that there is something to look at; `crossed`: strikes that had crossed before.
void tell(Cli& cli, const Book& book, const std::string& file, const Book::TakeIn::Outcome& outcome,
          std::size_t crossed) {
  const std::size_t now = crossed_strikes(book);
  if (outcome.waiting > 0 || outcome.differing > 0 || now > crossed || !outcome.broken_chains.empty())
    cli.status = std::max(cli.status, kToLookAt);
  if (cli.json) return;
  print(cli, file, outcome);
  if (now > crossed)
    std::cout << cli.words().count("cli.take.crossed"_w, static_cast<long long>(now - crossed)) << "\n";
}

/// Photos that copies which meet through this folder laid beside their files.
Result<void> bring_photos(Cli& cli, const Book& book, const std::string& folder, nlohmann::ordered_json& answers) {
  if (!book.is_started()) return {};
  TRY_ASSIGN(const int came, FolderWatch(folder).bring_photos(book, cli.platform().photos()));
  if (came == 0) return {};
  if (cli.json)
    answers.push_back({{"file", folder}, {"photos", came}});
  else
    std::cout << cli.words().count("cli.take.photos"_w, came, {folder}) << "\n";
  return {};
}

/// What there is for a person to decide or to look at, also what copies agree about: two entries of one bed.
void say_open(Cli& cli, const Book& book) {
  const auto open = question_counts(book);
  if (open && open->all() > 0) std::cout << cli.words().count("cli.take.open"_w, open->all()) << "\n";
}

/// Files are independent: one that cannot be used is named, the others are still taken.
Result<void> do_take(Cli& cli, const TakeWords& words) {
  const std::string place = cli.platform().book_place().path;
  std::error_code none;
  const bool was_there = std::filesystem::exists(place, none);
  auto answers = nlohmann::ordered_json::array();
  bool holds_anything = was_there, anything_new = false;
  std::vector<std::string> folders;
  TRY_ASSIGN(const std::vector<std::string> files, files_named(cli, words.files, folders));
  {
    TRY_ASSIGN(Book book, cli.open(true));
    const Words say = cli.words();
    Unlocker unlocker(words.passphrase_file, say);
    for (const std::string& file : files) {
      const std::size_t crossed = crossed_strikes(book);
      const auto taken = take_one(cli, book, file, words, unlocker, answers);
      if (!taken) {
        Problem problem = taken.error();
        if (problem.place == file) problem.place.clear();
        const bool named = std::find(problem.values.begin(), problem.values.end(), file) != problem.values.end();
        if (!named) std::cerr << file << ": ";
        cli.fail(problem);
        if (taken.error().word == "book.pass_open"_w) std::cerr << cli.words()("cli.take.end_pass"_w) << "\n";
        continue;
      }
      if (!*taken) continue;
      anything_new = anything_new || (*taken)->added > 0;
      tell(cli, book, file, **taken, crossed);
      if (cli.json) answers.push_back(as_json(file, **taken));
    }
    if (!words.look)
      for (const std::string& folder : folders) TRY(bring_photos(cli, book, folder, answers));
    if (anything_new && !cli.json) say_open(cli, book);
    holds_anything = was_there || book.change_count() > 0;
    if (book.is_started() && !book.has_house()) {
      cli.status = std::max(cli.status, kToLookAt);
      if (!cli.json) std::cout << cli.words()("question.no-house"_w, {book.name()}) << "\n";
    }
  }
  if (!holds_anything)
    for (const char* rest : {"", "-wal", "-shm"}) std::filesystem::remove(place + rest, none);
  if (cli.json) std::cout << answers.dump() << "\n";
  return {};
}

// ---- A watched folder ----------------------------------------------------------------------------

struct WatchWords {
  std::string folder;
  int every = 2;
  bool once = false;
};

struct Watching {
  FolderWatch watch;
  bool once = false;
  bool away = false;           ///< The folder cannot be read: said once.
  std::set<std::string> told;  ///< Files that wait for something else to end: said once.
};

Result<Book::TakeIn::Outcome> take_arrived(Cli& cli, Book& book, Result<File> file) {
  if (!file) return tl::unexpected<Problem>(file.error());
  const bool was_started = book.is_started();
  TakeJob job(book, std::move(*file), {}, &cli.platform().photos());
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) return tl::unexpected<Problem>(job.problem());
  TRY(apply(cli, book, job, was_started));
  return job.outcome();
}

void say_not_taken(Cli& cli, Watching& watching, const std::string& name, const Problem& problem) {
  const bool passes =
      problem.word == "book.pass_open"_w || problem.word == "book.busy"_w || problem.kind == Trouble::System;
  if (passes && !watching.once) {
    watching.watch.again(name);
    if (!watching.told.insert(name).second) return;
  }
  std::cerr << name << ": ";
  // A locked file is no broken one: it waits for a person.
  cli.fail(problem, problem.word == "take.locked"_w ? kToLookAt : kUnusable);
}

/// Some photos at a time. True when some came or went.
Result<bool> meet_photos(Cli& cli, const Book& book, FolderWatch& watch) {
  TRY_ASSIGN(const auto photos, watch.meet_photos(book, cli.platform().photos()));
  if (photos.came > 0 && cli.json)
    std::cout << nlohmann::ordered_json{{"photos", photos.came}}.dump() << std::endl;
  else if (photos.came > 0)
    std::cout << cli.words().count("cli.take.photos"_w, photos.came, {watch.folder()}) << std::endl;
  return photos.came + photos.went > 0;
}

/// One look: what appeared is taken in, then our own file is written if it has more to say than the last one. True when
/// something came or went.
Result<bool> look_once(Cli& cli, Book& book, Watching& watching) {
  FolderWatch& watch = watching.watch;
  bool moved = false, anything_new = false, may_answer = true;
  for (;;) {
    TRY_ASSIGN(auto found, watch.next(book));
    if (!found) break;
    moved = true;
    const std::string name = found->name;
    const std::size_t crossed = crossed_strikes(book);
    const bool own = found->own;
    const auto outcome = take_arrived(cli, book, std::move(found->file));
    if (!outcome) {
      say_not_taken(cli, watching, name, outcome.error());
      may_answer =
          may_answer && (!own || outcome.error().kind == Trouble::Damaged);  // Not over what is still to be taken.
      continue;
    }
    watching.told.erase(name);
    if (own && outcome->added == 0) continue;  // As it was left.
    anything_new = anything_new || outcome->added > 0;
    tell(cli, book, name, *outcome, crossed);
    if (cli.json) std::cout << as_json(name, *outcome).dump() << "\n";
    std::cout << std::flush;
  }
  if (anything_new && !cli.json) say_open(cli, book);
  bool wrote = false;
  if (may_answer) {
    TRY_ASSIGN(wrote, watch.answer(book));
  }
  if (wrote && !cli.json) std::cout << cli.words()("cli.watch.answered"_w, {watch.folder()}) << std::endl;
  TRY_ASSIGN(const bool met, meet_photos(cli, book, watch));
  return moved || wrote || met;
}

std::atomic<bool> stop_watching{false};

Result<void> do_watch(Cli& cli, const WatchWords& words) {
  TRY_ASSIGN(Book book, cli.open(true));
  Watching watching{FolderWatch(words.folder), words.once, false, {}};
  std::signal(SIGINT, [](int) { stop_watching = true; });
  std::signal(SIGTERM, [](int) { stop_watching = true; });
  if (!words.once && !cli.json) std::cout << cli.words()("cli.watch.at"_w, {words.folder}) << std::endl;
  while (!stop_watching) {
    (void)book.changed_elsewhere();
    const auto moved = look_once(cli, book, watching);
    if (!moved && words.once) return tl::unexpected<Problem>(moved.error());
    if (!moved && !watching.away) std::cerr << spell(moved.error(), cli.words(), cli.spell_as(book)) << std::endl;
    watching.away = !moved;
    if (!words.once)
      std::this_thread::sleep_for(std::chrono::seconds(words.every));
    else if (watching.watch.waits())
      std::this_thread::sleep_for(FolderWatch::kRest);
    else if (!*moved)
      break;
  }
  return {};
}

struct GiveWords {
  std::string file, to, passphrase_file;
  std::vector<std::string> parts;
  bool plain = false, without_photos = false, lock = false;
};

/// When the copy wrote its first line that is here; else when it was last heard of.
Result<Moment> begun(const Book& book, const Book::Peer& peer) {
  Moment first = peer.heard;
  for (const Lane& lane : book.lanes()) {
    if (lane.copy != peer.copy) continue;
    TRY(book.each_line(lane.id, 1, [&first](const Book::Line& line) {
      if (const auto change = read_change(line.body)) first = std::min(first, Moment{change->wall});
      return false;
    }));
  }
  return first;
}

/// The copy of this id, code or label. A copy that was restored goes on under a new id and its old label, and the old id is
/// heard of no more; copies of one label that were in use at once are to be told apart by the person.
Result<Id> copy_named(const Book& book, const std::string& name) {
  TRY_ASSIGN(const auto peers, book.peers());
  std::vector<const Book::Peer*> named, coded;  // Heard of last, first.
  for (const Book::Peer& peer : peers) {
    if (peer.copy.text() == name) return peer.copy;
    if (peer.label == name) named.push_back(&peer);
    if (short_code(peer.copy) == name) coded.push_back(&peer);
  }
  if (named.empty()) named = std::move(coded);
  if (named.empty()) return refuse(Trouble::NotFound, "cli.no_copy"_w, {name});
  TRY_ASSIGN(const Moment since, begun(book, *named.front()));
  std::string others;
  for (std::size_t i = 1; i < named.size(); ++i)
    if (named[i]->heard >= since) others += ", " + short_code(named[i]->copy);
  if (others.empty()) return named.front()->copy;
  return refuse(Trouble::Ask, "cli.which_copy"_w, {name, short_code(named.front()->copy) + others});
}

Result<void> do_give(Cli& cli, const GiveWords& words) {
  TRY_ASSIGN(Book book, cli.open());
  GiveRequest request;
  request.packing = words.plain || words.file.ends_with(".txt") ? Packing::Plain : Packing::Gzip;
  for (const std::string& text : words.parts) {
    const auto part = Part::parse(text);
    if (!part) return refuse(Trouble::BadInput, "cli.part"_w, {text});
    request.parts.push_back(*part);
  }
  if (!words.to.empty()) {
    TRY_ASSIGN(request.lacking_at, copy_named(book, words.to));
  }
  if (words.lock || !words.passphrase_file.empty()) {
    TRY_ASSIGN(auto passphrase, new_passphrase(words.passphrase_file, cli.words()));
    request.lock = GiveRequest::Lock{std::move(passphrase), needs_of(cli.platform()).random};
  }
  PhotosToGive photos;
  if (!words.without_photos) {
    TRY_ASSIGN(photos, photos_to_give(book, request, cli.platform().photos()));
    read_photos(cli.platform().photos(), photos,
                [&](std::vector<PhotoBytes> read) { request.photos = std::move(read); });
  }
  TRY_ASSIGN(const Given given, give(book, request));
  std::string path = words.file;
  std::error_code none;
  if (path.empty() || std::filesystem::is_directory(path, none))
    path = free_path(path.empty() ? "." : path, given.file.name);
  TRY(cli.platform().write_named(path, given.file.bytes));
  TRY(book.note_given(given.tips, false, given.photos, request.lacking_at));
  if (cli.json) {
    std::cout << nlohmann::ordered_json{{"file", path},
                                        {"changes", given.changes},
                                        {"lanes", given.lanes},
                                        {"bytes", given.file.bytes.size()},
                                        {"photos", given.photos.size()},
                                        {"photos-left-out", photos.left_out},
                                        {"photos-not-here", photos.not_here},
                                        {"locked", request.lock.has_value()}}
                     .dump()
              << "\n";
  } else {
    std::cout << cli.words().count("cli.give.done"_w, given.changes, {path}) << "\n";
    for (const std::string& line : given_photo_lines(photos, cli.units(), cli.words())) std::cout << line << "\n";
    if (request.lock) std::cout << cli.words()("cli.lock.locked"_w) << "\n";
  }
  return {};
}

}  // namespace

void add_handover_verbs(Cli& cli) {
  auto* take = cli.app.add_subcommand(
      "take",
      "take handover files in, in any order and any number of times\n"
      "  steepbook take anas-phone.steepbook mareks-phone.steepbook\n  steepbook take --look usb/");
  auto take_words = std::make_shared<TakeWords>();
  take->add_option("files", take_words->files, "handover files, folders of them, or a Steepbook book that was rescued")
      ->required();
  take->add_flag("--look", take_words->look,
                 "only say what would come in, differ, wait, and from whom; nothing is changed");
  take->add_option("--join", take_words->join, "same business, two starts: the other book's name, typed");
  take->add_option("--passphrase-file", take_words->passphrase_file,
                   "of locked files: the passphrase is the first line of this file; else it is asked for");
  on_run(cli, take, take_words, do_take);

  auto* give = cli.app.add_subcommand("give",
                                      "write a handover file\n  steepbook give office.steepbook\n"
                                      "  steepbook give --lock office.steepbook");
  auto give_words = std::make_shared<GiveWords>();
  give->add_option("file", give_words->file, "file or folder; '.txt' at its end makes it plain");
  give->add_option("--part", give_words->parts, "only this part: house/base, house/2026, FARM/2026 …");
  give->add_option("--to", give_words->to, "only what this copy lacks: its label, code or id");
  give->add_flag("--no-photos", give_words->without_photos,
                 "leave the photos out; else at most 100 MB of them go along");
  give->add_flag("--plain", give_words->plain, "plain lines instead of gzip");
  give->add_flag("--lock", give_words->lock,
                 "lock it with a passphrase, which is asked for twice; a lost one cannot be recovered");
  give->add_option("--passphrase-file", give_words->passphrase_file,
                   "lock it: the passphrase is the first line of this file");
  on_run(cli, give, give_words, do_give);

  auto* watch = cli.app.add_subcommand(
      "watch",
      "meet other copies through a folder (file sync, a share, a USB stick): files that appear are taken in,\n"
      "this copy's own file is kept up to date there, photos lie beside it in 'photos'\n  steepbook watch "
      "~/Sync/alder-reach");
  auto watch_words = std::make_shared<WatchWords>();
  watch->add_option("folder", watch_words->folder, "the folder")->required();
  watch->add_option("--every", watch_words->every, "seconds between looks")->check(CLI::Range(1, 3600));
  watch->add_flag("--once", watch_words->once, "look until nothing is new, answer, and end");
  on_run(cli, watch, watch_words, do_watch);
}

}  // namespace steep
