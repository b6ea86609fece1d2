#pragma once
/// The first screen: the brews that run, the next pass, the beds that are due.

#include <optional>
#include <string>
#include <vector>

#include "book/today.h"
#include "screens/brew_figure.h"
#include "screens/page.h"
#include "screens/strip_of_bed.h"

namespace steep {

struct TodayView {
  std::string title, second;
  std::string demo, leave_demo;  ///< 'Demo farm: invented …' and the way out of it; empty for a real book.
  struct BrewCard {
    Id brew;
    std::string head, vessel, spoken;
    BrewFigure figure;
    std::string reading, reading_detail;  ///< 'Oxygen 6.9 mg/L' / '11:40 am'
    bool reading_due = false;             ///< Nothing was read yet, or the last is under the farm's floor.
    std::string add;
    bool operator==(const BrewCard&) const = default;
  };
  std::vector<BrewCard> brews;

  struct PassCard {
    std::string head, note;  ///< 'Next pass · North · 2 loads' / 'wind 4 mph SW'
    std::string beds_number, beds_word, spray_number, spray_word;
    std::string detail, button, button_spoken;
    bool late = false;            ///< Planned for a time that is over.
    std::optional<Id> open_pass;  ///< Go on with it instead of starting one.
    Id plan;                      ///< The plan that it is; nil = none.
    std::string open_plan;        ///< 'Open the plan'
    bool operator==(const PassCard&) const = default;
  };
  std::optional<PassCard> pass;

  /// Planned brews, and passes not for now.
  struct PlanCard {
    Id plan;
    bool is_brew = false;
    std::string head, note, number, word, detail, button, spoken;
    bool late = false;       ///< Its time is over, and nobody said what became of it.
    std::string water;       ///< 'stand water from Thu 2:00 pm'; empty = nothing has to stand.
    bool water_due = false;  ///< It should stand already.
    bool operator==(const PlanCard&) const = default;
  };
  std::vector<PlanCard> planned;
  std::string plan_brew;  ///< 'Plan a brew'

  /// 'Ana asks you: lot K-19'; leads to where it is settled.
  struct AskCard {
    Id record;
    std::string head, text;
    bool operator==(const AskCard&) const = default;
  };
  std::vector<AskCard> asks;
  std::string questions, questions_detail;  ///< '1 question to settle'; empty = none.
  std::string due_head, all_beds;
  std::vector<StripOfBed> due;
  std::string nothing, nothing_why, nothing_button;  ///< Empty state; first empty = there is something.
  bool operator==(const TodayView&) const = default;
};
struct TodayInput : PageInput {
  bool operator==(const TodayInput&) const = default;
};

Result<TodayView> today_view(const Surroundings& around, const TodayInput& input);
std::optional<Ask> draw_today(const TodayView& view, TodayInput& input, const Furniture& furniture);

}  // namespace steep
