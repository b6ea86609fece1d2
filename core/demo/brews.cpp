#include "book/brew_commands.h"
#include "book/work.h"
#include "demo/season.h"

namespace steep {
namespace {

struct ReadingTold {
  int minutes;     // after compost met water
  int fahrenheit;  // of a brew in usual weather
  int oxygen;      // tenths of mg/L
};
constexpr ReadingTold kReadings[] = {{20, 64, 91},  {150, 65, 86}, {330, 66, 79},
                                     {780, 63, 72}, {960, 64, 70}, {1150, 67, 69}};

/// How much warmer than usual a brew stands, in °F from -3 to 3: no two in a row alike.
int warmer(std::string_view brew) {
  int number = 0;
  for (const char c : brew)
    if (c >= '0' && c <= '9') number = number * 10 + (c - '0');
  return number == 0 ? 0 : number * 5 % 7 - 3;
}

std::string temperature_text(const ReadingTold& reading, std::string_view brew) {
  return std::to_string(reading.fahrenheit + warmer(brew)) + " degF";
}
/// Warm water holds less.
std::string oxygen_text(const ReadingTold& reading, std::string_view brew) {
  const int tenths = reading.oxygen - warmer(brew);
  return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10) + " mg/L";
}

Going ana(const Story& story, std::string reason = {}) { return {story.ana, std::move(reason), false}; }

Result<void> fill(Story& story, const BrewTold& told) {
  BrewGiven given;
  given.recipe = story["leaf 3"];
  given.vessel = story["blue bucket"];
  given.water_source = story["well"];
  given.fill = written("5 gal");
  given.treatment = "none";
  given.met_water = told.met_water;
  given.air_on = told.met_water + 4 * kMinute;
  given.lines = {{story["lot worm"], written("1 lb")},
                 {story["lot leaf"], written("1/2 lb")},
                 {story["lot kelp"], written(story.chance.below(2) == 0 ? "1 fl oz" : "1 1/2 fl oz")},
                 {story["lot humic"], written("1/2 fl oz")}};
  story.wait(6 * kMinute);
  TRY_ASSIGN(story.ids[told.name], expect(start_brew(*story.book, given, ana(story))));
  return {};
}

Result<void> read(Story& story, const std::string& brew, std::string_view quantity, std::string_view value,
                  std::string reason = {}) {
  ReadingGiven given;
  given.of = story[brew];
  given.quantity = quantity;
  if (value.empty())
    given.not_taken = true;
  else if (quantity == "smell" || quantity == "foam")
    given.word = value;
  else
    given.value = written(value);
  given.instrument = quantity == "oxygen" ? "meter, checked Monday" : quantity == "temperature" ? "probe" : "";
  TRY(expect(add_reading(*story.book, given, ana(story, std::move(reason)))));
  story.wait(40 * kSecond);
  return {};
}

}  // namespace

void tell_brew(const BrewTold& told, std::vector<Deed>& deeds) {
  deeds.push_back({told.met_water, [told](Story& story) { return fill(story, told); }});
  for (const ReadingTold& reading : kReadings) {
    if (told.turns_sour && reading.minutes > 400) break;
    const bool missed = told.misses_a_reading && reading.minutes == 780;
    deeds.push_back({told.met_water + reading.minutes * kMinute, [told, reading, missed](Story& story) -> Result<void> {
                       TRY(read(story, told.name, "temperature", temperature_text(reading, told.name)));
                       return read(story, told.name, "oxygen", missed ? "" : oxygen_text(reading, told.name));
                     }});
  }
  if (told.turns_sour) {
    deeds.push_back({told.met_water + 13 * kHour, [told](Story& story) -> Result<void> {
                       TRY(expect(add_event(*story.book, story[told.name], "power-cut", *story.clock - 5 * kHour, {},
                                            "breaker, about five hours", ana(story))));
                       TRY(read(story, told.name, "oxygen", "1.9 mg/L", "power was off in the night"));
                       TRY(read(story, told.name, "smell", "sour"));
                       TRY(expect(set_verdict(*story.book, story[told.name], "do-not-use",
                                              "smells sour after the power cut", ana(story))));
                       story.wait(20 * kMinute);
                       TRY(expect(add_discard(*story.book, story[told.name], written("5 gal"), {},
                                              "on heap H9, away from the well", *story.clock, ana(story))));
                       story.wait(15 * kMinute);
                       TRY(expect(add_wash(*story.book, story["blue bucket"], "hot water, brush, sanitizer, 2 rinses",
                                           *story.clock, ana(story))));
                       return {};
                     }});
  }
  if (!told.turns_sour && !told.still_running)
    deeds.push_back(
        {told.met_water + 1190 * kMinute, [told](Story& story) { return read(story, told.name, "smell", "earthy"); }});
}

void finish_brew(const std::string& name, Moment pass_start, Moment pass_end, std::vector<Deed>& deeds) {
  // The warmer, the sooner Ana finds it ready.
  deeds.push_back({pass_start - (65 + 13 * warmer(name)) * kMinute, [name](Story& story) -> Result<void> {
                     TRY(expect(set_verdict(*story.book, story[name], "ready",
                                            "earthy smell, oxygen over the farm's floor", ana(story))));
                     return {};
                   }});
  deeds.push_back({pass_start - 12 * kMinute, [name](Story& story) -> Result<void> {
                     TRY(expect(set_air_off(*story.book, story[name], *story.clock, ana(story))));
                     return {};
                   }});
  deeds.push_back({pass_end, [name](Story& story) -> Result<void> {
                     TRY_ASSIGN(const BrewBalance& balance, read_brew_balance(*story.book, story[name]));
                     if (balance.left && balance.left->gallons() > 0.005)
                       TRY(expect(add_discard(*story.book, story[name], write_quantity(*balance.left, unit("gal"), 2),
                                              {}, "on heap H9", *story.clock, ana(story))));
                     story.wait(12 * kMinute);
                     TRY(expect(add_wash(*story.book, story["blue bucket"], "hot water, brush, 2 rinses", *story.clock,
                                         ana(story))));
                     return {};
                   }});
}

}  // namespace steep
