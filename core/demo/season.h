#pragma once
/// Brews and passes of the demo, told once each and played through the book's commands.

#include <string>
#include <string_view>
#include <vector>

#include "demo/story.h"

namespace steep {

/// A brew from compost in the water to the vessel washed out.
struct BrewTold {
  std::string name;  ///< In Story::ids.
  Moment met_water;
  bool turns_sour = false;     ///< Power cut in the night; not used, poured away.
  bool still_running = false;  ///< The last one: air on, nothing loaded yet.
  bool misses_a_reading = false;
};
void tell_brew(const BrewTold& told, std::vector<Deed>& deeds);
/// Air off shortly before `pass_start`, the rest poured away and the vessel washed after `pass_end`.
void finish_brew(const std::string& name, Moment pass_start, Moment pass_end, std::vector<Deed>& deeds);

/// What happens to one bed beside being done.
enum class OnBed { Done, SkippedWet, NearHalf, UndoneOnce, WrittenTwice };
struct PassTold {
  Moment start;
  std::string who;   ///< 'ana' or 'marek'
  std::string rig;   ///< 'backpack 1'
  std::string brew;  ///< Empty = products in water.
  std::vector<std::string> beds;
  std::vector<std::pair<std::string, OnBed>> special;
  std::string lot, amount;  ///< A product beside or instead of tea.
  bool inside = false;      ///< In the tunnel: no wind.
};
Result<void> play_pass(Story& story, const PassTold& told);

}  // namespace steep
