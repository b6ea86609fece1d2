#pragma once
/// Reading one kind's wide table, row by row, into typed values. Only core/book includes this.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/facts.h"
#include "book/kinds.h"
#include "book/sql.h"
#include "book/taken.h"
#include "book/wide.h"
#include "quantity/quantities.h"
#include "quantity/written.h"

namespace steep {

/// A cursor over a kind's table. Fields are asked for by their key; a key that the kind lacks is our
/// own mistake (assert).
///
///   Rows rows(book, "dose", "WHERE what_bed = ? ORDER BY when_finish");
///   rows.query().bind(1, bed);
///   while (rows.next()) …
///   TRY(rows.done());
class Rows {
 public:
  Rows(const Book& book, std::string_view kind, std::string_view tail = {});

  Query& query() { return query_; }
  bool next() { return query_.next(); }
  Result<void> done() { return query_.done(); }

  Id id() const { return query_.id(0); }
  void facts(RecordFacts& into) const;

  Id reference(std::string_view key) const { return query_.id(column(key)); }
  std::string text(std::string_view key) const { return query_.text(column(key)); }
  Taken<std::string> taken_text(std::string_view key) const;
  Taken<bool> yes_no(std::string_view key) const;
  Taken<double> number(std::string_view key) const;
  Taken<Stamp> instant(std::string_view key) const;
  std::optional<Date> date(std::string_view key) const { return parse_date(query_.text_view(column(key))); }
  std::vector<std::string> list(std::string_view key) const;
  std::vector<Id> ids(std::string_view key) const;
  /// As typed; also what no reader of this program could read is there as never asked.
  Taken<Written> written(std::string_view key) const;
  /// The SI value of a quantity.
  Taken<double> si(std::string_view key) const;
  template <class Q>
  Taken<Q> quantity(std::string_view key) const {
    const Taken<double> value = si(key);
    if (value.is_not_taken()) return Taken<Q>::not_taken();
    if (!value) return {};
    return Q::from_si(*value);
  }

 private:
  struct Column;
  struct Layout;
  static const Layout& layout(const KindDef& kind);
  const Column& find(std::string_view key) const;
  int column(std::string_view key) const;
  template <class T>
  Taken<T> absent(std::string_view key) const {
    return is_not_taken(key) ? Taken<T>::not_taken() : Taken<T>();
  }
  bool is_not_taken(std::string_view key) const;

  const Layout* layout_;
  Query query_;
};

/// ' a b ' as the tables keep sets of keys.
std::vector<std::string> key_set(std::string_view text);

/// All rows of a query made into records by `read(rows, record)`.
template <class T, class Read>
Result<std::vector<T>> read_all(Rows& rows, Read read) {
  std::vector<T> all;
  while (rows.next()) {
    T record;
    rows.facts(record);
    read(rows, record);
    all.push_back(std::move(record));
  }
  TRY(rows.done());
  return all;
}

/// The row of one record, made by `read(rows, record)`. Trouble: NotFound  `not_here`, whose value is the kind.
template <class T, class Read>
Result<T> read_one(const Book& book, std::string_view kind, const Id& id, WordId not_here, Read read) {
  Rows rows(book, kind, "WHERE uid = ?");
  rows.query().bind(1, id);
  T record;
  if (!rows.next()) {
    TRY(rows.done());
    return refuse(Trouble::NotFound, not_here, {kind});
  }
  rows.facts(record);
  read(rows, record);
  TRY(rows.done());
  return record;
}

}  // namespace steep
