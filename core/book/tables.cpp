#include "book/tables.h"

#include <algorithm>
#include <map>

#include "base/sorting.h"
#include "base/text.h"
#include "book/codes.h"
#include "book/dose_columns.h"
#include "book/farm_zones.h"
#include "book/places.h"
#include "book/rows.h"
#include "book/spelled.h"
#include "book/things.h"

namespace steep {
namespace {

std::string_view si_unit(std::optional<Dimension> dimension) {
  if (!dimension) return kEachItsUnit;
  switch (*dimension) {
    case Dimension::Length: return "m";
    case Dimension::Area: return "m2";
    case Dimension::Volume: return "m3";
    case Dimension::Mass: return "kg";
    case Dimension::Time: return "s";
    case Dimension::Temperature:
    case Dimension::TemperatureDifference: return "K";
    case Dimension::Pressure: return "Pa";
    case Dimension::Speed: return "m/s";
    case Dimension::Flow: return "m3/s";
    case Dimension::VolumePerArea: return "m3/m2";
    case Dimension::MassPerArea: return "kg/m2";
    case Dimension::MassPerVolume: return "kg/m3";
    case Dimension::VolumePerVolume: return "m3/m3";
    case Dimension::FlowPerVolume: return "1/s";
    case Dimension::Conductivity: return "S/m";
    default: return "1";
  }
}

/// Last words that say nothing without their group: 'to' of what, 'by' whom?
constexpr std::string_view kSayNothingAlone[] = {"from", "to",  "by",   "how",   "word", "why",
                                                 "at",   "way", "date", "paper", "state"};

/// 'what.load' is called 'load' where no other field of the kind has that last word.
std::string short_name(const KindDef& kind, std::string_view key) {
  const auto dot = key.find('.');
  if (dot == std::string_view::npos) return std::string(key);
  const std::string_view last = key.substr(dot + 1);
  if (std::find(std::begin(kSayNothingAlone), std::end(kSayNothingAlone), last) != std::end(kSayNothingAlone))
    return std::string(key);
  int same = 0;
  const auto count = [&](std::span<const FieldDef> fields) {
    for (const FieldDef& field : fields) {
      const std::string_view other = field.key;
      same += other == last ||
              (other.size() > last.size() && other.substr(other.size() - last.size() - 1) == '.' + std::string(last));
    }
  };
  count(kind.fields);
  count(common_fields());
  return same > 1 ? std::string(key) : std::string(last);
}

bool takes(const FieldDef& field, char letter) { return field.types.find(letter) != std::string_view::npos; }

/// Names of records, read as they are asked for.
class NameCache {
 public:
  explicit NameCache(const Book& book) : book_(book) {}
  const std::string& of(const Id& id) {
    const auto found = names_.find(id);
    if (found != names_.end()) return found->second;
    return names_.emplace(id, record_name(book_, id)).first->second;
  }

 private:
  const Book& book_;
  std::map<Id, std::string> names_;
};

/// One column of the table beside where its value comes from.
struct Source {
  enum From { IdOf, CodeOf, Field, Si, SiUnit, NameOf, Made, MadeBy, Copy, Struck, Differs } from = Field;
  const FieldDef* def = nullptr;
};

void add_columns(const KindDef& kind, const TableOptions& options, Table& table, std::vector<Source>& sources) {
  const auto add = [&](std::string name, CellKind cell, Source source, std::string unit = {}, std::string field = {}) {
    table.columns.push_back({std::move(name), cell, std::move(unit), std::move(field)});
    sources.push_back(source);
  };
  add("id", CellKind::Id, {Source::IdOf});
  if (kind.name == "brew" || kind.name == "pass") add("code", CellKind::Text, {Source::CodeOf});
  const auto add_field = [&](const FieldDef& field) {
    const std::string name = short_name(kind, field.key), key(field.key);
    CellKind cell = CellKind::Text;
    if (takes(field, 'n') && field.types.size() == 1) cell = CellKind::Number;
    if (takes(field, 'd')) cell = CellKind::Date;
    if (takes(field, 'i')) cell = CellKind::Time;
    if (takes(field, 'r')) cell = CellKind::Id;
    if (takes(field, 'r') && options.names) add(name, CellKind::Text, {Source::NameOf, &field}, {}, key);
    add(takes(field, 'r') && options.names ? name + "_id" : name, cell, {Source::Field, &field}, {}, key);
    if (takes(field, 'q') && options.si_columns)
      add(name + "_si", CellKind::Number, {Source::Si, &field}, std::string(si_unit(field.dimension)), key);
    if (takes(field, 'q') && options.si_columns && !field.dimension)
      add(name + "_si_unit", CellKind::Text, {Source::SiUnit, &field}, std::string(kEachItsUnit), key);
  };
  for (const FieldDef& field : kind.fields) add_field(field);
  for (const FieldDef& field : common_fields())
    if (field.key == "late.at" || field.key == "late.from") add_field(field);
  add("made", CellKind::Time, {Source::Made});
  add("made_by", CellKind::Text, {Source::MadeBy});
  add("copy", CellKind::Text, {Source::Copy});
  add("struck", CellKind::Text, {Source::Struck});
  add("differs", CellKind::Text, {Source::Differs});
}

/// Key of the time by which a kind is asked for.
std::string_view time_key(const KindDef& kind) {
  for (const std::string_view key : {"when.finish", "start", "at", "met_water", "filled"})
    if (const FieldDef* field = find_field(kind, key); field && takes(*field, 'i')) return key;
  return {};
}

TableCell value_cell(std::string text) {
  const CellState state = text.empty() ? CellState::Empty : CellState::Value;
  return {std::move(text), state};
}

template <class T, class Text>
TableCell taken_cell(const Taken<T>& value, Text text) {
  if (value.is_not_taken()) return {{}, CellState::NotTaken};
  return value ? value_cell(text(*value)) : TableCell{};
}

/// What the cells of a table are read with.
struct TableReading {
  const Book& book;
  const TableOptions& options;
  Codes codes;
  FarmZones zones;
  std::map<Id, std::string> copies;  ///< Label of each lane's copy.
  NameCache names;
};

Result<TableReading> begin_reading(const Book& book, const TableOptions& options) {
  TRY_ASSIGN(Codes codes, Codes::read(book));
  TRY_ASSIGN(FarmZones zones, FarmZones::read(book));
  TableReading reading{book, options, std::move(codes), std::move(zones), {}, NameCache(book)};
  for (const Lane& lane : book.lanes()) reading.copies[lane.id] = lane.mine ? book.copy_label() : lane.label;
  return reading;
}

/// 'Not taken' or empty, where no record is named.
TableCell no_record_cell(const Rows& rows, std::string_view key) {
  return taken_cell(rows.taken_text(key), [](const std::string&) { return std::string(); });
}

TableCell name_cell(const Rows& rows, std::string_view key, TableReading& reading) {
  const Id id = rows.reference(key);
  if (id.is_nil()) return no_record_cell(rows, key);
  const std::string kind = reading.book.kind_of(id);
  return value_cell(kind == "brew" || kind == "pass" ? reading.codes.text(id) : reading.names.of(id));
}

TableCell list_cell(const Rows& rows, std::string_view key, TableReading& reading) {
  std::vector<std::string> items = rows.list(key);
  if (reading.options.names)
    for (std::string& item : items)
      if (const auto id = Id::parse(item))
        if (const std::string& name = reading.names.of(*id); !name.empty()) item = name;
  return value_cell(join(items, ", "));
}

TableCell field_cell(const Rows& rows, const FieldDef& def, const Zone& zone, TableReading& reading) {
  if (takes(def, 'i'))
    return taken_cell(rows.instant(def.key), [&](Stamp stamp) { return stamp_text(zone.stamp(stamp.at)); });
  if (takes(def, 'b'))
    return taken_cell(rows.yes_no(def.key), [](bool yes) { return std::string(yes ? "yes" : "no"); });
  if (takes(def, 'l')) return list_cell(rows, def.key, reading);
  if (!takes(def, 'r')) return taken_cell(rows.taken_text(def.key), [](const std::string& text) { return text; });
  const Id id = rows.reference(def.key);
  return id.is_nil() ? no_record_cell(rows, def.key) : value_cell(id.text());
}

TableCell cell_of(const Source& source, const Rows& rows, const RecordFacts& facts, TableReading& reading) {
  const Zone& zone = reading.zones.of(facts.part);
  switch (source.from) {
    case Source::IdOf: return value_cell(facts.id.text());
    case Source::CodeOf: return value_cell(reading.codes.text(facts.id));
    case Source::Made: return value_cell(stamp_text(zone.stamp(facts.made.at)));
    case Source::MadeBy: return value_cell(reading.names.of(facts.made_by));
    case Source::Copy: return value_cell(reading.copies[facts.lane]);
    case Source::Struck: return value_cell(facts.struck);
    case Source::Differs: return value_cell(join(facts.differs, " "));
    case Source::Si: return taken_cell(rows.si(source.def->key), [](double si) { return decimal(si, 12); });
    case Source::SiUnit: {
      const Taken<Written> written = rows.written(source.def->key);
      return value_cell(written ? std::string(si_unit(written->dimension())) : std::string());
    }
    case Source::NameOf: return name_cell(rows, source.def->key, reading);
    case Source::Field: return field_cell(rows, *source.def, zone, reading);
  }
  return {};
}

}  // namespace

Result<void> days_in_order(std::optional<Date> from, std::optional<Date> to) {
  if (!from || !to || *from <= *to) return {};
  return refuse(Trouble::BadInput, "table.days"_w, {date_value_text(*from), date_value_text(*to)});
}

bool is_of_a_time(std::string_view kind_name) {
  const KindDef* kind = find_kind(kind_name);
  return kind && !time_key(*kind).empty();
}

Result<Table> table_of(const Book& book, std::string_view kind_name, const TableOptions& options) {
  const KindDef* kind = find_kind(kind_name);
  if (!kind) return refuse(Trouble::BadInput, "table.no-kind"_w, {kind_name});
  TRY(days_in_order(options.from, options.to));
  Table table;
  table.kind = std::string(kind_name);
  std::vector<Source> sources;
  add_columns(*kind, options, table, sources);
  TRY_ASSIGN(TableReading reading, begin_reading(book, options));
  const std::string_view when = time_key(*kind);

  Rows rows(book, kind_name, "ORDER BY rec");
  struct Sorted {
    std::int64_t at;
    TableRow row;
  };
  std::vector<Sorted> found;
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    if (options.farm && !facts.part.farm.is_nil() && facts.part.farm != *options.farm) continue;
    if (!options.struck && facts.is_struck()) continue;
    Moment at = facts.made.at;
    if (!when.empty())
      if (const Taken<Stamp> stamp = rows.instant(when)) at = stamp->at;
    const Date day = reading.zones.of(facts.part).local(at).date;
    if ((options.from && day < *options.from) || (options.to && day > *options.to)) continue;

    TableRow row;
    row.record = facts.id;
    row.struck = facts.is_struck();
    row.differs = !facts.differs.empty();
    for (const Source& source : sources) row.cells.push_back(cell_of(source, rows, facts, reading));
    found.push_back({at.ms, std::move(row)});
  }
  TRY(rows.done());
  if (!when.empty()) sort_list(found, [](const Sorted& a, const Sorted& b) { return a.at < b.at; });
  for (Sorted& one : found) table.rows.push_back(std::move(one.row));
  if (kind_name == "dose") TRY(add_dose_columns(book, table));
  return table;
}

namespace {

/// With its block where another block of the farm has a bed of that name: 'B1' and 'B1' cannot be told apart.
std::string bed_name(const Book& book, const Id& bed) {
  Query query = book.db().query(
      "SELECT b.name, o.name, EXISTS(SELECT 1 FROM k_bed t JOIN k_block tb ON tb.uid = t.block WHERE t.part = b.part "
      "AND t.uid <> b.uid AND lower(t.name) = lower(b.name) AND t.struck IS NULL AND t.same_as IS NULL AND t.uid IS "
      "NOT b.same_as AND lower(tb.name) <> lower(o.name)) FROM k_bed b LEFT JOIN k_block o ON o.uid = b.block WHERE "
      "b.uid = ?");
  query.bind(1, bed);
  std::string name;
  if (query.next()) name = query.integer(2) != 0 ? query.text(1) + ' ' + query.text(0) : query.text(0);
  (void)query.done();
  return name;
}

}  // namespace

std::string record_name(const Book& book, const Id& record) {
  if (record.is_nil()) return {};
  const std::string kind = book.kind_of(record);
  if (kind.empty()) return {};
  if (kind == "brew" || kind == "pass") {
    const auto codes = Codes::read(book);
    return codes ? codes->text(record) : std::string();
  }
  if (kind == "bed") return bed_name(book, record);
  if (kind == "lot") {
    const auto found = read_lot(book, record);
    return found ? found->name() : std::string();
  }
  const auto text = [&](const std::string& sql) {
    Query query = book.db().query(sql);
    query.bind(1, record);
    std::string found;
    if (query.next()) found = query.text(0);
    (void)query.done();
    return found;
  };
  if (kind == "photo") return text("SELECT COALESCE(caption, file_name) FROM k_photo WHERE uid = ?");
  if (kind == "harvest") return text("SELECT code FROM k_harvest WHERE uid = ?");
  if (kind == "planting") return text("SELECT crop FROM k_planting WHERE uid = ?");
  if (kind == "calibration")
    return text("SELECT r.name FROM k_calibration c JOIN k_rig r ON r.uid = c.rig WHERE c.uid = ?");
  if (kind == "load") {
    Query query = book.db().query("SELECT pass, number FROM k_load WHERE uid = ?");
    query.bind(1, record);
    if (!query.next()) return {};
    const Id pass = query.id(0);
    const std::string number = query.is_null(1) ? "?" : query.text(1);
    (void)query.done();
    const auto codes = Codes::read(book);
    return (codes ? codes->text(pass) : std::string()) + " / " + number;
  }
  if (kind == "dose") {
    Query query = book.db().query("SELECT what_bed FROM k_dose WHERE uid = ?");
    query.bind(1, record);
    const Id bed = query.next() ? query.id(0) : Id{};
    (void)query.done();
    return record_name(book, bed);
  }
  const KindDef* def = find_kind(kind);
  if (def && find_field(*def, "name")) return text("SELECT name FROM " + wide_name(kind) + " WHERE uid = ?");
  return {};
}

}  // namespace steep
