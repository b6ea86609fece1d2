#include "book/pass_state.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/sorting.h"
#include "base/text.h"
#include "book/bed_states.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/doubts.h"
#include "book/pass_parts.h"
#include "book/rows.h"
#include "book/wait_rules.h"

namespace steep {
namespace {

constexpr double kCentimeter = 0.01;

/// The parts put together where they touch or overlap, in order.
std::vector<Stretch> merged(std::vector<Stretch> parts) {
  sort_list(parts, [](Stretch a, Stretch b) { return a.from < b.from; });
  std::vector<Stretch> out;
  for (const Stretch part : parts) {
    if (!out.empty() && part.from.si() <= out.back().to.si() + kCentimeter) {
      out.back().to = std::max(out.back().to, part.to);
    } else {
      out.push_back(part);
    }
  }
  return out;
}

/// What of `whole` no part covers.
std::vector<Stretch> uncovered(Stretch whole, const std::vector<Stretch>& parts) {
  std::vector<Stretch> out;
  Length at = whole.from;
  for (const Stretch part : parts) {
    if (part.from.si() - at.si() > kCentimeter) out.push_back({at, std::min(part.from, whole.to)});
    at = std::max(at, part.to);
  }
  if (whole.to.si() - at.si() > kCentimeter) out.push_back({at, whole.to});
  return out;
}

PassBed start_bed(const Places& places, const Bed& bed, bool far_end) {
  PassBed row;
  row.bed = bed.id;
  row.name = bed.name;
  row.block = bed.block_name;
  row.crops = places.crop_names(bed.id);
  row.length = bed.length.value_or(Length{});
  row.width = bed.width.value_or(Length{});
  row.from_far_end = far_end;
  return row;
}

void add_doses(PassState& state) {
  std::set<Id> skipped_last;
  for (const LoadSheet& sheet : state.loads)
    for (std::size_t i = 0; i < sheet.doses.size(); ++i) {
      const Dose& dose = sheet.doses[i];
      auto row =
          std::find_if(state.beds.begin(), state.beds.end(), [&](const PassBed& bed) { return bed.bed == dose.bed; });
      if (row == state.beds.end()) continue;
      row->doses.push_back(dose.id);
      if (dose.is_skipped()) {
        row->skip_reason = dose.note.empty() ? "other" : dose.note;
        skipped_last.insert(row->bed);
        continue;
      }
      skipped_last.erase(row->bed);
      row->treated.push_back(dose.stretch());
      row->load_number = sheet.load.number;
      if (dose.finish && (!row->finish || dose.finish->at > *row->finish)) row->finish = dose.finish->at;
      add_volume(row->got, sheet.volumes[i]);
    }
  for (PassBed& bed : state.beds) {
    const Stretch whole{Length{}, bed.length};
    bed.treated = merged(std::move(bed.treated));
    bed.open = uncovered(whole, bed.treated);
    const bool skipped = skipped_last.count(bed.bed) != 0;
    if (bed.treated.empty()) {
      bed.progress = skipped ? BedProgress::Skipped : BedProgress::Open;
    } else {
      bed.progress = bed.open.empty() ? BedProgress::Done : BedProgress::Part;
    }
    if (skipped) bed.open.clear();  // What was left of it was skipped, with a reason.
    if (bed.length.si() <= 0 && bed.treated.empty() && bed.progress == BedProgress::Open) bed.open = {whole};
  }
}

bool is_open(const PassBed& bed) { return !bed.open.empty(); }

void set_hand(PassState& state, const Id& chosen) {
  for (std::size_t i = 0; i < state.beds.size(); ++i) {
    if (state.beds[i].bed == chosen && is_open(state.beds[i])) state.in_hand = i;
  }
  for (std::size_t i = 0; i < state.beds.size() && !state.in_hand; ++i)
    if (is_open(state.beds[i])) state.in_hand = i;
  if (!state.in_hand) return;
  for (std::size_t step = 1; step < state.beds.size() && !state.next; ++step) {
    const std::size_t i = (*state.in_hand + step) % state.beds.size();
    if (is_open(state.beds[i])) state.next = i;
  }
}

void set_tank(PassState& state, const Codes& codes, Volume dead) {
  if (state.loads.empty()) return;
  const LoadSheet& sheet = state.loads.back();
  TankState& tank = state.tank;
  tank.load = sheet.load.id;
  tank.number = sheet.load.number;
  tank.brew = sheet.load.brew;
  if (!tank.brew.is_nil()) tank.brew_code = codes.text(tank.brew);
  tank.tea = sheet.load.tea;
  tank.water = sheet.load.water;
  tank.dead = dead;
  tank.tea_fraction = sheet.shares.tea_fraction;
  tank.in_full = sheet.shares.held;
  double used = 0;
  bool known = true;
  for (std::size_t i = 0; i < sheet.doses.size(); ++i) {
    if (sheet.doses[i].is_skipped()) continue;
    known = known && sheet.volumes[i].spray.has_value();
    used += sheet.volumes[i].spray.value_or(Volume{}).si();
  }
  if (known) tank.used = Volume::from_si(used);
  if (tank.in_full && tank.used) {
    tank.left = std::max(Volume{}, *tank.in_full - *tank.used);
    tank.can_spray = std::max(Volume{}, *tank.left - dead);
  }
}

/// The beds in the order in which the walk reaches them from the one in hand.
std::vector<std::size_t> walk_order(const PassState& state) {
  std::vector<std::size_t> order;
  if (!state.in_hand) return order;
  for (std::size_t step = 0; step < state.beds.size(); ++step) {
    const std::size_t i = (*state.in_hand + step) % state.beds.size();
    if (is_open(state.beds[i])) order.push_back(i);
  }
  return order;
}

void set_shares(PassState& state, std::optional<Length> swath) {
  const auto rate = state.spray_rate;
  for (PassBed& bed : state.beds) {
    if (!rate) continue;
    const Length width = state.rate_area == RateArea::Swath && swath ? *swath : bed.width;
    const Length length = is_open(bed) ? bed.open_length() : bed.length;
    if (width.si() <= 0 || length.si() <= 0) continue;
    bed.spray = *rate * (length * width);
    bed.tea = state.tank.tea_of(*bed.spray);
    if (!bed.tea && state.pass.tea_rate) bed.tea = *state.pass.tea_rate * (length * width);
  }
}

/// Place along an open bed after `share` of what is open, in the direction of the walk.
Length place_along(const PassBed& bed, double share) {
  Length rest = bed.open_length() * share;
  const auto walk = [&](auto begin, auto end) {
    for (auto part = begin; part != end; ++part) {
      if (rest <= part->length()) return bed.from_far_end ? part->to - rest : part->from + rest;
      rest = rest - part->length();
    }
    return bed.from_far_end ? Length{} : bed.length;
  };
  return bed.from_far_end ? walk(bed.open.rbegin(), bed.open.rend()) : walk(bed.open.begin(), bed.open.end());
}

void set_beds_left(PassState& state) {
  if (!state.tank.can_spray || !state.spray_rate) return;
  BedsLeft left;
  double rest = state.tank.can_spray->si();
  bool dry = false;
  for (const std::size_t i : walk_order(state)) {
    PassBed& bed = state.beds[i];
    if (!bed.spray || bed.spray->si() <= 0) return;  // A bed of unknown size: nobody can say.
    if (dry) {
      bed.will_be_next_load = true;
    } else if (rest >= bed.spray->si() * (1 - 1e-6)) {
      rest -= bed.spray->si();
      ++left.whole;
    } else {
      const double share = std::clamp(rest / bed.spray->si(), 0.0, 1.0);
      left.part = part_rounded_down(share);
      state.dry_bed = i;
      state.dry_at = place_along(bed, share);
      dry = true;
    }
  }
  state.beds_left = left;
}

void set_expected_loads(PassState& state, std::optional<Volume> tank) {
  state.loads_expected = static_cast<int>(state.loads.size());
  if (!state.dry_bed || !tank) return;
  double needed = -state.tank.can_spray->si();
  for (const PassBed& bed : state.beds)
    if (is_open(bed) && bed.spray) needed += bed.spray->si();
  const double a_load = tank->si() - state.tank.dead.si();
  if (a_load > 0 && needed > 1e-9) state.loads_expected += static_cast<int>(std::ceil(needed / a_load - 1e-9));
}

/// What really came out of the closed loads, once three beds were done with them.
void set_real_rate(PassState& state, std::optional<Length> swath) {
  double gave = 0, area = 0;
  int beds = 0;
  for (const LoadSheet& sheet : state.loads) {
    if (!sheet.shares.gave) continue;
    gave += sheet.shares.gave->si();
    for (const Dose& dose : sheet.doses) {
      if (dose.is_skipped()) continue;
      const double width =
          state.rate_area == RateArea::Swath && swath ? swath->si() : dose.width.value_or(Length{}).si();
      area += dose.stretch().length().si() * width;
      ++beds;
    }
  }
  if (beds < 3 || area <= 0 || gave <= 0) return;
  state.real_rate = VolumePerArea::from_si(gave / area);
  if (state.spray_rate && state.spray_rate->si() > 0)
    state.rate_is_off = std::abs(*state.real_rate / *state.spray_rate - 1) > 0.20;
}

Result<void> set_picks(const Book& book, PassState& state, const Places& places, Moment now) {
  TRY_ASSIGN(const std::vector<PlannedWork>& picks, planned_picks(book, places.same, state.farm.id));
  for (PassBed& bed : state.beds) {
    const std::vector<Id> same = places.same.same(bed.bed);
    for (const PlannedWork& pick : picks)
      if (pick.at->at >= now && pick.is_on(same) && (!bed.planned_pick || pick.at->at < *bed.planned_pick))
        bed.planned_pick = pick.at->at;
  }
  return {};
}

Result<void> set_waits(const Book& book, PassState& state, const Places& places, Moment now) {
  if (state.tank.load.is_nil()) return {};
  TRY_ASSIGN(const Doubts& doubts, Doubts::read(book));
  TRY_ASSIGN(const WaitRules& rules, WaitRules::read(book, state.farm, doubts, places.same, state.pass.id));
  const TankFacts& tank = rules.tank(state.tank.load);
  for (PassBed& row : state.beds) {
    if (!is_open(row)) continue;
    std::vector<std::string> crops;
    for (const Planting* planting : places.crops_of(row.bed)) crops.push_back(planting->crop);
    for (const std::string& crop : crops)
      for (const Id& material : rules.labels_without(tank.lots, crop))
        if (!row.stop)
          row.stop = Problem{Trouble::BadInput,
                             "check.crop-not-on-label"_w,
                             {row.name, rules.material_name(material), crop},
                             row.name};
    const StartedHolds started = rules.holds_after(tank, crops, {now}, places.same.is_shared(row.bed));
    if (row.planned_pick) row.pick_inside_wait = started.harvest.holds_at(*row.planned_pick);
    if (row.pick_inside_wait)
      row.cautions.push_back(
          {"check.pick-planned"_w, {row.name, moment_value_text(*row.planned_pick)}, "bed", row.bed});
    if (state.hand() != &row) continue;
    state.harvest_if_now = started.harvest;
    state.entry_if_now = started.entry;
    for (const Contributor& one : started.harvest.contributors)
      state.rule_undecided = state.rule_undecided || one.wait.kind == Wait::Kind::Undecided;
  }
  if (tank.brew.is_nil()) return {};
  TRY_ASSIGN(const Brew& brew, read_brew(book, tank.brew));
  if (!brew.met_water) return {};
  const auto time = tea_time(brew.met_water->at, now);
  if (time && time->liquid == Liquid::ExtractSoonTea)
    state.extract_note = Caution{"check.extract-soon-tea"_w, {std::to_string(time->minutes)}, "mix.brew", brew.id};
  return {};
}

Result<void> set_undo(const Book& book, PassState& state) {
  TRY_ASSIGN(const std::optional<LastPress>& last, last_press(book, state.pass.id));
  if (!last) return {};
  state.undo.record = last->record;
  state.undo.load_number = last->load_number;
  state.undo.what = last->is_refill ? UndoStep::What::Refill
                    : last->is_skip ? UndoStep::What::Skip
                                    : UndoStep::What::Dose;
  for (const PassBed& bed : state.beds)
    if (bed.bed == last->bed) state.undo.bed = bed.name;
  return {};
}

}  // namespace

Length PassBed::open_length() const {
  Length sum;
  for (const Stretch part : open) sum += part.length();
  return sum;
}

std::optional<Volume> TankState::tea_of(Volume spray) const {
  if (!tea_fraction) return std::nullopt;
  return spray * *tea_fraction;
}

BedsLeft::Part part_rounded_down(double fraction) {
  // A hair under a mark is the mark: sums of floating numbers are no measure of the field.
  const auto reaches = [&](double mark) { return fraction >= mark - 1e-6; };
  if (reaches(3.0 / 4)) return BedsLeft::Part::ThreeQuarters;
  if (reaches(2.0 / 3)) return BedsLeft::Part::TwoThirds;
  if (reaches(1.0 / 2)) return BedsLeft::Part::Half;
  if (reaches(1.0 / 3)) return BedsLeft::Part::Third;
  return reaches(1.0 / 4) ? BedsLeft::Part::Quarter : BedsLeft::Part::None;
}

std::string BedsLeft::text() const {
  static constexpr std::string_view kSigns[] = {"", "¼", "⅓", "½", "⅔", "¾"};
  const std::string sign(kSigns[static_cast<int>(part)]);
  return whole == 0 && !sign.empty() ? sign : std::to_string(whole) + sign;
}

void add_volume(ShownVolume& sum, const ShownVolume& more) {
  if (sum.how == HowKnown::NotKnown && !sum.spray) {
    sum = more;
    return;
  }
  // The least certain of the parts says how the sum was got.
  sum.how = std::max(sum.how, more.how);
  if (sum.spray && more.spray) {
    *sum.spray += *more.spray;
  } else {
    sum.spray.reset();
    sum.how = HowKnown::NotKnown;
  }
  if (sum.tea && more.tea) {
    *sum.tea += *more.tea;
  } else {
    sum.tea.reset();
  }
}

std::optional<Volume> left_by_rate(const TankState& tank, std::optional<Volume> more) {
  if (!tank.in_full || !tank.used || !more) return std::nullopt;
  return *tank.in_full - *tank.used - *more;
}

Volume left_tolerance(Volume held) {
  // A quarter of the tank, half a liter of a small one (common practice, no source).
  return std::max(held * 0.25, Volume::from_liters(0.5));
}

void check_left_by_rate(const TankState& tank, const std::optional<Written>& left, std::optional<Volume> more,
                        std::vector<Caution>& cautions) {
  const auto expected = left_by_rate(tank, more);
  if (!left || !expected) return;
  if (std::abs(as<Volume>(*left).si() - expected->si()) <= left_tolerance(*tank.in_full).si()) return;
  if (expected->si() < 0)
    cautions.push_back({"check.dry-by-rate"_w, {amount_value_text(-*expected)}, "left", tank.load});
  else
    cautions.push_back(
        {"check.left-far-off"_w, {amount_value_text(*left), amount_value_text(*expected)}, "left", tank.load});
}

std::string place_names(const std::vector<std::string>& blocks) {
  std::vector<std::string> distinct;
  for (const std::string& block : blocks)
    if (!block.empty() && std::find(distinct.begin(), distinct.end(), block) == distinct.end())
      distinct.push_back(block);
  return join(distinct, ", ");
}

Result<std::optional<LastPress>> last_press(const Book& book, const Id& pass) {
  // Rows of records are numbered in the order in which this copy wrote them: two presses within one
  // millisecond keep their order. The first load came with the start of the pass: that is no press.
  Query query = book.db().query(
      "SELECT d.rec AS row, d.uid, d.what_bed, d.what_load, 0, d.what_how = 'skipped', 0 FROM k_dose d "
      "JOIN k_load l ON l.uid = d.what_load WHERE l.pass = ?1 AND d.struck IS NULL UNION ALL "
      "SELECT rec, uid, NULL, uid, number_n, 0, 1 FROM k_load WHERE pass = ?1 AND struck IS NULL AND number_n > 1 "
      "ORDER BY row DESC LIMIT 1");
  query.bind(1, pass);
  std::optional<LastPress> last;
  if (query.next())
    last = LastPress{query.id(1),           query.id(2),          query.id(3), static_cast<int>(query.real(4)),
                     query.integer(5) != 0, query.integer(6) != 0};
  TRY(query.done());
  return last;
}

namespace {

/// The beds of the pass in its order, then those that only a dose names.
void list_beds(PassState& state, const Places& places) {
  std::set<Id> listed;
  std::vector<std::string> blocks;
  const auto add_bed = [&](const Id& id) {
    const Bed* bed = places.any_bed(id);
    if (!bed || !listed.insert(bed->id).second) return;
    const bool turned = state.pass.walk == Walk::TurnAtEachBed && state.beds.size() % 2 == 1;
    state.beds.push_back(start_bed(places, *bed, state.pass.from_far_end != turned));
    // A dose may name a bed that is the same as another: the row keeps the id that the dose has.
    state.beds.back().bed = id;
    blocks.push_back(bed->block_name);
  };
  for (const Id& id : state.pass.beds) add_bed(id);
  for (const LoadSheet& sheet : state.loads)
    for (const Dose& dose : sheet.doses) add_bed(dose.bed);
  state.place = place_names(blocks);
}

/// How many beds stand where, and since when the bed in hand has been in hand.
void count_beds(PassState& state) {
  for (const PassBed& bed : state.beds) {
    state.done += bed.progress == BedProgress::Done;
    state.skipped += bed.progress == BedProgress::Skipped;
    state.open += is_open(bed);
    if (bed.finish && (!state.in_hand_since || *bed.finish > *state.in_hand_since)) state.in_hand_since = bed.finish;
  }
  if (!state.in_hand_since) state.in_hand_since = state.pass.start.at;
  if (!state.loads.empty() && state.loads.back().load.filled)
    state.in_hand_since = std::max(*state.in_hand_since, state.loads.back().load.filled->at);
}

Result<std::optional<RigCalibration>> calibration_of(const Book& book, const Pass& pass) {
  TRY_ASSIGN(const std::vector<RigCalibration>& all, calibrations(book, pass.rig));
  for (const RigCalibration& one : all)
    if (one.id == pass.calibration) return std::optional(one);
  return std::optional<RigCalibration>();
}

}  // namespace

Result<PassState> pass_state(const Book& book, const Id& pass, const Id& chosen, Moment now) {
  PassState state;
  TRY_ASSIGN(state.pass, read_pass(book, pass));
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  state.code = codes.text(pass);
  TRY_ASSIGN(const Farm& farm, read_farm(book, state.pass.farm));
  TRY_ASSIGN(const auto& known, kept_places(book, farm.id, farm.day(state.pass.start.at)));
  const Places& places = *known;
  state.farm = places.farm;
  state.is_ended = !state.pass.is_open();
  Rig rig;
  if (auto found = read_rig(book, state.pass.rig)) rig = std::move(*found);
  state.rig_name = rig.name;
  TRY_ASSIGN(const std::optional<RigCalibration>& calibration, calibration_of(book, state.pass));
  std::optional<Length> swath = rig.swath.maybe();
  if (calibration && calibration->swath) swath = calibration->swath.maybe();

  TRY_ASSIGN(state.loads, load_sheets(book, state.pass));
  list_beds(state, places);
  state.spray_rate = state.pass.spray_rate.maybe();
  state.rate_area = state.pass.rate_area;
  add_doses(state);
  set_hand(state, chosen);
  set_tank(state, codes, rig.dead.value_or(Volume{}));
  set_shares(state, swath);
  set_beds_left(state);
  set_expected_loads(state, rig.tank.maybe());
  set_real_rate(state, swath);
  TRY(set_picks(book, state, places, now));
  TRY(set_waits(book, state, places, now));
  count_beds(state);
  if (const PassBed* hand = state.hand(); hand && calibration && calibration->speed && calibration->speed->si() > 0)
    state.walk_time = Duration::from_si(hand->open_length().si() / calibration->speed->si());
  if (!state.is_ended) TRY(set_undo(book, state));
  return state;
}

}  // namespace steep
