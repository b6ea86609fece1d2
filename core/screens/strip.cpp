#include "screens/strip.h"

#include <algorithm>

#include "quantity/time_shown.h"
#include "screens/amounts.h"

namespace steep {
namespace {

/// Share of the interval left at a place along the bed; −1 where no interval reaches.
float fill_at(const Due* due, Length place) {
  if (!due) return -1;
  for (const DueStretch& stretch : due->stretches) {
    if (stretch.stretch.from <= place && place <= stretch.stretch.to) return static_cast<float>(stretch.share_left);
  }
  return -1;
}

StripHold hold_at(const HeldWait& entry, const HeldWait& harvest, Moment now) {
  if (entry.hold.holds_at(now)) return StripHold::NoEntry;
  return harvest.hold.holds_at(now) ? StripHold::NoHarvest : StripHold::None;
}

/// The stretches that look different, as shares of the bed; neighbours that look alike are one.
std::vector<StripStretch> stretches_of(const BedState& state, const Due* due, Moment now) {
  std::vector<StripStretch> shown;
  const double length = state.bed.whole().length().si();
  if (length <= 0) return shown;
  for (const StretchState& stretch : state.stretches) {
    StripStretch next;
    next.from = static_cast<float>(stretch.stretch.from.si() / length);
    next.to = static_cast<float>(stretch.stretch.to.si() / length);
    next.fill = fill_at(due, (stretch.stretch.from + stretch.stretch.to) / 2);
    next.hold = hold_at(stretch.entry, stretch.harvest, now);
    if (!shown.empty() && shown.back().fill == next.fill && shown.back().hold == next.hold) {
      shown.back().to = next.to;
    } else {
      shown.push_back(next);
    }
  }
  return shown;
}

int days_since(Moment then, const Surroundings& around) {
  return static_cast<int>(day_number(around.today) - day_number(around.zone.local(then).date));
}

std::string ago_text(const BedState& state, const Surroundings& around) {
  if (!state.last_tea) return around.words("strip.no_tea"_w);
  // Two halves with a history of their own: both, '3 d and 14 d'.
  if (const Due* due = state.due_first(); due && due->stretches.size() == 2 && due->stretches[0].last && due->stretches[1].last) {
    return around.words("strip.two_ago"_w, {std::to_string(days_since(*due->stretches[0].last, around)),
                                            std::to_string(days_since(*due->stretches[1].last, around))});
  }
  const int days = days_since(state.last_tea->finish, around);
  return days <= 0 ? around.words("strip.today"_w) : around.words("strip.days_ago"_w, {std::to_string(days)});
}

void say_hold(StripShown& shown, const HeldWait& wait, const Surroundings& around) {
  shown.end = StripEnd::Hold;
  if (wait.hold.state == Hold::State::NotKnown) {
    shown.end_first = around.words("strip.held"_w);
    shown.end_second = around.words("strip.no_date"_w);
    return;
  }
  const Moment until = *wait.hold.until;
  const LocalTime local = around.zone.local(until);
  shown.end_first = show_near_day(local.date, around.today, around.words);
  shown.end_second = around.clock(until);
}

/// A part of the bed is due: 'half due', or the feet.
std::string due_part(const Due& due, const Surroundings& around) {
  const double length = due.stretches.back().stretch.to.si() - due.stretches.front().stretch.from.si();
  for (const DueStretch& stretch : due.stretches) {
    if (!stretch.is_due()) continue;
    const double share = stretch.stretch.length().si() / length;
    if (share > 0.4 && share < 0.6) return around.words("strip.half"_w);
    return along_number(stretch.stretch.from, around.units, around.words) + "–" + along_text(stretch.stretch.to, around.units, around.words);
  }
  return {};
}

void say_end(StripShown& shown, const BedState& state, const Surroundings& around) {
  const Words& say = around.words;
  const Due* due = state.due_first();
  const int left = state.days_left();
  switch (state.says) {
    case StripSays::NoEntry: return say_hold(shown, state.entry, around);
    case StripSays::NoHarvest: return say_hold(shown, state.harvest, around);
    case StripSays::Late:
      shown.end = StripEnd::Late;
      shown.late_days = -left;
      shown.end_first = say("strip.days"_w, {std::to_string(-left)});
      shown.end_second = say("strip.late"_w);
      return;
    case StripSays::Due:
      shown.end = StripEnd::Due;
      shown.end_first = due && !due->all_due() ? due_part(*due, around) : say("strip.today"_w);
      shown.end_second = say("strip.due"_w);
      return;
    case StripSays::DaysLeft:
      shown.end = StripEnd::Plain;
      shown.end_first = say("strip.days"_w, {std::to_string(left)});
      shown.end_second = say("strip.to_next"_w);
      return;
    case StripSays::Nothing: return;
  }
}

std::string spoken_end(const StripShown& shown, const BedState& state, const Surroundings& around) {
  const Words& say = around.words;
  const std::string until = shown.end_first + " " + shown.end_second;
  switch (state.says) {
    case StripSays::NoEntry: return say("strip.say_no_entry"_w, {until});
    case StripSays::NoHarvest: return say("strip.say_no_harvest"_w, {until});
    case StripSays::Late: return say.count("strip.say_late"_w, shown.late_days);
    case StripSays::Due: return say("strip.say_due"_w, {shown.end_first});
    case StripSays::DaysLeft: return say.count("strip.say_left"_w, state.days_left());
    case StripSays::Nothing: return {};
  }
  return {};
}

}  // namespace

BedStrip StripShown::strip() const {
  BedStrip strip;
  strip.number = number;
  strip.first = first;
  strip.second = second;
  strip.fill = fill;
  strip.interval_days = interval_days;
  if (stretches.size() > 1) strip.stretches = stretches;
  strip.hold = hold;
  strip.end = end;
  strip.end_first = end_first;
  strip.end_second = end_second;
  strip.late_days = late_days;
  strip.question = question;
  return strip;
}

bool StripShown::operator==(const StripShown& other) const {
  const auto same = [](const StripStretch& a, const StripStretch& b) {
    return a.from == b.from && a.to == b.to && a.fill == b.fill && a.hold == b.hold;
  };
  return bed == other.bed && number == other.number && first == other.first && second == other.second &&
         fill == other.fill && interval_days == other.interval_days && hold == other.hold && end == other.end &&
         end_first == other.end_first && end_second == other.end_second && late_days == other.late_days &&
         question == other.question && spoken == other.spoken &&
         std::equal(stretches.begin(), stretches.end(), other.stretches.begin(), other.stretches.end(), same);
}

StripShown strip_of(const BedState& state, const Surroundings& around) {
  const Words& say = around.words;
  StripShown shown;
  shown.bed = state.bed.id;
  shown.number = state.bed.name;
  shown.first = state.crops.empty() ? say("strip.bare"_w) : state.crops;
  const std::string ago = ago_text(state, around);
  const std::string length = state.bed.length ? along_text(*state.bed.length, around.units, say) : std::string();
  shown.second = length.empty() ? ago : ago + " · " + length;
  const Due* due = state.due_first();
  if (due) {
    shown.interval_days = due->interval.days;
    shown.fill = due->stretches.empty() ? 0 : static_cast<float>(due->stretches.front().share_left);
  }
  shown.stretches = stretches_of(state, due, around.now);
  shown.hold = hold_at(state.entry, state.harvest, around.now);
  shown.question = !state.questions.empty();
  say_end(shown, state, around);
  if (state.to_settle > 0 && shown.end == StripEnd::Hold) shown.second = say.count("strip.to_settle"_w, state.to_settle);
  shown.spoken = shown.number + " " + shown.first + ", " + shown.second;
  if (const std::string end_words = spoken_end(shown, state, around); !end_words.empty()) shown.spoken += ", " + end_words;
  if (shown.question) shown.spoken += ", " + say("strip.say_question"_w);
  return shown;
}

}  // namespace steep
