#pragma once
/// Codes that people say: 'Brew 31', 'Pass 12 m4t', harvest codes. Ids decide; a code is only a name.
///
/// Numbers are counted per copy. The copy that used a number of the kind first writes them bare; every
/// other copy's carry 3 characters of the copy. Two records with one code are both shown and marked.

#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "book/book.h"
#include "book/places.h"

namespace steep {

struct Code {
  int number = 0;            ///< 0 = none was given.
  std::string copy;          ///< 'm4t'; empty where it stands bare.
  bool collides = false;     ///< Another record of the kind has the same code.
  std::string text() const;  ///< '31', '12 m4t', '31 ≠' for one that collides; '?' without a number.
};

/// All codes of brews and passes. Read once and kept by the book until one of them changes; copies share what was read.
class Codes {
 public:
  static Result<Codes> read(const Book& book);
  Code of(const Id& record) const;
  std::string text(const Id& record) const { return of(record).text(); }
  /// By what a person types: '31', 'brew 31', 'Pass 12 m4t'. Trouble: NotFound; Ask when several fit.
  Result<Id> find(std::string_view kind, std::string_view typed) const;
  /// The number that this copy gives next.
  int next(std::string_view kind) const;

 private:
  struct Entry {
    std::string kind;
    Code code;
    bool mine = false;
  };
  struct Known {
    std::map<Id, Entry> entries;
    std::map<std::string, int, std::less<>> next;
  };
  static Result<Known> know(const Book& book);
  std::shared_ptr<const Known> known_;
};

/// Fills the farm's pattern: {farm} {bed} {day} (of the year, 1–366) {date} {crop} {copy} {n}. A pattern
/// without {copy} gets it at its end. `same` = how many harvests already have this code here: from 1 on '-2' …
std::string harvest_code(const Farm& farm, const Bed& bed, std::string_view crop, Date day, std::string_view copy,
                         int same);
/// The next harvest code of this copy for a bed on a day.
Result<std::string> next_harvest_code(const Book& book, const Farm& farm, const Bed& bed, std::string_view crop,
                                      Date day);

}  // namespace steep
