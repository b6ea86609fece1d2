// What hands do that are wet, tired and in gloves: bounce, press twice, give up half way, type what does not fit.
#include <doctest/doctest.h>

#include "book/farm_commands.h"
#include "tests/screens/demo_farm.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

struct FewBeds {
  TempBook file;
  FakePlatform platform;
  FewBeds(const std::string& name, int beds) : file(name), platform(file.path) { make_farm(platform, beds); }
};

/// With rates not known, up to the start button.
void fill_start(AppRun& run) {
  REQUIRE(run.press("Start pass…"));
  REQUIRE(run.press("At which rates?"));
  REQUIRE(run.press("I don't know the rates"));
  REQUIRE(run.press("Close"));
  REQUIRE(run.press("Which brew, leaf or soil?"));
  REQUIRE(run.press("Brew: on leaf"));
  REQUIRE(run.press("Brew: Brew 31…"));
  REQUIRE(run.press("Tea, not answered, type another value"));
  REQUIRE(run.press("Not taken"));
  REQUIRE(run.press("How do you walk?: Same end each bed"));
  REQUIRE(run.press("Start from: lane"));
  REQUIRE(run.press("Weather now: Not taken"));
}

std::size_t doses(AppRun& run) {
  const auto open = open_pass(run.book());
  REQUIRE(open);
  REQUIRE(*open);
  return doses_of_pass(run.book(), **open)->size();
}

TEST_CASE("wet hands: a second tap at the same place presses nothing that has come to stand there") {
  FewBeds phone("wet-taps", 6);
  AppRun run(phone.platform, small_phone());
  fill_start(run);
  REQUIRE(run.tap("Start · N1", 2));
  CHECK(doses(run) == 0);
  REQUIRE(run.tap("N1 done, then N2", 2));
  CHECK(doses(run) == 1);
  REQUIRE(run.tap("Skip N2, with reason", 3));
  CHECK(doses(run) == 1);
  CHECK(run.shows("Why skip N2?"));
  REQUIRE(run.tap("Why skip N2?: wet", 2));
  CHECK(doses(run) == 2);
  REQUIRE(run.tap("Refill, load 2", 2));
  if (run.shows("Is the tank dry?: Ran dry")) REQUIRE(run.tap("Is the tank dry?: Ran dry", 2));
  REQUIRE(run.tap("Refilled, on with N3", 2));
  CHECK(doses(run) == 2);
  REQUIRE(run.tap("Undo Refill", 2));
  CHECK(doses(run) == 2);
  CHECK(run.shows("Refill, load 2"));
  REQUIRE(run.tap("Half of N3, lane end", 2));
  CHECK(doses(run) == 3);
}

TEST_CASE("wet hands: a bounce is one press also where writing takes longer than the bounce") {
  FewBeds phone("wet-slow", 6);
  AppRun run(phone.platform, small_phone());
  fill_start(run);
  REQUIRE(run.press("Start · N1"));
  const Item* done = run.find("N1 done, then N2");
  REQUIRE(done);
  const float x = (done->rect.left + done->rect.right) / 2, y = (done->rect.top + done->rect.bottom) / 2;
  phone.platform.wait(kSecond);
  ImGuiIO& io = ImGui::GetIO();
  const auto touch = [&](bool down) {
    io.AddMouseSourceEvent(ImGuiMouseSource_TouchScreen);
    io.AddMousePosEvent(x, y);
    io.AddMouseButtonEvent(0, down);
  };
  touch(true);
  run.frame();
  run.frame();
  touch(false);
  run.frame();
  CHECK(doses(run) == 1);
  phone.platform.wait(800);  // The frame that wrote took so long; the bounce came meanwhile.
  touch(true);
  touch(false);
  run.settle();
  CHECK(doses(run) == 1);
  phone.platform.wait(kSecond);
  run.tap(x, y);
  CHECK(doses(run) == 2);
}

TEST_CASE("wet hands: of a brew from which nobody measured what was taken at most the rest is left") {
  FewBeds phone("wet-left", 2);
  AppRun run(phone.platform, small_phone());
  REQUIRE(run.press("Brew"));
  REQUIRE(run.press("Brew 31, 24 h…"));
  CHECK(run.shows_part("Left"));
  CHECK_FALSE(run.shows_part("Left at most"));
  REQUIRE(run.press("Back"));
  REQUIRE(run.press("Today"));
  fill_start(run);
  REQUIRE(run.press("Start · N1"));
  REQUIRE(run.press("Back"));
  REQUIRE(run.press("Brew"));
  REQUIRE(run.press("Brew 31, 24 h…"));
  CHECK(run.shows_part("Left at most"));
}

TEST_CASE("wet hands: the system's back closes the sheet that lies on top, then leaves the page") {
  FewBeds phone("wet-back", 3);
  AppRun run(phone.platform, small_phone());
  fill_start(run);
  REQUIRE(run.press("Start · N1"));
  REQUIRE(run.press("Skip N1, with reason"));
  CHECK(run.app().can_go_back());
  run.app().back();
  run.settle();
  CHECK_FALSE(run.shows("Why skip N1?"));
  CHECK(run.shows("N1 done, then N2"));
  run.app().back();
  run.settle();
  CHECK(run.shows("Today"));
  CHECK_FALSE(run.app().can_go_back());
}

TEST_CASE("wet hands: a sheet without × is closed by name, too") {
  FewBeds phone("wet-close", 3);
  AppRun run(phone.platform, small_phone());
  REQUIRE(run.press("Add reading to brew 31"));
  REQUIRE(run.shows("Digit 1"));
  REQUIRE(run.press("Close"));
  CHECK_FALSE(run.shows("Digit 1"));
}

void open_bed(AppRun& run, std::string_view bed) {
  REQUIRE(run.press("Beds"));
  REQUIRE(run.press("Bed " + std::string(bed) + ",…"));
}
std::string typed(AppRun& run, std::string_view field) {
  const Item* item = run.app().items().find(Role::Field, field);
  return item ? item->value : "(no field)";
}

TEST_CASE("wet hands: what is refused stays on its sheet, with why, and can be mended there") {
  FewBeds phone("wet-refused", 3);
  phone.platform.settings["decimal-mark"] = ",";
  AppRun run(phone.platform, small_phone());
  open_bed(run, "N1");
  REQUIRE(run.press("Add to N1"));
  REQUIRE(run.type("Amount picked, with unit", "3 acres"));
  REQUIRE(run.press("Save"));
  CHECK(typed(run, "Amount picked, with unit") == "3 acres");
  int alerts = 0;
  for (const Item& item : run.app().items().items()) alerts += item.role == Role::Alert && item.rect != ItemRect{};
  CHECK(alerts == 1);
  CHECK(run.book().records("harvest")->empty());
  REQUIRE(run.type("Amount picked, with unit", "1,5 kg"));
  REQUIRE(run.press("Save"));
  CHECK_FALSE(run.shows("Amount picked, with unit"));
  const auto harvests = run.book().records("harvest");
  REQUIRE(harvests->size() == 1);
  CHECK(harvests->front().field("amount")->text == "1.5 kg");  // Not 15: the mark is the person's.
}

TEST_CASE("wet hands: what is held up and left is still there; gone on with, it is written and the sheet is gone") {
  FewBeds phone("wet-held", 3);
  AppRun run(phone.platform, small_phone());
  fill_start(run);
  REQUIRE(run.press("Start · N1"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N1 done, then N2"));
  run.app().back();
  run.settle();
  open_bed(run, "N1");
  REQUIRE(run.press("Add to N1"));
  REQUIRE(run.type("Amount picked, with unit", "4 lb"));
  REQUIRE(run.press("Save"));
  REQUIRE(run.shows("Before it is written"));  // A tea yesterday of days that have not gone by.
  CHECK_FALSE(run.shows("Amount picked, with unit"));
  REQUIRE(run.press("Leave it"));
  CHECK(typed(run, "Amount picked, with unit") == "4 lb");
  REQUIRE(run.press("Save"));
  REQUIRE(run.press("checked on the spot"));
  REQUIRE(run.press("Write it"));
  CHECK_FALSE(run.shows("Amount picked, with unit"));
  CHECK(run.book().records("harvest")->size() == 1);
}

TEST_CASE("wet hands: of two rigs with one name each can be chosen") {
  FewBeds phone("wet-rigs", 3);
  Id second;
  {
    Book book = open_book(phone.platform);
    second = add(book, "rig", {text_field_value("name", "Backpack 1"), quantity_value("tank.volume", "15 L")},
                 *Id::parse(phone.platform.settings["person"]));
  }
  AppRun run(phone.platform, small_phone());
  REQUIRE(run.press("Start pass…"));
  std::vector<std::string> chosen;
  for (int i = 0; i < 2; ++i) {
    REQUIRE(run.press(run.shows_part("Which rig") ? "Which rig and tank?" : "Backpack 1…"));
    std::vector<std::uint32_t> rigs;
    for (const Item& item : run.app().items().items())
      if (item.role == Role::Choice && item.name.rfind("Rig: Backpack 1", 0) == 0) rigs.push_back(item.id);
    REQUIRE(rigs.size() == 2);
    CHECK(rigs[0] != rigs[1]);
    phone.platform.wait(kSecond);
    run.app().items().press(rigs[static_cast<std::size_t>(i)]);
    run.settle();
    run.wait(kSecond);
    chosen.push_back((*run.book().draft("start-pass"))->fields.at("rig"));
  }
  CHECK(chosen[0] != chosen[1]);
}

TEST_CASE("wet hands: a hold without an end says why, never 'until' a sentence") {
  FewBeds phone("wet-hold", 3);
  AppRun run(phone.platform, small_phone());
  open_bed(run, "N1");
  REQUIRE(run.press("Add to N1"));
  REQUIRE(run.press("Add to N1: Hold"));
  REQUIRE(run.type("Reason", "mildew looked at"));
  REQUIRE(run.press("Save"));
  run.app().back();
  run.settle();
  CHECK(run.shows_part("No harvest: A person set this hold"));
  CHECK_FALSE(run.shows_part("until A"));
}

TEST_CASE("a hold that a person set is released on its page, with a reason, once") {
  FewBeds phone("release-hold", 3);
  AppRun run(phone.platform, small_phone());
  open_bed(run, "N1");
  REQUIRE(run.press("Add to N1"));
  REQUIRE(run.press("Add to N1: Hold"));
  REQUIRE(run.type("Reason", "broken glass"));
  REQUIRE(run.press("Save"));
  REQUIRE(run.press(run.name_with("broken glass")));
  REQUIRE(run.press("Release"));
  CHECK_FALSE(run.press("Release it"));  // Not without a reason.
  REQUIRE(run.type("Reason", "raked"));
  REQUIRE(run.press("Release it"));
  CHECK(run.book().records("release")->size() == 1);
  CHECK_FALSE(run.shows("Release"));
  REQUIRE(run.press("Back"));
  CHECK_FALSE(run.shows_part("A person set this hold"));
}

TEST_CASE("wet hands: a brew whose clock says that it has not begun has a name of whole words") {
  FewBeds phone("wet-clock", 3);
  AppRun run(phone.platform, small_phone());
  phone.platform.wait(-2 * kDay);
  run.app().came_visible();
  run.settle();
  REQUIRE(run.press("Brew"));
  REQUIRE(run.press("Brew 31…"));
  CHECK(run.shows("start …"));
  CHECK(names_not_in_words == 0);
}

TEST_CASE("wet hands: the lines of a plan are told by the names of their lots, nobody by no dot") {
  FewBeds phone("wet-lines", 3);
  {
    Book book = open_book(phone.platform);
    const Id kelp = add(book, "material", {text_field_value("name", "Liquid kelp")}, {});
    const Id lot = add(book, "lot", {reference_value("material", kelp), text_field_value("code", "K-7")}, {});
    add(book, "plan",
        {reference_value("farm", farms(book)->front().id), word_value("what", "brew"),
         quantity_value("volume", "3 gal"), instant_value("at", {phone.platform.clock + kHour, -420}),
         list_value("lines", {lot.text() + " 0.35 fl oz"})},
        {});
  }
  AppRun run(phone.platform, small_phone());
  REQUIRE(run.press("Brew"));
  REQUIRE(run.press("Planned brew…"));
  REQUIRE(run.press("Record and history"));
  CHECK_MESSAGE(run.shows_part("K-7 0.35 fl oz"), run.screen());
  CHECK(run.shows("2:02 pm"));  // By nobody who was named.
}

TEST_CASE("wet hands: waits before harvest and before entry are asked for under names of their own") {
  FewBeds phone("wet-rules", 3);
  AppRun run(phone.platform, small_phone());
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("Work it out…"));
  REQUIRE(run.press("Until when no harvest, no entry?"));
  CHECK(run.app().items().find(Role::Field, "Wait before harvest: which rule"));
  CHECK(run.app().items().find(Role::Field, "Wait before entry: which rule"));
  REQUIRE(run.press("One more: wait before harvest"));
  CHECK(run.app().items().find(Role::Field, "Wait before harvest: which rule 2"));
}

TEST_CASE("wet hands: all beds skipped, one of a single bed, and the pass ends") {
  FewBeds phone("wet-skipped", 1);
  AppRun run(phone.platform, small_phone());
  fill_start(run);
  REQUIRE(run.press("Start · N1"));
  REQUIRE(run.press("Skip N1, with reason"));
  REQUIRE(run.press("Why skip N1?: crop picked"));
  REQUIRE(run.press("End pass…"));
  REQUIRE(run.press("Left over, and where to?: Stays in tank"));
  REQUIRE(run.press("Wash of Backpack 1: Not washed"));
  REQUIRE(run.press("Weather at the end: Not taken"));
  REQUIRE(run.tap("End pass", 2));
  CHECK(run.shows("Today"));
  CHECK_FALSE(*open_pass(run.book()));
}

TEST_CASE("wet hands: a pass left open over night says of which day its beds are") {
  FewBeds phone("wet-night", 3);
  AppRun run(phone.platform, small_phone());
  fill_start(run);
  REQUIRE(run.press("Start · N1"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N1 done, then N2"));
  CHECK(run.shows("N1 chard, done 2:0…"));
  run.wait(kSecond);
  phone.platform.wait(17 * kHour);  // Fri 7:04 am.
  run.app().came_visible();
  run.settle();
  CHECK_FALSE(run.shows("N1 chard, done 2:0…"));
  CHECK(run.shows("N1 chard, done Thu 2:0…"));
}

TEST_CASE("wet hands: from Today of a farm that has sprayed before to the first bed in four presses") {
  DemoFarm demo("wet-four");
  FakePlatform& platform = demo.platform;
  AppRun run(platform, small_phone());
  run.presses = 0;
  REQUIRE(run.press("Start pass…"));
  REQUIRE(run.press("Weather now: Not taken"));
  REQUIRE(run.press("Start · …"));
  CHECK(run.presses <= 4);
  CHECK(open_pass(run.book())->has_value());
}

TEST_CASE("wet hands: a pass on a farm of another zone is shown by that farm's clock") {
  FewBeds phone("wet-zones", 3);
  Id west, east;
  {
    Book book = open_book(phone.platform);
    west = farms(book)->front().id;
    FarmGiven given;
    given.name = "Creek Bend";
    given.zone_name = "America/New_York";
    given.tea_wait_days = 1;
    BlockGiven block;
    block.name = "East";
    block.beds = 2;
    block.length = amount("100 ft");
    block.width = amount("30 in");
    block.zero_end = "lane";
    given.blocks.push_back(block);
    const auto started = start_farm(book, given, {*Id::parse(phone.platform.settings["person"]), {}, false});
    REQUIRE(started);
    east = started->farm;
  }
  phone.platform.settings["farm"] = east.text();
  phone.platform.offset_minutes = -240;
  AppRun run(phone.platform, small_phone());
  REQUIRE(run.press("Spray"));
  fill_start(run);
  REQUIRE(run.press("Start · E1"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("E1 done, then E2"));
  CHECK(run.shows("E1 bare, done 5:0…"));  // 2:04 pm in Los Angeles.
  phone.platform.settings["farm"] = west.text();
  run.kill_and_open();
  CHECK(run.shows("E1 bare, done 5:0…"));
}

}  // namespace
