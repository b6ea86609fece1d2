#include "book/codes.h"

#include <utility>

#include <algorithm>

#include "base/sorting.h"
#include "base/text.h"
#include "book/called.h"
#include "book/rows.h"

namespace steep {
namespace {

constexpr std::string_view kKept = "codes";
constexpr std::string_view kCoded[] = {"brew", "pass"};

struct CopyOfLane {
  Id copy;  // its house lane, as far as known
  bool mine = false;
};

/// By row of the lane.
std::map<std::int64_t, CopyOfLane> copies_of_lanes(const Book& book) {
  std::map<std::int64_t, CopyOfLane> copies;
  for (const Lane& lane : book.lanes()) {
    const Id copy = lane.mine ? book.copy() : lane.copy.is_nil() ? lane.id : lane.copy;
    copies[lane.row] = {copy, lane.mine};
  }
  return copies;
}

struct Numbered {
  Id record, copy;
  int number = 0;
  std::int64_t made = 0, counter = 0;  // hybrid clock of its first change
  bool mine = false;
};

}  // namespace

std::string Code::text() const {
  if (number == 0) return "?";
  std::string text = std::to_string(number);
  if (!copy.empty()) text += ' ' + copy;
  if (collides) text += " ≠";
  return text;
}

Result<Codes> Codes::read(const Book& book) {
  Codes codes;
  codes.known_ = std::static_pointer_cast<const Known>(book.kept(kKept));
  if (codes.known_) return codes;
  TRY_ASSIGN(Known known, know(book));
  codes.known_ = std::make_shared<const Known>(std::move(known));
  book.keep(kKept, kCoded, codes.known_);
  return codes;
}

Result<Codes::Known> Codes::know(const Book& book) {
  Known known;
  const auto copies = copies_of_lanes(book);
  for (const std::string_view kind : kCoded) {
    std::vector<Numbered> all;
    Query query = book.db().query("SELECT k.uid, k.number_n, k.lane, c.t, c.c FROM " + wide_name(kind) +
                                  " k JOIN record r ON r.id = k.rec LEFT JOIN change c ON c.id = r.first");
    while (query.next()) {
      const auto lane = copies.find(query.integer(2));
      const CopyOfLane copy = lane == copies.end() ? CopyOfLane{} : lane->second;
      all.push_back({query.id(0), copy.copy, static_cast<int>(query.maybe_real(1).value_or(0)), query.integer(3),
                     query.integer(4), copy.mine});
    }
    TRY(query.done());
    // The copy that used a number first writes it bare. By the hybrid clock, which never runs behind what its
    // writer had seen, then by id: the same on every copy.
    sort_list(all, [](const Numbered& a, const Numbered& b) {
      if (a.made != b.made) return a.made < b.made;
      return a.counter != b.counter ? a.counter < b.counter : a.record < b.record;
    });
    Id first;
    for (const Numbered& one : all)
      if (one.number > 0 && first.is_nil()) first = one.copy;
    std::map<std::string, int> used;
    int greatest = 0;
    for (const Numbered& one : all) {
      Entry entry;
      entry.kind = std::string(kind);
      entry.code.number = one.number;
      if (one.copy != first) entry.code.copy = short_code(one.copy);
      entry.mine = one.mine;
      if (entry.mine) greatest = std::max(greatest, one.number);
      if (one.number > 0) ++used[entry.code.text()];
      known.entries[one.record] = std::move(entry);
    }
    for (const Numbered& one : all) {
      Code& code = known.entries[one.record].code;
      code.collides = one.number > 0 && used[code.text()] > 1;
    }
    known.next[std::string(kind)] = greatest + 1;
  }
  return known;
}

Code Codes::of(const Id& record) const {
  const auto found = known_->entries.find(record);
  return found == known_->entries.end() ? Code{} : found->second.code;
}

Result<Id> Codes::find(std::string_view kind, std::string_view typed) const {
  std::string wanted = lower(trim(typed));
  if (wanted.rfind(lower(kind), 0) == 0) wanted = std::string(trim(std::string_view(wanted).substr(kind.size())));
  std::vector<Id> exact, by_number;
  for (const auto& [id, entry] : known_->entries) {
    if (entry.kind != kind || entry.code.number == 0) continue;
    Code plain = entry.code;
    plain.collides = false;
    if (plain.text() + ' ' + id_end(id) == wanted) return id;
    if (plain.text() == wanted) exact.push_back(id);
    if (std::to_string(plain.number) == wanted) by_number.push_back(id);
  }
  // A bare number means the bare code; only where none has it, another copy's with that number.
  const std::vector<Id>& found = exact.empty() ? by_number : exact;
  if (found.size() == 1) return found.front();
  if (found.empty()) return refuse(Trouble::NotFound, "code.not-found"_w, {kind, typed});
  std::vector<std::string> values{std::string(typed)};
  for (const Id& id : found) {
    Code code = of(id);
    const bool collides = std::exchange(code.collides, false);
    values.push_back(collides ? code.text() + ' ' + id_end(id) : code.text());
  }
  return refuse(Trouble::Ask, "code.several"_w, values);
}

int Codes::next(std::string_view kind) const {
  const auto found = known_->next.find(kind);
  return found == known_->next.end() ? 1 : found->second;
}

std::string harvest_code(const Farm& farm, const Bed& bed, std::string_view crop, Date day, std::string_view copy,
                         int same) {
  std::string pattern = farm.harvest_pattern;
  if (pattern.find("{copy}") == std::string::npos) pattern += "-{copy}";
  const auto put = [&](std::string_view name, const std::string& value) {
    for (auto at = pattern.find(name); at != std::string::npos; at = pattern.find(name, at + value.size()))
      pattern.replace(at, name.size(), value);
  };
  const auto short_day = day_number(day) - day_number({day.year, 1, 1}) + 1;
  put("{farm}", farm.name);
  put("{bed}", bed.name);
  put("{crop}", std::string(crop));
  put("{date}", date_text(day));
  put("{day}", std::to_string(short_day));
  put("{copy}", std::string(copy));
  const bool numbered = pattern.find("{n}") != std::string::npos;
  put("{n}", std::to_string(same + 1));
  if (!numbered && same > 0) pattern += '-' + std::to_string(same + 1);
  return pattern;
}

Result<std::string> next_harvest_code(const Book& book, const Farm& farm, const Bed& bed, std::string_view crop,
                                      Date day) {
  const Id copy = book.copy();
  Query query = book.db().query("SELECT 1 FROM k_harvest WHERE code = ?");
  for (int same = 0;; ++same) {
    const std::string code = harvest_code(farm, bed, crop, day, copy.is_nil() ? "new" : short_code(copy), same);
    query.bind(1, code);
    const bool taken = query.next();
    TRY(query.done());
    if (!taken) return code;
  }
}

}  // namespace steep
