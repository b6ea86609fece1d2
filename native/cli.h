#pragma once
/// The command line: the same book, the same commands as the screens, in words and as JSON.

#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "book/book.h"
#include "book/caution.h"
#include "book/enter.h"
#include "book/spelled.h"
#include "native/platform_desktop.h"
#include "quantity/units_shown.h"

namespace steep {

/// Exit statuses: fine, also 'nothing new'; something taken waits or differs, or the book is damaged; the
/// input cannot be used.
inline constexpr int kFine = 0, kToLookAt = 1, kUnusable = 2;

/// What all verbs share: the options in force, the book, and how answers are printed.
class Cli {
 public:
  explicit Cli(CLI::App& app);

  CLI::App& app;
  std::string book_path;      ///< --book FILE; empty = the user's own.
  std::string units_word;     ///< --units us|metric: text only.
  std::string language_word;  ///< --language en|es
  std::string as_person;      ///< --as NAME: who writes.
  std::string farm_name;      ///< --farm NAME, where the book has several.
  bool json = false;          ///< --json
  int status = kFine;

  Words words() const;
  UnitsShown units() const;  ///< Without a book: of a farm's own units spell_as() knows.
  PlatformDesktop& platform();
  /// Opens the book; a missing one is an error unless `may_create`.
  Result<Book> open(bool may_create = false);
  /// To be read alone (keep it const): whoever looks at a book from another account becomes no copy of it.
  Result<Book> read();
  /// The farm named by --farm, or the only one. Trouble: NotFound, Ask.
  Result<Id> farm(const Book& book);
  /// The person named by --as, or the only one; nil when the book has none.
  Result<Id> person(const Book& book);
  /// How the person writes numbers.
  Habits habits() const;
  /// How texts of this book are read, and put into words: on the farm's clock, in its units.
  Result<EnterAs> enter_as(const Book& book);
  SpellAs spell_as(const Book& book);

  /// Prints the sentence on standard error and sets the status.
  void fail(const Problem& problem, int with = kUnusable);
  /// Prints what was written, or the cautions that stopped it (status 2: give --reason).
  void say(const Book& book, const Outcome& outcome);

 private:
  std::unique_ptr<PlatformDesktop> platform_;
  Result<Book> open_with(BookNeeds needs, bool may_create);
  std::optional<SpellAs> said_;  ///< How the book that was opened puts times and amounts into words.
};

/// What the verb does once its words are read; a Problem ends it with its sentence.
template <class Given, class Does>
void on_run(Cli& cli, CLI::App* verb, std::shared_ptr<Given> words, Does does) {
  verb->callback([&cli, words, does] {
    if (auto done = does(cli, *words); !done) cli.fail(done.error());
  });
}

/// Each verb adds itself with its options, its help with an example, and what it does.
void add_record_verbs(Cli& cli);  ///< enter, correct, strike, end
void add_fields_verb(Cli& cli);   ///< fields: what a kind of record has
void add_settle_verb(Cli& cli);
void add_handover_verbs(Cli& cli);  ///< take, give, watch
void add_history_verbs(Cli& cli);   ///< history, files
void add_list_verb(Cli& cli);
void add_paper_verb(Cli& cli);
void add_trace_verb(Cli& cli);
void add_check_verb(Cli& cli);
void add_demo_verb(Cli& cli);
void add_serve_verb(Cli& cli);
void add_plan_verb(Cli& cli);  ///< plan
void add_work_verb(Cli& cli);
void add_photo_verb(Cli& cli);
void add_copy_verb(Cli& cli);
/// 'enter photo of=… file=… caption=… at=…': the file's bytes are kept beside the book.
Result<Outcome> enter_photo(Cli& cli, Book& book, const EnterFields& fields, const EnterAs& as, const Going& going);
/// 'enter farm' begins a book where none is yet: name=, zone=, address=, client=, units=; --as is its first person.
bool is_no_book_yet(Cli& cli);
Result<void> start_book(Cli& cli, const EnterFields& fields);
/// A record by id, name or code; `kind` narrows where the name alone is not enough.
Result<Id> record_named(const Book& book, const std::string& what, const std::string& kind);
/// 'name=value' words; Trouble::BadInput for one without '='.
Result<EnterFields> fields_of(const std::vector<std::string>& words);
/// What stands behind `work` on the command line.
void run_work(Cli& cli, const std::vector<std::string>& rest);

/// Does what the verb says; without one the window opens, with the book of --book.
int run_cli(int argc, char** argv);

}  // namespace steep
