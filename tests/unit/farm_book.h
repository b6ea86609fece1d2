#pragma once
/// A farm in a book in memory, made by the commands that people use: Alder Reach as far as a test needs it.

#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

#include "book/brew_commands.h"
#include "book/farm_commands.h"
#include "book/pass_commands.h"
#include "book/pass_end.h"
#include "book/pass_start.h"
#include "book/record_commands.h"
#include "book/take_checks.h"
#include "tests/unit/book_copies.h"

namespace steep::test {

inline Written q(std::string_view text) {
  auto written = parse_written(text);
  if (!written) MESSAGE("not a quantity: ", std::string(text));
  REQUIRE(written);
  return *written;
}

/// A result that must be there; says which sentence came instead.
template <class T>
T got(Result<T> result) {
  if (!result) MESSAGE("refused: ", std::string(result.error().word.key), " at ", result.error().place);
  REQUIRE(result);
  return std::move(*result);
}
inline Outcome done(Result<Outcome> result) {
  Outcome outcome = got(std::move(result));
  for (const Caution& caution : outcome.written ? std::vector<Caution>{} : outcome.cautions)
    MESSAGE("caution: ", std::string(caution.word.key));
  REQUIRE(outcome.written);
  return outcome;
}
template <class T>
std::string refusal(const Result<T>& result) {
  return result ? std::string("(not refused)") : std::string(result.error().word.key);
}
inline bool has_caution(const std::vector<Caution>& cautions, std::string_view word) {
  for (const Caution& caution : cautions)
    if (caution.word.key == word) return true;
  return false;
}

/// Alder Reach: North with 24 beds of 100 ft × 30 in (N9, N10, N17, N18 of 70 ft), a backpack of 4 gal, a brew.
struct FarmBook {
  explicit FarmBook(std::optional<int> wait_days = 1, int bed_count = 24, std::string label = "Ana's phone",
                    std::uint64_t seed = 1)
      : copy(std::move(label), seed) {
    copy.checks = begin_checks;
    copy.open();
    FarmGiven given;
    given.name = "Alder Reach";
    given.zone_name = "America/New_York";
    given.tea_wait_days = wait_days;
    given.person_name = "Ana Leland";
    BlockGiven north;
    north.name = "North";
    north.beds = bed_count;
    north.length = q("100 ft");
    north.width = q("30 in");
    north.zero_end = "lane";
    given.blocks.push_back(north);
    const StartedFarm started = got(start_farm(book(), given, {}));
    farm = started.farm;
    ana = started.person;
    beds = started.beds;
    rig = add(book(), "rig",
              {text_field_value("name", "Backpack 1"), quantity_value("tank.volume", "4 gal"),
               quantity_value("tank.dead", "0.15 gal")});
    add(book(), "calibration",
        {reference_value("rig", rig), quantity_value("result.rate", "45 gal/acre"),
         word_value("result.area", "bed-top"), quantity_value("result.speed", "2.56 ft/s")});
    well = add(book(), "water-source", {text_field_value("name", "Well"), word_value("kind", "well")});
  }

  Book& book() { return *copy.book; }
  const Book& book() const { return *copy.book; }
  Moment now() const { return Moment{copy.clock}; }
  void pass_time(std::int64_t ms) { copy.clock += ms; }
  Going by_ana(std::string reason = {}) const { return {ana, std::move(reason), false}; }

  /// A brew of 5 gal that met water `hours` ago.
  Id brew(double hours = 24, std::string_view fill = "5 gal") {
    const Stamp begun = {{copy.clock - static_cast<std::int64_t>(hours * static_cast<double>(kHour))}, -240};
    return add(book(), "brew",
               {number_value("number", "31"), quantity_value("fill", std::string(fill)),
                instant_value("met_water", begun), instant_value("air_on", begun)});
  }
  Id material(std::string name, std::string kind, bool labelled) {
    return add(book(), "material",
               {text_field_value("name", name), word_value("kind", kind), yes_no_value("labelled", labelled)});
  }
  Id lot(const Id& material, std::string code, std::string amount) {
    return add(
        book(), "lot",
        {reference_value("material", material), text_field_value("code", code), quantity_value("quantity", amount)});
  }
  Id label(const Id& material, std::string crop, std::string harvest, std::string entry = "0 h") {
    return add(book(), "label-line",
               {reference_value("material", material), text_field_value("crop", crop),
                quantity_value("wait.harvest", harvest), quantity_value("wait.entry", entry)});
  }
  Id plant(const Id& bed, std::string crop, std::string planted = "2026-04-09") {
    return add(
        book(), "planting",
        {reference_value("bed", bed), text_field_value("crop", crop), date_value("planted", *parse_date(planted))});
  }

  /// What Ana chooses for a pass over these beds.
  StartChoices choices(const Id& of_brew, std::vector<Id> over) const {
    StartChoices chosen;
    chosen.farm = farm;
    chosen.person = ana;
    chosen.beds = std::move(over);
    chosen.rig = rig;
    chosen.aim = Aim::Leaf;
    chosen.brew = of_brew;
    chosen.tea_rate = q("20 gal/acre");
    chosen.spray_rate = q("45 gal/acre");
    chosen.rate_area = RateArea::BedTop;
    chosen.water_source = well;
    chosen.walk = Walk::SameEnd;
    chosen.from_far_end = false;
    chosen.weather.not_taken = true;
    return chosen;
  }
  Id start(const StartChoices& chosen, std::string reason = {}) {
    return done(start_pass(book(), chosen, by_ana(std::move(reason)))).record;
  }
  PassState state(const Id& pass, const Id& chosen = {}) { return got(pass_state(book(), pass, chosen, now())); }
  void spray(const Id& pass, const Id& bed) {
    pass_time(kMinute);
    done(bed_done(book(), {pass, bed, {}, {}, {}, {}}, by_ana()));
  }

  Copy copy;
  Id farm, ana, rig, well;
  std::vector<Id> beds;
};

}  // namespace steep::test
