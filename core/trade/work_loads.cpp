// The calculations 'loads', 'share', 'due', 'hold'.
#include "base/text.h"
#include "base/zone.h"
#include "trade/due.h"
#include "trade/hold.h"
#include "trade/loads.h"
#include "trade/share.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

// loads

constexpr InputSpec kBedColumns[] = {
    quantity_input("length", Dimension::Length, "work-input.bed-length"_w),
    quantity_input("width", Dimension::Length, "work-input.bed-width"_w),
    plain_input("count", InputKind::Whole, "work-input.bed-count"_w).or_standard("1"),
};
constexpr InputSpec kLoadsInputs[] = {
    row_input("bed", kBedColumns, "work-input.bed"_w).repeated(),
    quantity_input("tea-rate", Dimension::VolumePerArea, "work-input.tea-rate"_w),
    quantity_input("spray-rate", Dimension::VolumePerArea, "work-input.spray-rate"_w),
    quantity_input("tank", Dimension::Volume, "work-input.tank"_w),
    quantity_input("dead-volume", Dimension::Volume, "work-input.dead-volume"_w).or_standard("0 L"),
    word_input("split", "equal|full-and-rest", "work-input.split"_w).or_standard("equal"),
    word_input("walk", "same-end|turn-at-each-bed", "work-input.walk"_w).or_standard("same-end"),
};
constexpr OutputSpec kLoadsOutputs[] = {
    {"area", OutputKind::Quantity, "m2", 1, "work-result.area"_w},
    {"tea", OutputKind::Quantity, "L", 2, "work-result.tea-in-all"_w},
    {"water", OutputKind::Quantity, "L", 2, "work-result.water-in-all"_w},
    {"spray", OutputKind::Quantity, "L", 2, "work-result.spray-in-all"_w},
    {"left", OutputKind::Quantity, "L", 2, "work-result.left-in-tank"_w},
    {"tea-rate", OutputKind::Quantity, "gal/acre", 2, "work-result.tea-rate"_w},
    {"tea-rate-metric", OutputKind::Quantity, "L/ha", 1, "work-result.tea-rate"_w},
    {"spray-rate", OutputKind::Quantity, "gal/acre", 2, "work-result.spray-rate"_w},
    {"spray-rate-metric", OutputKind::Quantity, "L/ha", 1, "work-result.spray-rate"_w},
    {"loads", OutputKind::Whole, "", 0, "work-result.loads"_w},
    {"load-*-in-tank", OutputKind::Quantity, "L", 2, "work-result.load-in-tank"_w},
    {"load-*-can-be-sprayed", OutputKind::Quantity, "L", 2, "work-result.load-can-spray"_w},
    {"load-*-add-tea", OutputKind::Quantity, "L", 2, "work-result.load-add-tea"_w},
    {"load-*-add-water", OutputKind::Quantity, "L", 2, "work-result.load-add-water"_w},
    {"load-*-last-bed", OutputKind::Whole, "", 0, "work-result.load-last-bed"_w},
    {"load-*-ends-at", OutputKind::Quantity, "ft", 1, "work-result.load-ends-at"_w},
};
const extern Calculation kLoads;

Result<std::vector<LoadBed>> beds_of(const Inputs& in) {
  std::vector<LoadBed> beds;
  for (const Value* row : in.all("bed")) {
    const Length length = row->columns[0]->as<Length>(), width = row->columns[1]->as<Length>();
    const double count = row->columns[2]->number;
    if (!(count >= 1 && count <= 10000)) return refuse(Trouble::BadInput, "loads.bed-count"_w, {row->text}, "bed");
    for (int i = 0; i < static_cast<int>(count); ++i) beds.push_back({{Length{}, length}, length * width});
  }
  return beds;
}

void answer_load(Answer& answer, const LoadPlan::Load& load, int number) {
  answer.quantity("load-*-in-tank", load.in_tank.spray(), number);
  answer.quantity("load-*-can-be-sprayed", load.can_spray, number);
  answer.quantity("load-*-add-tea", load.to_add.tea, number);
  answer.quantity("load-*-add-water", load.to_add.water, number);
  answer.number("load-*-last-bed", static_cast<double>(load.last_bed) + 1, number);
  answer.quantity("load-*-ends-at", load.ends_at, number);
}

std::string gallons(Volume volume) { return figure(volume.gallons()); }
std::string mix_text(const Mix& mix) { return gallons(mix.tea) + " + " + gallons(mix.water) + " gal"; }

void explain_load(Answer& answer, const LoadPlanInput& input, const LoadPlan& plan, int number) {
  const LoadPlan::Load& load = plan.loads[static_cast<std::size_t>(number) - 1];
  const std::string count = std::to_string(plan.loads.size()), spray = gallons(load.can_spray);
  if (input.split == LoadSplit::Equal)
    answer.step("load-*-can-be-sprayed", "spray on the beds / loads",
                gallons(plan.on_beds.spray()) + " / " + count + " = " + spray + " gal", number);
  else
    answer.step("load-*-can-be-sprayed", "tank − dead volume, the rest last",
                gallons(input.tank) + " − " + gallons(input.dead) + " → " + spray + " gal", number);
  answer.step("load-*-in-tank", "can be sprayed + dead volume",
              spray + " + " + gallons(input.dead) + " = " + gallons(load.in_tank.spray()) + " gal", number);
  const std::string fraction = figure(plan.tea_fraction);
  const std::string in_all = gallons(load.to_add.spray()) + " gal";
  answer.step("load-*-add-tea", "to add · tea / spray",
              in_all + " × " + fraction + " = " + gallons(load.to_add.tea) + " gal", number);
  answer.step("load-*-add-water", "to add · (1 − tea / spray)",
              in_all + " × (1 − " + fraction + ") = " + gallons(load.to_add.water) + " gal", number);
  answer.step("load-*-last-bed load-*-ends-at", "area = can be sprayed / spray rate",
              spray + " gal / " + figure(input.spray_rate.gallons_per_acre()) +
                  " gal/acre = " + figure(load.area.square_feet()) + " ft2 → " + std::to_string(load.last_bed + 1) +
                  ", " + figure(load.ends_at.feet()) + " ft",
              number);
}

void explain_loads(Answer& answer, const LoadPlanInput& input, const LoadPlan& plan) {
  const std::string acres = figure(plan.area.acres()) + " acre";
  const std::string tea_rate = figure(input.tea_rate.gallons_per_acre()) + " gal/acre",
                    spray_rate = figure(input.spray_rate.gallons_per_acre()) + " gal/acre";
  const std::string dead = gallons(input.dead), fraction = figure(plan.tea_fraction);
  answer.step("area", "Σ length · width",
              std::to_string(input.beds.size()) + " → " + figure(plan.area.square_feet()) + " ft2 = " + acres);
  answer.step("spray", "spray = spray rate · area + dead volume",
              spray_rate + " × " + acres + " + " + dead + " gal = " + gallons(plan.total.spray()) + " gal");
  answer.step("tea", "tea = spray · tea rate / spray rate",
              gallons(plan.total.spray()) + " gal × " + fraction + " = " + gallons(plan.total.tea) + " gal");
  answer.step(
      "water", "water = spray − tea",
      gallons(plan.total.spray()) + " − " + gallons(plan.total.tea) + " = " + gallons(plan.total.water) + " gal");
  answer.step("left", "left = dead volume", mix_text(plan.left));
  answer.step("tea-rate tea-rate-metric", "tea rate",
              tea_rate + " = " + figure(input.tea_rate.liters_per_hectare()) + " L/ha");
  answer.step("spray-rate spray-rate-metric", "spray rate",
              spray_rate + " = " + figure(input.spray_rate.liters_per_hectare()) + " L/ha");
  answer.step("loads", "loads = spray / (tank − dead volume)",
              gallons(plan.on_beds.spray()) + " / (" + gallons(input.tank) + " − " + dead + ") → " +
                  std::to_string(plan.loads.size()));
  for (std::size_t i = 0; i < plan.loads.size(); ++i) explain_load(answer, input, plan, static_cast<int>(i) + 1);
}

Result<Answer> run_loads(const Inputs& in) {
  LoadPlanInput input;
  TRY_ASSIGN(input.beds, beds_of(in));
  input.tea_rate = in.get<VolumePerArea>("tea-rate");
  input.spray_rate = in.get<VolumePerArea>("spray-rate");
  input.tank = in.get<Volume>("tank");
  input.dead = in.get<Volume>("dead-volume");
  input.split = in["split"].text == "equal" ? LoadSplit::Equal : LoadSplit::FullAndRest;
  input.walk = in["walk"].text == "same-end" ? Walk::SameEnd : Walk::TurnAtEachBed;
  TRY_ASSIGN(const LoadPlan plan, plan_loads(input));
  Answer answer(kLoads);
  answer.quantity("area", plan.area);
  answer.quantity("tea", plan.total.tea);
  answer.quantity("water", plan.total.water);
  answer.quantity("spray", plan.total.spray());
  answer.quantity("left", plan.left.spray());
  answer.quantity("tea-rate", input.tea_rate);
  answer.quantity("tea-rate-metric", input.tea_rate);
  answer.quantity("spray-rate", input.spray_rate);
  answer.quantity("spray-rate-metric", input.spray_rate);
  answer.number("loads", static_cast<double>(plan.loads.size()));
  for (std::size_t i = 0; i < plan.loads.size(); ++i) answer_load(answer, plan.loads[i], static_cast<int>(i) + 1);
  explain_loads(answer, input, plan);
  answer.note("loads.two-rates"_w);
  if (plan.loads.front().in_tank.spray().liters() > 20) answer.caution("loads.heavy"_w);
  return answer;
}

const Calculation kLoads{"loads", "spray", "work.loads"_w, kLoadsInputs, kLoadsOutputs, "arithmetic of mixing",
                         "--bed \"100 ft; 30 in; 18\" --tea-rate \"20 gal/acre\" --spray-rate \"45 gal/acre\" --tank \"4 gal\"", run_loads};

// share

constexpr InputSpec kDoseColumns[] = {
    quantity_input("area", Dimension::Area, "work-input.dose-area"_w),
    quantity_input("measured", Dimension::Volume, "work-input.dose-measured"_w).optional(),
};
constexpr InputSpec kShareInputs[] = {
    quantity_input("tea", Dimension::Volume, "work-input.load-tea"_w),
    quantity_input("water", Dimension::Volume, "work-input.load-water"_w),
    quantity_input("left", Dimension::Volume, "work-input.load-left"_w).optional(),
    row_input("dose", kDoseColumns, "work-input.dose"_w).repeated(),
    quantity_input("spray-rate", Dimension::VolumePerArea, "work-input.spray-rate"_w).optional(),
};
constexpr OutputSpec kShareOutputs[] = {
    {"gave", OutputKind::Quantity, "L", 3, "work-result.gave"_w},
    {"tea-share", OutputKind::Quantity, "%", 2, "work-result.tea-share"_w},
    {"dose-*-spray", OutputKind::Quantity, "L", 3, "work-result.dose-spray"_w},
    {"dose-*-tea", OutputKind::Quantity, "L", 3, "work-result.dose-tea"_w},
    {"dose-*-how", OutputKind::Word, "", 0, "work-result.dose-how"_w},
    {"unaccounted", OutputKind::Quantity, "L", 3, "work-result.unaccounted"_w},
};
const extern Calculation kShare;

const char* how_word(HowKnown how) {
  switch (how) {
    case HowKnown::Measured: return "measured";
    case HowKnown::Share: return "share-of-load";
    case HowKnown::Rate: return "rate-times-area";
    case HowKnown::NotKnown: return "not-known";
    case HowKnown::Skipped: return "skipped";
  }
  return "";
}

void explain_dose(Answer& answer, const LoadShares& shares, const DoseShare& dose, const ShownVolume& shown,
                  int number) {
  const std::string area = figure(dose.area.square_meters()) + " m2";
  const std::string spray = shown.spray ? figure(shown.spray->liters()) + " L" : std::string("?");
  if (shown.how == HowKnown::Measured)
    answer.step("dose-*-spray dose-*-how", "measured", spray, number);
  else if (shown.how == HowKnown::Share)
    answer.step("dose-*-spray dose-*-how", "share = (load − left − measured) · area / Σ area",
                figure(shares.gave->liters()) + " L − …, " + area + " → " + spray, number);
  else
    answer.step("dose-*-spray dose-*-how", "~ spray rate · area", area + " → " + spray, number);
  if (shown.tea)
    answer.step("dose-*-tea", "spray · tea / (tea + water)",
                spray + " × " + figure(*shares.tea_fraction) + " = " + figure(shown.tea->liters()) + " L", number);
}

void explain_share(Answer& answer, const LoadVolumes& load, std::span<const DoseShare> doses,
                   const LoadShares& shares) {
  const std::string tea = figure(load.tea->liters()), water = figure(load.water->liters());
  if (shares.gave)
    answer.step(
        "gave", "tea + water − left",
        tea + " + " + water + " − " + figure(load.left->liters()) + " = " + figure(shares.gave->liters()) + " L");
  if (shares.tea_fraction)
    answer.step("tea-share", "tea / (tea + water)",
                tea + " / (" + tea + " + " + water + ") = " + figure(100 * *shares.tea_fraction) + " %");
  for (std::size_t i = 0; i < doses.size(); ++i)
    explain_dose(answer, shares, doses[i], shares.doses[i], static_cast<int>(i) + 1);
  if (shares.unaccounted)
    answer.step("unaccounted", "load − left − Σ measured",
                figure(shares.gave->liters()) + " L − Σ = " + figure(shares.unaccounted->liters()) + " L");
}

Result<Answer> run_share(const Inputs& in) {
  LoadVolumes load;
  load.tea = in.get<Volume>("tea");
  load.water = in.get<Volume>("water");
  load.left = in.maybe<Volume>("left");
  load.closed = load.left.has_value();
  load.spray_rate = in.maybe<VolumePerArea>("spray-rate");
  std::vector<DoseShare> doses;
  for (const Value* row : in.all("dose"))
    doses.push_back({row->columns[0]->as<Area>(),
                     row->columns[1] ? std::optional(row->columns[1]->as<Volume>()) : std::nullopt, false});
  const LoadShares shares = share_load(load, doses);
  Answer answer(kShare);
  if (shares.gave) answer.quantity("gave", *shares.gave);
  if (shares.tea_fraction) answer.number("tea-share", 100 * *shares.tea_fraction);
  int number = 0;
  for (const ShownVolume& dose : shares.doses) {
    ++number;
    if (dose.spray) answer.quantity("dose-*-spray", *dose.spray, number);
    if (dose.tea) answer.quantity("dose-*-tea", *dose.tea, number);
    answer.text("dose-*-how", how_word(dose.how), number);
  }
  if (shares.unaccounted) answer.quantity("unaccounted", *shares.unaccounted);
  if (shares.overdrawn) answer.caution("share.overdrawn"_w);
  explain_share(answer, load, doses, shares);
  return answer;
}

const Calculation kShare{"share", "spray", "work.share"_w, kShareInputs, kShareOutputs, "mass balance; common practice, no source",
                         "--tea \"2 gal\" --water \"2 gal\" --left \"0.4 gal\" --dose \"250 ft2\" --dose \"125 ft2; 0.6 gal\"", run_share};

// due

constexpr InputSpec kIntervalColumns[] = {
    word_input("place", "farm|block|crop|planting", "work-input.interval-place"_w),
    plain_input("days", InputKind::Whole, "work-input.interval-days"_w),
};
constexpr InputSpec kTeaColumns[] = {
    plain_input("day", InputKind::Date, "work-input.dose-day"_w),
    quantity_input("from", Dimension::Length, "work-input.dose-from"_w).optional(),
    quantity_input("to", Dimension::Length, "work-input.dose-to"_w).optional(),
};
constexpr InputSpec kDueInputs[] = {
    row_input("interval", kIntervalColumns, "work-input.interval"_w).repeated(),
    row_input("tea", kTeaColumns, "work-input.tea-dose"_w).repeated().optional(),
    quantity_input("length", Dimension::Length, "work-input.bed-length"_w).or_standard("100 ft"),
    plain_input("today", InputKind::Date, "work-input.today"_w),
};
constexpr OutputSpec kDueOutputs[] = {
    {"interval-days", OutputKind::Whole, "", 0, "work-result.interval-days"_w},
    {"stretch-*-from", OutputKind::Quantity, "ft", 1, "work-result.stretch-from"_w},
    {"stretch-*-to", OutputKind::Quantity, "ft", 1, "work-result.stretch-to"_w},
    {"stretch-*-next", OutputKind::Date, "", 0, "work-result.stretch-next"_w},
    {"stretch-*-days-left", OutputKind::Number, "", 0, "work-result.stretch-days-left"_w},
};
const extern Calculation kDue;

Result<Answer> run_due(const Inputs& in) {
  std::vector<Interval> intervals;
  for (const Value* row : in.all("interval")) {
    const std::string& place = row->columns[0]->text;
    intervals.push_back({place == "planting" ? IntervalPlace::Planting
                         : place == "crop"   ? IntervalPlace::Crop
                         : place == "block"  ? IntervalPlace::Block
                                             : IntervalPlace::Farm,
                         false, static_cast<int>(row->columns[1]->number)});
  }
  const Stretch whole{Length{}, in.get<Length>("length")};
  const Zone utc;
  std::vector<TeaDose> doses;
  for (const Value* row : in.all("tea"))
    doses.push_back({{row->columns[1] ? row->columns[1]->as<Length>() : whole.from,
                      row->columns[2] ? row->columns[2]->as<Length>() : whole.to},
                     Aim::Leaf,
                     utc.start_of(row->columns[0]->date)});
  const auto answer_due = due(whole, intervals, false, doses, in["today"].date, utc);
  if (!answer_due) return refuse(Trouble::BadInput, "due.no-interval"_w, {}, "interval");
  Answer answer(kDue);
  answer.number("interval-days", answer_due->interval.days);
  answer.step("interval-days", "planting, crop, block, farm: the first that is set",
              std::to_string(answer_due->interval.days) + " d");
  int number = 0;
  for (const DueStretch& stretch : answer_due->stretches) {
    ++number;
    answer.quantity("stretch-*-from", stretch.stretch.from, number);
    answer.quantity("stretch-*-to", stretch.stretch.to, number);
    if (stretch.next) answer.text("stretch-*-next", date_text(*stretch.next), number);
    answer.number("stretch-*-days-left", stretch.days_left, number);
    const std::string last = stretch.last ? date_text(utc.local(*stretch.last).date) : std::string("—");
    answer.step("stretch-*-from stretch-*-to", "last tea on it", last, number);
    if (!stretch.next) {
      answer.step("stretch-*-days-left", "no tea yet", "0", number);
      continue;
    }
    answer.step("stretch-*-next", "next = last + days",
                last + " + " + std::to_string(answer_due->interval.days) + " d = " + date_text(*stretch.next), number);
    answer.step("stretch-*-days-left", "next − today",
                date_text(*stretch.next) + " − " + in["today"].text + " = " + std::to_string(stretch.days_left) + " d",
                number);
  }
  return answer;
}

const Calculation kDue{"due", "spray", "work.due"_w, kDueInputs, kDueOutputs, "the farm's own interval",
                       "--interval \"farm; 14\" --tea \"2026-06-01\" --tea \"2026-06-08; 0 ft; 40 ft\" --today 2026-06-16", run_due};

// hold

constexpr InputSpec kWaitColumns[] = {
    plain_input("rule", InputKind::Text, "work-input.rule-name"_w),
    plain_input("wait", InputKind::Text, "work-input.rule-wait"_w),
};
constexpr InputSpec kHoldInputs[] = {
    plain_input("finish", InputKind::LocalTime, "work-input.finish"_w),
    row_input("harvest", kWaitColumns, "work-input.harvest-wait"_w).repeated().optional(),
    row_input("entry", kWaitColumns, "work-input.entry-wait"_w).repeated().optional(),
    word_input("counting", "dates|hours", "work-input.counting"_w).or_standard("dates"),
    plain_input("zone", InputKind::Text, "work-input.zone"_w).or_standard("America/New_York"),
};
constexpr OutputSpec kHoldOutputs[] = {
    {"no-harvest-until", OutputKind::LocalTime, "", 0, "work-result.no-harvest-until"_w},
    {"harvest-rule", OutputKind::Text, "", 0, "work-result.harvest-rule"_w},
    {"harvest-state", OutputKind::Word, "", 0, "work-result.harvest-state"_w},
    {"no-entry-until", OutputKind::LocalTime, "", 0, "work-result.no-entry-until"_w},
    {"entry-rule", OutputKind::Text, "", 0, "work-result.entry-rule"_w},
    {"entry-state", OutputKind::Word, "", 0, "work-result.entry-state"_w},
};
const extern Calculation kHold;

/// '7 days', '12 h', 'undecided', 'not on label', 'not known'.
Result<Wait> read_wait(const Value& value) {
  const std::string word = lower(value.text);
  if (word == "undecided") return Wait::undecided();
  if (word == "not on label" || word == "not-on-label") return Wait::not_on_label();
  if (word == "not known" || word == "not-known" || word == "?") return Wait::not_known();
  const auto read = read_quantity(word, Dimension::Time, Habits{}, &unit("day"));
  const double hours = read ? si(*read).to_double() / 3600 : -1;
  if (!(hours >= 0) || hours != static_cast<int>(hours))
    return refuse(Trouble::BadInput, "hold.wait-unreadable"_w, {value.text}, "harvest");
  const bool in_days = read->unit->word == "day" || read->unit->word == "week";
  return in_days ? Wait::days(static_cast<int>(hours / 24)) : Wait::hours(static_cast<int>(hours));
}

Result<std::vector<RuleWait>> waits_of(const Inputs& in, std::string_view name) {
  std::vector<RuleWait> waits;
  for (const Value* row : in.all(name)) {
    TRY_ASSIGN(const Wait wait, read_wait(*row->columns[1]));
    waits.push_back({{RuleSource::Kind::Label, row->columns[0]->text, "", std::nullopt}, {wait}});
  }
  return waits;
}

std::string local_text(const Zone& zone, Moment at) {
  std::string text = stamp_text(zone.stamp(at)).substr(0, 16);
  text[10] = ' ';
  return text;
}

void answer_hold(Answer& answer, const Hold& hold, const std::vector<RuleWait>& rules, const Zone& zone, bool entry) {
  answer.text(entry ? "entry-state" : "harvest-state",
              hold.state == Hold::State::None ? "no-wait-given" : hold.state == Hold::State::Until ? "until" : "no-end-known");
  if (hold.until) answer.text(entry ? "no-entry-until" : "no-harvest-until", local_text(zone, *hold.until));
  if (const Contributor* governing = hold.governing()) {
    answer.text(entry ? "entry-rule" : "harvest-rule", rules[governing->rule].source.name);
    if (hold.state == Hold::State::NotKnown) answer.caution(unknown_wait_word(governing->wait.kind));
  }
  for (const Contributor& one : hold.contributors)
    answer.step(entry ? "no-entry-until entry-rule entry-state" : "no-harvest-until harvest-rule harvest-state",
                rules[one.rule].source.name, one.until ? local_text(zone, *one.until) : std::string("?"));
  if (hold.contributors.empty()) answer.step(entry ? "entry-state" : "harvest-state", "no rule given", "—");
}

Result<Answer> run_hold(const Inputs& in) {
  TRY_ASSIGN(const Zone zone, Zone::from_name(in["zone"].text));
  const std::vector<Moment> finishes = zone.instants(in["finish"].time);
  if (finishes.empty()) return refuse(Trouble::Ask, "hold.no-such-time"_w, {in["finish"].text}, "finish");
  Treatment treatment;
  treatment.finishes = finishes;
  TRY_ASSIGN(treatment.harvest, waits_of(in, "harvest"));
  TRY_ASSIGN(treatment.entry, waits_of(in, "entry"));
  const DayCounting counting = in["counting"].text == "dates" ? DayCounting::Dates : DayCounting::Hours;
  Answer answer(kHold);
  answer_hold(answer, harvest_hold(std::span(&treatment, 1), counting, zone), treatment.harvest, zone, false);
  answer_hold(answer, entry_hold(std::span(&treatment, 1), zone), treatment.entry, zone, true);
  answer.note(counting == DayCounting::Dates ? "hold.by-dates"_w : "hold.by-hours"_w);
  answer.note("hold.label-decides"_w);
  return answer;
}

const Calculation kHold{"hold", "wait", "work.hold"_w, kHoldInputs, kHoldOutputs,
                        "the rules given; counting as the farm chose, 7 CFR 205.203(c) for 'not less than N days'",
                        "--finish \"2026-06-03 18:20\" --harvest \"farm, tea on leaves; 14 days\" --harvest \"B, lettuce; 7 days\" "
                        "--entry \"B; 12 h\" --zone America/New_York",
                        run_hold};

const Calculation kAll[] = {kLoads, kShare, kDue, kHold};

}  // namespace

std::span<const Calculation> work_loads() { return kAll; }

}  // namespace steep
