// Every page on a small phone, in both languages, with small and large text: can all of it be pressed and read?
#include <doctest/doctest.h>

#include "handover/file_reader.h"
#include "handover/give.h"
#include "tests/screens/demo_farm.h"
#include "tests/screens/farm_run.h"
#include "tests/screens/page_checks.h"

using namespace steep;
using namespace steep::test;

namespace {

void walk_through(DemoFarm& demo, Language language, int text, float width, float height) {
  demo.platform.settings["language"] = language_code(language);
  demo.platform.settings["text-size"] = std::to_string(text);
  Look look;
  look.width = width;
  look.height = height;
  AppRun run(demo.platform, look);
  const bool es = language == Language::Spanish;
  const std::string way = std::string(language_code(language)) + " " + std::to_string(text) + " ";
  check_page(run, way + "today");
  REQUIRE(run.press(es ? "Té" : "Brew"));
  check_page(run, way + "brew");
  REQUIRE(run.press(es ? "Té …" : "Brew …"));
  check_page(run, way + "brew-page");
  REQUIRE(run.press(es ? "Añadir lectura" : "Add reading"));
  check_page(run, way + "reading");
  for (int i = 0; i < 2; ++i) {  // The sheet, then the page.
    run.app().back();
    run.settle();
  }
  REQUIRE(run.press(es ? "Empezar un té" : "Start a brew"));
  check_page(run, way + "start-brew");
  run.app().back();
  run.settle();
  REQUIRE(run.press(es ? "Planear un té" : "Plan a brew"));
  check_page(run, way + "plan");
  run.app().back();
  run.settle();
  REQUIRE(run.press(es ? "Aplicar" : "Spray"));
  check_page(run, way + "spray");
  REQUIRE(run.press(es ? "Empezar pasada" : "Start pass"));
  check_page(run, way + "start-pass");
  REQUIRE(run.press(es ? "Tiempo ahora: No se tomó" : "Weather now: Not taken"));
  run.app().back();
  run.settle();
  REQUIRE(run.press(es ? "Libro…" : "Book…"));
  REQUIRE(run.press(es ? "Ajustes" : "Settings"));
  check_page(run, way + "settings");
  run.app().back();
  run.settle();
}

TEST_CASE("pages: targets, edges and names on small phones, in English and Spanish") {
  DemoFarm demo("pages");
  walk_through(demo, Language::English, 100, 390, 844);
  walk_through(demo, Language::Spanish, 130, 360, 740);
}

TEST_CASE("pages: a bed says its next day with the month") {
  DemoFarm demo("pages");
  AppRun run(demo.platform);
  REQUIRE(run.press("Beds"));
  REQUIRE(run.press("Bed N1, …"));
  CHECK(run.shows_part("Next due, 14 May, today"));
}

TEST_CASE("pages: lying, what the thumb needs stands at the foot of its column") {
  DemoFarm demo("pages");
  Look look;
  look.width = 844;
  look.height = 390;
  AppRun run(demo.platform, look);
  REQUIRE(run.press("Spray"));
  REQUIRE(run.press("Start pass"));
  const Item* start = run.app().items().find("Start · …");
  REQUIRE(start);
  CHECK(start->rect.bottom > 370);
  CHECK(start->rect.bottom <= 390);
}

TEST_CASE("pages: on the desktop what is looked up stands beside what is in hand") {
  DemoFarm demo("pages");
  Look look;
  look.width = 1440;
  look.height = 900;
  AppRun run(demo.platform, look);
  REQUIRE(run.press("Brew"));
  const Item *running = run.app().items().find("Brew 14 …"), *before = run.app().items().find("Brew 13 …");
  REQUIRE(running);
  REQUIRE(before);
  CHECK(before->rect.left > running->rect.right);
  CHECK(before->rect.top < running->rect.bottom);
}

TEST_CASE("pages: the first run, and a farm started on the phone") {
  FakePlatform platform;
  Look look;
  look.width = 360;
  look.height = 740;
  AppRun run(platform, look);
  check_page(run, "first run");
  REQUIRE(run.press("Start a farm here…"));
  REQUIRE(run.type("Name of the farm", "Alder Reach"));
  REQUIRE(run.type("Your name", "Ana Leland"));
  REQUIRE(run.type("A block, as you would say it", "North, 24 beds, 100 ft × 30 in"));
  REQUIRE(run.press("Add this block"));
  REQUIRE(run.press("After tea on leaves, days until picking?: 1"));
  check_page(run, "start farm");
  REQUIRE(run.press("Start the farm"));
  CHECK(run.book().is_started());
  CHECK(run.shows("Today"));
  const auto farms_now = farms(run.book());
  REQUIRE(farms_now);
  REQUIRE(farms_now->size() == 1);
  CHECK(farms_now->front().name == "Alder Reach");
  const auto places = read_places(run.book(), farms_now->front().id);
  REQUIRE(places);
  CHECK(places->beds.size() == 24);
  CHECK_FALSE(platform.settings["person"].empty());
}

TEST_CASE("pages: a first run that takes the farm from a file, long in coming, ends on Today") {
  DemoFarm office("pages-office");
  FakePlatform phone;
  {
    AppRun run(office.platform);
    const auto given = give(run.book(), {});
    REQUIRE(given);
    phone.files_to_pick.push_back(given->file);
  }
  AppRun run(phone);
  REQUIRE(run.press("Take the farm from a file…"));
  const int before = run.frames;
  REQUIRE(run.press("Take it in"));
  CHECK(run.frames > before + 2);  // In several steps, or this test shows nothing.
  REQUIRE(run.press("Done"));
  CHECK(run.shows("Today"));
  CHECK_FALSE(run.shows("No book on this device yet."));
}

TEST_CASE("pages: a first file of only some parts begins the book, and says what is missing") {
  DemoFarm office("pages-office");
  for (const Part& part : {Part{{}, 2026}, Part{farms(open_book(office.platform))->front().id, 0}}) {
    CAPTURE(part.text());
    TempBook file("some-parts");
    FakePlatform phone(file.path);
    {
      Book book = open_book(office.platform);
      GiveRequest request;
      request.parts = {part};
      const auto given = give(book, request);
      REQUIRE(given);
      phone.files_to_pick.push_back(given->file);
    }
    AppRun run(phone);
    REQUIRE(run.press("Take the farm from a file…"));
    REQUIRE(run.press("Take it in"));
    CHECK(run.shows_part("Only parts of the book of"));
    REQUIRE(run.press("Done"));
    CHECK(run.book().is_started());
    CHECK_FALSE(run.book().has_house());
    CHECK(run.shows("Today"));
    run.kill_and_open();
    CHECK(run.shows("Today"));
  }
}

TEST_CASE("pages: not saved is a band with a button, and nothing says saved") {
  Phone phone("unsaved");
  AppRun run(phone.platform);
  phone.platform.health.state = SaveState::NotSaved;
  run.app().storage_changed();
  run.settle();
  CHECK(run.shows("Not saved…"));
  CHECK_FALSE(run.shows("Saved…"));
}

TEST_CASE("pages: a book open elsewhere is said, and can be taken over") {
  FakePlatform platform;
  AppRun run(platform);
  platform.health.elsewhere = true;
  run.app().storage_changed();
  run.settle();
  REQUIRE(run.press("Use it here"));
  CHECK(platform.count("use here") == 1);
  CHECK_FALSE(run.shows("Save them as a file"));
}

TEST_CASE("pages: what a window did not save before another took the book over goes into a file that merges") {
  DemoFarm demo("pages");
  FakePlatform& platform = demo.platform;
  AppRun run(platform);
  platform.health.elsewhere = true;
  run.app().storage_changed();
  run.settle();
  CHECK_FALSE(run.shows("Save them as a file"));  // All of it is saved.
  platform.health.state = SaveState::NotSaved;
  run.app().storage_changed();
  run.settle();
  CHECK(run.shows("The last entries of this window are not saved…"));
  REQUIRE(run.press("Save them as a file"));
  run.settle();
  REQUIRE(platform.given.size() == 1);
  auto reader = FileReader::open(platform.given.front().bytes);
  REQUIRE(reader.has_value());
  const auto first = reader->next();
  REQUIRE(first.has_value());
  REQUIRE((*first)->what == FileEvent::Header);
  CHECK((*first)->header.unsaved);
  CHECK((*first)->header.changes == run.book().change_count());
  platform.fail_share = true;
  REQUIRE(run.press("Save them as a file"));
  run.settle();
  CHECK(run.shows_part(
      "storage of this device refused"));  // Why it could not be saved, where no page is drawn that could say it.
}

TEST_CASE("pages: a book that does not open can be had as a file, and a newer program be started") {
  FakePlatform platform("/nowhere/at/all/book.sqlite");
  static bool left;
  left = false;
  {
    AppRun run(platform, {}, {.get_book_out = [] { left = true; }});
    REQUIRE(run.shows("The book cannot be opened"));
    CHECK_FALSE(run.shows("Start the newer version"));
    platform.state.newer_waits = true;
    run.app().storage_changed();
    run.settle();
    REQUIRE(run.press("Start the newer version"));
    CHECK(platform.count("use newer") == 1);
    REQUIRE(run.press("Get the book out as a file"));
    CHECK(left);
  }
  AppRun where_it_is_a_file(platform);
  CHECK_FALSE(where_it_is_a_file.shows("Get the book out as a file"));
  CHECK(where_it_is_a_file.shows("Try to open it again"));
}

}  // namespace
