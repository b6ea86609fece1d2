#include "book/leave_demo.h"

#include "book/store.h"

namespace steep {
namespace {

Result<bool> is_demo(const Database& db) {
  auto query = db.query("SELECT demo FROM book");
  const bool demo = query.next() && query.integer(0) != 0;
  TRY(query.done());
  return demo;
}

}  // namespace

Result<void> leave_demo(const BookPlace& place) {
  TRY_ASSIGN(const Database& db, Database::open(place.path, place.vfs));
  TRY(lay_out(db, place.write_ahead));
  TRY_ASSIGN(auto transaction, Transaction::begin(db));
  TRY_ASSIGN(const bool demo, is_demo(db));
  if (!demo) return refuse(Trouble::Conflict, "demo.is_real"_w);
  std::vector<std::string> tables;
  auto query = db.query("SELECT name FROM sqlite_schema WHERE type='table' AND name NOT GLOB 'sqlite_*'");
  while (query.next()) tables.push_back(query.text(0));
  TRY(query.done());
  for (const std::string& table : tables) TRY(db.run("DROP TABLE \"" + table + "\""));
  return transaction.commit();
}

}  // namespace steep
