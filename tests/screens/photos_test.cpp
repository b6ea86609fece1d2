// Photos on the pages of records: chosen, kept, shown, missing, saved, given.
#include <doctest/doctest.h>

#include "book/photos.h"
#include "handover/take.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

std::string jpeg(char shade) { return "\xFF\xD8\xFF\xE0" + std::string(2000, shade); }

struct PhotoRun {
  TempBook file{"photos"};
  FakePlatform phone{file.path};
  PhotoRun() { make_farm(phone, 4); }
  /// Back from forms, which have no tabs.
  static void to_tabs(AppRun& run) {
    while (run.app().can_go_back()) {
      run.app().back();
      run.settle();
    }
  }
  static void to_bed(AppRun& run) {
    to_tabs(run);
    REQUIRE(run.press("Beds"));
    REQUIRE(run.press("Bed N1…"));
  }
};

}  // namespace

TEST_CASE("a photo is chosen, said what it shows, kept, seen on its bed and alone, saved again") {
  PhotoRun farm;
  farm.phone.cannot = {Verb::Camera, Verb::ShareFile};
  AppRun run(farm.phone);
  PhotoRun::to_bed(run);
  REQUIRE(run.shows("Photos"));
  CHECK(run.find("Add a photo")->role == Role::FilePick);
  CHECK(run.find("Add a photo")->picks == PickKind::Photo);
  farm.phone.files_to_pick.push_back({"IMG_7.jpg", jpeg('r'), "image/jpeg", Moment{1778792000000}});
  REQUIRE(run.press("Add a photo"));
  REQUIRE(run.shows("Keep the photo"));
  CHECK(run.find("When it was taken")->value == "2026-05-14 13:53");  // The file's own time, on the farm's clock.
  REQUIRE(run.type("What it shows", "aphids at the lane end"));
  REQUIRE(run.press("Keep the photo"));
  REQUIRE(run.shows("aphids at the lane end…"));
  CHECK(farm.phone.photo_store.photos[sha256(jpeg('r'))] == jpeg('r'));
  const auto photos = all_photos(run.book());
  REQUIRE(photos);
  REQUIRE(photos->size() == 1);
  CHECK(photos->front().caption == "aphids at the lane end");
  CHECK(photos->front().at->at == Moment{1778791980000});
  CHECK(farm.phone.count("decode 256") == 1);
  REQUIRE(run.press("aphids at the lane end…"));
  CHECK(farm.phone.count("decode 1600") >= 1);
  CHECK(run.shows("JPEG, 3 kB"));
  REQUIRE(run.press("Save the photo"));
  farm.phone.answer();
  REQUIRE(farm.phone.given.size() == 1);
  CHECK(farm.phone.given[0].name == "IMG_7.jpg");
  CHECK(farm.phone.given[0].bytes == jpeg('r'));
  REQUIRE(run.press("Its record"));
  CHECK(run.shows("Strike…"));
}

TEST_CASE(
    "a file that is no photo is refused at once; a time that does not read is asked for again; nothing chosen is no "
    "trouble") {
  PhotoRun farm;
  AppRun run(farm.phone);
  PhotoRun::to_bed(run);
  CHECK(run.shows("Take a photo"));
  REQUIRE(run.press("Add a photo"));
  CHECK(!run.shows("Keep the photo"));
  farm.phone.files_to_pick.push_back({"a.gif", "GIF89a", "image/gif"});
  REQUIRE(run.press("Take a photo"));
  CHECK(run.shows("This is not a photo that can be kept here…"));
  farm.phone.files_to_pick.push_back({"b.jpg", jpeg('b'), "image/jpeg"});
  REQUIRE(run.press("Add a photo"));
  REQUIRE(run.type("When it was taken", "25:99"));
  REQUIRE(run.press("Keep the photo"));
  CHECK(run.shows("Keep the photo"));
  CHECK(farm.phone.photo_store.photos.empty());
  REQUIRE(run.type("When it was taken", ""));
  REQUIRE(run.press("Keep the photo"));
  CHECK(!run.shows("Keep the photo"));
  CHECK(farm.phone.photo_store.photos.size() == 1);
}

TEST_CASE(
    "a photo whose bytes are elsewhere has a place that says where; a dropped one fills it, or belongs to the record "
    "in sight") {
  PhotoRun farm;
  {
    AppRun run(farm.phone);
    PhotoRun::to_bed(run);
    farm.phone.files_to_pick.push_back({"c.jpg", jpeg('c'), "image/jpeg"});
    REQUIRE(run.press("Add a photo"));
    REQUIRE(run.type("What it shows", "mildew"));
    REQUIRE(run.press("Keep the photo"));
    REQUIRE(run.book().set_copy_label("Ana's phone"));
  }
  farm.phone.photo_store.photos.clear();
  AppRun run(farm.phone);
  PhotoRun::to_bed(run);
  CHECK(run.shows("mildew, photo not on this copy (from Ana's phone)"));
  REQUIRE(run.press("mildew…"));
  CHECK(!run.shows("Save the photo"));
  CHECK(!run.shows("Send the photo"));
  CHECK(run.shows("photo not on this copy (from Ana's phone). It comes with the next file…"));
  // What comes by itself as a plain photo.
  run.app().dropped({"c.jpg", jpeg('c'), ""});
  run.settle();
  CHECK(run.shows("Nothing new but photos."));
  CHECK(run.shows("One photo comes with it (3 kB)."));
  CHECK(farm.phone.photo_store.photos.empty());
  REQUIRE(run.press("Take it in"));
  CHECK(farm.phone.photo_store.has(sha256(jpeg('c'))));
  PhotoRun::to_bed(run);
  CHECK(!run.shows("mildew, photo not on this copy…"));
  run.app().dropped({"d.jpg", jpeg('d'), ""});
  run.settle();
  REQUIRE(run.shows("Keep the photo"));
}

TEST_CASE("photos go along in a file, or not, as the page of giving says") {
  PhotoRun farm;
  AppRun run(farm.phone);
  PhotoRun::to_bed(run);
  farm.phone.files_to_pick.push_back({"e.jpg", jpeg('e'), "image/jpeg"});
  REQUIRE(run.press("Add a photo"));
  REQUIRE(run.press("Keep the photo"));
  const auto given_photos = [&](bool with) {
    PhotoRun::to_tabs(run);
    REQUIRE(run.press("Book…"));
    REQUIRE(run.press("Give a part, or lock it…"));
    CHECK(run.shows("One photo goes along (3 kB)."));
    if (!with) REQUIRE(run.press("Photos too"));
    CHECK(run.shows("One photo goes along (3 kB).") == with);
    farm.phone.given.clear();
    REQUIRE(run.press("Give…"));
    farm.phone.answer();
    REQUIRE(farm.phone.given.size() == 1);
    MemoryPhotos theirs;
    FakePlatform other;
    auto book = Book::open(other.book_place(), needs_of(other));
    REQUIRE(book);
    const auto taken = take_in(*book, farm.phone.given[0], {}, &theirs);
    REQUIRE(taken);
    CHECK(theirs.photos.size() == (with ? 1u : 0u));
  };
  given_photos(true);
  given_photos(false);
}

TEST_CASE("photos in Spanish") {
  PhotoRun farm;
  farm.phone.settings["language"] = "es";
  AppRun run(farm.phone);
  REQUIRE(run.press("Camas"));
  REQUIRE(run.press("Cama N1…"));
  CHECK(run.shows("Fotos"));
  farm.phone.files_to_pick.push_back({"f.jpg", jpeg('f'), "image/jpeg"});
  REQUIRE(run.press("Añadir una foto"));
  CHECK(run.shows("Qué muestra"));
  REQUIRE(run.press("Guardar la foto"));
  CHECK(run.shows("f.jpg…"));
}
