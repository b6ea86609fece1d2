// How the copies of a random history meet.
#include "handover/file_writer.h"
#include "tests/unit/history.h"

namespace steep::test {
namespace {

constexpr std::size_t kMostCopies = 6;

bool is_forked(const Section& section) {
  for (std::size_t k = 1; k < section.lines.size(); ++k)
    if (section.lines[k].seq == section.lines[k - 1].seq) return true;
  return false;
}

std::set<Hash> hashes_of(const std::vector<Section>& sections) {
  std::set<Hash> hashes;
  for (const Section& section : sections)
    for (const Book::Line& line : section.lines) hashes.insert(line.hash);
  return hashes;
}

/// What a file says that it carries.
std::set<Hash> lines_in(const File& file) {
  std::set<Hash> lines;
  auto reader = FileReader::open(file.bytes);
  REQUIRE(reader);
  for (;;) {
    const auto event = reader->next();
    REQUIRE(event);
    if (!*event) return lines;
    if ((*event)->what == FileEvent::Line) lines.insert((*event)->hash);
  }
}

}  // namespace

History::Counts& History::Counts::operator+=(const Counts& other) {
  files += other.files;
  deltas += other.deltas;
  of_parts += other.of_parts;
  cut += other.cut;
  damaged += other.damaged;
  forks += other.forks;
  joins += other.joins;
  newer += other.newer;
  waiting += other.waiting;
  acts_struck += other.acts_struck;
  return *this;
}

std::size_t History::other(std::size_t i) {
  const std::size_t j = chance_.below(copies_.size() - 1);
  return j < i ? j : j + 1;
}

void History::start_book(std::size_t i, const std::string& name) {
  Book& book = *copies_[i]->book;
  REQUIRE(book.start(name, false));
  books_.insert(book.id());
  note_lines(i);
  Save farm = save_of(book, "farm", {text_field_value("name", name)});
  farms_.push_back(farm.record);
  put(i, {farm});
}

void History::add_copy(std::unique_ptr<Copy> copy) {
  copies_.push_back(std::move(copy));
  forms_.emplace_back();
}

void History::clone(std::size_t i) {
  if (copies_.size() == kMostCopies) return;
  const std::size_t j = copies_.size();
  add_copy(copies_[i]->clone("clone " + std::to_string(j), 1000 + j, chance_.one_in(2)));
  // Never the same millisecond on both: one line word for word in two branches would be one line, by some clocks only.
  copies_[j]->clock += static_cast<std::int64_t>(j);
  shared_ids_.insert(copies_[i]->book->copy());
  for (const Lane& lane : copies_[j]->book->lanes()) noted_[{j, lane.id}] = lane.last_seq;
  forms_[j] = forms_[i];
}

void History::aside(std::size_t i) {
  Book& book = *copies_[i]->book;
  const auto batches = book.batches();
  REQUIRE(batches);
  if (batches->size() < 3) return;  // Never the files that brought book and farm.
  const auto& batch = (*batches)[chance_.below(batches->size() - 2)];
  const std::set<Hash> before = journal_of(book);
  const auto set = book.set_aside(batch.row, !batch.aside);
  // The file that brought the book's own record stays, whichever it was.
  if (!set) REQUIRE(set.error().word == "book.begins_here"_w);
  CHECK(journal_of(book) == before);  // I4
}

void History::note_line(const Id& lane, const Part& part, const Book::Line& line) {
  parts_[lane] = part;
  lines_.try_emplace(line.hash, ModelLine{line.prev, line.hash, *read_change(line.body)});
  bodies_.try_emplace(line.hash, line.body);
  numbers_.try_emplace(line.hash, numbers_.size());
}

void History::note_lines(std::size_t i) {
  const Book& book = *copies_[i]->book;
  for (const Lane& lane : book.lanes()) {
    if (!lane.mine) continue;
    parts_[lane.id] = lane.part;
    for (const Book::Line& line : section_of(book, lane, noted_[{i, lane.id}] + 1).lines) {
      noted_[{i, lane.id}] = line.seq;
      note_line(lane.id, lane.part, line);
    }
  }
}

/// Sections by the order of the lines' numbers, so that no clock or id decides what is lost.
std::vector<Section> History::sections_of(const Book& book) const {
  auto sections = everything(book);
  // Where branches stand beside each other, the first line is the one of the lower hash: by the lowest number of all.
  const auto first = [&](const Section& section) {
    std::size_t lowest = numbers_.size();
    for (const Book::Line& line : section.lines) lowest = std::min(lowest, numbers_.at(line.hash));
    return lowest;
  };
  std::sort(sections.begin(), sections.end(), [&](const Section& a, const Section& b) { return first(a) < first(b); });
  return sections;
}

/// These lines as a file of the copy, acknowledging nothing.
File History::pack(const Book& from, const std::vector<Section>& sections) {
  FileHeader header;
  header.book = from.id();
  for (const Id& id : from.joined())
    if (id != header.book) header.joined.push_back(id);
  header.name = from.name();
  header.by = from.copy();
  header.label = from.copy_label();
  header.unsaved = true;
  std::vector<LaneLines> lanes;
  for (const Section& section : sections)
    lanes.push_back({section.lane, [&section](const auto& then) -> Result<void> {
                       for (const Book::Line& line : section.lines)
                         if (!then(line)) break;
                       return {};
                     }});
  const auto bytes = write_file(header, chance_.one_in(2) ? Packing::Gzip : Packing::Plain, lanes);
  REQUIRE(bytes);
  return {"some.steepbook", *bytes, ""};
}

void History::deliver(std::size_t from, std::size_t to, const File& file, const std::set<Hash>& lines) {
  Copy& copy = *copies_[to];
  Book& book = *copy.book;
  if (chance_.one_in(8)) damage(to, file);
  std::set<Hash> before = journal_of(book);
  TakeJob looked_at(book, file);
  while (looked_at.stage() == TakeJob::Stage::Reading) looked_at.step(1000);
  auto outcome = take_in(book, file);
  if (!outcome && outcome.error().word == "take.other_book"_w) {
    if (chance_.one_in(3)) return;  // 'Later.'
    outcome = take_in(book, file, copies_[from]->book->name());
    note_lines(to);  // The join is a change of its own.
    ++counts_.joins;
    before = journal_of(book);
    for (const Hash& line : lines) before.insert(line);
  }
  if (!outcome) MESSAGE(outcome.error().word.key);
  REQUIRE(outcome);
  ++counts_.files;
  counts_.forks += outcome->twin;
  counts_.waiting += outcome->waiting > 0;
  if (looked_at.stage() == TakeJob::Stage::Planned) CHECK(looked_at.plan().waiting == outcome->waiting);
  std::set<Hash> wanted = before;
  wanted.insert(lines.begin(), lines.end());
  CHECK(journal_of(book) == wanted);  // J(A ⊔ B) = J(A) ∪ J(B): I4, I8.
  if (chance_.one_in(4)) {            // I1: the same file again changes nothing.
    const Hash digest = book.digest();
    const auto again = take_in(book, file);
    REQUIRE(again);
    CHECK(again->added == 0);
    CHECK(book.digest() == digest);
  }
  if (chance_.one_in(3)) check_state(book);
}

void History::deliver_all(std::size_t from, std::size_t to) {
  const Book& book = *copies_[from]->book;
  if (!book.is_started()) return;
  const auto given = give(book, {chance_.one_in(2) ? Packing::Gzip : Packing::Plain, {}, {}, false});
  REQUIRE(given);
  deliver(from, to, given->file, hashes_of(everything(book)));
}

void History::deliver_parts(std::size_t from, std::size_t to) {
  const Book& book = *copies_[from]->book;
  if (!book.is_started()) return;
  GiveRequest request;
  std::set<Part> parts;
  for (const Section& section : sections_of(book))
    if (chance_.one_in(2)) parts.insert(section.lane.part);
  if (parts.empty()) return;
  request.parts.assign(parts.begin(), parts.end());
  const auto given = give(book, request);
  REQUIRE(given);
  const std::set<Hash> lines = lines_in(given->file);
  for (const Hash& line : lines) CHECK(parts.count(parts_.at(lines_.at(line).change.lane)) > 0);
  ++counts_.of_parts;
  deliver(from, to, given->file, lines);
}

/// Only what the other lacks, by the tips of the last file that came from it. I17: as good as the whole.
void History::deliver_delta(std::size_t from, std::size_t to) {
  const Book& book = *copies_[from]->book;
  const Book& other_book = *copies_[to]->book;
  if (!book.is_started() || !other_book.is_started() || other_book.copy().is_nil()) return;
  GiveRequest request;
  request.lacking_at = other_book.copy();
  const auto given = give(book, request), whole = give(book, {});
  REQUIRE(given);
  REQUIRE(whole);
  CHECK(given->changes <= whole->changes);
  counts_.deltas += given->changes < whole->changes;
  if (chance_.one_in(4)) return;  // Lost on the way.
  std::set<Hash> wanted = journal_of(other_book);
  for (const Hash& line : lines_in(whole->file)) wanted.insert(line);
  const auto before = counts_.files;
  deliver(from, to, given->file, lines_in(given->file));
  if (counts_.files > before && shared_ids_.count(*request.lacking_at) == 0) {
    const std::set<Hash> there = journal_of(other_book);
    for (const Hash& line : wanted) CHECK(there.count(line) == 1);
  }
}

/// Some lanes, from some line on, perhaps cut, in any order.
void History::deliver_some(std::size_t from, std::size_t to) {
  const Book& book = *copies_[from]->book;
  if (!book.is_started()) return;
  std::vector<Section> some;
  for (Section& section : sections_of(book)) {
    if (chance_.one_in(3)) continue;
    if (!is_forked(section)) {  // Branches beside each other: whole.
      auto& lines = section.lines;
      if (chance_.one_in(3))
        lines.erase(lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(chance_.below(lines.size())));
      if (chance_.one_in(3)) lines.resize(1 + chance_.below(lines.size()));
    }
    some.push_back(std::move(section));
  }
  for (std::size_t k = some.size(); k > 1; --k) std::swap(some[k - 1], some[chance_.below(k)]);
  if (some.empty()) return;
  ++counts_.cut;
  deliver(from, to, pack(book, some), hashes_of(some));
}

/// I14: any byte changed, cut off or doubled: refused, the journal as it was.
void History::damage(std::size_t to, const File& file) {
  Book& book = *copies_[to]->book;
  File bad = file;
  const std::size_t at = chance_.below(bad.bytes.size());
  switch (chance_.below(3)) {
    case 0: bad.bytes[at] = static_cast<char>(bad.bytes[at] ^ (1 << chance_.below(8))); break;
    case 1: bad.bytes.resize(at); break;
    case 2: bad.bytes.insert(at, 1, bad.bytes[at]); break;
  }
  const auto before = journal_of(book);
  const Hash digest = book.digest();
  // A few bits of a packing say nothing of what is packed: such a file is still whole.
  if (unpacked(bad.bytes) == unpacked(file.bytes)) return;
  CHECK_FALSE(take_in(book, bad));
  ++counts_.damaged;
  CHECK(journal_of(book) == before);
  CHECK(book.digest() == digest);
}

}  // namespace steep::test
