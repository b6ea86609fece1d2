#include "screens/bed_page.h"

#include "base/text.h"
#include "book/bed_page.h"
#include "book/same_bed.h"
#include "quantity/time_shown.h"
#include "screens/amounts.h"

namespace steep {
namespace {

/// '**Farm rule:** 1 day after tea on leaf, from this bed's own finish'.
std::string rule_text(const HeldWait& held, const Surroundings& around) {
  const RuleWait* rule = held.rule();
  if (!rule) return {};
  const Words& words = around.words;
  const Wait wait = held.wait();
  const std::string amount = wait.kind == Wait::Kind::Days    ? words.count("paper.days"_w, wait.amount)
                             : wait.kind == Wait::Kind::Hours ? words.count("paper.hours"_w, wait.amount)
                                                              : words(unknown_wait_word(wait.kind));
  std::string dated = rule->source.section;
  if (rule->source.dated)
    dated += (dated.empty() ? "" : ", ") + show_short_day(*rule->source.dated, around.today, words);
  const std::string tail = dated.empty() ? "" : " (" + dated + ")";
  switch (rule->source.kind) {
    case RuleSource::Kind::FarmTea: return words("beds.rule_farm"_w, {amount}) + tail;
    case RuleSource::Kind::Label: return words("beds.rule_label"_w, {rule->source.name, amount}) + tail;
    case RuleSource::Kind::Standard: return words("beds.rule_standard"_w, {rule->source.name, amount}) + tail;
    case RuleSource::Kind::ByHand: {
      const HoldSource* source = held.source();
      return words("beds.rule_by_hand"_w, {rule->source.name, source ? source->why : ""});
    }
  }
  return {};
}

HoldShown hold_shown(const HeldWait& held, const BedState& state, HoldKind kind, const Surroundings& around) {
  const Words& words = around.words;
  HoldShown shown;
  shown.kind = kind;
  shown.what = words(kind == HoldKind::NoEntry ? "beds.no_entry_until"_w : "beds.no_harvest_until"_w);
  shown.until = hold_end_text(held, around);
  shown.rule = rule_text(held, around);
  if (const HoldSource* source = held.source()) shown.by_hand = source->hand_hold;
  if (held.hold.to_settle > 0)
    shown.rule = words.count("beds.held_to_settle"_w, held.hold.to_settle) + " " + shown.rule;
  if (held.hold.state == Hold::State::NotKnown || !held.hold.until) {
    shown.what = words(kind == HoldKind::NoEntry ? "beds.no_entry"_w : "beds.no_harvest"_w);
    if (state.rule_undecided) shown.rule_button = words("beds.set_rule"_w);
  } else {
    // What is left of a wait is rounded up, never down.
    const std::int64_t minutes = (*held.hold.until - around.now + kMinute - 1) / kMinute, hours = (minutes + 59) / 60;
    shown.left = show_duration(Duration::from_minutes(static_cast<double>(minutes)), words);
    shown.left_words = words("beds.left"_w);
    // One part is enough beside the time itself: '23 h', not '23 h 12 min'.
    if (hours > 2 && hours <= 72)
      shown.left = words("beds.hours_short"_w, {std::to_string(hours)});
    else if (hours > 72)
      shown.left = words("beds.days_short"_w, {std::to_string((hours + 23) / 24)});
  }
  return shown;
}

std::string product_names(const BedLine& line) { return join(line.materials, ", "); }

void describe_dose(HistoryShown& shown, const BedLine& line, const Surroundings& around) {
  const Words& words = around.words;
  const std::string products = product_names(line);
  if (line.kind == BedLineKind::Tea) {
    shown.first = words("beds.tea_brew"_w, {line.brew_code});
    if (!products.empty()) shown.first += " + " + products;
    shown.icon = line.aim == Aim::Leaf ? Icon::OnLeaf : Icon::OnSoil;
    shown.sign = HistorySign::Leaf;
  } else {
    shown.first = products.empty() ? words("beds.spray_without"_w) : products;
    shown.icon = Icon::Spray;
  }
  if (line.part) {
    const Unit& unit = suited_unit(Dimension::Length, line.stretch.to.si(), around.units);
    shown.first += ", " + show_in(unit, line.stretch.from.si(), around.units, words, 0).number + "–" +
                   show_in(unit, line.stretch.to.si(), around.units, words, 0).text();
  }
  shown.second = spray_text(line.volume, around.units, words);
  if (line.entry && line.entry->until && line.kind == BedLineKind::Spray)
    shown.second +=
        " · " + (line.entry->holds_at(around.now) ? words("beds.no_entry_to"_w, {around.when(*line.entry->until)})
                                                  : words("beds.entry_wait_over"_w));
}

HistoryShown history_shown(const BedLine& line, const Surroundings& around) {
  const Words& words = around.words;
  HistoryShown shown;
  shown.record = line.record;
  const LocalTime local = around.zone.local(line.at);
  shown.day = show_short_day(local.date, around.today, words);
  // A planting has a day, no hour.
  const bool day_only = line.kind == BedLineKind::Planted || line.kind == BedLineKind::Ended;
  if (!day_only) shown.clock = show_clock(local, around.units.clock, words);
  switch (line.kind) {
    case BedLineKind::Tea:
    case BedLineKind::Spray: describe_dose(shown, line, around); break;
    case BedLineKind::Skipped:
      shown.first = words("beds.skipped"_w, {words.stored("skip." + line.reason, line.reason)});
      shown.icon = Icon::SkipNext;
      break;
    case BedLineKind::Harvest:
      shown.first = line.amount ? words("beds.harvest_amount"_w, {show(*line.amount, around.units, words)})
                                : words("beds.harvest"_w);
      shown.second = line.code.empty() ? line.crop : words("beds.lot"_w, {line.code});
      shown.icon = Icon::Basket;
      shown.sign = HistorySign::Square;
      break;
    case BedLineKind::Planted:
      shown.first = words("beds.planted"_w, {line.crop});
      if (line.plants) shown.second = words.count("beds.plants"_w, static_cast<long long>(*line.plants));
      shown.icon = Icon::FlagVariant;
      break;
    case BedLineKind::Ended:
      shown.first = words("beds.ended"_w, {line.crop});
      shown.icon = Icon::FlagVariant;
      break;
    case BedLineKind::Note:
      shown.first = printable(line.reason);
      shown.icon = Icon::Note;
      break;
    case BedLineKind::HoldSet:
      shown.first = words("beds.hold_set"_w, {line.reason});
      shown.icon = Icon::Lock;
      break;
    case BedLineKind::Released:
      shown.first = words("beds.hold_released"_w, {line.reason});
      shown.icon = Icon::Lock;
      break;
  }
  if (!line.who.empty()) shown.second += (shown.second.empty() ? "" : " · ") + line.who;
  if (line.earlier_bed) shown.second += " · " + words("beds.as_bed"_w, {line.bed_name});
  if (line.in_question || line.differs) shown.second += " · " + words("beds.not_settled"_w);
  if (!line.struck.empty()) {
    shown.struck = true;
    shown.struck_why = words("beds.struck_by"_w, {line.struck_by, words.stored("why." + line.struck, line.struck)});
    shown.icon = Icon::Strike;
    shown.sign = HistorySign::Ring;
  }
  std::vector<std::string> spoken = {shown.day, shown.clock, shown.first,
                                     shown.struck ? shown.struck_why : shown.second};
  std::erase(spoken, std::string());
  shown.spoken = join(spoken, ", ");
  return shown;
}

void fill_sums(BedPageView& view, const BedPage& page, const Surroundings& around) {
  const Words& words = around.words;
  view.due_label = words("beds.next_due"_w);
  const Due* due = page.state.due_first();
  const DueStretch* first = nullptr;
  if (due)
    for (const DueStretch& part : due->stretches)
      if (!first || part.days_left < first->days_left) first = &part;
  if (!first) {
    view.due_number = "–";
    view.due_detail = words("beds.no_interval"_w);
  } else if (!first->next) {
    view.due_number = words("beds.now_number"_w);
    view.due_detail = words("beds.no_tea_yet"_w);
  } else {
    view.due_number = std::to_string(first->next->day);
    view.due_unit = words.stored("time.month." + std::to_string(first->next->month), "");
    view.due_detail = show_days_from(*first->next, around.today, words);
  }
  view.sum_label = words("beds.tea_this_season"_w);
  view.sum_number = std::to_string(page.season.tea_passes);
  view.sum_unit = words.count("beds.passes"_w, page.season.tea_passes);
  ShownVolume sum;
  sum.how = page.season.estimated > 0 ? HowKnown::Rate : HowKnown::Share;
  sum.spray = page.season.tea_spray;
  sum.tea = page.season.tea;
  view.sum_detail = page.season.tea_passes > 0 ? spray_text(sum, around.units, words) : words("beds.none_recorded"_w);
  if (page.season.other_passes > 0)
    view.other_detail = words.count("beds.other_sprays"_w, page.season.other_passes,
                                    {show(page.season.other_spray, around.units, words)});
}

}  // namespace

Result<BedPageView> bed_page_of(const Surroundings& around, const Id& bed, bool teas_only) {
  TRY_ASSIGN(const BedPage& page, bed_page(around.book, bed, around.now));
  const Words& words = around.words;
  const BedState& state = page.state;
  BedPageView view;
  view.bed = bed;
  view.units = around.units;
  view.title = state.bed.name;
  view.crop = state.crops;
  const std::string size = state.bed.length && state.bed.width
                               ? show_bed_size(*state.bed.length, *state.bed.width, around.units, words)
                               : words("beds.size_unknown"_w);
  view.second = state.bed.block_name + " · " + size;
  if (!state.bed.zero_end.empty()) view.second += ", " + words("beds.zero_at"_w, {state.bed.zero_end});
  view.strip = strip_of_bed(state, around);
  view.strip.end = StripEnd::None;
  view.strip.second =
      state.last_tea ? words("beds.last_tea"_w, {around.when(state.last_tea->finish)}) : words("beds.no_tea_yet"_w);
  if (state.holds_entry(around.now)) view.holds.push_back(hold_shown(state.entry, state, HoldKind::NoEntry, around));
  if (state.holds_harvest(around.now))
    view.holds.push_back(hold_shown(state.harvest, state, HoldKind::NoHarvest, around));
  fill_sums(view, page, around);
  for (const BedLine& line : page.history)
    if (!line.undone && (!teas_only || line.kind == BedLineKind::Tea))
      view.history.push_back(history_shown(line, around));
  if (!state.questions.empty()) {
    TRY_ASSIGN(const auto& pairs, same_bed_pairs(around.book, around.farm));
    for (const DosePair& pair : pairs)
      if (pair.bed == bed) {
        view.question = words("beds.question"_w);
        view.question_first = pair.first;
      }
  }
  view.history_head = words("beds.history"_w);
  view.no_history = words("beds.no_history"_w);
  view.add_text = words("beds.add_to"_w, {view.title});
  view.note_text = words("look.note"_w);
  TRY_ASSIGN(view.photos, photos_view(around, bed));
  view.filter_text = words(teas_only ? "beds.teas_only"_w : "beds.all_lines"_w);
  return view;
}

Result<BedPageView> bed_page_view(const Surroundings& around, const BedPageInput& input) {
  return bed_page_of(around, around.record, input.teas_only);
}

}  // namespace steep
