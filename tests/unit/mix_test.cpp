// Dilutions, recipes, slips of unit, injectors.
#include <doctest/doctest.h>
#include <vector>

#include "trade/compost_mix.h"
#include "trade/injector.h"
#include "trade/ratio.h"
#include "trade/recipe.h"
#include "trade/slip.h"

using namespace steep;

namespace {

doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-12); }
Volume gal(double n) { return Volume::from_gallons(n); }

TEST_CASE("ratio: 15 gallons of spray by three wordings") {
  // By hand: 1:4 is 5 parts, 15 / 5 = 3; 1 in 4 is 15 / 4 = 3.75; 4 to 1 is 3 or 12.
  const auto tea = [](std::string_view written, std::size_t reading) {
    return mix_for_spray(gal(15), read_ratio(written)->at(reading))->tea.gallons();
  };
  CHECK(tea("1:4 tea to water", 0) == about(3));
  CHECK(read_ratio("1:4 tea to water")->size() == 1);
  CHECK(tea("1 in 4", 0) == about(3.75));
  CHECK(read_ratio("1 in 4")->size() == 1);
  REQUIRE(read_ratio("4 to 1")->size() == 2);
  CHECK(tea("4 to 1", 0) == about(3));
  CHECK(tea("4 to 1", 1) == about(12));
}

TEST_CASE("ratio: other spellings, and both languages") {
  using Readings = std::vector<Parts>;
  CHECK(*read_ratio("1:4") == Readings{{1, 4}});
  CHECK(*read_ratio(" 1 : 4 ") == Readings{{1, 4}});
  CHECK(*read_ratio("1+4") == Readings{{1, 4}});
  CHECK(*read_ratio("1 a 4") == Readings{{1, 4}});
  CHECK(*read_ratio("1 en 4") == Readings{{1, 3}});
  CHECK(*read_ratio("4:1 water to tea") == Readings{{1, 4}});
  CHECK(*read_ratio("4 a 1 agua a té") == Readings{{1, 4}});
  CHECK(*read_ratio("4 to 1 tea to water") == Readings{{4, 1}});
  CHECK(*read_ratio("1/4") == Readings{{1, 3}, {1, 4}});
  CHECK(*read_ratio("2,5:10") == Readings{{2.5, 10}});
  for (const char* bad : {"", "1", "4 in 1", "1:0", "0:4", "one to four", "1:4 of something", "4/1", "-1:4", "1:"})
    CHECK_MESSAGE(!read_ratio(bad), bad);
}

TEST_CASE("ratio: a number that reads two ways is asked about, never taken") {
  using Readings = std::vector<Parts>;
  CHECK(*read_ratio("1:1000") == Readings{{1, 1000}});
  CHECK(read_ratio("1:1,000").error().kind == Trouble::Ask);  // Neither 1 in 1,000 nor 1 in 1.
  CHECK(read_ratio("1:1,000").error().place == "ratio");
  CHECK(read_ratio("1,000:1").error().kind == Trouble::Ask);
  CHECK(read_ratio("1:1.000", DecimalMark::Comma).error().kind == Trouble::Ask);
  CHECK(*read_ratio("1:1.000") == Readings{{1, 1}});
  CHECK(*read_ratio("1:1,5", DecimalMark::Comma) == Readings{{1, 1.5}});
  CHECK(read_ratio("1:1.2.3").error().word == "ratio.unreadable"_w);
}

TEST_CASE("ratio: from spray to tea and back") {
  const Mix mix = *mix_for_spray(gal(15), {1, 4});
  CHECK(mix_from_tea(mix.tea, {1, 4})->spray().gallons() == about(15));
  CHECK(!mix_for_spray(gal(0), {1, 4}));
  CHECK(!mix_for_spray(gal(1), {0, 0}));
  CHECK(!mix_from_tea(gal(1), {0, 4}));
}

TEST_CASE("ratio: a share of tea in small whole parts") {
  CHECK(*small_parts(20.0 / 45) == Parts{4, 5});
  CHECK(*small_parts(1) == Parts{1, 0});
  CHECK(*small_parts(0.2) == Parts{1, 4});
  CHECK(*small_parts(0.3333) == Parts{1, 2});
  CHECK(!small_parts(0.01));  // 1 in 100: more parts than anybody says.
}

TEST_CASE("recipe: written for 25 gal, into a 275 gal tote with 25 gal of headroom") {
  const Volume fill = *working_volume(gal(275), gal(25));
  CHECK(fill.gallons() == about(250));
  const double factor = *scale_factor(gal(25), fill);
  CHECK(factor == about(10));
  const AmountRange compost = *scaled_in_proportion({5, 5}, factor);
  CHECK(Mass::from_pounds(compost.low).kilograms() == about(50 * 0.45359237));  // 22.68 kg, unrounded.
  CHECK(scaled_in_proportion({0.5, 0.5}, factor)->low == about(5));             // Cups.
  CHECK(*scaled_in_proportion({1, 2}, factor) == AmountRange{10, 20});          // A range stays a range.
  CHECK(Volume::from_tablespoons(10).milliliters() == doctest::Approx(147.868).epsilon(1e-5));
}

TEST_CASE("recipe: a line by its own table is read between rows and not beyond them") {
  // As growers write it: 3 to 4 lb for 15 gal, 10 to 12 lb for 100.
  const std::vector<ScalingRow> table{{gal(100), {10, 12}}, {gal(15), {3, 4}}};
  CHECK(*scaled_by_table(table, gal(15)) == AmountRange{3, 4});
  CHECK(*scaled_by_table(table, gal(100)) == AmountRange{10, 12});
  CHECK(scaled_by_table(table, gal(57.5))->low == about(6.5));
  CHECK(scaled_by_table(table, gal(57.5))->high == about(8));
  CHECK(scaled_by_table(table, gal(101)).error().kind == Trouble::OutOfRange);
  CHECK(scaled_by_table(table, gal(14)).error().kind == Trouble::OutOfRange);
  CHECK(scaled_by_table(std::vector{table[0]}, gal(100)).error().kind == Trouble::BadInput);
  CHECK(!scaled_by_table(std::vector{table[0], table[0]}, gal(100)));
}

TEST_CASE("compost: a goal that no amount reaches is refused, never answered with no end") {
  const Feedstock wet{Mass::from_kilograms(10), Share::from_percent(77), Share::from_percent(45),
                      Share::from_percent(2)};
  CHECK(to_reach_moisture(wet, Share::from_percent(60), Share::from_percent(60)).error().kind == Trouble::OutOfRange);
  const Feedstock leaves{Mass::from_kilograms(1), Share::from_percent(35), Share::from_percent(30),
                         Share::from_percent(1)};
  CHECK(to_reach_ratio(wet, leaves, 30).error().kind == Trouble::OutOfRange);  // The leaves are 30:1 themselves.
  CHECK(to_reach_moisture(wet, Share::from_percent(35), Share::from_percent(60))->kilograms() == about(6.8));
}

TEST_CASE("recipe: refusals, and more than the recipe") {
  CHECK(!working_volume(gal(0), gal(0)));
  CHECK(!working_volume(gal(5), gal(5)));
  CHECK(!working_volume(gal(5), gal(-1)));
  CHECK(!scaled_in_proportion({2, 1}, 1));
  CHECK(!scaled_in_proportion({-1, 1}, 1));
  CHECK(!scale_factor(gal(0), gal(5)));
  CHECK(!scale_factor(gal(5), gal(0)));
  CHECK(compare_use(10, {8, 10}) == UseCheck::Within);
  CHECK(compare_use(10.6, {8, 10}) == UseCheck::Above);
  CHECK(compare_use(7, {8, 10}) == UseCheck::Below);
}

TEST_CASE("slip: kilograms where pounds were meant") {
  const auto slip = likely_slip(22 / 0.45359237, 22, 22);  // 22 kg in pounds: 48.5, 2.2 times the recipe.
  REQUIRE(slip);
  CHECK(slip->kind == SlipKind::KilogramsForPounds);
  CHECK(slip->factor == doctest::Approx(2.2046).epsilon(1e-4));
  CHECK(likely_slip(5 * 3.785411784, 5, 5)->kind == SlipKind::GallonsForLiters);
  CHECK(likely_slip(50, 5, 5)->kind == SlipKind::OneDecimalTooMuch);
  CHECK(likely_slip(0.5, 5, 5)->kind == SlipKind::OneDecimalTooLittle);
  CHECK(!likely_slip(22, 20, 24));
  CHECK(!likely_slip(30, 22, 22));
  CHECK(!likely_slip(-1, 22, 22));
}

TEST_CASE("injector: bucket test, running time, there and back, refusals") {
  for (const auto meaning : {InjectorRatio::OnFinalVolume, InjectorRatio::ToPartsOfWater}) {
    const Volume drawn = *concentrate_for(gal(100), 50, meaning);
    CHECK(final_from(drawn, 50, meaning)->gallons() == about(100));
    CHECK(*measured_ratio(drawn, gal(100), meaning) == about(50));
  }
  CHECK(running_time(Volume::from_liters(100), Flow::from_liters_per_minute(20))->minutes() == about(5));
  CHECK(!concentrate_for(gal(100), 0.5, InjectorRatio::OnFinalVolume));
  CHECK(!concentrate_for(gal(100), 10001, InjectorRatio::OnFinalVolume));
  CHECK(!measured_ratio(gal(2), gal(1), InjectorRatio::OnFinalVolume));
  CHECK(!running_time(gal(1), Flow{}));
  CHECK(!stock_strength(Concentration::from_milligrams_per_liter(200), Share::from_percent(0), 100));
}

}  // namespace
