#include "trade/loads.h"
#include "trade/ratio.h"
#include "trade/recipe.h"

#include <string>

#include "published/published.h"
#include "trade/injector.h"

using namespace steep;
using namespace steep::published;

namespace {

constexpr const char* kPractice = "common practice, no source; arithmetic evaluated independently";

TEST_CASE("mix: tea for an area, and the spray that a dilution makes of it") {
  struct Row {
    double square_meters, gal_acre, dilution, tea_L, spray_L;
  };
  for (const Row& row : {
           Row{1011.7141, 5, 1, 4.73176, 4.73176},   {1011.7141, 5, 4, 4.73176, 18.92706},
           {1011.7141, 5, 10, 4.73176, 47.31765},    {1011.7141, 10, 1, 9.46353, 9.46353},
           {1011.7141, 10, 4, 9.46353, 37.85412},    {1011.7141, 10, 10, 9.46353, 94.63529},
           {1011.7141, 20, 1, 18.92706, 18.92706},   {1011.7141, 20, 4, 18.92706, 75.70824},
           {1011.7141, 20, 10, 18.92706, 189.27059}, {4046.8564, 5, 1, 18.92706, 18.92706},
           {4046.8564, 5, 4, 18.92706, 75.70824},    {4046.8564, 5, 10, 18.92706, 189.27059},
           {4046.8564, 10, 1, 37.85412, 37.85412},   {4046.8564, 10, 4, 37.85412, 151.41647},
           {4046.8564, 10, 10, 37.85412, 378.54118}, {4046.8564, 20, 1, 75.70824, 75.70824},
           {4046.8564, 20, 4, 75.70824, 302.83294},  {4046.8564, 20, 10, 75.70824, 757.08236},
           {92.9030, 5, 1, 0.43451, 0.43451},        {92.9030, 5, 4, 0.43451, 1.73802},
           {92.9030, 5, 10, 0.43451, 4.34505},       {92.9030, 10, 1, 0.86901, 0.86901},
           {92.9030, 10, 4, 0.86901, 3.47604},       {92.9030, 10, 10, 0.86901, 8.69011},
           {92.9030, 20, 1, 1.73802, 1.73802},       {92.9030, 20, 4, 1.73802, 6.95209},
           {92.9030, 20, 10, 1.73802, 17.38022},     {100.0000, 5, 1, 0.46770, 0.46770},
           {100.0000, 5, 4, 0.46770, 1.87079},       {100.0000, 5, 10, 0.46770, 4.67698},
           {100.0000, 10, 1, 0.93540, 0.93540},      {100.0000, 10, 4, 0.93540, 3.74158},
           {100.0000, 10, 10, 0.93540, 9.35396},     {100.0000, 20, 1, 1.87079, 1.87079},
           {100.0000, 20, 4, 1.87079, 7.48316},      {100.0000, 20, 10, 1.87079, 18.70791},
           {1000.0000, 5, 1, 4.67698, 4.67698},      {1000.0000, 5, 4, 4.67698, 18.70791},
           {1000.0000, 5, 10, 4.67698, 46.76978},    {1000.0000, 10, 1, 9.35396, 9.35396},
           {1000.0000, 10, 4, 9.35396, 37.41582},    {1000.0000, 10, 10, 9.35396, 93.53956},
           {1000.0000, 20, 1, 18.70791, 18.70791},   {1000.0000, 20, 4, 18.70791, 74.83165},
           {1000.0000, 20, 10, 18.70791, 187.07912},
       }) {
    const Volume tea = VolumePerArea::from_gallons_per_acre(row.gal_acre) * Area::from_square_meters(row.square_meters);
    const Mix mix = *mix_from_tea(tea, {1, row.dilution - 1});
    const std::string name = std::to_string(row.square_meters) + " m2 at " + std::to_string(row.gal_acre) + " gal/acre";
    PUBLISHED_NUMBER("mix", kPractice, name, tea.liters(), row.tea_L, 0.000006 + 1e-6 * row.tea_L);
    PUBLISHED_NUMBER("mix", kPractice, name, mix.spray().liters(), row.spray_L, 0.000006 + 1e-6 * row.spray_L);
  }
}

TEST_CASE("mix: rules for 5 gallons, scaled") {
  struct Row {
    double liters, worm_low_cups, worm_high_cups, compost_low_cups, compost_high_cups, food_tbsp, food_mL, acres_at_10;
  };
  const Volume five = Volume::from_gallons(5);
  for (const Row& row : {
           Row{18.9271, 2.0000, 3.0000, 3.0000, 5.0000, 1.0000, 14.787, 0.5000},
           {94.6353, 10.0000, 15.0000, 15.0000, 25.0000, 5.0000, 73.934, 2.5000},
           {189.2706, 20.0000, 30.0000, 30.0000, 50.0000, 10.0000, 147.868, 5.0000},
           {1040.9882, 110.0000, 165.0000, 165.0000, 275.0000, 55.0000, 813.272, 27.5000},
           {20.0000, 2.1134, 3.1701, 3.1701, 5.2834, 1.0567, 15.625, 0.5283},
           {100.0000, 10.5669, 15.8503, 15.8503, 26.4172, 5.2834, 78.125, 2.6417},
           {1000.0000, 105.6688, 158.5032, 158.5032, 264.1721, 52.8344, 781.250, 26.4172},
       }) {
    const Volume fill = Volume::from_liters(row.liters);
    const double factor = *scale_factor(five, fill);
    const AmountRange worm = *scaled_in_proportion({2, 3}, factor), compost = *scaled_in_proportion({3, 5}, factor);
    const double food = scaled_in_proportion({1, 1}, factor)->low;
    const std::string name = std::to_string(row.liters) + " L";
    PUBLISHED_NUMBER("recipe", kPractice, name, worm.low, row.worm_low_cups, 1e-4 * row.worm_low_cups);
    PUBLISHED_NUMBER("recipe", kPractice, name, worm.high, row.worm_high_cups, 1e-4 * row.worm_high_cups);
    PUBLISHED_NUMBER("recipe", kPractice, name, compost.low, row.compost_low_cups, 1e-4 * row.compost_low_cups);
    PUBLISHED_NUMBER("recipe", kPractice, name, compost.high, row.compost_high_cups, 1e-4 * row.compost_high_cups);
    PUBLISHED_NUMBER("recipe", kPractice, name, food, row.food_tbsp, 1e-4 * row.food_tbsp);
    PUBLISHED_NUMBER("recipe", kPractice, name, Volume::from_tablespoons(food).milliliters(), row.food_mL,
                     1e-4 * row.food_mL);
    PUBLISHED_NUMBER("recipe", kPractice, name, (fill / VolumePerArea::from_gallons_per_acre(10)).acres(),
                     row.acres_at_10, 1e-4 * row.acres_at_10);
  }
  // 1 tablespoon in 5 gallons is 1/1280 exactly; 2–3 cups are 2.5–3.75 %.
  PUBLISHED_NUMBER("recipe", "exact units, NIST Handbook 44", "tbsp in 5 gal", Volume::from_tablespoons(1) / five,
                   1.0 / 1280, 1e-15);
  PUBLISHED_NUMBER("recipe", "exact units, NIST Handbook 44", "2 cups in 5 gal", Volume::from_cups(2) / five, 0.025,
                   1e-15);
  // A recipe of the tea literature (Lanthier & Peters): 30 mL of each food in 15 L = 0.2 % = 2.56 tbsp in 5 gal.
  const AmountRange in_five = *scaled_in_proportion({30, 30}, *scale_factor(Volume::from_liters(15), five));
  PUBLISHED("recipe", "Lanthier & Peters, recipe of 15 L as cited", "tbsp in 5 gal",
            agrees(Volume::from_milliliters(in_five.low).tablespoons(), "2.56"));
}

TEST_CASE("injector: both conventions, and strengths of stock as charts print them") {
  const auto liters = [](double ratio, InjectorRatio meaning) {
    return concentrate_for(Volume::from_liters(100), ratio, meaning)->liters();
  };
  struct Row {
    double ratio, on_final, to_water;
  };
  for (const Row& row : {Row{5, 20, 16.6667}, {10, 10, 9.09091}, {20, 5, 4.7619}, {100, 1, 0.990099}}) {
    PUBLISHED_NUMBER("injector", "University of Massachusetts: 1 part in R parts of final volume",
                     std::to_string(row.ratio), liters(row.ratio, InjectorRatio::OnFinalVolume), row.on_final, 1e-9);
    PUBLISHED_NUMBER("injector", "greenhouse supplier's newsletter: 1 part to R parts of water",
                     std::to_string(row.ratio), liters(row.ratio, InjectorRatio::ToPartsOfWater), row.to_water,
                     0.00005);
  }
  const auto ounces = [](double ppm, double fraction) {
    return stock_strength(Concentration::from_milligrams_per_liter(ppm), Share::from_ratio(fraction), 100)
        ->ounces_per_gallon();
  };
  // Charts round to halves of an ounce and to whole ones.
  PUBLISHED("injector", "greenhouse supplier's chart, 200 ppm N of 15 % at 1:100", "oz/gal",
            agrees(ounces(200, 0.15), "18"));
  PUBLISHED_NUMBER("injector", "greenhouse magazine, 200 ppm N of 20 % at 1:100 (prints 13.5)", "oz/gal",
                   ounces(200, 0.20), 13.5, 0.25);
  PUBLISHED_NUMBER("injector", "ppm rule, evaluated independently", "oz/gal", ounces(200, 0.15), 17.8035, 0.00005);
  struct Percent {
    double ratio, percent;
  };
  for (const Percent& row : {Percent{50, 2}, {100, 1}, {200, 0.5}, {500, 0.2}})
    PUBLISHED_NUMBER("injector", "percent rule of greenhouse charts", std::to_string(row.ratio),
                     injected_share(row.ratio, InjectorRatio::OnFinalVolume)->percent(), row.percent, 1e-12);
  // 16 oz in 100 gal final, 25 gal of stock at 1:30 counted on final volume.
  PUBLISHED_NUMBER("injector", "University of Georgia, question of a class (answer computed)", "oz in the stock tank",
                   16 * final_from(Volume::from_gallons(25), 30, InjectorRatio::OnFinalVolume)->gallons() / 100, 120,
                   1e-9);
}

TEST_CASE("mix: products by the gallon as worksheets print them") {
  // So much of a product on an acre, in the spray of that acre.
  const auto in_spray = [](Volume product, double gal_acre) {
    return product / (VolumePerArea::from_gallons_per_acre(gal_acre) * Area::from_acres(1));
  };
  const auto ounces = [&](Volume product, double gal_acre) {
    return VolumePerVolume::from_ratio(in_spray(product, gal_acre)).fluid_ounces_per_gallon();
  };
  // The same by what a load takes of it.
  const auto load_takes = [](std::string_view rate, double spray_gal, double gal_acre) {
    return *product_for(*parse_written(rate), Volume::from_gallons(spray_gal),
                        VolumePerArea::from_gallons_per_acre(gal_acre));
  };
  PUBLISHED("mix", "hand-sprayer slides on the 1/128-acre method", "1 qt/acre in 40 gal/acre, 1 gal of it",
            agrees(Volume::from_si(load_takes("1 qt/acre", 1, 40)).fluid_ounces(), "0.8"));
  PUBLISHED("mix", "extension practice quoted on a growers' list", "3 pt/acre in 65 gal/acre, 1 gal of it",
            agrees(Volume::from_si(load_takes("3 pt/acre", 1, 65)).fluid_ounces(), "0.74"));
  PUBLISHED_NUMBER("mix", "NC State worksheet (printed cut to 1.06)", "8 oz/acre in 7.5 gal/acre, 1 gal of it",
                   Volume::from_si(load_takes("8 fl oz/acre", 1, 7.5)).fluid_ounces(), 1.0667, 0.00005);
  PUBLISHED_NUMBER("mix", "an ounce by the gallon is an ounce in each", "4 oz/gal in 25 gal",
                   Mass::from_si(load_takes("4 oz/gal", 25, 45)).ounces(), 100, 1e-9);
  PUBLISHED("mix", "hand-sprayer slides on the 1/128-acre method", "1 qt/acre in 40 gal/acre, oz/gal",
            agrees(ounces(Volume::from_quarts(1), 40), "0.8"));
  PUBLISHED("mix", "extension practice quoted on a growers' list", "3 pt/acre in 65 gal/acre, pt/gal",
            agrees((in_spray(Volume::from_pints(3), 65) * Volume::from_gallons(1)).pints(), "0.046"));
  PUBLISHED("mix", "extension practice quoted on a growers' list", "3 pt/acre in 65 gal/acre, oz/gal",
            agrees(ounces(Volume::from_pints(3), 65), "0.74"));
}

}  // namespace
