#include "handover/frame.h"

#include <algorithm>

#include "base/text.h"
#include "handover/base64.h"
#include "handover/flat_object.h"

namespace steep {
namespace {

auto damaged(std::string_view key) { return refuse(Trouble::Damaged, "take.damaged"_w, {}, key); }

std::string hash_text(const Hash& hash) { return hex(hash); }
std::string tag_text(std::uint32_t tag) {
  const std::uint8_t bytes[] = {static_cast<std::uint8_t>(tag >> 24), static_cast<std::uint8_t>(tag >> 16),
                                static_cast<std::uint8_t>(tag >> 8), static_cast<std::uint8_t>(tag)};
  return hex(bytes);
}

Result<Id> id_of(const FlatObject& line, std::string_view key) {
  const auto id = Id::parse(line.text(key));
  if (!id) return damaged(key);
  return *id;
}

Result<Hash> hash_of(const FlatObject& line, std::string_view key) {
  Hash hash{};
  // In one spelling only, so that no byte of a file can be another unnoticed.
  if (!parse_hex(line.text(key), hash) || hex(hash) != line.text(key)) return damaged(key);
  return hash;
}

Result<std::int64_t> number_of(const FlatObject& line, std::string_view key, std::int64_t least = 0) {
  const auto number = line.integer(key);
  if (!number || *number < least || *number > kMaxInteger) return damaged(key);
  return *number;
}

}  // namespace

FrameLine frame_line(std::string_view line) {
  struct Start {
    std::string_view text;
    FrameLine what;
  };
  static constexpr Start kStarts[] = {
      {"{\"v\":", FrameLine::Change},      {"{\"lane\":", FrameLine::Lane},   {"{\"end\":", FrameLine::End},
      {"{\"format\":", FrameLine::Header}, {"{\"tip\":", FrameLine::Tip},     {"{\"base\":", FrameLine::Base},
      {"{\"photo\":", FrameLine::Photo},   {"{\"bytes\":", FrameLine::Bytes}, {"{\"trailer\":", FrameLine::Trailer}};
  for (const Start& start : kStarts)
    if (line.starts_with(start.text)) return start.what;
  return FrameLine::Unknown;
}

std::string write_header(const FileHeader& header) {
  std::vector<std::string> joined;
  for (const Id& id : header.joined) joined.push_back(id.text());
  FlatWriter out;
  out.text("format", "steepbook").integer("major", header.major).integer("minor", header.minor);
  out.text("book", header.book.text()).list("joined", joined).text("name", header.name);
  out.text("by", header.by.text()).text("label", header.label).text("program", header.program);
  out.integer("made", header.made.ms).text("kind", header.delta ? "delta" : "full");
  out.integer("lanes", header.lanes).integer("changes", header.changes).integer("bytes", header.bytes);
  if (header.photos > 0) out.integer("photos", header.photos);
  if (header.demo) out.integer("demo", 1);
  if (header.unsaved) out.integer("unsaved", 1);
  return out.finish();
}

std::string write_tip(std::string_view key, const ChangeRef& tip) {
  return FlatWriter().text(key, tip.lane.text()).integer("n", tip.seq).text("h", tag_text(tip.tag)).finish();
}

std::string write_lane(const LaneHead& head) {
  return FlatWriter()
      .text("lane", head.lane.text())
      .text("part", head.part.text())
      .text("label", head.label)
      .text("copy", head.copy.text())
      .integer("from", head.from)
      .text("prev", hash_text(head.prev))
      .integer("count", head.count)
      .finish();
}

std::string write_end(const LaneEnd& end) {
  return FlatWriter().text("end", end.lane.text()).integer("n", end.seq).text("hash", hash_text(end.hash)).finish();
}

constexpr std::string_view kBytesStart = "{\"bytes\":\"", kBytesEnd = "\"}";

std::string write_photo(const PhotoHead& head) {
  return FlatWriter()
      .text("photo", hash_text(head.hash))
      .integer("size", head.size)
      .text("type", photo_word(head.type))
      .text("name", head.name)
      .finish();
}

std::string write_photo_piece(std::string_view bytes) {
  return std::string(kBytesStart) + base64(bytes) + std::string(kBytesEnd);
}

std::string write_trailer(const Trailer& trailer) {
  return FlatWriter()
      .integer("trailer", 1)
      .integer("changes", trailer.changes)
      .text("sha256", hash_text(trailer.sum))
      .finish();
}

Result<FileHeader> read_header(std::string_view line) {
  const auto object = FlatObject::read(line);
  if (!object || object->text("format") != "steepbook") return refuse(Trouble::BadInput, "take.foreign"_w);
  FileHeader header;
  TRY_ASSIGN(const auto& major, number_of(*object, "major", 1));
  header.program = printable(object->text("program"));
  if (major > kFormatMajor) return refuse(Trouble::Unsupported, "take.newer"_w, {header.program});
  header.major = static_cast<int>(major);
  TRY_ASSIGN(const auto& minor, number_of(*object, "minor"));
  header.minor = static_cast<int>(std::min<std::int64_t>(minor, 1'000'000));
  TRY_ASSIGN(header.book, id_of(*object, "book"));
  for (const std::string& text : object->list("joined")) {
    const auto id = Id::parse(text);
    if (!id) return damaged("joined");
    header.joined.push_back(*id);
  }
  TRY_ASSIGN(header.by, id_of(*object, "by"));
  header.name = printable(object->text("name"));
  header.label = printable(object->text("label"));
  TRY_ASSIGN(header.made.ms, number_of(*object, "made"));
  header.delta = object->text("kind") == "delta";
  TRY_ASSIGN(header.lanes, number_of(*object, "lanes"));
  TRY_ASSIGN(header.changes, number_of(*object, "changes"));
  TRY_ASSIGN(header.bytes, number_of(*object, "bytes"));
  if (object->has("photos")) {
    TRY_ASSIGN(header.photos, number_of(*object, "photos", 1));
  }
  header.demo = object->integer("demo") == 1;
  header.unsaved = object->integer("unsaved") == 1;
  return header;
}

Result<ChangeRef> read_tip(std::string_view line) {
  const auto object = FlatObject::read(line);
  if (!object) return damaged("tip");
  TRY_ASSIGN(const Id lane, id_of(*object, object->has("tip") ? "tip" : "base"));
  TRY_ASSIGN(const auto& seq, number_of(*object, "n", 1));
  std::uint8_t bytes[4];
  if (!parse_hex(object->text("h"), bytes)) return damaged("h");
  const auto tag = static_cast<std::uint32_t>(bytes[0]) << 24 | static_cast<std::uint32_t>(bytes[1]) << 16 |
                   static_cast<std::uint32_t>(bytes[2]) << 8 | bytes[3];
  return ChangeRef{lane, seq, tag};
}

Result<LaneHead> read_lane(std::string_view line) {
  const auto object = FlatObject::read(line);
  if (!object) return damaged("lane");
  LaneHead head;
  TRY_ASSIGN(head.lane, id_of(*object, "lane"));
  const auto part = Part::parse(object->text("part"));
  if (!part) return damaged("part");
  head.part = *part;
  head.label = printable(object->text("label"));
  TRY_ASSIGN(head.copy, id_of(*object, "copy"));
  TRY_ASSIGN(head.from, number_of(*object, "from", 1));
  TRY_ASSIGN(head.prev, hash_of(*object, "prev"));
  TRY_ASSIGN(head.count, number_of(*object, "count", 1));
  if (head.from == 1 && head.prev != chain_start(head.lane)) return damaged("prev");
  return head;
}

Result<LaneEnd> read_end(std::string_view line) {
  const auto object = FlatObject::read(line);
  if (!object) return damaged("end");
  LaneEnd end;
  TRY_ASSIGN(end.lane, id_of(*object, "end"));
  TRY_ASSIGN(end.seq, number_of(*object, "n", 1));
  TRY_ASSIGN(end.hash, hash_of(*object, "hash"));
  return end;
}

Result<PhotoHead> read_photo_head(std::string_view line) {
  const auto object = FlatObject::read(line);
  if (!object) return damaged("photo");
  PhotoHead head;
  TRY_ASSIGN(head.hash, hash_of(*object, "photo"));
  TRY_ASSIGN(head.size, number_of(*object, "size", 1));
  if (head.size > static_cast<std::int64_t>(kMaxPhoto))
    return refuse(Trouble::BadInput, "take.too_large"_w, {}, "size");
  const auto type = photo_type_of_word(object->text("type"));
  if (!type) return damaged("type");
  head.type = *type;
  head.name = printable(object->text("name"));
  return head;
}

// The most common line of a file with photos, of one shape only: no need of the general reader.
Result<std::string> read_photo_piece(std::string_view line) {
  if (!line.starts_with(kBytesStart) || !line.ends_with(kBytesEnd) ||
      line.size() < kBytesStart.size() + kBytesEnd.size())
    return damaged("bytes");
  auto bytes = from_base64(line.substr(kBytesStart.size(), line.size() - kBytesStart.size() - kBytesEnd.size()));
  if (!bytes || bytes->empty() || bytes->size() > kPhotoPiece) return damaged("bytes");
  return std::move(*bytes);
}

Result<Trailer> read_trailer(std::string_view line) {
  const auto object = FlatObject::read(line);
  if (!object || object->integer("trailer") != 1) return damaged("trailer");
  Trailer trailer;
  TRY_ASSIGN(trailer.changes, number_of(*object, "changes"));
  TRY_ASSIGN(trailer.sum, hash_of(*object, "sha256"));
  return trailer;
}

}  // namespace steep
