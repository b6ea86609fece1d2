#include "book/dose_volumes.h"

#include <set>

#include "book/work.h"

namespace steep {

Result<std::map<Id, ShownVolume>> dose_volumes(const Book& book, std::span<const Id> doses) {
  const std::set<Id> wanted(doses.begin(), doses.end());
  std::set<Id> passes;
  Query query = book.db().query("SELECT l.pass FROM k_dose d JOIN k_load l ON l.uid = d.what_load WHERE d.uid = ?");
  for (const Id& dose : wanted) {
    query.bind(1, dose);
    while (query.next()) passes.insert(query.id(0));
    TRY(query.done());
  }
  std::map<Id, ShownVolume> volumes;
  for (const Id& id : passes) {
    const auto pass = read_pass(book, id);
    if (!pass) continue;  // Of another farm's part that is not on this copy.
    TRY_ASSIGN(const std::vector<LoadSheet>& sheets, load_sheets(book, *pass));
    for (const LoadSheet& sheet : sheets)
      for (std::size_t i = 0; i < sheet.doses.size(); ++i)
        if (wanted.count(sheet.doses[i].id) != 0) volumes.emplace(sheet.doses[i].id, sheet.volumes[i]);
  }
  return volumes;
}

}  // namespace steep
