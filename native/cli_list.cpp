/// list, check.

#include <array>
#include <iostream>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/lane_tips.h"
#include "book/photos.h"
#include "book/tables.h"
#include "native/cli.h"
#include "native/cli_table.h"
#include "paper/csv.h"
#include "screens/photo_words.h"

namespace steep {
namespace {

struct ListWords {
  std::string kind, from, to;
  bool csv = false, ids = false;
};

Result<void> do_list(Cli& cli, const ListWords& words) {
  TRY_ASSIGN(const Book book, cli.read());
  TRY_ASSIGN(const TableOptions options, rows_asked(cli, book, words.from, words.to));
  TRY_ASSIGN(const Table table, table_of(book, words.kind, options));
  if (cli.json)
    std::cout << table_json(table).dump(1) << "\n";
  else if (words.csv)
    std::cout << csv_text(table);
  else
    print_table(cli, book, table, words.ids);
  return {};
}

/// A code from a printed report, '… 812 9f3a01c2': does that entry still stand in this book?
Result<void> check_tip(Cli& cli, const std::string& code) {
  TRY_ASSIGN(const Book book, cli.read());
  std::vector<std::string_view> words;
  for (const std::string_view word : split(code, ' '))
    if (!word.empty()) words.push_back(word);
  std::array<std::uint8_t, 4> bytes{};
  const auto seq = words.size() < 2 ? std::nullopt : parse_int(words[words.size() - 2]);
  if (!seq || !parse_hex(words.back(), bytes)) return refuse(Trouble::BadInput, "cli.check.tip_form"_w, {code});
  std::uint32_t tag = 0;
  for (const std::uint8_t byte : bytes) tag = tag << 8 | byte;
  TRY_ASSIGN(const auto where, find_tip(book, *seq, tag));
  if (!where) cli.status = std::max(cli.status, kToLookAt);
  if (cli.json)
    std::cout << nlohmann::ordered_json{{"found", where.has_value()}, {"where", where.value_or("")}}.dump() << "\n";
  else
    std::cout << (where ? cli.words()("cli.check.tip_found"_w, {code, *where})
                        : cli.words()("cli.check.tip_missing"_w, {code}))
              << "\n";
  return {};
}

nlohmann::ordered_json ids_of(const std::vector<Photo>& photos) {
  auto ids = nlohmann::ordered_json::array();
  for (const Photo& photo : photos) ids.push_back(photo.id.text());
  return ids;
}

/// Short enough for a line: what it shows, and its id.
std::string photo_title(const Book& book, const Photo& photo) {
  const std::string name = record_name(book, photo.id);
  return name.empty() ? photo.id.text() : name + " (" + photo.id.text() + ")";
}

Result<void> do_check(Cli& cli) {
  auto opened = cli.read();
  if (!opened) {
    cli.fail(opened.error(), opened.error().kind == Trouble::Damaged ? kToLookAt : kUnusable);
    return {};
  }
  const Words words = cli.words();
  TRY_ASSIGN(const Book::Health health, opened->check());
  TRY_ASSIGN(const PhotoCheck photos, check_photos(*opened, cli.platform().photos()));
  const bool whole =
      health.broken_chains.empty() && health.sqlite == "ok" && health.tables_match && photos.damaged.empty();
  if (!whole) cli.status = std::max(cli.status, kToLookAt);
  if (cli.json) {
    std::cout << nlohmann::ordered_json{{"changes", health.changes},
                                        {"waiting", health.waiting},
                                        {"broken-chains", health.broken_chains},
                                        {"database", health.sqlite},
                                        {"tables-match-journal", health.tables_match},
                                        {"digest", opened->digest_code()},
                                        {"files-aside", opened->files_aside()},
                                        {"photos", photos.whole},
                                        {"photos-missing", ids_of(photos.missing)},
                                        {"photos-damaged", ids_of(photos.damaged)},
                                        {"tips", tip_codes(*opened)}}
                     .dump()
              << "\n";
    return {};
  }
  std::cout << words.count("cli.check.changes"_w, health.changes, {std::to_string(health.waiting)}) << "\n";
  for (const std::string& chain : health.broken_chains) std::cout << words("cli.check.chain"_w, {chain}) << "\n";
  if (health.sqlite != "ok") std::cout << words("cli.check.database"_w, {health.sqlite}) << "\n";
  if (photos.whole > 0) std::cout << words.count("cli.check.photos"_w, photos.whole) << "\n";
  for (const Photo& photo : photos.missing)
    std::cout << photo_title(*opened, photo) << ": " << photo_away(*opened, photo, words) << "\n";
  for (const Photo& photo : photos.damaged)
    std::cout << photo_title(*opened, photo) << ": " << words("photo.damaged"_w) << "\n";
  if (!health.tables_match) std::cout << words("cli.check.tables"_w) << "\n";
  std::cout << words(whole ? "cli.check.whole"_w : "cli.check.damaged"_w, {opened->digest_code()}) << "\n";
  if (opened->files_aside() > 0) std::cout << words.count("book.digest_aside"_w, opened->files_aside()) << "\n";
  return {};
}

}  // namespace

void add_list_verb(Cli& cli) {
  auto* verb =
      cli.app.add_subcommand("list", "rows of one kind as a table\n  steepbook list dose --from 2026-05-01 --json");
  auto words = std::make_shared<ListWords>();
  verb->add_option("kind", words->kind, "kind of record: bed, brew, pass, dose, harvest …")->required();
  verb->add_option("--from", words->from, "from this day on");
  verb->add_option("--to", words->to, "up to this day");
  verb->add_flag("--csv", words->csv, "as CSV (RFC 4180)");
  verb->add_flag("--ids", words->ids, "with the id of each record, by which it can be named everywhere");
  on_run(cli, verb, words, do_list);
}

void add_check_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand("check",
                                      "is the book whole? chains, database, tables against the journal\n"
                                      "  steepbook check\n  steepbook check --tip '812 9f3a01c2'");
  auto tip = std::make_shared<std::string>();
  verb->add_option("--tip", *tip, "a code of an entry from a printed report: does it still stand here?");
  on_run(cli, verb, tip,
         [](Cli& of, const std::string& code) { return code.empty() ? do_check(of) : check_tip(of, code); });
}

}  // namespace steep
