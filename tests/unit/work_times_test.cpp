// What calculations share: times on the clock of a zone, and how a load's filling is explained.
#include <doctest/doctest.h>

#include "trade/work_filling.h"
#include "trade/work_times.h"

using namespace steep;

namespace {

Value clock_of(std::string_view typed) {
  InputSpec spec;
  spec.name = "finish";
  spec.kind = InputKind::LocalTime;
  const auto value = read_value(spec, typed, {});
  REQUIRE(value);
  return *value;
}

TEST_CASE("work times: one moment, none in the gap, two in the hour that comes back, told apart by offset") {
  const auto zone = Zone::from_name("America/New_York");
  REQUIRE(zone);
  CHECK(moments_of(*zone, clock_of("2026-07-01 06:30")).size() == 1);
  CHECK(moments_of(*zone, clock_of("2026-03-08 02:30")).empty());
  CHECK(moments_of(*zone, clock_of("2026-11-01 01:30")).size() == 2);
  CHECK(moments_of(*zone, clock_of("2026-11-01 01:30 -04:00")).size() == 1);
  CHECK(moments_of(*zone, clock_of("2026-07-01 06:30 -05:00")).empty());

  const auto first = moment_of(*zone, clock_of("2026-11-01 01:30 -04:00"), "finish");
  const auto second = moment_of(*zone, clock_of("2026-11-01 01:30 -05:00"), "finish");
  REQUIRE(first);
  REQUIRE(second);
  CHECK(*second - *first == kHour);
  CHECK(local_text(*zone, *first) == "2026-11-01 01:30");
  CHECK(local_text(*zone, *second) == "2026-11-01 01:30");
  CHECK(moment_of(*zone, clock_of("2026-11-01 01:30"), "finish").error().place == "finish");

  CHECK(offset_text(-240) == "-04:00");
  CHECK(offset_text(0) == "+00:00");
  CHECK(offset_text(345) == "+05:45");
  CHECK(offset_text(-570) == "-09:30");
}

TEST_CASE("work times: a load's filling names the load's own numbers") {
  LoadPlanInput input;
  for (int i = 0; i < 18; ++i)
    input.beds.push_back({{Length{}, Length::from_feet(100)}, Length::from_feet(100) * Length::from_inches(30)});
  input.tea_rate = VolumePerArea::from_gallons_per_acre(20);
  input.spray_rate = VolumePerArea::from_gallons_per_acre(45);
  input.tank = Volume::from_gallons(4);
  const auto plan = plan_loads(input);
  REQUIRE(plan);
  Answer answer(*find_calculation("loads"));
  explain_filling(answer, input, *plan, 2);
  REQUIRE(answer.steps.size() == 3);
  for (const Step& step : answer.steps) CHECK(step.ordinal == 2);
  // 45 gal/acre on 4,500 ft², half of it in each load, 20/45 of it tea.
  CHECK(answer.steps[0].numbers == "2.32438 gal × 0.444444 = 1.03306 gal");
  CHECK(answer.steps[1].numbers == "2.32438 gal × (1 − 0.444444) = 1.29132 gal");
  CHECK(answer.steps[2].numbers == "2.32438 gal / 45 gal/acre = 2250 ft2 → 18, 100 ft");
}

}  // namespace
