#pragma once
/// The lines of a handover file that are not changes: its header, what the giver has, the lanes' heads
/// and ends, the trailer. One flat JSON object a line.
///
/// {"format":"steepbook","major":1,"minor":0,"book":id,"joined":[ids],"name":"Hill Farm","by":copy,
///  "label":"Ana's phone","program":"0.1.0","made":ms,"kind":"full","lanes":4,"changes":312,"bytes":101532}
/// {"tip":lane,"n":812,"h":"8 hex"} …                what the giver has
/// {"base":lane,"n":500,"h":"8 hex"} …               what the taker must already have
/// {"lane":lane,"part":"house/2026","label":"Ana's phone","copy":copy,"from":501,"prev":"64 hex","count":312}
///   … change lines …
/// {"end":lane,"n":812,"hash":"64 hex"}
/// {"photo":"64 hex","size":412345,"type":"jpeg","name":"aphids.jpg"}        minor 1: bytes of a photo, by their SHA-256
///   {"bytes":"base 64"} …                           as many as make up its size
/// {"trailer":1,"changes":312,"sha256":"64 hex of all bytes before this line"}

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "base/result.h"
#include "base/sha256.h"
#include "book/change.h"
#include "book/photos.h"

namespace steep {

inline constexpr int kFormatMajor = 1, kFormatMinor = 1;
/// Of one line of bytes: with them it stays within kMaxLine.
inline constexpr std::size_t kPhotoPiece = 45'000;

struct FileHeader {
  int major = kFormatMajor, minor = 0;  ///< Minor 1 only where photos are in it: older programs pass over them.
  Id book;
  std::vector<Id> joined;  ///< Other ids the book answers to.
  std::string name;        ///< Of the book.
  Id by;                   ///< The giver's house lane; nil from a book file.
  std::string label;       ///< Of the giver's copy.
  std::string program;
  Moment made;
  bool delta = false;      ///< Only what the taker lacked; else whole lanes.
  std::int64_t lanes = 0;  ///< Sections that follow; a forked lane has several.
  std::int64_t changes = 0;
  std::int64_t bytes = 0;   ///< Of the change lines with their newlines.
  std::int64_t photos = 0;  ///< Whose bytes are in the file.
  bool demo = false;
  bool unsaved = false;  ///< Given while 'Not saved': acknowledges nothing.
};

struct LaneHead {
  Id lane;
  Part part;
  std::string label;
  Id copy;
  std::int64_t from = 1;
  Hash prev{};             ///< Hash of line from − 1; of the first line chain_start(lane).
  std::int64_t count = 0;  ///< Lines that follow, at least 1.
};

struct LaneEnd {
  Id lane;
  std::int64_t seq = 0;
  Hash hash{};
};

/// The head of a photo's bytes.
struct PhotoHead {
  Hash hash{};
  std::int64_t size = 0;  ///< Bytes, 1 … kMaxPhoto.
  PhotoType type = PhotoType::Jpeg;
  std::string name;  ///< For people, should the bytes not match the hash: caption, else the file's name.
};

struct Trailer {
  std::int64_t changes = 0;
  Hash sum{};
};

/// Each without its newline.
std::string write_header(const FileHeader& header);
std::string write_tip(std::string_view key, const ChangeRef& tip);  ///< key = 'tip' or 'base'
std::string write_lane(const LaneHead& head);
std::string write_end(const LaneEnd& end);
std::string write_photo(const PhotoHead& head);
std::string write_photo_piece(std::string_view bytes);
std::string write_trailer(const Trailer& trailer);

/// What a frame line is, by its first key.
enum class FrameLine { Header, Tip, Base, Lane, Change, End, Photo, Bytes, Trailer, Unknown };
FrameLine frame_line(std::string_view line);

/// Trouble::BadInput 'take.foreign' for something else, Unsupported 'take.newer' for a later major
/// format, with the giver's program version; Damaged 'take.damaged' for what breaks the grammar.
Result<FileHeader> read_header(std::string_view line);
Result<ChangeRef> read_tip(std::string_view line);
Result<LaneHead> read_lane(std::string_view line);
Result<LaneEnd> read_end(std::string_view line);
Result<PhotoHead> read_photo_head(std::string_view line);
/// At least one byte, at most kPhotoPiece.
Result<std::string> read_photo_piece(std::string_view line);
Result<Trailer> read_trailer(std::string_view line);

}  // namespace steep
