#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.h"
#include "book/places.h"
#include "book/things.h"
#include "quantity/time_shown.h"
#include "quantity/unit.h"
#include "screens/calibration.h"
#include "screens/form_text.h"
#include "screens/work_uses.h"

namespace steep {
namespace {

constexpr int kWalks = 3, kMostNozzles = 12;

bool is_metric(const UnitsShown& units) { return units.system == System::Metric; }

/// The width that most beds of the farm have; nullopt = none is known.
Result<std::optional<Length>> usual_width(const Surroundings& around) {
  if (around.farm.is_nil()) return std::optional<Length>{};
  TRY_ASSIGN(const Places& places, read_places(around.book, around.farm, around.today));
  std::map<double, int> widths;
  for (const Bed& bed : places.beds)
    if (bed.width) ++widths[bed.width->si()];
  const auto most =
      std::max_element(widths.begin(), widths.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
  return most == widths.end() ? std::optional<Length>{} : std::optional<Length>(Length::from_si(most->first));
}

/// What the page rests on.
struct Known {
  Rig rig;
  std::optional<RigCalibration> before;
  std::optional<Written> bed_top, swath, pressure;
  int jugs = 1;
  bool per_nozzle = false;
};

Result<Known> read_known(const Surroundings& around, const DraftFields& form) {
  Known known;
  TRY_ASSIGN(known.rig, read_rig(around.book, around.record));
  TRY_ASSIGN(known.before, calibration_in_force(around.book, around.record));
  const Unit& small = unit(is_metric(around.units) ? "cm" : "in");
  known.bed_top = form_amount(form, "bed-top");
  if (!known.bed_top) {
    TRY_ASSIGN(const std::optional<Length>& width, usual_width(around));
    if (width) known.bed_top = write_quantity(*width, small);
  }
  known.swath = form_amount(form, "swath");
  if (!known.swath && known.rig.swath) known.swath = write_quantity(*known.rig.swath, small);
  if (!known.swath) known.swath = known.bed_top;
  known.pressure = form_amount(form, "pressure");
  if (!known.pressure && known.rig.nozzle_pressure)
    known.pressure = write_quantity(*known.rig.nozzle_pressure, unit(is_metric(around.units) ? "bar" : "psi"), 1);
  const int nozzles = known.rig.nozzle_count ? static_cast<int>(std::llround(*known.rig.nozzle_count)) : 1;
  known.per_nozzle = nozzles > 1;
  // One nozzle is caught twice: one catch says nothing about the next.
  known.jugs = known.per_nozzle ? std::min(nozzles, kMostNozzles) : 2;
  return known;
}

std::string jug_label(const Known& known, int i, const Words& words) {
  if (!known.per_nozzle) return words("catch.catch"_w, {std::to_string(i + 1)});
  if (known.jugs == 2) return words(i == 0 ? "catch.left"_w : "catch.right"_w);
  return words("catch.nozzle"_w, {std::to_string(i + 1)});
}

CalibrationView::Cell cell_of(std::string key, std::string label, const std::optional<Written>& written,
                              const Unit& unit_now, const Surroundings& around) {
  CalibrationView::Cell cell;
  cell.key = std::move(key);
  cell.label = std::move(label);
  cell.written = written;
  if (written) {
    const Shown shown = show_parts(*written, around.units, around.words);
    cell.value = shown.number;
    cell.unit = shown.unit;
    cell.spoken = cell.label + ", " + shown.speech();
  } else {
    cell.value = "–";
    cell.unit = unit_label(unit_now, 2, around.words);
    cell.spoken = around.words("start.not_answered"_w, {cell.label});
  }
  return cell;
}

/// What is to be walked and how long it takes, by `work course`.
struct Walked {
  std::optional<Written> course;  ///< As it is laid out, and as it stands on screen.
  std::optional<double> pace_s;
};
Walked walked(const Known& known, const CalibrationInput& input, const Surroundings& around) {
  if (!known.bed_top) return {};
  const bool metric = is_metric(around.units);
  std::vector<Typed> typed{{"swath", known.bed_top->text}, {"method", metric ? "ten-square-meters" : "acre-128"}};
  for (int i = 0; i < kWalks; ++i)
    if (const auto walk = form_amount(input.form, "walk." + std::to_string(i))) typed.push_back({"walk", walk->text});
  const Calculation& course = *find_calculation("course");
  const auto inputs = read_inputs(course, typed, {});
  const auto answer = inputs ? course.run(*inputs) : Result<Answer>(tl::unexpected<Problem>(inputs.error()));
  if (!answer) return {};
  Walked walk;
  if (const ResultValue* length = find_result(*answer, metric ? "course-metric" : "course"))
    walk.course = write_quantity(length->number, unit(length->spec->unit), 1);
  if (const ResultValue* pace = find_result(*answer, "pace")) walk.pace_s = pace->number;
  return walk;
}

void say_walk(CalibrationView& view, const Known& known, const std::optional<Written>& course,
              const CalibrationInput& input, const Surroundings& around) {
  const Words& words = around.words;
  view.walk_head = words(is_metric(around.units) ? "catch.walk_metric"_w : "catch.walk_acre"_w);
  view.done = words("catch.done"_w);
  view.has_course = course.has_value();
  if (!course) {
    view.course = words("catch.ask_width"_w);
    view.missing = words("catch.missing_width"_w);
    return;
  }
  const std::string length = show(*course, around.units, words), width = show(*known.bed_top, around.units, words);
  view.course = words("catch.course"_w, {length, width});
  view.course_spoken = view.course;
  for (std::size_t i = 0; i < view.marks.size(); ++i)
    view.marks[i] =
        i + 1 == view.marks.size()
            ? length
            : show_count(std::llround(course->amount.to_double() * static_cast<double>(i) / 4), around.units);
  int timed = 0;
  for (int i = 0; i < kWalks; ++i) {
    const std::string key = "walk." + std::to_string(i);
    const auto written = form_amount(input.form, key);
    if (written)
      ++timed;
    else if (view.next_walk < 0)
      view.next_walk = i;
    view.walks.push_back(cell_of(key, words("catch.walk"_w, {std::to_string(i + 1)}), written, unit("s"), around));
  }
  view.walks_done = timed == kWalks;
  if (view.next_walk >= 0) view.start_walk = words("catch.start_walk"_w, {std::to_string(view.next_walk + 1)});
  view.stop_walk = words("catch.stop_walk"_w);
}

void say_catch(CalibrationView& view, const Known& known, const CalibrationInput& input, const Surroundings& around) {
  const Words& words = around.words;
  view.catch_unit = &unit(is_metric(around.units) ? "mL" : "fl oz");
  view.step = is_metric(around.units) ? 5 : 0.1;
  double fullest = 0;
  std::vector<double> caught;
  for (int i = 0; i < known.jugs; ++i) {
    const std::string key = "catch." + std::to_string(i);
    const auto written = form_amount(input.form, key);
    view.catches.push_back(cell_of(key, jug_label(known, i, words), written, *view.catch_unit, around));
    caught.push_back(written ? si(*written).to_double() : 0);
    fullest = std::max(fullest, caught.back());
  }
  // The fullest jug stands at three quarters; empty ones are empty.
  for (const double one : caught) view.levels.push_back(fullest > 0 ? static_cast<float>(0.75 * one / fullest) : 0);
  view.catch_head = view.catch_s > 0
                        ? words("catch.catch_for"_w, {show_count(std::llround(view.catch_s), around.units)})
                        : words("catch.catch_first"_w);
  view.pressure = known.pressure ? show(*known.pressure, around.units, words) : words("catch.ask_pressure"_w);
  const std::string& in_hand = view.catches[static_cast<std::size_t>(std::clamp(input.hand, 0, known.jugs - 1))].label;
  view.less = words("catch.less"_w, {in_hand});
  view.more = words("catch.more"_w, {in_hand});
  view.time_it = words(fullest > 0 ? "catch.time_again"_w : "catch.time_it"_w);
  view.time_left = words("catch.time_left"_w);
  view.time_over = words("catch.time_over"_w);
}

std::string rate_words(const ResultValue& rate, const Surroundings& around) {
  const Unit& fixed = unit(rate.spec->unit);
  return show_in(unit(is_metric(around.units) ? "L/ha" : "gal/acre"), si_of(rate.number, fixed), around.units,
                 around.words, is_metric(around.units) ? 0 : 1)
      .number;
}

std::vector<Typed> typed_of(const Known& known, const std::optional<Written>& course, const CalibrationInput& input,
                            const Surroundings& around) {
  std::vector<Typed> typed;
  if (course) typed.push_back({"course", course->text});
  if (known.swath) typed.push_back({"swath", known.swath->text});
  if (known.bed_top) typed.push_back({"bed-top", known.bed_top->text});
  typed.push_back({"bed-length", is_metric(around.units) ? "30 m" : "100 ft"});
  for (int i = 0; i < kWalks; ++i)
    if (const auto walk = form_amount(input.form, "walk." + std::to_string(i))) typed.push_back({"walk", walk->text});
  for (int i = 0; i < known.jugs; ++i)
    if (const auto one = form_amount(input.form, "catch." + std::to_string(i)))
      typed.push_back({known.per_nozzle ? "nozzle" : "catch", one->text});
  if (known.before && known.before->rate && known.before->area == RateArea::BedTop)
    typed.push_back({"before", write_quantity(*known.before->rate, unit("L/ha"), 6).text});
  return typed;
}

void say_pairs(CalibrationView& view, const Known& known, const Answer& answer, const Surroundings& around) {
  const Words& words = around.words;
  const WordId per = is_metric(around.units) ? "catch.per_hectare"_w : "catch.per_acre"_w;
  if (const ResultValue* swath = find_result(answer, "rate-swath")) {
    view.swath_words = words("catch.of_swath"_w, {show(*known.swath, around.units, words)});
    view.swath_value = words(per, {rate_words(*swath, around)});
  }
  if (const ResultValue* differ = find_result(answer, "nozzle-difference"))
    view.pairs.push_back({words("catch.nozzles_differ"_w), result_text(*differ, around.units, words)});
  else if (const ResultValue* spread = find_result(answer, "spread"))
    view.pairs.push_back({words("catch.catches_differ"_w), result_text(*spread, around.units, words)});
  if (const ResultValue* speed = find_result(answer, "speed"))
    view.pairs.push_back({words("catch.speed"_w), result_text(*speed, around.units, words)});
  const ResultValue* change = find_result(answer, "change");
  if (!change || !known.before) return;
  const Date day = known.before->date ? *known.before->date : around.zone.local(known.before->made.at).date;
  const double per_cent = std::fabs(std::round(change->number));
  const std::string then = show_in(unit(is_metric(around.units) ? "L/ha" : "gal/acre"), known.before->rate->si(),
                                   around.units, words, is_metric(around.units) ? 0 : 1)
                               .number;
  const WordId word = per_cent == 0 ? "catch.the_same"_w : change->number < 0 ? "catch.now_less"_w : "catch.now_more"_w;
  view.pairs.push_back({words("catch.since"_w, {show_short_day(day, around.today, words)}),
                        words(word, {then, show_number(per_cent, around.units, 0)})});
}

void say_rate(CalibrationView& view, const Known& known, const Answer& answer, const Surroundings& around) {
  const Words& words = around.words;
  const bool metric = is_metric(around.units);
  const ResultValue* bed_top = find_result(answer, "rate-bed-top");
  const ResultValue* rate = bed_top ? bed_top : find_result(answer, "rate-swath");
  if (!rate) return;
  view.rate = rate_words(*rate, around);
  view.rate_unit = words(metric ? "catch.spray_per_hectare"_w : "catch.spray_per_acre"_w);
  if (const ResultValue* one = find_result(answer, "bed-spray"); one && known.bed_top)
    view.rate_detail = words("catch.of_bed_top"_w,
                             {result_text(*one, around.units, words),
                              show(write_quantity(metric ? 30 : 100, unit(metric ? "m" : "ft")), around.units, words),
                              show(*known.bed_top, around.units, words)});
  view.use = words(metric ? "catch.use_metric"_w : "catch.use_acre"_w, {view.rate});
  view.can_use = true;
}

}  // namespace

DraftFields draft_fields(const CalibrationInput& input) {
  DraftFields typed;
  for (const auto& [key, value] : input.form)
    if (!value.empty()) typed.emplace(key, value);
  return typed;
}
void from_draft(CalibrationInput& input, const DraftFields& fields) { input.form = fields; }

Result<CalibrationView> calibration_view(const Surroundings& around, const CalibrationInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const Known& known, read_known(around, input.form));
  CalibrationView view;
  view.rig = known.rig.id;
  view.farm = around.farm;
  view.units = around.units;
  view.words = words;
  view.keep_awake = !input.timing.empty();
  view.title = words("catch.title"_w);
  view.second = known.rig.name;
  if (!known.rig.nozzle_size.empty()) view.second += " · " + known.rig.nozzle_size;
  view.gives_head = words("catch.gives"_w);
  view.how = words("work.how"_w);
  const Walked walk = walked(known, input, around);
  const std::optional<Written>& course = walk.course;
  say_walk(view, known, course, input, around);

  const Calculation& calibrate = *find_calculation("calibrate");
  const auto inputs = read_inputs(calibrate, typed_of(known, course, input, around), {});
  const auto answer = inputs ? calibrate.run(*inputs) : Result<Answer>(tl::unexpected<Problem>(inputs.error()));
  if (answer) {
    view.answer = shown_answer(calibrate, *answer, around);
    say_rate(view, known, *answer, around);
    say_pairs(view, known, *answer, around);
    view.fields = calibration_fields(around, known.rig.id, *inputs, *answer,
                                     known.pressure ? known.pressure->text : std::string());
  } else if (view.missing.empty()) {
    view.missing = words("catch.missing_catch"_w);
  }
  view.catch_s = walk.pace_s.value_or(0);
  const auto pace = walk.pace_s ? std::optional<Written>(write_quantity(*walk.pace_s, unit("s"), 0)) : std::nullopt;
  view.pace = cell_of("pace", words("catch.pace"_w), pace, unit("s"), around);
  say_catch(view, known, input, around);
  const bool metric = is_metric(around.units);
  view.typed = {
      {"bed-top", words("catch.bed_top"_w), {&unit(metric ? "cm" : "in"), &unit(metric ? "m" : "ft")}},
      {"swath", words("catch.swath"_w), {&unit(metric ? "cm" : "in"), &unit(metric ? "m" : "ft")}},
      {"pressure", words("catch.pressure"_w), {&unit(metric ? "bar" : "psi"), &unit(metric ? "kPa" : "bar")}}};
  for (const CalibrationView::Cell& cell : view.walks)
    view.typed.push_back({cell.key, cell.label, {&unit("s"), &unit("min")}});
  for (const CalibrationView::Cell& cell : view.catches)
    view.typed.push_back({cell.key, cell.label, {view.catch_unit, &unit(metric ? "L" : "mL")}});
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

}  // namespace steep
