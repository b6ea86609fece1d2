// What the people of a random history write.
#include "book/record_commands.h"
#include "tests/unit/history.h"

namespace steep::test {

History::History(std::uint64_t seed, Clocks clocks) : chance_(seed), clock_chance_(seed + 7), clocks_(clocks) {
  const std::size_t n = 2 + chance_.below(4);
  const bool two_starts = n > 2 && chance_.one_in(4);
  for (std::size_t i = 0; i < n; ++i) add_copy(std::make_unique<Copy>("copy " + std::to_string(i), seed * 16 + i));
  newer_.id.bytes[15] = static_cast<std::uint8_t>(seed);
  start_book(0, "Alder Reach");
  if (two_starts) start_book(1, "Alder Reach Farm");
  for (std::size_t i = two_starts ? 2 : 1; i < n; ++i) deliver_all(0, i);
}

void History::run() {
  const std::size_t steps = 30 + chance_.below(60);
  for (std::size_t i = 0; i < steps; ++i) step();
  settle();
}

std::map<std::string, std::string> History::structure() const {
  std::map<std::string, std::string> found;
  for (const auto& [key, groups] : fold_model(lines_, parts_))
    for (const auto& [group, folded] : groups) {
      std::set<std::size_t> numbers;
      for (const Hash& head : folded.heads) numbers.insert(numbers_.at(head));
      std::string text;
      for (const std::size_t number : numbers) text += std::to_string(number) + ' ';
      const auto place = std::find(records_.begin(), records_.end(), key.second) - records_.begin();
      found[std::to_string(place) + '/' + group] += text + (folded.differs ? "differs" : "agrees");
    }
  return found;
}

void History::step() {
  const std::size_t i = chance_.below(copies_.size());
  jump(*copies_[i]);
  switch (chance_.below(20)) {
    case 0:
    case 1:
    case 2: create(i); break;
    case 3:
    case 4:
    case 5:
    case 6: change_one(i, false); break;
    case 7: change_one(i, true); break;
    case 8: open_form(i); break;
    case 9: strike_or_restore(i); break;
    case 10: write_newer(i); break;
    case 11:
    case 12: deliver_some(i, other(i)); break;
    case 13: deliver_parts(i, other(i)); break;
    case 14:
    case 15: deliver_delta(i, other(i)); break;
    case 16:
    case 17: deliver_all(i, other(i)); break;
    case 18: clone(i); break;
    case 19: aside(i); break;
  }
}

/// Seconds back, an hour on; in mad ones also beyond 2038, and back to 1970.
void History::jump(Copy& copy) {
  const std::size_t kind = clock_chance_.below(20);
  if (clocks_ == Clocks::Fair) return;
  const std::int64_t own = copy.clock % 40;  // What tells it from its clones: a clock goes on by 40.
  if (kind == 0) copy.clock = std::max<std::int64_t>(1000 + own, copy.clock - 1'000'000);
  if (kind == 1) copy.clock += 3'000'000;
  if (clocks_ == Clocks::Mad && kind == 2) copy.clock += 1'000'000'000'000;
  if (clocks_ == Clocks::Mad && kind == 3) copy.clock = 5'000 + own;
}

void History::put(std::size_t i, const std::vector<Save>& saves) {
  const auto written = copies_[i]->book->write(saves, {});
  if (!written) MESSAGE(written.error().word.key, " ", written.error().place, " ", written.error().values.size());
  REQUIRE(written);
  for (const Save& save : saves)
    if (std::find(records_.begin(), records_.end(), save.record) == records_.end()) records_.push_back(save.record);
  note_lines(i);
}

void History::create(std::size_t i) {
  const Book& book = *copies_[i]->book;
  if (!book.is_started()) return;
  std::vector<Save> saves;
  const std::size_t n = chance_.one_in(3) ? 2 + chance_.below(3) : 1;
  for (std::size_t k = 0; k < n; ++k) {
    const Id& farm = farms_[chance_.below(farms_.size())];
    switch (chance_.below(4)) {
      case 0:
        if (!book.kind_of(farm).empty()) {
          saves.push_back(save_of(book, "block", {reference_value("farm", farm), text_field_value("name", word())}));
          break;
        }
        [[fallthrough]];
      case 1:
        saves.push_back(
            save_of(book, "vessel", {text_field_value("name", word()), quantity_value("volume.nominal", amount())}));
        break;
      case 2: saves.push_back(save_of(book, "rig", {text_field_value("name", word())})); break;
      case 3: {  // A rig and something that hangs on it.
        saves.push_back(save_of(book, "rig", {text_field_value("name", word())}));
        const Id rig = saves.back().record;
        saves.push_back(save_of(book, "calibration", {reference_value("rig", rig)}));
        break;
      }
    }
  }
  put(i, saves);
}

std::vector<FieldValue> History::some_fields(const std::string& kind) {
  std::vector<FieldValue> fields;
  if (kind == "calibration") {
    fields.push_back(quantity_value("result.rate", chance_.one_in(2) ? "45 gal/acre" : "90 gal/acre"));
    if (chance_.one_in(2)) fields.push_back(word_value("result.area", "bed-top"));
    return fields;
  }
  if (chance_.one_in(2)) fields.push_back(text_field_value("name", word()));
  if (kind == "vessel" && chance_.one_in(2)) {
    fields.push_back(quantity_value("volume.nominal", amount()));
    fields.push_back(chance_.one_in(2) ? quantity_value("volume.working", amount()) : not_taken("volume.working"));
  }
  if (kind == "rig" && chance_.one_in(2)) fields.push_back(quantity_value("tank.volume", amount()));
  if (kind == "rig" && chance_.one_in(3)) fields.push_back(quantity_value("swath", "30 in"));
  if (chance_.one_in(4)) {  // What was said of other records one by one.
    const std::string other = records_[chance_.below(records_.size())].text();
    fields.push_back(chance_.one_in(4) ? not_taken("not_same") : list_value("not_same", {other}));
  }
  if (fields.empty()) fields.push_back(text_field_value("name", word()));
  return fields;
}

/// A record of this copy, in an order that no clock decides.
std::optional<Record> History::some_record(std::size_t i) {
  if (records_.empty()) return std::nullopt;
  const std::size_t from = chance_.below(records_.size());
  for (std::size_t k = 0; k < records_.size(); ++k) {
    auto record = copies_[i]->book->record(records_[(from + k) % records_.size()]);
    REQUIRE(record);
    if (*record && find_kind((*record)->kind) != nullptr && (*record)->kind != "farm") return **record;
  }
  return std::nullopt;
}

void History::change_one(std::size_t i, bool stale) {
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
    if (copies_[i]->book->kind_of(save.record) != save.kind) return;  // Its file was set aside meanwhile.
  }
  put(i, {save});
}

void History::open_form(std::size_t i) {
  const auto record = some_record(i);
  if (!record) return;
  Save save;
  save.record = record->id;
  save.kind = record->kind;
  save.seen = record->heads();
  forms_[i].push_back(save);
}

/// Do copies differ on whether it, or something that hangs on it, is struck? Then the stand-in is the clocks' choice.
bool History::strike_in_dispute(const Book& book, const Record& record) const {
  const auto disputed = [](const Record& of) {
    return std::any_of(of.groups.begin(), of.groups.end(),
                       [](const Group& group) { return group.key == "struck" && group.differs; });
  };
  return disputed(record) || std::any_of(records_.begin(), records_.end(), [&](const Id& id) {
           const auto child = book.record(id);
           const FieldValue* parent = child && *child ? (*child)->field("rig") : nullptr;
           return parent && parent->text == record.id.text() && disputed(**child);
         });
}

/// By the commands that people use: with every child seen, in one act.
void History::strike_or_restore(std::size_t i) {
  const auto record = some_record(i);
  if (!record || strike_in_dispute(*copies_[i]->book, *record)) return;
  Book& book = *copies_[i]->book;
  const Going going{};
  const auto before = book.change_count();
  if (record->struck.empty())
    REQUIRE(strike(book, record->id, "logged twice", going));
  else
    REQUIRE(restore(book, record->id, chance_.one_in(2), "it was right", going));
  counts_.acts_struck += book.change_count() > before + 1;
  note_lines(i);
}

/// A later version writes: a field unknown here inside a known group and beside it, or a kind unknown here.
void History::write_newer(std::size_t i) {
  const auto record = some_record(i);
  const Book& book = *copies_[i]->book;
  if (!record || !book.is_started()) return;
  newer_.part = Part{};
  Change change;
  if (chance_.one_in(2) && record->part == Part{} && record->kind == "rig") {
    change = newer_.next(record->id, "rig",
                         {quantity_value("tank.volume", amount()), text_field_value("tank.liner", word()),
                          text_field_value("hue", word())},
                         record->heads());
  } else {
    change =
        newer_.next(copies_[i]->book->new_record(), "drone",
                    {text_field_value("name", word()), FieldValue{"shape", static_cast<FieldType>('g'), word(), {}}});
  }
  change.must = chance_.one_in(4);
  std::string body = write_change(change);
  body.insert(body.size() - 1, R"(,"x9":["a",1])");
  newer_.add(body);
  const auto seq = static_cast<std::int64_t>(newer_.bodies.size());
  note_line(
      newer_.id, newer_.part,
      {seq, seq == 1 ? chain_start(newer_.id) : newer_.hashes[newer_.hashes.size() - 2], newer_.hashes.back(), body});
  if (std::find(records_.begin(), records_.end(), change.record) == records_.end()) records_.push_back(change.record);
  HandFile file(book.id());
  file.header.minor = kFormatMinor + 1;
  file.more = {R"({"later":"says more"})"};
  file.lanes = {newer_};
  ++counts_.newer;
  deliver(i, i, {"newer.steepbook.txt", file.text(), ""}, {newer_.hashes.begin(), newer_.hashes.end()});
}

std::string History::amount() {
  static constexpr const char* kAmounts[] = {"1.5 gal", "192 fl oz", "1.50 gal", "2 gal", "8 L"};
  return kAmounts[chance_.below(5)];
}

}  // namespace steep::test
