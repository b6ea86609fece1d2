#pragma once
/// Alder Reach on a phone of the tests: North with 24 beds, a backpack, a brew. Made by the book's commands.

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "book/farm_commands.h"
#include "book/places.h"
#include "book/work.h"
#include "tests/own_temporary.h"
#include "tests/screens/app_run.h"

namespace steep::test {

/// A file in the system's folder for such things; gone when the test is over.
struct TempBook {
  std::string path;
  explicit TempBook(const std::string& name) : path(own_temporary(name + ".sqlite").string()) { remove(); }
  ~TempBook() { remove(); }
  void remove() const {
    std::error_code ignored;
    for (const char* end : {"", "-wal", "-shm", "-journal"}) std::filesystem::remove(path + end, ignored);
  }
};

/// The book of a device on which the program does not run just now.
inline Book open_book(FakePlatform& platform) {
  auto opened = Book::open(platform.book_place(), needs_of(platform));
  REQUIRE(opened);
  return std::move(*opened);
}

inline Written amount(std::string_view text) {
  auto written = parse_written(text);
  REQUIRE(written);
  return *written;
}

inline Id add(Book& book, std::string_view kind, std::vector<FieldValue> fields, const Id& person) {
  Save save;
  save.record = book.new_record();
  save.kind = kind;
  save.fields = std::move(fields);
  const Id id = save.record;
  const auto written = book.write(save, person);
  if (!written)
    std::fprintf(stderr, "%s: %s\n", std::string(kind).c_str(), std::string(written.error().word.key).c_str());
  REQUIRE(written);
  return id;
}

/// Writes the farm before the program opens it, and names Ana as who writes on this phone.
inline void make_farm(FakePlatform& platform, int beds = 24) {
  auto opened = Book::open(platform.book_place(), needs_of(platform));
  REQUIRE(opened);
  Book book = std::move(*opened);
  FarmGiven given;
  given.name = "Alder Reach";
  given.zone_name = platform.zone;
  given.tea_wait_days = 1;
  given.person_name = "Ana Leland";
  BlockGiven north;
  north.name = "North";
  north.beds = beds;
  north.length = amount("100 ft");
  north.width = amount("30 in");
  north.zero_end = "lane";
  given.blocks.push_back(north);
  const auto started = start_farm(book, given, {});
  REQUIRE(started);
  const Id ana = started->person;
  for (const Id& bed : started->beds) {
    add(book, "planting",
        {reference_value("bed", bed), text_field_value("crop", "chard"),
         date_value("planted", *parse_date("2026-04-09"))},
        ana);
  }
  REQUIRE(set_interval(book, started->farm, started->farm, {}, false, 14, {ana, {}, false}));
  const Id rig = add(book, "rig",
                     {text_field_value("name", "Backpack 1"), quantity_value("tank.volume", "4 gal"),
                      quantity_value("tank.dead", "0.15 gal")},
                     ana);
  add(book, "calibration",
      {reference_value("rig", rig), word_value("result.method", "walk-and-catch"),
       quantity_value("result.rate", "45 gal/acre"), word_value("result.area", "bed-top"),
       quantity_value("result.speed", "2.56 ft/s")},
      ana);
  add(book, "water-source", {text_field_value("name", "Well water"), word_value("kind", "well")}, ana);
  const Stamp begun = {platform.clock - 24 * kHour, platform.offset_minutes};
  const Id brew = add(book, "brew",
                      {number_value("number", "31"), quantity_value("fill", "10 gal"),
                       instant_value("met_water", begun), instant_value("air_on", begun)},
                      ana);
  (void)brew;
  platform.settings["person"] = ana.text();
  platform.settings["farm"] = started->farm.text();
  platform.saved();
}

/// A phone with that farm in a book of its own.
struct Phone {
  TempBook file;
  FakePlatform platform;
  explicit Phone(const std::string& name) : file(name), platform(file.path) { make_farm(platform); }
};

}  // namespace steep::test
