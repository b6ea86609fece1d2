// Counts as records: of brew, lot or water, with interval and what stands behind the number.
#include <doctest/doctest.h>

#include <cmath>

#include "book/counts.h"
#include "book/enter.h"
#include "book/tables.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

/// 412 in 20 fields: the worked example of the calculation 'fields'.
CountGiven fields_of(const Id& of) {
  CountGiven given;
  given.of = of;
  given.what = "bacteria";
  given.result = {"3400000", "ml", 3078894.0, 3743869.0, 95.0, false};
  given.behind.method = "microscope";
  given.behind.counted = 412;
  given.behind.looked_at = 20;
  given.behind.objective = 40;
  given.behind.dilution = 5;
  given.behind.drop = q("0.05 mL");
  given.behind.inputs = "fields --count 412 --fields 20";
  return given;
}

TEST_CASE("count record: written, read back whole, by time; a struck one is gone") {
  FarmBook farm;
  const Id brew = farm.brew();
  CHECK(got(counts(farm.book(), brew)).empty());
  const Outcome first = done(add_count(farm.book(), fields_of(brew), farm.by_ana()));
  farm.pass_time(kHour);
  CountGiven plates = fields_of(brew);
  plates.what.clear();
  plates.result = {"<25", "ml", std::nullopt, std::nullopt, std::nullopt, true};
  plates.behind = {"plates", 3.0, 2.0, {}, {}, {}, {}};
  done(add_count(farm.book(), plates, farm.by_ana()));

  auto all = got(counts(farm.book(), brew));
  REQUIRE(all.size() == 2);
  const Count& count = all[0];
  CHECK(count.of == brew);
  CHECK(count.what == "bacteria");
  CHECK(count.result.value == "3400000");
  CHECK(count.result.per == "ml");
  CHECK(*count.result.low == 3080000);  // Three digits are kept.
  CHECK(*count.result.high == 3740000);
  CHECK(*count.result.confidence == 95);
  CHECK(!count.result.estimated);
  CHECK(count.behind.method == "microscope");
  CHECK(*count.behind.counted == 412);
  CHECK(*count.behind.looked_at == 20);
  CHECK(*count.behind.objective == 40);
  CHECK(*count.behind.dilution == 5);
  CHECK(count.behind.drop->text == "0.05 mL");
  CHECK(count.behind.inputs == "fields --count 412 --fields 20");
  CHECK(all[1].result.value == "<25");
  CHECK(all[1].result.estimated);
  CHECK(!all[1].result.low);
  CHECK(all[1].when() - all[0].when() == kHour);

  done(strike(farm.book(), first.record, "wrong sample", farm.by_ana()));
  CHECK(got(counts(farm.book(), brew)).size() == 1);
  // It lies in its brew's part, so that a phone with the brews of the year has it.
  CHECK(farm.book().record(first.record)->value().part == farm.book().record(brew)->value().part);
}

TEST_CASE("count record: of a lot, a water source; what is no count is refused") {
  FarmBook farm;
  const Id castings = farm.lot(farm.material("Worm castings", "worm-compost", false), "C-1", "40 lb");
  done(add_count(farm.book(), fields_of(castings), farm.by_ana()));
  done(add_count(farm.book(), fields_of(farm.well), farm.by_ana()));
  CHECK(got(counts(farm.book(), castings)).size() == 1);
  CHECK(got(counts(farm.book(), farm.well)).size() == 1);
  CHECK(!add_count(farm.book(), fields_of(farm.rig), farm.by_ana()));
  CHECK(!add_count(farm.book(), fields_of(Id{}), farm.by_ana()));
  for (const char* text : {"", "many", "-4", "<", "1e6", "1,000", "NaN"}) {
    CountGiven odd = fields_of(castings);
    odd.result.value = text;
    CHECK_MESSAGE(refusal(add_count(farm.book(), odd, farm.by_ana())) == "check.number", std::string(text));
  }
  CountGiven beside = fields_of(castings);
  beside.result.value = "34000000";  // A zero too many: its own interval says so.
  CHECK(refusal(add_count(farm.book(), beside, farm.by_ana())) == "check.interval");
  CountGiven ahead = fields_of(castings);
  ahead.at = farm.now() + 3 * kDay;
  CHECK(!add_count(farm.book(), ahead, farm.by_ana()));
}

TEST_CASE("count record: numbers as the journal holds them") {
  CHECK(*count_number(3399244.3, 3) == "3400000");
  CHECK(*count_number(24409.1, 2) == "24000");
  CHECK(*count_number(42.7288, 2) == "43");
  CHECK(*count_number(9.96, 2) == "10");
  CHECK(*count_number(0.3612, 2) == "0.36");
  CHECK(*count_number(0, 3) == "0");
  CHECK(*count_number(999999, 3) == "1000000");
  CHECK(!count_number(1e16, 3));
  CHECK(!count_number(1e-11, 3));
  CHECK(!count_number(std::nan(""), 3));
}

TEST_CASE("count record: in the table that goes out as CSV, and entered by its fields") {
  FarmBook farm;
  const Id brew = farm.brew();
  done(add_count(farm.book(), fields_of(brew), farm.by_ana()));
  const Table table = got(table_of(farm.book(), "count"));
  REQUIRE(table.rows.size() == 1);
  const auto cell = [&](std::string_view column) {
    for (std::size_t i = 0; i < table.columns.size(); ++i)
      if (table.columns[i].name == column) return table.rows[0].cells[i].text;
    return std::string("(no such column)");
  };
  CHECK(cell("value") == "3400000");
  CHECK(cell("per") == "ml");
  CHECK(cell("low") == "3080000");
  CHECK(cell("high") == "3740000");
  CHECK(cell("method") == "microscope");
  CHECK(cell("drop") == "0.05 mL");

  EnterAs as;
  as.farm = farm.farm;
  done(enter(farm.book(), "count", {{"of", farm.well.text()}, {"value", "<1"}, {"per", "100ml"}, {"method", "plates"}},
             as, farm.by_ana()));
  CHECK(got(counts(farm.book(), farm.well)).front().result.value == "<1");
  CHECK(!enter(farm.book(), "count",
               {{"of", farm.well.text()}, {"value", "some"}, {"per", "100ml"}, {"method", "plates"}}, as,
               farm.by_ana()));
}

}  // namespace
