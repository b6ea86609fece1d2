#include <algorithm>

#include "base/text.h"
#include "screens/amounts.h"
#include "screens/spraying.h"
#include "screens/start_pass.h"
#include "screens/strip_of_bed.h"

namespace steep {
namespace {

bool wholly_open(const PassBed& bed) { return bed.progress == BedProgress::Open; }

std::optional<std::size_t> index_of(const PassState& state, const Id& bed) {
  for (std::size_t i = 0; i < state.beds.size(); ++i) {
    if (state.beds[i].bed == bed) return i;
  }
  return std::nullopt;
}

std::optional<std::size_t> open_from(const PassState& state, std::size_t start) {
  for (std::size_t step = 0; step < state.beds.size(); ++step) {
    const std::size_t i = (start + step) % state.beds.size();
    if (wholly_open(state.beds[i])) return i;
  }
  return std::nullopt;
}

/// The bed of the last press.
std::optional<std::size_t> last_written(const PassState& state) {
  for (std::size_t i = 0; i < state.beds.size(); ++i) {
    const auto& doses = state.beds[i].doses;
    if (std::find(doses.begin(), doses.end(), state.undo.record) != doses.end()) return i;
  }
  return std::nullopt;
}

/// The bed that was finished last.
std::optional<std::size_t> last_finished(const PassState& state) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < state.beds.size(); ++i) {
    const PassBed& bed = state.beds[i];
    if (bed.finish && (!found || *bed.finish > *state.beds[*found].finish)) found = i;
  }
  return found;
}

/// The bed in which the load before ran dry: the refill itself wrote its stretch, and its rest stays in hand.
bool ran_dry_in(const PassState& state, std::size_t i) {
  if (state.beds[i].progress != BedProgress::Part || state.loads.empty() || !state.loads.back().load.filled)
    return false;
  const std::int64_t apart = *state.beds[i].finish - state.loads.back().load.filled->at;
  return apart > -kSecond && apart < kSecond;
}

std::string crops_of(const PassBed& bed, const Words& words) {
  return bed.crops.empty() ? words("spray.bare"_w) : bed.crops;
}

std::string length_text(const PassBed& bed, const Surroundings& around) {
  return bed.length.si() > 0 ? along_text(bed.length, around.units, around.words) : std::string();
}

float share_along(const PassBed& bed, Length place) {
  return bed.length.si() > 0 ? static_cast<float>(std::clamp(place / bed.length, 0.0, 1.0)) : 0;
}

/// How much of what is open of a bed the tank still covers.
float covered(const PassBed& bed, Length dry_at) {
  if (bed.open.empty() || bed.open_length().si() <= 0) return 1;
  double done = 0;
  for (const Stretch& stretch : bed.open) {
    const double from = bed.from_far_end ? std::max(dry_at.si(), stretch.from.si()) : stretch.from.si();
    const double to = bed.from_far_end ? stretch.to.si() : std::min(dry_at.si(), stretch.to.si());
    done += std::max(0.0, to - from);
  }
  return static_cast<float>(std::clamp(done / bed.open_length().si(), 0.0, 1.0));
}

void say_treated(SprayingView::Row& row, const PassBed& bed) {
  if (bed.progress != BedProgress::Part || bed.treated.empty()) return;
  row.treated_from = share_along(bed, bed.treated.front().from);
  row.treated_to = share_along(bed, bed.treated.back().to);
}

std::string skip_word(const std::string& reason, const Words& words) {
  return reason == "other" ? words("spray.other_reason"_w) : words.stored("spray.skip." + reason, reason);
}

SprayingView::Row row_of(const PassState& state, std::size_t i, const Surroundings& around) {
  const Words& words = around.words;
  const PassBed& bed = state.beds[i];
  const bool in_hand = state.in_hand == i;
  SprayingView::Row row;
  row.bed = bed.bed;
  row.number = bed.name;
  row.crop = crops_of(bed, words);
  say_treated(row, bed);
  std::string how = words("spray.say_waiting"_w);
  if (in_hand) {
    row.state = TankRowState::Current;
    how = words("spray.say_in_hand"_w);
  } else if (bed.progress == BedProgress::Done) {
    row.state = TankRowState::Done;
    row.right = bed.finish ? around.when(*bed.finish) : std::string();
    how = words("spray.say_done"_w, {row.right});
  } else if (bed.progress == BedProgress::Skipped) {
    row.state = TankRowState::Skipped;
    row.right = words("spray.skipped_why"_w, {skip_word(bed.skip_reason, words)});
    how = row.right;
  } else if (bed.progress == BedProgress::Part) {
    row.state = TankRowState::Waiting;
    row.right = words("spray.part"_w);
    how = words("spray.say_part"_w);
  } else if (bed.will_be_next_load) {
    row.state = TankRowState::NextLoad;
    row.right = words("spray.load"_w, {std::to_string(state.tank.number + 1)});
    how = words("spray.say_next_load"_w, {std::to_string(state.tank.number + 1)});
  } else {
    row.right = length_text(bed, around);
  }
  if (row.state == TankRowState::Waiting && bed.stop) row.flag = words("spray.flag_label"_w);
  if (row.state != TankRowState::Done && row.state != TankRowState::Skipped && bed.pick_inside_wait &&
      bed.planned_pick) {
    row.flag = words("spray.flag_pick"_w, {around.when(*bed.planned_pick)});
  }
  const bool in_tank = (in_hand || row.state == TankRowState::Waiting) && bed.progress != BedProgress::Done;
  if (in_tank && state.dry_bed == i) {
    row.from_this_load = covered(bed, state.dry_at);
    row.refill = words("spray.refill_here"_w);
  }
  if (in_tank && state.beds_left && bed.spray && (bed.progress == BedProgress::Open || in_hand)) {
    row.slab = tank_number(*bed.spray * static_cast<double>(row.from_this_load), around.units, words);
  }
  row.spoken = words("spray.say_row"_w, {row.number, row.crop, how});
  if (!row.flag.empty()) row.spoken += ", " + row.flag;
  return row;
}

void say_rows(SprayingView& view, const PassState& state, const Surroundings& around) {
  // One that is done stays above the bed in hand; the rest follows in walking order.
  std::size_t first = 0;
  for (std::size_t i = 0; i < state.beds.size(); ++i) {
    const bool over = state.beds[i].progress == BedProgress::Done || state.beds[i].progress == BedProgress::Skipped;
    if (state.in_hand == i || !over) break;
    first = i;
  }
  if (state.in_hand && *state.in_hand > 0) first = std::max(first, *state.in_hand - 1);
  if (!state.in_hand && state.beds.size() > 6) first = state.beds.size() - 6;
  for (std::size_t i = first; i < state.beds.size(); ++i) view.rows.push_back(row_of(state, i, around));
  // Beds passed over stand behind the last one: there the walk comes to them again.
  for (std::size_t i = 0; i < first; ++i) {
    const BedProgress progress = state.beds[i].progress;
    if (progress == BedProgress::Open || progress == BedProgress::Part) view.rows.push_back(row_of(state, i, around));
  }
}

void say_wait(SprayingView::Loupe& loupe, const PassState& state, const Surroundings& around) {
  const Words& words = around.words;
  const Hold &entry = state.entry_if_now, &harvest = state.harvest_if_now;
  const auto is_until = [](const Hold& hold) { return hold.state == Hold::State::Until; };
  if (is_until(entry) && is_until(harvest)) {
    loupe.wait = StripHold::NoEntry;
    loupe.wait_text = words("spray.both_until"_w, {until_text(entry, around), until_text(harvest, around)});
    return;
  }
  std::vector<std::string> texts;
  const auto add = [&](const Hold& hold, StripHold sign, WordId until, WordId not_known) {
    if (hold.state == Hold::State::None) return;
    if (texts.empty()) loupe.wait = sign;
    texts.push_back(is_until(hold) ? words(until, {until_text(hold, around)}) : words(not_known));
  };
  add(entry, StripHold::NoEntry, "spray.no_entry_until"_w, "spray.entry_not_known"_w);
  add(harvest, StripHold::NoHarvest, "spray.no_harvest_until"_w,
      state.rule_undecided ? "spray.rule_undecided"_w : "spray.harvest_not_known"_w);
  loupe.wait_text = join(texts, " · ");
}

void say_walk(SprayingView& view, const PassState& state, const Surroundings& around) {
  if (!state.walk_time || state.walk_time->si() <= 0) return;
  const double whole = state.walk_time->seconds();
  const double walked = state.in_hand_since ? static_cast<double>(around.now - *state.in_hand_since) / 1000 : 0;
  view.loupe.walk = around.words("spray.walk"_w);
  const int seconds = static_cast<int>(whole + 0.5);
  // Somebody who stands still for three times as long is not walking: the bar rests.
  if (walked >= 0 && walked < 3 * whole) {
    view.loupe.walked = static_cast<float>(std::min(1.0, walked / whole));
    view.loupe.walk_text =
        around.words("spray.walk_of"_w, {std::to_string(static_cast<int>(walked)), std::to_string(seconds)});
    view.good_until = around.now + (kSecond - around.now.ms % kSecond);
  } else {
    view.loupe.walked = 0;
    view.loupe.walk_text = around.words("spray.walk_whole"_w, {std::to_string(seconds)});
  }
}

void say_loupe(SprayingView& view, const PassState& state, const Surroundings& around) {
  const PassBed* bed = state.hand();
  if (!bed) return;
  const Words& words = around.words;
  view.loupe.number = bed->name;
  view.loupe.crop = crops_of(*bed, words);
  if (bed->length.si() > 0 && bed->width.si() > 0)
    view.loupe.size = show_bed_size(bed->length, bed->width, around.units, words);
  if (bed->spray) {
    view.loupe.volume = spray_shown(*bed->spray, bed->tea, true, around.units, words).text();
    view.loupe.slab_unit = words("spray.unit_spray"_w, {unit_label(tank_unit(around.units), 2, words)});
  } else {
    view.loupe.volume = words("spray.volume_not_known"_w);
  }
  if (bed->progress == BedProgress::Part && !bed->treated.empty()) {
    view.loupe.treated_from = share_along(*bed, bed->treated.front().from);
    view.loupe.treated_to = share_along(*bed, bed->treated.back().to);
  }
  say_wait(view.loupe, state, around);
  say_walk(view, state, around);
  for (SprayingView::Row& row : view.rows)
    if (row.state == TankRowState::Current)
      for (const std::string& more : {view.loupe.volume, view.loupe.wait_text})
        if (!more.empty()) row.spoken += ", " + more;
}

std::string then_text(const PassState& state, const Words& words) {
  if (!state.dry_bed) return {};
  const PassBed& dry = state.beds[*state.dry_bed];
  return words("spray.then_refill"_w, {dry.name});
}

void say_head(SprayingView& view, const PassState& state, const Surroundings& around) {
  const Words& words = around.words;
  SprayingView::Head& head = view.head;
  const std::string counts =
      words("spray.load_counts"_w,
            {std::to_string(state.tank.number), std::to_string(std::max(state.loads_expected, state.tank.number)),
             std::to_string(state.done), std::to_string(state.beds.size())});
  if (state.beds_left) {
    head.number = state.beds_left->text();
    const long long form = head.number == "1" ? 1 : 2;  // '1½ beds', but '1 bed'.
    head.words = words.count("spray.beds"_w, form);
    head.words2 = words.count("spray.left_in_tank"_w, form);
    head.spoken = words.count("spray.say_beds_left"_w, form, {head.number});
  } else {
    head.number = std::to_string(state.done);
    head.words = words("spray.beds_done"_w);
    head.words2 = words("spray.of_beds"_w, {std::to_string(state.beds.size())});
    head.spoken = words("spray.say_done_of"_w, {head.number, std::to_string(state.beds.size())});
  }
  const std::string label = unit_label(tank_unit(around.units), 2, words);
  if (state.tank.left) {
    head.amount = "~" + tank_number(*state.tank.left, around.units, words);
    head.amount_unit = words("spray.spray_in_it"_w, {label});
    if (state.tank.can_spray)
      head.line2 = words("spray.can_be_sprayed"_w, {tank_text(*state.tank.can_spray, around.units, words)});
    head.spoken += ", " + words("spray.say_in_it"_w, {tank_spoken(*state.tank.left, around.units, words)});
  } else {
    head.line2 = words("spray.tank_not_known"_w);
  }
  head.line3 = counts;
  head.spoken += ", " + counts;
  if (state.tank.used && state.tank.left) {
    view.used = tank_number(*state.tank.used, around.units, words);
    view.used_word = words("spray.used"_w);
  }
  view.sump = state.tank.dead.si() > 0;
  if (view.sump) view.sump_spoken = words("spray.say_sump"_w, {tank_spoken(state.tank.dead, around.units, words)});
  view.then = then_text(state, words);
}

void say_buttons(SprayingView& view, const PassState& state, const Bed* bed, const Surroundings& around) {
  const Words& words = around.words;
  const PassBed* hand = state.hand();
  view.half = words("spray.half"_w);
  view.skip = words("spray.skip"_w);
  view.undo = words("spray.undo"_w);
  view.refill = words("spray.refill"_w);
  const std::string next_load = words("spray.load"_w, {std::to_string(state.tank.number + 1)});
  view.refill_second = next_load;
  view.refill_spoken = words("spray.say_refill"_w, {next_load});
  if (hand) {
    view.hand = hand->bed;
    view.done = words(hand->progress == BedProgress::Part ? "spray.rest_done"_w : "spray.bed_done"_w, {hand->name});
    const auto next = index_of(state, next_open_after(state, hand->bed));
    if (next) {
      const PassBed& then = state.beds[*next];
      view.done_second = words("spray.then"_w, {then.name, crops_of(then, words)});
      view.done_spoken = words("spray.say_done_then"_w, {view.done, then.name});
    } else {
      view.done_second = words("spray.then_end"_w);
      view.done_spoken = words("spray.say_done_end"_w, {view.done});
    }
    std::string end;
    if (bed) end = hand->from_far_end ? bed->far_end : bed->zero_end;
    view.half_second = end.empty() ? words(hand->from_far_end ? "spray.far_end"_w : "spray.near_end"_w)
                                   : words("spray.named_end"_w, {end});
    view.half_spoken = words("spray.say_half"_w, {hand->name, view.half_second});
    view.can_half = hand->progress == BedProgress::Open && hand->length.si() > 0 && !hand->stop;
    view.skip_second = words("spray.with_reason"_w);
    view.skip_spoken = words("spray.say_skip"_w, {hand->name});
    view.can_skip = true;
  }
  switch (state.undo.what) {
    case UndoStep::What::Nothing: view.undo_second = words("spray.nothing"_w); break;
    case UndoStep::What::Refill: view.undo_second = words("spray.refill"_w); break;
    default: view.undo_second = state.undo.bed;
  }
  view.can_undo = state.undo.what != UndoStep::What::Nothing;
  view.undo_spoken = words("spray.say_undo"_w, {view.undo_second});
  view.end = words("spray.end_pass"_w);
  const int open = state.open;
  view.end_second = open > 0 ? words.count("spray.left_open"_w, open) : words("spray.all_done"_w);
}

void say_cautions(SprayingView& view, const PassState& state, const Surroundings& around) {
  const Words& words = around.words;
  if (const PassBed* hand = state.hand()) {
    if (hand->stop) {
      view.stop = around.sentence(*hand->stop);
    } else if (!hand->cautions.empty()) {
      view.warn_first = around.sentence(hand->cautions.front());
      for (std::size_t i = 1; i < hand->cautions.size(); ++i) {
        view.warn_second += (view.warn_second.empty() ? "" : " ") + around.sentence(hand->cautions[i]);
      }
      view.warn_skip = words("spray.skip_bed"_w, {hand->name});
      view.warn_spray = words("spray.spray_bed"_w, {hand->name});
    }
  }
  if (state.extract_note) view.notes.push_back(around.sentence(*state.extract_note));
  if (state.rate_is_off && state.real_rate && state.spray_rate) {
    view.notes.push_back(
        words("spray.rate_is_off"_w, {rates_words(state.real_rate, std::nullopt, around.units, words),
                                      rates_words(state.spray_rate, std::nullopt, around.units, words)}));
  }
}

/// The half that was just written: the other one instead, or feet.
void say_half_offer(SprayingView& view, const PassState& state, const Surroundings& around) {
  if (state.undo.what != UndoStep::What::Dose) return;
  const auto last = last_written(state);
  if (!last) return;
  const PassBed& bed = state.beds[*last];
  if (bed.progress != BedProgress::Part || bed.treated.size() != 1 || bed.length.si() <= 0) return;
  const Words& words = around.words;
  const Unit& unit = along_unit(around.units);
  view.half_dose = state.undo.record;
  view.half_of = bed.name;
  view.other_half = words("spray.other_half"_w, {bed.name});
  view.feet = words(around.units.system == System::Metric ? "spray.meters"_w : "spray.feet"_w, {bed.name});
  const Stretch done = bed.treated.front();
  view.other_from = write_quantity(bed.length - done.to, unit);
  view.other_to = write_quantity(bed.length - done.from, unit);
  view.from_now = write_quantity(done.from, unit, 1);
  view.to_now = write_quantity(done.to, unit, 1);
  view.bed_length = write_quantity(bed.length, unit);
}

void say_feet(SprayingView& view, const SprayingInput& input, const Surroundings& around) {
  if (input.sheet != "feet") return;
  const Words& words = around.words;
  if (const auto from = parse_written(input.from)) view.from_now = *from;
  if (const auto to = parse_written(input.to)) view.to_now = *to;
  view.feet_title = words("spray.feet_title"_w, {view.half_of});
  view.feet_from = words("spray.from"_w);
  view.feet_to = words("spray.to"_w);
  view.feet_save = words("spray.feet_save"_w);
  if (!view.from_now.unit || !view.to_now.unit) return;
  const Shown from = show_parts(view.from_now, around.units, words), to = show_parts(view.to_now, around.units, words);
  view.from_text = from.number;
  view.to_text = to.number;
  view.unit_text = from.unit;
  view.from_spoken = view.feet_from + " " + from.speech();
  view.to_spoken = view.feet_to + " " + to.speech();
}

void say_skip(SprayingView& view, const PassState& state, const Surroundings& around) {
  const Words& words = around.words;
  if (!state.hand()) return;
  view.skip_title = words("spray.skip_title"_w, {state.hand()->name});
  view.skip_why = words("spray.skip_why"_w);
  view.skip_other_label = words("spray.skip_own_words"_w);
  view.skip_go = words("spray.skip_bed"_w, {state.hand()->name});
  for (const char* key : {"wet", "picked", "covered", "clogged", "other"})
    view.reasons.push_back({key, skip_word(key, words)});
}

}  // namespace

Id next_open_after(const PassState& state, const Id& bed) {
  const auto at = index_of(state, bed);
  if (!at) return {};
  const auto next = open_from(state, *at + 1);
  return next && *next != *at ? state.beds[*next].bed : Id{};
}

Id bed_to_go_on_with(const PassState& state) {
  auto last = last_written(state);
  if (!last) last = last_finished(state);
  if (state.undo.what == UndoStep::What::Refill && last && ran_dry_in(state, *last)) return state.beds[*last].bed;
  const auto next = open_from(state, last ? *last + 1 : 0);
  return next ? state.beds[*next].bed : Id{};
}

Result<SprayingView> spraying_view(const Surroundings& around, const SprayingInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(PassState state, pass_state(around.book, around.record, input.chosen, around.now));
  if (input.chosen.is_nil()) {
    const Id hand = bed_to_go_on_with(state);
    if (hand.is_nil()) {
      state.in_hand.reset();
    } else if (!state.hand() || state.hand()->bed != hand) {
      TRY_ASSIGN(state, pass_state(around.book, around.record, hand, around.now));
    }
  }
  std::optional<Bed> bed;
  if (const PassBed* hand = state.hand()) {
    if (auto read = read_bed(around.book, hand->bed)) bed = std::move(*read);
  }
  SprayingView view;
  view.pass = around.record;
  view.units = around.units;
  view.is_ended = state.is_ended;
  view.title = words("spray.pass_title"_w, {state.code, state.place});
  std::vector<std::string> second;
  if (!state.tank.brew_code.empty()) second.push_back(words("brew.code"_w, {state.tank.brew_code}));
  const Weather& weather = state.pass.weather_start;
  if (weather.wind) {
    const std::string wind = words("start.wind_of"_w, {show(*weather.wind, around.units, words)});
    second.push_back(weather.direction.empty()
                         ? wind
                         : wind + " " + words.stored("start.direction." + weather.direction, weather.direction));
  }
  view.second = join(second, " · ");
  say_head(view, state, around);
  say_rows(view, state, around);
  say_loupe(view, state, around);
  say_buttons(view, state, bed ? &*bed : nullptr, around);
  say_cautions(view, state, around);
  say_half_offer(view, state, around);
  say_feet(view, input, around);
  say_skip(view, state, around);
  if (input.problem) view.problem = around.sentence(*input.problem);
  view.keep_awake = !state.is_ended;
  return view;
}

}  // namespace steep
