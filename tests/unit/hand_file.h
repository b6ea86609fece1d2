#pragma once
/// Handover files put together by hand: what another program, a newer version or a forger might write.
/// Sums, counts and chains are right unless a test spoils them, so that the reader gets as far as the
/// thing that is tested.

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "handover/file_reader.h"
#include "handover/line_source.h"

namespace steep::test {

inline std::string packed(std::string_view text) {
  Packer packer;
  packer.add(text);
  return packer.finish();
}

/// The text of a file, as far as it can be unpacked.
inline std::string unpacked(std::string_view bytes) {
  auto source = LineSource::open(bytes);
  std::string text;
  for (;;) {
    const auto line = source ? source->next() : tl::unexpected<Problem>(source.error());
    if (!line) return text + "(damaged)";
    if (!*line) return text;
    (text += **line) += '\n';
  }
}

/// A lane by a stranger's hand.
struct HandLane {
  Id id;
  Part part;
  std::string label = "elsewhere";
  std::vector<std::string> bodies;
  std::vector<Hash> hashes;

  explicit HandLane(std::uint8_t mark, Part of = {}) : part(of) { id.bytes = {mark, 7, 7}; }
  ChangeRef tip() const { return ref_of(id, static_cast<std::int64_t>(bodies.size()), hashes.back()); }
  HandLane& add(std::string body) {
    hashes.push_back(chain_next(hashes.empty() ? chain_start(id) : hashes.back(), body));
    bodies.push_back(std::move(body));
    return *this;
  }
  /// The next line as its own act; change what you like, then add(write_change(…)).
  Change next(const Id& record, std::string kind, std::vector<FieldValue> fields,
              std::vector<ChangeRef> seen = {}) const {
    Change change;
    change.lane = id;
    change.seq = change.act = static_cast<std::int64_t>(bodies.size()) + 1;
    if (change.seq == 1) change.part = part;
    change.t = change.wall = 1'778'796'000'000 + change.seq;
    change.record = record;
    change.kind = std::move(kind);
    change.act_ends = true;
    change.seen = std::move(seen);
    change.fields = std::move(fields);
    return change;
  }
  HandLane& save(const Id& record, std::string kind, std::vector<FieldValue> fields, std::vector<ChangeRef> seen = {}) {
    return add(write_change(next(record, std::move(kind), std::move(fields), std::move(seen))));
  }
};

struct HandFile {
  FileHeader header;
  std::vector<HandLane> lanes;
  std::string header_line;        ///< Instead of the header's own.
  std::vector<std::string> more;  ///< Frame lines behind the header.

  /// Of this book, by nobody.
  explicit HandFile(const Id& book) { header.book = book; }

  std::string text() const {
    FileHeader counted = header;
    std::string body;
    for (const std::string& line : more) (body += line) += '\n';
    for (const HandLane& lane : lanes) {
      body += write_lane({lane.id, lane.part, lane.label, lane.id, 1, chain_start(lane.id),
                          static_cast<std::int64_t>(lane.bodies.size())}) +
              '\n';
      for (const std::string& line : lane.bodies) {
        (body += line) += '\n';
        counted.bytes += static_cast<std::int64_t>(line.size()) + 1;
      }
      body += write_end({lane.id, static_cast<std::int64_t>(lane.bodies.size()), lane.hashes.back()}) + '\n';
      counted.changes += static_cast<std::int64_t>(lane.bodies.size());
      ++counted.lanes;
    }
    const std::string all = (header_line.empty() ? write_header(counted) : header_line) + '\n' + body;
    return all + write_trailer({counted.changes, sha256(all)}) + '\n';
  }
};

}  // namespace steep::test
