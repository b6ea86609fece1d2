#include "handover/file_writer.h"

#include "handover/line_source.h"

namespace steep {
namespace {

/// One unbroken run of a lane. A lane forked by a restored copy gives several that share a beginning.
struct Section {
  const LaneLines* lines = nullptr;
  LaneHead head;
  Hash first{}, last{};
  std::int64_t last_seq = 0;
};

/// Puts each line to the section it continues, or begins one.
Result<void> find_sections(const LaneLines& lines, std::vector<Section>& all, FileHeader& header) {
  const std::size_t begin = all.size();
  return lines.each([&](const Book::Line& line) {
    Section* place = nullptr;
    for (std::size_t i = begin; i < all.size() && !place; ++i)
      if (all[i].last_seq + 1 == line.seq && all[i].last == line.prev) place = &all[i];
    if (!place) {
      const Lane& lane = lines.lane;
      place = &all.emplace_back();
      place->lines = &lines;
      place->head = {lane.id, lane.part, lane.label, lane.copy, line.seq, line.prev, 0};
      place->first = line.hash;
    }
    ++place->head.count;
    place->last = line.hash;
    place->last_seq = line.seq;
    header.changes += 1;
    header.bytes += static_cast<std::int64_t>(line.body.size()) + 1;
    return true;
  });
}

/// Collects the file, summing it as it grows.
class Out {
 public:
  explicit Out(Packing packing) : packing_(packing) {}
  void line(std::string_view text) {
    sum_.add(text);
    sum_.add("\n");
    put(text);
  }
  std::string finish(std::int64_t changes) {
    put(write_trailer({changes, sum_.finish()}));
    return packing_ == Packing::Gzip ? packer_.finish() : std::move(plain_);
  }

 private:
  void put(std::string_view text) {
    if (packing_ == Packing::Plain) {
      (plain_ += text) += '\n';
      return;
    }
    packer_.add(text);
    packer_.add("\n");
  }
  Packing packing_;
  Packer packer_;
  Sha256 sum_;
  std::string plain_;
};

Result<void> write_section(const Section& section, Out& out) {
  const LaneHead& head = section.head;
  out.line(write_lane(head));
  Hash last{};
  TRY(section.lines->each([&](const Book::Line& line) {
    if (line.seq < head.from) return true;
    if (line.seq >= head.from + head.count) return false;
    // Of a fork only the branch that this section began with and then met first.
    if (line.seq == head.from ? line.hash == section.first : line.prev == last) {
      out.line(line.body);
      last = line.hash;
    }
    return true;
  }));
  if (last != section.last) return refuse(Trouble::Damaged, "give.chain"_w, {head.label}, head.lane.text());
  out.line(write_end({head.lane, section.last_seq, last}));
  return {};
}

void write_photo_lines(const PhotoBytes& photo, Out& out) {
  const std::string_view bytes = photo.bytes;
  out.line(write_photo(
      {photo.hash, static_cast<std::int64_t>(bytes.size()), photo_type(bytes).value_or(PhotoType::Jpeg), photo.name}));
  for (std::size_t at = 0; at < bytes.size(); at += kPhotoPiece)
    out.line(write_photo_piece(bytes.substr(at, kPhotoPiece)));
}

}  // namespace

Result<std::string> write_file(FileHeader& header, Packing packing, const std::vector<LaneLines>& lanes,
                               const std::vector<ChangeRef>& tips, const std::vector<ChangeRef>& bases,
                               const std::vector<PhotoBytes>& photos) {
  std::vector<Section> sections;
  header.changes = header.bytes = 0;
  for (const LaneLines& lines : lanes) TRY(find_sections(lines, sections, header));
  header.lanes = static_cast<std::int64_t>(sections.size());

  header.photos = static_cast<std::int64_t>(photos.size());
  header.minor = photos.empty() ? 0 : 1;

  Out out(packing);
  out.line(write_header(header));
  for (const ChangeRef& tip : tips) out.line(write_tip("tip", tip));
  for (const ChangeRef& base : bases) out.line(write_tip("base", base));
  for (const Section& section : sections) TRY(write_section(section, out));
  for (const PhotoBytes& photo : photos) write_photo_lines(photo, out);
  return out.finish(header.changes);
}

}  // namespace steep
