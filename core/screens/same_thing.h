#pragma once
/// Two records of one kind and name, or the blocks of two starts with beds of equal names: one thing, or two?

#include <string>
#include <vector>

#include "screens/page.h"

namespace steep {

struct SameThingView {
  Id record, other;
  bool ground = false;  ///< Blocks of two starts: their beds are joined with them.
  std::string title, second;
  struct Side {
    std::string head, by;
    std::vector<std::pair<std::string, std::string>> facts;  ///< Name, value; only what the two say differently.
    bool operator==(const Side&) const = default;
  };
  Side sides[2];
  std::string same_head;
  std::vector<std::pair<std::string, std::string>> same;  ///< What both say.
  std::string meanwhile;
  std::string one, one_why, two, two_why, later;
  bool operator==(const SameThingView&) const = default;
};

struct SameThingInput : PageInput {
  bool operator==(const SameThingInput&) const = default;
};

Result<SameThingView> same_thing_view(const Surroundings& around, const SameThingInput& input);
std::optional<Ask> draw_same_thing(const SameThingView& view, SameThingInput& input, const Furniture& furniture);

}  // namespace steep
