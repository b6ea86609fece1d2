#pragma once
/// The merge scenarios: Alder Reach on Ana's phone and in the office, which meet through real handover
/// files alone: written by `give`, read, planned and applied by `take_in`.

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "book/bed_states.h"
#include "handover/give.h"
#include "handover/take.h"
#include "tests/unit/farm_book.h"

namespace steep::test {

inline File file_of(const Copy& copy, GiveRequest request = {}) { return got(give(*copy.book, request)).file; }
inline std::string lines_of(const Copy& copy, GiveRequest request = {}) {
  request.packing = Packing::Plain;
  return file_of(copy, request).bytes;
}

using TakenIn = Book::TakeIn::Outcome;
inline TakenIn take_file(Copy& to, File file, std::string join = {}) {
  return got(take_in(*to.book, std::move(file), std::move(join)));
}
inline TakenIn hand(const Copy& from, Copy& to, GiveRequest request = {}) {
  return take_file(to, file_of(from, std::move(request)));
}
/// Both ways.
inline void exchange(Copy& a, Copy& b) {
  hand(a, b);
  hand(b, a);
}
inline bool agree(const Copy& a, const Copy& b) {
  return a.book->digest() == b.book->digest() && a.book->change_count() == b.book->change_count();
}

/// The stored bytes of a copy.
inline Hash stored(const Copy& copy) {
  sqlite3_int64 size = 0;
  unsigned char* bytes = sqlite3_serialize(copy.book->db().handle(), "main", &size, 0);
  REQUIRE(bytes != nullptr);
  const Hash hash = sha256(std::string_view(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(size)));
  sqlite3_free(bytes);
  return hash;
}

/// The group of a record, which must be there.
inline Group group_at(const Copy& copy, const Id& record, std::string_view key) {
  const auto found = got(copy.book->record(record));
  REQUIRE(found);
  for (const Group& group : found->groups)
    if (group.key == key) return group;
  MESSAGE("no group ", std::string(key));
  REQUIRE(false);
  return {};
}
inline std::string text_in(const std::vector<FieldValue>& fields, std::string_view key) {
  for (const FieldValue& field : fields)
    if (field.key == key) return field.type == FieldType::NotTaken ? "(not taken)" : field.text;
  return "(not written)";
}
inline std::string struck(const Copy& copy, const Id& record) {
  const auto found = got(copy.book->record(record));
  REQUIRE(found);
  return found->struck;
}
inline Stamp at(std::string_view text) { return *parse_stamp(text); }

/// Ana's phone with the farm, one brew, one pass of it that has ended, one dose; the office has taken all of it.
struct Farm2 {
  FarmBook ana;
  Copy office{"Office", 2};
  Id brew, pass, load, dose;

  explicit Farm2(std::optional<int> wait_days = 1) : ana(wait_days, 4) {
    office.checks = begin_checks;
    office.open();
    brew = ana.brew();
    pass = paper_pass(ana.copy, "7");
    load = got(ana.copy.book->records("load")).back().id;
    dose = paper_dose(ana.copy, load, ana.beds[0], "2026-05-14T17:04:00-04:00", "2026-05-14T17:09:00-04:00");
    hand(ana.copy, office);
  }
  Book& book() { return ana.book(); }

  /// A pass with one load of the brew, entered after the fact.
  Id paper_pass(Copy& copy, std::string number) const {
    const Id made = add(*copy.book, "pass",
                        {reference_value("farm", ana.farm), number_value("number", number), word_value("aim", "leaf"),
                         instant_value("start", at("2026-05-14T17:00:00-04:00")),
                         instant_value("finish", at("2026-05-14T18:00:00-04:00"))});
    add(*copy.book, "load",
        {reference_value("pass", made), number_value("number", "1"), reference_value("mix.brew", brew),
         quantity_value("mix.tea", "0.5 gal"), quantity_value("mix.water", "0.5 gal")});
    return made;
  }
  static std::vector<FieldValue> what(const Id& load, const Id& bed, std::string from, std::string to,
                                      FieldValue volume, std::string_view how) {
    return {reference_value("what.load", load),
            reference_value("what.bed", bed),
            quantity_value("what.from", std::move(from)),
            quantity_value("what.to", std::move(to)),
            quantity_value("what.width", "30 in"),
            std::move(volume),
            word_value("what.how", how)};
  }
  static Id paper_dose(Copy& copy, const Id& load, const Id& bed, std::string_view start, std::string_view finish) {
    std::vector<FieldValue> fields = what(load, bed, "0 ft", "100 ft", not_taken("what.volume"), "done");
    fields.push_back(instant_value("when.start", at(start)));
    fields.push_back(instant_value("when.finish", at(finish)));
    return add(*copy.book, "dose", std::move(fields));
  }
  /// The dose's own volume, measured.
  std::vector<FieldValue> volume(std::string amount) const {
    return what(load, ana.beds[0], "0 ft", "100 ft", quantity_value("what.volume", std::move(amount)), "done");
  }
  std::vector<FieldValue> half() const {
    return what(load, ana.beds[0], "0 ft", "50 ft", not_taken("what.volume"), "part");
  }

  BedStates states(const Copy& copy) const { return got(bed_states(*copy.book, ana.farm, Moment{copy.clock})); }
  /// The end of the harvest wait of bed 1.
  std::optional<Moment> wait_end(const Copy& copy) const { return states(copy).beds[0].harvest.hold.until; }
  bool both_agree() const { return agree(ana.copy, office); }
};

inline void strike_on(Copy& copy, const Id& record, std::string why) {
  edit(*copy.book, record, {text_field_value("struck", std::move(why))});
}

}  // namespace steep::test
