#include "book/ground.h"

namespace steep {

Ground::Ground(const Places& places) {
  for (std::size_t i = 0; i < places.beds.size(); ++i)
    for (GroundSource& source : places.same.sources(places.beds[i].id)) {
      const Id bed = source.bed;
      // Of a bed that still lies there under its own name nothing was taken.
      if (!source.whole && places.index.count(bed) != 0 && places.bed(bed)->id == bed) continue;
      std::vector<GroundPlace>& of = places_[bed];
      if (of.empty() && places.any_bed(bed) == nullptr) elsewhere_.push_back(bed);
      of.push_back({i, std::move(source)});
    }
}

const std::vector<GroundPlace>& Ground::places_of(const Id& bed) const {
  static const std::vector<GroundPlace> kNowhere;
  const auto found = places_.find(bed);
  return found == places_.end() ? kNowhere : found->second;
}

}  // namespace steep
