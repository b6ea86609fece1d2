// Photos beside the book, and their lines in a handover file.
#include "book/photos.h"

#include "handover/base64.h"
#include "tests/memory_photos.h"
#include "tests/unit/hand_file.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

std::string jpeg(std::size_t size) { return "\xFF\xD8\xFF\xE1" + std::string(size - 4, 'j'); }

/// What reading the whole file says; "(whole)" when nothing.
std::string reading(const std::string& text) {
  auto reader = FileReader::open(text);
  if (!reader) return std::string(reader.error().word.key);
  for (;;) {
    const auto event = reader->next();
    if (!event) return std::string(event.error().word.key);
    if (!*event) return "(whole)";
  }
}

/// A file of one photo, said to be so large and of such a hash.
struct PhotoFile {
  HandFile file{Id{}};
  std::string bytes = jpeg(100'000);
  PhotoHead head{sha256(bytes), 100'000, PhotoType::Jpeg, "foam"};
  std::vector<std::string> pieces = {write_photo_piece(bytes.substr(0, 45'000)),
                                     write_photo_piece(bytes.substr(45'000, 45'000)),
                                     write_photo_piece(bytes.substr(90'000))};
  PhotoFile() {
    file.header.minor = 1;
    file.header.photos = 1;
  }
  std::string text() {
    file.more = {write_photo(head)};
    file.more.insert(file.more.end(), pieces.begin(), pieces.end());
    return file.text();
  }
};

}  // namespace

TEST_CASE("base 64: the test vectors of RFC 4648, section 10, both ways; one spelling only") {
  const std::pair<std::string_view, std::string_view> vectors[] = {{"", ""},
                                                                   {"f", "Zg=="},
                                                                   {"fo", "Zm8="},
                                                                   {"foo", "Zm9v"},
                                                                   {"foob", "Zm9vYg=="},
                                                                   {"fooba", "Zm9vYmE="},
                                                                   {"foobar", "Zm9vYmFy"}};
  for (const auto& [bytes, text] : vectors) {
    CHECK(base64(bytes) == text);
    CHECK(from_base64(text) == bytes);
  }
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  CHECK(from_base64(base64(all)) == all);
  for (const std::string_view bad :
       {"Zg", "Zg=", "Zg==Zg==", "Zh==", "Zm9=", "Z===", "====", "Zm 9", "Zm9v\n", "Zm-v", "Zm_v", "Zm9vYg==="})
    CHECK(!from_base64(bad));
}

TEST_CASE("a photo is known by its content: JPEG, PNG, WebP; others are refused in a sentence") {
  using namespace std::string_view_literals;
  CHECK(photo_type("\xFF\xD8\xFF\xDB..."sv) == PhotoType::Jpeg);
  CHECK(photo_type("\x89PNG\r\n\x1A\n\0\0\0\rIHDR"sv) == PhotoType::Png);
  CHECK(photo_type("RIFF\x24\0\0\0WEBPVP8 "sv) == PhotoType::Webp);
  for (const std::string_view other :
       {"GIF89a"sv, "BM......"sv, "RIFF\x24\0\0\0WAVE"sv, "RIFF"sv, "<svg/>"sv, "\xFF\xD8"sv, ""sv,
        "\0\0\0\x18"
        "ftypheic"sv})
    CHECK(!photo_type(other));
  FarmBook farm;
  MemoryPhotos store;
  const auto add = [&](std::string bytes) {
    return add_photo(farm.book(), store, {farm.beds[0], std::move(bytes), "a.jpg", "", {}}, {});
  };
  CHECK(refusal(add("GIF89a")) == "photo.type");
  CHECK(refusal(add("")) == "photo.type");
  CHECK(refusal(add(jpeg(kMaxPhoto + 1))) == "photo.large");
  CHECK(store.photos.empty());
  CHECK(got(photos_of(farm.book(), farm.beds[0])).empty());
  CHECK(done(add(jpeg(kMaxPhoto))).written);
}

TEST_CASE("a photo of a record: in its part, its bytes kept before it, once on each record, its name only a label") {
  FarmBook farm;
  MemoryPhotos store;
  const Stamp taken = *parse_stamp("2026-05-14T17:40:00-04:00");
  const std::string bytes = jpeg(5000);
  const PhotoGiven given{farm.beds[0], bytes, "../../etc/N1\x01 lane.jpg", "  aphids\n ", taken};
  const Id id = done(add_photo(farm.book(), store, given, {})).record;
  CHECK(store.photos[sha256(bytes)] == bytes);
  const auto photos = got(photos_of(farm.book(), farm.beds[0]));
  REQUIRE(photos.size() == 1);
  CHECK(photos[0].id == id);
  CHECK(photos[0].name == "N1 lane.jpg");
  CHECK(photos[0].caption == "aphids");
  CHECK(photos[0].at->at == taken.at);
  CHECK(photos[0].part == *farm.book().part_of(farm.beds[0]));
  CHECK(photo_file_name(photos[0]) == "N1 lane.jpg");
  CHECK(refusal(add_photo(farm.book(), store, given, {})) == "photo.twice");
  PhotoGiven other = given;
  other.of = farm.beds[1];
  CHECK(done(add_photo(farm.book(), store, other, {})).written);
  CHECK(store.photos.size() == 1);
  // Struck it may be added again; not in a time to come, not of nothing.
  done(strike(farm.book(), id, "wrong bed", {}));
  CHECK(done(add_photo(farm.book(), store, given, {})).written);
  other.at = Stamp{farm.book().now().at + 40 * kDay, 0};
  other.of = farm.beds[2];
  CHECK(!add_photo(farm.book(), store, other, {}));
  other.of = farm.book().new_record();
  CHECK(refusal(add_photo(farm.book(), store, other, {})) == "record.not-here");
  // A store without room: no record.
  MemoryPhotos full;
  full.full = true;
  other = given;
  other.of = farm.beds[3];
  CHECK(refusal(add_photo(farm.book(), full, other, {})) == "file.cannot_write");
  CHECK(got(photos_of(farm.book(), farm.beds[3])).empty());
  // Which are here whole.
  store.photos[sha256(bytes)].back() = '?';
  const PhotoCheck damaged = got(check_photos(farm.book(), store));
  CHECK(damaged.damaged.size() == 1);
  CHECK(damaged.whole == 0);
  CHECK(got(check_photos(farm.book(), full)).missing.size() == 1);
}

TEST_CASE("lines of a photo in a file: whole, or refused, by each thing that can be wrong with them") {
  CHECK(reading(PhotoFile().text()) == "(whole)");
  const auto with = [](auto spoil) {
    PhotoFile file;
    spoil(file);
    return reading(file.text());
  };
  CHECK(with([](PhotoFile& f) { f.head.hash[0] ^= 1; }) == "take.photo");
  CHECK(with([](PhotoFile& f) { f.head.type = PhotoType::Png; }) == "take.photo");
  CHECK(with([](PhotoFile& f) { f.head.size = 99'999; }) == "take.photo");     // More comes than was said.
  CHECK(with([](PhotoFile& f) { f.head.size = 100'001; }) == "take.damaged");  // The trailer where bytes should stand.
  CHECK(with([](PhotoFile& f) { std::swap(f.pieces[0], f.pieces[1]); }) == "take.photo");
  CHECK(with([](PhotoFile& f) { f.pieces.pop_back(); }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.pieces.push_back(f.pieces[0]); }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.pieces[1][20] = '*'; }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.pieces[1].insert(9, "\"x\":1,"); }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.pieces[1] = write_photo_piece(""); }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.file.header.photos = 2; }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.file.header.photos = 0; }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.file.header.minor = 0; }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.head.size = 0; }) == "take.damaged");
  CHECK(with([](PhotoFile& f) { f.head.size = static_cast<std::int64_t>(kMaxPhoto) + 1; }) == "take.too_large");
  CHECK(with([](PhotoFile& f) { f.head.size = kMaxInteger; }) == "take.too_large");
  // A photo may stand between lanes as well as behind them, the largest one too.
  const auto largest = [](std::size_t size) {
    PhotoFile file;
    file.bytes = jpeg(size);
    file.head = {sha256(file.bytes), static_cast<std::int64_t>(size), PhotoType::Jpeg, ""};
    file.pieces.clear();
    for (std::size_t at = 0; at < size; at += kPhotoPiece)
      file.pieces.push_back(write_photo_piece(file.bytes.substr(at, kPhotoPiece)));
    HandLane lane(9);
    Id rig;
    rig.bytes = {4};
    lane.save(rig, "rig", {text_field_value("name", "Cart")});
    file.file.lanes = {lane};
    return reading(file.text());
  };
  CHECK(largest(kMaxPhoto) == "(whole)");
  CHECK(largest(kMaxPhoto + 1) == "take.too_large");
  // A piece is no longer than a line may be.
  CHECK(write_photo_piece(std::string(kPhotoPiece, 'x')).size() < kMaxLine);
  PhotoFile longer;
  longer.pieces = {write_photo_piece(longer.bytes.substr(0, 45'003)),
                   write_photo_piece(longer.bytes.substr(45'003, 45'000)),
                   write_photo_piece(longer.bytes.substr(90'003))};
  CHECK(reading(longer.text()) == "take.damaged");
}

TEST_CASE("a file with photos cut anywhere is cut off; any byte flipped refuses it") {
  PhotoFile file;
  file.bytes = jpeg(200);
  file.head = {sha256(file.bytes), 200, PhotoType::Jpeg, "foam"};
  file.pieces = {write_photo_piece(file.bytes.substr(0, 90)), write_photo_piece(file.bytes.substr(90))};
  const std::string text = file.text();
  REQUIRE(reading(text) == "(whole)");
  for (std::size_t i = 1; i < text.size(); ++i) {
    CHECK(reading(text.substr(0, i)) != "(whole)");
    std::string flipped = text;
    flipped[i] = static_cast<char>(flipped[i] ^ 1);
    CHECK(reading(flipped) != "(whole)");
  }
}
