#include "trade/air.h"

#include <string>
#include <vector>

#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

PumpPoint point(double psi, double cfm) { return {Pressure::from_psi(psi), Flow::from_cubic_feet_per_minute(cfm)}; }

TEST_CASE("air: pressure of water over the outlet") {
  struct Row {
    double meters, kPa, kPa_at_20C;
  };
  for (const Row& row : {
           Row{0.1, 0.9807, 0.9789},
           {0.2, 1.9613, 1.9578},
           {0.3, 2.9420, 2.9367},
           {0.305, 2.9910, 2.9856},
           {0.5, 4.9033, 4.8945},
           {0.6, 5.8840, 5.8734},
           {0.762, 7.4727, 7.4592},
           {0.9, 8.8260, 8.8101},
           {1.0, 9.8066, 9.7890},
           {1.2, 11.7680, 11.7468},
           {1.5, 14.7100, 14.6835},
           {2.0, 19.6133, 19.5780},
       }) {
    const Length depth = Length::from_meters(row.meters);
    PUBLISHED_NUMBER("air", "hydrostatics, g = 9.80665 m/s2, evaluated independently",
                     std::to_string(row.meters) + " m", hydrostatic_pressure(depth)->kilopascals(), row.kPa, 0.00006);
    PUBLISHED_NUMBER("air", "hydrostatics, water of 998.2 kg/m3 (from memory)",
                     std::to_string(row.meters) + " m at 20 °C",
                     hydrostatic_pressure(depth, Density::from_kilograms_per_cubic_meter(998.2))->kilopascals(),
                     row.kPa_at_20C, 0.00006);
  }
  // Texas A&M prints 0.433 psi per foot (water of 20 °C; conventional water gives 0.4335) and 2.31 ft per psi.
  PUBLISHED("air", "Texas A&M forestry, water pressure", "psi per foot",
            agrees(hydrostatic_pressure(Length::from_feet(1), Density::from_kilograms_per_cubic_meter(998.2))->psi(),
                   "0.433"));
  PUBLISHED("air", "Texas A&M forestry, water pressure", "feet per psi",
            agrees(1 / hydrostatic_pressure(Length::from_feet(1))->psi(), "2.31"));
}

TEST_CASE("air: a maker's table of a linear pump, between its rows and on them") {
  // 1.8, 1.6 and 1.3 cfm at 1.4, 2 and 3 psi as printed; 1.7 psi lies half way.
  const std::vector curve{point(3, 1.3), point(1.4, 1.8), point(2, 1.6)};
  const auto at = [&](double psi) { return delivered_flow(curve, Pressure::from_psi(psi))->flow.liters_per_minute(); };
  const char* source = "sizing table of a maker of linear air pumps";
  PUBLISHED_NUMBER("air", source, "1.4 psi", at(1.4), 51.0, 0.05);
  PUBLISHED_NUMBER("air", source, "2 psi", at(2), 45.3, 0.05);
  PUBLISHED_NUMBER("air", source, "3 psi", at(3), 36.8, 0.05);
  PUBLISHED_NUMBER("air", source, "1.7 psi, between", at(1.7), 48.14, 0.005);
}

TEST_CASE("air: one liter a minute for each gallon, scaled") {
  const FlowPerVolume target = FlowPerVolume::from_liters_per_minute_per_gallon(1);
  struct Row {
    double liters, L_min;
  };
  for (const Row& row : {Row{18.92705892, 5}, {20, 5.2834}, {100, 26.4172}, {1000, 264.1721}, {1040.9882, 275}})
    PUBLISHED_NUMBER("air", "common practice, no source; arithmetic", std::to_string(row.liters) + " L",
                     air_needed(target, Volume::from_liters(row.liters))->liters_per_minute(), row.L_min, 0.00006);
}

}  // namespace
