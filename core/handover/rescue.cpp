#include "handover/rescue.h"

#include "base/version.h"
#include "book/book_file.h"
#include "book/photos.h"
#include "handover/file_writer.h"

namespace steep {

Result<RescuedLines> lines_of_book_file(std::string_view bytes) {
  TRY_ASSIGN(const BookFile& file, read_book_file(bytes));
  FileHeader header;
  header.book = file.book;
  header.joined = file.joined;
  header.name = file.name;
  header.demo = file.demo;
  header.program = kProgramVersion;
  header.unsaved = true;  // It acknowledges nothing: nobody gave it.
  std::vector<LaneLines> lanes;
  for (const BookFile::Section& section : file.lanes)
    lanes.push_back({section.lane, [&section](const std::function<bool(const Book::Line&)>& then) -> Result<void> {
                       for (const Book::Line& line : section.lines)
                         if (!then(line)) break;
                       return {};
                     }});
  RescuedLines rescued;
  TRY_ASSIGN(rescued.text, write_file(header, Packing::Plain, lanes));
  rescued.dropped = file.dropped;
  return rescued;
}

Result<std::string> lines_of_photo(const Book& book, const File& photo) {
  TRY(check_photo(photo.bytes));
  const Hash hash = sha256(photo.bytes);
  TRY_ASSIGN(const auto& named, photos_named(book));
  if (named.count(hash) == 0) return refuse(Trouble::BadInput, "take.photo_unknown"_w);
  FileHeader header;
  header.book = book.id();
  header.name = book.name();
  header.demo = book.is_demo();
  header.program = kProgramVersion;
  header.unsaved = true;  // It acknowledges nothing.
  return write_file(header, Packing::Plain, {}, {}, {}, {{hash, photo.name, photo.bytes}});
}

}  // namespace steep
