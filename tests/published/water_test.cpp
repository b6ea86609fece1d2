#include "trade/water.h"

#include <string>

#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

constexpr const char* kMolar = "molar masses of IUPAC 2007, evaluated independently";
constexpr const char* kField = "AWWA field guide, tables 7-2 and 7-5";

TEST_CASE("water: milligrams of neutralizer per milligram of chlorine") {
  struct Row {
    Neutralizer agent;
    double molar;
  };
  for (const Row& row : {Row{Neutralizer::AscorbicAcid, 2.4839},
                         {Neutralizer::SodiumAscorbate, 2.7939},
                         {Neutralizer::Thiosulfate, 0.5575},
                         {Neutralizer::ThiosulfatePentahydrate, 0.8750},
                         {Neutralizer::Sulfite, 1.7776},
                         {Neutralizer::Bisulfite, 1.4676},
                         {Neutralizer::Metabisulfite, 1.3406}})
    PUBLISHED_NUMBER("water", kMolar, "molar ratio", molar_ratio(row.agent), row.molar, 0.00006);
  // Printed field doses agree with the molar ones to their two digits, but for thiosulfate, which has two reactions.
  PUBLISHED("water", kField, "ascorbic acid", agrees(molar_ratio(Neutralizer::AscorbicAcid), "2.5"));
  PUBLISHED("water", kField, "sodium ascorbate", agrees(molar_ratio(Neutralizer::SodiumAscorbate), "2.8"));
  PUBLISHED("water", kField, "thiosulfate lies between its two reactions",
            *field_ratio(Neutralizer::Thiosulfate) > molar_ratio(Neutralizer::Thiosulfate) &&
                *field_ratio(Neutralizer::Thiosulfate) < 4 * molar_ratio(Neutralizer::Thiosulfate));
  PUBLISHED_NUMBER("water", kMolar, "thiosulfate, short reaction", 4 * molar_ratio(Neutralizer::Thiosulfate), 2.2298,
                   0.0003);
  PUBLISHED_NUMBER("water", kMolar, "ammonia nitrogen freed", kAmmoniaPerChlorine, 0.19754, 0.000005);
}

TEST_CASE("water: pounds for 100,000 gallons at 1 mg/L") {
  const auto field = [](Neutralizer agent) {
    return neutralizer_dose(agent, Disinfectant::FreeChlorine, Concentration::from_milligrams_per_liter(1),
                            Volume::from_gallons(100000))
        ->field->pounds();
  };
  // The table prints 2.08, 1.58, 2.33 by a rounded 8.3 lb a gallon: within 0.01.
  PUBLISHED_NUMBER("water", kField, "ascorbic acid", field(Neutralizer::AscorbicAcid), 2.08, 0.01);
  PUBLISHED_NUMBER("water", kField, "thiosulfate", field(Neutralizer::Thiosulfate), 1.58, 0.01);
  PUBLISHED_NUMBER("water", kField, "sodium ascorbate", field(Neutralizer::SodiumAscorbate), 2.33, 0.01);
}

TEST_CASE("water: doses by volume and chlorine") {
  struct Row {
    double liters, mg_L, ascorbic_mg, field_mg, pentahydrate_mg;
  };
  for (const Row& row : {
           Row{18.9271, 0.5, 23.5, 23.7, 8.3},
           {18.9271, 4, 188.1, 189.3, 66.2},
           {94.6353, 2, 470.1, 473.2, 165.6},
           {189.2706, 1, 470.1, 473.2, 165.6},
           {378.5412, 0.5, 470.1, 473.2, 165.6},
           {378.5412, 4, 3761.0, 3785.4, 1325.0},
           {1040.9882, 2, 5171.4, 5204.9, 1821.8},
           {20.0000, 1, 49.7, 50.0, 17.5},
           {100.0000, 0.5, 124.2, 125.0, 43.8},
           {100.0000, 4, 993.6, 1000.0, 350.0},
           {1000.0000, 2, 4967.8, 5000.0, 1750.1},
       }) {
    const auto dose = [&](Neutralizer agent) {
      return *neutralizer_dose(agent, Disinfectant::FreeChlorine, Concentration::from_milligrams_per_liter(row.mg_L),
                               Volume::from_liters(row.liters));
    };
    const std::string name = std::to_string(row.liters) + " L";
    // Half the last printed digit, and 1 part in 10^5 for the rounded volumes of the table.
    PUBLISHED_NUMBER("water", kMolar, name, dose(Neutralizer::AscorbicAcid).molar.milligrams(), row.ascorbic_mg,
                     0.05 + 1e-5 * row.ascorbic_mg);
    PUBLISHED_NUMBER("water", kField, name, dose(Neutralizer::AscorbicAcid).field->milligrams(), row.field_mg,
                     0.05 + 1e-5 * row.field_mg);
    PUBLISHED_NUMBER("water", kMolar, name, dose(Neutralizer::ThiosulfatePentahydrate).molar.milligrams(),
                     row.pentahydrate_mg, 0.05 + 1e-5 * row.pentahydrate_mg);
  }
  // A supplier's rule: 1 g of ascorbic acid for 100 gallons at 1 mg/L.
  const auto rule = neutralizer_dose(Neutralizer::AscorbicAcid, Disinfectant::Chloramine,
                                     Concentration::from_milligrams_per_liter(1), Volume::from_gallons(100));
  PUBLISHED_NUMBER("water", "supplier's rule of 1 g for 100 US gal at 1 mg/L", "chloramine too, 1:1",
                   rule->molar.grams(), 0.9403, 0.0001);
}

TEST_CASE("water: free chlorine standing, first order") {
  struct Row {
    double start, half_life_h, hours, left, hours_to_tenth;
  };
  for (const Row& row : {
           Row{2, 6, 24, 0.1250, 25.932},
           {2, 12, 24, 0.5000, 51.863},
           {4, 6, 24, 0.2500, 31.932},
           {1, 3, 12, 0.0625, 9.966},
           {2, 24, 24, 1.0000, 103.726},
       }) {
    const auto start = Concentration::from_milligrams_per_liter(row.start);
    const auto half_life = Duration::from_hours(row.half_life_h);
    PUBLISHED_NUMBER("water", "first-order decay, evaluated independently (half-lives invented)", "left",
                     chlorine_after(Disinfectant::FreeChlorine, start, half_life, Duration::from_hours(row.hours))
                         ->milligrams_per_liter(),
                     row.left, 0.00006);
    PUBLISHED_NUMBER(
        "water", "first-order decay, evaluated independently (half-lives invented)", "hours to 0.1 mg/L",
        standing_time(Disinfectant::FreeChlorine, start, half_life, Concentration::from_milligrams_per_liter(0.1))
            ->hours(),
        row.hours_to_tenth, 0.0006);
  }
}

}  // namespace
