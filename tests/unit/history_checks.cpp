// What must hold of every copy of a random history, and of all in the end.
#include "tests/unit/history.h"

namespace steep::test {

std::set<Hash> History::journal_of(const Book& book) const {
  std::set<Hash> hashes;
  for (const Section& section : everything(book))
    for (const Book::Line& line : section.lines) {
      hashes.insert(line.hash);
      const auto known = bodies_.find(line.hash);
      REQUIRE(known != bodies_.end());    // I8: merging invents no line.
      CHECK(known->second == line.body);  // I6, I12: byte for byte.
    }
  return hashes;
}

std::set<Hash> History::aside_of(const Book& book) const {
  std::set<Hash> hashes;
  const auto add_of = [&](const Id& record) {
    const auto history = book.history(record);
    REQUIRE(history);
    for (const HistoryLine& line : *history)
      if (line.aside) hashes.insert(line.hash);
  };
  for (const Id& record : records_) add_of(record);
  for (const Id& record : books_) add_of(record);
  return hashes;
}

/// The book against the model of its own journal: I5 for copies of equal J, I9, I10, I16, I18.
void History::check_state(Book& book) const {
  Journal journal;
  for (const Hash& hash : journal_of(book)) journal.emplace(hash, lines_.at(hash));
  const State state = fold_model(journal, parts_, aside_of(book));
  std::size_t found = 0;
  const auto check_record = [&](const Id& id) {
    const auto record = book.record(id);
    REQUIRE(record);
    if (!*record) return;
    ++found;
    const auto wanted = state.find({(*record)->part.text(), id});
    REQUIRE(wanted != state.end());
    REQUIRE((*record)->groups.size() == wanted->second.size());
    for (const Group& group : (*record)->groups) check_group(group, wanted->second.at(group.key));
  };
  for (const Id& id : records_) check_record(id);
  for (const Id& id : books_) check_record(id);
  CHECK(found == state.size());
  // What waits is what the model does not count.
  std::set<Hash> counts = ready(journal), waits;
  const auto waiting = book.waiting();
  REQUIRE(waiting);
  for (const HistoryLine& line : *waiting) waits.insert(line.hash);
  CHECK(waits.size() + counts.size() == journal.size());
  for (const Hash& hash : waits) CHECK(counts.count(hash) == 0);
  CHECK(book.check()->tables_match);
}

void History::check_group(const Group& group, const ModelGroup& wanted) const {
  REQUIRE(group.heads.size() == wanted.heads.size());
  CHECK(group.differs == wanted.differs);
  const Change& winner = lines_.at(wanted.winner).change;
  CHECK(group.heads[0].ref == ref_of(winner.lane, winner.seq, wanted.winner));
  for (const Head& head : group.heads) {  // I18: what one change wrote, and nothing mixed.
    bool written = false;
    for (const Hash& hash : wanted.heads) {
      const Change& change = lines_.at(hash).change;
      if (ref_of(change.lane, change.seq, hash) != head.ref) continue;
      std::vector<FieldValue> fields;
      for (const FieldValue& field : change.fields)
        if (group_of(field.key) == group.key) fields.push_back(field);
      written = written || fields == head.fields;
    }
    CHECK(written);
  }
}

/// Everybody meets everybody, in some order, until all hold all.
void History::settle() {
  for (const auto& copy : copies_) {
    const auto batches = copy->book->batches();
    for (const auto& batch : *batches)
      if (batch.aside) REQUIRE(copy->book->set_aside(batch.row, false));
  }
  // Two starts that never met do so now; a copy whose book is still empty begins with the first file.
  for (std::size_t i = 1; i < copies_.size(); ++i) {
    const auto given = give(*copies_[i]->book, {});
    if (!given) continue;
    auto reader = FileReader::open(given->file.bytes);
    const auto header = reader->next();
    if (may_meet(*copies_[0]->book, (*header)->header)) continue;
    REQUIRE(take_in(*copies_[0]->book, given->file, copies_[i]->book->name()));
    note_lines(0);
    ++counts_.joins;
  }
  for (int round = 0; round < 2; ++round)
    for (std::size_t i = 0; i < copies_.size(); ++i) {
      const std::size_t to = (i + 1) % copies_.size();
      deliver(i, to, pack(*copies_[i]->book, sections_of(*copies_[i]->book)), journal_of(*copies_[i]->book));
    }
  std::set<Hash> all;
  for (const auto& [hash, line] : lines_) all.insert(hash);
  for (const auto& copy : copies_) {
    CHECK(journal_of(*copy->book) == all);                      // I6
    CHECK(copy->book->digest() == copies_[0]->book->digest());  // I2, I3, I5
    CHECK(copy->book->waiting()->empty());
    CHECK(reviews(*copy->book, "review.chain") == 0);  // Branches whose beginning was lost have found it: I15.
    CHECK(copy->book->check()->broken_chains.empty());
  }
  check_state(*copies_[0]->book);
  const Hash digest = copies_[0]->book->digest();
  const auto reviews_before = copies_[0]->book->reviews()->size();
  REQUIRE(copies_[0]->book->rebuild());  // I7
  CHECK(copies_[0]->book->digest() == digest);
  CHECK(copies_[0]->book->reviews()->size() == reviews_before);
  check_shuffled(digest);
  check_one_part();
}

/// I7: an empty store that takes the lines in any order, lane by lane.
void History::check_shuffled(const Hash& digest) {
  Copy empty("empty", 4711);
  auto sections = sections_of(*copies_[0]->book);
  for (std::size_t k = sections.size(); k > 1; --k) std::swap(sections[k - 1], sections[chance_.below(k)]);
  for (const Section& section : sections) REQUIRE(take_in(*empty.book, pack(*copies_[0]->book, {section})));
  CHECK(empty.book->digest() == digest);
}

/// I20: a copy of one part alone folds it as the full copy does.
void History::check_one_part() {
  Copy some("some parts", 4712);
  GiveRequest house;
  house.parts = {Part{}};
  const auto given = give(*copies_[0]->book, house);
  REQUIRE(given);
  REQUIRE(take_in(*some.book, given->file));
  for (const Id& id : records_) {
    const auto full = copies_[0]->book->record(id), part = some.book->record(id);
    REQUIRE(*full);
    CHECK((*part).has_value() == ((*full)->part == Part{}));
    if (!*part) continue;
    CHECK((*part)->heads() == (*full)->heads());
    CHECK((*part)->struck == (*full)->struck);
    CHECK((*part)->differs() == (*full)->differs());
  }
}

}  // namespace steep::test
