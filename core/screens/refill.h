#pragma once
/// Refilling within a pass: where it ran dry, how the load closes, what the next one is made of.

#include <optional>
#include <string>
#include <vector>

#include "book/pass_commands.h"
#include "look/numbers.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"

namespace steep {

struct RefillView {
  Id pass, bed;
  std::string title, second;
  // Where it ran dry.
  std::string question, number, left_text, right_text, zero, here, end, spoken;
  float at = 0;
  bool from_far_end = false, has_bed = false;
  std::string at_value, at_unit, at_spoken, proposed;
  Written at_now, bed_length;
  // What the next load covers.
  std::string covers_label, covers, stays, covers_spoken;
  std::vector<std::pair<std::string, float>> slabs;
  float sump_share = 0;
  // How this one closes.
  std::string closes, closes_note;
  struct Line {
    std::string words, number, unit;
    bool total = false;
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> ledger;
  std::string left_label, left_value, left_unit, left_spoken;
  Written left_now;
  // By the rate it is far from dry: is it?
  std::string dry_question, dry, not_dry;
  int dry_chosen = -1;  ///< 0 dry, 1 not.
  // The next one.
  std::string next, brew, tea_label, water_label, tea_value, tea_unit, water_value, water_unit, tea_spoken,
      water_spoken, sum;
  std::optional<Written> tea_now, water_now;
  bool has_tea = true;
  std::string fill_up, go, problem, missing;
  std::optional<Written> full_tea, full_water;
  std::string brews_title;
  struct Brew {
    std::string key, first, second;
    bool chosen = false;
    bool operator==(const Brew&) const = default;
  };
  std::vector<Brew> brews;
  RefillRequest request;
  UnitsShown units;
  bool keep_awake = true;
  bool operator==(const RefillView& other) const {
    return title == other.title && ledger == other.ledger && sum == other.sum;
  }
};

struct RefillInput : PageInput {
  DraftFields form;  ///< 'at', 'left', 'dry' = 'yes' or 'no', 'tea', 'water', 'brew'
  AmountTyping typing;
  bool brews_open = false;
  bool operator==(const RefillInput&) const = default;
};
DraftFields draft_fields(const RefillInput& input);
void from_draft(RefillInput& input, const DraftFields& fields);

Result<RefillView> refill_view(const Surroundings& around, const RefillInput& input);
std::optional<Ask> draw_refill(const RefillView& view, RefillInput& input, const Furniture& furniture);

}  // namespace steep
