// Lanes of this copy: its identity. Ids are cheap, so on any doubt new ones are taken.
#include "base/text.h"
#include "book/store.h"

namespace steep {
namespace {

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
  return {};
}

bool anchor_matches(const Store& store) {
  const std::string lanes = anchor_of(store);
  if (lanes.empty() || !store.needs.read_anchor) return true;  // Nothing to go on with, or nowhere to ask.
  return store.needs.read_anchor() == lanes;
}

void write_anchor(const Store& store) {
  if (!store.needs.write_anchor) return;
  store.needs.write_anchor(store.spoiled ? std::string() : anchor_of(store));
}

}  // namespace steep
