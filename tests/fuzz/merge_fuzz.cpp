// Merging. The bytes say what lines there are (forks, acts, strikes, forged references) and in which order two
// copies get them: both must end with one state, the model's, also after a rebuild and after all lines once more.
#include <cstdlib>
#include <memory>

#include "book/book.h"
#include "fuzz.h"
#include "tests/unit/model.h"

using namespace steep;
using namespace steep::test;

namespace {

constexpr std::size_t kMostLines = 40;

void must(bool holds) {
  if (!holds) std::abort();
}

struct Bytes {
  const std::uint8_t* data;
  std::size_t size, at = 0;
  bool more() const { return at < size; }
  std::uint8_t next() { return more() ? data[at++] : 0; }
};

std::unique_ptr<Book> empty_book(std::uint8_t mark) {
  BookNeeds needs;
  needs.now = [] { return Stamp{{1'778'796'000'000}, -240}; };
  needs.random = [mark](std::span<std::uint8_t> bytes) {
    for (auto& byte : bytes) byte = mark;
  };
  auto opened = Book::open({":memory:", "", false}, std::move(needs));
  must(opened.has_value());
  return std::make_unique<Book>(std::move(*opened));
}

Id id_of(std::uint8_t group, std::uint8_t number) {
  Id id;
  id.bytes = {group, number, 7};
  return id;
}

struct Made {
  Book::Line line;
  Change change;
};

/// One line on top of any line of its lane, or of none: lanes fork freely.
void make_line(Bytes& bytes, std::vector<Made>& made) {
  Change change;
  change.lane = id_of(1, bytes.next() % 3);
  Book::Line line{1, chain_start(change.lane), {}, {}};
  change.act = 1;
  std::vector<const Made*> tails = {nullptr};
  for (const Made& one : made)
    if (one.change.lane == change.lane) tails.push_back(&one);
  const std::uint8_t where = bytes.next();
  if (const Made* before = tails[where % 4 == 0 ? where / 4 % tails.size() : tails.size() - 1]) {
    line.seq = before->line.seq + 1;
    line.prev = before->line.hash;
    change.act = !before->change.act_ends && bytes.next() % 2 ? before->change.act : line.seq;
  }
  change.seq = line.seq;
  if (change.seq == 1) change.part = Part{};
  change.t = 1'778'796'000'000 + bytes.next() % 8;
  change.wall = change.t;
  change.record = id_of(2, bytes.next() % 3);
  change.kind = "rig";
  const std::uint8_t how = bytes.next();
  change.act_ends = how % 4 != 0;
  const std::string value = std::to_string(how / 4 % 4);
  if (how & 16) change.fields.push_back(text_field_value("name", value));
  if (how & 32) change.fields.push_back(quantity_value("tank.volume", value + " gal"));
  if (how & 64) change.fields.push_back(how & 16 ? text_field_value("struck", "sold") : not_taken("struck"));
  if (how & 128) change.must = true;
  for (std::uint8_t n = bytes.next() % 4; n > 0 && !made.empty(); --n) {
    const Made& seen = made[bytes.next() % made.size()];
    ChangeRef ref = ref_of(seen.change.lane, seen.line.seq, seen.line.hash);
    if (bytes.next() % 16 == 0) ref.tag ^= 1;  // Forged: nobody wrote it.
    if (ref.lane == change.lane && ref.seq >= change.seq) continue;
    change.seen.push_back(ref);
  }
  line.body = write_change(change);
  line.hash = chain_next(line.prev, line.body);
  for (const Made& one : made)
    if (one.line.hash == line.hash) return;
  must(read_change(line.body).has_value());
  made.push_back({std::move(line), std::move(change)});
}

void take(Book& book, const std::vector<const Made*>& lines) {
  auto in = book.begin_take({id_of(9, 9), "", false, {}, "", "", {}, {}, false});
  must(in.has_value());
  for (const Made* one : lines) {
    must((*in)->lane(one->change.lane, Part{}, "", {}).has_value());
    must((*in)->line(one->line.seq, one->line.prev, one->line.hash, one->change, one->line.body).has_value());
  }
  for (;;) {
    const auto step = (*in)->step(1000);
    must(step.has_value());
    if (step->done) break;
  }
  must((*in)->finish().has_value());
}

void check_against_model(const Book& book, const std::vector<Made>& made) {
  Journal journal;
  std::map<Id, Part> parts;
  for (const Made& one : made) {
    journal[one.line.hash] = {one.line.prev, one.line.hash, one.change};
    parts[one.change.lane] = {};
  }
  const State state = fold_model(journal, parts);
  std::size_t records = 0;
  for (std::uint8_t number = 0; number < 3; ++number) {
    const auto record = book.record(id_of(2, number));
    must(record.has_value());
    const auto wanted = state.find({Part{}.text(), id_of(2, number)});
    // A record of lines without fields has no group, and no head to read it by.
    if (!*record) continue;
    ++records;
    must(wanted != state.end() && (*record)->groups.size() == wanted->second.size());
    for (const Group& group : (*record)->groups) {
      const ModelGroup& model = wanted->second.at(group.key);
      must(group.heads.size() == model.heads.size() && group.differs == model.differs);
      const ModelLine& winner = journal.at(model.winner);
      must(group.heads[0].ref == ref_of(winner.change.lane, winner.change.seq, model.winner));
    }
  }
  std::size_t wanted_records = 0;
  for (const auto& [key, groups] : state) wanted_records += !groups.empty();
  must(records == wanted_records);
  const auto waiting = book.waiting();
  must(waiting.has_value() && waiting->size() + ready(journal).size() == made.size());
}

int run(const std::uint8_t* data, std::size_t size) {
  Bytes bytes{data, size};
  const std::uint8_t order = bytes.next();
  std::vector<Made> made;
  while (bytes.more() && made.size() < kMostLines) make_line(bytes, made);
  if (made.empty()) return 0;

  std::vector<const Made*> all, backwards;
  for (const Made& one : made) all.push_back(&one);
  backwards.assign(all.rbegin(), all.rend());
  const auto left = empty_book(1), right = empty_book(2);
  take(*left, all);
  const std::size_t cut = order % (backwards.size() + 1);
  take(*right, {backwards.begin(), backwards.begin() + static_cast<std::ptrdiff_t>(cut)});
  take(*right, {backwards.begin() + static_cast<std::ptrdiff_t>(cut), backwards.end()});
  must(left->digest() == right->digest());
  check_against_model(*left, made);
  check_against_model(*right, made);
  const Hash digest = right->digest();
  must(right->rebuild().has_value() && right->digest() == digest);
  take(*right, all);
  must(right->digest() == digest);
  return 0;
}

std::vector<std::string> seeds() {
  std::vector<std::string> all;
  std::uint32_t state = 12345;
  for (const std::size_t length : {20u, 60u, 120u, 240u}) {
    std::string bytes;
    while (bytes.size() < length) {
      state = state * 1664525u + 1013904223u;
      bytes += static_cast<char>(state >> 24);
    }
    all.push_back(std::move(bytes));
  }
  return all;
}

const FuzzEntry entry{{"merge", run, seeds, 100}};

}  // namespace
