// What other copies are known to have, and how far our own changes have come.
#include <algorithm>
#include <optional>

#include "base/text.h"
#include "book/store.h"

namespace steep {
namespace {

constexpr std::string_view kGivenAt = "given_at", kConfirmedAt = "confirmed_at", kConfirmedBy = "confirmed_by";

Result<std::string> setting(const Database& db, std::string_view key) {
  auto query = db.query("SELECT value FROM setting WHERE key=?");
  query.bind(1, key);
  std::string value;
  if (query.next()) value = query.text(0);
  TRY(query.done());
  return value;
}

Result<void> set(const Database& db, std::string_view key, std::string_view value) {
  auto query = db.query("INSERT OR REPLACE INTO setting(key, value) VALUES(?,?)");
  query.bind(1, key).bind(2, value);
  return query.run();
}

Result<Moment> moment_setting(const Database& db, std::string_view key) {
  TRY_ASSIGN(const std::string& text, setting(db, key));
  return Moment{parse_int(text).value_or(0)};
}

/// Sequence of the last line written here that the tip builds on, 0 = none. Above it the tip's chain may be that of a twin
/// or of this copy before it was restored, with other lines under the numbers of ours.
Result<std::int64_t> own_line_under(const Store& store, std::int64_t lane, const ChangeRef& tip) {
  auto at_tip = store.db.query("SELECT hash FROM change WHERE lane=? AND seq=?");
  at_tip.bind(1, lane).bind(2, tip.seq);
  std::optional<Hash> hash;
  while (at_tip.next())
    if (const Hash one = at_tip.hash(0); tag_of(one) == tip.tag) hash = one;
  TRY(at_tip.done());
  for (std::int64_t seq = tip.seq; hash && seq > 0; --seq) {
    auto line = store.db.query("SELECT prev, batch IS NULL FROM change WHERE lane=? AND seq=? AND hash=?");
    line.bind(1, lane).bind(2, seq).bind_bytes(3, *hash);
    hash.reset();
    if (line.next()) {
      if (line.integer(1) != 0) return seq;
      hash = line.hash(0);
    }
    TRY(line.done());
  }
  return 0;
}

/// A tip of ours that came back in somebody's file: what it builds on is elsewhere.
Result<bool> confirm(Store& store, const ChangeRef& tip) {
  const auto found = store.lanes.find(tip.lane);
  if (found == store.lanes.end() || !found->second.ours || tip.seq <= found->second.confirmed) return false;
  TRY_ASSIGN(const std::int64_t confirmed, own_line_under(store, found->second.row, tip));
  if (confirmed <= found->second.confirmed) return false;
  found->second.confirmed = confirmed;
  found->second.given = std::max(found->second.given, confirmed);
  TRY(store.save_lane(found->second));
  return true;
}

std::string photo_key(const Hash& photo, const std::optional<Id>& to = {}) {
  return "photo." + hex(photo) + (to ? "." + to->text() : "");
}

struct Count {
  std::int64_t lines = 0, oldest = 0;
};
/// Lines of the lane after `from` up to `to` that were written here. To one in use nobody else added any.
Result<Count> count(const Store& store, const LaneRow& lane, std::int64_t from, std::int64_t to) {
  auto query = store.db.query("SELECT count(*), min(wall) FROM change WHERE lane=? AND seq>? AND seq<=?" +
                              std::string(lane.mine ? "" : " AND batch IS NULL"));
  query.bind(1, lane.row).bind(2, from).bind(3, to);
  Count result;
  if (query.next()) result = {query.integer(0), query.integer(1)};
  TRY(query.done());
  return result;
}

}  // namespace

Result<std::vector<Book::Peer>> Book::peers() const {
  std::vector<Peer> peers;
  auto query = inside_->db.query("SELECT copy, label, heard, given, tips FROM peer ORDER BY heard DESC, copy");
  while (query.next())
    peers.push_back({query.id(0), query.text(1), Moment{query.integer(2)}, Moment{query.integer(3)},
                     parse_refs(query.text_view(4))});
  TRY(query.done());
  return peers;
}

Result<void> keep_peer(Store& store, const Book::Peer& peer) {
  bool confirmed = false;
  std::vector<std::string> tips;
  for (const ChangeRef& tip : peer.tips) {
    TRY_ASSIGN(const bool fresh, confirm(store, tip));
    confirmed = confirmed || fresh;
    tips.push_back(tip.text());
  }
  auto query = store.db.query("INSERT OR REPLACE INTO peer(copy, label, heard, given, tips) VALUES(?,?,?,?,?)");
  query.bind(1, peer.copy).bind(2, peer.label).bind(3, peer.heard.ms).bind(4, peer.given.ms).bind(5, join(tips, " "));
  TRY(query.run());
  if (confirmed) {
    TRY(set(store.db, kConfirmedAt, std::to_string(peer.heard.ms)));
    TRY(set(store.db, kConfirmedBy, peer.label));
  }
  return {};
}

Result<void> Book::note_peer(const Peer& peer) {
  TRY_ASSIGN(auto scope, WriteScope::begin(*inside_));
  TRY(keep_peer(*inside_, peer));
  return scope.commit();
}

Result<Book::HandedOver> Book::handed_over() const {
  HandedOver result;
  for (const auto& [id, lane] : inside_->lanes) {
    if (!lane.ours || lane.last_seq == 0) continue;
    TRY_ASSIGN(const Count& confirmed, count(*inside_, lane, 0, lane.confirmed));
    TRY_ASSIGN(const Count& given, count(*inside_, lane, lane.confirmed, std::max(lane.confirmed, lane.given)));
    TRY_ASSIGN(const Count& open, count(*inside_, lane, std::max(lane.confirmed, lane.given), lane.last_seq));
    result.confirmed += confirmed.lines;
    result.given += given.lines;
    if (open.lines > 0 && (result.not_given == 0 || open.oldest < result.not_given_since.ms))
      result.not_given_since = {open.oldest};
    result.not_given += open.lines;
  }
  TRY_ASSIGN(result.given_at, moment_setting(inside_->db, kGivenAt));
  TRY_ASSIGN(result.confirmed_at, moment_setting(inside_->db, kConfirmedAt));
  TRY_ASSIGN(result.confirmed_by, setting(inside_->db, kConfirmedBy));
  return result;
}

Result<Moment> Book::photo_given(const Hash& photo, const std::optional<Id>& to) const {
  return moment_setting(inside_->db, photo_key(photo, to));
}

Result<void> Book::note_given(std::span<const ChangeRef> tips, bool while_unsaved, std::span<const Hash> photos,
                              const std::optional<Id>& to) {
  Store& store = *inside_;
  if (while_unsaved) {
    // What was given may be lost here and written anew under the same numbers: an anchor that fits no
    // lane makes the next start take new ones, even if this very database is an older state by then.
    store.spoiled = true;
    write_anchor(store);
    return {};
  }
  TRY_ASSIGN(auto scope, WriteScope::begin(store));
  for (const ChangeRef& tip : tips) {
    const auto lane = store.lanes.find(tip.lane);
    if (lane == store.lanes.end() || !lane->second.ours || lane->second.given >= tip.seq) continue;
    lane->second.given = tip.seq;
    TRY(store.save_lane(lane->second));
  }
  const std::string now = std::to_string(store.needs.now().at.ms);
  for (const Hash& photo : photos) {
    TRY(set(store.db, photo_key(photo), now));
    if (to) TRY(set(store.db, photo_key(photo, to), now));
  }
  TRY(set(store.db, kGivenAt, now));
  return scope.commit();
}

}  // namespace steep
