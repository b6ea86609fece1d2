#include <algorithm>

#include "base/sorting.h"
#include "base/text.h"
#include "book/codes.h"
#include "book/dose_volumes.h"
#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/beds.h"

namespace steep {
namespace {

constexpr std::int64_t kLast = INT64_MAX;

bool fits(const BedState& state, BedFilter filter, Moment now) {
  switch (filter) {
    case BedFilter::All: return true;
    case BedFilter::Due: return state.is_due();
    case BedFilter::Late: return state.says == StripSays::Late || (state.is_due() && state.days_left() < 0);
    case BedFilter::Hold: return state.holds_harvest(now) || state.holds_entry(now);
  }
  return true;
}

bool found(const BedRow& row, std::string_view search) {
  const std::string wanted = lower(trim(search));
  return wanted.empty() || lower(row.strip.number).starts_with(wanted) ||
         lower(row.crop).find(wanted) != std::string::npos;
}

void due_cell(BedRow& row, const BedState& state, const Surroundings& around) {
  const Due* due = state.due_first();
  row.due_sort = kLast;
  if (!due) return;
  row.due_sort = state.days_left();
  if (state.is_due()) {
    const int late = -state.days_left();
    row.next_due = late > 0 ? around.words("beds.late_days"_w, {std::to_string(late)}) : around.words("beds.today"_w);
    if (!due->all_due()) {
      std::vector<std::string> parts;
      for (const DueStretch& part : due->stretches)
        if (part.is_due()) parts.push_back(stretch_text(part.stretch, state.bed.whole(), around));
      row.next_due = join(parts, ", ") + " " + row.next_due;
    }
    return;
  }
  for (const DueStretch& part : due->stretches)
    if (part.days_left == state.days_left() && part.next)
      row.next_due = show_day(*part.next, around.today, around.words);
}

void hold_cell(BedRow& row, const BedState& state, const Surroundings& around) {
  row.hold_sort = kLast;
  const bool entry = state.holds_entry(around.now);
  if (!entry && !state.holds_harvest(around.now)) {
    row.hold_until = around.words("beds.none_recorded"_w);
    return;
  }
  const HeldWait& held = entry ? state.entry : state.harvest;
  row.hold_sign = entry ? Icon::NoEntry : Icon::NoHarvest;
  row.hold_until = hold_end_text(held, around);
  row.hold_sort = held.hold.until ? held.hold.until->ms : kLast - 1;
}

/// '26: 0.26 gal spray (0.11 tea)'
Result<void> add_volumes(BedsView& view, const BedStates& states, const Surroundings& around) {
  std::vector<Id> doses;
  for (const BedState& state : states.beds)
    if (state.last_tea) doses.push_back(state.last_tea->dose);
  TRY_ASSIGN(const auto& volumes, dose_volumes(around.book, doses));
  for (std::size_t i = 0; i < states.beds.size(); ++i) {
    if (!states.beds[i].last_tea) continue;
    const auto found = volumes.find(states.beds[i].last_tea->dose);
    if (found != volumes.end()) view.all[i].with_brew += ": " + spray_text(found->second, around.units, around.words);
  }
  return {};
}

void add_key(BedsView& view, const Words& words) {
  view.key_head = words("beds.key"_w);
  view.key = {{words("beds.key_fill"_w), words("beds.key_fill_is"_w)},
              {words("beds.key_flag"_w), words("beds.key_flag_is"_w)},
              {words("beds.key_tape"_w), words("beds.key_tape_is"_w)},
              {words("beds.key_tapes"_w), words("beds.key_tapes_is"_w)},
              {words("beds.key_cut"_w), words("beds.key_cut_is"_w)},
              {words("beds.key_question"_w), words("beds.key_question_is"_w)}};
}

BedRow row_of(const BedState& state, const Codes& codes, const Surroundings& around) {
  BedRow row;
  row.strip = strip_of_bed(state, around);
  row.block = state.bed.block_name;
  row.crop = state.crops.empty() ? around.words("beds.no_crop"_w) : state.crops;
  if (state.bed.length) row.size = show(*state.bed.length, around.units, around.words);
  row.last_sort = 0;
  if (state.last_tea) {
    row.last_tea = show_day(around.zone.local(state.last_tea->finish).date, around.today, around.words);
    row.with_brew = codes.text(state.last_tea->brew);
    row.last_sort = state.last_tea->finish.ms;
  } else {
    row.last_tea = around.words("beds.none_recorded"_w);
  }
  due_cell(row, state, around);
  hold_cell(row, state, around);
  return row;
}

void sort_rows(BedsView& view, const BedsInput& input) {
  const auto key = [&](std::size_t index) -> std::int64_t {
    const BedRow& row = view.all[index];
    switch (input.sorted_by) {
      case 2: return row.last_sort;
      case 5: return row.due_sort;
      case 6: return row.hold_sort;
      default: return static_cast<std::int64_t>(index);
    }
  };
  sort_list(view.shown, [&](std::size_t a, std::size_t b) {
    if (input.sorted_by == 1)
      return input.sorted_down ? view.all[b].crop < view.all[a].crop : view.all[a].crop < view.all[b].crop;
    return input.sorted_down ? key(b) < key(a) : key(a) < key(b);
  });
}

/// '24 beds, 100 ft, four of 70 ft' is read off the map; the note says number and the usual length.
std::string block_note(const std::vector<BedRow>& rows, std::size_t first, std::size_t count, const Words& words) {
  std::string usual;
  std::size_t most = 0;
  for (std::size_t i = first; i < first + count; ++i) {
    const auto same = static_cast<std::size_t>(std::count_if(
        rows.begin() + static_cast<std::ptrdiff_t>(first), rows.begin() + static_cast<std::ptrdiff_t>(first + count),
        [&](const BedRow& row) { return row.size == rows[i].size; }));
    if (same > most) {
      most = same;
      usual = rows[i].size;
    }
  }
  return words.count("beds.block_note"_w, static_cast<long long>(count), {usual});
}

}  // namespace

Result<BedsView> beds_view(const Surroundings& around, const BedsInput& input) {
  const Words& words = around.words;
  BedsView view;
  view.title = words("beds.title"_w);
  view.search_label = words("beds.search"_w);
  view.nothing_found = words("beds.nothing_found"_w);
  view.no_beds = words("beds.no_beds"_w);
  view.no_beds_why = words("beds.no_beds_why"_w);
  view.add_block = words("beds.add_block"_w);
  for (const WordId head : {"beds.col_bed"_w, "beds.col_crop"_w, "beds.col_last"_w, "beds.col_brew"_w,
                            "beds.col_left"_w, "beds.col_due"_w, "beds.col_hold"_w})
    view.heads.push_back(words(head));
  if (around.farm.is_nil()) return view;
  TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
  TRY_ASSIGN(const Codes& codes, Codes::read(around.book));
  view.second = states->places.farm.name + " · " + show_day(around.today, around.today, words);
  for (const BedState& state : states->beds) {
    if (view.blocks.empty() || view.blocks.back().name != state.bed.block_name) {
      BedsView::BlockShown block;
      block.name = state.bed.block_name;
      block.zero_end = state.bed.zero_end;
      block.first = view.all.size();
      if (const Block* told = states->places.block(state.bed.block))
        block.covered = told->kind == "tunnel" || told->kind == "greenhouse";
      view.blocks.push_back(std::move(block));
    }
    ++view.blocks.back().count;
    view.all.push_back(row_of(state, codes, around));
    if (fits(state, input.filter, around.now) && found(view.all.back(), input.search))
      view.shown.push_back(view.all.size() - 1);
  }
  for (auto& block : view.blocks) block.note = block_note(view.all, block.first, block.count, words);
  const auto held = std::count_if(states->beds.begin(), states->beds.end(),
                                  [&](const BedState& state) { return fits(state, BedFilter::Hold, around.now); });
  view.filters = {words("beds.filter_all"_w, {std::to_string(view.all.size())}),
                  words("beds.filter_due"_w, {std::to_string(states->due)}),
                  words("beds.filter_late"_w, {std::to_string(states->late)}),
                  words("beds.filter_hold"_w, {std::to_string(held)})};
  sort_rows(view, input);
  if (input.wide) {
    add_key(view, words);
    TRY(add_volumes(view, *states, around));
  }
  if (!input.chosen.is_nil()) {
    TRY_ASSIGN(view.chosen, bed_page_of(around, input.chosen, input.bed.teas_only));
  }
  return view;
}

}  // namespace steep
