// The calculations 'air' and 'oxygen'.
#include "trade/air.h"
#include "trade/oxygen.h"
#include "trade/work_lists.h"
#include "trade/work_pressure.h"

namespace steep {
namespace {

// air

constexpr InputSpec kCurveColumns[] = {
    quantity_input("pressure", Dimension::Pressure, "work-input.curve-pressure"_w),
    quantity_input("flow", Dimension::Flow, "work-input.curve-flow"_w),
};
constexpr InputSpec kAirInputs[] = {
    quantity_input("volume", Dimension::Volume, "work-input.brew-volume"_w),
    quantity_input("depth", Dimension::Length, "work-input.air-depth"_w),
    quantity_input("target", Dimension::FlowPerVolume, "work-input.air-target"_w).or_standard("1 L/min/gal"),
    row_input("curve", kCurveColumns, "work-input.pump-curve"_w).repeated().optional(),
    quantity_input("rated-flow", Dimension::Flow, "work-input.rated-flow"_w).optional(),
    quantity_input("rated-pressure", Dimension::Pressure, "work-input.rated-pressure"_w).optional(),
    quantity_input("losses", Dimension::Pressure, "work-input.air-losses"_w).or_standard("0 psi"),
};
constexpr OutputSpec kAirOutputs[] = {
    {"air-needed", OutputKind::Air, "L/min", 1, "work-result.air-needed"_w},
    {"back-pressure", OutputKind::Quantity, "kPa", 3, "work-result.back-pressure"_w},
    {"air-delivered", OutputKind::Air, "L/min", 1, "work-result.air-delivered"_w},
    {"air-per-gallon", OutputKind::Quantity, "L/min/gal", 2, "work-result.air-per-gallon"_w},
    {"delivered-share", OutputKind::Quantity, "%", 0, "work-result.air-share"_w},
};
const extern Calculation kAir;

Result<std::vector<PumpPoint>> curve_of(const Inputs& in) {
  std::vector<PumpPoint> curve;
  for (const Value* row : in.all("curve"))
    curve.push_back({row->columns[0]->as<Pressure>(), row->columns[1]->as<Flow>()});
  const auto flow = in.maybe<Flow>("rated-flow");
  const auto pressure = in.maybe<Pressure>("rated-pressure");
  if (curve.empty() && flow && pressure) return straight_curve(*flow, *pressure);
  return curve;
}

Result<Answer> run_air(const Inputs& in) {
  const Volume volume = in.get<Volume>("volume");
  TRY_ASSIGN(const Flow& needed, air_needed(in.get<FlowPerVolume>("target"), volume));
  TRY_ASSIGN(const Pressure depth, hydrostatic_pressure(in.get<Length>("depth")));
  const Pressure back = depth + in.get<Pressure>("losses");
  Answer answer(kAir);
  answer.quantity("air-needed", needed);
  answer.quantity("back-pressure", back);
  answer.step("air-needed", "Q = target · V",
              figure(in.get<FlowPerVolume>("target").liters_per_minute_per_gallon()) + " L/min/gal × " +
                  figure(volume.gallons()) + " gal = " + figure(needed.liters_per_minute()) + " L/min");
  answer.step(
      "back-pressure", "p = density · g · depth + losses",
      "1000 × 9.80665 × " + figure(in.get<Length>("depth").meters()) + " → " + figure(back.kilopascals()) + " kPa");
  answer.note("air.target"_w);
  TRY_ASSIGN(const std::vector<PumpPoint>& curve, curve_of(in));
  if (curve.empty()) {
    answer.note("air.no-pump"_w);
    return answer;
  }
  TRY_ASSIGN(const DeliveredFlow& delivered, delivered_flow(curve, back));
  answer.quantity("air-delivered", delivered.flow);
  answer.quantity("air-per-gallon", delivered.flow / volume);
  answer.number("delivered-share", 100 * (delivered.flow / needed));
  const std::string flow = figure(delivered.flow.liters_per_minute()) + " L/min";
  answer.step("air-delivered", "Q = curve(p)", "curve(" + figure(back.psi()) + " psi) = " + flow);
  answer.step("air-per-gallon", "Q / V",
              flow + " / " + figure(volume.gallons()) +
                  " gal = " + figure((delivered.flow / volume).liters_per_minute_per_gallon()) + " L/min/gal");
  answer.step("delivered-share", "100 · Q / Q needed",
              "100 × " + flow + " / " + figure(needed.liters_per_minute()) +
                  " L/min = " + figure(100 * (delivered.flow / needed)) + " %");
  if (delivered.at_least) answer.note("air.at-least"_w);
  if (in.all("curve").empty()) answer.note("air.straight-curve"_w);
  if (delivered.flow < needed && !delivered.at_least) answer.caution("air.less"_w);
  answer.caution("air.electricity"_w);
  return answer;
}

const Calculation kAir{"air",
                       "air",
                       "work.air"_w,
                       kAirInputs,
                       kAirOutputs,
                       "target: common practice, no source; back pressure: hydrostatics; pump: its maker's table",
                       "--volume \"25 gal\" --depth \"3.5 ft\" --curve \"1.4 psi; 1.8 cfm\" --curve \"2 psi; 1.6 cfm\"",
                       run_air};

// oxygen

constexpr InputSpec kOxygenInputs[] = {
    quantity_input("temperature", Dimension::Temperature, "work-input.water-temperature"_w),
    quantity_input("pressure", Dimension::Pressure, "work-input.station-pressure"_w).optional(),
    quantity_input("elevation", Dimension::Length, "work-input.elevation"_w).optional(),
    plain_input("salinity", InputKind::Number, "work-input.salinity"_w).or_standard("0"),
    quantity_input("oxygen", Dimension::MassPerVolume, "work-input.oxygen-reading"_w).optional(),
};
constexpr OutputSpec kOxygenOutputs[] = {
    {"saturation", OutputKind::Quantity, "mg/L", 2, "work-result.saturation"_w},
    {"pressure", OutputKind::Quantity, "kPa", 2, "work-result.pressure"_w},
    {"oxygen-share", OutputKind::Quantity, "%", 1, "work-result.oxygen-share"_w},
};
const extern Calculation kOxygen;

Result<Answer> run_oxygen(const Inputs& in) {
  Answer answer(kOxygen);
  TRY_ASSIGN(const Pressure pressure, station_pressure(in, answer, "pressure"));
  const Temperature water = in.get<Temperature>("temperature");
  const double salinity = in["salinity"].number;
  TRY_ASSIGN(const Concentration saturation, oxygen_saturation(water, pressure, salinity));
  answer.quantity("saturation", saturation);
  answer.quantity("pressure", pressure);
  answer.step("saturation", "C = C0 · P (1 − u/P)(1 − θP) / ((1 − u)(1 − θ))",
              "t = " + figure(water.celsius(), 5) + " °C, P = " + figure(pressure.atmospheres()) +
                  " atm, S = " + figure(salinity) + " → " + figure(saturation.milligrams_per_liter()) + " mg/L");
  if (const auto reading = in.maybe<Concentration>("oxygen")) {
    TRY_ASSIGN(const Share& share, oxygen_share(*reading, water, pressure, salinity));
    answer.quantity("oxygen-share", share);
    answer.step("oxygen-share", "100 · DO / C",
                "100 × " + figure(reading->milligrams_per_liter()) + " / " + figure(saturation.milligrams_per_liter()) +
                    " = " + figure(share.percent()) + " %");
    if (share.ratio() > 1.2) answer.caution("oxygen.more-than-air"_w);
  }
  answer.note("oxygen.station"_w);
  return answer;
}

const Calculation kOxygen{"oxygen",
                          "air",
                          "work.oxygen"_w,
                          kOxygenInputs,
                          kOxygenOutputs,
                          "Benson & Krause 1980, 1984, as in APHA Standard Methods 4500-O; ISO 2533 for elevation",
                          "--temperature \"68 F\" --elevation \"1200 ft\" --oxygen \"7.1 mg/L\"",
                          run_oxygen};

const Calculation kAll[] = {kAir, kOxygen};

}  // namespace

Result<Pressure> station_pressure(const Inputs& in, Answer& answer, std::string_view of) {
  const auto given = in.maybe<Pressure>("pressure");
  const auto elevation = in.maybe<Length>("elevation");
  if (given && elevation) return refuse(Trouble::BadInput, "oxygen.pressure-or-elevation"_w, {}, "pressure");
  if (given) {
    answer.step(of, "p = p at the place", figure(given->kilopascals()) + " kPa");
    return *given;
  }
  if (!elevation) {
    answer.note("oxygen.sea-level"_w);
    answer.step(of, "p = 1 atm", "101.325 kPa");
    return Pressure::from_atmospheres(1);
  }
  TRY_ASSIGN(const Pressure pressure, pressure_at_elevation(*elevation));
  answer.step(of, "p = 101.325 (1 − 0.0065 h / 288.15)^5.2559",
              "h = " + figure(elevation->meters()) + " m → " + figure(pressure.kilopascals()) + " kPa");
  return pressure;
}

std::span<const Calculation> work_air() { return kAll; }

}  // namespace steep
