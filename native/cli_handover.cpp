/// take, give.

#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>

#include "handover/give.h"
#include "handover/take.h"
#include "native/cli.h"
#include "native/disk.h"

namespace steep {
namespace {

struct TakeWords {
  std::vector<std::string> files;
  std::string join;
};

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
          {"findings", outcome.findings}};
}

void print(Cli& cli, const std::string& file, const Book::TakeIn::Outcome& outcome) {
  const Words words = cli.words();
  const auto count = [&](std::int64_t n) { return std::to_string(n); };
  if (outcome.added == 0) {
    std::cout << words("cli.take.nothing"_w, {file}) << "\n";
    return;
  }
  std::cout << words("cli.take.came"_w, {file, count(outcome.added), count(outcome.records_new), count(outcome.records_changed)}) << "\n";
  if (outcome.waiting > 0) std::cout << words("cli.take.waiting"_w, {count(outcome.waiting)}) << "\n";
  if (outcome.differing > 0) std::cout << words("cli.take.differing"_w, {count(outcome.differing)}) << "\n";
  if (outcome.findings > 0) std::cout << words("cli.take.findings"_w, {count(outcome.findings)}) << "\n";
  if (outcome.twin) std::cout << words("cli.take.twin"_w) << "\n";
  for (const std::string& chain : outcome.broken_chains) std::cout << words("cli.take.chain"_w, {chain}) << "\n";
}

/// A gigabyte of something else is refused by its first bytes.
Result<void> looks_like_handover(const std::string& path) {
  TRY_ASSIGN(const std::string start, read_start(path, 512));
  if (file_nature(start) != FileNature::BookFile) TRY(LineSource::open(start));
  return {};
}

Result<Book::TakeIn::Outcome> take_one(Cli& cli, Book& book, const std::string& path, const std::string& join) {
  TRY(looks_like_handover(path));
  TRY_ASSIGN(std::string bytes, read_file(path));
  const bool was_started = book.is_started();
  TakeJob job(book, {std::filesystem::path(path).filename().string(), std::move(bytes), ""}, join);
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) return tl::unexpected<Problem>(job.problem());
  if (was_started && job.plan().large()) TRY(cli.platform().make_safety_copy());
  job.apply();
  while (job.stage() == TakeJob::Stage::Applying) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) return tl::unexpected<Problem>(job.problem());
  return job.outcome();
}

/// Files are independent: one that cannot be used is named, the others are still taken.
Result<void> do_take(Cli& cli, const TakeWords& words) {
  const std::string place = cli.platform().book_place().path;
  std::error_code none;
  const bool was_there = std::filesystem::exists(place, none);
  auto answers = nlohmann::ordered_json::array();
  bool started = false;
  {
    TRY_ASSIGN(Book book, cli.open(true));
    for (const std::string& file : words.files) {
      const auto outcome = take_one(cli, book, file, words.join);
      if (!outcome) {
        std::cerr << file << ": ";
        cli.fail(outcome.error());
        if (outcome.error().word == "book.pass_open"_w) std::cerr << cli.words()("cli.take.end_pass"_w) << "\n";
        continue;
      }
      if (outcome->waiting > 0 || outcome->differing > 0 || !outcome->broken_chains.empty())
        cli.status = std::max(cli.status, kToLookAt);
      if (cli.json) answers.push_back(as_json(file, *outcome));
      else print(cli, file, *outcome);
    }
    started = book.is_started();
  }
  if (!was_there && !started)
    for (const char* rest : {"", "-wal", "-shm"}) std::filesystem::remove(place + rest, none);
  if (cli.json) std::cout << answers.dump() << "\n";
  return {};
}

struct GiveWords {
  std::string file, to;
  std::vector<std::string> parts;
  bool plain = false;
};

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
    TRY_ASSIGN(const auto peers, book.peers());
    for (const auto& peer : peers)
      if (peer.label == words.to || peer.copy.text() == words.to) request.lacking_at = peer.copy;
    if (!request.lacking_at) return refuse(Trouble::NotFound, "cli.no_copy"_w, {words.to});
  }
  TRY_ASSIGN(const Given given, give(book, request));
  std::string path = words.file;
  std::error_code none;
  if (path.empty() || std::filesystem::is_directory(path, none)) path = free_path(path.empty() ? "." : path, given.file.name);
  TRY(write_file_whole(path, given.file.bytes));
  TRY(book.note_given(given.tips, false));
  if (cli.json) {
    std::cout << nlohmann::ordered_json{{"file", path}, {"changes", given.changes}, {"lanes", given.lanes},
                                        {"bytes", given.file.bytes.size()}}.dump() << "\n";
  } else {
    std::cout << cli.words()("cli.give.done"_w, {path, std::to_string(given.changes)}) << "\n";
  }
  return {};
}

}  // namespace

void add_handover_verbs(Cli& cli) {
  auto* take = cli.app.add_subcommand("take", "take handover files in, in any order and any number of times\n"
                                              "  steepbook take anas-phone.steepbook mareks-phone.steepbook");
  auto take_words = std::make_shared<TakeWords>();
  take->add_option("files", take_words->files, "handover files, or a Steepbook book that was rescued")->required();
  take->add_option("--join", take_words->join, "same business, two starts: the other book's name, typed");
  take->callback([&cli, take_words] {
    if (auto done = do_take(cli, *take_words); !done) cli.fail(done.error());
  });

  auto* give = cli.app.add_subcommand("give", "write a handover file\n  steepbook give office.steepbook");
  auto give_words = std::make_shared<GiveWords>();
  give->add_option("file", give_words->file, "file or folder; '.txt' at its end makes it plain");
  give->add_option("--part", give_words->parts, "only this part: house/base, house/2026, FARM/2026 …");
  give->add_option("--to", give_words->to, "only what this copy lacks: its label or id");
  give->add_flag("--plain", give_words->plain, "plain lines instead of gzip");
  give->callback([&cli, give_words] {
    if (auto done = do_give(cli, *give_words); !done) cli.fail(done.error());
  });
}

}  // namespace steep
