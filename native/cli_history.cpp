/// history, files.

#include <iostream>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/audit.h"
#include "book/enter.h"
#include "native/cli.h"
#include "native/cli_table.h"
#include "paper/csv.h"
#include "quantity/time_shown.h"

namespace steep {
namespace {

struct HistoryWords {
  std::string what, kind, from, to;
  bool csv = false;
};

Result<void> do_history(Cli& cli, const HistoryWords& words) {
  TRY_ASSIGN(const Book book, cli.read());
  AuditOptions options;
  options.kind = words.kind;
  if (!words.what.empty()) {
    TRY_ASSIGN(options.record, record_named(book, words.what, words.kind));
    options.kind.clear();
  }
  TRY_ASSIGN(const TableOptions asked, rows_asked(cli, book, words.from, words.to));
  options.farm = asked.farm;
  options.from = asked.from;
  options.to = asked.to;
  TRY_ASSIGN(const Table table, audit_table(book, options));
  if (cli.json)
    std::cout << table_json(table).dump(1) << "\n";
  else if (words.csv)
    std::cout << csv_text(table);
  else
    print_table(cli, book, table, false);
  return {};
}

struct FilesWords {
  std::int64_t aside = 0, back = 0;
};

void print_files(Cli& cli, const Book& book, const std::vector<Book::Batch>& batches) {
  const Words words = cli.words();
  const SpellAs as = cli.spell_as(book);
  for (const Book::Batch& batch : batches) {
    std::cout << words.count(
        "cli.files.line"_w, batch.changes,
        {std::to_string(batch.row), show_when(as.zone.local(batch.at), as.today, as.units.clock, words),
         batch.from.empty() ? batch.file : batch.from});
    if (batch.aside) std::cout << " · " << words("merge.is_aside"_w);
    std::cout << "\n";
  }
  std::cout << words("cli.files.digest"_w, {book.digest_code()});
  if (book.files_aside() > 0) std::cout << " " << words.count("book.digest_aside"_w, book.files_aside());
  std::cout << "\n";
}

Result<void> do_files(Cli& cli, const FilesWords& words) {
  TRY_ASSIGN(Book book, cli.open());
  if (words.aside != 0) TRY(book.set_aside(words.aside, true));
  if (words.back != 0) TRY(book.set_aside(words.back, false));
  TRY_ASSIGN(const auto batches, book.batches());
  if (!cli.json) {
    print_files(cli, book, batches);
    return {};
  }
  auto files = nlohmann::ordered_json::array();
  for (const Book::Batch& batch : batches)
    files.push_back({{"number", batch.row},
                     {"file", batch.file},
                     {"from", batch.from},
                     {"taken-ms", batch.at.ms},
                     {"changes", batch.changes},
                     {"aside", batch.aside}});
  std::cout << nlohmann::ordered_json{{"files", files},
                                      {"digest", book.digest_code()},
                                      {"files-aside", book.files_aside()}}
                   .dump()
            << "\n";
  return {};
}

}  // namespace

void add_history_verbs(Cli& cli) {
  auto* history = cli.app.add_subcommand(
      "history",
      "who changed what, when, on which copy, with the old values; of one record, a kind, or the whole book\n"
      "  steepbook history 'lot K-19'\n  steepbook history --from 2026-01-01 --csv > history.csv");
  auto history_words = std::make_shared<HistoryWords>();
  history->add_option("what", history_words->what, "id, name or code; none = of all records");
  history->add_option("--kind", history_words->kind, "only records of this kind");
  history->add_option("--from", history_words->from, "written from this day on");
  history->add_option("--to", history_words->to, "written up to this day");
  history->add_flag("--csv", history_words->csv, "as CSV (RFC 4180): the audit export");
  on_run(cli, history, history_words, do_history);

  auto* files =
      cli.app.add_subcommand("files",
                             "files that were taken in; one can be set aside as a whole at any time, and back again\n"
                             "  steepbook files\n  steepbook files --aside 3");
  auto files_words = std::make_shared<FilesWords>();
  files->add_option("--aside", files_words->aside, "number of a file: its changes stay, but count for nothing");
  files->add_option("--back", files_words->back, "number of a file set aside: it counts again");
  on_run(cli, files, files_words, do_files);
}

}  // namespace steep
