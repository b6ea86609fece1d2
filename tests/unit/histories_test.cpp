// Random histories over two to six copies: edits, stale forms, acts, strikes, wrong clocks, files that are cut,
// shuffled, repeated or lost, parts given alone, storage cloned, files set aside. In the end all copies must
// hold one journal and one state, the one that the model computes from the set of lines.
//
// The number of histories: STEEPBOOK_HISTORIES, 60 when not set. A failing one names its number;
// STEEPBOOK_HISTORY=N runs that one alone.
#include <cstdlib>

#include "book_copies.h"
#include "model.h"

using namespace steep;
using namespace steep::test;

namespace {

constexpr std::size_t kMostCopies = 6;

/// How wrong clocks are. Choices of a history never depend on clocks, so that three scripts give one structure.
enum class Clocks { Fair, Jumping, Mad };

class History {
 public:
  History(std::uint64_t seed, Clocks clocks) : chance_(seed), clock_chance_(seed + 7), clocks_(clocks) {
    const std::size_t n = 2 + chance_.below(4);
    for (std::size_t i = 0; i < n; ++i) add_copy(std::make_unique<Copy>("copy " + std::to_string(i), seed * 16 + i));
    REQUIRE(copies_[0]->book->start("Alder Reach", false));
    note_lines(0);
    farm_ = save_of(*copies_[0]->book, "farm", {text_field_value("name", "Alder Reach")}).record;
    Save farm;
    farm.record = farm_;
    farm.kind = "farm";
    farm.fields = {text_field_value("name", "Alder Reach")};
    put(0, {farm});
    for (std::size_t i = 1; i < n; ++i) deliver_all(0, i);
  }

  void run() {
    const std::size_t steps = 30 + chance_.below(60);
    for (std::size_t i = 0; i < steps; ++i) step();
    settle();
  }

  /// (record, group) → numbers of the writes at its heads, and whether they differ: what no clock may change.
  std::map<std::string, std::string> structure() const {
    std::map<std::string, std::string> found;
    for (const auto& [key, groups] : fold_model(lines_, parts_))
      for (const auto& [group, folded] : groups) {
        std::set<std::size_t> numbers;
        for (const Hash& head : folded.heads) numbers.insert(numbers_.at(head));
        std::string text;
        for (const std::size_t number : numbers) text += std::to_string(number) + ' ';
        const auto place = std::find(records_.begin(), records_.end(), key.second) - records_.begin();
        found[std::to_string(place) + '/' + group] = text + (folded.differs ? "differs" : "agrees");
      }
    return found;
  }
  std::size_t changes() const { return lines_.size(); }
  std::size_t forks() const { return forks_; }

 private:
  // ---- One step ----
  void step() {
    const std::size_t i = chance_.below(copies_.size());
    jump(*copies_[i]);
    switch (chance_.below(16)) {
      case 0: case 1: case 2: create(i); break;
      case 3: case 4: case 5: case 6: change_one(i, false); break;
      case 7: change_one(i, true); break;
      case 8: open_form(i); break;
      case 9: strike_or_restore(i); break;
      case 10: case 11: deliver_some(i, other(i)); break;
      case 12: case 13: deliver_all(i, other(i)); break;
      case 14: clone(i); break;
      case 15: aside(i); break;
    }
  }

  std::size_t other(std::size_t i) {
    const std::size_t j = chance_.below(copies_.size() - 1);
    return j < i ? j : j + 1;
  }

  void jump(Copy& copy) {
    const std::size_t kind = clock_chance_.below(20);
    if (clocks_ == Clocks::Fair) return;
    if (kind == 0) copy.clock = std::max<std::int64_t>(1000, copy.clock - 1'000'000);
    if (kind == 1) copy.clock += 3'000'000;
    if (clocks_ == Clocks::Mad && kind == 2) copy.clock += 1'000'000'000'000;
    if (clocks_ == Clocks::Mad && kind == 3) copy.clock = 5'000;
  }

  // ---- Writing ----
  void put(std::size_t i, const std::vector<Save>& saves) {
    const auto written = copies_[i]->book->write(saves, {});
    if (!written) MESSAGE(written.error().word.key, " ", written.error().place, " ", written.error().values.size());
    REQUIRE(written);
    for (const Save& save : saves)
      if (std::find(records_.begin(), records_.end(), save.record) == records_.end()) records_.push_back(save.record);
    note_lines(i);
  }

  void create(std::size_t i) {
    const Book& book = *copies_[i]->book;
    std::vector<Save> saves;
    const std::size_t n = chance_.one_in(3) ? 2 + chance_.below(3) : 1;
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t what = chance_.below(3);
      if (what == 0 && !book.kind_of(farm_).empty())
        saves.push_back(save_of(book, "block", {reference_value("farm", farm_), text_field_value("name", word())}));
      else if (what == 1)
        saves.push_back(save_of(book, "vessel", {text_field_value("name", word()), quantity_value("volume.nominal", amount())}));
      else
        saves.push_back(save_of(book, "rig", {text_field_value("name", word())}));
    }
    put(i, saves);
  }

  std::vector<FieldValue> some_fields(const std::string& kind) {
    std::vector<FieldValue> fields;
    if (chance_.one_in(2)) fields.push_back(text_field_value("name", word()));
    if (kind == "vessel" && chance_.one_in(2)) {
      fields.push_back(quantity_value("volume.nominal", amount()));
      fields.push_back(chance_.one_in(2) ? quantity_value("volume.working", amount()) : not_taken("volume.working"));
    }
    if (kind == "rig" && chance_.one_in(2)) fields.push_back(quantity_value("tank.volume", amount()));
    if (kind == "rig" && chance_.one_in(3)) fields.push_back(quantity_value("swath", "30 in"));
    if (fields.empty()) fields.push_back(text_field_value("name", word()));
    return fields;
  }

  /// A record of this copy, in an order that no clock decides.
  std::optional<Record> some_record(std::size_t i) {
    const std::size_t from = chance_.below(records_.size());
    for (std::size_t k = 0; k < records_.size(); ++k) {
      auto record = copies_[i]->book->record(records_[(from + k) % records_.size()]);
      REQUIRE(record);
      if (*record && (*record)->kind != "book" && (*record)->kind != "farm") return **record;
    }
    return std::nullopt;
  }

  void change_one(std::size_t i, bool stale) {
    const auto record = some_record(i);
    if (!record) return;
    Save save;
    save.record = record->id;
    save.kind = record->kind;
    save.fields = some_fields(record->kind);
    save.seen = record->heads();
    if (stale && !forms_[i].empty()) {
      save = forms_[i][chance_.below(forms_[i].size())];
      save.fields = some_fields(save.kind);
      if (copies_[i]->book->kind_of(save.record).empty()) return;  // Its file was set aside meanwhile.
    }
    put(i, {save});
  }

  void open_form(std::size_t i) {
    const auto record = some_record(i);
    if (!record) return;
    Save save;
    save.record = record->id;
    save.kind = record->kind;
    save.seen = record->heads();
    forms_[i].push_back(save);
  }

  void strike_or_restore(std::size_t i) {
    const auto record = some_record(i);
    if (!record) return;
    Save save;
    save.record = record->id;
    save.kind = record->kind;
    save.seen = record->heads();
    save.fields = {record->struck.empty() ? text_field_value("struck", "logged twice") : not_taken("struck")};
    put(i, {save});
  }

  std::string word() { return "name " + std::to_string(chance_.below(4)); }
  std::string amount() {
    static constexpr const char* kAmounts[] = {"1.5 gal", "192 fl oz", "1.50 gal", "2 gal", "8 L"};
    return kAmounts[chance_.below(5)];
  }

  // ---- Files ----
  /// Remembers every line that this copy wrote, as the truth of what exists.
  void note_lines(std::size_t i) {
    const Book& book = *copies_[i]->book;
    for (const Lane& lane : book.lanes()) {
      parts_[lane.id] = lane.part;
      if (!lane.mine) continue;
      const Section section = section_of(book, lane, noted_[{i, lane.id}] + 1);
      for (const Book::Line& line : section.lines) {
        noted_[{i, lane.id}] = line.seq;
        lines_.try_emplace(line.hash, ModelLine{line.prev, line.hash, *read_change(line.body)});
        bodies_.try_emplace(line.hash, line.body);
        numbers_.try_emplace(line.hash, numbers_.size());
      }
    }
  }

  std::set<Hash> journal_of(const Book& book) const {
    std::set<Hash> hashes;
    for (const Section& section : everything(book))
      for (const Book::Line& line : section.lines) {
        hashes.insert(line.hash);
        const auto known = bodies_.find(line.hash);
        REQUIRE(known != bodies_.end());  // I8: merging invents no line.
        CHECK(known->second == line.body);  // I6: byte for byte.
      }
    return hashes;
  }

  /// Sections by the order of the lines' numbers, so that no clock or id decides what is lost.
  std::vector<Section> sections_of(const Book& book) const {
    auto sections = everything(book);
    std::sort(sections.begin(), sections.end(), [&](const Section& a, const Section& b) {
      return numbers_.at(a.lines[0].hash) < numbers_.at(b.lines[0].hash);
    });
    return sections;
  }

  void deliver(std::size_t from, std::size_t to, std::vector<Section> sections) {
    Book& book = *copies_[to]->book;
    const std::set<Hash> before = journal_of(book);
    const auto outcome = take(book, sections, copies_[from]->book.get());
    if (!outcome) MESSAGE(outcome.error().word.key);
    REQUIRE(outcome);
    if (outcome->twin) ++forks_;
    std::set<Hash> wanted = before;
    std::int64_t fresh = 0;
    for (const Section& section : sections)
      for (const Book::Line& line : section.lines) fresh += wanted.insert(line.hash).second;
    CHECK(journal_of(book) == wanted);  // J(A ⊔ B) = J(A) ∪ J(B): I4, and nothing else came.
    CHECK(outcome->added == fresh);
    if (chance_.one_in(4)) {  // I1: the same file again changes nothing.
      const Hash digest = book.digest();
      const auto again = take(book, sections, copies_[from]->book.get());
      REQUIRE(again);
      CHECK(again->added == 0);
      CHECK(book.digest() == digest);
    }
    if (chance_.one_in(3)) check_state(book);
  }

  void deliver_all(std::size_t from, std::size_t to) { deliver(from, to, sections_of(*copies_[from]->book)); }

  /// Some lanes, from some line on, perhaps cut, in any order.
  void deliver_some(std::size_t from, std::size_t to) {
    std::vector<Section> some;
    for (Section& section : sections_of(*copies_[from]->book)) {
      if (chance_.one_in(3)) continue;
      if (is_forked(section)) {  // Branches beside each other: whole.
        some.push_back(std::move(section));
        continue;
      }
      auto& lines = section.lines;
      if (chance_.one_in(3)) lines.erase(lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(chance_.below(lines.size())));
      if (chance_.one_in(3)) lines.resize(1 + chance_.below(lines.size()));
      some.push_back(std::move(section));
    }
    for (std::size_t k = some.size(); k > 1; --k) std::swap(some[k - 1], some[chance_.below(k)]);
    if (!some.empty()) deliver(from, to, std::move(some));
  }

  static bool is_forked(const Section& section) {
    for (std::size_t k = 1; k < section.lines.size(); ++k)
      if (section.lines[k].seq == section.lines[k - 1].seq) return true;
    return false;
  }

  // ---- Copies ----
  void add_copy(std::unique_ptr<Copy> copy) {
    copies_.push_back(std::move(copy));
    forms_.emplace_back();
  }

  void clone(std::size_t i) {
    if (copies_.size() == kMostCopies) return;
    const std::size_t j = copies_.size();
    add_copy(copies_[i]->clone("clone " + std::to_string(j), 1000 + j, chance_.one_in(2)));
    for (const Lane& lane : copies_[j]->book->lanes()) noted_[{j, lane.id}] = lane.last_seq;
    forms_[j] = forms_[i];
  }

  void aside(std::size_t i) {
    Book& book = *copies_[i]->book;
    const auto batches = book.batches();
    REQUIRE(batches);
    if (batches->size() < 3) return;  // Never the files that brought book and farm.
    const auto& batch = (*batches)[chance_.below(batches->size() - 2)];
    const std::set<Hash> before = journal_of(book);
    REQUIRE(book.set_aside(batch.row, !batch.aside));
    CHECK(journal_of(book) == before);
  }

  // ---- Checking ----
  std::set<Hash> aside_of(const Book& book) const {
    std::set<Hash> hashes;
    for (const Id& record : records_) {
      const auto history = book.history(record);
      REQUIRE(history);
      for (const HistoryLine& line : *history)
        if (line.aside) hashes.insert(line.hash);
    }
    return hashes;
  }

  /// The book against the model of its own journal: I5 for copies of equal J, I9, I10, I16, I18.
  void check_state(Book& book) const {
    Journal journal;
    for (const Hash& hash : journal_of(book)) journal.emplace(hash, lines_.at(hash));
    const State state = fold_model(journal, parts_, aside_of(book));
    std::size_t found = 0;
    for (const Id& id : records_) {
      const auto record = book.record(id);
      REQUIRE(record);
      if (!*record) continue;
      ++found;
      const auto wanted = state.find({(*record)->part.text(), id});
      REQUIRE(wanted != state.end());
      REQUIRE((*record)->groups.size() == wanted->second.size());
      for (const Group& group : (*record)->groups) check_group(group, wanted->second.at(group.key));
    }
    CHECK(found + 1 == state.size());  // The book record is not in the list.
    CHECK(book.check()->tables_match);
  }

  void check_group(const Group& group, const ModelGroup& wanted) const {
    REQUIRE(group.heads.size() == wanted.heads.size());
    CHECK(group.differs == wanted.differs);
    CHECK(group.heads[0].ref == ref_of(lines_.at(wanted.winner).change.lane, lines_.at(wanted.winner).change.seq, wanted.winner));
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
  void settle() {
    for (std::size_t i = 0; i < copies_.size(); ++i) {
      const auto batches = copies_[i]->book->batches();
      for (const auto& batch : *batches)
        if (batch.aside) REQUIRE(copies_[i]->book->set_aside(batch.row, false));
    }
    for (int round = 0; round < 2; ++round)
      for (std::size_t i = 0; i < copies_.size(); ++i) deliver_all(i, (i + 1) % copies_.size());
    std::set<Hash> all;
    for (const auto& [hash, line] : lines_) all.insert(hash);
    for (const auto& copy : copies_) {
      CHECK(journal_of(*copy->book) == all);  // I6
      CHECK(copy->book->digest() == copies_[0]->book->digest());  // I2, I3, I5
      CHECK(copy->book->waiting()->empty());
      CHECK(reviews(*copy->book, "review.chain") == 0);  // Branches whose beginning was lost have found it.
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

  /// I7: an empty store that takes the lines in any order, file by file.
  void check_shuffled(const Hash& digest) {
    Copy empty("empty", 4711);
    auto sections = sections_of(*copies_[0]->book);
    for (std::size_t k = sections.size(); k > 1; --k) std::swap(sections[k - 1], sections[chance_.below(k)]);
    for (const Section& section : sections) REQUIRE(take(*empty.book, {section}, copies_[0]->book.get()));
    CHECK(empty.book->digest() == digest);
  }

  /// I20: a copy of one part alone folds it as the full copy does.
  void check_one_part() {
    Copy some("some parts", 4712);
    std::vector<Section> sections;
    for (Section& section : everything(*copies_[0]->book))
      if (section.lane.part == Part{}) sections.push_back(std::move(section));
    REQUIRE(take(*some.book, sections, copies_[0]->book.get()));
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

  Chance chance_, clock_chance_;
  Clocks clocks_;
  std::vector<std::unique_ptr<Copy>> copies_;
  std::vector<std::vector<Save>> forms_;  // Opened and not yet saved, per copy.
  Id farm_;
  std::vector<Id> records_;               // In the order of their creation.
  Journal lines_;
  std::map<Hash, std::string> bodies_;
  std::map<Hash, std::size_t> numbers_;
  std::map<Id, Part> parts_;
  std::map<std::pair<std::size_t, Id>, std::int64_t> noted_;
  std::size_t forks_ = 0;
};

std::uint64_t number(const char* name, std::uint64_t otherwise) {
  const char* text = std::getenv(name);
  return text == nullptr ? otherwise : std::strtoull(text, nullptr, 10);
}

}  // namespace

TEST_CASE("random histories end in one journal and one state") {
  const std::uint64_t only = number("STEEPBOOK_HISTORY", 0), count = number("STEEPBOOK_HISTORIES", 60);
  std::size_t changes = 0, forks = 0;
  for (std::uint64_t seed = only == 0 ? 1 : only; seed <= (only == 0 ? count : only); ++seed) {
    CAPTURE(seed);
    History history(seed, seed % 3 == 0 ? Clocks::Mad : seed % 3 == 1 ? Clocks::Jumping : Clocks::Fair);
    history.run();
    changes += history.changes();
    forks += history.forks();
    if (seed % 5 != 0) continue;
    // I11: other clocks may pick other stand-ins, never other heads or conflicts.
    const auto structure = history.structure();
    for (const Clocks clocks : {Clocks::Fair, Clocks::Jumping, Clocks::Mad}) {
      History again(seed, clocks);
      again.run();
      CHECK(again.structure() == structure);
    }
  }
  MESSAGE(changes, " changes, ", forks, " lanes forked");
}
