/// enter, correct, strike, end.

#include <iostream>
#include <nlohmann/json.hpp>

#include "book/pass_end.h"
#include "book/places.h"
#include "book/record_commands.h"
#include "book/work.h"
#include "native/cli.h"

namespace steep {

Result<EnterFields> fields_of(const std::vector<std::string>& words) {
  EnterFields fields;
  for (const std::string& word : words) {
    const auto mark = word.find('=');
    if (mark == std::string::npos || mark == 0) return refuse(Trouble::BadInput, "cli.name_value"_w, {word});
    fields.emplace_back(word.substr(0, mark), word.substr(mark + 1));
  }
  return fields;
}

Result<Id> record_named(const Book& book, const std::string& what, const std::string& kind) {
  if (const auto id = Id::parse(what); id && !book.kind_of(*id).empty()) return *id;
  return find_record(book, kind, what, {});
}

namespace {

struct EnterWords {
  std::string kind, reason;
  std::vector<std::string> fields;
};

/// False: cautions that only a reason gets past; nothing was written.
Result<bool> enter_one(Cli& cli, Book& book, const std::string& kind, const EnterFields& fields,
                       const std::string& reason) {
  TRY_ASSIGN(const EnterAs as, cli.enter_as(book));
  TRY_ASSIGN(const Id person, cli.person(book));
  const Going going{person, reason, true};
  TRY_ASSIGN(const Outcome outcome,
             kind == "photo" ? enter_photo(cli, book, fields, as, going) : enter(book, kind, fields, as, going));
  cli.say(book, outcome);
  return outcome.written;
}

Result<bool> enter_line(Cli& cli, Book& book, const std::string& line, int number, const std::string& reason) {
  const auto object = nlohmann::json::parse(line, nullptr, false);
  if (!object.is_object()) return refuse(Trouble::BadInput, "cli.json_line"_w, {std::to_string(number)});
  std::string kind;
  EnterFields fields;
  for (const auto& [name, value] : object.items()) {
    const std::string text = value.is_string() ? value.get<std::string>() : value.dump();
    if (name == "kind")
      kind = text;
    else
      fields.emplace_back(name, text);
  }
  return enter_one(cli, book, kind, fields, reason);
}

/// One flat JSON object a line: {"kind":"harvest","bed":"N7", …}. Records of several parts of the book are no one act, so what
/// stands before a line that cannot be taken is written; it is said how far that goes, lest a second run double it.
Result<void> enter_lines(Cli& cli, Book& book, const std::string& reason) {
  std::string line;
  int written = 0;
  for (int number = 1; std::getline(std::cin, line); ++number) {
    if (line.empty()) continue;
    const auto taken = enter_line(cli, book, line, number, reason);
    if (taken && *taken) {
      ++written;
      continue;
    }
    if (!taken) cli.fail(taken.error());
    const Words words = cli.words();
    std::cerr << words.count("cli.lines_stopped"_w, written, {std::to_string(number)}) << "\n";
    return {};
  }
  return {};
}

Result<void> do_enter(Cli& cli, const EnterWords& words) {
  if (words.kind == "farm" && is_no_book_yet(cli)) {
    TRY_ASSIGN(const EnterFields first, fields_of(words.fields));
    return start_book(cli, first);
  }
  TRY_ASSIGN(Book book, cli.open());
  if (words.kind == "-") return enter_lines(cli, book, words.reason);
  TRY_ASSIGN(const EnterFields fields, fields_of(words.fields));
  TRY_ASSIGN([[maybe_unused]] const bool written, enter_one(cli, book, words.kind, fields, words.reason));
  return {};
}

struct StrikeWords {
  std::string what, kind, why;
  bool restore = false;
};

Result<void> do_strike(Cli& cli, const StrikeWords& words) {
  TRY_ASSIGN(Book book, cli.open());
  TRY_ASSIGN(const EnterAs as, cli.enter_as(book));
  // What is to come back is among what was struck, unless its strike is what somebody else wants to keep.
  auto found =
      words.restore ? find_struck(book, words.kind, words.what) : find_record(book, words.kind, words.what, as.farm);
  if (!found && words.restore) found = find_record(book, words.kind, words.what, as.farm);
  TRY_ASSIGN(const Id record, std::move(found));
  TRY_ASSIGN(const Id person, cli.person(book));
  const Going going{person, words.why, true};
  TRY_ASSIGN(const Outcome outcome,
             words.restore ? restore(book, record, true, words.why, going) : strike(book, record, words.why, going));
  cli.say(book, outcome);
  return {};
}

struct CorrectWords {
  std::string what, kind, why, reason;
  std::vector<std::string> fields;
};

Result<void> do_correct(Cli& cli, const CorrectWords& words) {
  TRY_ASSIGN(Book book, cli.open());
  TRY_ASSIGN(const EnterAs as, cli.enter_as(book));
  TRY_ASSIGN(const Id record, find_record(book, words.kind, words.what, as.farm));
  TRY_ASSIGN(const Id person, cli.person(book));
  TRY_ASSIGN(const EnterFields fields, fields_of(words.fields));
  TRY_ASSIGN(const Outcome outcome, amend(book, record, fields, as, words.why, {person, words.reason, true}));
  cli.say(book, outcome);
  return {};
}

struct EndWords {
  std::string what, at, left, reason;
};

/// What was left in the tank stays in it: pouring out and washing are entries of their own.
Result<void> do_end(Cli& cli, const EndWords& words) {
  TRY_ASSIGN(Book book, cli.open());
  EndRequest request;
  TRY_ASSIGN(request.pass, find_record(book, "pass", words.what, {}));
  TRY_ASSIGN(const Pass pass, read_pass(book, request.pass));
  TRY_ASSIGN(const Farm farm, read_farm(book, pass.farm));
  TRY_ASSIGN(const EnterAs as, cli.enter_as(book));
  if (!words.at.empty()) {
    TRY_ASSIGN(const Stamp at, read_time(words.at, farm.zone, book.now()));
    request.finish = at.at;
  }
  if (!words.left.empty()) {
    TRY_ASSIGN(request.left, read_quantity(words.left, Dimension::Volume, as.habits));
  }
  request.where = LeftOver::StaysInTank;
  request.weather.not_taken = true;
  TRY_ASSIGN(const Id person, cli.person(book));
  TRY_ASSIGN(const Outcome outcome, end_pass(book, request, {person, words.reason, true}));
  cli.say(book, outcome);
  return {};
}

}  // namespace

void add_record_verbs(Cli& cli) {
  auto* enter_verb = cli.app.add_subcommand(
      "enter",
      "write one record, or JSON lines from standard input ('enter -'); 'enter farm' where no book "
      "is yet begins one\n"
      "  steepbook enter farm name='Mill Bend' zone=America/Los_Angeles --as 'Ana Leland'\n"
      "  steepbook enter harvest bed=N7 amount='18 lb' at='2026-05-14 07:20' --as Ana\n"
      "  steepbook enter photo of='brew 14' file=foam.jpg caption='foam at 20 h' --as Ana");
  auto enter_words = std::make_shared<EnterWords>();
  enter_verb->add_option("kind", enter_words->kind, "kind of record, or '-'; 'steepbook fields' lists them")
      ->required();
  enter_verb->add_option("fields", enter_words->fields,
                         "name=value …; '-' as value = not taken; 'steepbook fields KIND' lists them");
  enter_verb->add_option("--reason", enter_words->reason, "going on in spite of a caution: why");
  on_run(cli, enter_verb, enter_words, do_enter);

  auto* correct_verb =
      cli.app.add_subcommand("correct",
                             "correct fields of a record, with a reason; the old values stay in its history\n"
                             "  steepbook correct 'lot K-19' quantity='32 floz' --why 'two bottles'");
  auto correct_words = std::make_shared<CorrectWords>();
  correct_verb->add_option("what", correct_words->what, "id, name or code")->required();
  correct_verb->add_option("fields", correct_words->fields, "name=value …; '-' as value = not taken")->required();
  correct_verb->add_option("--kind", correct_words->kind, "kind, where the name alone is not enough");
  correct_verb->add_option("--why", correct_words->why, "why it is corrected")->required();
  correct_verb->add_option("--reason", correct_words->reason, "going on in spite of a caution: why");
  on_run(cli, correct_verb, correct_words, do_correct);

  auto* strike_verb = cli.app.add_subcommand("strike",
                                             "strike a record with a reason; it stays readable\n"
                                             "  steepbook strike 'pass 14' --why 'logged twice'");
  auto strike_words = std::make_shared<StrikeWords>();
  strike_verb->add_option("what", strike_words->what, "id, name or code")->required();
  strike_verb->add_option("--kind", strike_words->kind, "kind, where the name alone is not enough");
  strike_verb->add_option("--why", strike_words->why, "the reason")->required();
  strike_verb->add_flag("--restore", strike_words->restore, "take the strike back");
  on_run(cli, strike_verb, strike_words, do_strike);

  auto* end_verb = cli.app.add_subcommand("end",
                                          "end a pass, also one that was forgotten\n"
                                          "  steepbook end 'pass 14' --at '2026-05-14 18:40' --as Ana");
  auto end_words = std::make_shared<EndWords>();
  end_verb->add_option("pass", end_words->what, "its code or id")->required();
  end_verb->add_option("--at", end_words->at, "when it ended; left out = now");
  end_verb->add_option("--left", end_words->left, "left in the tank; left out = not taken");
  end_verb->add_option("--reason", end_words->reason, "going on in spite of a caution: why");
  on_run(cli, end_verb, end_words, do_end);
}

}  // namespace steep
