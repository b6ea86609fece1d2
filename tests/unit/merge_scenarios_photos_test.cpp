// Merge scenario 26: a photo whose bytes come with the record, later, never, or wrong.
#include "book/called.h"
#include "book/photos.h"
#include "handover/give_photos.h"
#include "tests/memory_photos.h"
#include "tests/unit/breaking_disk.h"
#include "tests/unit/hand_file.h"
#include "tests/unit/scenario_farm.h"

#include <filesystem>

using namespace steep;
using namespace steep::test;

namespace {

/// As far as its signature a JPEG: SOI and the marker after it (ITU-T T.81, table B.1).
std::string jpeg(std::size_t size, char filling = 'x') { return "\xFF\xD8\xFF\xE0" + std::string(size - 4, filling); }

Id photograph(Copy& copy, MemoryPhotos& store, const Id& of, std::string bytes, std::string caption) {
  return done(add_photo(*copy.book, store, {of, std::move(bytes), "IMG_1.jpg", std::move(caption), {}}, {})).record;
}
/// A file with the photos that go along.
File with_photos(const Copy& copy, MemoryPhotos& store, GiveRequest request = {}) {
  const auto wanted = got(photos_to_give(*copy.book, request, store));
  read_photos(store, wanted, [&](std::vector<PhotoBytes> read) { request.photos = std::move(read); });
  return file_of(copy, std::move(request));
}
TakePlan plan_of(Copy& copy, const File& file, MemoryPhotos* store) {
  TakeJob job(*copy.book, file, {}, store);
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) MESSAGE(job.problem().word.key, " ", job.problem().place);
  REQUIRE(job.stage() == TakeJob::Stage::Planned);
  return job.plan();
}
Photo only_photo(const Copy& copy, const Id& of) {
  const auto photos = got(photos_of(*copy.book, of));
  REQUIRE(photos.size() == 1);
  return photos[0];
}

struct TwoPhones {
  Farm2 farm;
  MemoryPhotos anas, offices;
  std::string bytes = jpeg(150'000);
  Hash hash = sha256(bytes);
  Id photo = photograph(farm.ana.copy, anas, farm.dose, bytes, "aphids at the lane end");
};

}  // namespace

TEST_CASE("scenario 26: a photo's bytes never sent: the record stands, its place says from which copy they can come") {
  TwoPhones two;
  const File file = file_of(two.farm.ana.copy);
  const TakePlan plan = plan_of(two.farm.office, file, &two.offices);
  CHECK(plan.photos_coming == 0);
  CHECK(plan.photos_missing == 1);
  CHECK(got(take_in(*two.farm.office.book, file, {}, &two.offices)).photos == 0);
  const Photo photo = only_photo(two.farm.office, two.farm.dose);
  CHECK(photo.hash == two.hash);
  CHECK(photo.size == 150'000);
  CHECK(photo.type == "jpeg");
  CHECK(photo.caption == "aphids at the lane end");
  CHECK(!two.offices.has(photo.hash));
  CHECK(lane_label(*two.farm.office.book, photo.lane) == "Ana's phone");
  CHECK(two.farm.both_agree());
  // It goes on to others as it came, without bytes; whoever gives says so.
  CHECK(got(photos_to_give(*two.farm.office.book, {}, two.offices)).not_here == 1);
}

TEST_CASE(
    "scenario 26: the bytes come in the same file, in a later one, or as a plain photo, also when nothing else is "
    "new") {
  TwoPhones two;
  Copy& office = two.farm.office;
  SUBCASE("in the same file, gzip or plain") {
    for (const Packing packing : {Packing::Gzip, Packing::Plain}) {
      two.offices.photos.clear();
      const File file = with_photos(two.farm.ana.copy, two.anas, {.packing = packing});
      CHECK(plan_of(office, file, &two.offices).photos_coming == 1);
      CHECK(plan_of(office, file, &two.offices).photo_bytes == 150'000);
      CHECK(plan_of(office, file, &two.offices).photos_missing == 0);
      CHECK(got(take_in(*office.book, file, {}, &two.offices)).photos == 1);
      CHECK(two.offices.photos[two.hash] == two.bytes);
    }
  }
  SUBCASE("later") {
    hand(two.farm.ana.copy, office);
    const File file = with_photos(two.farm.ana.copy, two.anas);
    const TakePlan plan = plan_of(office, file, &two.offices);
    CHECK(plan.fresh == 0);
    CHECK(!plan.nothing_new());
    CHECK(got(take_in(*office.book, file, {}, &two.offices)).photos == 1);
    CHECK(two.offices.photos[two.hash] == two.bytes);
    CHECK(plan_of(office, file, &two.offices).nothing_new());
    CHECK(got(take_in(*office.book, file, {}, &two.offices)).photos == 0);
  }
  SUBCASE("as a plain photo") {
    CHECK(refusal(take_in(*office.book, {"IMG_1.jpg", two.bytes, ""}, {}, &two.offices)) == "take.photo_unknown");
    hand(two.farm.ana.copy, office);
    const std::int64_t changes = office.book->change_count();
    CHECK(got(take_in(*office.book, {"IMG_1.jpg", two.bytes, ""}, {}, &two.offices)).photos == 1);
    CHECK(two.offices.photos[two.hash] == two.bytes);
    CHECK(office.book->change_count() == changes);
    CHECK(refusal(take_in(*office.book, {"IMG_2.jpg", jpeg(500), ""}, {}, &two.offices)) == "take.photo_unknown");
  }
  CHECK(two.farm.both_agree());
}

TEST_CASE("scenario 26: a wrong hash refuses the file naming the photo; the records come from a clean one") {
  TwoPhones two;
  const std::string good = with_photos(two.farm.ana.copy, two.anas, {.packing = Packing::Plain}).bytes;
  two.anas.photos[two.hash].back() = 'y';  // What lies there is not what its hash says.
  GiveRequest request{.packing = Packing::Plain};
  request.photos = {{two.hash, "aphids at the lane end", two.anas.photos[two.hash]}};
  const File bad = file_of(two.farm.ana.copy, request);
  const Hash before = stored(two.farm.office);
  const auto taken = take_in(*two.farm.office.book, bad, {}, &two.offices);
  REQUIRE(!taken);
  CHECK(std::string(taken.error().word.key) == "take.photo");
  CHECK(taken.error().values == std::vector<std::string>{"aphids at the lane end"});
  CHECK(stored(two.farm.office) == before);
  CHECK(two.offices.photos.empty());
  // The reader of a photo store refuses it too: a giver with a damaged photo gives the others.
  CHECK(with_photos(two.farm.ana.copy, two.anas, {.packing = Packing::Plain}).bytes.find("{\"photo\":") ==
        std::string::npos);
  hand(two.farm.ana.copy, two.farm.office);
  CHECK(only_photo(two.farm.office, two.farm.dose).hash == two.hash);
  CHECK(two.farm.both_agree());
  // And the photo from the file that was good.
  CHECK(got(take_in(*two.farm.office.book, {"x", good, ""}, {}, &two.offices)).photos == 1);
  CHECK(two.offices.photos[two.hash] == two.bytes);
}

TEST_CASE("scenario 26: a photo that no record names is not kept; an old program passes over the bytes") {
  TwoPhones two;
  HandFile file(two.farm.book().id());
  file.header.minor = 1;
  file.header.photos = 1;
  file.more = {write_photo({sha256(jpeg(900)), 900, PhotoType::Jpeg, "nobody's"}), write_photo_piece(jpeg(900))};
  CHECK(got(take_in(*two.farm.office.book, {"x", file.text(), ""}, {}, &two.offices)).photos == 0);
  CHECK(two.offices.photos.empty());
  // A file without photos is of format 1.0, byte for byte as before there were any.
  CHECK(lines_of(two.farm.ana.copy).find("\"major\":1,\"minor\":0,") != std::string::npos);
  CHECK(with_photos(two.farm.ana.copy, two.anas, {.packing = Packing::Plain}).bytes.find("\"major\":1,\"minor\":1,") !=
        std::string::npos);
}

TEST_CASE(
    "scenario 26: what is beyond the most that goes in one file goes in the next ones; parts and one copy's needs "
    "narrow it") {
  TwoPhones two;
  two.farm.ana.copy.clock += kHour;
  photograph(two.farm.ana.copy, two.anas, two.farm.dose, jpeg(200'000, 'b'), "second");
  two.farm.ana.copy.clock += kHour;
  photograph(two.farm.ana.copy, two.anas, two.farm.brew, jpeg(300'000, 'c'), "third");
  Book& book = two.farm.book();
  std::set<Hash> came;
  for (int files = 0; files < 2; ++files) {
    const auto some = got(photos_to_give(book, {}, two.anas, 400'000));
    CHECK(some.bytes <= 400'000);
    CHECK(some.left_out == (files == 0 ? 2 : 1));
    std::vector<Hash> given;
    for (const auto& one : some.photos) given.push_back(one.hash);
    CHECK(book.note_given({}, false, given));
    came.insert(given.begin(), given.end());
    two.farm.ana.copy.clock += kHour;
  }
  CHECK(came.size() == 3);
  GiveRequest house;
  for (const Lane& lane : book.lanes())
    if (lane.part.farm.is_nil()) house.parts.push_back(lane.part);
  const auto of_house = got(photos_to_give(book, house, two.anas));
  REQUIRE(of_house.photos.size() == 1);
  CHECK(of_house.photos[0].name == "third");
  // The office has told what records it has. Their photos went out to others, and once they did to it, not again.
  exchange(two.farm.ana.copy, two.farm.office);
  GiveRequest to_office;
  to_office.lacking_at = two.farm.office.book->copy();
  CHECK(got(photos_to_give(book, to_office, two.anas)).photos.size() == 3);
  const std::vector<Hash> all(came.begin(), came.end());
  CHECK(book.note_given({}, false, all, to_office.lacking_at));
  CHECK(got(photos_to_give(book, to_office, two.anas)).photos.empty());
  photograph(two.farm.ana.copy, two.anas, two.farm.brew, jpeg(700, 'd'), "fourth");
  CHECK(got(photos_to_give(book, to_office, two.anas)).photos.size() == 1);
}

TEST_CASE("scenario 26: a photo reaches each copy, whoever had it before; what a copy wrote itself is not sent back") {
  TwoPhones two;
  Copy &ana = two.farm.ana.copy, &office = two.farm.office;
  Copy third("Marek's phone", 41);
  const auto to = [&](const Copy& copy) {
    GiveRequest request;
    request.lacking_at = copy.book->copy();
    return request;
  };
  hand(ana, third);
  exchange(ana, office);
  hand(third, ana);
  for (const Copy* copy : {&third, &office}) {
    const auto wanted = got(photos_to_give(*ana.book, to(*copy), two.anas));
    REQUIRE(wanted.photos.size() == 1);
    const std::vector<Hash> given{wanted.photos[0].hash};
    CHECK(ana.book->note_given({}, false, given, to(*copy).lacking_at));
    CHECK(got(photos_to_give(*ana.book, to(*copy), two.anas)).photos.empty());
  }
  photograph(office, two.offices, two.farm.dose, jpeg(900, 'o'), "the office's");
  REQUIRE(take_in(*ana.book, with_photos(office, two.offices), {}, &two.anas));
  CHECK(got(photos_to_give(*ana.book, to(office), two.anas)).photos.empty());
  CHECK(got(photos_to_give(*ana.book, to(third), two.anas)).photos.size() == 1);
}

TEST_CASE("scenario 26: struck, set aside, rescued: the bytes stay, and the record finds them again") {
  TwoPhones two;
  Copy& office = two.farm.office;
  const File file = with_photos(two.farm.ana.copy, two.anas);
  REQUIRE(take_in(*office.book, file, {}, &two.offices));
  const std::int64_t batch = got(office.book->batches()).front().row;
  REQUIRE(office.book->set_aside(batch, true));
  CHECK(got(photos_of(*office.book, two.farm.dose)).empty());
  CHECK(two.offices.has(two.hash));
  REQUIRE(office.book->set_aside(batch, false));
  CHECK(only_photo(office, two.farm.dose).hash == two.hash);
  // With its parent struck the photo is struck too, and still goes along: it is kept as evidence.
  done(strike(*office.book, two.farm.dose, "logged twice", {}));
  CHECK(only_photo(office, two.farm.dose).struck == "logged twice");
  CHECK(got(photos_to_give(*office.book, {}, two.offices)).photos.size() == 1);
  // A book that was rescued from a page has records alone: its photos are as if never sent.
  sqlite3_int64 size = 0;
  unsigned char* bytes = sqlite3_serialize(two.farm.book().db().handle(), "main", &size, 0);
  const File rescued{"book.sqlite", {reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(size)}, ""};
  sqlite3_free(bytes);
  Copy desk("Desk", 31);
  MemoryPhotos desks;
  REQUIRE(take_in(*desk.book, rescued, {}, &desks));
  CHECK(only_photo(desk, two.farm.dose).caption == "aphids at the lane end");
  CHECK(got(take_in(*desk.book, {"photo.jpg", two.bytes, ""}, {}, &desks)).photos == 1);
}

TEST_CASE("scenario 26: the power fails at each write of an import with photos: no record is there before its photo") {
  BreakingDisk::make();
  namespace files = std::filesystem;
  const files::path folder = files::temp_directory_path() /
                             ("steepbook-photos-" + std::to_string(std::hash<std::string>{}(STEEPBOOK_SOURCE_DIR)));
  Copy ana("Ana's phone", 1);
  MemoryPhotos anas;
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id rig = add(*ana.book, "rig", {text_field_value("name", "Cart")});
  for (char mark = 'a'; mark < 'f'; ++mark) photograph(ana, anas, rig, jpeg(1000, mark), std::string(1, mark));
  const File file = with_photos(ana, anas);
  int before = 0, after = 0;
  for (int at = 1;; ++at) {
    files::remove_all(folder);
    files::create_directories(folder);
    const std::string path = (folder / "book.sqlite").string();
    MemoryPhotos store;  // As a disk: what was kept is there after the power fails.
    const auto open = [&](bool breaking) {
      BookNeeds needs;
      needs.now = [] { return Stamp{{kSpring2026}, -240}; };
      needs.random = [](std::span<std::uint8_t> bytes) { std::fill(bytes.begin(), bytes.end(), std::uint8_t{7}); };
      auto opened = Book::open({path, breaking ? BreakingDisk::kName : "", true}, std::move(needs));
      REQUIRE(opened);
      return std::make_unique<Book>(std::move(*opened));
    };
    open(false).reset();
    {
      const auto book = open(true);
      BreakingDisk::arm(BreakingDisk::Power, at);
      (void)take_in(*book, file, {}, &store);
    }
    const bool struck = BreakingDisk::struck();
    BreakingDisk::arm(BreakingDisk::None, 0);
    const auto again = open(false);
    const auto photos = got(all_photos(*again));
    ++(photos.empty() ? before : after);
    CHECK((photos.empty() || photos.size() == 5));
    for (const Photo& photo : photos) CHECK(store.has(photo.hash));
    if (!struck) break;
  }
  CHECK(before > 3);
  CHECK(after > 0);
  files::remove_all(folder);
}

TEST_CASE("scenario 26: no room for a photo: a sentence, and the book as before") {
  TwoPhones two;
  two.offices.full = true;
  const File file = with_photos(two.farm.ana.copy, two.anas);
  const Hash before = two.farm.office.book->digest();
  CHECK(refusal(take_in(*two.farm.office.book, file, {}, &two.offices)) == "file.cannot_write");
  CHECK(two.farm.office.book->digest() == before);
  two.offices.full = false;
  CHECK(got(take_in(*two.farm.office.book, file, {}, &two.offices)).photos == 1);
  CHECK(two.farm.both_agree());
}
