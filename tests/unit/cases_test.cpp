// Whole cases of the job, each with its arithmetic done by hand.
#include <doctest/doctest.h>

#include "book/enter.h"
#include "book/recipe_scaled.h"
#include "book/running_brew.h"
#include "tests/unit/farm_book.h"
#include "trade/window.h"

using namespace steep;
using namespace steep::test;

namespace {

TEST_CASE("case: a recipe for 25 gal in a 275 gal tote that is filled to 250") {
  FarmBook farm(1, 2);
  Book& book = farm.book();
  const Id compost = farm.material("Leaf compost", "compost", false),
           kelp = farm.material("Kelp", "microbe-food", false), humic = farm.material("Humic", "microbe-food", false);
  const Id recipe = add(book, "recipe", {text_field_value("name", "Tote"), quantity_value("reference", "25 gal")});
  const auto line = [&](const Id& of, const char* low, const char* high) {
    add(book, "recipe-line",
        {reference_value("recipe", recipe), reference_value("material", of), quantity_value("amount.low", low),
         quantity_value("amount.high", high)});
  };
  line(compost, "5 lb", "5 lb");
  line(kelp, "1/2 cup", "1/2 cup");
  line(humic, "1 tbsp", "2 tbsp");
  const Id tote = add(book, "vessel",
                      {text_field_value("name", "Tote"), quantity_value("volume.nominal", "275 gal"),
                       quantity_value("volume.working", "250 gal")});
  farm.lot(kelp, "K-1", "2 lb");  // By weight: no cup of it has been weighed.
  const Volume fill = *got(read_vessel(book, tote)).working;
  const BrewRecipe read = got(read_recipe(book, recipe));
  auto stock = got(recipe_stock(book, recipe, {2026, 5, 14}));
  REQUIRE(stock.size() == 3);
  const auto amount = [&](std::size_t i) { return got(scaled_line(read, stock[i], fill)); };
  // 250 / 25 = 10.
  CHECK(write_quantity(amount(0).low, *stock[0].unit).text == "50 lb");
  CHECK(write_quantity(amount(1).low, *stock[1].unit).text == "5 cup");
  CHECK(write_quantity(amount(2).low, *stock[2].unit).text == "10 tbsp");
  CHECK(write_quantity(amount(2).high, *stock[2].unit).text == "20 tbsp");
  CHECK(as<Mass>(write_quantity(amount(0).low, *stock[0].unit)).kilograms() == doctest::Approx(22.68).epsilon(1e-3));
  CHECK(as<Volume>(write_quantity(amount(2).high, *stock[2].unit)).liters() == doctest::Approx(0.2957).epsilon(1e-3));
  // Kelp is not turned into grams: what is in stock is not known in cups …
  CHECK(!stock[1].in_stock());
  // … until the farm has weighed a cup of it.
  Save weighed;
  weighed.record = kelp;
  weighed.kind = "material";
  weighed.fields = {quantity_value("density.weight", "120 g"), quantity_value("density.volume", "1 cup")};
  weighed.seen = got(book.record(kelp))->heads();
  REQUIRE(book.write(weighed, farm.ana));
  stock = got(recipe_stock(book, recipe, {2026, 5, 14}));
  CHECK(*stock[1].in_stock() == doctest::Approx(2 * 453.59237 / 120).epsilon(1e-6));
}

TEST_CASE("case: more than the recipe is said before the brew is written, by weight as by volume") {
  FarmBook farm(1, 2);
  Book& book = farm.book();
  const Id kelp = farm.material("Kelp", "microbe-food", false);
  const Id recipe = add(book, "recipe", {text_field_value("name", "Leaf 3"), quantity_value("reference", "5 gal")});
  add(book, "recipe-line",
      {reference_value("recipe", recipe), reference_value("material", kelp), quantity_value("amount.low", "1 tbsp"),
       quantity_value("amount.high", "2 tbsp"), word_value("scaling", "table"),
       list_value("table", {"5 gal 1 tbsp 2 tbsp", "20 gal 3 tbsp 4 tbsp"})});
  const Id lot = farm.lot(kelp, "K-1", "64 fl oz");
  BrewGiven given;
  given.recipe = recipe;
  given.fill = q("20 gal");  // Its own table says 3 to 4 tbsp, not 4 to 8.
  given.lines = {{lot, q("4 tbsp")}};
  CHECK(got(start_brew(book, given, farm.by_ana())).written);
  given.lines = {{lot, q("6 tbsp")}};
  const Outcome more = got(start_brew(book, given, farm.by_ana()));
  CHECK_FALSE(more.written);
  CHECK(has_caution(more.cautions, "check.above-recipe"));
  CHECK(got(start_brew(book, given, farm.by_ana("stronger on purpose"))).written);
}

TEST_CASE("case: a brew over the spring clock change") {
  const Zone zone = *Zone::from_name("America/New_York");
  const auto at = [&](int day, int hour, int minute = 0) {
    return zone.instants({{2026, 3, day}, hour, minute, 0}).front();
  };
  const Moment air_on = at(7, 18);
  const std::vector<TemperatureAt> steady{{air_on, Temperature::from_fahrenheit(70)}};
  const BrewWindow window = *brew_window(air_on, air_on, steady, BrewPace{});
  CHECK(std::abs(window.expected - at(8, 19)) <= 2 * kSecond);  // 24 real hours: 19:00, not 18:00.
  CHECK(elapsed(air_on, at(8, 1, 30)).hours() == doctest::Approx(7.5));
  CHECK(elapsed(air_on, at(8, 3, 30)).hours() == doctest::Approx(8.5));  // One hour after 1:30.
  CHECK(elapsed(air_on, at(8, 18)).hours() == doctest::Approx(23));
  const auto gap = read_time("2026-03-08 02:30", zone, zone.stamp(at(9, 8)));
  REQUIRE(!gap);
  CHECK(gap.error().kind == Trouble::Ask);
}

}  // namespace
