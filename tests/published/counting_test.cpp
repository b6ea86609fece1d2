// Microscope fields, counting chambers, plates, and the statistics of water samples.
#include <string>
#include <vector>

#include "published/published.h"
#include "trade/calculation.h"
#include "trade/geomean.h"
#include "trade/microscope.h"
#include "trade/plates.h"
#include "trade/poisson.h"

using namespace steep;
using namespace steep::published;

namespace {

constexpr const char* kGeometry = "geometry, evaluated independently with scipy 1.10.1";
Length mm(double value) { return Length::from_millimeters(value); }
Area mm2(double value) { return Area::from_square_meters(value * 1e-6); }
Volume ml(double value) { return Volume::from_milliliters(value); }

TEST_CASE("counting: fields by field number and objective") {
  struct Row {
    double number, objective, diameter, area, of_18, of_20, of_22;
  };
  for (const Row& row : {
           Row{18, 4, 4.50000, 15.9043128, 20.3718, 25.1504, 30.4320},
           {18, 10, 1.80000, 2.5446900, 127.3240, 157.1901, 190.2000},
           {18, 40, 0.45000, 0.1590431, 2037.1833, 2515.0411, 3043.1997},
           {18, 100, 0.18000, 0.0254469, 12732.3954, 15719.0067, 19019.9981},
           {20, 10, 2.00000, 3.1415927, 103.1324, 127.3240, 154.0620},
           {20, 40, 0.50000, 0.1963495, 1650.1184, 2037.1833, 2464.9918},
           {20, 100, 0.20000, 0.0314159, 10313.2403, 12732.3954, 15406.1985},
           {22, 40, 0.55000, 0.2375829, 1363.7343, 1683.6225, 2037.1833},
           {22, 100, 0.22000, 0.0380133, 8523.3391, 10522.6409, 12732.3954},
       }) {
    const std::string name =
        "field number " + std::to_string(row.number) + ", objective " + std::to_string(row.objective);
    const Length diameter = *field_diameter(mm(row.number), row.objective);
    const Area field = *field_area(diameter);
    PUBLISHED_NUMBER("counting", kGeometry, name + ": diameter", diameter.millimeters(), row.diameter, 1e-9);
    PUBLISHED_NUMBER("counting", kGeometry, name + ": area", field.si() * 1e6, row.area, 6e-8);
    struct Slip {
      double side, fields;
    };
    for (const Slip& slip : {Slip{18, row.of_18}, {20, row.of_20}, {22, row.of_22}}) {
      // A drop under the whole slip, divided by what one field shows of it, is the number of fields in the slip.
      const Volume one = *field_volume(field, mm2(slip.side * slip.side), ml(0.05));
      PUBLISHED_NUMBER("counting", kGeometry, name + ": fields in a cover slip", ml(0.05) / one, slip.fields, 6e-5);
    }
  }
}

TEST_CASE("counting: number per mL from fields, with Garwood's limits") {
  struct Row {
    const char* name;
    std::int64_t count;
    double fields, number, objective, cover, drop, dilution;
    const char *per_ml, *low, *high;
  };
  for (const Row& row : {
           Row{"M1", 412, 20, 20, 40, 324, 0.05, 5, "3.39924e6", "3.07889e6", "3.74387e6"},
           {"M2", 37, 20, 20, 40, 324, 0.05, 5, "305272", "214940", "420777"},
           {"M3", 0, 20, 20, 40, 324, 0.05, 1, "0", "0", "6087.09"},
           {"M4", 8, 25, 18, 40, 484, 0.04, 1, "24345.6", "10510.7", "47970.5"},
           {"M5", 1250, 10, 18, 100, 324, 0.05, 100, "3.18310e9", "3.00906e9", "3.36457e9"},
           {"M6", 3, 40, 22, 10, 324, 0.05, 1, "127.850", "26.3658", "373.632"},
       }) {
    const Area field = *field_area(*field_diameter(mm(row.number), row.objective));
    const Volume one = *field_volume(field, mm2(row.cover), ml(row.drop));
    const CellCount cells = *cells_per_ml(row.count, one * row.fields, row.dilution);
    const char* source = "geometry of the film and Garwood 1936, evaluated independently with scipy 1.10.1";
    PUBLISHED("counting", source, std::string(row.name), agrees(cells.per_ml, row.per_ml));
    PUBLISHED("counting", source, std::string(row.name) + ", low", agrees(cells.low, row.low));
    PUBLISHED("counting", source, std::string(row.name) + ", high", agrees(cells.high, row.high));
  }
}

TEST_CASE("counting: exact limits of a count at three confidences") {
  for (const auto& row : table("poisson_garwood")) {
    REQUIRE(row.size() == 7);
    const std::int64_t count = std::atoll(row[0].c_str());
    constexpr double kConfidence[] = {0.90, 0.95, 0.99};
    for (std::size_t i = 0; i < 3; ++i) {
      const CountLimits ours = *poisson_interval(count, kConfidence[i]);
      const char* source = "Garwood 1936, evaluated with scipy 1.10.1 and R qgamma";
      PUBLISHED("counting", source, "low of " + row[0], agrees(ours.low, row[1 + 2 * i]));
      PUBLISHED("counting", source, "high of " + row[0], agrees(ours.high, row[2 + 2 * i]));
    }
  }
}

TEST_CASE("counting: worked examples in chambers and under slips") {
  const double one_square = chamber_volume(mm2(1), mm(0.1))->milliliters();
  PUBLISHED("counting", "protocol-online.org, view 57", "45 a square of 1 mm2, 1 in 5",
            agrees(cells_per_ml(45, ml(one_square), 5)->per_ml, "2.25e6"));
  PUBLISHED_NUMBER("counting", "Rice University (Caprette), counting chamber (inputs read, answer worked out)",
                   "187 in five squares of 1/25 mm2",
                   cells_per_ml(187, *chamber_volume(mm2(1.0 / 25), mm(0.1)) * 5)->per_ml, 9.35e6, 1e-3);
  PUBLISHED("counting", "homeworksource 1067706", "20, 30, 25, 28 in four squares of 1 mm2",
            agrees(cells_per_ml(20 + 30 + 25 + 28, ml(4 * one_square))->per_ml, "257500"));
  // Printed 0.082: cut, not rounded.
  PUBLISHED_NUMBER("counting", "bioedonline.org (Caprette) prints 0.082", "40 uL under 22 x 22 mm: 0.0826 mm",
                   film_depth(ml(0.04), mm2(22 * 22))->millimeters(), 0.0826446, 6e-8);
  // 5.2 mm at 40x, an eyepiece of 10x and an objective of 4: the field number is 20.8 mm.
  PUBLISHED("counting", "bioedonline.org (Caprette)", "a field of 5.2 mm at 40x is 0.52 mm at 400x",
            agrees(field_diameter(mm(20.8), 40)->millimeters(), "0.52") &&
                agrees(field_diameter(mm(20.8), 4)->millimeters(), "5.2"));
  const double area_cm2 = field_area(Length::from_centimeters(0.049))->si() * 1e4;
  PUBLISHED("counting", "answers.google.com 417439", "field of 0.049 cm", agrees(area_cm2, "0.0018857"));
  PUBLISHED("counting", "answers.google.com 417439", "16 a field, to the square centimeter",
            agrees(16 / area_cm2, "8485"));
  PUBLISHED("counting", "answers.google.com 417439", "31 a field, to the square centimeter",
            agrees(31 / area_cm2, "16439"));
  const Calculation* fields = find_calculation("fields");
  REQUIRE(fields);
  const auto inputs =
      read_inputs(*fields, read_command_line("--count 39 --fields 9 --square \"1 mm2\" --depth \"0.1 mm\""), {});
  const auto answer = fields->run(*inputs);
  REQUIRE(answer);
  for (const ResultValue& value : answer->results)
    if (value.name == "mean")
      PUBLISHED("counting", "plus.maths.org, counting cells", "39 in 9 squares", agrees(value.number, "4.33"));
}

/// Yeast cells in 400 squares: frequencies of 0, 1, 2 … cells.
double student_scatter(const std::vector<int>& frequencies, double& mean) {
  std::vector<std::int64_t> counts;
  double sum = 0;
  for (std::size_t cells = 0; cells < frequencies.size(); ++cells)
    for (int i = 0; i < frequencies[cells]; ++i) {
      counts.push_back(static_cast<std::int64_t>(cells));
      sum += static_cast<double>(cells);
    }
  mean = sum / static_cast<double>(counts.size());
  return *chance_of_scatter(counts, std::vector<double>(counts.size(), 1.0));
}

TEST_CASE("counting: yeast in a haemacytometer, even and clumped") {
  // The paper prints mean and second moment (4.68 and 4.46; 0.6825 and 0.8117); X² = 400 · moment / mean on 399 degrees of
  // freedom, its tail summed as a series by a program of its own.
  constexpr const char* kStudent =
      "Student 1907, Biometrika 5, 351: yeast cells in 400 squares (from memory; sums agree with the printed means)";
  double mean = 0;
  const double even = student_scatter({0, 20, 43, 53, 86, 70, 54, 37, 18, 10, 5, 2, 2}, mean);
  PUBLISHED("counting", kStudent, "fourth sample, mean", agrees(mean, "4.68"));
  PUBLISHED_NUMBER("counting", kStudent, "fourth sample, chance of its scatter", even, 0.7335728, 5e-7);
  const double clumped = student_scatter({213, 128, 37, 18, 3, 1}, mean);
  PUBLISHED("counting", kStudent, "first sample, mean", agrees(mean, "0.6825"));
  PUBLISHED_NUMBER("counting", kStudent, "first sample, chance of its scatter", clumped, 0.004908419, 5e-8);
}

Plate plate(double dilution, std::int64_t colonies, PlateState state = PlateState::Counted) {
  return {dilution, ml(1), colonies, state};
}
Plate crowded(double dilution) { return {dilution, ml(1), std::nullopt, PlateState::TooMany}; }

TEST_CASE("counting: plates by the manual of 2001") {
  constexpr const char* kBam = "FDA BAM chapter 3 (January 2001)";
  const PlateCount example =
      *plate_count(std::vector{plate(100, 232), plate(100, 244), plate(1000, 33), plate(1000, 28)});
  PUBLISHED(
      "counting", "FDA BAM chapter 3 (2001): sum, divisor and result; the four counts from memory", "537 / 0.022",
      example.colonies == 537 && agrees(example.sample.milliliters(), "0.022") && agrees(example.per_ml, "24409"));
  PUBLISHED("counting", kBam, "24,409 is reported as 24,000", two_digits_bam(example.per_ml) == 24000);
  struct Round {
    double count, reported;
  };
  for (const Round& row : {Round{12700, 13000}, {12400, 12000}, {15500, 16000}, {14500, 14000}})
    PUBLISHED("counting", kBam, "rounding " + std::to_string(row.count), two_digits_bam(row.count) == row.reported);
  const PlateCount few = *plate_count(std::vector{plate(100, 18), plate(100, 2), plate(1000, 0), plate(1000, 0)});
  PUBLISHED("counting", kBam, "18, 2 and 0, 0: fewer than 2,500",
            few.kind == PlateCount::Kind::FewerThan && few.per_ml == 2500);
  constexpr const char* kMemory = "FDA BAM chapter 3 (2001), plates outside 25-250 (from memory)";
  const PlateCount over = *plate_count(std::vector{crowded(100), plate(1000, 640)});
  PUBLISHED("counting", kMemory, "TNTC and 640: 640,000 estimated",
            over.kind == PlateCount::Kind::Estimated && two_digits_bam(over.per_ml) == 640000);
  struct Crowded {
    std::int64_t colonies;
    double cm2, more_than;
  };
  for (const Crowded& row : {Crowded{7150, 65, 6500000}, {6490, 59, 5900000}}) {
    const PlateCount dense = *plate_count(std::vector{crowded(100), plate(1000, row.colonies, PlateState::TooMany)},
                                          kBamRange, Area::from_square_meters(row.cm2 * 1e-4));
    PUBLISHED("counting", kMemory, "110 a square centimeter on " + std::to_string(row.cm2),
              dense.kind == PlateCount::Kind::MoreThan && two_digits_bam(dense.per_ml) == row.more_than);
  }
  PUBLISHED("counting", "FDA BAM chapter 3, plates without colonies", "0 and 0: fewer than 1 of the lowest dilution",
            plate_count(std::vector{plate(100, 0), plate(1000, 0)})->per_ml == 100);
}

TEST_CASE("counting: plates by the manual's later edition, weighted mean of 15-300") {
  constexpr const char* kLater =
      "FDA BAM chapter 3, later edition (Zhang, Ferguson, Blodgett), examples 2.1a-c; R package MPN, tests of apc";
  const auto count = [](const std::vector<Plate>& plates, CountingRange range) {
    return plate_count(plates, range)->per_ml;
  };
  const std::vector<Plate> a{plate(100, 144), plate(100, 118), plate(1000, 26), plate(1000, 20)};
  const std::vector<Plate> b{plate(100, 27), plate(100, 51)}, c{plate(100, 120), plate(1000, 23)};
  PUBLISHED_NUMBER("counting", kLater, "144, 118 and 26, 20", count(a, kBamLaterRange), 14000, 1e-8);
  PUBLISHED_NUMBER("counting", kLater, "27, 51", count(b, kBamLaterRange), 3900, 1e-8);
  PUBLISHED_NUMBER("counting", kLater, "120 and 23", count(c, kBamLaterRange), 13000, 1e-8);
  PUBLISHED_NUMBER("counting", kLater, "one plate of 27", count({plate(100, 27)}, kBamLaterRange), 2700, 1e-8);
  // By the manual of 2001 the plates of 20 and 23 are under the range: 288 / 0.021 and 120 / 0.01.
  PUBLISHED_NUMBER("counting", "FDA BAM chapter 3 (2001), formula", "144, 118 and 26 alone", count(a, kBamRange),
                   13714.29, 0.005);
  PUBLISHED_NUMBER("counting", "FDA BAM chapter 3 (2001), formula", "120 alone", count(c, kBamRange), 12000, 1e-8);
}

TEST_CASE("counting: geometric mean and threshold of water samples") {
  struct Row {
    const char* name;
    std::vector<double> values;
    const char *gm, *sd, *stv, *stv_finer;
    bool meets;
  };
  const std::vector<Row> rows{
      {"G1", {10, 20, 50, 100, 200}, "45.7305", "0.522613", "213.893", "213.777", true},
      {"G2",
       {1, 1, 5, 12, 40, 75, 130, 260, 30, 18, 9, 4, 2, 500, 60, 88, 20, 33, 47, 101},
       "23.1512",
       "0.759348",
       "217.800",
       "217.629",
       true},
      {"G3: at the number is not over it",
       {126, 126, 126, 126, 126},
       "126.0000",
       "0.000000",
       "126.000",
       "126.000",
       true},
      {"G4: zeros taken as the detection limit 1", {1, 1, 3, 8, 2, 1}, "1.9064", "0.364071", "5.584", "5.582", true},
      {"G5", {50, 80, 120, 300, 900}, "166.9249", "0.499231", "728.677", "728.301", false},
  };
  constexpr const char* kLogs =
      "log10 statistics with 1.282 (UK SI 2013/1675 sch. 5), evaluated independently; samples invented";
  for (const Row& row : rows) {
    const GmStv ours = *gm_and_stv(row.values);
    PUBLISHED("counting", kLogs, std::string(row.name) + ", GM", agrees(ours.gm, row.gm));
    PUBLISHED("counting", kLogs, std::string(row.name) + ", s", agrees(*ours.log_sd, row.sd));
    PUBLISHED("counting", kLogs, std::string(row.name) + ", STV", agrees(*ours.stv, row.stv));
    PUBLISHED("counting", kLogs, std::string(row.name) + ", STV with 1.2815516",
              agrees(*gm_and_stv(row.values, 1.2815516)->stv, row.stv_finer));
    PUBLISHED("counting", "US EPA, recreational water quality criteria 2012: 126 and 410 (from memory)",
              std::string(row.name), (!is_over(ours.gm, 126) && !is_over(*ours.stv, 410)) == row.meets);
  }
  // The pair 126 and 410 is one distribution: a standard deviation of 0.4 in log10.
  const double reach = std::pow(10, 0.4 / std::sqrt(2.0));
  PUBLISHED("counting", "US EPA, recreational water quality criteria 2012: 126 and 410 (from memory)",
            "126 x 10^(1.28155 x 0.4)",
            agrees(*gm_and_stv(std::vector{126 * reach, 126 / reach}, 1.28155)->stv, "410.2"));
  std::vector<double> twenty(20, 100.0);
  twenty[0] = twenty[1] = 411;
  PUBLISHED("counting", "US EPA, recreational water quality criteria 2012: STV over in no more than 10 % (from memory)",
            "2 of 20", !excursions(twenty, 410)->more_than_tenth());
  twenty[2] = 411;
  PUBLISHED("counting", "US EPA, recreational water quality criteria 2012: STV over in no more than 10 % (from memory)",
            "3 of 20", excursions(twenty, 410)->more_than_tenth());
}

}  // namespace
