// Microscope fields, plates, tubes, and water samples.
#include <doctest/doctest.h>
#include <cmath>
#include <vector>

#include "trade/geomean.h"
#include "trade/microscope.h"
#include "trade/mpn.h"
#include "trade/plates.h"
#include "trade/poisson.h"

using namespace steep;

namespace {

doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-9); }

TEST_CASE("poisson: the interval holds its count, grows with it and with the confidence, and refuses just outside") {
  double low = -1, high = 0;
  for (const std::int64_t count : {0, 1, 2, 3, 10, 100, 1000, 100000}) {
    const CountLimits interval = *poisson_interval(count);
    CHECK(interval.low <= static_cast<double>(count));
    CHECK(interval.high > static_cast<double>(count));
    CHECK(interval.low >= low);
    CHECK(interval.high > high);
    CHECK(poisson_interval(count, 0.99)->high > interval.high);
    CHECK(poisson_interval(count, 0.99)->low <= interval.low);
    low = interval.low;
    high = interval.high;
  }
  CHECK(poisson_interval(-1).error().word == "count.count"_w);
  CHECK(poisson_interval(1'000'000'000));
  CHECK(!poisson_interval(1'000'000'001));
  CHECK(poisson_interval(5, 0.5));
  CHECK(poisson_interval(5, 0.49).error().word == "count.confidence"_w);
  CHECK(!poisson_interval(5, 0.99991));
  CHECK(!poisson_interval(5, std::nan("")));
}

TEST_CASE("poisson: scatter is judged by what was expected of each size") {
  const std::vector<std::int64_t> counts{10, 100};
  CHECK(*chance_of_scatter(counts, std::vector{1.0, 10.0}) == about(1));  // Exactly as expected.
  CHECK(*chance_of_scatter(counts, std::vector{1.0, 1.0}) < 1e-10);
  CHECK(*chance_of_scatter(std::vector<std::int64_t>{0, 0}, std::vector{1.0, 1.0}) == 1);
  // The unit of the sizes does not matter, nor does the order.
  const std::vector<std::int64_t> three{18, 25, 7}, turned{7, 25, 18};
  CHECK(*chance_of_scatter(three, std::vector{1.0, 2.0, 1.0}) ==
        about(*chance_of_scatter(three, std::vector{3.0, 6.0, 3.0})));
  CHECK(*chance_of_scatter(three, std::vector{1.0, 2.0, 1.0}) ==
        about(*chance_of_scatter(turned, std::vector{1.0, 2.0, 1.0})));
  CHECK(!chance_of_scatter(std::vector<std::int64_t>{5}, std::vector{1.0}));
  CHECK(!chance_of_scatter(counts, std::vector{1.0}));
  CHECK(!chance_of_scatter(counts, std::vector{1.0, 0.0}));
  CHECK(chance_of_scatter(std::vector<std::int64_t>{-1, 3}, std::vector{1.0, 1.0}).error().word == "count.scatter"_w);
}

TEST_CASE("microscope: a field from either side, and refusals just outside") {
  const auto mm = Length::from_millimeters;
  CHECK(field_diameter(mm(20), 40)->millimeters() == about(0.5));
  CHECK(field_diameter(mm(20), 40, 1.25)->millimeters() == about(0.4));
  CHECK(field_diameter(mm(5), 40));
  CHECK(field_diameter(mm(4.99), 40).error().word == "count.field-number"_w);
  CHECK(field_diameter(Length::from_centimeters(4), 40));
  CHECK(!field_diameter(mm(40.01), 40));
  CHECK(field_diameter(mm(20), 0.99).error().word == "count.objective"_w);
  CHECK(!field_diameter(mm(20), 200.5));
  CHECK(field_diameter(mm(20), 40, 0.49).error().word == "count.tube-factor"_w);
  CHECK(!field_diameter(mm(20), 40, 3.01));
  CHECK(!field_area(mm(0)));
  const Area cover = mm(18) * mm(18);
  const Volume drop = Volume::from_milliliters(0.05);
  // A 'field' as large as the cover slip shows the whole drop; a larger one is refused.
  CHECK(field_volume(cover, cover, drop)->milliliters() == about(0.05));
  CHECK(field_volume(cover * 1.001, cover, drop).error().word == "count.field-over-cover"_w);
  CHECK(!field_volume(cover, cover, Volume{}));
  CHECK(!field_volume(cover, Area{}, drop));
  CHECK((*film_depth(drop, cover) * 1.0).millimeters() == about(50.0 / 324));
  CHECK(chamber_volume(mm(1) * mm(1), mm(1)));
  CHECK(chamber_volume(mm(1) * mm(1), mm(1.01)).error().word == "count.depth"_w);
  CHECK(!chamber_volume(Area{}, mm(0.1)));
}

TEST_CASE("microscope: the number grows with count and dilution, falls with volume; inches give the same") {
  const Volume one = Volume::from_milliliters(1e-4);
  const CellCount cells = *cells_per_ml(50, one, 10);
  CHECK(cells.per_ml == about(50 / 1e-4 * 10));
  CHECK(cells.per_ml * one.milliliters() / 10 == about(50));  // There and back.
  CHECK(cells.low < cells.per_ml);
  CHECK(cells.per_ml < cells.high);
  CHECK(cells_per_ml(51, one, 10)->per_ml > cells.per_ml);
  CHECK(cells_per_ml(50, one, 11)->per_ml > cells.per_ml);
  CHECK(cells_per_ml(50, one * 2, 10)->per_ml == about(cells.per_ml / 2));
  CHECK(cells_per_ml(50, Volume{}, 1).error().word == "count.looked-at"_w);
  CHECK(cells_per_ml(50, one, 0.99).error().word == "count.dilution"_w);
  CHECK(!cells_per_ml(50, one, 1.1e9));
  CHECK(!cells_per_ml(-1, one, 1));
  const Area metric = Length::from_millimeters(25.4) * Length::from_millimeters(25.4);
  const Area inches = Length::from_inches(1) * Length::from_inches(1);
  CHECK(chamber_volume(metric, Length::from_millimeters(0.1))->si() ==
        about(chamber_volume(inches, Length::from_inches(0.1 / 25.4))->si()));
}

Plate plate(double dilution, std::int64_t colonies, PlateState state = PlateState::Counted) {
  return {dilution, Volume::from_milliliters(1), colonies, state};
}
Plate crowded(double dilution) { return {dilution, Volume::from_milliliters(1), std::nullopt, PlateState::TooMany}; }
Result<PlateCount> count_of(const std::vector<Plate>& plates, CountingRange range = kBamRange) {
  return plate_count(plates, range);
}

TEST_CASE("plates: only plates in the range count, both its ends in it") {
  using enum PlateCount::Kind;
  CHECK(count_of({plate(100, 25)})->kind == Counted);
  CHECK(count_of({plate(100, 24)})->kind == FewerThan);
  CHECK(count_of({plate(100, 250)})->kind == Counted);
  CHECK(count_of({plate(100, 251)})->kind == Estimated);
  CHECK(count_of({plate(100, 15)}, kBamLaterRange)->kind == Counted);
  CHECK(count_of({plate(100, 14)}, kBamLaterRange)->per_ml == about(1500));
  const PlateCount mixed = *count_of({plate(100, 240), plate(100, 260), plate(1000, 24), plate(1000, 26)});
  CHECK(mixed.colonies == 266);
  CHECK(mixed.plates == 2);
  CHECK(mixed.per_ml == about(266 / 0.011));
  CHECK(mixed.limits->low < mixed.per_ml);
  CHECK(mixed.limits->high > mixed.per_ml);
}

TEST_CASE("plates: under the range, over it, crowded, spoiled") {
  using enum PlateCount::Kind;
  const PlateCount none = *count_of({plate(100, 0), plate(1000, 0)});
  CHECK(none.kind == FewerThan);
  CHECK(none.per_ml == about(100));
  CHECK(none.limits->low == 0);
  CHECK(count_of({plate(100, 12), plate(1000, 0)})->per_ml == about(2500));
  const PlateCount over = *count_of({crowded(100), plate(1000, 640)});
  CHECK(over.kind == Estimated);
  CHECK(over.per_ml == about(640000));
  // One dilution over, the next under: the one nearest to 250.
  CHECK(count_of({plate(100, 275), plate(1000, 24)})->per_ml == about(27500));
  CHECK(count_of({crowded(100), plate(1000, 20)})->per_ml == about(20000));
  CHECK(count_of({crowded(100)}).error().word == "plates.count-nearest"_w);
  // A plate that is grown over or spoiled counts as not made.
  CHECK(count_of({plate(100, 60), plate(100, 200, PlateState::Spreader)})->per_ml == about(6000));
  CHECK(count_of({plate(100, 60, PlateState::Accident)}).error().word == "plates.none-usable"_w);
  CHECK(count_of({}).error().word == "plates.none-usable"_w);
  // 'Too many' with a number inside the range is an estimate, never a count.
  CHECK(count_of({plate(100, 240, PlateState::TooMany)})->kind == Estimated);
  CHECK(count_of({plate(100, 24, PlateState::TooMany)}).error().word == "plates.not-too-many"_w);
}

TEST_CASE("plates: scatter across dilutions, plated volume, refusals just outside") {
  CHECK(*count_of({plate(100, 232), plate(100, 244), plate(1000, 33), plate(1000, 28)})->scatter > 0.05);
  CHECK(*count_of({plate(100, 200), plate(1000, 200)})->scatter < 1e-6);  // A tenfold step that was not made.
  CHECK(!count_of({plate(100, 200)})->scatter);
  std::vector<Plate> tenth{plate(100, 60)};
  tenth[0].plated = Volume::from_milliliters(0.1);
  CHECK(count_of(tenth)->per_ml == about(60000));
  tenth[0].plated = Volume::from_milliliters(0.0009);
  CHECK(count_of(tenth).error().word == "plates.plated"_w);
  CHECK(count_of({plate(0.5, 60)}).error().word == "plates.dilution"_w);
  CHECK(!count_of({plate(1.1e12, 60)}));
  CHECK(count_of({plate(100, 1'000'001)}).error().word == "plates.colonies"_w);
  CHECK(!count_of({plate(100, -1)}));
  CHECK(count_of({{100, Volume::from_milliliters(1), std::nullopt, PlateState::Counted}}).error().word ==
        "plates.no-number"_w);
  CHECK(count_of(std::vector<Plate>(200, plate(100, 60))));
  CHECK(!count_of(std::vector<Plate>(201, plate(100, 60))));
  CHECK(plate_count(std::vector{plate(100, 60)}, kBamRange, Area{}).error().word == "plates.area"_w);
}

TEST_CASE("plates: two digits, the third decides, 5 to the even") {
  CHECK(two_digits_bam(24409.0909) == 24000);
  CHECK(two_digits_bam(155) == 160);
  CHECK(two_digits_bam(145) == 140);
  CHECK(two_digits_bam(14590) == 14000);  // By the manual's words: what follows the 5 is not looked at.
  CHECK(two_digits_bam(9960) == 10000);
  CHECK(two_digits_bam(341 / 0.022) == 16000);  // 15,500 but for the last bit.
  CHECK(two_digits_bam(3.9) == 3.9);
  CHECK(two_digits_bam(0.155) == 0.16);
  CHECK(two_digits_bam(7) == 7);
  CHECK(two_digits_bam(0) == 0);
}

std::vector<TubeRow> three(int a, int b, int c) { return {{0.1, 3, a}, {0.01, 3, b}, {0.001, 3, c}}; }

TEST_CASE("mpn: more tubes grown is more, in every row") {
  for (int a = 0; a <= 3; ++a)
    for (int b = 0; b <= 3; ++b)
      for (int c = 0; c <= 3; ++c) {
        const Mpn mpn = *most_probable_number(three(a, b, c));
        if (mpn.kind != Mpn::Kind::Between) continue;
        CHECK(*mpn.low < mpn.number);
        CHECK(mpn.number < *mpn.high);
        CHECK(mpn.rarity > 0);
        CHECK(mpn.rarity <= 1);
        for (const auto& more : {three(a + 1, b, c), three(a, b + 1, c), three(a, b, c + 1)})
          if (const auto next = most_probable_number(more); next && next->kind == Mpn::Kind::Between)
            CHECK(next->number > mpn.number);
      }
}

TEST_CASE("mpn: one dilution has a closed form, the unit of the amounts is that of the answer") {
  // n tubes, p grew: m = −ln(1 − p/n) / a.
  CHECK(most_probable_number(std::vector<TubeRow>{{10, 10, 5}})->number == about(std::log(2) / 10));
  CHECK(most_probable_number(std::vector<TubeRow>{{0.25, 8, 7}})->number == about(std::log(8) / 0.25));
  const std::vector<TubeRow> in_g = three(3, 1, 0), in_mg{{100, 3, 3}, {10, 3, 1}, {1, 3, 0}};
  const Mpn g = *most_probable_number(in_g), mg = *most_probable_number(in_mg);
  CHECK(g.number == about(1000 * mg.number));
  CHECK(*g.low == about(1000 * *mg.low));
  CHECK(*g.high == about(1000 * *mg.high));
  // The same row in two halves, or in another order, is the same test.
  const Mpn split = *most_probable_number(std::vector<TubeRow>{{0.001, 3, 0}, {0.01, 1, 1}, {0.01, 2, 0}, {0.1, 3, 3}});
  CHECK(split.number == about(g.number));
  CHECK(*split.low == about(*g.low));
}

TEST_CASE("mpn: none grew, all grew: a bound and one end") {
  const Mpn none = *most_probable_number(three(0, 0, 0));
  CHECK(none.kind == Mpn::Kind::NoneGrew);
  CHECK(none.number == about(most_probable_number(three(0, 0, 1))->number));
  CHECK(!none.low);
  CHECK(std::exp(-*none.high * 0.333) == about(0.05));
  const Mpn all = *most_probable_number(three(3, 3, 3));
  CHECK(all.kind == Mpn::Kind::AllGrew);
  CHECK(all.number == about(most_probable_number(three(3, 3, 2))->number));
  CHECK(!all.high);
  double chance = 1;
  for (const double amount : {0.1, 0.01, 0.001}) chance *= std::pow(1 - std::exp(-*all.low * amount), 3);
  CHECK(chance == about(0.05));
  CHECK(most_probable_number(std::vector<TubeRow>{{1, 1, 0}}).error().word == "mpn.one-tube"_w);
  CHECK(!most_probable_number(std::vector<TubeRow>{{1, 1, 1}}));
}

TEST_CASE("mpn: confidence widens both intervals, far-off designs hold, refusals just outside") {
  for (const MpnInterval way : {MpnInterval::Likelihood, MpnInterval::Normal}) {
    const Mpn narrow = *most_probable_number(three(2, 1, 0), 0.8, way),
              wide = *most_probable_number(three(2, 1, 0), 0.99, way);
    CHECK(narrow.number == about(wide.number));
    CHECK(*wide.low < *narrow.low);
    CHECK(*wide.high > *narrow.high);
  }
  // Seven powers of ten between the tubes: the digits of the small one are not lost.
  const std::vector<TubeRow> far{{1, 10, 10}, {1e-7, 10, 3}};
  CHECK(most_probable_number(far)->number == doctest::Approx(-std::log(0.7) / 1e-7).epsilon(1e-6));
  const auto row = [](double amount, int tubes, int grew) {
    return most_probable_number(std::vector<TubeRow>{{amount, tubes, grew}});
  };
  CHECK(row(0, 3, 1).error().word == "mpn.amount"_w);
  CHECK(!row(1.1e6, 3, 1));
  CHECK(row(1, 0, 0).error().word == "mpn.tubes"_w);
  CHECK(row(1, 10000, 1));
  CHECK(!row(1, 10001, 1));
  CHECK(row(1, 3, 4).error().word == "mpn.grew"_w);
  CHECK(!row(1, 3, -1));
  CHECK(most_probable_number({}).error().word == "mpn.no-rows"_w);
  CHECK(most_probable_number(std::vector<TubeRow>(20, {1, 3, 1})));
  CHECK(most_probable_number(std::vector<TubeRow>(21, {1, 3, 1})).error().word == "mpn.rows"_w);
  CHECK(most_probable_number(three(2, 1, 0), 0.4).error().word == "count.confidence"_w);
}

TEST_CASE("gm: equal values give themselves, the edge of a limit is not over it") {
  for (const double value : {126.0, 0.3, 410.0, 7e9}) {
    const GmStv same = *gm_and_stv(std::vector(7, value));
    CHECK(same.gm == value);
    CHECK(*same.stv == value);
    CHECK(*same.log_sd == 0);
    CHECK(!is_over(same.gm, value));
  }
  // 63 · 252 = 126², so their mean is 126 whatever the last bit says; a hair more is over.
  for (const auto& values :
       {std::vector{63.0, 252.0}, {252.0, 63.0}, {1.0, 15876.0}, {63.0, 252.0, 126.0}, {14.0, 1134.0, 126.0}})
    CHECK(!is_over(gm_and_stv(values)->gm, 126));
  CHECK(is_over(gm_and_stv(std::vector{63.0, 252.001})->gm, 126));
  CHECK(is_over(gm_and_stv(std::vector{126.0, 126.0, 126.0, 126.0, 126.0001})->gm, 126));
}

TEST_CASE("gm: one in ten exactly is not more than one in ten") {
  std::vector<double> values(20, 5.0);
  values[3] = values[4] = 411;
  CHECK(excursions(values, 410)->over == 2);
  CHECK(!excursions(values, 410)->more_than_tenth());
  values.pop_back();
  CHECK(excursions(values, 410)->more_than_tenth());  // 2 of 19.
  values[3] = values[4] = 410;
  CHECK(excursions(values, 410)->over == 0);  // At the limit is not over it.
  CHECK(!excursions({}, 410));
  CHECK(excursions(values, 0).error().word == "gm.limit"_w);
}

TEST_CASE("gm: scale, order, and refusals just outside") {
  const std::vector<double> values{10, 20, 50, 100, 200}, turned{200, 10, 100, 20, 50},
      tenfold{100, 200, 500, 1000, 2000};
  CHECK(gm_and_stv(values)->gm == about(gm_and_stv(turned)->gm));
  CHECK(*gm_and_stv(values)->stv == about(*gm_and_stv(turned)->stv));
  CHECK(10 * gm_and_stv(values)->gm == about(gm_and_stv(tenfold)->gm));
  CHECK(10 * *gm_and_stv(values)->stv == about(*gm_and_stv(tenfold)->stv));
  CHECK(!gm_and_stv(std::vector{3.0})->stv);
  CHECK(gm_and_stv({}).error().word == "gm.no-values"_w);
  CHECK(gm_and_stv(std::vector{3.0, 0.0}).error().word == "gm.value"_w);
  CHECK(!gm_and_stv(std::vector{-1.0}));
  CHECK(!gm_and_stv(std::vector{1.1e12}));
  CHECK(gm_and_stv(std::vector(10000, 2.0)));
  CHECK(gm_and_stv(std::vector(10001, 2.0)).error().word == "gm.too-many"_w);
}

}  // namespace
