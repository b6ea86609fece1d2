// Planning on the screen: from the due beds to what Start of brew and Start of pass find filled in.
#include <doctest/doctest.h>

#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Alder Reach with a recipe, its stock and a vessel, and Ana at a phone.
struct PlanFarm {
  TempBook file;
  FakePlatform platform{file.path};
  Id recipe, kelp_lot, vessel;
  explicit PlanFarm(const std::string& name) : file(name) {
    make_farm(platform);
    Book book = *Book::open(platform.book_place(), needs_of(platform));
    const Id ana = *Id::parse(platform.settings["person"]);
    const Id compost = add(
        book, "material",
        {text_field_value("name", "Worm compost"), word_value("kind", "worm-compost"), yes_no_value("animal", false)},
        ana);
    const Id kelp = add(
        book, "material",
        {text_field_value("name", "Liquid kelp"), word_value("kind", "microbe-food"), yes_no_value("additive", true)},
        ana);
    add(book, "lot",
        {reference_value("material", compost), text_field_value("code", "W-14"), quantity_value("quantity", "60 lb")},
        ana);
    kelp_lot = add(
        book, "lot",
        {reference_value("material", kelp), text_field_value("code", "K-19"), quantity_value("quantity", "64 fl oz")},
        ana);
    recipe = add(book, "recipe",
                 {text_field_value("name", "Leaf 3"), quantity_value("reference", "5 gal"),
                  quantity_value("brewing.time", "24 h"), quantity_value("brewing.temperature", "68 degF")},
                 ana);
    for (const auto& [of, low, high] : {std::tuple{compost, "5 lb", "5 lb"}, std::tuple{kelp, "5 fl oz", "10 fl oz"}})
      add(book, "recipe-line",
          {reference_value("recipe", recipe), reference_value("material", of), quantity_value("amount.low", low),
           quantity_value("amount.high", high), word_value("scaling", "proportion")},
          ana);
    vessel = add(book, "vessel",
                 {text_field_value("name", "Blue bucket"), quantity_value("volume.nominal", "12 gal"),
                  quantity_value("volume.working", "10 gal")},
                 ana);
    platform.saved();
  }
};

/// No pass yet says how much tea an acre takes.
bool answer_rates(AppRun& run) {
  return run.press("At which rates?") && run.press("Tea per area, not answered, type…") && run.key("Digit 2") &&
         run.key("Digit 0") && run.key("Enter") && run.press("Close");
}

TEST_CASE("plan on the screen: the farm's own numbers are a press behind the line that counts with them") {
  PlanFarm farm("plan-limits");
  AppRun run(farm.platform);
  REQUIRE(run.press("Plan a brew"));
  REQUIRE(answer_rates(run));
  REQUIRE(run.press("Air off…"));
  CHECK(run.shows_part("30 min (common practice, no source)"));
  REQUIRE(run.press("The farm's own numbers"));
  REQUIRE(run.press("From air off to the first bed, …"));
  REQUIRE(run.press("Set the farm's number"));
  for (const char* key : {"Digit 6", "Digit 0"}) REQUIRE(run.key(key));
  REQUIRE(run.press("Enter"));
  REQUIRE(run.press("Close"));
  REQUIRE(run.press("Back"));
  // The plan goes on where it was, with the new number and whose it is.
  REQUIRE(run.press("Air off…"));
  CHECK(run.shows_part("60 min (Ana Leland)"));
}

TEST_CASE("plan on the screen: three presses write it, and nothing is typed again") {
  PlanFarm farm("plan-screen");
  AppRun run(farm.platform);
  REQUIRE(run.press("Plan a brew"));
  // 24 × 100 ft × 30 in = 0.1377 acre; 45 gal spray and 20 gal tea an acre … but no pass yet says how much tea.
  CHECK(run.shows_part("answer missing: rates"));
  REQUIRE(answer_rates(run));
  CHECK(run.shows("Plan it · 2.96 gal tea"));
  CHECK(run.shows_part("4 parts tea, 5 water"));
  // Each line opens its formula.
  REQUIRE(run.press("4 parts tea, 5 water…"));
  CHECK(run.shows_part("Tea on the beds = tea per area × area"));
  CHECK(run.shows_part("20 gal/acre × 0.138 acres = 2.75 gal tea"));
  REQUIRE(run.press("Close"));
  CHECK(run.shows_part("The temperature in the vessel is not known"));
  REQUIRE(run.press("How warm in the vessel?"));
  for (const char* key : {"Digit 6", "Digit 8"}) REQUIRE(run.key(key));
  REQUIRE(run.key("Enter"));
  CHECK(run.shows_part("Ready about"));
  // More kelp than the recipe is a doubt at once.
  REQUIRE(run.press("Liquid kelp 2.96 fluid ounces, more"));
  CHECK(run.shows_part("Liquid kelp"));
  REQUIRE(run.press("Plan it · 2.96 gal tea"));

  CHECK(run.shows("Today"));
  CHECK(run.shows_part("Planned brew · Leaf 3"));
  CHECK(run.shows_part("Planned pass · North"));
  const auto brews = open_brew_plans(run.book());
  REQUIRE(brews);
  REQUIRE(brews->size() == 1);
  const PlannedWork plan = brews->front();
  CHECK(plan.recipe == farm.recipe);
  CHECK(plan.lines.size() == 1);
  REQUIRE(plan.at);

  // At its time the brew finds everything filled in.
  farm.platform.wait(plan.at->at - farm.platform.clock);
  run.settle();
  REQUIRE(run.press("Brew"));
  REQUIRE(run.press("Start a brew"));
  CHECK(run.shows_part("From the plan"));
  CHECK(run.shows_part("Leaf 3"));
  CHECK(run.shows_part("recipe 2.96 to 5.92 fl oz"));
  REQUIRE(run.press("Start this brew"));
  const auto read = read_plan(run.book(), plan.id);
  REQUIRE(read);
  CHECK(!read->became.is_nil());
  const auto sheet = read_brew_sheet(run.book(), read->became);
  REQUIRE(sheet);
  CHECK(sheet->brew.fill->gallons() == doctest::Approx(2.96).epsilon(0.01));
  CHECK(sheet->lines.size() == 2);

  // And so does the pass: beds, rates, rig and the tea brewed for it.
  farm.platform.wait(kDay);
  run.settle();
  run.app().back();
  run.settle();
  REQUIRE(run.press("Today"));
  REQUIRE(run.press("Start pass…"));
  CHECK(run.shows_part("From the plan"));
  CHECK(run.shows_part("45 gal spray, 20 gal tea per acre"));
  CHECK(run.shows_part("24 beds"));
}

TEST_CASE("plan on the screen: Today says from when water has to stand, also over the night the clock goes forward") {
  PlanFarm farm("plan-water");
  // Thu 5 March 2026, 2 pm in Los Angeles; the clocks go forward on Sunday the 8th (IANA tz database).
  farm.platform.clock = Moment{1772748000000};
  {
    Book book = *Book::open(farm.platform.book_place(), needs_of(farm.platform));
    add(book, "water-source",
        {text_field_value("name", "Mains"), word_value("kind", "mains"), word_value("disinfectant", "chlorine")}, {});
  }
  AppRun run(farm.platform);
  REQUIRE(run.press("Plan a brew"));
  REQUIRE(answer_rates(run));
  REQUIRE(run.press("How warm in the vessel?"));
  for (const char* key : {"Digit 6", "Digit 8"}) REQUIRE(run.key(key));
  REQUIRE(run.key("Enter"));
  REQUIRE(run.press("First bed…"));
  REQUIRE(run.press("Change the time"));
  REQUIRE(run.press("Day Sat 7 Mar, more"));
  REQUIRE(run.press("Day Sun 8 Mar, more"));
  REQUIRE(run.press("Done"));
  REQUIRE(run.press("Plan it · 2.96 gal tea"));
  // Air on Sunday at 6 am; 24 real hours before it the clock says 5 am.
  CHECK(run.shows_part("stand water from Sat 5:00 am"));
  REQUIRE(run.press("Open: Planned brew…"));
  CHECK(run.shows("Water stands from, Sat 5:00 am"));
  REQUIRE(run.press("Back"));
  farm.platform.wait(2 * kDay);
  run.settle();
  CHECK(run.shows_part("water should stand since"));
}

TEST_CASE("plan on the screen: another time, other beds, a draft that survives, not done, in Spanish") {
  PlanFarm farm("plan-screen-es");
  farm.platform.settings["language"] = "es";
  AppRun run(farm.platform);
  REQUIRE(run.press("Planear un té"));
  REQUIRE(run.press("¿Con qué dosis?"));
  REQUIRE(run.press("Té por superficie, sin respuesta, escribir…"));
  for (const char* key : {"Cifra 2", "Cifra 0"}) REQUIRE(run.key(key));
  REQUIRE(run.key("Anotar"));
  REQUIRE(run.press("Cerrar"));
  REQUIRE(run.press("24 camas…"));
  REQUIRE(run.press("Cambiar camas"));
  REQUIRE(run.press("todo North…"));
  REQUIRE(run.press("N1…"));
  REQUIRE(run.press("Cerrar"));
  CHECK(run.shows_part("1 cama, 100"));
  REQUIRE(run.press("Encender aire: Otra hora"));
  REQUIRE(run.press("Día jue 14 may, más"));
  REQUIRE(run.press("Hecho"));
  run.wait(5000);
  run.kill_and_open();
  REQUIRE(run.press("Planear un té"));
  CHECK(run.shows_part("1 cama, 100"));
  CHECK(run.shows_part("dudas"));
  REQUIRE(run.press("Planear · …"));
  REQUIRE(run.press("Abrir: Pasada planeada…"));
  REQUIRE(run.press("No se hizo"));
  REQUIRE(run.press("lluvia"));
  REQUIRE(run.press("Anotarlo"));
  const auto plans = open_plans(run.book(), *Id::parse(farm.platform.settings["farm"]));
  REQUIRE(plans);
  CHECK(plans->empty());
}

}  // namespace
