// 'Work it out': every calculation asked on screen, ambiguous inputs asked about, results put where they belong.
#include <doctest/doctest.h>

#include "book/counts.h"
#include "book/things.h"
#include "book/work.h"
#include "tests/screens/demo_farm.h"
#include "tests/screens/farm_run.h"
#include "tests/screens/page_checks.h"
#include "trade/calculation.h"

using namespace steep;
using namespace steep::test;

namespace {

/// From anywhere to one calculation.
bool open(AppRun& run, std::string_view title) {
  return run.press("Book…") && run.press("Work it out…") && run.press(title);
}

/// The text in a field.
std::string value(AppRun& run, std::string_view field) {
  for (const Item& item : run.app().items().items())
    if (item.role == Role::Field && item.name == field) return item.value;
  return "(no field)";
}

std::string draft(AppRun& run, std::string_view form, const std::string& key) {
  run.wait(1000);
  const auto kept = run.book().draft(form);
  REQUIRE(kept);
  if (!*kept) return "(no draft)";
  const auto found = (*kept)->fields.find(key);
  return found == (*kept)->fields.end() ? "(not in it)" : found->second;
}

TEST_CASE("work: the list has every calculation under its task, and finds them by words") {
  Phone phone("work-list");
  AppRun run(phone.platform);
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("Work it out…"));
  const Words words(Language::English);
  for (const Calculation* one : all_calculations()) CHECK_MESSAGE(run.shows(words(one->title)), one->name);
  REQUIRE(run.type("Find a calculation", "oxygen water"));
  CHECK(run.shows("How much oxygen can this water hold?"));
  CHECK_FALSE(run.shows("What did it cost?"));
  REQUIRE(run.type("Find a calculation", "zebra"));
  CHECK(run.shows("No calculation has these words."));
}

TEST_CASE("work: a number without its unit takes the unit shown; each line opens formula, source, limits") {
  Phone phone("work-oxygen");
  AppRun run(phone.platform);
  REQUIRE(open(run, "How much oxygen can this water hold?"));
  CHECK(run.shows("Still needed: water temperature"));
  REQUIRE(run.type("Water temperature", "68"));
  // APHA Standard Methods 4500-O: 9.09 mg/L at 20 °C, 1 atm, fresh water.
  REQUIRE(run.shows("Saturation, 9.09 mg/L…"));
  REQUIRE(run.press("Saturation, 9.09 mg/L…"));
  CHECK(run.shows("How it was worked out"));
  CHECK(run.shows("t = 20 °C, P = 1 atm, S = 0…"));
  CHECK(run.shows("Benson & Krause…"));
  CHECK(run.shows("Water 0 to 40 °C…"));
  REQUIRE(run.press("Close"));
  // The same water in the other unit.
  REQUIRE(run.type("Water temperature", "20 C"));
  CHECK(run.shows("Saturation, 9.09 mg/L…"));
  CHECK(run.shows("20 °C (68 °F)"));
  REQUIRE(run.press("Copy as text"));
  CHECK(phone.platform.asked.back().find("Saturation: 9.09 mg/L") != std::string::npos);
}

TEST_CASE("work: a line opens its own formula, not its neighbor's") {
  Phone phone("work-own-formula");
  AppRun run(phone.platform);
  REQUIRE(open(run, "How many tankfuls, and what goes into each?"));
  REQUIRE(run.type("Tea per area", "20"));
  REQUIRE(run.type("Spray (tea and water) per area", "45"));
  REQUIRE(run.press("Load 2: tea to add, …"));
  CHECK(run.shows("to add · tea / spray"));
  CHECK_FALSE(run.shows("loads = spray / (tank − dead volume)"));
  CHECK(run.shows("arithmetic of mixing"));  // Source and limits stand under each.
  CHECK(run.shows("One rig and one strength…"));
  REQUIRE(run.press("Close"));
  REQUIRE(run.press("Loads, 2…"));
  CHECK(run.shows("loads = spray / (tank − dead volume)"));
  CHECK_FALSE(run.shows("to add · tea / spray"));
}

TEST_CASE("work: the dilution as three advisers wrote it") {
  Phone phone("work-ratio");
  AppRun run(phone.platform);
  REQUIRE(open(run, "What volumes stand behind a dilution?"));
  REQUIRE(run.type("Spray in all", "15 gal"));
  REQUIRE(run.type("Dilution as written", "1:4 tea to water"));
  CHECK(run.shows("Tea, 3 gal…"));
  CHECK(run.shows("Water, 12 gal…"));
  REQUIRE(run.type("Dilution as written", "1 in 4"));
  CHECK(run.shows("Tea, 3.75 gal…"));
  CHECK(run.shows("Water, 11.25 gal…"));
  // '4 to 1' is asked: nothing is offered for a tank before somebody has said which.
  REQUIRE(run.type("Dilution as written", "4 to 1"));
  CHECK(run.shows("Which one was meant?"));
  CHECK_FALSE(run.shows("Tea, 3 gal…"));
  CHECK_FALSE(run.shows("Start a pass with this"));
  REQUIRE(run.press("Which one was meant?: 4 tea to 1 water"));
  CHECK(run.shows("Tea, 12 gal…"));
  CHECK(run.shows("Water, 3 gal…"));
  // The two volumes go on, not the ratio.
  REQUIRE(run.press("Start a pass with this"));
  CHECK(draft(run, "start-pass", "tea") == "12 gal");
  CHECK(draft(run, "start-pass", "water") == "3 gal");
}

TEST_CASE("work: two readings are asked, absurd and unreadable ones say why") {
  Phone phone("work-odd");
  AppRun run(phone.platform);
  REQUIRE(open(run, "What volumes stand behind a dilution?"));
  REQUIRE(run.type("Dilution as written", "1 in 3"));
  REQUIRE(run.type("Spray in all", "1,5"));
  CHECK(run.shows("Tea, 0.5 gal…"));  // A third of 1.5, never of 15 or 1.
  REQUIRE(run.type("Spray in all", "1,500"));
  CHECK_FALSE(run.shows("Tea, 0…"));
  CHECK_FALSE(run.shows("Tea, 5…"));
  REQUIRE(run.press("Which one was meant?: 1.5…"));
  CHECK(run.shows("Tea, 0.5 gal…"));
  REQUIRE(run.type("Spray in all", "1/2"));
  CHECK(run.shows("Tea, 0.17 gal…"));
  REQUIRE(run.type("Spray in all", "-3"));
  CHECK(run.shows("No answer as long as…"));
  REQUIRE(run.type("Spray in all", "3 acres"));
  CHECK(run.shows("No answer as long as…"));

  REQUIRE(open(run, "How much oxygen can this water hold?"));
  REQUIRE(run.type("Water temperature", "685"));
  CHECK(run.shows("The water must be from 0 to 40 °C (32 to 104 °F)."));
  CHECK_FALSE(run.shows("Saturation, …"));
  REQUIRE(run.type("Water temperature", "68.5"));
  CHECK(run.shows("Saturation, 9.04 mg/L…"));
}

TEST_CASE("work: an hour that came twice is asked about, and one press answers") {
  Phone phone("work-twice");
  AppRun run(phone.platform);
  REQUIRE(open(run, "Tea or extract?"));
  REQUIRE(run.type("Compost met water", "2026-11-01 01:30"));
  REQUIRE(run.type("The bed's own finish", "2026-11-01 03:05"));
  CHECK(run.shows("No answer as long as…"));
  REQUIRE(run.press("Which one was meant?: 2026-11-01 01:30 -08:00"));
  CHECK(run.shows("Minutes in water, 95…"));
}

TEST_CASE("work: a person with a decimal comma types one and reads one") {
  Phone phone("work-comma");
  phone.platform.settings["language"] = "es";
  phone.platform.settings["decimal-mark"] = ",";
  phone.platform.settings["units"] = "metric";
  AppRun run(phone.platform);
  REQUIRE(run.press("Libro…"));
  REQUIRE(run.press("Calcular…"));
  REQUIRE(run.press("¿Cuánto oxígeno cabe en esta agua?"));
  REQUIRE(run.type("Temperatura del agua", "20,0"));
  CHECK(run.shows("Saturación, 9,09 mg/L…"));
}

TEST_CASE("work: the number keys fill a field with its unit") {
  Phone phone("work-pad");
  AppRun run(phone.platform);
  REQUIRE(open(run, "How much oxygen can this water hold?"));
  REQUIRE(run.press("Water temperature, number keys"));
  REQUIRE(run.key("Digit 6"));
  REQUIRE(run.key("Digit 8"));
  REQUIRE(run.press("Enter"));
  CHECK(value(run, "Water temperature") == "68 °F");
  CHECK(run.shows("Saturation, 9.09 mg/L…"));
}

TEST_CASE("work: rows are added and taken away, what the farm knows stands in them") {
  Phone phone("work-rows");
  AppRun run(phone.platform);
  REQUIRE(open(run, "How many tankfuls, and what goes into each?"));
  // 24 beds of 100 ft × 30 in, a backpack of 4 gal with 0.15 gal that can't be sprayed, 45 gal/acre.
  CHECK(value(run, "Length of the bed") == "100 ft");
  CHECK(value(run, "How many such beds") == "24");
  CHECK(value(run, "What the tank holds") == "4 gal");
  REQUIRE(run.type("Tea per area", "20"));
  REQUIRE(run.type("Spray (tea and water) per area", "45"));
  // 24 × 250 ft² = 0.13774 acre: 6.198 gal spray and 2.755 tea on the beds; two loads with the dead volume.
  CHECK(run.shows("Loads, 2…"));
  REQUIRE(run.press("One more: bed"));
  CHECK(run.shows("Take away Bed 2"));
  CHECK(run.shows("Still needed: length of the bed…") == false);  // An empty row is no row.
  REQUIRE(run.press("Take away Bed 2"));
  CHECK_FALSE(run.shows("Take away Bed 2"));
  REQUIRE(run.press("Start a pass with this"));
  CHECK(draft(run, "start-pass", "spray-rate") == "45 gal/acre");
  CHECK(draft(run, "start-pass", "tea-rate") == "20 gal/acre");
}

TEST_CASE("work: a calibration goes into the book without being typed again") {
  Phone phone("work-calibrate");
  AppRun run(phone.platform);
  REQUIRE(open(run, "What does this rig put on?"));
  REQUIRE(run.type("Caught", "41"));
  REQUIRE(run.press("One more: caught"));
  REQUIRE(run.type("Caught 2", "43"));
  REQUIRE(run.type("Length of the course", "136.125 ft"));
  REQUIRE(run.type("Width sprayed in one walk", "30"));
  REQUIRE(run.type("Width of the bed top", "30"));
  REQUIRE(run.press("Calibration of Backpack 1"));
  const auto all = rigs(run.book());
  REQUIRE(all);
  const auto now = calibration_in_force(run.book(), all->front().id);
  REQUIRE(now);
  REQUIRE(*now);
  // The mean of 41 and 43 fl oz on 1/128 acre.
  CHECK((*now)->rate->gallons_per_acre() == doctest::Approx(42).epsilon(1e-4));
  CHECK((*now)->area == RateArea::BedTop);
  CHECK((*now)->method == "walk-and-catch");
}

TEST_CASE("work: walk and catch, by the watch, kept through a kill, used as the rig's calibration") {
  Phone phone("walk-and-catch");
  AppRun run(phone.platform);
  REQUIRE(run.press("Spray"));
  REQUIRE(run.press("Backpack 1, 45 gal/acre of bed top…"));
  CHECK(run.shows("136.1 ft of 30 in bed"));
  CHECK(run.shows("Missing: what was caught"));
  for (int i = 1; i <= 3; ++i) {
    REQUIRE(run.press("Time walk " + std::to_string(i)));
    const std::int64_t begun = phone.platform.clock.ms;
    while (phone.platform.clock.ms - begun < 51400) run.wait(500);
    REQUIRE(run.press("At the end stake: …"));
  }
  CHECK(run.shows("Pace, 52 seconds"));
  CHECK(run.shows("done"));
  REQUIRE(run.press("Catch 1, not answered"));
  for (const char* digit : {"Digit 4", "Digit 6"}) REQUIRE(run.key(digit));
  REQUIRE(run.press("Enter"));
  run.wait(1000);
  run.kill_and_open();
  REQUIRE(run.press("Spray"));
  REQUIRE(run.press("Backpack 1, …"));
  CHECK(run.shows("Catch 1, 46 fluid ounces"));
  REQUIRE(run.press("Catch 2, not answered"));
  for (const char* digit : {"Digit 4", "Digit 7"}) REQUIRE(run.key(digit));
  REQUIRE(run.press("Enter"));
  REQUIRE(run.press("Catch 2, less"));
  CHECK(run.shows("Catch 2, 46.9 fluid ounces"));
  // 46.45 fl oz over 136.1 ft × 30 in: 46.46 gal/acre; 3 % more than the 45 before.
  CHECK(run.shows("Since …"));
  REQUIRE(run.press("How it was worked out"));
  CHECK(run.shows("rate = catch / (course · swath)"));
  REQUIRE(run.press("Close"));
  REQUIRE(run.press("Use 46.5 gal per acre of bed top"));
  const auto all = rigs(run.book());
  REQUIRE(all);
  const auto now = calibration_in_force(run.book(), all->front().id);
  REQUIRE(now);
  REQUIRE(*now);
  CHECK((*now)->rate->gallons_per_acre() == doctest::Approx(46.46).epsilon(1e-3));
  CHECK((*now)->course->feet() == doctest::Approx(136.1));
  CHECK((*now)->speed->miles_per_hour() == doctest::Approx(136.1 / 52 * 3600 / 5280).epsilon(0.01));
  const auto kept = run.book().draft("calibration:" + all->front().id.text());
  REQUIRE(kept);
  CHECK(!*kept);
}

TEST_CASE("work: beside a brew's numbers, with what the brew knows; the reading is written") {
  Phone phone("work-brew");
  AppRun run(phone.platform);
  REQUIRE(run.press("Brew"));
  REQUIRE(run.press("Brew …"));
  REQUIRE(run.press("How much oxygen can this water hold?"));
  REQUIRE(run.type("Water temperature", "68 F"));
  REQUIRE(run.type("Oxygen measured", "7.1"));
  REQUIRE(run.press("Write 7.1 mg/L as a reading of Brew 31"));
  const auto all = brews(run.book());
  REQUIRE(all);
  const auto sheet = read_brew_sheet(run.book(), all->front().id);
  REQUIRE(sheet);
  REQUIRE(sheet->readings.size() == 1);
  CHECK(sheet->readings.front().quantity == "oxygen");
  CHECK(sheet->readings.front().value->text == "7.1 mg/L");
  // And as a note: the whole answer in words.
  REQUIRE(run.press("Tea or extract?"));
  REQUIRE(run.press("Keep as a note: …"));
  CHECK(run.shows("Brew 31…"));
}

TEST_CASE("work: counts go into records of the brew, shown on its page, without being typed again") {
  Phone phone("work-count");
  AppRun run(phone.platform);
  REQUIRE(run.press("Brew"));
  REQUIRE(run.press("Brew …"));
  REQUIRE(run.press("How many in a milliliter, by the microscope?"));
  REQUIRE(run.press("Show an example"));
  REQUIRE(run.press("Keep as a count of Brew 31"));
  // Back on the brew's page, with interval and method.
  CHECK_MESSAGE(run.shows("3,400,000 per mL (3,080,000 to 3,740,000, 95%), Microscope…"), run.screen());
  const auto all = brews(run.book());
  REQUIRE(all);
  const auto kept = counts(run.book(), all->front().id);
  REQUIRE(kept);
  REQUIRE(kept->size() == 1);
  CHECK(kept->front().result.value == "3400000");
  CHECK(kept->front().behind.method == "microscope");
  CHECK(*kept->front().behind.counted == 412);
  // With the inputs kept anybody gets the same number again.
  const std::string line = kept->front().behind.inputs;
  CHECK(line.starts_with("fields --count 412 --fields 20"));
  const Calculation& fields = *find_calculation("fields");
  const auto inputs = read_inputs(fields, read_command_line(line.substr(line.find(' '))), Habits{});
  REQUIRE(inputs);
  const auto again = fields.run(*inputs);
  REQUIRE(again);
  for (const ResultValue& result : again->results)
    if (result.name == "per-ml") CHECK(result.number == doctest::Approx(3399244).epsilon(1e-6));
  // Its record says what stands behind it, and of what it is.
  REQUIRE(run.press("3,400,000 per mL…"));
  CHECK_MESSAGE(run.shows("Of what, Brew 31"), run.screen());
}

TEST_CASE("work: a count from anywhere asks of what it is; tubes and plates too") {
  Phone phone("work-count-which");
  {
    auto opened = Book::open(phone.platform.book_place(), needs_of(phone.platform));
    REQUIRE(opened);
    add(*opened, "water-source", {text_field_value("name", "Pond"), word_value("kind", "surface")}, {});
  }
  AppRun run(phone.platform);
  REQUIRE(open(run, "How many, by the tubes that grew?"));
  REQUIRE(run.press("Show an example"));
  REQUIRE(run.press("Keep as a count"));
  REQUIRE(run.press("What was counted?: Pond…"));
  CHECK(run.shows("Tubes (most probable number), 2:02 pm, 43 per g (9.82 to 165, 95%)"));
  REQUIRE(run.press("Back"));
  REQUIRE(open(run, "How many colony-forming units, by the plates?"));
  REQUIRE(run.type("Colonies", "3"));
  CHECK_FALSE(run.shows("Keep as a count"));  // No answer yet: the dilution is missing.
}

TEST_CASE("work: an idle calculation draws no frame") {
  Phone phone("work-idle");
  AppRun run(phone.platform);
  REQUIRE(open(run, "How much oxygen can this water hold?"));
  REQUIRE(run.type("Water temperature", "68"));
  run.wait(1500);  // The draft is kept.
  CHECK(run.wait(10000) == 0);
}

/// Every calculation with its own example: an answer, no sentence in beet, all of it in reach.
void walk_all(Language language, int text, float width, float height) {
  DemoFarm demo("work-all");
  FakePlatform& platform = demo.platform;
  platform.settings["language"] = language_code(language);
  platform.settings["text-size"] = std::to_string(text);
  if (language == Language::Spanish) platform.settings["decimal-mark"] = ",";
  Look look;
  look.width = width;
  look.height = height;
  AppRun run(platform, look);
  const bool es = language == Language::Spanish;
  const Words words(language);
  for (const Calculation* one : all_calculations()) {
    CAPTURE(one->name);
    if (look.wide_rail())
      REQUIRE(run.press(es ? "Cálculos" : "Work out"));
    else
      REQUIRE((run.press(es ? "Libro…" : "Book…") && run.press(es ? "Calcular…" : "Work it out…")));
    check_page(run, "work");
    REQUIRE(run.press(words(one->title)));
    check_page(run, std::string(one->name) + " empty");
    REQUIRE(run.press(es ? "Ver un ejemplo" : "Show an example"));
    check_page(run, std::string(one->name));
    CHECK_MESSAGE(run.shows(es ? "Copiar como texto" : "Copy as text"), run.screen());
  }
}

TEST_CASE("work: every calculation answers its example on a small phone in Spanish with large text") {
  walk_all(Language::Spanish, 130, 360, 740);
}
TEST_CASE("work: every calculation answers its example on a phone") { walk_all(Language::English, 100, 390, 844); }
TEST_CASE("work: every calculation answers its example on the desktop") { walk_all(Language::English, 100, 1440, 900); }

}  // namespace
