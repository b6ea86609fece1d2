#pragma once
/// A strike that crossed with work elsewhere: struck on one copy and edited on another, struck as the same work as an entry that
/// does not stand either, or a child that came after its parent was struck. What each did, what counts meanwhile, and the two ways to end it.

#include <string>
#include <vector>

#include "screens/page.h"

namespace steep {

struct DecideView {
  Id record;
  enum class Crossing { Edited, GivenUp, LateChild } crossing = Crossing::Edited;
  std::string title, second;
  struct Part {
    std::string head, by, text;  ///< 'Struck', 'Thu 6:10 pm · Ana · Office', 'Struck: logged twice'
    bool operator==(const Part&) const = default;
  };
  std::vector<Part> parts;
  std::string meanwhile;  ///< What counts until it is decided.
  std::string reason_label, why_not;
  std::string ends[2], end_whys[2];  ///< It stays struck (it never happened, strike it too) / it counts (it stays).
  std::string later, nothing;        ///< `nothing`: there is nothing to decide any more.
  bool operator==(const DecideView&) const = default;
};

struct DecideInput : PageInput {
  std::string reason;
  bool operator==(const DecideInput&) const = default;
};

Result<DecideView> decide_view(const Surroundings& around, const DecideInput& input);
std::optional<Ask> draw_decide(const DecideView& view, DecideInput& input, const Furniture& furniture);

}  // namespace steep
