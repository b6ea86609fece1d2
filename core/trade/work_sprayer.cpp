// The calculations 'course', 'calibrate', 'nozzle'.
#include "trade/calibrate.h"
#include "trade/course.h"
#include "trade/nozzle.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

// course

constexpr InputSpec kCourseInputs[] = {
    quantity_input("swath", Dimension::Length, "work-input.swath"_w),
    word_input("method", "acre-128|ten-square-meters", "work-input.course-method"_w).or_standard("acre-128"),
    quantity_input("speed", Dimension::Speed, "work-input.speed"_w).optional(),
    quantity_input("walk", Dimension::Time, "work-input.walk-time"_w).repeated().optional(),
};
constexpr OutputSpec kCourseOutputs[] = {
    {"course", OutputKind::Quantity, "ft", 1, "work-result.course"_w},
    {"course-metric", OutputKind::Quantity, "m", 2, "work-result.course"_w},
    {"time", OutputKind::Quantity, "s", 1, "work-result.course-time"_w},
    {"pace", OutputKind::Quantity, "s", 1, "work-result.pace"_w},
};
const extern Calculation kCourse;

/// Mean of the timed walks; nullopt = none was given. Trouble: OutOfRange  a time not above 0.
Result<std::optional<Duration>> pace_of(const Inputs& in) {
  std::vector<Duration> walks;
  for (const Value* one : in.all("walk")) walks.push_back(one->as<Duration>());
  if (walks.empty()) return std::optional<Duration>{};
  TRY_ASSIGN(const Duration pace, mean_walk(walks));
  return std::optional<Duration>(pace);
}

/// '41 + 43' of all that was given under one name, in the unit of `number`.
template <class Number>
std::string sum_text(const Inputs& in, std::string_view name, Number number) {
  std::string sum;
  for (const Value* one : in.all(name)) sum += (sum.empty() ? "" : " + ") + figure(number(*one));
  return sum;
}

void answer_pace(const Inputs& in, Answer& answer, Duration pace) {
  answer.quantity("pace", pace);
  answer.step("pace", "mean = Σ t / n",
              "(" + sum_text(in, "walk", [](const Value& v) { return v.as<Duration>().seconds(); }) + ") / " +
                  std::to_string(in.all("walk").size()) + " = " + figure(pace.seconds()) + " s");
}

Result<Answer> run_course(const Inputs& in) {
  const auto kind = in["method"].text == "acre-128" ? CourseKind::Acre128 : CourseKind::TenSquareMeters;
  const Length swath = in.get<Length>("swath");
  TRY_ASSIGN(const Length course, course_length(swath, kind));
  Answer answer(kCourse);
  answer.quantity("course", course);
  answer.quantity("course-metric", course);
  if (kind == CourseKind::Acre128)
    answer.step("course course-metric", "course = 43560 / 128 ft2 / swath",
                "340.3125 / " + figure(swath.feet()) + " = " + figure(course.feet()) + " ft");
  else
    answer.step("course course-metric", "course = 10 m2 / swath",
                "10 / " + figure(swath.meters()) + " = " + figure(course.meters()) + " m");
  if (const auto speed = in.maybe<Speed>("speed")) {
    TRY_ASSIGN(const Duration time, course_time(course, *speed));
    answer.quantity("time", time);
    answer.step("time", "time = course / speed",
                figure(course.meters()) + " m / " + figure(speed->meters_per_second()) +
                    " m/s = " + figure(time.seconds()) + " s");
  }
  TRY_ASSIGN(const std::optional<Duration>& pace, pace_of(in));
  if (pace) answer_pace(in, answer, *pace);
  answer.note(kind == CourseKind::Acre128 ? "course.ounces"_w : "course.milliliters"_w);
  return answer;
}

const Calculation kCourse{"course",
                          "spray",
                          "work.course"_w,
                          kCourseInputs,
                          kCourseOutputs,
                          "1/128-acre method of US extension services (43,560 / 128 ft2)",
                          "--swath \"30 in\"",
                          run_course};

// calibrate

constexpr InputSpec kCalibrateInputs[] = {
    quantity_input("catch", Dimension::Volume, "work-input.catch"_w).repeated().optional(),
    quantity_input("nozzle", Dimension::Volume, "work-input.nozzle-catch"_w).repeated().optional(),
    quantity_input("course", Dimension::Length, "work-input.course"_w).optional(),
    quantity_input("swath", Dimension::Length, "work-input.swath"_w).optional(),
    quantity_input("refill", Dimension::Volume, "work-input.refill"_w).optional(),
    quantity_input("area", Dimension::Area, "work-input.sprayed-area"_w).optional(),
    quantity_input("flow", Dimension::Flow, "work-input.nozzle-flow"_w).optional(),
    quantity_input("speed", Dimension::Speed, "work-input.speed"_w).optional(),
    quantity_input("time", Dimension::Time, "work-input.course-time"_w).optional(),
    quantity_input("walk", Dimension::Time, "work-input.walk-time"_w).repeated().optional(),
    quantity_input("bed-top", Dimension::Length, "work-input.bed-top"_w).optional(),
    quantity_input("bed-length", Dimension::Length, "work-input.bed-length"_w).or_standard("100 ft"),
    quantity_input("before", Dimension::VolumePerArea, "work-input.rate-before"_w).optional(),
};
constexpr OutputSpec kCalibrateOutputs[] = {
    {"rate-swath", OutputKind::Quantity, "gal/acre", 2, "work-result.rate-swath"_w},
    {"rate-swath-metric", OutputKind::Quantity, "L/ha", 1, "work-result.rate-swath"_w},
    {"rate-bed-top", OutputKind::Quantity, "gal/acre", 2, "work-result.rate-bed-top"_w},
    {"rate-bed-top-metric", OutputKind::Quantity, "L/ha", 1, "work-result.rate-bed-top"_w},
    {"bed-spray", OutputKind::Quantity, "L", 3, "work-result.bed-spray"_w},
    {"change", OutputKind::Quantity, "%", 1, "work-result.rate-change"_w},
    {"mean-catch", OutputKind::Quantity, "mL", 1, "work-result.mean-catch"_w},
    {"spread", OutputKind::Quantity, "%", 1, "work-result.spread"_w},
    {"caught", OutputKind::Quantity, "mL", 1, "work-result.nozzles-caught"_w},
    {"nozzle-difference", OutputKind::Quantity, "%", 1, "work-result.nozzle-difference"_w},
    {"pace", OutputKind::Quantity, "s", 1, "work-result.pace"_w},
    {"speed", OutputKind::Quantity, "mph", 2, "work-result.speed"_w},
    {"speed-metric", OutputKind::Quantity, "km/h", 2, "work-result.speed"_w},
};
const extern Calculation kCalibrate;

std::vector<Volume> volumes(const Inputs& in, std::string_view name) {
  std::vector<Volume> all;
  for (const Value* one : in.all(name)) all.push_back(one->as<Volume>());
  return all;
}

double milliliters(const Value& value) { return value.as<Volume>().milliliters(); }

/// What the whole swath gave on one walk: the mean of catches, or the sum over the nozzles. nullopt = not caught.
Result<std::optional<Volume>> caught(const Inputs& in, Answer& answer) {
  const std::vector<Volume> catches = volumes(in, "catch"), nozzles = volumes(in, "nozzle");
  if (!catches.empty() && !nozzles.empty())
    return refuse(Trouble::BadInput, "calibrate.catch-or-nozzle"_w, {}, "nozzle");
  if (!nozzles.empty()) {
    TRY_ASSIGN(const NozzleCatches& all, add_nozzles(nozzles));
    answer.quantity("caught", all.all);
    answer.step("caught", "Σ catch",
                sum_text(in, "nozzle", milliliters) + " = " + figure(all.all.milliliters()) + " mL");
    if (all.difference) {
      answer.number("nozzle-difference", 100 * *all.difference);
      answer.step("nozzle-difference", "difference = (fullest − emptiest) / mean",
                  figure(100 * *all.difference, 3) + " %");
      if (*all.difference > 0.1) answer.caution("calibrate.nozzles-differ"_w);
    }
    return std::optional<Volume>(all.all);
  }
  if (catches.empty()) return std::optional<Volume>{};
  TRY_ASSIGN(const CatchSummary& summary, summarize_catches(catches));
  answer.quantity("mean-catch", summary.mean);
  answer.step("mean-catch", "mean = Σ catch / n",
              "(" + sum_text(in, "catch", milliliters) + ") / " + std::to_string(catches.size()) + " = " +
                  figure(summary.mean.milliliters()) + " mL");
  if (summary.spread) {
    answer.number("spread", 100 * *summary.spread);
    answer.step("spread", "farthest from the mean / mean", figure(100 * *summary.spread, 3) + " %");
    if (*summary.spread > 0.05) answer.caution("calibrate.spread"_w);
  } else {
    answer.note("calibrate.once"_w);
  }
  return std::optional<Volume>(summary.mean);
}

/// Per bed top it goes on from there.
constexpr std::string_view kOnSwath = "rate-swath rate-swath-metric rate-bed-top rate-bed-top-metric";

/// The rate by whichever of the three ways the inputs describe; writes its steps.
Result<VolumePerArea> calibrated(const Inputs& in, Answer& answer) {
  const auto course = in.maybe<Length>("course"), swath = in.maybe<Length>("swath");
  TRY_ASSIGN(const std::optional<Volume>& volume, caught(in, answer));
  if (volume && course && swath) {
    TRY_ASSIGN(const VolumePerArea& rate, rate_from_course(*volume, *course, *swath));
    answer.step(kOnSwath, "rate = catch / (course · swath)",
                figure(volume->liters()) + " L / (" + figure(course->meters()) + " m × " + figure(swath->meters()) +
                    " m) = " + figure(rate.gallons_per_acre()) + " gal/acre");
    return rate;
  }
  const auto refill = in.maybe<Volume>("refill");
  const auto area = in.maybe<Area>("area");
  if (refill && (area || (course && swath))) {
    const Area sprayed = area ? *area : *course * *swath;
    TRY_ASSIGN(const VolumePerArea& rate, rate_from_refill(*refill, sprayed));
    answer.step(kOnSwath, "rate = refill / area",
                figure(refill->liters()) + " L / " + figure(sprayed.square_meters()) +
                    " m2 = " + figure(rate.gallons_per_acre()) + " gal/acre");
    return rate;
  }
  const auto flow = in.maybe<Flow>("flow");
  const auto speed = in.maybe<Speed>("speed");
  if (flow && speed && swath) {
    TRY_ASSIGN(const VolumePerArea& rate, rate_from_flow(*flow, *speed, *swath));
    answer.step(kOnSwath, "GPA = 5940 · GPM / (mph · in)",
                "5940 × " + figure(flow->gallons_per_minute()) + " / (" + figure(speed->miles_per_hour()) + " × " +
                    figure(swath->inches()) + ") = " + figure(rate.gallons_per_acre()));
    answer.step(kOnSwath, "L/ha = 600 · (L/min) / (km/h · m)",
                "600 × " + figure(flow->liters_per_minute()) + " / (" + figure(speed->kilometers_per_hour()) + " × " +
                    figure(swath->meters()) + ") = " + figure(rate.liters_per_hectare()));
    return rate;
  }
  return refuse(Trouble::BadInput, "calibrate.which-way"_w, {}, "catch");
}

/// Time for the course and the speed: one time, or the mean of several walks.
Result<void> paced(const Inputs& in, Answer& answer) {
  const auto course = in.maybe<Length>("course");
  auto time = in.maybe<Duration>("time");
  TRY_ASSIGN(const std::optional<Duration>& pace, pace_of(in));
  if (pace) answer_pace(in, answer, *pace);
  if (!time) time = pace;
  if (!time || !course) return {};
  TRY_ASSIGN(const Speed& speed, course_speed(*course, *time));
  answer.quantity("speed", speed);
  answer.quantity("speed-metric", speed);
  answer.step("speed speed-metric", "speed = course / time",
              figure(course->meters()) + " m / " + figure(time->seconds()) +
                  " s = " + figure(speed.meters_per_second()) + " m/s");
  return {};
}

Result<Answer> run_calibrate(const Inputs& in) {
  Answer answer(kCalibrate);
  TRY_ASSIGN(VolumePerArea rate, calibrated(in, answer));
  answer.quantity("rate-swath", rate);
  answer.quantity("rate-swath-metric", rate);
  const auto swath = in.maybe<Length>("swath"), bed_top = in.maybe<Length>("bed-top");
  if (bed_top && swath) {
    TRY_ASSIGN(const VolumePerArea& on_bed, per_bed_top(rate, *swath, *bed_top));
    answer.quantity("rate-bed-top", on_bed);
    answer.quantity("rate-bed-top-metric", on_bed);
    answer.step("rate-bed-top rate-bed-top-metric", "rate on bed top = rate · swath / bed top",
                figure(rate.gallons_per_acre()) + " × " + figure(swath->inches()) + " / " + figure(bed_top->inches()) +
                    " = " + figure(on_bed.gallons_per_acre()));
    const Length length = in.get<Length>("bed-length");
    const Volume on_one = on_bed * (length * *bed_top);
    answer.quantity("bed-spray", on_one);
    answer.step("bed-spray", "spray on a bed = rate · length · bed top",
                figure(on_bed.gallons_per_acre()) + " gal/acre × " + figure(length.feet()) + " ft × " +
                    figure(bed_top->inches()) + " in = " + figure(on_one.gallons()) + " gal");
    rate = on_bed;
  } else {
    answer.note("calibrate.of-swath"_w);
  }
  if (const auto before = in.maybe<VolumePerArea>("before")) {
    TRY_ASSIGN(const double change, rate_change(rate, *before));
    answer.number("change", 100 * change);
    answer.step("change", "change = rate / rate before − 1",
                figure(rate.gallons_per_acre()) + " / " + figure(before->gallons_per_acre()) +
                    " − 1 = " + figure(100 * change, 3) + " %");
  }
  TRY(paced(in, answer));
  return answer;
}

const Calculation kCalibrate{
    "calibrate",
    "spray",
    "work.calibrate"_w,
    kCalibrateInputs,
    kCalibrateOutputs,
    "US extension calibration sheets (5940 and 495 are exact); arithmetic",
    "--catch \"41 fl oz\" --catch \"43 fl oz\" --course \"136 ft\" --swath \"30 in\" --bed-top \"30 in\"",
    run_calibrate};

// nozzle

constexpr InputSpec kNozzleInputs[] = {
    plain_input("size", InputKind::Text, "work-input.nozzle-size"_w).optional(),
    quantity_input("flow", Dimension::Flow, "work-input.nozzle-flow"_w).optional(),
    quantity_input("at", Dimension::Pressure, "work-input.nozzle-at"_w).or_standard("3 bar"),
    quantity_input("pressure", Dimension::Pressure, "work-input.nozzle-pressure"_w).optional(),
    quantity_input("measured", Dimension::Flow, "work-input.nozzle-measured"_w).optional(),
    quantity_input("worn-limit", Dimension::Share, "work-input.worn-limit"_w).or_standard("10 %"),
    quantity_input("clogged-limit", Dimension::Share, "work-input.clogged-limit"_w).or_standard("10 %"),
};
constexpr OutputSpec kNozzleOutputs[] = {
    {"flow", OutputKind::Quantity, "L/min", 3, "work-result.nozzle-flow"_w},
    {"flow-us", OutputKind::Quantity, "gal/min", 4, "work-result.nozzle-flow"_w},
    {"size", OutputKind::Text, "", 0, "work-result.nozzle-size"_w},
    {"color", OutputKind::Word, "", 0, "work-result.nozzle-color"_w},
    {"change", OutputKind::Quantity, "%", 1, "work-result.nozzle-change"_w},
    {"state", OutputKind::Word, "", 0, "work-result.nozzle-state"_w},
};
const extern Calculation kNozzle;

Result<Answer> run_nozzle(const Inputs& in) {
  Answer answer(kNozzle);
  const IsoNozzle* nozzle = nullptr;
  std::optional<Flow> known = in.maybe<Flow>("flow");
  Pressure at = in.get<Pressure>("at");
  if (const Value* size = in.find("size")) {
    nozzle = find_iso_nozzle(size->text);
    if (!nozzle) return refuse(Trouble::BadInput, "nozzle.no-such-size"_w, {size->text}, "size");
    if (!known) {
      known = nozzle->nominal;
      at = Pressure::from_bar(3);
    }
  }
  if (!known) return refuse(Trouble::BadInput, "nozzle.size-or-flow"_w, {}, "size");
  const Pressure pressure = in.maybe<Pressure>("pressure").value_or(at);
  TRY_ASSIGN(const Flow& flow, flow_at_pressure(*known, at, pressure));
  answer.quantity("flow", flow);
  answer.quantity("flow-us", flow);
  answer.step("flow flow-us", "q2 = q1 · √(p2 / p1)",
              figure(known->liters_per_minute()) + " × √(" + figure(pressure.bar()) + " / " + figure(at.bar()) +
                  ") = " + figure(flow.liters_per_minute()) + " L/min");
  if (!nozzle) nozzle = nearest_iso_nozzle(*known, at);
  if (nozzle) {
    answer.text("size", std::string(nozzle->size));
    answer.text("color", std::string(nozzle->color));
    answer.step("size color", "ISO 10625, 3 bar",
                std::string(nozzle->size) + ": " + figure(nozzle->nominal.liters_per_minute()) + " L/min");
  }
  if (const auto measured = in.maybe<Flow>("measured")) {
    TRY_ASSIGN(const NozzleCheck& check, check_nozzle(*measured, flow, in.get<Share>("worn-limit").ratio(),
                                                      in.get<Share>("clogged-limit").ratio()));
    answer.number("change", 100 * check.change);
    answer.text("state", check.state == NozzleState::Worn      ? "worn"
                         : check.state == NozzleState::Clogged ? "clogged"
                                                               : "as-new");
    const std::string percent = figure(100 * check.change, 3) + " %";
    answer.step("change", "change = q / q2 − 1",
                figure(measured->liters_per_minute()) + " / " + figure(flow.liters_per_minute()) + " − 1 = " + percent);
    answer.step("state", "−clogged ≤ change ≤ worn",
                "−" + figure(in.get<Share>("clogged-limit").percent()) + " … " +
                    figure(in.get<Share>("worn-limit").percent()) + " %: " + percent);
    answer.note("nozzle.limits"_w);
  }
  answer.note("nozzle.us-marking"_w);
  return answer;
}

const Calculation kNozzle{"nozzle",
                          "spray",
                          "work.nozzle"_w,
                          kNozzleInputs,
                          kNozzleOutputs,
                          "ISO 10625 nominal flows at 3 bar (from memory, colors 01–08 confirmed); square-root law",
                          "--size 02 --pressure \"2 bar\" --measured \"0.72 L/min\"",
                          run_nozzle};

const Calculation kAll[] = {kCourse, kCalibrate, kNozzle};

}  // namespace

std::span<const Calculation> work_sprayer() { return kAll; }

}  // namespace steep
