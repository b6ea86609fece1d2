// A fact that differs is put to a person who may know: asked on one phone, read on the other, ended by settling.
#include <doctest/doctest.h>

#include <array>

#include "book/asking.h"
#include "book/record_commands.h"
#include "handover/give.h"
#include "handover/take.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Ana's phone and Marek's; each has corrected the lot's expiry without knowing of the other, and Ana's has taken both in.
struct AskingRun {
  TempBook ana_file{"asking-ana"}, marek_file{"asking-marek"};
  FakePlatform ana_phone{ana_file.path}, marek_phone{marek_file.path};
  Id ana, marek, lot;
  AskingRun() {
    make_farm(ana_phone, 4);
    ana = *Id::parse(ana_phone.settings["person"]);
    marek_phone.clock = ana_phone.clock + 5000;
    std::array<std::uint8_t, 5> other_chance{};
    marek_phone.random(other_chance);  // Two devices never draw the same ids.
    Book mine = open_book(ana_phone), his = open_book(marek_phone);
    REQUIRE(mine.set_copy_label("Ana's phone"));
    REQUIRE(his.set_copy_label("Marek's phone"));
    marek = add(mine, "person", {text_field_value("name", "Marek Dolan")}, ana);
    const Id kelp = add(mine, "material", {text_field_value("name", "Kelp, liquid")}, ana);
    lot = add(mine, "lot",
              {reference_value("material", kelp), text_field_value("code", "K-19"),
               date_value("expires", *parse_date("2027-03-31"))},
              ana);
    REQUIRE(take_in(his, give(mine, {})->file));
    corrects(mine, "2027-03-01", ana);
    corrects(his, "2026-11-30", marek);
    REQUIRE(take_in(mine, give(his, {})->file));
    marek_phone.settings = ana_phone.settings;
    marek_phone.settings["person"] = marek.text();
  }
  void corrects(Book& book, std::string_view day, const Id& by) const {
    const auto done =
        correct(book, lot, {date_value("expires", *parse_date(day))}, {}, "read from the bottle", {by, {}, true});
    REQUIRE(done);
    REQUIRE(done->written);
  }
  /// What one gives, the other picks next.
  static void hand(FakePlatform& from, FakePlatform& to) {
    Book book = open_book(from);
    to.files_to_pick.push_back(give(book, {})->file);
    to.clock = std::max(to.clock, from.clock) + kMinute;
  }
  static void take(AppRun& run) {
    REQUIRE(run.press("Book…"));
    REQUIRE(run.press("Take one in"));
    REQUIRE(run.press("Take it in"));
    REQUIRE(run.press("Done"));
  }
};

/// From the list of what is to settle to the cards of the lot.
void to_lot(AppRun& run) {
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("To settle and to look at…"));
  REQUIRE(run.press("Lot Kelp, liquid K-19…"));
}

}  // namespace

TEST_CASE(
    "asking: nobody is asked until somebody is chosen; the question goes along, is read by whom it is for, and ends "
    "when it is settled") {
  AskingRun two;
  {
    AppRun run(two.ana_phone);
    to_lot(run);
    REQUIRE(run.press("Ask somebody"));
    const Item* ask = run.find("Ask somebody…");
    REQUIRE(ask);
    CHECK_FALSE(ask->enabled);
    CHECK_FALSE(run.shows("Ana"));  // One does not ask oneself.
    REQUIRE(run.press("Marek"));
    REQUIRE(run.type("What you want to know", "What does the label say?"));
    REQUIRE(run.press("Ask Marek in the next file"));
    CHECK(run.shows_part("Ana asks Marek"));
    CHECK(run.shows_part("What does the label say?"));
    REQUIRE(open_asks(run.book(), two.marek)->size() == 1);
  }
  AskingRun::hand(two.ana_phone, two.marek_phone);
  {
    AppRun run(two.marek_phone);
    AskingRun::take(run);
    REQUIRE(run.press("Today"));
    CHECK(run.shows_part("Ana asks you: Lot Kelp, liquid K-19"));
    CHECK(run.shows_part("expires: What does the label say?"));
    to_lot(run);
    CHECK(run.shows_part("Ana asks Marek"));
    for (const Item& item : run.app().items().items())
      if (item.role == Role::Choice && item.name.find("Nov") != std::string::npos) {
        REQUIRE(run.press(item.name));
        break;
      }
    REQUIRE(run.type("Reason", "the bottle is here"));
    REQUIRE(run.press("Settle 1 fact as Marek"));
    CHECK(open_asks(run.book())->empty());
  }
  AskingRun::hand(two.marek_phone, two.ana_phone);
  AppRun run(two.ana_phone);
  AskingRun::take(run);
  CHECK(open_asks(run.book())->empty());
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("To settle and to look at…"));
  CHECK_FALSE(run.shows_part("asks"));
}

TEST_CASE("asking: in Spanish, without a text: which is right?") {
  AskingRun two;
  two.ana_phone.settings["language"] = "es";
  AppRun run(two.ana_phone);
  REQUIRE(run.press("Libro…"));
  REQUIRE(run.press("Por acordar y por mirar…"));
  REQUIRE(run.press("Lote Kelp, liquid K-19…"));
  REQUIRE(run.press("Preguntar a alguien"));
  REQUIRE(run.press("Marek"));
  REQUIRE(run.press("Preguntar a Marek en el próximo archivo"));
  CHECK(run.shows_part("Ana pregunta a Marek"));
  CHECK(run.shows_part("¿cuál es correcto?"));
}
