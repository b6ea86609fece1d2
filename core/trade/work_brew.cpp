// The calculations 'tea-time', 'window', 'tea-status'.
#include <algorithm>

#include "base/zone.h"
#include "trade/tea_time.h"
#include "trade/teastatus.h"
#include "trade/window.h"
#include "trade/work_lists.h"
#include "trade/work_times.h"

namespace steep {
namespace {

// tea-time

constexpr InputSpec kTeaTimeInputs[] = {
    plain_input("met-water", InputKind::LocalTime, "work-input.met-water"_w),
    plain_input("finish", InputKind::LocalTime, "work-input.finish"_w),
    plain_input("zone", InputKind::Text, "work-input.zone"_w).or_standard("America/New_York"),
};
constexpr OutputSpec kTeaTimeOutputs[] = {
    {"minutes", OutputKind::Whole, "", 0, "work-result.minutes-in-water"_w},
    {"liquid", OutputKind::Word, "", 0, "work-result.liquid"_w},
    {"extract-until", OutputKind::LocalTime, "", 0, "work-result.extract-until"_w},
};
const extern Calculation kTeaTime;

Result<Answer> run_tea_time(const Inputs& in) {
  TRY_ASSIGN(const Zone& zone, Zone::from_name(in["zone"].text));
  TRY_ASSIGN(const Moment met, moment_of(zone, in["met-water"], "met-water"));
  TRY_ASSIGN(const Moment finish, moment_of(zone, in["finish"], "finish"));
  TRY_ASSIGN(const TeaTime& time, tea_time(met, finish));
  Answer answer(kTeaTime);
  answer.number("minutes", static_cast<double>(time.minutes));
  answer.text("liquid", time.liquid == Liquid::Tea ? "tea" : "extract");
  answer.text("extract-until", local_text(zone, extract_until(met)));
  answer.step("minutes", "t = finish − met water", "t = " + std::to_string(time.minutes) + " min");
  answer.step("liquid", "t ≤ 60 min: extract; t > 60 min: tea",
              std::to_string(time.minutes) + (time.liquid == Liquid::Tea ? " > 60" : " ≤ 60"));
  answer.step("extract-until", "met water + 60 min",
              local_text(zone, met) + " + 60 min = " + local_text(zone, extract_until(met)));
  if (time.liquid == Liquid::ExtractSoonTea) answer.caution("tea-time.soon-tea"_w, {std::to_string(time.minutes)});
  answer.note("tea-time.line-of-rules"_w);
  return answer;
}

const Calculation kTeaTime{"tea-time",
                           "brew",
                           "work.tea-time"_w,
                           kTeaTimeInputs,
                           kTeaTimeOutputs,
                           "NOSB Compost Tea Task Force Report 2004 (from memory); 21 CFR 112.3",
                           "--met-water \"2026-06-03 06:10\" --finish \"2026-06-03 07:05\"",
                           run_tea_time};

// window

constexpr InputSpec kTemperatureColumns[] = {
    plain_input("at", InputKind::LocalTime, "work-input.temperature-at"_w),
    quantity_input("temperature", Dimension::Temperature, "work-input.brew-temperature"_w),
};
constexpr InputSpec kPastColumns[] = {
    quantity_input("temperature", Dimension::Temperature, "work-input.brew-temperature"_w),
    quantity_input("time", Dimension::Time, "work-input.brew-time"_w),
};
constexpr InputSpec kWindowInputs[] = {
    plain_input("air-on", InputKind::LocalTime, "work-input.air-on"_w),
    plain_input("now", InputKind::LocalTime, "work-input.now"_w).optional(),
    quantity_input("brew-time", Dimension::Time, "work-input.recipe-time"_w).or_standard("24 h"),
    quantity_input("brew-temperature", Dimension::Temperature, "work-input.recipe-temperature"_w)
        .or_standard("70 degF"),
    plain_input("q10", InputKind::Number, "work-input.q10"_w).or_standard("2"),
    quantity_input("spread", Dimension::Share, "work-input.brew-spread"_w).or_standard("25 %"),
    row_input("temperature", kTemperatureColumns, "work-input.temperatures"_w).repeated(),
    row_input("past", kPastColumns, "work-input.past-brews"_w).repeated().optional(),
    plain_input("zone", InputKind::Text, "work-input.zone"_w).or_standard("America/New_York"),
};
constexpr OutputSpec kWindowOutputs[] = {
    {"ready-earliest", OutputKind::LocalTime, "", 0, "work-result.ready-earliest"_w},
    {"ready-expected", OutputKind::LocalTime, "", 0, "work-result.ready-expected"_w},
    {"ready-latest", OutputKind::LocalTime, "", 0, "work-result.ready-latest"_w},
    {"hours", OutputKind::Quantity, "h", 1, "work-result.brew-hours"_w},
    {"mean-temperature", OutputKind::Quantity, "degC", 1, "work-result.mean-temperature"_w},
    {"done", OutputKind::Quantity, "%", 0, "work-result.brew-done"_w},
    {"from", OutputKind::Word, "", 0, "work-result.estimate-from"_w},
};
const extern Calculation kWindow;

/// The integral over the temperatures, and how far the other two times lie from it.
void explain(Answer& answer, const BrewWindow& window, const BrewPace& pace, Moment start) {
  const double hours = static_cast<double>(window.expected - start) / kHour;
  const auto after = [&](Moment at) { return "→ " + figure(static_cast<double>(at - start) / kHour, 4) + " h"; };
  const std::string mean = "T = " + figure(window.mean.celsius(), 4) + " °C";
  answer.step("ready-expected hours ready-earliest ready-latest",
              window.from_own_brews ? "ln(h) = a + b·T, ∫ dt / h(T) = 1" : "∫ Q10^((T − Tref) / 10) / h dt = 1",
              mean + " → " + figure(hours, 4) + " h");
  const std::string spread = figure(pace.spread);
  answer.step("ready-earliest", window.from_own_brews ? "∫ dt / h(T) = exp(−t(P, ν) · s)" : "∫ … dt = 1 − spread",
              (window.from_own_brews ? "" : "1 − " + spread + " ") + after(window.earliest));
  answer.step("ready-latest", window.from_own_brews ? "∫ dt / h(T) = exp(t(P, ν) · s)" : "∫ … dt = 1 + spread",
              (window.from_own_brews ? "" : "1 + " + spread + " ") + after(window.latest));
  answer.step("mean-temperature", "∫ T dt / t", figure(hours, 4) + " h: " + mean);
  answer.step("from", "n ≥ 5", "n = " + std::to_string(window.own_brews));
}

Result<Answer> run_window(const Inputs& in) {
  TRY_ASSIGN(const Zone& zone, Zone::from_name(in["zone"].text));
  TRY_ASSIGN(const Moment start, moment_of(zone, in["air-on"], "air-on"));
  Moment now = start;
  if (const Value* value = in.find("now")) {
    TRY_ASSIGN(now, moment_of(zone, *value, "now"));
  }
  BrewPace pace;
  pace.recipe_time = in.get<Duration>("brew-time");
  pace.recipe_temperature = in.get<Temperature>("brew-temperature");
  pace.q10 = in["q10"].number;
  pace.spread = in.get<Share>("spread").ratio();
  std::vector<TemperatureAt> temperatures;
  for (const Value* row : in.all("temperature")) {
    TRY_ASSIGN(const Moment at, moment_of(zone, *row->columns[0], "temperature"));
    temperatures.push_back({at, row->columns[1]->as<Temperature>()});
  }
  std::vector<PastBrew> past;
  for (const Value* row : in.all("past"))
    past.push_back({row->columns[0]->as<Temperature>(), row->columns[1]->as<Duration>()});
  TRY_ASSIGN(const BrewWindow& window, brew_window(start, now, temperatures, pace, past));
  Answer answer(kWindow);
  answer.text("ready-earliest", local_text(zone, window.earliest));
  answer.text("ready-expected", local_text(zone, window.expected));
  answer.text("ready-latest", local_text(zone, window.latest));
  const double hours = static_cast<double>(window.expected - start) / kHour;
  answer.number("hours", hours);
  answer.quantity("mean-temperature", window.mean);
  if (in.find("now")) {
    answer.number("done", 100 * window.done);
    answer.step("done", "100 · ∫ dt / h(T)",
                figure(static_cast<double>(now - start) / kHour, 4) + " h → " + figure(100 * window.done, 3) + " %");
  }
  answer.text("from", window.from_own_brews ? "own-brews" : "recipe");
  explain(answer, window, pace, start);
  answer.note("window.senses-decide"_w);
  if (window.own_brews_unusable) answer.note("window.own-unusable"_w);
  if (window.outside_own_range) answer.caution("window.outside-own"_w);
  return answer;
}

const Calculation kWindow{
    "window",
    "brew",
    "work.window"_w,
    kWindowInputs,
    kWindowOutputs,
    "Q10 rule and spread: common practice, no source, the farm's settings; own brews: least squares",
    "--air-on \"2026-06-03 18:00\" --brew-time \"24 h\" --brew-temperature \"70 F\" --temperature \"2026-06-03 18:00; "
    "62 F\"",
    run_window};

// tea-status

constexpr InputSpec kStatusInputs[] = {
    word_input("compost", "plant-only|with-animal|raw-manure|leachate|not-known", "work-input.compost-source"_w),
    plain_input("organic-process-shown", InputKind::YesNo, "work-input.organic-process"_w).optional(),
    plain_input("produce-process-shown", InputKind::YesNo, "work-input.produce-process"_w).optional(),
    word_input("standard", "not-known|fecal-coliform|three-pathogens", "work-input.microbial-standard"_w)
        .or_standard("not-known"),
    plain_input("additive", InputKind::YesNo, "work-input.additive"_w).optional(),
    plain_input("animal-additive", InputKind::YesNo, "work-input.animal-additive"_w).or_standard("no"),
    plain_input("minutes", InputKind::Whole, "work-input.minutes-in-water"_w).optional(),
    word_input("water", "municipal|well|rain|surface|not-known", "work-input.water-source"_w).or_standard("not-known"),
    plain_input("e-coli-detected", InputKind::YesNo, "work-input.e-coli-detected"_w).optional(),
    plain_input("sanitized", InputKind::YesNo, "work-input.sanitized"_w).optional(),
    plain_input("contaminated", InputKind::YesNo, "work-input.contaminated"_w).or_standard("no"),
    plain_input("batches-tested", InputKind::Whole, "work-input.batches-tested"_w).optional(),
    plain_input("mean-e-coli", InputKind::Number, "work-input.mean-e-coli"_w).optional(),
    plain_input("mean-enterococci", InputKind::Number, "work-input.mean-enterococci"_w).optional(),
    word_input("crop", "food|not-food|grain|sprouts", "work-input.crop-use"_w).or_standard("food"),
    plain_input("touches-soil", InputKind::YesNo, "work-input.touches-soil"_w).optional(),
};
constexpr OutputSpec kStatusOutputs[] = {
    {"nosb", OutputKind::Word, "", 0, "work-result.nosb"_w},
    {"nosb-days", OutputKind::Whole, "", 0, "work-result.nosb-days"_w},
    {"produce-rule", OutputKind::Word, "", 0, "work-result.produce-rule"_w},
    {"missing-papers", OutputKind::Whole, "", 0, "work-result.missing-papers"_w},
};
const extern Calculation kStatus;

std::optional<bool> yes_or_no(const Inputs& in, std::string_view name) {
  const Value* value = in.find(name);
  return value ? std::optional(value->is_yes()) : std::nullopt;
}

std::optional<double> number(const Inputs& in, std::string_view name) {
  const Value* value = in.find(name);
  return value ? std::optional(value->number) : std::nullopt;
}

/// The position of a word among the choices of its spec, as an enumerator.
template <class Enum>
Enum choice(const Inputs& in, std::string_view name, std::initializer_list<std::string_view> words) {
  int index = 0;
  for (const std::string_view word : words) {
    if (in[name].text == word) return static_cast<Enum>(index);
    ++index;
  }
  return static_cast<Enum>(0);
}

TeaFacts facts_of(const Inputs& in) {
  TeaFacts facts;
  facts.compost =
      choice<CompostSource>(in, "compost", {"plant-only", "with-animal", "raw-manure", "leachate", "not-known"});
  facts.organic_process_shown = yes_or_no(in, "organic-process-shown");
  facts.psr_process_shown = yes_or_no(in, "produce-process-shown");
  facts.standard = choice<MicrobialStandard>(in, "standard", {"not-known", "fecal-coliform", "three-pathogens"});
  facts.has_additive = yes_or_no(in, "additive");
  facts.additive_of_animal_origin = in["animal-additive"].is_yes();
  if (const auto minutes = number(in, "minutes")) facts.minutes_in_water = static_cast<long long>(*minutes);
  facts.water = choice<WaterKind>(in, "water", {"municipal", "well", "rain", "surface", "not-known"});
  facts.e_coli_detected = yes_or_no(in, "e-coli-detected");
  facts.equipment_sanitized = yes_or_no(in, "sanitized");
  facts.contaminated_after = in["contaminated"].is_yes();
  if (const auto batches = number(in, "batches-tested"))
    facts.test = SystemTest{static_cast<int>(std::min(*batches, 1e6)), number(in, "mean-e-coli"),
                            number(in, "mean-enterococci")};
  facts.crop = choice<CropUse>(in, "crop", {"food", "not-food", "grain", "sprouts"});
  facts.touches_soil = yes_or_no(in, "touches-soil");
  return facts;
}

Result<Answer> run_status(const Inputs& in) {
  const TeaStatus status = tea_status(facts_of(in));
  Answer answer(kStatus);
  answer.text("nosb", outcome_word(status.nosb));
  answer.number("nosb-days", status.nosb_days);
  answer.text("produce-rule", outcome_word(status.psr));
  answer.number("missing-papers", static_cast<double>(status.missing.size()));
  answer.note(status.nosb_reason);
  answer.note(status.psr_reason);
  answer.note(status.psr_application);
  for (const WordId paper : status.missing) answer.note(paper);
  answer.step("nosb nosb-days", "NOSB 2004",
              std::string(outcome_word(status.nosb)) + ", " + std::to_string(status.nosb_days) + " d");
  answer.step("produce-rule", "21 CFR 112 subpart F", outcome_word(status.psr));
  answer.step("missing-papers", "n", std::to_string(status.missing.size()));
  answer.caution("tea-status.certifier-decides"_w);
  return answer;
}

const Calculation kStatus{
    "tea-status",
    "brew",
    "work.tea-status"_w,
    kStatusInputs,
    kStatusOutputs,
    "NOSB Compost Tea Task Force Report 2004 (from memory); 21 CFR 112.51–112.56 as of 2026-04",
    "--compost with-animal --organic-process-shown yes --produce-process-shown yes --additive yes --minutes 1560 "
    "--water well --e-coli-detected no --sanitized yes --touches-soil no",
    run_status};

const Calculation kAll[] = {kTeaTime, kWindow, kStatus};

}  // namespace

std::span<const Calculation> work_brew() { return kAll; }

}  // namespace steep
