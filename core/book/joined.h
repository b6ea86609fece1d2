#pragma once
/// Records of one kind that people joined with another (`same_as`), and under which of them the one thing is shown.
/// Only core/book includes this.

#include <string_view>
#include <unordered_map>

#include "base/id.h"
#include "base/result.h"

namespace steep {

class Book;

class Joined {
 public:
  static Result<Joined> read(const Book& book, std::string_view kind);
  /// The end of its chain among the records that stand: what was joined with one that is struck or not here is
  /// shown itself. Round a ring (two copies that joined the same two, each the other way) the least id.
  Id shown(const Id& record) const;
  bool hides(const Id& record) const { return shown(record) != record; }

 private:
  std::unordered_map<Id, Id> as_;
};

}  // namespace steep
