// Lanes of this copy: its identity. Ids are cheap, so on any doubt new ones are taken.
#include "base/text.h"
#include "book/store.h"

namespace steep {
namespace {

/// In the anchor's place after a file was given while 'Not saved': it fits no lane.
constexpr std::string_view kGivenUnsaved = "given unsaved";

std::string anchor_of(const Store& store) {
  std::string text;
  for (const auto& [id, lane] : store.lanes)
    if (lane.mine) text += (text.empty() ? "" : " ") + id.text();  // One line: settings may be kept in lines.
  return text;
}

LaneRow* lane_in_use(Store& store, const Part& part) {
  for (auto& [id, lane] : store.lanes)
    if (lane.mine && lane.part == part) return &lane;
  return nullptr;
}

Result<LaneRow*> mint(Store& store, const Part& part) {
  LaneRow lane;
  lane.id = make_lane_id(store.needs.random);
  lane.part = part;
  TRY_ASSIGN(lane.part_row, store.part_row(part));
  lane.mine = lane.ours = true;
  auto query = store.db.query(
      "INSERT INTO lane(uid, part, label, mine, ours, last_seq, tip, told, given, confirmed) "
      "VALUES(?,?,'',1,1,0,?,0,0,0)");
  lane.tip = chain_start(lane.id);
  query.bind(1, lane.id).bind(2, lane.part_row).bind_bytes(3, lane.tip);
  TRY(query.run());
  lane.row = store.db.last_id();
  store.lane_ids[lane.row] = lane.id;
  return &(store.lanes[lane.id] = std::move(lane));
}

}  // namespace

Result<LaneRow*> own_lane(Store& store, const Part& part) {
  LaneRow* house = lane_in_use(store, Part{});
  if (house == nullptr) {
    TRY_ASSIGN(house, mint(store, Part{}));
    house->copy = house->id;
    TRY(store.save_lane(*house));
  }
  if (part == Part{}) return house;
  LaneRow* lane = lane_in_use(store, part);
  if (lane == nullptr) {
    TRY_ASSIGN(lane, mint(store, part));
    lane->copy = house->id;
    TRY(store.save_lane(*lane));
  }
  return lane;
}

Result<void> retire_lanes(Store& store) {
  for (auto& [id, lane] : store.lanes) {
    if (!lane.mine) continue;
    lane.mine = false;
    if (lane.label.empty()) lane.label = store.book->copy_label();
    TRY(store.save_lane(lane));
  }
  store.kept.clear();  // Codes say which copy gave them.
  return {};
}

std::optional<Book::Befell> anchor_differs(const Store& store) {
  const std::string lanes = anchor_of(store);
  if (lanes.empty() || !store.needs.read_anchor) return std::nullopt;  // Nothing to go on with, or nowhere to ask.
  const std::string kept = store.needs.read_anchor();
  if (kept == lanes) return std::nullopt;
  return kept == kGivenUnsaved ? Book::Befell::GivenUnsaved : Book::Befell::Restored;
}

void write_anchor(const Store& store) {
  if (!store.needs.write_anchor) return;
  store.needs.write_anchor(store.spoiled ? std::string(kGivenUnsaved) : anchor_of(store));
}

// ---- What befell this copy, until somebody has read it -----------------------------------------

namespace {
constexpr std::string_view kNotice = "notice";
constexpr std::pair<Book::Befell, std::string_view> kBefell[] = {{Book::Befell::Restored, "restored"},
                                                                 {Book::Befell::Continued, "continued"},
                                                                 {Book::Befell::GivenUnsaved, "given-unsaved"}};
}  // namespace

Result<void> note_befell(Store& store, Book::Befell befell) {
  for (const auto& [what, word] : kBefell) {
    if (what != befell) continue;
    auto query = store.db.query("INSERT OR REPLACE INTO setting(key, value) VALUES(?,?)");
    query.bind(1, kNotice).bind(2, std::string(word) + ' ' + std::to_string(store.needs.now().at.ms));
    TRY(query.run());
  }
  return {};
}

std::optional<Book::Notice> Book::notice() const {
  auto query = inside_->db.query("SELECT value FROM setting WHERE key=?");
  query.bind(1, kNotice);
  if (!query.next()) return std::nullopt;
  const std::string text = query.text(0);
  const std::size_t space = text.find(' ');
  for (const auto& [what, word] : kBefell)
    if (text.substr(0, space) == word)
      return Notice{
          what,
          Moment{space == std::string::npos ? 0 : parse_int(std::string_view(text).substr(space + 1)).value_or(0)}};
  return std::nullopt;
}

Result<void> Book::notice_read() {
  TRY_ASSIGN(auto scope, WriteScope::begin(*inside_));
  auto query = inside_->db.query("DELETE FROM setting WHERE key=?");
  query.bind(1, kNotice);
  TRY(query.run());
  return scope.commit();
}

}  // namespace steep
