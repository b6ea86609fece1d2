// What waits and holds the screens tell, where more than one counts: before entry and before harvest, known ends and none.
#include <doctest/doctest.h>

#include "book/brew_commands.h"
#include "book/pass_start.h"
#include "demo/demo.h"
#include "handover/give.h"
#include "handover/take.h"
#include "screens/refill.h"
#include "tests/screens/demo_farm.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

Places places_of(const Book& book, const Id& farm) {
  auto places = read_places(book, farm);
  REQUIRE(places);
  return std::move(*places);
}

/// A farm of few beds with a pass under way, out of a tank with wettable sulfur in it.
struct SulfurPass {
  TempBook file;
  FakePlatform platform;
  Id pass, rig;

  /// `waits`: fields of the label's line.
  SulfurPass(const std::string& name, int beds, std::vector<FieldValue> waits) : file(name), platform(file.path) {
    make_farm(platform, beds);
    Book book = open_book(platform);
    const Id ana = *Id::parse(platform.settings["person"]);
    const Id sulfur = add(
        book, "material",
        {text_field_value("name", "Wettable sulfur"), word_value("kind", "pesticide"), yes_no_value("labelled", true)},
        ana);
    waits.push_back(reference_value("material", sulfur));
    add(book, "label-line", std::move(waits), ana);
    const Id lot = add(book, "lot", {reference_value("material", sulfur), text_field_value("code", "S-31")}, ana);
    StartChoices chosen;
    chosen.farm = *Id::parse(platform.settings["farm"]);
    chosen.person = ana;
    const Places places = places_of(book, chosen.farm);
    for (const Bed& bed : places.beds) chosen.beds.push_back(bed.id);
    chosen.aim = Aim::Leaf;
    chosen.no_tea = true;
    chosen.products = {{lot, amount("1 oz")}};
    chosen.spray_rate = amount("45 gal/acre");
    chosen.rate_area = RateArea::BedTop;
    chosen.walk = Walk::SameEnd;
    chosen.from_far_end = false;
    chosen.weather.not_taken = true;
    const auto started = start_pass(book, chosen, {ana, "checked", false});
    REQUIRE(started);
    REQUIRE(started->written);
    pass = started->record;
    platform.saved();
  }
};

}  // namespace

TEST_CASE("waits told: of the bed in hand the wait before entry and the hold before harvest, and both are spoken") {
  SulfurPass farm("told-both", 2, {quantity_value("wait.entry", "24 h")});
  AppRun run(farm.platform, small_phone());
  const std::string row = run.name_with("N1 chard, in hand");
  CHECK(row.find("No entry until") != std::string::npos);
  CHECK(row.find("No harvest: no date is known") != std::string::npos);
  CHECK(row.find("gal spray") != std::string::npos);
  farm.platform.wait(kMinute);
  REQUIRE(run.press("N1 done, then N2"));
  farm.platform.wait(kMinute);
  REQUIRE(run.press("N2 done, then the end of the pass"));
  REQUIRE(run.press("End pass…"));
  CHECK(run.shows_part("No entry to 2 beds until: N1 "));
  CHECK(run.shows_part("2 beds are held: no date is known"));
}

TEST_CASE("waits told: the end of a pass names the first and the last end, and an entry wait that nobody knows") {
  SulfurPass farm("told-order", 3, {quantity_value("wait.harvest", "1 day")});
  AppRun run(farm.platform, small_phone());
  REQUIRE(run.press("N3 chard, waiting…"));
  farm.platform.wait(kMinute);
  REQUIRE(run.press("N3 done, then N1"));
  farm.platform.wait(2 * kMinute);
  REQUIRE(run.press("N1 done, then N2"));
  farm.platform.wait(2 * kMinute);
  REQUIRE(run.press("N2 done, then the end of the pass"));
  REQUIRE(run.press("End pass…"));
  CHECK(run.shows_part("No entry to 3 beds: no end is known"));
  const std::string told = run.name_with("3 beds, no harvest until: N3 ");
  CHECK(told.find(" … N2 ") != std::string::npos);
  CHECK(told.find("each from its own finish") != std::string::npos);
}

TEST_CASE("waits told: 'Same bed, twice?' tells that nobody may enter") {
  DemoFarm demo("told-twice");
  const TempBook other("told-twice-phone");
  {
    Book mine = open_book(demo.platform);
    DemoWish wish;
    wish.now = demo.platform.clock;
    wish.zone_name = demo.platform.zone;
    REQUIRE(make_demo_phone({other.path, {}, false}, mine, wish));
    FakePlatform second(other.path);
    Book theirs = open_book(second);
    auto given = give(theirs, {});
    REQUIRE(given);
    REQUIRE(take_in(mine, std::move(given->file)));
  }
  AppRun run(demo.platform, small_phone());
  REQUIRE(run.press("1 question to settle"));
  for (const Item& item : run.app().items().items())
    if (item.role == Role::Row) {
      REQUIRE(run.press(item.name));
      break;
    }
  CHECK(run.shows("Same bed, twice?"));
  // Sulfur on tomatoes: 24 h before entry, none before harvest.
  const std::string told = run.name_with("No entry until");
  CHECK(told.find("Waits count the later finish; totals count the entry of Ana, the earlier one.") !=
        std::string::npos);
  CHECK_FALSE(run.shows_part("No harvest until"));
}

TEST_CASE("waits told: an entry hold that a person set until a time is told without hours of a rule") {
  Phone phone("told-by-hand");
  {
    Book book = open_book(phone.platform);
    const Id ana = *Id::parse(phone.platform.settings["person"]);
    const Places places = places_of(book, *Id::parse(phone.platform.settings["farm"]));
    REQUIRE(set_hold(book, places.beds[2].id, false, true, phone.platform.clock + 3 * kHour, "ladder out",
                     {ana, {}, false}));
  }
  AppRun run(phone.platform, small_phone());
  const std::string told = run.name_with("No entry: N3");
  CHECK(told.find("until ") != std::string::npos);
  CHECK(told.find("0 h") == std::string::npos);
}

TEST_CASE("waits told: a planned pass whose time is over says so beside its start") {
  Phone phone("told-late");
  {
    Book book = open_book(phone.platform);
    const Id ana = *Id::parse(phone.platform.settings["person"]), farm = *Id::parse(phone.platform.settings["farm"]);
    const Places places = places_of(book, farm);
    add(book, "plan",
        {word_value("what", "pass"), reference_value("farm", farm),
         instant_value("at", {phone.platform.clock - 3 * kHour, phone.platform.offset_minutes}),
         list_value("beds", {places.beds[0].id.text()})},
        ana);
  }
  AppRun run(phone.platform, small_phone());
  CHECK(run.shows_part("Planned pass"));
  CHECK(run.shows_part("Its time is over: start it, or say in the plan why it was not done."));
}

TEST_CASE("waits told: a brew past the farm's use-by says so, and hours of spraying are told as a clock shows them") {
  DemoFarm demo("told-use-by");
  {
    Book book = open_book(demo.platform);
    const Id farm = farms(book)->front().id, ana = people(book)->front().id;
    for (const auto& [which, hour] : {std::pair{"hour-from", "18 h"}, std::pair{"hour-to", "9 h"}})
      add(book, "limit",
          {reference_value("farm", farm), word_value("which", which), quantity_value("limit.value", hour),
           text_field_value("limit.by", "Ana Leland")},
          ana);
  }
  {
    AppRun run(demo.platform, small_phone());
    CHECK(run.shows_part("use by Fri 1:46 am"));
    CHECK_FALSE(run.shows_part("past use-by"));
    REQUIRE(run.press("Start pass…"));
    CHECK(run.shows_part("Outside the farm's hours for spraying, 6:00 pm to 9:00 am (Ana Leland)."));
  }
  demo.platform.wait(12 * kHour);  // The farm's limit is 36 h.
  AppRun run(demo.platform, small_phone());
  CHECK(run.shows_part("past use-by 1:46 am"));
}

TEST_CASE("waits told: how much of the bed in hand the next load covers is told by what is left of it") {
  SulfurPass farm("told-rest", 3, {quantity_value("wait.harvest", "1 day"), quantity_value("wait.entry", "24 h")});
  Book book = open_book(farm.platform);
  const Settings settings = read_settings(farm.platform);
  const Farm of = *read_farm(book, *Id::parse(farm.platform.settings["farm"]));
  BedStatesCache beds;
  const Places places = places_of(book, of.id);
  const Surroundings around{.book = book,
                            .beds = beds,
                            .platform = farm.platform,
                            .settings = settings,
                            .words = Words(Language::English),
                            .units = {},
                            .now = farm.platform.clock,
                            .farm = of.id,
                            .zone = of.zone,
                            .today = of.day(farm.platform.clock),
                            .person = {},
                            .record = farm.pass,
                            .other = places.beds[0].id,
                            .word = {}};
  const auto sign = [&](std::string at) {
    RefillInput input;
    input.form["at"] = std::move(at);
    const auto view = refill_view(around, input);
    REQUIRE(view);
    REQUIRE_FALSE(view->slabs.empty());
    return view->slabs.front().first;
  };
  CHECK(sign("50 ft") == "½");
  CHECK(sign("30 ft") == "⅔");
  CHECK(sign("90 ft").empty());
}
