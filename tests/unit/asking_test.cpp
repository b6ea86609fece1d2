// 'Ask Marek in the next file': a difference put to a person travels, stands in his Today, and ends by settling.
#include "book/asking.h"
#include "book/bed_states.h"
#include "book/settle_commands.h"
#include "book/today.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Ana and the office give the dose another volume each, and the office another note.
struct Differing {
  Farm2 farm;
  Id marek;

  Differing() {
    marek = add(*farm.office.book, "person", {text_field_value("name", "Marek Iwan")});
    edit(farm.book(), farm.dose, farm.volume("1.5 gal"));
    edit(*farm.office.book, farm.dose, farm.volume("1.25 gal"));
    edit(farm.book(), farm.dose, {text_field_value("note", "wind dropped")});
    edit(*farm.office.book, farm.dose, {text_field_value("note", "calm")});
    exchange(farm.ana.copy, farm.office);
  }
  Going office_going() const { return {marek, "", false}; }
  std::vector<AskedFact> asks(const Copy& copy, const Id& person = {}) const {
    return got(open_asks(*copy.book, person));
  }
  Today today(const Copy& copy, const Id& person) const {
    const BedStates states = farm.states(copy);
    return got(read_today(*copy.book, states, person, states.at));
  }
};

}  // namespace

TEST_CASE(
    "a difference put to a person travels in the next file and stands in that person's Today until it is settled") {
  Differing two;
  done(ask_person(two.farm.book(), two.farm.dose, {}, two.marek, "  how much was it? ", two.farm.ana.by_ana()));
  CHECK(two.asks(two.farm.office).empty());
  hand(two.farm.ana.copy, two.farm.office);
  for (const Copy* copy : {&two.farm.ana.copy, &two.farm.office}) {
    const auto asks = two.asks(*copy, two.marek);
    REQUIRE(asks.size() == 1);
    CHECK(asks[0].record == two.farm.dose);
    CHECK(asks[0].kind == "dose");
    CHECK(asks[0].by == two.farm.ana.ana);
    CHECK(asks[0].text == "how much was it?");
    CHECK(std::set<std::string>(asks[0].groups.begin(), asks[0].groups.end()) == std::set<std::string>{"note", "what"});
    CHECK(two.today(*copy, two.marek).asked.size() == 1);
    CHECK(two.today(*copy, two.farm.ana.ana).asked.empty());
  }
  // One of the two facts is settled: the question is about the other alone.
  done(settle(*two.farm.office.book, two.farm.dose, "what", 0, "read off the tank", two.office_going()));
  REQUIRE(two.asks(two.farm.office).size() == 1);
  CHECK(two.asks(two.farm.office)[0].groups == std::vector<std::string>{"note"});
  done(settle(*two.farm.office.book, two.farm.dose, "note", 1, "I was there", two.office_going()));
  CHECK(two.asks(two.farm.office).empty());
  CHECK(two.today(two.farm.office, two.marek).asked.empty());
  CHECK(two.asks(two.farm.ana.copy).size() == 1);
  hand(two.farm.office, two.farm.ana.copy);
  CHECK(two.asks(two.farm.ana.copy).empty());  // Answered on both copies, and the note stays on record.
  CHECK(got(two.farm.book().records("note")).size() == 1);
  CHECK(two.farm.both_agree());
}

TEST_CASE("an answered question does not come up again when the same fact differs anew; one can be withdrawn") {
  Differing two;
  done(ask_person(two.farm.book(), two.farm.dose, "what", two.marek, "", two.farm.ana.by_ana()));
  done(settle(two.farm.book(), two.farm.dose, "what", 0, "measured", two.farm.ana.by_ana()));
  exchange(two.farm.ana.copy, two.farm.office);
  edit(two.farm.book(), two.farm.dose, two.farm.volume("2 gal"));
  edit(*two.farm.office.book, two.farm.dose, two.farm.volume("2.5 gal"));
  exchange(two.farm.ana.copy, two.farm.office);
  CHECK(group_at(two.farm.office, two.farm.dose, "what").differs);
  CHECK(two.asks(two.farm.office).empty());
  const Outcome again = done(ask_person(two.farm.book(), two.farm.dose, "what", two.marek, "", two.farm.ana.by_ana()));
  hand(two.farm.ana.copy, two.farm.office);
  CHECK(two.asks(two.farm.office).size() == 1);
  done(strike(two.farm.book(), again.record, "found it out", two.farm.ana.by_ana()));
  hand(two.farm.ana.copy, two.farm.office);
  CHECK(two.asks(two.farm.office).empty());
}

TEST_CASE("nothing that differs, nobody to ask: refused") {
  Differing two;
  CHECK(refusal(ask_person(two.farm.book(), two.farm.dose, "when", two.marek, "", two.farm.ana.by_ana())) ==
        "settle.agrees");
  CHECK(refusal(ask_person(two.farm.book(), two.farm.pass, {}, two.marek, "", two.farm.ana.by_ana())) ==
        "settle.agrees");
  CHECK(refusal(ask_person(two.farm.book(), two.farm.dose, {}, Id{}, "", two.farm.ana.by_ana())) == "asking.nobody");
  CHECK(refusal(ask_person(two.farm.book(), two.farm.dose, {}, two.farm.dose, "", two.farm.ana.by_ana())) ==
        "asking.nobody");
}
