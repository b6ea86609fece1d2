// Two copies of one book, and a lane of another hand, for tests of merging.
#pragma once

#include "book_copies.h"

namespace steep::test {

/// Ana's phone and the office hold the same book with one rig in it.
struct Two {
  Copy ana{"Ana's phone", 1}, office{"Office", 2};
  Id rig;
  Two() {
    REQUIRE(ana.book->start("Alder Reach", false));
    rig = add(*ana.book, "rig", {text_field_value("name", "Backpack"), quantity_value("tank.volume", "4 gal")});
    take_all(office, ana);
  }
  void same() {
    meet(ana, office);
    CHECK(ana.book->digest() == office.book->digest());
    CHECK(ana.book->change_count() == office.book->change_count());
  }
};

/// A lane that no Book wrote: lines of another program or by a forger's hand.
struct ForeignLane {
  Id id;
  Part part;
  std::vector<Book::Line> lines;
  explicit ForeignLane(std::uint8_t mark, Part of = {}) : part(of) { id.bytes = {mark, 7, 7}; }
  ChangeRef tip() const { return ref_of(id, lines.back().seq, lines.back().hash); }
  void add(std::string body) {
    Book::Line line;
    line.seq = static_cast<std::int64_t>(lines.size()) + 1;
    line.prev = lines.empty() ? chain_start(id) : lines.back().hash;
    line.hash = chain_next(line.prev, body);
    line.body = std::move(body);
    lines.push_back(std::move(line));
  }
  /// One save as its own act, unless `act` names the act's first line.
  void add(const Id& record, std::string kind, std::vector<FieldValue> fields, std::vector<ChangeRef> seen = {},
           std::int64_t act = 0, bool ends = true) {
    add(write_change(change(record, std::move(kind), std::move(fields), std::move(seen), act, ends)));
  }
  Change change(const Id& record, std::string kind, std::vector<FieldValue> fields, std::vector<ChangeRef> seen = {},
                std::int64_t act = 0, bool ends = true) const {
    Change c;
    c.lane = id;
    c.seq = static_cast<std::int64_t>(lines.size()) + 1;
    if (c.seq == 1) c.part = part;
    c.t = c.wall = kSpring2026 + c.seq;
    c.record = record;
    c.kind = std::move(kind);
    c.act = act == 0 ? c.seq : act;
    c.act_ends = ends;
    c.seen = std::move(seen);
    c.fields = std::move(fields);
    return c;
  }
  Section section(std::size_t from = 1, std::size_t to = 1'000'000) const {
    Section s;
    s.lane.id = id;
    s.lane.part = part;
    s.lane.label = "elsewhere";
    for (const auto& line : lines)
      if (static_cast<std::size_t>(line.seq) >= from && static_cast<std::size_t>(line.seq) <= to)
        s.lines.push_back(line);
    return s;
  }
};

inline std::vector<ChangeRef> heads(const Book& book, const Id& record) { return (*book.record(record))->heads(); }

}  // namespace steep::test
