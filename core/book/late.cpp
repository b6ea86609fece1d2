#include "book/late.h"

#include "book/wide.h"

namespace steep {
namespace {

Result<bool> is_struck_here(const Book& book, const Id& record) {
  const WideTable* table = wide_table(book.kind_of(record));
  if (table == nullptr) return false;
  Query query = book.db().query("SELECT 1 FROM " + table->name + " WHERE uid = ? AND struck IS NOT NULL");
  query.bind(1, record);
  const bool struck = query.next();
  TRY(query.done());
  return struck;
}

/// Children here that stand and of which nobody said that they do although the parent is struck.
Result<void> add_standing(const Book& book, const StrikesSaid& said, const Id& parent,
                          std::vector<std::pair<Id, Id>>& late) {
  for (const WideTable& table : wide_tables()) {
    if (table.kind->rule != PartRule::OfParent) continue;
    Query query = book.db().query("SELECT uid, settled FROM " + table.name + " WHERE \"" +
                                  table.field(table.kind->parent)->column + "\" = ? AND struck IS NULL");
    query.bind(1, parent);
    while (query.next()) {
      const auto changed = said.struck.find(query.id(0));
      const bool struck = changed != said.struck.end() && changed->second;
      if (!struck && query.text(1).find(parent.text()) == std::string::npos) late.emplace_back(query.id(0), parent);
    }
    TRY(query.done());
  }
  return {};
}

}  // namespace

Result<std::vector<std::pair<Id, Id>>> would_come_late(const Book& book, const StrikesSaid& said) {
  std::vector<std::pair<Id, Id>> late;
  for (const auto& [record, struck] : said.struck) {
    if (!struck || book.kind_of(record).empty()) continue;
    TRY_ASSIGN(const bool already, is_struck_here(book, record));
    if (!already) TRY(add_standing(book, said, record, late));
  }
  for (const auto& [child, parent] : said.new_children) {
    if (const auto own = said.struck.find(child); own != said.struck.end() && own->second) continue;
    const auto changed = said.struck.find(parent);
    bool struck = changed != said.struck.end() && changed->second;
    if (changed == said.struck.end()) {
      TRY_ASSIGN(struck, is_struck_here(book, parent));
    }
    if (struck) late.emplace_back(child, parent);
  }
  return late;
}

}  // namespace steep
