#include "book/book_file.h"

#include <sqlite3.h>
#include <algorithm>
#include <cstring>
#include <memory>

#include "base/text.h"

namespace steep {
namespace {

/// Opens bytes as a database that lives in memory and cannot touch anything else.
Result<Database> in_memory(std::string_view bytes) {
  TRY_ASSIGN(Database db, Database::open(":memory:", ""));
  const auto size = static_cast<sqlite3_int64>(bytes.size());
  auto* copy =
      static_cast<unsigned char*>(sqlite3_malloc64(static_cast<sqlite3_uint64>(std::max<sqlite3_int64>(size, 1))));
  if (!copy) return refuse(Trouble::System, "take.memory"_w);
  std::memcpy(copy, bytes.data(), bytes.size());
  // A file copied while in write-ahead mode says so in its header; in memory there is no log to read.
  if (size > 19) copy[18] = copy[19] = 1;
  if (sqlite3_deserialize(db.handle(), "main", copy, size, size,
                          SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_READONLY) != SQLITE_OK)
    return refuse(Trouble::Damaged, "take.damaged"_w, {"1"}, db.trouble());
  TRY(db.run("PRAGMA trusted_schema=OFF; PRAGMA cell_size_check=ON; PRAGMA query_only=ON"));
  return db;
}

/// Are `change`, `lane`, `part` and `book` plain tables here, not views or virtual ones?
Result<void> check_schema(const Database& db) {
  auto query = db.query(
      "SELECT count(*) FROM sqlite_schema WHERE type='table' AND name IN ('book','change','lane','part')"
      " AND sql LIKE 'CREATE TABLE %'");
  const std::int64_t tables = query.next() ? query.integer(0) : 0;
  if (!query.done()) return refuse(Trouble::Damaged, "take.damaged"_w, {"1"}, db.trouble());
  if (tables != 4) return refuse(Trouble::BadInput, "take.foreign"_w);
  return {};
}

/// Does the line say of itself what its row says, and does its hash follow from the one before?
bool is_sound(const Lane& lane, const Book::Line& line) {
  if (line.body.size() > kMaxLine || chain_next(line.prev, line.body) != line.hash) return false;
  const auto change = read_change(line.body);
  if (!change || change->lane != lane.id || change->seq != line.seq) return false;
  if (line.seq == 1) return change->part == lane.part && line.prev == chain_start(lane.id);
  return true;
}

/// Without them a file of a joined start would seem to be of another business.
void read_joined(const Database& db, BookFile& file) {
  auto table =
      db.query("SELECT count(*) FROM sqlite_schema WHERE type='table' AND name='joined' AND sql LIKE 'CREATE TABLE %'");
  if (!table.next() || table.integer(0) != 1) return;
  auto query = db.query("SELECT id FROM joined WHERE id<>?1 ORDER BY id LIMIT 100");
  query.bind(1, file.book);
  while (query.next())
    if (const Id id = query.id(0); !id.is_nil()) file.joined.push_back(id);
}

Result<void> read_lanes(const Database& db, BookFile& file) {
  auto query = db.query("SELECT l.uid, p.text, l.label, l.copy FROM lane l JOIN part p ON p.id=l.part ORDER BY l.id");
  while (query.next()) {
    const auto part = Part::parse(query.text_view(1));
    BookFile::Section section;
    section.lane.id = query.id(0);
    section.lane.label = printable(query.text(2));
    section.lane.copy = query.id(3);
    if (!part || section.lane.id.is_nil()) continue;
    section.lane.part = *part;
    file.lanes.push_back(std::move(section));
  }
  if (!query.done()) file.dropped.push_back("lane: " + db.trouble());
  return {};
}

void read_lines(const Database& db, BookFile& file) {
  for (BookFile::Section& section : file.lanes) {
    auto query = db.query(
        "SELECT c.seq, c.prev, c.hash, c.body FROM change c JOIN lane l ON l.id=c.lane WHERE l.uid=?1 ORDER BY c.seq, "
        "c.hash");
    query.bind(1, section.lane.id);
    while (query.next()) {
      Book::Line line;
      line.seq = query.integer(0);
      line.prev = query.hash(1);
      line.hash = query.hash(2);
      line.body = query.text(3);
      if (is_sound(section.lane, line))
        section.lines.push_back(std::move(line));
      else
        file.dropped.push_back(short_code(section.lane.id) + " " + std::to_string(line.seq));
    }
    if (!query.done()) file.dropped.push_back(short_code(section.lane.id) + ": " + db.trouble());
    if (!section.lines.empty()) {
      section.lane.last_seq = section.lines.back().seq;
      section.lane.tip = section.lines.back().hash;
    }
  }
  std::erase_if(file.lanes, [](const BookFile::Section& section) { return section.lines.empty(); });
}

}  // namespace

Result<BookFile> read_book_file(std::string_view bytes) {
  TRY_ASSIGN(const Database& db, in_memory(bytes));
  TRY(check_schema(db));
  BookFile file;
  {
    auto query = db.query("SELECT id, name, demo FROM book");
    if (query.next()) {
      file.book = query.id(0);
      file.name = printable(query.text(1));
      file.demo = query.integer(2) != 0;
    }
    if (!query.done()) return refuse(Trouble::Damaged, "take.damaged"_w, {"1"}, db.trouble());
  }
  read_joined(db, file);
  TRY(read_lanes(db, file));
  read_lines(db, file);
  if (file.lanes.empty()) return refuse(Trouble::Damaged, "take.nothing_sound"_w);
  return file;
}

Result<std::string> bytes_of_book(const std::string& path) {
  TRY_ASSIGN(const Database db, Database::open(path, "", true));
  sqlite3_int64 size = 0;
  const std::unique_ptr<unsigned char, decltype(&sqlite3_free)> bytes(sqlite3_serialize(db.handle(), "main", &size, 0),
                                                                      &sqlite3_free);
  if (!bytes) return refuse(Trouble::Damaged, "take.log"_w, {path}, db.trouble());
  return std::string(reinterpret_cast<const char*>(bytes.get()), static_cast<std::size_t>(size));
}

Result<void> copy_book(const std::string& from, const std::string& to) {
  TRY_ASSIGN(const Database& db, Database::open(from, ""));
  auto query = db.query("VACUUM INTO ?1");
  query.bind(1, std::string_view(to));
  return query.run();
}

}  // namespace steep
