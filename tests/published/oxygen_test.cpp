#include "trade/oxygen.h"

#include <string>

#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

constexpr const char* kEquation = "Benson & Krause 1984 (APHA 4500-O), evaluated independently with mpmath";
constexpr const char* kPrinted = "EN 25814, table of saturation at 1 atm, as printed in a meter's manual";
constexpr const char* kAtmosphere =
    "International Standard Atmosphere, ISO 2533 (from memory), evaluated independently";

double saturation(double celsius, double mmHg, double salinity = 0) {
  return oxygen_saturation(Temperature::from_celsius(celsius), Pressure::from_atmospheres(mmHg / 760), salinity)
      ->milligrams_per_liter();
}

// Four decimals were computed: half the last one, and as much again for the other vapor pressure equation of the
// handbooks, which parts from ours by 6e-5 mg/L at most.
constexpr double kFourDecimals = 1.1e-4;

TEST_CASE("oxygen: saturation at 760 mmHg, 0 to 40 °C") {
  struct Row {
    double celsius, mg_L;
  };
  for (const Row& row : {
           Row{0, 14.6208}, {1, 14.2164},  {2, 13.8302}, {3, 13.4611},  {4, 13.1084},  {5, 12.7710},  {6, 12.4482},
           {7, 12.1392},    {8, 11.8433},  {9, 11.5598}, {10, 11.2879}, {11, 11.0272}, {12, 10.7770}, {13, 10.5367},
           {14, 10.3058},   {15, 10.0839}, {16, 9.8704}, {17, 9.6649},  {18, 9.4670},  {19, 9.2763},  {20, 9.0924},
           {21, 8.9150},    {22, 8.7437},  {23, 8.5782}, {24, 8.4182},  {25, 8.2635},  {26, 8.1136},  {27, 7.9685},
           {28, 7.8278},    {29, 7.6913},  {30, 7.5588}, {31, 7.4301},  {32, 7.3050},  {33, 7.1832},  {34, 7.0648},
           {35, 6.9493},    {36, 6.8368},  {37, 6.7270}, {38, 6.6198},  {39, 6.5151},  {40, 6.4127},
       })
    PUBLISHED_NUMBER("oxygen", kEquation, std::to_string(row.celsius) + " °C", saturation(row.celsius, 760), row.mg_L,
                     kFourDecimals);
}

TEST_CASE("oxygen: the printed table of the standard") {
  // Two decimals; 0.006 rather than 0.005, since at 21 °C the equation gives 8.91501 where the table prints 8.91.
  struct Row {
    double celsius, mg_L;
  };
  for (const Row& row : {
           Row{0, 14.62}, {1, 14.22}, {2, 13.83},  {3, 13.46},  {4, 13.11},  {5, 12.77},  {6, 12.45},  {7, 12.14},
           {8, 11.84},    {9, 11.56}, {10, 11.29}, {11, 11.03}, {12, 10.78}, {13, 10.54}, {14, 10.31}, {15, 10.08},
           {16, 9.87},    {17, 9.66}, {18, 9.47},  {19, 9.28},  {20, 9.09},  {21, 8.91},  {22, 8.74},  {23, 8.58},
           {24, 8.42},    {25, 8.26}, {26, 8.11},  {27, 7.97},  {28, 7.83},  {29, 7.69},  {30, 7.56},
       })
    PUBLISHED_NUMBER("oxygen", kPrinted, std::to_string(row.celsius) + " °C", saturation(row.celsius, 760), row.mg_L,
                     0.006);
}

TEST_CASE("oxygen: saturation at other pressures") {
  struct Row {
    double celsius, mmHg, mg_L;
  };
  for (const Row& row : {
           Row{0, 600, 11.5265}, {0, 640, 12.3002}, {0, 700, 13.4606},  {0, 760, 14.6208},  {0, 780, 15.0075},
           {5, 600, 10.0610},    {5, 640, 10.7386}, {5, 700, 11.7549},  {5, 760, 12.7710},  {5, 780, 13.1097},
           {10, 600, 8.8840},    {10, 640, 9.4851}, {10, 700, 10.3866}, {10, 760, 11.2879}, {10, 780, 11.5884},
           {15, 600, 7.9259},    {15, 640, 8.4655}, {15, 700, 9.2747},  {15, 760, 10.0839}, {15, 780, 10.3535},
           {20, 600, 7.1341},    {20, 640, 7.6238}, {20, 700, 8.3581},  {20, 760, 9.0924},  {20, 780, 9.3372},
           {25, 600, 6.4686},    {25, 640, 6.9173}, {25, 700, 7.5904},  {25, 760, 8.2635},  {25, 780, 8.4878},
           {30, 600, 5.8987},    {30, 640, 6.3138}, {30, 700, 6.9363},  {30, 760, 7.5588},  {30, 780, 7.7663},
           {35, 600, 5.4010},    {35, 640, 5.7881}, {35, 700, 6.3687},  {35, 760, 6.9493},  {35, 780, 7.1428},
           {40, 600, 4.9572},    {40, 640, 5.3211}, {40, 700, 5.8670},  {40, 760, 6.4127},  {40, 780, 6.5946},
       })
    PUBLISHED_NUMBER("oxygen", kEquation, std::to_string(row.celsius) + " °C, " + std::to_string(row.mmHg) + " mmHg",
                     saturation(row.celsius, row.mmHg), row.mg_L, kFourDecimals);
}

TEST_CASE("oxygen: saturation in salt water") {
  struct Row {
    double celsius, salinity, mg_L;
  };
  for (const Row& row : {
           Row{0, 1, 14.5189}, {0, 2, 14.4177},  {0, 5, 14.1183},  {0, 10, 13.6330}, {0, 20, 12.7120},
           {0, 35, 11.4457},   {5, 1, 12.6860},  {5, 2, 12.6015},  {5, 5, 12.3515},  {5, 10, 11.9457},
           {5, 20, 11.1737},   {5, 35, 10.1083}, {10, 1, 11.2160}, {10, 2, 11.1445}, {10, 5, 10.9327},
           {10, 10, 10.5887},  {10, 20, 9.9328}, {10, 35, 9.0243}, {15, 1, 10.0222}, {15, 2, 9.9609},
           {15, 5, 9.7792},    {15, 10, 9.4838}, {15, 20, 8.9194}, {15, 35, 8.1352}, {20, 1, 9.0389},
           {20, 2, 8.9858},    {20, 5, 8.8281},  {20, 10, 8.5715}, {20, 20, 8.0804}, {20, 35, 7.3961},
           {25, 1, 8.2166},    {25, 2, 8.1700},  {25, 5, 8.0318},  {25, 10, 7.8067}, {25, 20, 7.3751},
           {25, 35, 6.7721},   {30, 1, 7.5174},  {30, 2, 7.4762},  {30, 5, 7.3540},  {30, 10, 7.1547},
           {30, 20, 6.7723},   {30, 35, 6.2366},
       })
    PUBLISHED_NUMBER("oxygen", kEquation, "salinity " + std::to_string(row.salinity),
                     saturation(row.celsius, 760, row.salinity), row.mg_L, kFourDecimals);
}

TEST_CASE("oxygen: by elevation") {
  struct Row {
    double meters, celsius, mg_L;
  };
  for (const Row& row : {
           Row{0, 10, 11.2879}, {0, 15, 10.0839},   {0, 20, 9.0924},    {0, 25, 8.2635},    {0, 30, 7.5588},
           {300, 10, 10.8877},  {300, 15, 9.7245},  {300, 20, 8.7664},  {300, 25, 7.9646},  {300, 30, 7.2824},
           {500, 10, 10.6272},  {500, 15, 9.4907},  {500, 20, 8.5542},  {500, 25, 7.7701},  {500, 30, 7.1025},
           {1000, 10, 9.9977},  {1000, 15, 8.9256}, {1000, 20, 8.0413}, {1000, 25, 7.3001}, {1000, 30, 6.6678},
           {1500, 10, 9.3983},  {1500, 15, 8.3876}, {1500, 20, 7.5531}, {1500, 25, 6.8526}, {1500, 30, 6.2538},
           {2000, 10, 8.8279},  {2000, 15, 7.8756}, {2000, 20, 7.0884}, {2000, 25, 6.4267}, {2000, 30, 5.8600},
       }) {
    const Pressure pressure = *pressure_at_elevation(Length::from_meters(row.meters));
    PUBLISHED_NUMBER("oxygen", kEquation, std::to_string(row.meters) + " m",
                     oxygen_saturation(Temperature::from_celsius(row.celsius), pressure)->milligrams_per_liter(),
                     row.mg_L, kFourDecimals);
  }
}

// 0.0012 kPa: the exponent is printed as 5.2559 and as 5.25588.
TEST_CASE("oxygen: pressure of the standard atmosphere") {
  struct Row {
    double meters, kPa;
  };
  for (const Row& row : {
           Row{-50, 101.927},
           {0, 101.325},
           {100, 100.129},
           {200, 98.945},
           {300, 97.773},
           {500, 95.461},
           {750, 92.634},
           {1000, 89.875},
           {1250, 87.183},
           {1500, 84.556},
           {2000, 79.496},
           {2500, 74.683},
           {3000, 70.109},
       })
    PUBLISHED_NUMBER("oxygen", kAtmosphere, std::to_string(row.meters) + " m",
                     pressure_at_elevation(Length::from_meters(row.meters))->kilopascals(), row.kPa, 0.0012);
  PUBLISHED_NUMBER("oxygen", "rMR package, example of its manual", "1000 m in mmHg",
                   pressure_at_elevation(Length::from_meters(1000))->millimeters_of_mercury(), 674.1, 0.05);
  // A meter's manual prints 7.7 mg/L at 20 °C and 1500 m; the equation with the standard atmosphere gives 7.55.
  PUBLISHED_NUMBER("oxygen", kEquation, "20 °C, 1500 m: 7.55, not the 7.7 that a meter's manual prints",
                   oxygen_saturation(Temperature::from_celsius(20), *pressure_at_elevation(Length::from_meters(1500)))
                       ->milligrams_per_liter(),
                   7.55, 0.005);
}

TEST_CASE("oxygen: per cent of saturation") {
  struct Row {
    double mg_L, celsius, mmHg, percent;
  };
  for (const Row& row : {Row{7.5, 22, 720, 90.67}, {8.0, 15, 760, 79.33}, {5.0, 25, 700, 65.87}, {6.0, 20, 600, 84.10}})
    PUBLISHED_NUMBER("oxygen", kEquation, std::to_string(row.mg_L) + " mg/L",
                     oxygen_share(Concentration::from_milligrams_per_liter(row.mg_L),
                                  Temperature::from_celsius(row.celsius), Pressure::from_atmospheres(row.mmHg / 760))
                         ->percent(),
                     row.percent, 0.005);
}

}  // namespace
