// Handover files with a passphrase, on a phone and on the desktop: given, taken, tried again, left alone.
#include <doctest/doctest.h>

#include "handover/give.h"
#include "handover/take.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

/// A farm, and its whole file locked.
struct LockedFarm {
  TempBook file;
  FakePlatform platform;
  File locked, plain;
  explicit LockedFarm(const std::string& name) : file(name), platform(file.path) {
    make_farm(platform, 4);
    Book book = open_book(platform);
    plain = give(book, {})->file;
    GiveRequest request;
    request.lock = GiveRequest::Lock{Passphrase("nine wet boots"), needs_of(platform).random};
    locked = give(book, request)->file;
  }
};

const Item* field(AppRun& run, std::string_view name) { return run.app().items().find(Role::Field, name); }
bool can_press(AppRun& run, std::string_view name) {
  const Item* item = run.app().items().find(Role::Button, name);
  return item && item->enabled;
}

}  // namespace

TEST_CASE("locks: a file is given locked, and opens with what was typed") {
  for (const Look& look : {small_phone(), desktop()}) {
    TempBook file("lock-give");
    FakePlatform phone(file.path);
    make_farm(phone, 4);
    AppRun run(phone, look);
    REQUIRE(run.press("Book…"));
    REQUIRE(run.press("Give a part, or lock it"));
    CHECK(can_press(run, "Give handover file"));
    CHECK_FALSE(field(run, "Passphrase"));
    REQUIRE(run.press("Lock with a passphrase"));
    CHECK(run.shows("Whoever takes the file needs it. A lost passphrase cannot be recovered by anybody…"));
    CHECK(run.shows("Only this file is locked…"));
    CHECK_FALSE(can_press(run, "Give locked file…"));
    // Seen while it is typed, unless its person would rather not.
    REQUIRE(field(run, "Passphrase"));
    CHECK(field(run, "Passphrase")->kind == FieldKind::Code);
    REQUIRE(run.press("Show what is typed"));
    CHECK(field(run, "Passphrase")->kind == FieldKind::Secret);
    REQUIRE(run.type("Passphrase", " Compás 9 "));
    REQUIRE(run.press("Give locked file"));
    REQUIRE(phone.given.size() == 1);
    const File& given = phone.given.front();
    CHECK(std::find(phone.said.begin(), phone.said.end(), "Locking the file. This takes a moment.") !=
          phone.said.end());
    CHECK(given.name == "locked-2026-05-14.steepbook");
    CHECK(is_locked(given.bytes));
    const auto opened = unlock(given.bytes, Passphrase(" Compás 9 "));
    REQUIRE(opened);
    FakePlatform other;
    Book there = open_book(other);
    REQUIRE(take_in(there, {given.name, *opened, ""}));
    CHECK(there.digest() == run.book().digest());
    CHECK(run.book().handed_over()->not_given == 0);

    // Not locked again by itself, and nothing typed is remembered once one has left.
    run.app().back();
    run.settle();
    REQUIRE(run.press("Give a part, or lock it"));
    REQUIRE(run.press("Give handover file"));
    CHECK_FALSE(is_locked(phone.given.back().bytes));
    REQUIRE(run.press("Lock with a passphrase"));
    CHECK(field(run, "Passphrase")->value.empty());
  }
}

TEST_CASE(
    "locks: a locked file asks for its passphrase, a wrong one may be mended, and left alone nothing has happened") {
  for (const Look& look : {small_phone(), desktop()}) {
    LockedFarm office("lock-take-office");
    TempBook file("lock-take");
    FakePlatform phone(file.path);
    {
      Book mine = open_book(phone);
      REQUIRE(take_in(mine, office.plain));
      Book theirs = open_book(office.platform);
      add(theirs, "note",
          {reference_value("of", theirs.records("bed")->front().id), text_field_value("text", "gate left open")},
          *Id::parse(office.platform.settings["person"]));
      GiveRequest request;
      request.lock = GiveRequest::Lock{Passphrase("nine wet boots"), needs_of(office.platform).random};
      office.locked = give(theirs, request)->file;
    }
    phone.clock = office.platform.clock;
    AppRun run(phone, look);
    const Hash before = run.book().digest();
    for (int i = 0; i < 2; ++i) phone.files_to_pick.push_back(office.locked);
    REQUIRE(run.press("Book…"));
    REQUIRE(run.press("Take one in"));
    CHECK(run.shows("This file is locked with a passphrase"));
    REQUIRE(field(run, "Passphrase"));
    CHECK(field(run, "Passphrase")->kind == FieldKind::Secret);
    REQUIRE(run.press("Open it"));
    CHECK(run.shows("Type a passphrase first…"));
    REQUIRE(run.type("Passphrase", "nine wet boot"));
    REQUIRE(run.press("Open it"));
    CHECK(run.shows("The passphrase does not fit, or the file was damaged on the way…"));
    CHECK(run.book().digest() == before);
    // What was typed stands there still: one letter was missing.
    CHECK(field(run, "Passphrase")->value == "nine wet boot");
    REQUIRE(run.press("Cancel"));
    CHECK(run.book().digest() == before);
    CHECK_FALSE(field(run, "Passphrase"));

    REQUIRE(run.press("Take one in"));
    REQUIRE(field(run, "Passphrase"));
    CHECK(field(run, "Passphrase")->value.empty());
    REQUIRE(run.press("Show what is typed"));
    CHECK(field(run, "Passphrase")->kind == FieldKind::Code);
    REQUIRE(run.type("Passphrase", "nine wet boots"));
    REQUIRE(run.press("Open it"));
    CHECK(run.shows("1 change is new here"));
    CHECK(run.book().digest() == before);
    REQUIRE(run.press("Take it in"));
    CHECK(run.book().digest() == open_book(office.platform).digest());
  }
}

TEST_CASE("locks: the first file of all may be a locked one") {
  LockedFarm office("lock-first-office");
  FakePlatform phone;
  phone.files_to_pick.push_back(office.locked);
  AppRun run(phone, small_phone());
  REQUIRE(run.press("Take the farm from a file…"));
  REQUIRE(run.type("Passphrase", "nine wet boots"));
  REQUIRE(run.press("Open it"));
  REQUIRE(run.press("Take it in"));
  REQUIRE(run.press("Done"));
  CHECK(run.shows("Today"));
  CHECK(run.book().name() == "Alder Reach");
}

TEST_CASE("locks: two starts of a business are joined by a locked file too") {
  LockedFarm office("lock-join-office");
  TempBook file("lock-join");
  FakePlatform phone(file.path);
  std::uint8_t other_chance[8];
  phone.random(other_chance);  // Else both books would have one id.
  make_farm(phone, 2);
  phone.files_to_pick.push_back(office.locked);
  AppRun run(phone, small_phone());
  REQUIRE(run.press("Book…"));
  REQUIRE(run.press("Take one in"));
  REQUIRE(run.type("Passphrase", "nine wet boots"));
  REQUIRE(run.press("Open it"));
  REQUIRE(run.type("Same business, two starts? Type the other book's name to join them", "Alder Reach"));
  REQUIRE(run.press("Join"));
  REQUIRE(run.press("Take it in"));
  CHECK(run.book().joined().size() == 2);
  const auto history = run.book().history(run.book().id());
  REQUIRE(history);
  const Id answered = history->back().change.person;
  CHECK_FALSE(answered.is_nil());
  CHECK(answered.text() == phone.settings["person"]);
}

TEST_CASE("locks: damaged behind the lock, it says so and the passphrase is not blamed") {
  LockedFarm office("lock-damaged-office");
  FakePlatform phone;
  office.locked.bytes.resize(office.locked.bytes.rfind('\n', office.locked.bytes.size() - 2) + 1);
  phone.files_to_pick.push_back(office.locked);
  AppRun run(phone, small_phone());
  REQUIRE(run.press("Take the farm from a file…"));
  REQUIRE(run.type("Passphrase", "nine wet boots"));
  REQUIRE(run.press("Open it"));
  CHECK(run.shows("This file stops early…"));
  CHECK_FALSE(run.book().is_started());
}

TEST_CASE("locks: a watched folder has nobody to ask, and says so") {
  LockedFarm office("lock-watch-office");
  TempBook file("lock-watch");
  FakePlatform desk(file.path);
  {
    Book mine = open_book(desk);
    REQUIRE(take_in(mine, office.plain));
  }
  AppRun run(desk, desktop());
  const Hash before = run.book().digest();
  REQUIRE(run.app().arrived(office.locked));
  run.settle();
  CHECK(desk.said.back().find("locked-2026-05-14.steepbook is locked with a passphrase") == 0);
  CHECK(run.book().digest() == before);
  // Nobody need have seen that: it waits where files come and go.
  REQUIRE(run.press("Book…"));
  CHECK(run.shows("A locked file came"));
  REQUIRE(run.press("Open it"));
  CHECK_FALSE(run.app().arrived(office.locked));  // Not while one is being opened.
  REQUIRE(run.type("Passphrase", "nine wet boots"));
  REQUIRE(run.press("Open it"));
  CHECK(run.shows("Nothing new in this file"));
  REQUIRE(run.press("Done"));
  CHECK_FALSE(run.shows("A locked file came"));
  REQUIRE(run.app().arrived(office.locked));
  run.settle();
  REQUIRE(run.press("Open it"));
  REQUIRE(run.press("Cancel"));
  CHECK_FALSE(run.shows("A locked file came"));
}

TEST_CASE("locks: in Spanish") {
  LockedFarm office("lock-spanish-office");
  FakePlatform phone;
  phone.device_language = "es";
  phone.files_to_pick.push_back(office.locked);
  AppRun run(phone, small_phone());
  REQUIRE(run.press("Tomar la finca de un archivo…"));
  CHECK(run.shows("Este archivo está protegido con una contraseña"));
  REQUIRE(run.type("Contraseña", "otra"));
  REQUIRE(run.press("Abrirlo"));
  CHECK(run.shows("La contraseña no corresponde…"));
}
