#pragma once
/// One record whose copies differ: a card for each fact, all versions whole, and the choice between them.

#include <string>
#include <vector>

#include "screens/page.h"

namespace steep {

struct SettleView {
  Id record;
  std::string title, second, same_head, reason_label, go, later, why_not;
  struct Version {
    std::string whose, value, detail;
    bool operator==(const Version&) const = default;
  };
  struct FactShown {
    std::string group, fact, hangs, other;
    std::vector<Version> versions;
    bool operator==(const FactShown&) const = default;
  };
  std::vector<FactShown> facts;
  std::vector<std::pair<std::string, std::string>> same;  ///< What is equal on all copies.
  std::string nothing;                 ///< Nothing differs any more.
  bool operator==(const SettleView&) const = default;
};

struct SettleInput : PageInput {
  std::vector<int> chosen;             ///< One for each fact; −1 = later.
  std::vector<std::string> typed;      ///< 'name=value, …' of another value.
  std::string reason;
  bool operator==(const SettleInput&) const = default;
};

Result<SettleView> settle_of(const Surroundings& around, const Id& record);
Result<SettleView> settle_view(const Surroundings& around, const SettleInput& input);
std::optional<Ask> draw_settle(const SettleView& view, SettleInput& input, const Furniture& furniture);

/// The cards and what stands below them; shared with the desktop's merge screen.
void draw_settle_cards(Pen& pen, const SettleView& view, SettleInput& input);
std::optional<Ask> draw_settle_buttons(Pen& pen, const SettleView& view, SettleInput& input);
/// '12 gal spray, load 2, 0–50 ft': the values of a fact in one line.
std::string fact_text(const std::vector<FieldValue>& fields, const Surroundings& around);

}  // namespace steep
