// What things are called, and what is found by it.
#include <set>

#include "book/bed_states.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/enter.h"
#include "book/settle_commands.h"
#include "book/spelled.h"
#include "book/tables.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

// Bed names: b-7, B 7, B07 are B7; ß7 asks.
TEST_CASE("a bed is found by its name however it is typed; a look-alike asks") {
  FarmBook farm(1, 8);
  const std::vector<Bed> beds = got(read_places(farm.book(), farm.farm)).beds;
  std::vector<Bed> named = beds;
  for (std::size_t i = 0; i < named.size(); ++i) named[i].name = "B" + std::to_string(i + 1);
  for (const std::string_view typed : {"b-7", "B 7", "B07", "b7", " B7 "})
    CHECK(got(bed_by_name(named, typed)) == named[6].id);
  const auto asks = bed_by_name(named, "ß7");
  REQUIRE_FALSE(asks);
  CHECK(asks.error().kind == Trouble::Ask);
  CHECK(asks.error().values[1] == "B7");
  CHECK(refusal(bed_by_name(named, "Q7")) == "place.bed-not-among");
  CHECK(name_before("N2", "N10"));
  CHECK_FALSE(name_before("N10", "N2"));
  CHECK(name_before("N10", "T1"));
}

TEST_CASE("people are called by their first names where only one has it") {
  FarmBook farm;
  const auto person = [&](const char* name) { return add(farm.book(), "person", {text_field_value("name", name)}); };
  const Id cruz = person("Luz Cruz"), marek = person("Marek Dolan"), lone = person("Lu");
  CHECK(called_name(farm.book(), cruz) == "Luz");
  CHECK(called_name(farm.book(), lone) == "Lu");
  const Id other = person("Marek Ostrow");
  CHECK(called_name(farm.book(), marek) == "Marek Dolan");
  CHECK(called_name(farm.book(), other) == "Marek Ostrow");
  done(strike(farm.book(), other, "mistake", farm.by_ana()));
  CHECK(called_name(farm.book(), marek) == "Marek");
  CHECK(called_name(farm.book(), {}).empty());
}

TEST_CASE("a record is found by what people call it, with or without the word for its kind, in either language") {
  FarmBook farm(1, 4);
  Book& book = farm.book();
  constexpr std::string_view kAny = "load|pass|brew|lot|bed|person|rig|planting|harvest";
  const Id lot = farm.lot(farm.material("Liquid kelp", "foliar-feed", false), "K-19", "8 fl oz");
  const Id brew = farm.brew(), pass = farm.start(farm.choices(brew, farm.beds));
  const Id load = got(loads(book, pass)).front().id;
  const std::string number = got(Codes::read(book)).text(pass), brewed = got(Codes::read(book)).text(brew);
  const std::pair<std::string, Id> known[] = {{"K-19", lot},
                                              {"lot K-19", lot},
                                              {"Lote k-19", lot},
                                              {"liquid kelp K-19", lot},
                                              {"N1", farm.beds[0]},
                                              {"bed N1", farm.beds[0]},
                                              {"cama n-01", farm.beds[0]},
                                              {"Ana", farm.ana},
                                              {"person Ana", farm.ana},
                                              {"pass " + number, pass},
                                              {"brew " + brewed, brew},
                                              {"té " + brewed, brew},
                                              {number + " / 1", load},
                                              {"load " + number + "/1", load},
                                              {"rig " + text_of(book, farm.rig, "name"), farm.rig}};
  for (const auto& one : known) {
    CAPTURE(one.first);
    CHECK(got(find_record(book, kAny, one.first, {})) == one.second);
  }
  CHECK(refusal(find_record(book, kAny, "lot N1", {})) == "enter.nothing-so-called");
  CHECK(refusal(find_record(book, kAny, number + " / 2", {})) == "enter.nothing-so-called");
  CHECK(refusal(find_record(book, "lot", "N1", {})) == "enter.nothing-called");
  const Id odd = add(book, "rig", {text_field_value("name", "Lot 5")});
  CHECK(got(find_record(book, kAny, "Lot 5", {})) == odd);
}

TEST_CASE("records of one name are told apart by the end of their id; the named farm goes first") {
  FarmBook farm(1, 4);
  Book& book = farm.book();
  // Either choice of the question, typed as it stands there, is the answer.
  const auto both_answer = [&](std::string_view kind, std::string_view typed, const std::set<Id>& records) {
    const auto asked = find_record(book, kind, typed, {});
    REQUIRE_FALSE(asked);
    CHECK(asked.error().kind == Trouble::Ask);
    std::set<Id> answered;
    for (std::size_t i = 1; i < asked.error().values.size(); ++i)
      answered.insert(got(find_record(book, kind, asked.error().values[i], {})));
    CHECK(answered == records);
  };
  const auto rosa = [&] { return add(book, "person", {text_field_value("name", "Finca Rosa")}); };
  const Id one = rosa(), two = rosa();
  both_answer("person", "finca rosa", {one, two});
  both_answer("person|farm|rig", "Finca Rosa", {one, two});
  const std::string block = got(read_bed(book, farm.beds[0])).block.text();
  const auto bed = [&] {
    return add(book, "bed", {reference_value("block", *Id::parse(block)), text_field_value("name", "N9")});
  };
  const Id first = bed(), second = bed();
  both_answer("bed", "N9", {first, second});
  const auto brew = [&] { return add(book, "brew", {number_value("number", "41"), quantity_value("fill", "5 gal")}); };
  const Id old = brew(), late = brew();
  both_answer("brew", "41", {old, late});
  const Id mesa = add(book, "farm", {text_field_value("name", "Mesa")});
  const Id north = add(book, "block", {reference_value("farm", mesa), text_field_value("name", "North")});
  CHECK(got(find_record(book, "block", "North", mesa)) == north);
  CHECK(got(find_record(book, "block", "North", farm.farm)).text() == block);
  CHECK(refusal(find_record(book, "block", "North", {})) == "enter.several");
}

TEST_CASE("names are found without their accents, near ones are offered, struck ones come back by name") {
  FarmBook farm(1, 4);
  Book& book = farm.book();
  const Id jose = add(book, "person", {text_field_value("name", "José Peña")});
  CHECK(got(find_record(book, "person", "Jose Pena", {})) == jose);
  CHECK(got(find_record(book, "person", "jose", {})) == jose);
  const Id plain = add(book, "person", {text_field_value("name", "Jose Pena")});
  CHECK(got(find_record(book, "person", "jose pena", {})) == plain);  // The exact name goes before.
  CHECK(got(find_record(book, "person", "josé peña", {})) == jose);
  const auto near = find_record(book, "person", "Jose Penna", {});
  CHECK(refusal(near) == "enter.nothing-like");
  const auto bed = find_record(book, "bed", "N99", {});
  CHECK(refusal(bed) == "place.bed-not-among");
  CHECK(bed.error().values[1] == "North N1 – N4");
  const Id lot = farm.lot(farm.material("Liquid kelp", "foliar-feed", false), "K-19", "8 fl oz");
  CHECK(refusal(find_struck(book, "", "lot K-19")) == "enter.nothing-so-called");
  done(strike(book, lot, "never came", farm.by_ana()));
  CHECK(!find_record(book, "lot", "K-19", {}));
  CHECK(got(find_struck(book, "", "lot K-19")) == lot);
  done(strike(book, farm.beds[3], "gone", farm.by_ana()));
  CHECK(got(find_struck(book, "bed", "N4")) == farm.beds[3]);
}

TEST_CASE("a second record of one name is asked about when it is entered, and kept with a reason") {
  FarmBook farm(1, 4);
  Book& book = farm.book();
  const Id block = got(read_bed(book, farm.beds[0])).block;
  const std::string material = farm.material("Liquid kelp", "foliar-feed", false).text();
  farm.lot(*Id::parse(material), "K-19", "8 fl oz");
  const std::string farm_name = text_of(book, farm.farm, "name");
  add(book, "brew", {number_value("number", "41"), quantity_value("fill", "5 gal")});
  const std::pair<const char*, EnterFields> twins[] = {{"farm", {{"name", farm_name}}},
                                                       {"block", {{"name", "north"}}},
                                                       {"bed", {{"block", block.text()}, {"name", "N1"}}},
                                                       {"person", {{"name", "Ana Leland"}}},
                                                       {"lot", {{"material", material}, {"code", "k-19"}}},
                                                       {"brew", {{"number", "41"}}}};
  for (const auto& twin : twins) {
    CAPTURE(std::string(twin.first));
    const Outcome asked = got(enter(book, twin.first, twin.second, {}, farm.by_ana()));
    CHECK_FALSE(asked.written);
    CHECK(has_caution(asked.cautions, "check.name-used"));
  }
  done(enter(book, "bed", {{"block", block.text()}, {"name", "N1"}}, {}, farm.by_ana("cut in two, both called so")));
  done(enter(book, "bed", {{"block", block.text()}, {"name", "N5"}}, {}, farm.by_ana()));
  done(enter(book, "brew", {{"fill", "5 gal"}}, {}, farm.by_ana()));  // The next number is nobody's.
}
