#pragma once
/// What is not settled, and every reading of it: the ground on which waits stand.
///
/// A wait never uses a stand-in value. For each record with heads in conflict, with changes that wait
/// for earlier ones but can be read, or struck while somebody else edited it, this gives every value
/// that a field may have, so that the most cautious can govern until a person settles.

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"

namespace steep {

class Doubts {
 public:
  /// Reads all records in doubt; the cost goes with their number, not with the book's.
  static Result<Doubts> read(const Book& book);

  bool empty() const { return records_.empty(); }
  bool has(const Id& record) const { return records_.count(record) != 0; }
  /// Every distinct value that heads and readable waiting changes give the field (taken back = NotTaken).
  /// Empty when the record is not in doubt: its row is the only reading.
  std::vector<FieldValue> readings(const Id& record, std::string_view key) const;
  /// All whole versions of a group: heads first, then waiting ones.
  std::vector<std::vector<FieldValue>> versions(const Id& record, std::string_view group) const;
  /// Of a dose: all finishes that people give it; none where one of them gives none, for then nobody knows it.
  std::vector<Moment> finishes(const Id& dose) const;
  /// Struck, but somebody edited it without having seen that, or people disagree about the strike, or what it was given up
  /// for does not stand either (given_up.h): counts.
  bool counts_although_struck(const Id& record) const;
  /// Known only from changes that wait: of this kind, in no table yet.
  std::vector<Id> only_waiting(std::string_view kind) const;
  std::string kind_of(const Id& record) const;
  const std::map<Id, std::string>& records() const { return kinds_; }

 private:
  struct InDoubt {
    std::map<std::string, std::vector<std::vector<FieldValue>>, std::less<>> groups;
    bool struck_in_doubt = false, only_waiting = false;
  };
  std::map<Id, InDoubt> records_;
  std::map<Id, std::string> kinds_;
};

}  // namespace steep
