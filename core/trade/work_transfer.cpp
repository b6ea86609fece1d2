// The calculation 'transfer'.
#include "trade/oxygen.h"
#include "trade/transfer.h"
#include "trade/transfer_fit.h"
#include "trade/work_lists.h"
#include "trade/work_pressure.h"

namespace steep {
namespace {

constexpr InputSpec kReadingColumns[] = {
    quantity_input("at", Dimension::Time, "work-input.oxygen-at"_w),
    quantity_input("oxygen", Dimension::MassPerVolume, "work-input.oxygen-reading"_w),
    word_input("air", "on|off", "work-input.air-since"_w),
};
constexpr InputSpec kInputs[] = {
    quantity_input("temperature", Dimension::Temperature, "work-input.water-temperature"_w),
    row_input("reading", kReadingColumns, "work-input.gassing-out"_w).repeated().optional(),
    quantity_input("pressure", Dimension::Pressure, "work-input.station-pressure"_w).optional(),
    quantity_input("elevation", Dimension::Length, "work-input.elevation"_w).optional(),
    quantity_input("beta", Dimension::Share, "work-input.beta"_w).or_standard("100 %"),
    plain_input("find-saturation", InputKind::YesNo, "work-input.find-saturation"_w).or_standard("no"),
    plain_input("kla-20-per-hour", InputKind::Number, "work-input.kla-20"_w).optional(),
    quantity_input("air", Dimension::Flow, "work-input.air-flow"_w).optional(),
    quantity_input("depth", Dimension::Length, "work-input.air-depth"_w).optional(),
    quantity_input("volume", Dimension::Volume, "work-input.brew-volume"_w).optional(),
    quantity_input("efficiency", Dimension::Share, "work-input.efficiency"_w).or_standard("2.5 %"),
    quantity_input("alpha", Dimension::Share, "work-input.alpha"_w).or_standard("100 %"),
    plain_input("theta", InputKind::Number, "work-input.theta"_w).or_standard("1.024"),
    quantity_input("uptake-per-hour", Dimension::MassPerVolume, "work-input.uptake"_w).optional(),
    quantity_input("oxygen", Dimension::MassPerVolume, "work-input.oxygen-now"_w).optional(),
    quantity_input("floor", Dimension::MassPerVolume, "work-input.oxygen-floor"_w).or_standard("6 mg/L"),
    quantity_input("probe-lag", Dimension::Time, "work-input.probe-lag"_w).optional(),
};
constexpr OutputSpec kOutputs[] = {
    {"kla-per-hour", OutputKind::Number, "", 2, "work-result.kla"_w},
    {"kla-error", OutputKind::Number, "", 2, "work-result.kla-error"_w},
    {"kla-20-per-hour", OutputKind::Number, "", 2, "work-result.kla-20"_w},
    {"uptake-per-hour", OutputKind::Quantity, "mg/L", 1, "work-result.uptake"_w},
    {"uptake-error", OutputKind::Quantity, "mg/L", 1, "work-result.uptake-error"_w},
    {"saturation", OutputKind::Quantity, "mg/L", 2, "work-result.saturation"_w},
    {"saturation-error", OutputKind::Quantity, "mg/L", 2, "work-result.saturation-error"_w},
    {"scatter", OutputKind::Quantity, "mg/L", 2, "work-result.oxygen-scatter"_w},
    {"standard-transfer", OutputKind::Quantity, "g", 2, "work-result.standard-transfer"_w},
    {"steady-oxygen", OutputKind::Quantity, "mg/L", 1, "work-result.steady-oxygen"_w},
    {"steady-share", OutputKind::Quantity, "%", 0, "work-result.oxygen-share"_w},
    {"time-to-floor", OutputKind::Quantity, "min", 0, "work-result.time-to-floor"_w},
};
const extern Calculation kTransfer;

/// What is known of the brew: from a test, from what was given, or not.
struct Known {
  std::optional<double> kla_per_h, kla20_per_h;
  std::optional<Concentration> uptake_per_h;
  Concentration saturation;
  std::optional<TransferFit> fit;  ///< Of a test.
};

std::string mg_text(Concentration c) { return figure(c.milligrams_per_liter()); }

/// θ^(T − 20): what a measured kLa is divided by for 20 °C. Checked by the caller's saturation and by kla_at.
Result<double> temperature_factor(const Inputs& in) {
  return kla_at(1, in.get<Temperature>("temperature"), 1, in["theta"].number);
}

Result<void> from_test(const Inputs& in, Answer& answer, Known& known) {
  std::vector<OxygenAt> readings;
  for (const Value* row : in.all("reading"))
    readings.push_back(
        {row->columns[0]->as<Duration>(), row->columns[1]->as<Concentration>(), row->columns[2]->text == "on"});
  const bool find = in["find-saturation"].is_yes();
  TRY_ASSIGN(const TransferFit& fit, fit_transfer(readings, find ? std::nullopt : std::optional(known.saturation)));
  if (fit.kla_per_h) {
    TRY_ASSIGN(const double factor, temperature_factor(in));
    known.kla_per_h = fit.kla_per_h;
    known.kla20_per_h = *fit.kla_per_h / factor;
    answer.step("kla-per-hour kla-error scatter", "dC/dt = kLa (C* − C) − OUR",
                "kLa = " + figure(*fit.kla_per_h) + " ± " + figure(*fit.kla_error, 3) + " /h");
    answer.step("kla-20-per-hour", "kLa20 = kLa / θ^(T − 20)",
                figure(*fit.kla_per_h) + " / " + figure(factor) + " = " + figure(*known.kla20_per_h));
    const auto lag = in.maybe<Duration>("probe-lag");
    if (lag && lag->hours() * *fit.kla_per_h > 0.2) answer.caution("transfer.slow-probe"_w);
  }
  if (fit.uptake_per_h) {
    known.uptake_per_h = fit.uptake_per_h;
    answer.step("uptake-per-hour uptake-error scatter", "dC/dt = −OUR",
                "OUR = " + mg_text(*fit.uptake_per_h) + " ± " + figure(fit.uptake_error->milligrams_per_liter(), 3) +
                    " mg/L/h");
  }
  if (fit.saturation) {
    known.saturation = *fit.saturation;
    answer.step("saturation saturation-error", "dC/dt = kLa (C* − C) − OUR",
                "C* = " + mg_text(*fit.saturation) + " mg/L");
  }
  known.fit = fit;
  if (!fit.has_both())
    answer.caution(fit.kla_per_h      ? "transfer.open-uptake"_w
                   : fit.uptake_per_h ? "transfer.open-kla"_w
                                      : "transfer.open-both"_w);
  answer.note("transfer.test-notes"_w);
  return {};
}

/// Of 20 °C, in clean water: as given, or from the air.
Result<std::optional<double>> given_kla20(const Inputs& in, Answer& answer) {
  const Value* kla20 = in.find("kla-20-per-hour");
  const auto air = in.maybe<Flow>("air");
  if (kla20 && air) return refuse(Trouble::BadInput, "transfer.kla-or-air"_w, {}, "air");
  if (kla20) {
    answer.step("kla-20-per-hour", "kLa20", figure(kla20->number) + " /h");
    return std::optional(kla20->number);
  }
  if (!air) return std::optional<double>();
  const auto depth = in.maybe<Length>("depth");
  const auto volume = in.maybe<Volume>("volume");
  if (!depth || !volume) return refuse(Trouble::BadInput, "transfer.air-needs"_w, {}, depth ? "volume" : "depth");
  TRY_ASSIGN(const double found, kla20_from_air(*air, in.get<Share>("efficiency"), *depth, *volume));
  answer.step("kla-20-per-hour", "kLa20 = E · d · W / (C*20 · V)",
              figure(in.get<Share>("efficiency").percent()) + " %/m × " + figure(depth->meters()) + " m × " +
                  figure(air->liters_per_minute()) + " L/min, V = " + figure(volume->liters()) + " L → " +
                  figure(found) + " /h");
  answer.note("transfer.efficiency-whose"_w);
  return std::optional(found);
}

Result<void> from_givens(const Inputs& in, Answer& answer, Known& known) {
  TRY_ASSIGN(known.kla20_per_h, given_kla20(in, answer));
  if (known.kla20_per_h) {
    const double alpha = in.get<Share>("alpha").ratio(), theta = in["theta"].number;
    TRY_ASSIGN(known.kla_per_h, kla_at(*known.kla20_per_h, in.get<Temperature>("temperature"), alpha, theta));
    answer.step("kla-per-hour", "kLa = α · kLa20 · θ^(T − 20)",
                figure(alpha) + " × " + figure(*known.kla20_per_h) + " × " + figure(theta) + "^(" +
                    figure(in.get<Temperature>("temperature").celsius(), 5) + " − 20) = " + figure(*known.kla_per_h));
  }
  known.uptake_per_h = in.maybe<Concentration>("uptake-per-hour");
  if (known.uptake_per_h) answer.step("uptake-per-hour", "OUR", mg_text(*known.uptake_per_h) + " mg/L/h");
  return {};
}

Result<void> add_known(const Inputs& in, Answer& answer, const Known& known) {
  if (known.kla_per_h) answer.number("kla-per-hour", *known.kla_per_h);
  if (known.fit && known.fit->kla_error) answer.number("kla-error", *known.fit->kla_error);
  if (known.kla20_per_h) answer.number("kla-20-per-hour", *known.kla20_per_h);
  if (known.uptake_per_h) answer.quantity("uptake-per-hour", *known.uptake_per_h);
  if (known.fit && known.fit->uptake_error) answer.quantity("uptake-error", *known.fit->uptake_error);
  answer.quantity("saturation", known.saturation);
  if (known.fit && known.fit->saturation_error) answer.quantity("saturation-error", *known.fit->saturation_error);
  if (known.fit) answer.quantity("scatter", known.fit->deviation);
  const auto volume = in.maybe<Volume>("volume");
  if (!known.kla20_per_h || !volume) return {};
  TRY_ASSIGN(const Concentration at_20,
             oxygen_saturation(Temperature::from_celsius(20), Pressure::from_atmospheres(1)));
  const Mass standard = oxygen_brought_per_h(*known.kla20_per_h, at_20, Concentration{}, *volume);
  answer.quantity("standard-transfer", standard);
  answer.step("standard-transfer", "SOTR = kLa20 · C*20 · V",
              figure(*known.kla20_per_h) + " /h × " + mg_text(at_20) + " mg/L × " + figure(volume->liters()) +
                  " L = " + figure(standard.grams()) + " g/h");
  return {};
}

Result<void> add_levels(const Inputs& in, Answer& answer, const Known& known) {
  if (!known.uptake_per_h) return {};
  const Concentration floor = in.get<Concentration>("floor"), uptake = *known.uptake_per_h;
  auto now = in.maybe<Concentration>("oxygen");
  if (known.kla_per_h && uptake.si() >= 0) {
    TRY_ASSIGN(const SteadyOxygen& steady, steady_oxygen(*known.kla_per_h, known.saturation, uptake));
    answer.quantity("steady-oxygen", steady.oxygen);
    answer.number("steady-share", 100 * (steady.oxygen / known.saturation));
    answer.step("steady-share", "100 · C / C*",
                "100 × " + mg_text(steady.oxygen) + " / " + mg_text(known.saturation) + " = " +
                    figure(100 * (steady.oxygen / known.saturation)) + " %");
    answer.step("steady-oxygen", "C = C* − OUR / kLa",
                mg_text(known.saturation) + " − " + mg_text(uptake) + " / " + figure(*known.kla_per_h) + " = " +
                    figure((known.saturation - uptake / *known.kla_per_h).milligrams_per_liter()) + " mg/L");
    if (steady.runs_out)
      answer.caution("transfer.runs-out"_w);
    else if (steady.oxygen < floor)
      answer.caution("transfer.below-floor"_w);
    if (!now && steady.oxygen > floor) now = steady.oxygen;
  }
  if (!now || !(uptake.si() > 0)) return {};
  TRY_ASSIGN(const Duration time, time_to_floor(*now, floor, uptake));
  answer.quantity("time-to-floor", time);
  if (*now <= floor) answer.caution("transfer.already-below"_w);
  answer.step("time-to-floor", "t = (C − floor) / OUR",
              "(" + mg_text(*now) + " − " + mg_text(floor) + ") / " + mg_text(uptake) + " → " + figure(time.minutes()) +
                  " min");
  answer.note("transfer.floor-whose"_w);
  return {};
}

Result<Answer> run_transfer(const Inputs& in) {
  Answer answer(kTransfer);
  TRY_ASSIGN(const Pressure pressure, station_pressure(in, answer, "saturation"));
  const Temperature water = in.get<Temperature>("temperature");
  const double beta = in.get<Share>("beta").ratio();
  if (!(beta >= 0.5 && beta <= 1)) return refuse(Trouble::OutOfRange, "transfer.beta"_w, {}, "beta");
  TRY_ASSIGN(const Concentration clean, oxygen_saturation(water, pressure));
  Known known;
  known.saturation = clean * beta;
  answer.step("saturation", "C* = β · C(T, P)",
              figure(beta) + " × " + mg_text(clean) + " = " + mg_text(known.saturation) + " mg/L");
  const bool test = !in.all("reading").empty(),
             given = in.find("kla-20-per-hour") || in.find("air") || in.find("uptake-per-hour");
  if (test == given) return refuse(Trouble::BadInput, "transfer.what"_w, {}, "reading");
  if (test) {
    TRY(from_test(in, answer, known));
  } else {
    TRY(from_givens(in, answer, known));
  }
  TRY(add_known(in, answer, known));
  TRY(add_levels(in, answer, known));
  answer.caution("air.electricity"_w);
  return answer;
}

const Calculation kTransfer{
    "transfer",
    "air",
    "work.transfer"_w,
    kInputs,
    kOutputs,
    "two-film model; ASCE/EWRI 2 (from memory); gassing-out method; Benson & Krause 1984 for saturation",
    "--temperature \"68 F\" --reading \"0 min; 7.1 mg/L; on\" --reading \"3 min; 5.9 mg/L; off\" --reading \"6 min; "
    "4.7 mg/L; off\" "
    "--reading \"9 min; 3.5 mg/L; off\" --reading \"11 min; 4.7 mg/L; on\" --reading \"13 min; 5.5 mg/L; on\" "
    "--reading \"16 min; 6.2 mg/L; on\" --reading \"20 min; 6.7 mg/L; on\" --reading \"25 min; 6.9 mg/L; on\"",
    run_transfer};

const Calculation kAll[] = {kTransfer};

}  // namespace

std::span<const Calculation> work_transfer() { return kAll; }

}  // namespace steep
