/// The ten weeks: which brew went where, what was picked, what went wrong.

#include "demo/season.h"

#include "base/sorting.h"
#include "book/brew_commands.h"

namespace steep {
namespace {

std::vector<std::string> beds(std::string_view prefix, std::initializer_list<int> numbers) {
  std::vector<std::string> names;
  for (const int number : numbers) names.push_back(std::string(prefix) + std::to_string(number));
  return names;
}
std::vector<std::string> beds(std::string_view prefix, int from, int to) {
  std::vector<std::string> names;
  for (int i = from; i <= to; ++i) names.push_back(std::string(prefix) + std::to_string(i));
  return names;
}

/// A pass with the brew made for it: compost met water 24 hours and 20 minutes before.
void brew_and_pass(PassTold told, int number, std::vector<Deed>& deeds, bool misses_a_reading = false) {
  told.brew = "brew " + std::to_string(number);
  tell_brew({told.brew, told.start - (24 * 60 + 20) * kMinute, false, false, misses_a_reading}, deeds);
  finish_brew(told.brew, told.start, told.start + 130 * kMinute, deeds);
  deeds.push_back({told.start, [told](Story& story) { return play_pass(story, told); }});
}

PassTold pass(Moment start, std::string_view who, std::vector<std::string> on,
              std::vector<std::pair<std::string, OnBed>> special = {}) {
  PassTold told;
  told.start = start;
  told.who = who;
  told.rig = who == "ana" ? "backpack 1" : "backpack 2";
  told.beds = std::move(on);
  told.special = std::move(special);
  told.inside = told.beds.front().starts_with('T');
  return told;
}

struct PickTold {
  int days_ago, hour, minute;
  std::string_view bed, amount, sold_to;
};
constexpr PickTold kPicks[] = {
    {20, 7, 20, "N7", "18 lb", "Saturday market"},
    {12, 7, 10, "N8", "21 lb", "Saturday market"},
    {9, 7, 25, "N11", "26 lb", ""},
    {8, 7, 20, "N5", "42 lb", "Saturday market"},
    {6, 6, 50, "C2", "24 lb", "Mill Lane kitchen"},
    {5, 7, 5, "C4", "31 lb", "Saturday market"},
    {5, 7, 40, "N1", "38 lb", "Saturday market"},
    {3, 7, 15, "N13", "16 lb", ""},
};

/// Picked, and sold on the next day: what else happened in between has its own time.
void pick(const Story& story, const PickTold& told, std::vector<Deed>& deeds) {
  const Moment picked = story.at(told.days_ago, told.hour, told.minute);
  const std::string name = "picked " + std::string(told.bed);
  deeds.push_back({picked, [told, name](Story& s) -> Result<void> {
                     HarvestGiven given;
                     given.bed = s[told.bed];
                     given.amount = written(told.amount);
                     TRY_ASSIGN(s.ids[name], expect(add_harvest(*s.book, given, {s.marek, {}, false})));
                     return {};
                   }});
  if (told.sold_to.empty()) return;
  deeds.push_back(
      {picked + 28 * kHour, [told, name](Story& s) -> Result<void> {
         TRY(s.add("sale", "",
                   {reference_value("harvest", s[name]), quantity_value("amount", std::string(told.amount)),
                    text_field_value("to", std::string(told.sold_to)), instant_value("at", s.stamp(*s.clock))}));
         return {};
       }});
}

/// The North pass that did not happen: its brew turned sour in a power cut.
void sour_brew(const Story& story, std::vector<Deed>& deeds) {
  BrewTold told;
  told.name = "sour brew";
  told.met_water = story.at(22, 18, 10);
  told.turns_sour = true;
  tell_brew(told, deeds);
  deeds.push_back({story.at(21, 18, 0), [](Story& s) -> Result<void> {
                     std::vector<std::string> ids;
                     for (const Id& bed : s.beds("C", 7, 12)) ids.push_back(bed.text());
                     TRY(s.add("plan", "",
                               {word_value("what", "pass"), reference_value("farm", s.farm),
                                instant_value("at", s.stamp(s.at(21, 18, 40))), list_value("beds", std::move(ids)),
                                text_field_value("not_done", "brew turned sour after a power cut")}));
                     return {};
                   }});
}

void plans(const Story& story, std::vector<Deed>& deeds) {
  deeds.push_back({story.at(1, 12, 0), [](Story& s) -> Result<void> {
                     TRY(s.add("plan", "",
                               {word_value("what", "pick"), reference_value("farm", s.farm),
                                instant_value("at", s.stamp(s.at(-1, 7))), list_value("beds", {s["N13"].text()})}));
                     return {};
                   }});
}

}  // namespace

std::vector<Deed> season(const Story& story) {
  std::vector<Deed> deeds;
  int brew = 0;
  const auto evening = [&](int days_ago) { return story.at(days_ago, 18, 40); };
  brew_and_pass(pass(evening(58), "ana", beds("N", {19, 20, 21, 24})), ++brew, deeds);
  brew_and_pass(pass(evening(44), "ana", beds("C", 1, 12)), ++brew, deeds);
  brew_and_pass(pass(evening(42), "ana", beds("N", 7, 24), {{"N13", OnBed::SkippedWet}}), ++brew, deeds);
  brew_and_pass(pass(evening(38), "marek", beds("T", 1, 7)), ++brew, deeds);
  brew_and_pass(pass(evening(30), "marek", beds("C", 1, 12), {{"C9", OnBed::UndoneOnce}}), ++brew, deeds, true);
  brew_and_pass(pass(evening(28), "ana", beds("N", 1, 24), {{"N5", OnBed::WrittenTwice}, {"N6", OnBed::NearHalf}}),
                ++brew, deeds);
  brew_and_pass(pass(evening(24), "marek", beds("T", 1, 8)), ++brew, deeds);
  sour_brew(story, deeds);
  brew_and_pass(pass(evening(16), "marek", beds("C", 1, 6)), ++brew, deeds);
  brew_and_pass(pass(evening(14), "ana", beds("N", 1, 24), {{"N10", OnBed::UndoneOnce}}), ++brew, deeds, true);
  auto tunnel = pass(story.at(14, 19, 50), "ana", beds("T", {6, 7}));
  tunnel.brew = "brew " + std::to_string(brew);
  deeds.push_back({tunnel.start, [tunnel](Story& s) { return play_pass(s, tunnel); }});
  brew_and_pass(pass(evening(9), "marek", beds("C", 7, 12)), ++brew, deeds);
  brew_and_pass(pass(evening(7), "marek", beds("C", {1, 3, 4, 5, 6})), ++brew, deeds);
  brew_and_pass(pass(evening(3), "ana", beds("T", {1, 2, 3, 4, 5, 7, 8}), {{"T7", OnBed::NearHalf}}), ++brew, deeds);

  PassTold sulfur = pass(story.now - 22 * kHour, "ana", beds("T", {3, 4}));
  sulfur.lot = "lot sulfur";
  sulfur.amount = "1 oz";
  deeds.push_back({sulfur.start, [sulfur](Story& s) { return play_pass(s, sulfur); }});

  BrewTold running;
  running.name = "running brew";
  running.met_water = story.now - (24 * 60 + 20) * kMinute;
  running.still_running = true;
  tell_brew(running, deeds);
  for (const PickTold& told : kPicks) pick(story, told, deeds);
  plans(story, deeds);

  sort_list(deeds, [](const Deed& a, const Deed& b) { return a.at < b.at; });
  while (!deeds.empty() && deeds.back().at > story.now) deeds.pop_back();
  return deeds;
}

}  // namespace steep
