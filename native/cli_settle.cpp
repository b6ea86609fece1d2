/// settle: what copies disagree about, and the other questions that a take leaves.

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/asking.h"
#include "book/differing.h"
#include "book/given_up.h"
#include "book/questions.h"
#include "book/record_commands.h"
#include "book/settle_commands.h"
#include "book/tables.h"
#include "book/things.h"
#include "native/cli.h"
#include "quantity/time_shown.h"

namespace steep {
namespace {

struct SettleWords {
  std::string what, kind, group, why, reason, twice, answer, met, same, two, all_from, ask;
  int choose = 0;
  std::vector<std::string> typed;
  bool stays = false, counts = false, part = false;
};

// ---- What is open --------------------------------------------------------------------------------

std::string_view kind_word(QuestionKind kind) {
  switch (kind) {
    case QuestionKind::SameBedTwice: return "same-bed-twice";
    case QuestionKind::Differs: return "differs";
    case QuestionKind::EditedUnaware: return "struck-and-edited";
    case QuestionKind::GivenUp: return "given-up";
    case QuestionKind::LateChild: return "late-child";
    case QuestionKind::SameThing: return "same-thing";
    case QuestionKind::Finding: return "finding";
    case QuestionKind::Waiting: return "waiting";
  }
  return "finding";
}

/// Both ids where the answer names two: '--twice', '--same-as'.
std::string ids_of(const OpenQuestion& question) {
  std::string ids;
  for (const Id& id : {question.record, question.other})
    if (!id.is_nil()) ids += "  [" + id.text() + "]";
  return ids;
}

Result<void> list_open(Cli& cli, const Book& book) {
  std::optional<Id> farm;
  if (!cli.farm_name.empty()) {
    TRY_ASSIGN(farm, cli.farm(book));
  }
  TRY_ASSIGN(const auto questions, open_questions(book, farm));
  const Words words = cli.words();
  const SpellAs as = cli.spell_as(book);
  if (!questions.empty()) cli.status = std::max(cli.status, kToLookAt);
  auto rows = nlohmann::ordered_json::array();
  TRY_ASSIGN(const std::vector<AskedFact> asks, open_asks(book));
  const auto asked_of = [&](const OpenQuestion& question) {
    std::vector<const AskedFact*> of;
    for (const AskedFact& ask : asks)
      if (question.kind == QuestionKind::Differs && ask.record == question.record &&
          std::find(ask.groups.begin(), ask.groups.end(), question.group) != ask.groups.end())
        of.push_back(&ask);
    return of;
  };
  for (const OpenQuestion& question : questions) {
    const std::string sentence = spell(question.word, question.values, words, as);
    auto asked = nlohmann::ordered_json::array();
    for (const AskedFact* ask : asked_of(question))
      asked.push_back(
          {{"person", person_name(book, ask->person)}, {"by", person_name(book, ask->by)}, {"text", ask->text}});
    if (cli.json)
      rows.push_back({{"what", kind_word(question.kind)},
                      {"record", question.record.is_nil() ? "" : question.record.text()},
                      {"other", question.other.is_nil() ? "" : question.other.text()},
                      {"group", question.group},
                      {"text", sentence},
                      {"asked", asked}});
    else
      std::cout << sentence << ids_of(question) << "\n";
    if (!cli.json)
      for (const AskedFact* ask : asked_of(question))
        std::cout << "    " << words("cli.settle.asked"_w, {person_name(book, ask->by), person_name(book, ask->person)})
                  << (ask->text.empty() ? "" : " " + ask->text) << "\n";
  }
  if (cli.json)
    std::cout << rows.dump(1) << "\n";
  else if (questions.empty())
    std::cout << words("merge.nothing"_w) << "\n";
  return {};
}

std::string plain(const std::vector<FieldValue>& fields) {
  std::vector<std::string> texts;
  for (const FieldValue& field : fields)
    texts.push_back(field.key + "=" +
                    (field.type == FieldType::NotTaken ? "-"
                     : field.type == FieldType::List   ? join(field.items, ",")
                                                       : field.text));
  return join(texts, "  ");
}

/// All versions of every fact that differs, numbered as --choose takes them.
Result<void> list_versions(Cli& cli, const Book& book, const Id& record) {
  TRY_ASSIGN(const DifferingRecord differs, differing(book, record));
  const Words words = cli.words();
  const SpellAs as = cli.spell_as(book);
  if (differs.groups.empty()) return refuse(Trouble::BadInput, "settle.agrees"_w);
  cli.status = std::max(cli.status, kToLookAt);
  auto groups = nlohmann::ordered_json::array();
  for (const DifferingGroup& group : differs.groups) {
    auto versions = nlohmann::ordered_json::array();
    if (!cli.json) std::cout << group.group << "\n";
    for (const DifferingVersion& version : group.versions) {
      if (cli.json) {
        auto not_seen = nlohmann::ordered_json::array();
        for (const std::size_t other : version.not_seen) not_seen.push_back(group.versions[other].copy);
        versions.push_back({{"choose", version.choice + 1},
                            {"by", version.who},
                            {"copy", version.copy},
                            {"at-ms", version.at.ms},
                            {"value", plain(version.fields)},
                            {"had-not-seen", not_seen},
                            {"clock-doubtful", version.clock_doubtful},
                            {"why", version.why}});
        continue;
      }
      std::cout << "  " << version.choice + 1 << "  " << plain(version.fields) << "\n     "
                << show_when(as.zone.local(version.at), as.today, as.units.clock, words) << "  " << version.who << "  "
                << copy_told(book, version.copy_id, version.copy, words);
      if (!version.not_seen.empty())
        std::cout << "  " << words("settle.had_not_seen"_w, {not_seen_told(book, group, version, words)});
      if (version.clock_doubtful) std::cout << "  " << words("settle.clock_doubtful"_w);
      std::cout << "\n";
    }
    if (!cli.json && !group.before.empty())
      std::cout << "     " << words("settle.before"_w, {plain(group.before)}) << "\n";
    groups.push_back({{"group", group.group}, {"versions", versions}, {"before", plain(group.before)}});
  }
  if (cli.json) std::cout << groups.dump(1) << "\n";
  return {};
}

// ---- Answers -------------------------------------------------------------------------------------

Result<Outcome> settle_twice(Cli& cli, Book& book, const Id& first, const SettleWords& words, const Going& going) {
  if (words.answer.empty()) return refuse(Trouble::BadInput, "cli.settle.answer"_w);
  TwiceRequest request;
  request.first = first;
  TRY_ASSIGN(request.second, record_named(book, words.twice, "dose"));
  request.kept = first;
  request.why = words.why;
  if (words.answer == "same-work") request.answer = TwiceAnswer::SameWork;
  if (words.answer == "each-a-part") {
    request.answer = TwiceAnswer::EachAPart;
    if (words.met.empty()) return refuse(Trouble::BadInput, "cli.settle.met"_w);
    TRY_ASSIGN(const Written met, read_quantity(words.met, Dimension::Length, cli.habits()));
    request.met = quantity_value("what.to", met.text);
  }
  return answer_same_bed_twice(book, request, going);
}

bool is_late_child(const Book& book, const Id& record) {
  const auto reviews = book.reviews();
  return reviews && std::any_of(reviews->begin(), reviews->end(), [&](const Review& review) {
           return review.record == record && review.why == "review.late_child"_w;
         });
}

/// Struck, and something crossed with it: it stays struck, or it counts.
Result<Outcome> settle_strike(Book& book, const Id& record, const SettleWords& words, const Going& going) {
  if (is_late_child(book, record))
    return words.stays ? strike(book, record, words.why, going) : keep_child(book, record, words.why, going);
  TRY_ASSIGN(const auto& given_up, given_up_for_none(book));
  if (given_up.count(record) > 0)
    return words.stays ? leave_given_up(book, record, words.why, going)
                       : count_given_up(book, record, words.why, going);
  return words.stays ? stay_struck(book, record, words.why, going) : restore(book, record, true, words.why, going);
}

/// Two records that are one thing, or are not; blocks of two starts take their beds along.
Result<Outcome> settle_same(Book& book, const Id& record, const SettleWords& words, const Going& going) {
  TRY_ASSIGN(const Id other, record_named(book, words.same.empty() ? words.two : words.same, book.kind_of(record)));
  if (words.same.empty()) return say_not_same(book, record, other, going);
  const auto ground = book.kind_of(record) == "block" && book.part_of(record) != book.part_of(other);
  return ground ? join_ground(book, record, other, words.why, going) : join_same(book, record, other, words.why, going);
}

Result<Outcome> settle_one(Cli& cli, Book& book, const Id& record, const SettleWords& words, const Going& going) {
  if (!words.twice.empty()) return settle_twice(cli, book, record, words, going);
  if (!words.same.empty() || !words.two.empty()) return settle_same(book, record, words, going);
  if (words.part) return part_same(book, record, words.why, going);
  if (words.stays || words.counts) return settle_strike(book, record, words, going);
  FactChoice choice;
  choice.group = words.group;
  if (choice.group.empty()) {
    TRY_ASSIGN(const DifferingRecord differs, differing(book, record));
    if (differs.groups.size() == 1) choice.group = differs.groups.front().group;
  }
  if (words.typed.empty()) {
    if (words.choose < 1) return refuse(Trouble::BadInput, "cli.choose"_w);
    choice.choice = static_cast<std::size_t>(words.choose - 1);
  } else {
    TRY_ASSIGN(const EnterFields fields, fields_of(words.typed));
    TRY_ASSIGN(const EnterAs as, cli.enter_as(book));
    TRY_ASSIGN(const std::optional<Record> old, book.record(record));
    TRY_ASSIGN(choice.typed, read_fields(book, book.kind_of(record), fields, as, old ? &*old : nullptr));
  }
  return settle_facts(book, record, std::span(&choice, 1), words.why, going);
}

Result<void> do_settle(Cli& cli, const SettleWords& words) {
  TRY_ASSIGN(Book book, cli.open());
  if (words.what.empty() && words.all_from.empty()) return list_open(cli, book);
  const bool answers = words.choose != 0 || !words.typed.empty() || !words.twice.empty() || !words.same.empty() ||
                       !words.two.empty() || words.stays || words.counts || words.part;
  if (!answers && words.all_from.empty() && words.ask.empty()) {  // Looking needs nobody's name.
    TRY_ASSIGN(const Id looked_at, record_named(book, words.what, words.kind));
    return list_versions(cli, book, looked_at);
  }
  TRY_ASSIGN(const Id person, cli.person(book));
  const Going going{person, words.reason, true};
  if (!words.all_from.empty()) {
    TRY_ASSIGN(const Side side, side_called(book, words.all_from));
    TRY_ASSIGN(const Outcome outcome, settle_side(book, side.copy, words.why, going));
    if (outcome.written)
      std::cerr << cli.words().count("cli.settle.side"_w, static_cast<long long>(side.facts), {side.called}) << "\n";
    cli.say(book, outcome);
    return {};
  }
  TRY_ASSIGN(const Id record, record_named(book, words.what, words.kind));
  if (!words.ask.empty()) {
    TRY_ASSIGN(const Id whom, record_named(book, words.ask, "person"));
    TRY_ASSIGN(const Outcome outcome, ask_person(book, record, words.group, whom, words.why, {person, {}, true}));
    cli.say(book, outcome);
    return {};
  }
  TRY_ASSIGN(const Outcome outcome, settle_one(cli, book, record, words, going));
  cli.say(book, outcome);
  return {};
}

}  // namespace

void add_settle_verb(Cli& cli) {
  auto* verb =
      cli.app.add_subcommand("settle",
                             "what is open after files came in; the versions of one record; an answer\n"
                             "  steepbook settle\n"
                             "  steepbook settle 'lot K-19'\n"
                             "  steepbook settle 'lot K-19' --group received --choose 2 --why 'read from the bottle'\n"
                             "  steepbook settle 'lot K-19' --ask Marek --why 'what does the label say?'\n"
                             "  steepbook settle --all-from Office --why 'the office has the papers'");
  auto words = std::make_shared<SettleWords>();
  verb->add_option("what", words->what, "id, name or code; none = lists what is open");
  verb->add_option("--kind", words->kind, "kind, where the name alone is not enough");
  verb->add_option("--group", words->group, "the fact that differs; may be left out when it is only one");
  verb->add_option("--choose", words->choose, "number of the version, from 1");
  verb->add_option("--value", words->typed, "name=value: another value, every field of the fact");
  verb->add_option(
      "--all-from", words->all_from,
      "keep that copy's version of every fact that differs: its name, or its code ('k7q') where several bear one or "
      "none");
  verb->add_option("--twice", words->twice, "'Same bed, twice?': the other entry");
  verb->add_option("--answer", words->answer, "same-work (the first is kept), each-a-part, both-full")
      ->check(CLI::IsMember({"same-work", "each-a-part", "both-full"}));
  verb->add_option("--met", words->met, "each-a-part: where they met, '50 ft'");
  verb->add_option("--same-as", words->same,
                   "the two are one thing: the other record; of blocks of two starts the beds too");
  verb->add_option("--not-same-as", words->two, "the two are not one thing: the other record");
  verb->add_flag("--part", words->part, "take back that it is one with another");
  verb->add_flag(
      "--stays-struck", words->stays,
      "struck here, edited there: it stays struck; of a late child: strike it too; struck as the same work as an "
      "entry that is struck too: it never happened");
  verb->add_flag(
      "--counts", words->counts,
      "struck here, edited there, or as the same work as an entry that is struck too: take the strike back; of a "
      "late child: it stays");
  verb->add_option("--ask", words->ask,
                   "put it to this person in the next file instead; --why = what you want to know, --group = one fact");
  verb->add_option("--why", words->why, "the reason");
  verb->add_option("--reason", words->reason, "going on in spite of a caution about a typed value: why");
  on_run(cli, verb, words, do_settle);
}

}  // namespace steep
