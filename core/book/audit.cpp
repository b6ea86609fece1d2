#include "book/audit.h"

#include <algorithm>
#include <map>

#include "base/sorting.h"
#include "base/text.h"
#include "book/codes.h"
#include "book/farm_zones.h"
#include "book/things.h"

namespace steep {
namespace {

const FieldValue* field_in(const Change& change, std::string_view key) {
  for (const FieldValue& field : change.fields)
    if (field.key == key) return &field;
  return nullptr;
}

/// Names of records as people say them, each looked up once.
class SaidNames {
 public:
  static Result<SaidNames> read(const Book& book) {
    TRY_ASSIGN(Codes codes, Codes::read(book));
    return SaidNames(book, std::move(codes));
  }
  const std::string& of(const Id& id) {
    const auto found = names_.find(id);
    if (found != names_.end()) return found->second;
    const std::string kind = book_->kind_of(id);
    const bool coded = kind == "brew" || kind == "pass";
    return names_.emplace(id, coded ? codes_.text(id) : record_name(*book_, id)).first->second;
  }

 private:
  SaidNames(const Book& book, Codes codes) : book_(&book), codes_(std::move(codes)) {}
  const Book* book_;
  Codes codes_;
  std::map<Id, std::string> names_;
};

/// Of the record where the text is an id; else as it stands.
std::string named(const std::string& text, SaidNames& names) {
  const auto id = Id::parse(text);
  const std::string name = id ? names.of(*id) : std::string();
  return name.empty() ? text : name;
}

/// On the farm's clock, whichever the writing copy was set to.
std::string plain_time(const std::string& text, const Zone& zone) {
  const auto stamp = parse_stamp(text);
  return stamp ? stamp_text(zone.stamp(stamp->at)) : text;
}

std::string plain_value(const FieldValue& value, SaidNames& names, const Zone& zone) {
  if (value.type == FieldType::NotTaken) return "not taken";
  if (value.type == FieldType::Reference) return named(value.text, names);
  if (value.type == FieldType::Instant) return plain_time(value.text, zone);
  if (value.type != FieldType::List) return value.text;
  std::vector<std::string> items;
  for (const std::string& item : value.items) items.push_back(named(item, names));
  return join(items, ", ");
}

TableCell cell(std::string text) {
  const CellState state = text.empty() ? CellState::Empty : CellState::Value;
  return {std::move(text), state};
}

constexpr struct {
  std::string_view name;
  CellKind kind;
} kColumns[] = {{"when", CellKind::Time},       {"by", CellKind::Text},   {"copy", CellKind::Text},
                {"kind", CellKind::Text},       {"name", CellKind::Text}, {"field", CellKind::Text},
                {"before", CellKind::Text},     {"now", CellKind::Text},  {"why", CellKind::Text},
                {"state", CellKind::Text},      {"record", CellKind::Id}, {"lane", CellKind::Id},
                {"sequence", CellKind::Number}, {"hash", CellKind::Id}};

/// 'waits', 'set aside', 'clock doubtful': what a reader of the row has to know.
std::string state_of(const HistoryLine& line) {
  std::vector<std::string> state;
  if (!line.ready) state.push_back("waits");
  if (line.aside) state.push_back("set aside");
  if (line.clock_doubtful) state.push_back("clock doubtful");
  return join(state, ", ");
}

struct AuditRow {
  std::int64_t wall = 0;
  Id lane;
  std::int64_t seq = 0;
  TableRow row;
};

void add_rows(const RecordChange& change, const Id& record, SaidNames& names, const Zone& zone,
              std::vector<AuditRow>& rows) {
  const Change& line = change.line.change;
  const Stamp written = zone.stamp(Moment{line.wall});
  for (const FieldChange& field : change.fields) {
    std::vector<std::string> before;
    for (const FieldValue& old : field.before) before.push_back(plain_value(old, names, zone));
    AuditRow row{line.wall, line.lane, line.seq, {}};
    row.row.record = record;
    for (std::string text :
         {stamp_text(written), names.of(line.person), change.line.copy, line.kind, names.of(record), field.now.key,
          join(before, " | "), plain_value(field.now, names, zone), line.why, state_of(change.line), record.text(),
          line.lane.text(), std::to_string(line.seq), hex(change.line.hash)})
      row.row.cells.push_back(cell(std::move(text)));
    rows.push_back(std::move(row));
  }
}

/// What the author of `change` saw of the group: of the lines seen those that write it and that no other of these replaces. (A line
/// stays a head for its other groups long after this one of it was rewritten.)
std::vector<std::size_t> stood_there(const std::vector<HistoryLine>& lines, const std::map<ChangeRef, std::size_t>& at,
                                     const Change& change, std::string_view group) {
  std::vector<std::size_t> found;
  for (const ChangeRef& ref : change.seen) {
    const auto seen = at.find(ref);
    if (seen == at.end()) continue;
    const auto& fields = lines[seen->second].change.fields;
    if (std::any_of(fields.begin(), fields.end(), [&](const FieldValue& f) { return group_of(f.key) == group; }))
      found.push_back(seen->second);
  }
  std::vector<std::size_t> standing;
  for (const std::size_t one : found) {
    const bool replaced = std::any_of(found.begin(), found.end(), [&](std::size_t other) {
      const auto& seen = lines[other].change.seen;
      return std::find(seen.begin(), seen.end(), lines[one].ref) != seen.end();
    });
    if (!replaced) standing.push_back(one);
  }
  return standing;
}

/// Of this kind by its lines? For one of which no change counts: it waits, or its file is set aside.
Result<bool> is_written_as(const Book& book, const Id& record, const std::string& kind) {
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(record));
  return std::any_of(lines.begin(), lines.end(), [&](const HistoryLine& line) { return line.change.kind == kind; });
}

/// All records, those too of which no change counts.
Result<std::vector<Id>> wanted_records(const Book& book, const AuditOptions& options) {
  if (options.record) return std::vector<Id>{*options.record};
  Query query = book.db().query(
      "SELECT uid, max(kind IS ?1 OR ?1 = '') FROM record WHERE ?1 = '' OR kind = ?1 OR kind IS NULL "
      "GROUP BY uid ORDER BY uid");
  query.bind(1, options.kind);
  std::vector<Id> records, unknown;
  while (query.next()) (query.integer(1) != 0 ? records : unknown).push_back(query.id(0));
  TRY(query.done());
  for (const Id& record : unknown) {
    TRY_ASSIGN(const bool wanted, is_written_as(book, record, options.kind));
    if (wanted) records.push_back(record);
  }
  if (options.farm)
    std::erase_if(records, [&](const Id& record) {
      const auto part = book.part_of(record);
      return part && !part->farm.is_nil() && part->farm != *options.farm;
    });
  return records;
}

}  // namespace

Result<std::vector<RecordChange>> changes_of(const Book& book, const Id& record) {
  TRY_ASSIGN(std::vector<HistoryLine> lines, book.history(record));
  std::map<ChangeRef, std::size_t> at;
  for (std::size_t i = 0; i < lines.size(); ++i) at[lines[i].ref] = i;
  std::vector<RecordChange> changes(lines.size());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Change& change = lines[i].change;
    changes[i].creates = change.seen.empty();
    for (const FieldValue& now : change.fields) {
      FieldChange field{now, {}};
      for (const std::size_t seen : stood_there(lines, at, change, group_of(now.key))) {
        const FieldValue* old = field_in(lines[seen].change, now.key);
        if (old && std::find(field.before.begin(), field.before.end(), *old) == field.before.end())
          field.before.push_back(*old);
      }
      changes[i].fields.push_back(std::move(field));
    }
  }
  for (std::size_t i = 0; i < lines.size(); ++i) changes[i].line = std::move(lines[i]);
  return changes;
}

Result<Table> audit_table(const Book& book, const AuditOptions& options) {
  if (!options.kind.empty() && !find_kind(options.kind))
    return refuse(Trouble::BadInput, "table.no-kind"_w, {options.kind});
  TRY(days_in_order(options.from, options.to));
  const Snapshot snapshot = book.snapshot();
  Table table;
  table.kind = "history";
  for (const auto& column : kColumns) table.columns.push_back({std::string(column.name), column.kind, {}, {}});
  TRY_ASSIGN(SaidNames names, SaidNames::read(book));
  TRY_ASSIGN(const std::vector<Id>& records, wanted_records(book, options));
  TRY_ASSIGN(const FarmZones& zones, FarmZones::read(book));
  std::vector<AuditRow> rows;
  for (const Id& record : records) {
    const Zone& zone = zones.of(book.part_of(record).value_or(Part{}));
    TRY_ASSIGN(const std::vector<RecordChange>& changes, changes_of(book, record));
    for (const RecordChange& change : changes) {
      const Change& line = change.line.change;
      const Date day = zone.local(Moment{line.wall}).date;
      if ((options.from && day < *options.from) || (options.to && *options.to < day)) continue;
      add_rows(change, record, names, zone, rows);
    }
  }
  sort_list(rows, [](const AuditRow& a, const AuditRow& b) {
    return std::tie(a.wall, a.lane, a.seq) < std::tie(b.wall, b.lane, b.seq);
  });
  for (AuditRow& row : rows) table.rows.push_back(std::move(row.row));
  return table;
}

}  // namespace steep
