#include "book/twins.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "base/sorting.h"
#include "base/text.h"
#include "book/book.h"
#include "book/rows.h"

namespace steep {
namespace {

struct Place {
  Id id, farm, block, same_as;
  std::string name;
  std::string not_same;  // ids, as the table has them
};

Result<std::vector<Place>> read_all_of(const Book& book, std::string_view kind) {
  Rows rows(book, kind, "WHERE struck IS NULL");
  std::vector<Place> all;
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    Place place{
        facts.id, facts.part.farm, {}, facts.same_as, lower(trim(rows.text("name"))), join(rows.list("not_same"), " ")};
    if (kind == "bed") place.block = rows.reference("block");
    // A bed whose time is over may well have given its name to another.
    if (kind != "bed" || !rows.date("valid.to")) all.push_back(std::move(place));
  }
  TRY(rows.done());
  return all;
}

bool said_two(const Place& a, const Place& b) {
  return a.not_same.find(b.id.text()) != std::string::npos || b.not_same.find(a.id.text()) != std::string::npos;
}
bool said_one(const Place& a, const Place& b) { return a.same_as == b.id || b.same_as == a.id; }

}  // namespace

Result<std::vector<TwinBeds>> twin_beds(const Book& book) {
  std::vector<TwinBeds> twins;
  TRY_ASSIGN(const std::vector<Place>& farms, read_all_of(book, "farm"));
  if (farms.size() < 2) return twins;
  const bool two_starts = book.joined().size() > 1;
  std::map<Id, Place> farm_of, block_of;
  for (const Place& farm : farms) farm_of[farm.id] = farm;
  TRY_ASSIGN(const std::vector<Place>& blocks, read_all_of(book, "block"));
  for (const Place& block : blocks) block_of[block.id] = block;
  TRY_ASSIGN(const std::vector<Place>& beds, read_all_of(book, "bed"));

  std::map<std::pair<std::string, std::string>, std::vector<const Place*>> by_name;
  for (const Place& bed : beds)
    if (const auto block = block_of.find(bed.block); block != block_of.end())
      by_name[{block->second.name, bed.name}].push_back(&bed);
  const auto add = [&](const Place& a, const Place& b, bool said) {
    const Place &first = a.id < b.id ? a : b, &second = a.id < b.id ? b : a;
    twins.push_back({first.id, second.id, first.block, second.block, said});
  };
  for (const auto& [name, alike] : by_name)
    for (std::size_t j = 1; j < alike.size(); ++j)
      for (std::size_t i = 0; i < j; ++i) {
        const Place &a = *alike[i], &b = *alike[j];
        if (a.farm == b.farm || said_one(a, b) || said_two(a, b)) continue;
        const auto farm_a = farm_of.find(a.farm), farm_b = farm_of.find(b.farm);
        if (farm_a == farm_of.end() || farm_b == farm_of.end() || said_two(farm_a->second, farm_b->second)) continue;
        if (said_two(block_of[a.block], block_of[b.block])) continue;
        if (two_starts || farm_a->second.name == farm_b->second.name || said_one(farm_a->second, farm_b->second))
          add(a, b, false);
      }
  // Joined by a person, whatever they are called.
  std::map<Id, const Place*> bed_of;
  for (const Place& bed : beds) bed_of[bed.id] = &bed;
  for (const Place& bed : beds)
    if (const auto other = bed_of.find(bed.same_as); other != bed_of.end() && other->second->farm != bed.farm)
      add(bed, *other->second, true);
  sort_list(twins,
            [](const TwinBeds& a, const TwinBeds& b) { return std::tie(a.bed, a.other) < std::tie(b.bed, b.other); });
  twins.erase(std::unique(twins.begin(), twins.end(),
                          [](const TwinBeds& a, const TwinBeds& b) { return a.bed == b.bed && a.other == b.other; }),
              twins.end());
  return twins;
}

}  // namespace steep
