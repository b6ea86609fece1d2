#include "book/farm_zones.h"

#include "book/places.h"

namespace steep {

Result<FarmZones> FarmZones::read(const Book& book) {
  TRY_ASSIGN(const std::vector<Farm>& all, farms(book));
  FarmZones zones;
  for (const Farm& farm : all) zones.farms_[farm.id] = farm.zone;
  if (all.size() == 1) zones.house_ = all.front().zone;
  return zones;
}

const Zone& FarmZones::of(const Part& part) const {
  const auto found = farms_.find(part.farm);
  return found == farms_.end() ? house_ : found->second;
}

}  // namespace steep
