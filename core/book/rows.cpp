#include "book/rows.h"

#include <cassert>
#include <map>

#include "base/text.h"
#include "book/wide.h"

namespace steep {
namespace {

/// Columns that stand before the fields.
constexpr std::string_view kFront =
    "uid,part,made_ms,made_offset,made_by,(SELECT l.uid FROM lane l WHERE l.id = lane),differs,not_taken";
constexpr int kFrontColumns = 8;

}  // namespace

struct Rows::Column {
  std::string_view key;
  int at = 0, number = 0, si = 0, offset = 0;  // 0 = the field has no such column
};

struct Rows::Layout {
  std::string select;           // SELECT … FROM k_… , without its tail
  std::vector<Column> columns;  // of each field its first column
};

std::vector<std::string> key_set(std::string_view text) {
  std::vector<std::string> keys;
  for (const std::string_view piece : split(text, ' '))
    if (!piece.empty()) keys.emplace_back(piece);
  return keys;
}

const Rows::Layout& Rows::layout(const KindDef& kind) {
  static std::map<std::string_view, Layout> layouts;
  const auto found = layouts.find(kind.name);
  if (found != layouts.end()) return found->second;
  Layout layout;
  layout.select = "SELECT " + std::string(kFront);
  int at = kFrontColumns;
  const auto add = [&](const FieldDef& field) {
    // Quoted: a field may be called like a word of SQL ('of', 'on', 'to').
    const std::string name = wide_column(field.key);
    const auto next = [&](std::string_view ending) {
      layout.select += ",\"" + name + std::string(ending) + '"';
      return at++;
    };
    Column column{field.key, next({})};
    if (field.types.find('n') != std::string_view::npos) column.number = next("_n");
    if (field.types.find('q') != std::string_view::npos) column.si = next("_si");
    if (field.types.find('i') != std::string_view::npos) column.offset = next("_offset");
    layout.columns.push_back(column);
  };
  for (const FieldDef& field : common_fields()) add(field);
  for (const FieldDef& field : kind.fields) add(field);
  layout.select += " FROM " + wide_name(kind.name) + ' ';
  return layouts.emplace(kind.name, std::move(layout)).first->second;
}

Rows::Rows(const Book& book, std::string_view kind, std::string_view tail)
    : layout_([&] {
        const KindDef* def = find_kind(kind);
        assert(def);
        return &layout(*def);
      }()),
      query_(book.db().query(layout_->select + std::string(tail))) {}

const Rows::Column& Rows::find(std::string_view key) const {
  for (const Column& column : layout_->columns)
    if (column.key == key) return column;
  assert(!"a field that the kind lacks");
  return layout_->columns.front();
}

int Rows::column(std::string_view key) const { return find(key).at; }

void Rows::facts(RecordFacts& into) const {
  into.id = query_.id(0);
  if (const auto part = Part::parse(query_.text_view(1))) into.part = *part;
  into.made = {{query_.integer(2)}, static_cast<int>(query_.integer(3))};
  into.made_by = query_.id(4);
  into.lane = query_.id(5);
  into.differs = key_set(query_.text_view(6));
  into.struck = text("struck");
  into.late_at = instant("late.at");
  into.late_from = text("late.from");
  into.same_as = reference("same_as");
}

bool Rows::is_not_taken(std::string_view key) const {
  const std::string_view set = query_.text_view(7);
  if (set.empty()) return false;
  const std::string wanted = ' ' + std::string(key) + ' ';
  return set.find(wanted) != std::string_view::npos;
}

Taken<std::string> Rows::taken_text(std::string_view key) const {
  const int at = column(key);
  return query_.is_null(at) ? absent<std::string>(key) : Taken<std::string>(query_.text(at));
}

Taken<bool> Rows::yes_no(std::string_view key) const {
  const int at = column(key);
  return query_.is_null(at) ? absent<bool>(key) : Taken<bool>(query_.integer(at) != 0);
}

Taken<double> Rows::number(std::string_view key) const {
  const auto value = query_.maybe_real(find(key).number);
  return value ? Taken<double>(*value) : absent<double>(key);
}

Taken<Stamp> Rows::instant(std::string_view key) const {
  const Column& column = find(key);
  if (query_.is_null(column.at)) return absent<Stamp>(key);
  return Stamp{{query_.integer(column.at)}, static_cast<int>(query_.integer(column.offset))};
}

std::vector<std::string> Rows::list(std::string_view key) const {
  std::vector<std::string> items;
  const int at = column(key);
  if (query_.is_null(at) || query_.text_view(at).empty()) return items;
  for (const std::string_view item : split(query_.text_view(at), '\x1f')) items.emplace_back(item);
  return items;
}

std::vector<Id> Rows::ids(std::string_view key) const {
  std::vector<Id> found;
  const int at = column(key);
  if (query_.is_null(at)) return found;
  for (const std::string_view item : split(query_.text_view(at), '\x1f'))
    if (const auto id = Id::parse(item)) found.push_back(*id);
  return found;
}

Taken<Written> Rows::written(std::string_view key) const {
  const int at = column(key);
  if (query_.is_null(at)) return absent<Written>(key);
  const auto read = parse_written(query_.text_view(at));
  return read ? Taken<Written>(*read) : Taken<Written>();
}

Taken<double> Rows::si(std::string_view key) const {
  const auto value = query_.maybe_real(find(key).si);
  return value ? Taken<double>(*value) : absent<double>(key);
}

}  // namespace steep
