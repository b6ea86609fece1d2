// Times of the desktop core with a book of one season and of ten.   steepbook_bench [FOLDER]
//
// Each book is measured by a process of its own (`steepbook_bench --measure BOOK`), so that its memory is
// that book's alone. Prints one JSON object a line; tests/bench/run makes the table.
#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include <fcntl.h>
#include <unistd.h>

#include "bench/large_book.h"
#include "book/pass_commands.h"
#include "book/places.h"
#include "screens/bed_page.h"
#include "screens/beds.h"
#include "screens/page.h"
#include "screens/settings.h"
#include "screens/today.h"
#include "trade/season_plan.h"

namespace {

using namespace steep;
using Figures = std::map<std::string, double>;
constexpr int kPresses = 60;

/// Median of five, in milliseconds.
double median_ms(const std::function<bool()>& work) {
  std::array<double, 5> all{};
  for (double& ms : all) {
    const auto begun = std::chrono::steady_clock::now();
    if (!work()) return -1;
    ms = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begun).count();
  }
  std::sort(all.begin(), all.end());
  return all[2];
}

/// Resident memory of this process, MB; 0 where the system doesn't say it this way.
double resident_mb() {
  std::ifstream file("/proc/self/status");
  for (std::string word; file >> word;) {
    if (word == "VmRSS:") {
      double kib = 0;
      file >> kib;
      return kib * 1024 / 1e6;
    }
  }
  return 0;
}

int measure(const char* path) {
  test::FakePlatform platform(path);
  std::printf("open %.2f\n",
              median_ms([&] { return Book::open(platform.book_place(), needs_of(platform)).has_value(); }));
  auto opened = Book::open(platform.book_place(), needs_of(platform));
  if (!opened) return 1;
  const Book& book = *opened;
  const auto known = farms(book);
  if (!known || known->empty()) return 1;
  const auto places = read_places(book, known->front().id);
  const auto zone = Zone::from_name(platform.zone);
  if (!places || places->beds.empty() || !zone) return 1;
  const Settings settings = read_settings(platform);
  const auto with = [&](const std::function<bool(const Surroundings&)>& view) {
    return median_ms([&] {
      BedStatesCache beds;  // Empty each time: what a change costs, not what a second look does.
      const Surroundings around{book,
                                beds,
                                platform,
                                settings,
                                Words(Language::English),
                                {},
                                platform.clock,
                                known->front().id,
                                *zone,
                                zone->local(platform.clock).date,
                                {},
                                places->beds.front().id,
                                {},
                                {}};
      const Snapshot snapshot = book.snapshot();  // As the program does.
      return view(around);
    });
  };
  std::printf("today %.2f\n", with([](const Surroundings& around) { return today_view(around, {}).has_value(); }));
  std::printf("beds %.2f\n", with([](const Surroundings& around) { return beds_view(around, {}).has_value(); }));
  std::printf("bed-page %.2f\n",
              with([](const Surroundings& around) { return bed_page_view(around, {}).has_value(); }));
  std::printf("memory %.1f\n", resident_mb());
  return 0;
}

double median(std::vector<double> all) {
  std::sort(all.begin(), all.end());
  return all[all.size() / 2];
}

/// Median of writing 4 KB at the end of a file and waiting until the disk has them, in ms: no save can be faster.
double plain_write_ms(const std::string& path) {
  const int file = ::open(path.c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
  if (file < 0) return -1;
  const std::array<char, 4096> bytes{};
  std::vector<double> all;
  for (int i = 0; i < kPresses; ++i) {
    const auto begun = std::chrono::steady_clock::now();
    if (::write(file, bytes.data(), bytes.size()) != static_cast<ssize_t>(bytes.size()) || ::fsync(file) != 0) break;
    all.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begun).count());
  }
  ::close(file);
  std::filesystem::remove(path);
  return all.empty() ? -1 : median(std::move(all));
}

/// Why nothing could be measured.
int said(const Problem& problem) {
  std::fprintf(stderr, "bench: %s at %s\n", std::string(problem.word.key).c_str(), problem.place.c_str());
  return 1;
}

/// 'done' on one bed after the other, on a disk with full sync: from the press until it is saved.
int save(const char* path) {
  test::FakePlatform platform(path);
  std::array<std::uint8_t, 3> used{};
  platform.random(used);  // Its ids are not those of the book's maker.
  auto opened = Book::open({path, "", true}, needs_of(platform));
  if (!opened) return 1;
  Book& book = *opened;
  const auto known = farms(book);
  if (!known || known->empty()) return 1;
  const auto places = read_places(book, known->front().id);
  const auto everybody = people(book);
  if (!places || places->beds.size() < std::size_t{kPresses} || !everybody || everybody->empty()) return 1;
  Save pass, load;
  pass.record = book.new_record();
  pass.kind = "pass";
  std::vector<std::string> beds;
  for (std::size_t i = 0; i < std::size_t{kPresses}; ++i) beds.push_back(places->beds[i].id.text());
  pass.fields = {reference_value("farm", known->front().id), word_value("aim", "leaf"),
                 instant_value("start", book.now()), list_value("beds", std::move(beds))};
  load.record = book.new_record();
  load.kind = "load";
  load.fields = {reference_value("pass", pass.record), number_value("number", "1"),
                 quantity_value("mix.water", "4 gal")};
  const std::array saves{pass, load};
  if (const auto written = book.write(saves, everybody->front().id); !written) return said(written.error());
  std::vector<double> all;
  for (std::size_t i = 0; i < std::size_t{kPresses}; ++i) {
    platform.clock = platform.clock + 60'000;
    const auto begun = std::chrono::steady_clock::now();
    const auto done =
        bed_done(book, {pass.record, places->beds[i].id, {}, {}, {}, {}}, {everybody->front().id, "measured", false});
    if (!done) return said(done.error());
    if (!done->written) return said({Trouble::BadInput, done->cautions.front().word, {}, {}});
    all.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begun).count());
  }
  std::printf("save %.3f\n", median(all));
  std::printf("plain-write %.3f\n", plain_write_ms(std::string(path) + ".written"));
  return 0;
}

Figures measured(const std::string& program, const std::string& what, const std::string& path) {
  Figures figures;
  std::FILE* out = popen(("'" + program + "' --" + what + " '" + path + "'").c_str(), "r");
  if (!out) return figures;
  char name[32];
  double value = 0;
  while (std::fscanf(out, "%31s %lf", name, &value) == 2) figures[name] = value;
  pclose(out);
  return figures;
}

/// A season for 200 beds: 26 weekly rounds, each from the beds back to the water, two vessels, four things in stock.
double season_plan_ms() {
  PlanInput input;
  for (int bed = 0; bed < 200; ++bed) {
    const Length length = Length::from_feet(bed % 5 == 0 ? 70 : 100);
    input.spray.beds.push_back({{Length{}, length}, length * Length::from_inches(30)});
  }
  input.spray.tea_rate = VolumePerArea::from_gallons_per_acre(20);
  input.spray.spray_rate = VolumePerArea::from_gallons_per_acre(45);
  input.spray.tank = Volume::from_gallons(4);
  input.spray.dead = Volume::from_gallons(0.15);
  input.vessels = {{"a", Volume::from_gallons(15), Volume::from_gallons(2), Flow::from_liters_per_minute(20)},
                   {"b", Volume::from_gallons(30), Volume::from_gallons(4), Flow::from_liters_per_minute(60)}};
  for (const char* key : {"compost", "kelp", "humic", "fish"})
    input.recipe.push_back({key, Volume::from_gallons(5), {1, 2}, {}, 500.0});
  input.spraying_from = Moment{1'780'000'000'000};
  for (int day = 0; day < 14; ++day)
    input.temperatures.push_back({input.spraying_from + (day - 7) * kDay, Temperature::from_celsius(18 + day % 3)});
  for (int brew = 0; brew < 40; ++brew)
    input.past.push_back(
        {Temperature::from_celsius(14 + brew % 10), Duration::from_hours(40 - brew % 10 * 2 + brew % 3)});
  const auto zone = Zone::from_name("America/New_York");
  if (!zone) return -1;
  return median_ms([&] {
    const auto season = make_season_plan(input, 7, zone->local(input.spraying_from).date + 25 * 7, *zone);
    return season && season->rounds.size() == 26;
  });
}

void print(const std::string& name, double value, const char* unit, const std::string& against, double ratio) {
  std::printf("{\"name\": \"%s\", \"value\": %.4g, \"unit\": \"%s\", \"against\": \"%s\", \"ratio\": %.4g}\n",
              name.c_str(), value, unit, against.c_str(), ratio);
}

/// A book of so many seasons, for the measuring of others.
int make(const char* path, const char* seasons) {
  test::FakePlatform platform(path);
  const auto made = bench::make_large_book(platform, std::atoi(seasons));
  if (!made)
    std::fprintf(stderr, "bench: %s at %s\n", std::string(made.error().word.key).c_str(), made.error().place.c_str());
  return made ? 0 : 1;
}

}  // namespace

int main(int count, char** arguments) {
  if (count == 4 && std::strcmp(arguments[1], "--make") == 0) return make(arguments[2], arguments[3]);
  if (count == 3 && std::strcmp(arguments[1], "--measure") == 0) return measure(arguments[2]);
  if (count == 3 && std::strcmp(arguments[1], "--save") == 0) return save(arguments[2]);
  const std::filesystem::path folder = count > 1 ? arguments[1] : "build/bench";
  std::filesystem::create_directories(folder);
  std::map<int, Figures> all;
  for (const int seasons : {1, 10}) {
    const std::string path = (folder / (std::to_string(seasons) + "-seasons.sqlite")).string();
    for (const char* end : {"", "-wal", "-shm", "-journal"}) std::filesystem::remove(path + end);
    test::FakePlatform platform(path);
    if (const auto made = bench::make_large_book(platform, seasons); !made) {
      std::fprintf(stderr, "bench: %s at %s\n", std::string(made.error().word.key).c_str(), made.error().place.c_str());
      return 1;
    }
    all[seasons] = measured(arguments[0], "measure", path);
    all[seasons]["size"] = static_cast<double>(std::filesystem::file_size(path)) / 1e6;
    const Figures saved = measured(arguments[0], "save", path);
    all[seasons].insert(saved.begin(), saved.end());
  }
  const auto against_one = [&](const char* what) { return all[10][what] / all[1][what]; };
  const double season = season_plan_ms();
  print("a season's plan for 200 beds, 26 rounds", season, "ms", "10 ms", season / 10);
  print("book of 10 seasons, size", all[10]["size"], "MB", "1 season", against_one("size"));
  for (const auto& [what, name] : std::map<std::string, std::string>{
           {"open", "opens"}, {"today", "Today"}, {"beds", "Beds"}, {"bed-page", "a bed page"}}) {
    print("10 seasons natively: " + name, all[10][what], "ms", "1 season", against_one(what.c_str()));
    print("10 seasons natively: " + name + ", of its limit", all[10][what], "ms", "50 ms", all[10][what] / 50);
  }
  for (const int seasons : {1, 10}) {
    char name[80];
    std::snprintf(name, sizeof name, "'done' to Saved, book of %.0f MB", all[seasons]["size"]);
    print(name, all[seasons]["save"], "ms", "writing 4 KB with fsync",
          all[seasons]["save"] / all[seasons]["plain-write"]);
  }
  print("10 seasons natively: resident memory", all[10]["memory"], "MB", "200 MB", all[10]["memory"] / 200);
  return 0;
}
