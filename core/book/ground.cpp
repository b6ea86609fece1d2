#include "book/ground.h"

#include <algorithm>

namespace steep {
namespace {

/// A bed made of a bed made of a bed …; deeper chains than this are a slip in the records.
constexpr int kDeepest = 16;

}  // namespace

Ground::Ground(const Places& places) {
  struct Step {
    const Bed* bed;
    GroundPlace place;
    int depth;
  };
  std::vector<Step> open;
  for (std::size_t i = 0; i < places.beds.size(); ++i) open.push_back({&places.beds[i], {i, true, {}, {}}, 0});
  for (const Bed& other : places.others)
    for (const auto& [hidden, shown] : places.joined)
      if (hidden == other.id)
        for (std::size_t i = 0; i < places.beds.size(); ++i)
          if (places.beds[i].id == shown) open.push_back({&other, {i, true, {}, {}}, 0});
  for (const auto& [there, here] : places.twins)
    for (std::size_t i = 0; i < places.beds.size(); ++i)
      if (places.beds[i].id == here) places_[there].push_back({i, true, {}, {}});
  while (!open.empty()) {
    const Step step = open.back();
    open.pop_back();
    places_[step.bed->id].push_back(step.place);
    if (step.depth >= kDeepest) continue;
    for (const GroundPiece& piece : step.bed->origin) {
      Stretch source = piece.from;
      const Length shift = piece.at - piece.from.from;
      if (!step.place.whole) {
        // Only what of the piece lies in the stretch that came along.
        source.from = std::max(source.from, step.place.source.from - shift);
        source.to = std::min(source.to, step.place.source.to - shift);
        if (source.to <= source.from) continue;
      }
      for (const Bed& other : places.others)
        if (other.id == piece.bed)
          open.push_back({&other, {step.place.bed, false, source, shift + step.place.shift}, step.depth + 1});
    }
  }
}

const std::vector<GroundPlace>& Ground::places_of(const Id& bed) const {
  static const std::vector<GroundPlace> kNowhere;
  const auto found = places_.find(bed);
  return found == places_.end() ? kNowhere : found->second;
}

Stretch Ground::moved(const GroundPlace& place, Stretch stretch) {
  if (!place.whole) {
    stretch.from = std::max(stretch.from, place.source.from);
    stretch.to = std::min(stretch.to, place.source.to);
    if (stretch.to <= stretch.from) return {};
  }
  return {stretch.from + place.shift, stretch.to + place.shift};
}

}  // namespace steep
