/// paper, trace, demo.

#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>

#include "book/places.h"
#include "book/told.h"
#include "book/trace.h"
#include "demo/demo.h"
#include "handover/give.h"
#include "native/cli_table.h"
#include "native/disk.h"
#include "paper/csv.h"
#include "paper/inspection.h"

namespace steep {
namespace {

struct PaperWords {
  std::string kind, file, from, to;
};

Result<File> make_paper(Cli& cli, const Book& book, const PaperWords& words) {
  TRY_ASSIGN(const TableOptions asked, rows_asked(cli, book, words.from, words.to));
  if (words.kind != "inspection") return csv_file(book, words.kind, asked);
  TRY_ASSIGN(const Id farm_id, cli.farm(book));
  TRY_ASSIGN(const Farm farm, read_farm(book, farm_id));
  const Date today = farm.day(book.now().at);
  const Date to = asked.to.value_or(today), from = asked.from.value_or(Date{to.year, 1, 1});
  TRY_ASSIGN(const ReportData data, report_data(book, farm_id, from, to));
  UnitsShown units = cli.units();
  if (cli.units_word.empty()) units.system = farm.units;
  return inspection_page(data, cli.words(), units);
}

Result<void> do_paper(Cli& cli, const PaperWords& words) {
  TRY_ASSIGN(const Book book, cli.read());
  TRY_ASSIGN(const File page, make_paper(cli, book, words));
  if (words.file == "-") {
    std::cout << page.bytes;
    return {};
  }
  const std::string path = words.file.empty() ? free_path(".", page.name) : words.file;
  TRY(cli.platform().write_named(path, page.bytes));
  if (cli.json)
    std::cout << nlohmann::ordered_json{{"file", path}}.dump() << "\n";
  else
    std::cout << path << "\n";
  return {};
}

struct TraceWords {
  std::string what, kind;
};

std::string_view stage_word(TraceStage stage) {
  switch (stage) {
    case TraceStage::Lot: return "lot";
    case TraceStage::Brew: return "brew";
    case TraceStage::Load: return "load";
    case TraceStage::Dose: return "dose";
    case TraceStage::Harvest: return "harvest";
    case TraceStage::Poured: return "discard";
  }
  return "";
}

void print(Cli& cli, const Book& book, const Trace& trace) {
  const Words words = cli.words();
  const SpellAs as = cli.spell_as(book);
  std::cout << words(trace.forward ? "cli.trace.went"_w : "cli.trace.came"_w) << "\n";
  for (const TraceNode& node : trace.nodes) {
    std::cout << "  " << kind_and_name(stage_word(node.stage), node.name, words);
    if (node.stage == TraceStage::Dose && node.to_m > 0)
      std::cout << "  " << show(Length::from_meters(node.from_m), as.units, words) << " – "
                << show(Length::from_meters(node.to_m), as.units, words);
    if (node.at.ms > 0) std::cout << "  " << date_text(as.zone.local(node.at).date);
    std::cout << "\n";
  }
}

nlohmann::ordered_json as_json(const Trace& trace) {
  auto nodes = nlohmann::ordered_json::array(), links = nlohmann::ordered_json::array();
  for (const TraceNode& node : trace.nodes) {
    nlohmann::ordered_json object{{"stage", stage_word(node.stage)}, {"id", node.record.text()}, {"name", node.name}};
    if (node.stage == TraceStage::Dose) {
      object["bed"] = node.bed.text();
      object["from-m"] = node.from_m;
      object["to-m"] = node.to_m;
    }
    if (!node.place.is_nil()) object["place"] = node.place.text();
    nodes.push_back(std::move(object));
  }
  for (const TraceLink& link : trace.links) links.push_back({{"from", link.from.text()}, {"to", link.to.text()}});
  return {{"direction", trace.forward ? "forward" : "backward"}, {"nodes", nodes}, {"links", links}};
}

Result<void> do_trace(Cli& cli, const TraceWords& words) {
  TRY_ASSIGN(const Book book, cli.read());
  const auto by_id = Id::parse(words.what);
  Id start = by_id.value_or(Id{});
  if (book.kind_of(start).empty()) {
    const std::string kinds = words.kind.empty() ? "lot|brew|load|bed|harvest" : words.kind;
    TRY_ASSIGN(start, find_record(book, kinds, words.what, {}));
  }
  TRY_ASSIGN(const Trace back, trace_backward(book, start));
  TRY_ASSIGN(const Trace forth, trace_forward(book, start));
  if (cli.json) {
    std::cout << nlohmann::ordered_json::array({as_json(back), as_json(forth)}).dump(1) << "\n";
    return {};
  }
  print(cli, book, back);
  print(cli, book, forth);
  return {};
}

struct DemoWords {
  std::string file, phone, now;
};

/// A second phone's book is made beside the demo's, given as a file, and taken away again.
Result<void> make_phone_file(const BookPlace& farm_place, const DemoWish& wish, const std::string& file,
                             PlatformDesktop& platform) {
  const std::filesystem::path named(file);
  const std::string place =
      free_path(named.has_parent_path() ? named.parent_path().string() : ".", named.filename().string() + ".book");
  const auto clean = [&place] {
    std::error_code none;
    for (const char* rest : {"", "-wal", "-shm"}) std::filesystem::remove(place + rest, none);
  };
  Result<void> made = [&]() -> Result<void> {
    BookNeeds needs = needs_of(platform);
    needs.read_anchor = [] { return std::string(); };
    needs.write_anchor = [](std::string_view) {};
    TRY_ASSIGN(const Book farm_book, Book::open(farm_place, needs));
    TRY(make_demo_phone({place, "", false}, farm_book, wish));
    TRY_ASSIGN(const Book phone, Book::open({place, "", false}, needs));
    TRY_ASSIGN(const Given given,
               give(phone, {file.ends_with(".txt") ? Packing::Plain : Packing::Gzip, {}, {}, false}));
    return platform.write_named(file, given.file.bytes);
  }();
  clean();
  return made;
}

Result<void> do_demo(Cli& cli, const DemoWords& words) {
  std::error_code none;
  if (std::filesystem::exists(words.file, none)) return refuse(Trouble::Conflict, "cli.demo.exists"_w, {words.file});
  DemoWish wish;
  wish.now = cli.platform().now().at;
  if (!words.now.empty()) {
    const auto zone = Zone::from_name(wish.zone_name);
    TRY_ASSIGN(const Stamp at, read_time(words.now, zone ? *zone : Zone(), cli.platform().now()));
    wish.now = at.at;
  }
  const BookPlace place{words.file, "", false};
  const auto made = make_demo(place, wish);
  if (!made && !std::filesystem::exists(words.file, none))  // Not even begun.
    return refuse(Trouble::System, "file.cannot_write"_w, {words.file}, words.file);
  TRY(made);
  if (!words.phone.empty()) TRY(make_phone_file(place, wish, words.phone, cli.platform()));
  std::cout << cli.words()("cli.demo.done"_w, {words.file}) << "\n";
  return {};
}

}  // namespace

void add_paper_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand("paper",
                                      "write a paper: 'inspection', or a kind of record as CSV\n"
                                      "  steepbook paper inspection --from 2026-05-01 -o may.html");
  auto words = std::make_shared<PaperWords>();
  verb->add_option("kind", words->kind, "inspection, or a kind of record")->required();
  verb->add_option("-o,--output", words->file, "file to write, '-' = standard output");
  verb->add_option("--from", words->from, "first day (of the report, when not given: 1 January)");
  verb->add_option("--to", words->to, "last day (of the report, when not given: today)");
  on_run(cli, verb, words, do_paper);
}

void add_trace_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand("trace", "what went into it, and what did it touch?\n  steepbook trace W-14");
  auto words = std::make_shared<TraceWords>();
  verb->add_option("what", words->what, "a lot, brew, load, bed or harvest: id, name or code")->required();
  verb->add_option("--kind", words->kind, "kind, where the name alone is not enough");
  on_run(cli, verb, words, do_trace);
}

void add_demo_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand(
      "demo", "write the invented farm's book\n  steepbook demo alder-reach.sqlite --phone marek.steepbook");
  auto words = std::make_shared<DemoWords>();
  verb->add_option("file", words->file, "book to write; must not exist")->required();
  verb->add_option("--phone", words->phone, "also a second phone's handover file, with one 'Same bed, twice?'");
  verb->add_option("--now", words->now, "where the season ends: '2026-05-14 18:39' (default: now)");
  on_run(cli, verb, words, do_demo);
}

}  // namespace steep
