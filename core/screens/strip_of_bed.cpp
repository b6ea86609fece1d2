#include "screens/strip_of_bed.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "quantity/time_shown.h"

namespace steep {
namespace {

StripHold hold_of(const HeldWait& harvest, const HeldWait& entry, Moment now) {
  if (entry.hold.holds_at(now)) return StripHold::NoEntry;
  return harvest.hold.holds_at(now) ? StripHold::NoHarvest : StripHold::None;
}

float share(Length place, Stretch whole) {
  const double length = whole.length().meters();
  return length > 0 ? static_cast<float>(std::clamp((place - whole.from).meters() / length, 0.0, 1.0)) : 0;
}

/// The stretches as the strip cuts them: where the history of the aim that is due first differs, or a hold does.
std::vector<StripStretch> stretches_of(const BedState& state, Moment now) {
  std::vector<StripStretch> shown;
  const Due* due = state.due_first();
  const Stretch whole = state.bed.whole();
  for (const StretchState& stretch : state.stretches) {
    StripStretch piece;
    piece.from = share(stretch.stretch.from, whole);
    piece.to = share(stretch.stretch.to, whole);
    piece.hold = hold_of(stretch.harvest, stretch.entry, now);
    if (due)
      for (const DueStretch& part : due->stretches)
        if (part.stretch.from <= stretch.stretch.from && stretch.stretch.to <= part.stretch.to)
          piece.fill = static_cast<float>(part.share_left);
    if (piece.from >= piece.to) continue;
    if (!shown.empty() && shown.back().fill == piece.fill && shown.back().hold == piece.hold)
      shown.back().to = piece.to;
    else
      shown.push_back(piece);
  }
  return shown;
}

/// What is due of a bed with several histories: 'half', '60–100 ft', or all of it.
std::string due_part(const BedState& state, const Surroundings& around) {
  const Due* due = state.due_first();
  if (!due || due->all_due()) return {};
  std::vector<std::string> parts;
  for (const DueStretch& part : due->stretches)
    if (part.is_due()) parts.push_back(stretch_text(part.stretch, state.bed.whole(), around));
  return join(parts, ", ");
}

void end_cell(StripOfBed& strip, const BedState& state, const Surroundings& around) {
  const Words& words = around.words;
  const Due* due = state.due_first();
  switch (state.says) {
    case StripSays::NoEntry:
    case StripSays::NoHarvest: {
      const HeldWait& held = state.says == StripSays::NoEntry ? state.entry : state.harvest;
      strip.end = StripEnd::Hold;
      if (state.to_settle > 0 || held.hold.to_settle > 0) {
        strip.end_first = words("beds.held"_w);
        strip.end_second = words.count("beds.to_settle"_w, std::max(state.to_settle, held.hold.to_settle));
      } else if (!held.hold.until || held.hold.state == Hold::State::NotKnown) {
        strip.end_first = words("beds.held"_w);
        strip.end_second = words("beds.end_unknown"_w);
      } else {
        const LocalTime local = around.zone.local(*held.hold.until);
        strip.end_first = show_near_day(local.date, around.today, words);
        strip.end_second = held.hold.whole_day ? "" : show_clock(local, around.units.clock, words);
      }
      break;
    }
    case StripSays::Late:
      strip.end = StripEnd::Late;
      strip.late_days = -state.days_left();
      strip.end_first = words("beds.days_short"_w, {std::to_string(strip.late_days)});
      strip.end_second = words("beds.late"_w);
      break;
    case StripSays::Due: {
      strip.end = StripEnd::Due;
      const std::string part = due_part(state, around);
      const bool never = due && due->stretches.size() == 1 && !due->stretches.front().last;
      strip.end_first = part.empty() ? words(never ? "beds.first_time"_w : "beds.today"_w) : part;
      strip.end_second = words("beds.due"_w);
      break;
    }
    case StripSays::DaysLeft:
      strip.end = StripEnd::Plain;
      strip.end_first = words("beds.days_short"_w, {std::to_string(state.days_left())});
      strip.end_second = words("beds.to_next"_w);
      break;
    case StripSays::Nothing: strip.end = StripEnd::None; break;
  }
}

std::string spoken_of(const StripOfBed& strip, const BedState& state, const Surroundings& around) {
  std::vector<std::string> pieces = {around.words("beds.spoken_bed"_w, {strip.number}), strip.first, strip.second};
  // One without a known end says why, not until when.
  const auto say_wait = [&](const HeldWait& held, WordId until, WordId alone) {
    const std::string end = hold_end_text(held, around);
    const bool known = held.hold.until && held.hold.state != Hold::State::NotKnown;
    pieces.push_back(known ? around.words(until, {end}) : around.words(alone) + ": " + end);
  };
  if (state.holds_entry(around.now)) say_wait(state.entry, "beds.spoken_no_entry"_w, "beds.no_entry"_w);
  if (state.holds_harvest(around.now)) say_wait(state.harvest, "beds.spoken_no_harvest"_w, "beds.no_harvest"_w);
  if (strip.end != StripEnd::Hold && strip.end != StripEnd::None)
    pieces.push_back(strip.end_first + " " + strip.end_second);
  if (strip.question) pieces.push_back(around.words("beds.spoken_question"_w));
  std::erase_if(pieces, [](const std::string& piece) { return piece.empty(); });
  return join(pieces, ", ");
}

}  // namespace

std::string stretch_text(Stretch stretch, Stretch whole, const Surroundings& around) {
  const double length = whole.length().meters(), part = stretch.length().meters();
  const bool at_an_end = stretch.from == whole.from || stretch.to == whole.to;
  if (at_an_end && length > 0 && std::abs(part / length - 0.5) < 0.005) return around.words("beds.half"_w);
  const Unit& unit = suited_unit(Dimension::Length, whole.to.si(), around.units);
  const Shown to = show_in(unit, stretch.to.si(), around.units, around.words, 0);
  return show_in(unit, stretch.from.si(), around.units, around.words, 0).number + "–" + to.text();
}

std::string until_text(const Hold& hold, const Surroundings& around) {
  if (!hold.whole_day) return around.when(*hold.until);
  return show_near_day(*hold.first_day, around.today, around.words);
}

std::string hold_end_text(const HeldWait& held, const Surroundings& around) {
  if (held.hold.state == Hold::State::NotKnown || !held.hold.until) {
    const Contributor* governing = held.hold.governing();
    return governing ? around.words(unknown_wait_word(governing->wait.kind)) : around.words("beds.end_unknown"_w);
  }
  return until_text(held.hold, around);
}

std::string last_tea_text(const BedState& state, const Surroundings& around) {
  if (!state.last_tea) return around.words("beds.no_tea_yet"_w);
  const Date day = around.zone.local(state.last_tea->finish).date;
  const auto days = day_number(around.today) - day_number(day);
  return days <= 0 ? around.words("beds.tea_today"_w) : around.words("beds.days_ago"_w, {std::to_string(days)});
}

StripOfBed strip_of_bed(const BedState& state, const Surroundings& around) {
  StripOfBed strip;
  strip.bed = state.bed.id;
  strip.number = state.bed.name;
  strip.first = state.crops.empty() ? around.words("beds.no_crop"_w) : state.crops;
  strip.second = last_tea_text(state, around);
  if (state.bed.length) {
    strip.second += " · " + show(*state.bed.length, around.units, around.words);
    strip.length_m = static_cast<float>(state.bed.length->meters());
  }
  strip.hold = hold_of(state.harvest, state.entry, around.now);
  if (const Due* due = state.due_first()) {
    strip.interval_days = due->interval.days;
    strip.fill = 0;
    for (const DueStretch& part : due->stretches)
      strip.fill = std::max(strip.fill, static_cast<float>(part.share_left));
  }
  strip.stretches = stretches_of(state, around.now);
  if (strip.stretches.size() < 2) strip.stretches.clear();
  strip.question = !state.questions.empty();
  end_cell(strip, state, around);
  strip.spoken = spoken_of(strip, state, around);
  return strip;
}

bool StripOfBed::operator==(const StripOfBed& other) const {
  const auto same = [](const StripStretch& a, const StripStretch& b) {
    return a.from == b.from && a.to == b.to && a.fill == b.fill && a.hold == b.hold;
  };
  return bed == other.bed && number == other.number && first == other.first && second == other.second &&
         end_first == other.end_first && end_second == other.end_second && spoken == other.spoken &&
         fill == other.fill && interval_days == other.interval_days && hold == other.hold && end == other.end &&
         late_days == other.late_days && length_m == other.length_m && question == other.question &&
         std::equal(stretches.begin(), stretches.end(), other.stretches.begin(), other.stretches.end(), same);
}

BedStrip StripOfBed::strip() const {
  BedStrip shown;
  shown.number = number;
  shown.first = first;
  shown.second = second;
  shown.fill = fill;
  shown.interval_days = interval_days;
  shown.stretches = stretches;
  shown.hold = hold;
  shown.end = end;
  shown.end_first = end_first;
  shown.end_second = end_second;
  shown.late_days = late_days;
  shown.question = question;
  return shown;
}

MapBed StripOfBed::on_map() const {
  MapBed bed_shown;
  bed_shown.number = number;
  bed_shown.length_m = length_m;
  bed_shown.fill = fill;
  bed_shown.stretches = stretches;
  bed_shown.hold = hold;
  bed_shown.due = end == StripEnd::Due || end == StripEnd::Late;
  bed_shown.late_days = late_days;
  bed_shown.question = question;
  bed_shown.spoken = spoken;
  return bed_shown;
}

}  // namespace steep
