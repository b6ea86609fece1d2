// The reader of handover files. For any bytes: no crash, a decision, and of a file that is read to its end every
// chain and count is as the file says, computed here once more.
#include <cstdlib>

#include "fuzz.h"
#include "handover/file_reader.h"
#include "tests/unit/hand_file.h"

using namespace steep;
using namespace steep::test;

namespace {

void must(bool holds) {
  if (!holds) std::abort();
}

int run(const std::uint8_t* data, std::size_t size) {
  auto reader = FileReader::open({reinterpret_cast<const char*>(data), size});
  if (!reader) {
    must(!reader.error().word.key.empty());
    return 0;
  }
  std::int64_t lines = 0, said = 0, lanes = 0;
  Hash last{};
  for (;;) {
    const auto event = reader->next();
    must(reader->share() >= 0 && reader->share() <= 1);
    if (!event) {
      must(!event.error().word.key.empty());
      return 0;
    }
    if (!*event) break;
    switch ((*event)->what) {
      case FileEvent::Header: said = (*event)->header.changes; break;
      case FileEvent::Lane:
        last = (*event)->lane.prev;
        ++lanes;
        break;
      case FileEvent::Line:
        must((*event)->prev == last && (*event)->hash == chain_next(last, (*event)->body));
        must(read_change((*event)->body).has_value() && (*event)->body.size() <= kMaxLine);
        last = (*event)->hash;
        ++lines;
        break;
      case FileEvent::Photo:
        must(sha256((*event)->bytes) == (*event)->photo.hash && photo_type((*event)->bytes) == (*event)->photo.type);
        must((*event)->bytes.size() <= kMaxPhoto);
        break;
      case FileEvent::PhotoPiece:
      case FileEvent::Tip:
      case FileEvent::Base:
      case FileEvent::End: break;
    }
  }
  must(lines == said && lanes <= kMaxLanes);
  return 0;
}

std::vector<std::string> seeds() {
  Id book;
  book.bytes = {5, 5, 5};
  HandFile file(book);
  file.header.name = "Alder Reach";
  file.header.label = "Ana's phone";
  HandLane house(1), farm(2, Part{book, 2026});
  Id rig, dose;
  rig.bytes = {4, 5, 6};
  dose.bytes = {7, 8, 9};
  house.save(rig, "rig", {text_field_value("name", "Backpack ñ"), quantity_value("tank.volume", "4 gal")});
  house.save(rig, "rig", {text_field_value("struck", "sold")}, {house.tip()});
  farm.save(dose, "dose",
            {reference_value("what.load", rig), not_taken("what.volume"), list_value("people", {"a", "b"})});
  file.lanes = {house, farm};
  file.more = {write_tip("tip", house.tip()), write_tip("base", farm.tip())};
  std::vector<std::string> all = {file.text(), packed(file.text())};
  const std::string png = "\x89PNG\r\n\x1A\n" + std::string(300, 'p');
  HandFile photo = file;
  photo.header.minor = 1;
  photo.header.photos = 1;
  photo.more = {write_photo({sha256(png), static_cast<std::int64_t>(png.size()), PhotoType::Png, "aphids ñ"}),
                write_photo_piece(png.substr(0, 200)), write_photo_piece(png.substr(200))};
  all.push_back(photo.text());
  all.push_back(packed(photo.text()));
  file.header.minor = 3;
  file.header.demo = file.header.unsaved = file.header.delta = true;
  file.header.joined = {rig};
  file.more.push_back(R"({"later":["a","b"],"n":-3})");
  all.push_back(file.text());
  return all;
}

const FuzzEntry entry{{"handover-file", run, seeds}};

}  // namespace
