#include "book/wide.h"

#include <algorithm>
#include <array>
#include <unordered_map>

namespace steep {
namespace {

/// Fields by which records are looked for, beside the required references.
constexpr std::array<std::string_view, 5> kSearched = {"mix.brew", "amount.lot", "same_as", "code", "start"};
/// Fields whose absence is looked for: a pass without a finish is open.
constexpr std::array<std::string_view, 1> kMissed = {"finish"};

std::string underscored(std::string_view text) {
  std::string out(text);
  std::replace_if(
      out.begin(), out.end(), [](char c) { return c == '-' || c == '.'; }, '_');
  return out;
}

std::string quoted(std::string_view column) { return '"' + std::string(column) + '"'; }

/// Gathers columns while a table is planned.
struct Plan {
  WideTable table;
  std::string definitions, names, places;

  int column(const std::string& name, std::string_view type) {
    const std::string comma = table.columns == 0 ? "" : ", ";
    definitions += comma + quoted(name) + ' ' + std::string(type);
    names += comma + quoted(name);
    places += table.columns == 0 ? "?" : ",?";
    return ++table.columns;
  }

  void field(const FieldDef& def) {
    WideField field;
    field.def = &def;
    field.column = underscored(def.key);
    const auto takes = [&](char letter) { return def.types.find(letter) != std::string_view::npos; };
    if (takes('b')) {
      field.form = WideField::YesNo;
      field.place = column(field.column, "INTEGER");
    } else if (takes('r')) {
      field.form = WideField::Reference;
      field.place = column(field.column, "BLOB");
      if (def.required) index(field.column);
    } else if (takes('i')) {
      field.form = WideField::Instant;
      field.place = column(field.column, "INTEGER");
      column(field.column + "_offset", "INTEGER");
    } else {
      field.form = takes('l') ? WideField::List : WideField::Text;
      field.place = column(field.column, "TEXT");
      if (takes('n')) field.number = column(field.column + "_n", "REAL");
      if (takes('q')) field.si = column(field.column + "_si", "REAL");
    }
    if (std::find(kSearched.begin(), kSearched.end(), def.key) != kSearched.end())
      index(field.column, " WHERE " + quoted(field.column) + " IS NOT NULL");  // Most have none.
    if (std::find(kMissed.begin(), kMissed.end(), def.key) != kMissed.end()) index(field.column);
    table.fields.push_back(std::move(field));
  }

  void index(const std::string& name, const std::string& where = {}) {
    table.create +=
        "CREATE INDEX " + table.name + "_by_" + name + " ON " + table.name + "(" + quoted(name) + ")" + where + ";";
  }
};

WideTable plan(const KindDef& kind) {
  Plan plan;
  plan.table.kind = &kind;
  plan.table.name = wide_name(kind.name);
  plan.column("rec", "INTEGER PRIMARY KEY");
  plan.column("uid", "BLOB NOT NULL");
  plan.column("part", "TEXT NOT NULL");
  plan.column("made_ms", "INTEGER NOT NULL");
  plan.column("made_offset", "INTEGER NOT NULL");
  plan.column("made_by", "BLOB");
  plan.column("lane", "INTEGER NOT NULL");
  plan.column("struck", "TEXT");
  plan.column("differs", "TEXT");
  plan.column("not_taken", "TEXT");
  plan.column("needs_newer", "INTEGER NOT NULL");
  for (const FieldDef& def : kind.fields) plan.field(def);
  for (const FieldDef& def : common_fields())
    if (def.key != "struck") plan.field(def);
  WideTable& table = plan.table;
  table.create = "CREATE TABLE " + table.name + "(" + plan.definitions + ");CREATE INDEX " + table.name + "_uid ON " +
                 table.name + "(uid);" + table.create;
  const std::string row = " INTO " + table.name + "(" + plan.names + ") VALUES(" + plan.places + ")";
  table.insert = "INSERT" + row;
  table.put = "INSERT OR REPLACE" + row;
  table.drop_row = "DELETE FROM " + table.name + " WHERE rec=?";
  table.state = "SELECT struck IS NOT NULL, differs IS NOT NULL FROM " + table.name + " WHERE rec=?";
  return std::move(table);
}

}  // namespace

std::string wide_name(std::string_view kind) { return "k_" + underscored(kind); }
std::string wide_column(std::string_view key) { return underscored(key); }

const WideField* WideTable::field(std::string_view key) const {
  for (const WideField& field : fields)
    if (field.def->key == key) return &field;
  return nullptr;
}

std::span<const WideTable> wide_tables() {
  static const std::vector<WideTable> tables = [] {
    std::vector<WideTable> made;
    for (const KindDef& kind : kinds()) made.push_back(plan(kind));
    return made;
  }();
  return tables;
}

const WideTable* wide_table(std::string_view kind) {
  static const std::unordered_map<std::string_view, const WideTable*> by_kind = [] {
    std::unordered_map<std::string_view, const WideTable*> made;
    for (const WideTable& table : wide_tables()) made.emplace(table.kind->name, &table);
    return made;
  }();
  const auto found = by_kind.find(kind);
  return found == by_kind.end() ? nullptr : found->second;
}

}  // namespace steep
