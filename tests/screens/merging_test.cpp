// Two phones of Alder Reach meet on one of them: looking into the file, settling, deciding, histories, what befell a copy.
#include <doctest/doctest.h>

#include "book/audit.h"
#include "book/pass_commands.h"
#include "book/pass_end.h"
#include "book/questions.h"
#include "book/record_commands.h"
#include "book/saves.h"
#include "handover/give.h"
#include "handover/take.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Ana's phone with the farm, and the office's copy of it with a clock of its own.
struct TwoDevices {
  TempBook phone_file{"merging-phone"}, office_file{"merging-office"};
  FakePlatform phone{phone_file.path}, office{office_file.path};
  Id ana, lot, rig, brew;
  TwoDevices() {
    make_farm(phone, 4);
    ana = *Id::parse(phone.settings["person"]);
    Book mine = open_book(phone);
    REQUIRE(mine.set_copy_label("Ana's phone"));
    const Id kelp =
        add(mine, "material", {text_field_value("name", "Kelp, liquid"), word_value("kind", "microbe-food")}, ana);
    lot = add(mine, "lot",
              {reference_value("material", kelp), text_field_value("code", "K-19"),
               quantity_value("quantity", "16 fl oz"), date_value("expires", *parse_date("2027-03-31"))},
              ana);
    rig = mine.records("rig")->front().id;
    brew = mine.records("brew")->front().id;
    office.clock = phone.clock + 5000;
    Book desk = open_book(office);
    REQUIRE(desk.set_copy_label("Office"));
    REQUIRE(take_in(desk, give(mine, {})->file));
  }
  /// On one device, with nobody else having its book open.
  template <class Do>
  void on(FakePlatform& platform, Do then) {
    platform.wait(kMinute);
    Book book = open_book(platform);
    then(book);
  }
  void corrects(FakePlatform& platform, const Id& record, std::vector<FieldValue> fields, std::string why) {
    on(platform, [&](Book& book) {
      const auto done = correct(book, record, fields, {}, why, {ana, {}, true});
      REQUIRE(done);
      REQUIRE(done->written);
    });
  }
  /// What the office gives now; the phone's person picks it next.
  void office_gives() {
    on(office, [&](Book& book) { phone.files_to_pick.push_back(give(book, {})->file); });
    phone.clock = std::max(phone.clock, office.clock);
  }
  void both_change_the_lot() {
    corrects(phone, lot, {quantity_value("quantity", "15 fl oz")}, "poured back");
    corrects(phone, lot, {date_value("expires", *parse_date("2027-03-01"))}, "read from the carton");
    corrects(office, lot, {quantity_value("quantity", "32 fl oz")}, "two bottles");
    corrects(office, lot, {date_value("expires", *parse_date("2026-11-30"))}, "read from the bottle");
    office_gives();
  }
};

/// The file that the person picks, looked at and taken.
void take_the_file(AppRun& run) {
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("Take one in"));
  REQUIRE(run.press("Take it in"));
}

std::string shown_value(const Book& book, const Id& record, std::string_view key) {
  const auto read = book.record(record);
  return read && *read && (*read)->field(key) ? (*read)->field(key)->text : std::string();
}

}  // namespace

TEST_CASE("merging: the preview says what comes and what will differ; cancelled, nothing has happened") {
  TwoDevices two;
  two.both_change_the_lot();
  AppRun run(two.phone, small_phone());
  const Hash before = run.book().digest();
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("Take one in"));
  for (const char* text : {"2 changes are new here", "By copy", "By person", "Ana Leland", "By day of writing",
                           "Records by kind", "Office", "To settle afterwards: 2", "Lot Kelp, liquid K-19: expires"}) {
    CAPTURE(text);
    CHECK(run.shows_part(text));
  }
  REQUIRE(run.press("Leave it"));
  CHECK(run.book().digest() == before);
  CHECK(run.book().batches()->empty());
}

TEST_CASE("merging: on the phone two facts are settled card by card, each version whole, with who had not seen what") {
  TwoDevices two;
  two.both_change_the_lot();
  AppRun run(two.phone, small_phone());
  take_the_file(run);
  REQUIRE(run.press("Look at them"));
  REQUIRE(run.press("Lot Kelp, liquid K-19…"));
  CHECK(run.shows_part("Fact 1 of 2"));
  CHECK(run.shows_part("had not seen"));
  CHECK(run.shows_part("Until it is settled, waits count the most cautious"));
  // Nothing is chosen beforehand.
  CHECK_FALSE(run.shows_part("What the book will show"));
  const auto press_version = [&](std::string_view value) {
    for (const Item& item : run.app().items().items())
      if (item.role == Role::Choice && item.name.find(value) != std::string::npos) return run.press(item.name);
    return false;
  };
  REQUIRE(press_version("Nov"));
  REQUIRE(run.press("Next"));
  CHECK(run.shows_part("Fact 2 of 2"));
  REQUIRE(press_version("16 fl oz") == false);
  REQUIRE(press_version("15 fl oz"));
  CHECK(run.shows_part("What the book will show"));
  REQUIRE(run.type("Reason", "The date on the bottle is the maker's"));
  REQUIRE(run.press("Settle 2 facts as Ana"));
  CHECK(shown_value(run.book(), two.lot, "quantity") == "15 fl oz");
  CHECK(shown_value(run.book(), two.lot, "expires") == "2026-11-30");
  CHECK_FALSE((*run.book().record(two.lot))->differs());
  // Nothing vanished: four corrections and one settlement stand in the history.
  CHECK(changes_of(run.book(), two.lot)->size() == 6);
}

TEST_CASE(
    "merging: on the desktop the list stands beside the cards; another value is typed field by field; all of one "
    "side") {
  TwoDevices two;
  two.both_change_the_lot();
  two.phone.files_to_pick.clear();
  two.corrects(two.phone, two.rig, {quantity_value("tank.volume", "4 gal"), quantity_value("tank.dead", "0.2 gal")},
               "measured");
  two.corrects(two.office, two.rig, {quantity_value("tank.volume", "5 gal"), quantity_value("tank.dead", "0.1 gal")},
               "by the maker");
  two.office_gives();
  AppRun run(two.phone, desktop());
  take_the_file(run);
  REQUIRE(run.press("Look at them"));
  CHECK(run.shows_part("1 of 2 to settle"));
  CHECK(run.shows("Before"));
  SUBCASE("a typed value is whole") {
    if (!run.shows_part("0.2 gal")) REQUIRE(run.press("Next"));
    for (const Item& item : run.app().items().items())
      if (item.name.find("Type another value") != std::string::npos) {
        REQUIRE(run.press(item.name));
        break;
      }
    REQUIRE(run.type("volume", "4.5 gal"));
    REQUIRE(run.type("Reason", "filled with a jug"));
    CHECK_FALSE(run.shows_part("What the book will show"));  // half a fact is none
    REQUIRE(run.type("what cannot be sprayed", "0.15 gal"));
    CHECK(run.shows_part("What the book will show"));
    REQUIRE(run.press("Settle 1 fact as Ana"));
    CHECK(shown_value(run.book(), two.rig, "tank.volume") == "4.5 gal");
    CHECK(shown_value(run.book(), two.rig, "tank.dead") == "0.15 gal");
  }
  SUBCASE("all from one copy, in one act") {
    REQUIRE(run.press("Keep all of one side"));
    REQUIRE(run.press("All of one side: Office · 3 facts…"));
    REQUIRE(run.type("Reason for all of them", "the office has the papers"));
    REQUIRE(run.press("Keep this side"));
    CHECK(shown_value(run.book(), two.rig, "tank.volume") == "5 gal");
    CHECK(shown_value(run.book(), two.lot, "quantity") == "32 fl oz");
    CHECK(shown_value(run.book(), two.lot, "expires") == "2026-11-30");
    CHECK(question_counts(run.book())->to_settle == 0);
  }
}

TEST_CASE("merging: struck here, edited there: what each did, and the two ways to end it") {
  TwoDevices two;
  two.on(two.phone, [&](Book& book) { REQUIRE(strike(book, two.lot, "empty bottle", {two.ana, {}, true})); });
  two.corrects(two.office, two.lot, {quantity_value("quantity", "32 fl oz")}, "two bottles");
  two.office_gives();
  AppRun run(two.phone, small_phone());
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("Take one in"));
  CHECK(run.shows_part("struck on one side, changed on the other"));
  REQUIRE(run.press("Take it in"));
  REQUIRE(run.press("Look at them"));
  for (const Item& item : run.app().items().items())
    if (item.role == Role::Row && item.name.find("was struck on one copy") != std::string::npos) {
      REQUIRE(run.press(item.name));
      break;
    }
  CHECK(run.shows_part("empty bottle"));
  CHECK(run.shows_part("32 fl oz"));
  CHECK(run.shows_part("it counts for waits, and for nothing else"));
  REQUIRE(run.type("Reason", "there is a second bottle"));
  SUBCASE("it counts") {
    REQUIRE(run.press("It counts: take the strike back…"));
    CHECK((*run.book().record(two.lot))->struck.empty());
  }
  SUBCASE("it stays struck") {
    REQUIRE(run.press("It stays struck…"));
    CHECK((*run.book().record(two.lot))->struck == "empty bottle");
  }
  CHECK(question_counts(run.book())->to_settle == 0);
}

TEST_CASE("merging: a taken file is set aside as a whole and back again; the code says that it is left out") {
  TwoDevices two;
  two.corrects(two.office, two.lot, {quantity_value("quantity", "32 fl oz")}, "two bottles");
  two.office_gives();
  AppRun run(two.phone, small_phone());
  const Hash before = run.book().digest();
  take_the_file(run);
  REQUIRE(run.press("Done"));
  CHECK(run.shows(run.book().digest_code()));
  CHECK_FALSE(run.shows_part("set aside here"));
  REQUIRE(run.press("To settle and to look at…"));
  REQUIRE(run.press("Set aside, Office…"));
  CHECK(shown_value(run.book(), two.lot, "quantity") == "16 fl oz");
  CHECK(run.book().digest() == before);
  run.app().back();
  run.settle();
  CHECK(run.shows_part("1 taken file is set aside here"));
  REQUIRE(run.press("To settle and to look at…"));
  REQUIRE(run.press("Count it again, Office…"));
  CHECK(shown_value(run.book(), two.lot, "quantity") == "32 fl oz");
}

TEST_CASE("merging: the history of a record has the old values, and a restored copy is told what happened") {
  TwoDevices two;
  two.corrects(two.office, two.lot, {quantity_value("quantity", "32 fl oz")}, "two bottles");
  two.office_gives();
  two.phone.settings["lanes"] = "something else\n";  // the anchor of another book: this one was restored
  AppRun run(two.phone, small_phone());
  REQUIRE(run.press("Book…"));
  CHECK(run.shows_part("This copy was restored or copied"));
  REQUIRE(run.press("I have read it"));
  CHECK_FALSE(run.shows_part("This copy was restored or copied"));
  REQUIRE(run.press("Take one in"));
  REQUIRE(run.press("Take it in"));
  REQUIRE(run.press("Done"));
  REQUIRE(run.press("To settle and to look at…"));
  CHECK(question_counts(run.book())->all() == 0);
  const auto changes = changes_of(run.book(), two.lot);
  REQUIRE(changes);
  CHECK(changes->size() == 2);
}

TEST_CASE("merging: two entries of one work that copies struck for each other: one counts again, or none") {
  TwoDevices two;
  std::uint8_t byte = 0;
  two.office.random({&byte, 1});  // No chance that is the phone's: both write in the farm's part.
  Id first, second;
  two.on(two.phone, [&](Book& book) {
    const Id farm = farms(book)->front().id, bed = read_places(book, farm)->beds.front().id;
    const Stamp start = {book.now().at + -10 * kMinute, book.now().offset_minutes};
    const auto spray = [&](std::string_view number) {
      const Id pass =
          add(book, "pass",
              {reference_value("farm", farm), number_value("number", std::string(number)), word_value("aim", "leaf"),
               instant_value("start", start), instant_value("finish", book.now())},
              two.ana);
      const Id load =
          add(book, "load", {reference_value("pass", pass), reference_value("mix.brew", two.brew)}, two.ana);
      return add(book, "dose",
                 {reference_value("what.load", load), reference_value("what.bed", bed), word_value("what.how", "done"),
                  instant_value("when.start", start), instant_value("when.finish", book.now())},
                 two.ana);
    };
    first = spray("71");
    second = spray("72");
  });
  const auto gives = [&](FakePlatform& from, FakePlatform& to) {
    File file;
    two.on(from, [&](Book& book) { file = give(book, {})->file; });
    two.on(to, [&](Book& book) { REQUIRE(take_in(book, file)); });
  };
  const auto keeps = [&](FakePlatform& on, const Id& kept) {
    two.on(on, [&](Book& book) {
      const TwiceRequest same{first, second, TwiceAnswer::SameWork, kept, {}, true, {}};
      REQUIRE(answer_same_bed_twice(book, same, {two.ana, {}, true}));
    });
  };
  gives(two.phone, two.office);
  keeps(two.phone, first);
  keeps(two.office, second);
  two.office_gives();
  AppRun run(two.phone, small_phone());
  take_the_file(run);
  REQUIRE(run.press("Look at them"));
  std::string row;
  for (const Item& item : run.app().items().items())
    if (item.name.find("struck as the same work") != std::string::npos) row = item.name;
  REQUIRE(run.press(row));
  CHECK(run.shows_part("The other entry, struck"));
  CHECK(run.shows_part("it counts for waits"));
  REQUIRE(run.type("Reason", "It was sprayed once"));
  SUBCASE("one counts") {
    REQUIRE(run.press("It counts: take the strike back…"));
    CHECK((*run.book().record(first))->struck.empty() != (*run.book().record(second))->struck.empty());
  }
  SUBCASE("none") {
    REQUIRE(run.press("It never happened…"));
    CHECK((*run.book().record(first))->struck == "It was sprayed once");
    CHECK((*run.book().record(second))->struck == "It was sprayed once");
  }
  CHECK(question_counts(run.book())->to_settle == 0);
}

TEST_CASE("merging: two things of one name: joined, shown as one, parted again") {
  TwoDevices two;
  Id second;
  two.on(two.phone, [&](Book& book) {
    add(book, "vessel", {text_field_value("name", "Barrel"), quantity_value("volume.nominal", "30 gal")}, two.ana);
  });
  two.on(two.office, [&](Book& book) {
    second =
        add(book, "vessel", {text_field_value("name", "Barrel"), quantity_value("volume.nominal", "55 gal")}, two.ana);
  });
  two.office_gives();
  AppRun run(two.phone, small_phone());
  take_the_file(run);
  REQUIRE(run.press("Done"));
  REQUIRE(run.press("To settle and to look at…"));
  REQUIRE(run.press("Two records of one kind…"));
  CHECK(run.shows_part("30 gal"));
  CHECK(run.shows_part("55 gal"));
  SUBCASE("one thing") {
    REQUIRE(run.press("One thing…"));
    CHECK(question_counts(run.book())->to_settle == 0);
    int joined = 0;
    const auto vessels = run.book().records("vessel");
    REQUIRE(vessels);
    for (const Record& vessel : *vessels)
      if (vessel.field("same_as")) ++joined;
    CHECK(joined == 1);
  }
  SUBCASE("two things") {
    REQUIRE(run.press("Two things…"));
    CHECK(question_counts(run.book())->to_settle == 0);
  }
}

TEST_CASE(
    "merging: a file that appears in the watched folder is taken in without being asked for, and told in a line") {
  TwoDevices two;
  two.corrects(two.office, two.lot, {quantity_value("quantity", "32 fl oz")}, "two bottles");
  two.office_gives();
  const File file = two.phone.files_to_pick.front();
  AppRun run(two.phone, desktop());
  REQUIRE(run.app().arrived(file));
  run.settle();
  CHECK(shown_value(run.book(), two.lot, "quantity") == "32 fl oz");
  CHECK(run.platform.said.back() == "Office: a file was taken in, 1 change new");
  const std::size_t said = run.platform.said.size();
  REQUIRE(run.app().arrived(file));
  run.settle();
  CHECK(run.platform.said.size() == said);  // nothing new is not news
  File broken = file;
  broken.bytes.resize(broken.bytes.size() / 2);
  REQUIRE(run.app().arrived(broken));
  run.settle();
  CHECK(run.platform.said.back().find("a file was not taken in") != std::string::npos);
  CHECK_FALSE(run.app().to_come_again());  // Tried again it would be as broken.
}

TEST_CASE("merging: a pass that begins while a file of the watched folder is read: the file comes again") {
  TwoDevices two;
  two.corrects(two.office, two.lot, {quantity_value("quantity", "32 fl oz")}, "two bottles");
  two.office_gives();
  const File file = two.phone.files_to_pick.front();
  AppRun run(two.phone, desktop());
  REQUIRE(run.app().arrived(file));
  const Id farm = farms(run.book())->front().id;
  Save pass = new_save(run.book(), "pass",
                       {reference_value("farm", farm), number_value("number", "71"), word_value("aim", "leaf"),
                        instant_value("start", run.book().now())});
  REQUIRE(run.book().write(pass, two.ana));
  run.settle();
  CHECK(shown_value(run.book(), two.lot, "quantity") != "32 fl oz");
  CHECK(run.app().to_come_again() == file.name);
  CHECK_FALSE(run.app().arrived(file));  // The pass is still open.
  EndRequest end;
  end.pass = pass.record;
  end.weather.not_taken = true;
  REQUIRE(end_pass(run.book(), end, {two.ana, {}, true}));
  REQUIRE(run.app().arrived(file));
  run.settle();
  CHECK(shown_value(run.book(), two.lot, "quantity") == "32 fl oz");
}

TEST_CASE("merging: of several files dropped at once each has its turn") {
  TwoDevices two;
  two.corrects(two.office, two.lot, {quantity_value("quantity", "32 fl oz")}, "two bottles");
  two.office_gives();
  const File first = two.phone.files_to_pick.front();
  two.corrects(two.office, two.lot, {quantity_value("quantity", "40 fl oz")}, "more");
  two.office_gives();
  const File second = two.phone.files_to_pick.back();
  AppRun run(two.phone, desktop());
  run.app().dropped(first);
  run.app().dropped(second);
  run.app().dropped(first);
  run.settle();
  CHECK(run.shows("2 more files wait their turn."));
  REQUIRE(run.press("Take it in"));
  CHECK(shown_value(run.book(), two.lot, "quantity") == "32 fl oz");
  CHECK(run.shows("2 more files wait their turn."));
  REQUIRE(run.press("Done"));
  CHECK(run.shows("1 more file waits its turn."));
  REQUIRE(run.press("Leave it"));
  CHECK(run.shows("Nothing new in this file"));
  CHECK_FALSE(run.shows_part("its turn"));
  CHECK(shown_value(run.book(), two.lot, "quantity") == "32 fl oz");
}

TEST_CASE("merging: a large file is taken only beside a safety copy, and once that is really there") {
  TwoDevices two;
  two.on(two.office, [&](Book& book) {
    std::vector<Save> saves;
    for (int i = 0; i < 1001; ++i)
      saves.push_back(new_save(
          book, "note", {reference_value("of", two.lot), text_field_value("text", "note " + std::to_string(i))}));
    REQUIRE(book.write(saves, two.ana));
  });
  two.office_gives();
  const File file = two.phone.files_to_pick.front();
  const auto notes = [](AppRun& run) { return run.book().records("note")->size(); };
  AppRun run(two.phone, desktop());
  two.phone.fail_safety_copy = true;
  SUBCASE("a file that a person chose") {
    REQUIRE(run.press("Book…"));
    REQUIRE(run.press("Take one in"));
    REQUIRE(run.press("Take it in"));
    CHECK(two.phone.count("safety copy") == 1);
    CHECK(notes(run) == 0);
    two.phone.fail_safety_copy = false;
    REQUIRE(run.press("Take it in"));
    CHECK(two.phone.count("safety copy") == 2);
    CHECK(notes(run) == 1001);
  }
  SUBCASE("a file of the watched folder") {
    REQUIRE(run.app().arrived(file));
    run.settle();
    CHECK(notes(run) == 0);
    CHECK(run.platform.said.back().find("a file was not taken in") != std::string::npos);
    const std::size_t said = run.platform.said.size();
    CHECK(run.app().to_come_again() == file.name);
    CHECK_FALSE(run.app().to_come_again());
    REQUIRE(run.app().arrived(file));
    run.settle();
    CHECK(run.platform.said.size() == said);  // told once
    CHECK(run.app().to_come_again() == file.name);
    two.phone.fail_safety_copy = false;
    REQUIRE(run.app().arrived(file));
    run.settle();
    CHECK(two.phone.count("safety copy") == 3);
    CHECK(notes(run) == 1001);
    CHECK_FALSE(run.app().to_come_again());
  }
}

TEST_CASE(
    "merging: at most once a day a small file gets a safety copy too, and is taken without one that cannot be made") {
  TwoDevices two;
  AppRun run(two.phone, small_phone());
  REQUIRE(run.press("Book…"));
  const auto changes = [&](const char* amount) {
    two.corrects(two.office, two.lot, {quantity_value("quantity", amount)}, "counted");
    two.office_gives();
  };
  const auto takes = [&](const char* amount) {
    changes(amount);
    REQUIRE(run.press("Take one in"));
    REQUIRE(run.press("Take it in"));
    CHECK(shown_value(run.book(), two.lot, "quantity") == amount);
    REQUIRE(run.press("Done"));
    return two.phone.count("safety copy");
  };
  two.phone.fail_safety_copy = true;
  CHECK(takes("15 fl oz") == 1);
  two.phone.fail_safety_copy = false;
  CHECK(takes("14 fl oz") == 2);
  CHECK(takes("13 fl oz") == 2);
  two.phone.wait(kDay);
  CHECK(takes("12 fl oz") == 3);
  // By the watched folder likewise.
  for (const auto& [amount, copies] : {std::pair("11 fl oz", 4), std::pair("10 fl oz", 4)}) {
    if (copies == 4 && two.phone.count("safety copy") == 3) two.phone.wait(kDay);
    changes(amount);
    REQUIRE(run.app().arrived(two.phone.files_to_pick.front()));
    two.phone.files_to_pick.pop_front();
    run.settle();
    CHECK(shown_value(run.book(), two.lot, "quantity") == amount);
    CHECK(two.phone.count("safety copy") == copies);
  }
}

TEST_CASE("merging: giving only what one copy lacks, and only some years") {
  TwoDevices two;
  two.office_gives();
  AppRun run(two.phone, small_phone());
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("Take one in"));
  CHECK(run.shows("Nothing new in this file"));
  REQUIRE(run.press("Done"));
  REQUIRE(run.press("Give a part, or lock it"));
  REQUIRE(run.press("For whom?: Only what Office lacks…"));
  REQUIRE(run.press("Give handover file"));
  REQUIRE(run.platform.given.size() == 1);
  two.on(two.office, [&](Book& book) {
    const auto took = take_in(book, run.platform.given[0]);
    REQUIRE(took);
    CHECK(took->added == 0);
    CHECK(took->lines == 0);  // the office's own file said that it has everything
  });
}

TEST_CASE(
    "merging: what a file brought stands with what it is about, and a question waits a press away on the desktop") {
  TwoDevices two;
  const Going going{two.ana, {}, true};
  const auto sprays_first_bed = [&](Book& book) {
    const auto farm = farms(book);
    REQUIRE(farm);
    const auto beds = read_places(book, farm->front().id);
    REQUIRE(beds);
    StartChoices chosen;
    chosen.farm = farm->front().id;
    chosen.person = two.ana;
    chosen.beds = {beds->beds.front().id};
    chosen.rig = two.rig;
    chosen.aim = Aim::Leaf;
    chosen.brew = two.brew;
    chosen.rates_unknown = true;
    chosen.tea = amount("1 gal");
    chosen.water = amount("1 gal");
    chosen.walk = Walk::SameEnd;
    chosen.from_far_end = false;
    chosen.weather.not_taken = true;
    const auto pass = start_pass(book, chosen, going);
    REQUIRE(pass);
    REQUIRE(pass->written);
    REQUIRE(
        bed_done(book, {pass->record, chosen.beds[0], book.now().at + -5 * kMinute, {}, amount("0.5 gal"), {}}, going)
            ->written);
    EndRequest end;
    end.pass = pass->record;
    end.weather.not_taken = true;
    REQUIRE(end_pass(book, end, going)->written);
    return std::pair(chosen.farm, chosen.beds[0]);
  };
  two.on(two.phone, sprays_first_bed);
  two.on(two.office, [&](Book& book) {
    const auto [farm, bed] = sprays_first_bed(book);
    const auto plantings = book.records("planting");
    REQUIRE(plantings);
    Save harvest;
    harvest.record = book.new_record();
    harvest.kind = "harvest";
    harvest.part = Part{farm, 2026};
    harvest.fields = {reference_value("bed", bed), reference_value("planting", plantings->front().id),
                      instant_value("at", book.now()), quantity_value("amount", "12 lb")};
    REQUIRE(book.write(harvest, two.ana));
    Save wash;
    wash.record = book.new_record();
    wash.kind = "wash";
    wash.part = Part{{}, 2026};
    wash.fields = {reference_value("of", two.rig), text_field_value("how.method", "hot water")};
    REQUIRE(book.write(wash, two.ana));
  });
  two.office_gives();
  AppRun run(two.phone, desktop());
  take_the_file(run);
  REQUIRE(run.press("Look at them"));
  CHECK(run.shows_part("1 bed, 0.50 gal spray (0.25 tea) · "));
  CHECK(run.shows_part("chard, 12 lb · "));
  CHECK(run.shows_part("Backpack 1, hot water · "));
  CHECK(run.shows_part("No facts differ."));
  CHECK_FALSE(run.shows_part("Nothing to settle."));
  for (const Item& item : run.app().items().items())
    if (item.role == Role::Button && item.name.find("same bed, twice?") != std::string::npos) {
      REQUIRE(run.press(item.name));
      break;
    }
  CHECK(run.shows_part("Same bed, twice?"));
}
