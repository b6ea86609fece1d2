// The farm's own numbers: units, ranges, bare numbers, and what stands in for those not set.
#include <doctest/doctest.h>

#include "base/text.h"
#include "book/enter.h"
#include "book/kinds.h"
#include "book/limit_kinds.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

std::vector<FarmLimit> limits_of(const FarmBook& farm) { return got(read_places(farm.book(), farm.farm)).limits; }

std::string read_limits_text(const FarmBook& farm, std::string_view which) {
  for (const FarmLimit& limit : limits_of(farm))
    if (limit.which == which) return limit.typed;
  return {};
}

TEST_CASE("limit: each of the list is a word of the record kind, in a unit there is") {
  const FieldDef* which = find_field(*find_kind("limit"), "which");
  const auto words = split(which->of, '|');
  for (const LimitKind& kind : limit_kinds()) {
    CHECK_MESSAGE(std::find(words.begin(), words.end(), kind.which) != words.end(), std::string(kind.which));
    REQUIRE_MESSAGE(find_unit(kind.unit), std::string(kind.unit));
    CHECK(kind.least < kind.most);
    // What stands in lies in its own range.
    if (!kind.standard.empty()) CHECK(check_limit(kind.which, q(kind.standard)));
  }
}

TEST_CASE("limit: both ends are allowed, one step outside and another kind of unit are refused") {
  CHECK(check_limit("reserve", q("0 %")));
  CHECK(check_limit("reserve", q("100 %")));
  CHECK(refusal(check_limit("reserve", q("100.1 %"))) == "limit.range");
  CHECK(refusal(check_limit("reserve", q("5 gal"))) == "limit.unit");
  CHECK(check_limit("brew-age", q("14 day")));
  CHECK(refusal(check_limit("brew-age", q("15 day"))) == "limit.range");
  CHECK(check_limit("wind-high", q("8 mph")));
  CHECK(check_limit("wind-high", q("12 km/h")));
  CHECK(refusal(check_limit("wind-high", q("8 psi"))) == "limit.unit");
  CHECK(refusal(check_limit("wind-high", q("80 mph"))) == "limit.range");
  CHECK(check_limit("hour-to", q("24 h")));
  CHECK(refusal(check_limit("hour-to", q("25 h"))) == "limit.range");
  CHECK(refusal(check_limit("oxygen", q("60 mg/L"))) == "limit.range");  // 6.0 with the point lost.
  // A bare number where its unit goes without saying, and where it does not.
  CHECK(check_limit("calibration-age", 90.0));
  CHECK(refusal(check_limit("calibration-age", -1.0)) == "limit.range");
  CHECK(refusal(check_limit("temperature-high", 85.0)) == "limit.unit");
  CHECK(check_limit("of a newer program", q("5 gal")));
}

TEST_CASE("limit: nothing of the wrong kind is written, by command or by entering fields") {
  FarmBook farm;
  CHECK(refusal(set_limit(farm.book(), farm.farm, "reserve", q("140 %"), "Ana", farm.by_ana())) == "limit.range");
  CHECK(refusal(set_limit(farm.book(), farm.farm, "air-off", q("4 gal"), "Ana", farm.by_ana())) == "limit.unit");
  EnterAs as;
  as.farm = farm.farm;
  const auto enter_limit = [&](const char* which, const char* value) {
    return enter(farm.book(), "limit", {{"farm", farm.farm.text()}, {"which", which}, {"value", value}}, as,
                 farm.by_ana());
  };
  CHECK(refusal(enter_limit("wind-high", "8 psi")) == "limit.unit");
  CHECK(!enter_limit("brew-age", "-3 h"));
  // A number alone where several units could be meant is asked about, never kept and passed over.
  CHECK(refusal(enter_limit("temperature-high", "85")) == "quantity.ask-two");
  CHECK(refusal(enter_limit("wind-high", "8")) == "quantity.ask-two");
  const auto age = enter_limit("brew-age", "36");
  CHECK(refusal(age) == "quantity.ask-three");
  CHECK(age.error().values == std::vector<std::string>{"36", "36 h", "36 min", "36 day"});
  CHECK(age.error().place == "limit.value");
  CHECK(limits_of(farm).empty());
  done(enter_limit("brew-age", "36 h"));
  CHECK(*limit_si(limits_of(farm), "brew-age") == 36 * 3600);  // Hours, not seconds.
  const Id oxygen = done(enter_limit("oxygen", "6")).record;
  CHECK(limits_of(farm).back().typed == "6 mg/L");
  done(enter_limit("calibration-age", "90"));
  CHECK(limits_of(farm).back().typed == "90 day");
  done(amend(farm.book(), oxygen, {{"value", "5.5"}}, as, "read again", farm.by_ana()));
  CHECK(read_limits_text(farm, "oxygen") == "5.5 mg/L");
  done(amend(farm.book(), oxygen, {{"value", "6"}}, as, "no, 6", farm.by_ana()));
  CHECK(*limit_si(limits_of(farm), "oxygen") == doctest::Approx(0.006));
}

TEST_CASE("limit: a value that another program let in counts for nothing, not for a wrong number") {
  FarmBook farm;
  add(farm.book(), "limit",
      {reference_value("farm", farm.farm), word_value("which", "wind-high"), quantity_value("limit.value", "8 psi")});
  add(farm.book(), "limit",
      {reference_value("farm", farm.farm), word_value("which", "temperature-high"), number_value("limit.value", "85")});
  CHECK(!limit_si(limits_of(farm), "wind-high"));
  CHECK(!limit_si(limits_of(farm), "temperature-high"));
  for (const FarmLimit& limit : limits_of(farm)) CHECK(!limit_written(limit));
}

}  // namespace
