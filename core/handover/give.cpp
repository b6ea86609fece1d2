#include "handover/give.h"

#include <algorithm>

#include "base/text.h"
#include "base/version.h"
#include "book/lane_tips.h"

namespace steep {
namespace {

/// First sequence the other copy may lack: one past its acknowledged tip, if that is a line we hold. Of a lane that is
/// forked there it named one a branch.
Result<std::int64_t> first_lacking(const Book& book, const Lane& lane, const Book::Peer* peer) {
  std::int64_t first = 1;
  if (!peer) return first;
  for (const ChangeRef& tip : peer->tips) {
    if (tip.lane != lane.id) continue;
    std::int64_t lines = 0;
    bool held = false;
    TRY(book.each_line(lane.id, 1, [&](const Book::Line& line) {
      if (line.seq > tip.seq) return false;
      ++lines;
      held = held || ref_of(lane.id, line.seq, line.hash) == tip;
      return true;
    }));
    // More lines than sequences: the lane is forked, and a tip says nothing of the other branch.
    if (held && lines == tip.seq) first = std::max(first, tip.seq + 1);
  }
  return first;
}

/// 'hill-farm-2026-05-14.steepbook': letters and digits only, so that every system takes the name.
std::string file_name(const Book& book, const GiveRequest& request) {
  std::string name;
  for (const char c : lower(request.lock ? "locked" : book.name())) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain)
      name += c;
    else if (!name.empty() && name.back() != '-')
      name += '-';
  }
  while (name.ends_with('-')) name.pop_back();
  if (name.empty()) name = "book";
  const Stamp now = book.now();
  const auto day = date_from_day_number((now.at.ms + now.offset_minutes * kMinute) / kDay);
  return name + "-" + date_text(day) + (request.packing == Packing::Gzip ? ".steepbook" : ".steepbook.txt");
}

FileHeader header_of(const Book& book, const GiveRequest& request) {
  FileHeader header;
  header.book = book.id();
  for (const Id& id : book.joined())
    if (id != header.book) header.joined.push_back(id);
  header.name = book.name();
  header.by = book.copy();
  header.label = book.copy_label();
  header.program = kProgramVersion;
  header.made = book.now().at;
  header.demo = book.is_demo();
  header.unsaved = request.unsaved;
  return header;
}

bool wanted(const GiveRequest& request, const Part& part) {
  return request.parts.empty() || std::find(request.parts.begin(), request.parts.end(), part) != request.parts.end();
}

}  // namespace

Result<Given> give(const Book& book, const GiveRequest& request) {
  const Snapshot snapshot = book.snapshot();
  if (!book.is_started()) return refuse(Trouble::NotFound, "give.no_book"_w);
  TRY_ASSIGN(const auto& peers, book.peers());
  const Book::Peer* peer = nullptr;
  for (const auto& known : peers)
    if (request.lacking_at == known.copy) peer = &known;

  FileHeader header = header_of(book, request);
  header.delta = peer != nullptr;
  std::vector<LaneLines> lanes;
  std::vector<ChangeRef> tips, bases;
  for (const Lane& lane : book.lanes()) {
    if (lane.last_seq == 0 || !wanted(request, lane.part)) continue;
    TRY_ASSIGN(const std::vector<ChangeRef>& held, unbroken_tips(book, lane));
    tips.insert(tips.end(), held.begin(), held.end());
    TRY_ASSIGN(const auto& from, first_lacking(book, lane, peer));
    if (from > 1)
      for (const ChangeRef& tip : peer->tips)
        if (tip.lane == lane.id && tip.seq + 1 == from && book.knows(tip)) bases.push_back(tip);
    lanes.push_back({lane, [&book, id = lane.id, from](const auto& then) { return book.each_line(id, from, then); }});
  }

  Given given;
  const Packing inside = request.lock ? Packing::Gzip : request.packing;
  TRY_ASSIGN(given.file.bytes, write_file(header, inside, lanes, tips, bases, request.photos));
  if (request.lock) {
    TRY_ASSIGN(given.file.bytes, lock(given.file.bytes, request.lock->passphrase, request.lock->random));
  }
  given.file.name = file_name(book, request);
  given.file.type = request.packing == Packing::Plain ? "text/plain"
                    : request.lock                    ? "application/octet-stream"
                                                      : "application/gzip";
  given.changes = header.changes;
  given.lanes = header.lanes;
  given.tips = std::move(tips);
  for (const PhotoBytes& photo : request.photos) given.photos.push_back(photo.hash);
  return given;
}

}  // namespace steep
