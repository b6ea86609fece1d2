#include "bench/merge/workload.h"

#include <algorithm>
#include <cstdlib>

#include "tests/fake_platform.h"

namespace steep::bench {
namespace {

constexpr std::size_t kEntriesABrew = 20, kRecent = 1000;
constexpr Moment kSpring{1778796000000};  // 14 May 2026
constexpr const char* kWords[] = {"foam",   "high", "clear", "warm",    "smells",
                                  "earthy", "slow", "again", "checked", "steady"};
constexpr const char* kWhat[] = {"fed", "topped-up", "moved"};

/// A measuring program that cannot make its own data has nothing to measure.
template <class T>
T must(Result<T> result) {
  if (!result) {
    std::fprintf(stderr, "bench: %s at %s\n", std::string(result.error().word.key).c_str(),
                 result.error().place.c_str());
    std::abort();
  }
  return std::move(*result);
}
void must(Result<void> result) {
  if (!result) {
    std::fprintf(stderr, "bench: %s at %s\n", std::string(result.error().word.key).c_str(),
                 result.error().place.c_str());
    std::abort();
  }
}

/// What a copy sees of one entry: changes that hold some of its fields.
struct Head {
  ChangeRef ref;
  unsigned fields = 0;
};
using View = std::vector<std::vector<Head>>;  // by entry

enum Field : unsigned { What = 1, Amount = 2, Note = 4, Brew = 8, At = 16, All = 31 };

struct Writing {
  std::size_t entry = 0;
  unsigned fields = 0;
  ChangeRef ref;
  std::vector<ChangeRef> seen;
};

void see(View& view, const Writing& writing) {
  if (view.size() <= writing.entry) view.resize(writing.entry + 1);
  std::vector<Head>& heads = view[writing.entry];
  for (Head& head : heads)
    if (std::find(writing.seen.begin(), writing.seen.end(), head.ref) != writing.seen.end())
      head.fields &= ~writing.fields;
  std::erase_if(heads, [](const Head& head) { return head.fields == 0; });
  heads.push_back({writing.ref, writing.fields});
}

}  // namespace

std::uint64_t Chance::next() {
  state ^= state << 13;
  state ^= state >> 7;
  return state ^= state << 17;
}

struct Workload::Inside {
  struct Copy {
    WrittenLane written;
    View view;
    std::vector<std::size_t> own;  // entries made since the last meeting
    std::vector<Writing> news;     // since the last meeting
    Id brew;                       // the one at work
    std::size_t made = 0;
  };
  test::FakePlatform platform;
  std::unique_ptr<Book> book;  // the house: its record and a person
  std::vector<Id> entries;     // events, and before each kEntriesABrew of them their brew
  Id person;
  std::vector<Copy> copies;
  std::size_t met = 0;  // entries that everybody sees
  Chance chance;
  std::int64_t minutes = 0;
  int brews = 0;

  void start(int count) {
    platform.clock = kSpring;
    std::uint8_t skipped[1];
    platform.random(skipped);  // Who takes the file draws from the same source: no id of his may be one of ours.
    book = std::make_unique<Book>(must(Book::open(platform.book_place(), needs_of(platform))));
    must(book->start("Alder Reach", false));
    person = add("person", {text_field_value("name", "Ana Leland")});
    for (int i = 0; i < count; ++i) {
      Copy& copy = copies.emplace_back();
      Lane& lane = copy.written.lane;
      lane.id = random_id();
      lane.copy = random_id();
      lane.part = Part{{}, 2026};
      lane.label = "Phone " + std::to_string(i + 1);
      lane.tip = chain_start(lane.id);
    }
  }

  Id random_id() {
    Id id;
    platform.random(id.bytes);
    return id;
  }
  Id add(std::string_view kind, std::vector<FieldValue> fields) {
    Save save;
    save.record = book->new_record();
    save.kind = kind;
    save.fields = std::move(fields);
    must(book->write(save, person));
    return save.record;
  }

  std::string note() {
    std::string text;
    for (std::size_t i = 2 + chance.below(5); i > 0; --i)
      (text += kWords[chance.below(std::size(kWords))]) += i > 1 ? " " : "";
    return text;
  }
  void add_fields(const Copy& copy, std::vector<FieldValue>& fields, unsigned which) {
    if (which & Brew) fields.push_back(reference_value("brew", copy.brew));
    if (which & What) fields.push_back(word_value("what", kWhat[chance.below(3)]));
    if (which & At) fields.push_back(instant_value("at", {kSpring + minutes * kMinute, -420}));
    if (which & Amount)
      fields.push_back(quantity_value("amount", std::to_string(1 + chance.below(20)) + "." +
                                                    std::to_string(chance.below(100) + 100).substr(1) + " gal"));
    if (which & Note) fields.push_back(text_field_value("note", note()));
  }

  void write(Copy& copy, std::size_t entry, unsigned which) {
    Change change;
    change.record = entries[entry];
    change.kind = "event";
    if (which != All)
      for (const Head& head : copy.view[entry]) change.seen.push_back(head.ref);
    add_fields(copy, change.fields, which);
    const ChangeRef ref = append(copy, change);
    Writing writing{entry, which, ref, std::move(change.seen)};
    see(copy.view, writing);
    copy.news.push_back(std::move(writing));
  }

  void brew(Copy& copy) {
    copy.brew = record_id();
    Change change;
    change.record = copy.brew;
    change.kind = "brew";
    change.fields = {number_value("number", std::to_string(++brews)), quantity_value("fill", "50 gal"),
                     instant_value("met_water", {now(), -420})};
    append(copy, change);
  }

  Moment now() const { return kSpring + minutes * kMinute / 8; }
  /// As the program makes them: by time first.
  Id record_id() {
    Id id = random_id();
    const auto ms = static_cast<std::uint64_t>(now().ms);
    for (std::size_t i = 0; i < 6; ++i) id.bytes[i] = static_cast<std::uint8_t>(ms >> (40 - 8 * i));
    return id;
  }

  /// Makes the change the next line of the copy's lane.
  ChangeRef append(Copy& copy, Change& change) {
    Lane& lane = copy.written.lane;
    ++minutes;
    change.lane = lane.id;
    change.seq = change.act = lane.last_seq + 1;
    if (change.seq == 1) change.part = lane.part;
    change.t = change.wall = now().ms;
    change.zone_minutes = -420;
    change.person = person;
    change.act_ends = true;
    Book::Line line;
    line.seq = change.seq;
    line.prev = lane.tip;
    line.body = write_change(change);
    line.hash = lane.tip = chain_next(lane.tip, line.body);
    lane.last_seq = line.seq;
    copy.written.lines.push_back(std::move(line));
    return ref_of(lane.id, lane.last_seq, lane.tip);
  }

  void create(Copy& copy) {
    if (copy.made++ % kEntriesABrew == 0) brew(copy);
    copy.own.push_back(entries.size());
    entries.push_back(record_id());
    write(copy, entries.size() - 1, All);
  }
  /// `reach`: how many of the newest entries it may be.
  bool correct(Copy& copy, std::size_t reach = SIZE_MAX) {
    const std::size_t all = met + copy.own.size();
    if (all == 0) return false;
    const std::size_t i = all - 1 - chance.below(std::min(all, reach));
    write(copy, i < met ? i : copy.own[i - met], chance.below(2) ? Amount | Note | What : Amount | Note);
    return true;
  }

  std::string file(FileHeader header, Packing packing, const std::vector<LaneLines>& lanes) const {
    header.book = book->id();
    header.name = book->name();
    header.by = copies.front().written.lane.copy;
    header.label = copies.front().written.lane.label;
    header.made = kSpring;
    return must(write_file(header, packing, lanes));
  }
};

Workload::Workload(int copies) : inside_(std::make_unique<Inside>()) { inside_->start(copies); }
Workload::~Workload() = default;

void Workload::create(int copy, std::int64_t entries) {
  for (std::int64_t i = 0; i < entries; ++i) inside_->create(inside_->copies[static_cast<std::size_t>(copy)]);
}
void Workload::correct(int copy, std::int64_t saves) {
  for (std::int64_t i = 0; i < saves; ++i) inside_->correct(inside_->copies[static_cast<std::size_t>(copy)]);
}
void Workload::write(int copy, std::int64_t lines) {
  Inside::Copy& by = inside_->copies[static_cast<std::size_t>(copy)];
  for (std::int64_t i = 0; i < lines; ++i)
    if (i % 5 == 0 || !inside_->correct(by)) inside_->create(by);
}
void Workload::write_day(int copy, std::int64_t lines) {
  Inside::Copy& by = inside_->copies[static_cast<std::size_t>(copy)];
  const std::size_t end = by.written.lines.size() + static_cast<std::size_t>(lines);
  while (by.written.lines.size() + 1 < end)
    if (by.written.lines.size() % 2 == 0 || !inside_->correct(by, kRecent)) inside_->create(by);
  if (by.written.lines.size() < end) inside_->correct(by, kRecent);
}

void Workload::meet() {
  for (Inside::Copy& from : inside_->copies)
    for (const Writing& writing : from.news)
      for (Inside::Copy& to : inside_->copies)
        if (&to != &from) see(to.view, writing);
  for (Inside::Copy& copy : inside_->copies) {
    copy.news.clear();
    copy.own.clear();
    copy.view.resize(inside_->entries.size());
  }
  inside_->met = inside_->entries.size();
}

const WrittenLane& Workload::lane(int copy) const { return inside_->copies[static_cast<std::size_t>(copy)].written; }
std::int64_t Workload::changes() const {
  std::int64_t changes = inside_->book->change_count();
  for (const auto& copy : inside_->copies) changes += static_cast<std::int64_t>(copy.written.lines.size());
  return changes;
}

std::string Workload::whole_file(int without) const {
  std::vector<LaneLines> lanes;
  const Book& book = *inside_->book;
  for (const Lane& lane : book.lanes())
    lanes.push_back({lane, [&book, id = lane.id](const auto& then) { return book.each_line(id, 1, then); }});
  for (const auto& copy : inside_->copies) {
    if (copy.written.lines.empty() || (without >= 0 && &copy == &inside_->copies[static_cast<std::size_t>(without)]))
      continue;
    lanes.push_back({copy.written.lane, [&copy](const auto& then) -> Result<void> {
                       for (const Book::Line& line : copy.written.lines)
                         if (!then(line)) break;
                       return {};
                     }});
  }
  return inside_->file({}, Packing::Gzip, lanes);
}

std::string Workload::later_file(int copy, std::int64_t from) const {
  const WrittenLane& written = lane(copy);
  FileHeader header;
  header.delta = true;
  const LaneLines lines{written.lane, [&](const auto& then) -> Result<void> {
                          for (const Book::Line& line : written.lines)
                            if (line.seq >= from && !then(line)) break;
                          return {};
                        }};
  return inside_->file(header, Packing::Gzip, {lines});
}

}  // namespace steep::bench
