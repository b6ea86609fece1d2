// The calculations 'due' and 'hold'.
#include "base/text.h"
#include "base/zone.h"
#include "trade/due.h"
#include "trade/hold.h"
#include "trade/work_lists.h"
#include "trade/work_times.h"

namespace steep {
namespace {

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
    const double days = row->columns[1]->number;
    if (days > kLongestWaitDays)
      return refuse(Trouble::OutOfRange, "due.days"_w, {figure(days), std::to_string(kLongestWaitDays)}, "interval");
    intervals.push_back({place == "planting" ? IntervalPlace::Planting
                         : place == "crop"   ? IntervalPlace::Crop
                         : place == "block"  ? IntervalPlace::Block
                                             : IntervalPlace::Farm,
                         false, static_cast<int>(days)});
  }
  for (const Value* row : in.all("tea"))
    if (in["today"].date < row->columns[0]->date) return refuse(Trouble::BadInput, "due.ahead"_w, {row->text}, "tea");
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

const Calculation kDue{
    "due",
    "spray",
    "work.due"_w,
    kDueInputs,
    kDueOutputs,
    "the farm's own interval",
    "--interval \"farm; 14\" --tea \"2026-06-01\" --tea \"2026-06-08; 0 ft; 40 ft\" --today 2026-06-16",
    run_due};

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
Result<Wait> read_wait(const Value& value, bool entry, const Habits& habits) {
  const std::string word = lower(value.text);
  if (word == "undecided") return Wait::undecided();
  if (word == "not on label" || word == "not-on-label") return Wait::not_on_label();
  if (word == "not known" || word == "not-known" || word == "?") return Wait::not_known();
  // Harvest waits are written in days; an entry wait's number may be hours or days.
  const auto read = read_quantity(word, Dimension::Time, habits, entry ? nullptr : &unit("day"));
  if (!read && read.error().kind == Trouble::Ask)
    return refuse(Trouble::Ask, read.error().word, std::vector(read.error().values), entry ? "entry" : "harvest");
  const double hours = read ? si(*read).to_double() / 3600 : -1;
  if (!(hours >= 0 && hours <= 1e6) || hours != static_cast<int>(hours))
    return refuse(Trouble::BadInput, "hold.wait-unreadable"_w, {value.text}, entry ? "entry" : "harvest");
  // A day and a half is 36 hours, not one day.
  const bool in_days = (read->unit->word == "day" || read->unit->word == "week") && static_cast<int>(hours) % 24 == 0;
  return in_days ? Wait::days(static_cast<int>(hours / 24)) : Wait::hours(static_cast<int>(hours));
}

Result<std::vector<RuleWait>> waits_of(const Inputs& in, std::string_view name) {
  std::vector<RuleWait> waits;
  for (const Value* row : in.all(name)) {
    TRY_ASSIGN(const Wait& wait, read_wait(*row->columns[1], name == "entry", in.habits()));
    waits.push_back({{RuleSource::Kind::Label, row->columns[0]->text, "", std::nullopt}, {wait}});
  }
  return waits;
}

void answer_hold(Answer& answer, const Hold& hold, const std::vector<RuleWait>& rules, const Zone& zone, bool entry) {
  answer.text(entry ? "entry-state" : "harvest-state", hold.state == Hold::State::None    ? "no-wait-given"
                                                       : hold.state == Hold::State::Until ? "until"
                                                                                          : "no-end-known");
  if (hold.until) answer.text(entry ? "no-entry-until" : "no-harvest-until", local_text(zone, *hold.until));
  if (const Contributor* governing = hold.governing()) {
    answer.text(entry ? "entry-rule" : "harvest-rule", rules[governing->rule].source.name);
    if (hold.state == Hold::State::NotKnown) answer.caution(unknown_wait_word(governing->wait.kind));
  }
  for (const Contributor& one : hold.contributors)
    answer.named_step(entry ? "no-entry-until entry-rule entry-state" : "no-harvest-until harvest-rule harvest-state",
                      rules[one.rule].source.name, one.until ? local_text(zone, *one.until) : std::string("?"));
  if (hold.contributors.empty()) answer.step(entry ? "entry-state" : "harvest-state", "no rule given", "—");
}

Result<Answer> run_hold(const Inputs& in) {
  TRY_ASSIGN(const Zone& zone, Zone::from_name(in["zone"].text));
  const std::vector<Moment> finishes = moments_of(zone, in["finish"]);
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

const Calculation kHold{
    "hold",
    "wait",
    "work.hold"_w,
    kHoldInputs,
    kHoldOutputs,
    "the rules given; counting as the farm chose, 7 CFR 205.203(c) for 'not less than N days'",
    "--finish \"2026-06-03 18:20\" --harvest \"farm, tea on leaves; 14 days\" --harvest \"B, lettuce; 7 days\" "
    "--entry \"B; 12 h\" --zone America/New_York",
    run_hold};

const Calculation kAll[] = {kDue, kHold};

}  // namespace

std::span<const Calculation> work_waits() { return kAll; }

}  // namespace steep
