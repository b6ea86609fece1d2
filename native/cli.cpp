#include "native/cli.h"

#include <algorithm>
#include <filesystem>
#include <iostream>

#include "base/version.h"
#include "book/places.h"
#include "book/takes_reason.h"
#include "book/things.h"
#include "native/window.h"

namespace steep {

Cli::Cli(CLI::App& application) : app(application) {
  app.add_option("--book", book_path, "which book (default: your own, in the user's data folder)");
  app.add_option("--units", units_word, "units in text: us or metric (default: the farm's)")
      ->check(CLI::IsMember({"us", "metric"}));
  app.add_option("--language", language_word, "language of text: en or es")->check(CLI::IsMember({"en", "es"}));
  app.add_option("--as", as_person, "who writes: a person's name or initials");
  app.add_option("--farm", farm_name, "which farm, where the book has several");
  app.add_flag("--json", json, "answers as JSON for programs");
}

PlatformDesktop& Cli::platform() {
  if (!platform_) platform_ = std::make_unique<PlatformDesktop>(book_path);
  return *platform_;
}

Words Cli::words() const {
  std::string code = language_word;
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"})
    if (const char* set = std::getenv(name); code.empty() && set) code = std::string(set).substr(0, 2);
  return Words(language_from_code(code));
}

UnitsShown Cli::units() const {
  UnitsShown units;
  if (units_word == "metric") units.system = System::Metric;
  if (units_word == "metric" || words().language() == Language::Spanish) units.clock = Clock::Hours24;
  return units;
}

Result<Book> Cli::open(bool may_create) { return open_with(needs_of(platform()), may_create); }

Result<Book> Cli::read() {
  BookNeeds needs = needs_of(platform());
  needs.read_anchor = nullptr;
  return open_with(std::move(needs), false);
}

Result<Book> Cli::open_with(BookNeeds needs, bool may_create) {
  const BookPlace place = platform().book_place();
  std::error_code none;
  const bool is_there = std::filesystem::exists(place.path, none);
  if (!is_there && !may_create) return refuse(Trouble::NotFound, "cli.no_book"_w, {place.path});
  // Of several commands at once, or beside a window that takes a large file in, each has its turn.
  needs.patience_ms = 30 * kSecond;
  auto opened = Book::open(place, std::move(needs));
  if (!opened && !is_there && !std::filesystem::exists(place.path, none))  // Not even begun.
    return refuse(Trouble::System, "file.cannot_write"_w, {place.path}, place.path);
  TRY_ASSIGN(Book book, std::move(opened));
  said_ = spell_as(book);
  return book;
}

Result<Id> Cli::farm(const Book& book) {
  TRY_ASSIGN(const auto all, farms(book));
  if (!farm_name.empty()) return find_record(book, "farm", farm_name, {});
  if (all.size() == 1) return all.front().id;
  if (all.empty()) return refuse(Trouble::NotFound, "cli.no_farm"_w);
  std::string names;
  for (const Farm& each : all) names += (names.empty() ? "" : ", ") + each.name;
  return refuse(Trouble::Ask, "cli.which_farm"_w, {names});
}

Result<Id> Cli::person(const Book& book) {
  if (!as_person.empty()) return find_record(book, "person", as_person, {});
  TRY_ASSIGN(const auto all, people(book));
  if (all.size() == 1) return all.front().id;
  if (all.empty()) return Id{};
  std::string names;
  for (const Person& each : all) names += (names.empty() ? "" : ", ") + each.name;
  return refuse(Trouble::Ask, "cli.which_person"_w, {names});
}

Habits Cli::habits() const {
  // Whoever writes Spanish may part thousands with a point: '1.500 L' is asked about, as '1,500 L' is everywhere.
  const DecimalMark mark = words().language() == Language::Spanish ? DecimalMark::Comma : units().mark;
  return Habits(mark, units().gallons);
}

Result<EnterAs> Cli::enter_as(const Book& book) {
  EnterAs as;
  as.habits = habits();
  // A book without a farm, or of several: places are then found by id, or by --farm.
  if (const auto found = farm(book))
    as.farm = *found;
  else if (!farm_name.empty())
    return tl::unexpected<Problem>(found.error());
  return as;
}

SpellAs Cli::spell_as(const Book& book) {
  SpellAs as{units(), Zone(), {}};
  const auto of_farm = [&](const Farm& farm) {
    as.zone = farm.zone;
    if (units_word.empty()) as.units.system = farm.units;
  };
  if (const auto all = farms(book); all && !all->empty()) of_farm(all->front());
  if (const auto meant = farm(book))
    if (const auto named = read_farm(book, *meant)) of_farm(*named);
  as.today = as.zone.local(book.now().at).date;
  return as;
}

void Cli::fail(const Problem& problem, int with) {
  // A time is that of the farm's clock, as it was typed.
  SpellAs as = said_.value_or(SpellAs{units(), Zone(), {}});
  if (problem.kind == Trouble::Ask) as.units.mark = habits().mark;  // What is offered is typed back.
  std::cerr << spell(problem, words(), as);
  if (!problem.place.empty()) std::cerr << " (" << problem.place << ")";
  std::cerr << "\n";
  if (takes_reason(problem)) std::cerr << words()("cli.give_reason"_w) << "\n";
  status = std::max(status, with);
}

void Cli::say(const Book& book, const Outcome& outcome) {
  const SpellAs as = spell_as(book);
  for (const Caution& caution : outcome.cautions) std::cerr << spell(caution.word, caution.values, words(), as) << "\n";
  if (!outcome.written) {
    std::cerr << words()("cli.give_reason"_w) << "\n";
    status = std::max(status, kUnusable);
    return;
  }
  if (json)
    std::cout << "{\"id\":\"" << outcome.record.text() << "\"}\n";
  else
    std::cout << outcome.record.text() << "\n";
}

namespace {

/// Where the verb stands: behind the program's own options and their values. `argc` = there is none.
int verb_place(CLI::App& app, int argc, char** argv) {
  int at = 1;
  while (at < argc && argv[at][0] == '-') {
    const CLI::Option* option = app.get_option_no_throw(argv[at]);  // None of '--units=us': its value is in it.
    at += option != nullptr && option->get_expected_min() > 0 ? 2 : 1;
  }
  return std::min(at, argc);
}

}  // namespace

int run_cli(int argc, char** argv) {
  CLI::App app("Steepbook keeps the record of compost tea: brews, sprays bed by bed, and what follows from them.",
               "steepbook");
  app.set_version_flag("--version", kProgramVersion);
  app.require_subcommand(0, 1);
  app.fallthrough();
  Cli cli(app);
  add_record_verbs(cli);
  add_fields_verb(cli);
  add_plan_verb(cli);
  add_settle_verb(cli);
  add_handover_verbs(cli);
  add_history_verbs(cli);
  add_list_verb(cli);
  add_paper_verb(cli);
  add_trace_verb(cli);
  add_check_verb(cli);
  add_photo_verb(cli);
  add_copy_verb(cli);
  add_demo_verb(cli);
  add_serve_verb(cli);
  add_work_verb(cli);
  // 'work NAME --temperature …': what stands behind the word belongs to the calculation.
  const int verb = verb_place(app, argc, argv);
  if (verb < argc && std::string_view(argv[verb]) == "help") {  // 'help enter' is 'enter --help'.
    static char help[] = "--help";
    std::vector<char*> words(argv, argv + argc);
    words.erase(words.begin() + verb);
    words.push_back(help);
    return run_cli(static_cast<int>(words.size()), words.data());
  }
  const bool is_work = verb < argc && std::string_view(argv[verb]) == "work";
  try {
    app.parse(is_work ? verb : argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? kFine : kUnusable;
  }
  if (is_work)
    run_work(cli, {argv + verb + 1, argv + argc});
  else if (app.get_subcommands().empty())
    return run_window(cli.platform());
  return cli.status;
}

}  // namespace steep
