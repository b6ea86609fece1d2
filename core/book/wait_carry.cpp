// What stays in a tank takes its waits along into the next tankful: of the pass, and of the rig's next pass.
#include <algorithm>
#include <map>
#include <utility>

#include "book/wait_rules.h"

namespace steep {
namespace {

/// Of each rig, when it was washed: ms. What people disagree about cleaned nothing.
using Washes = std::map<Id, std::vector<std::int64_t>>;

Result<Washes> read_washes(const Book& book, const Doubts& doubts) {
  Washes washes;
  Query query = book.db().query("SELECT uid, \"of\", COALESCE(at, made_ms) FROM k_wash WHERE struck IS NULL");
  while (query.next())
    if (!doubts.has(query.id(0))) washes[query.id(1)].push_back(query.integer(2));
  TRY(query.done());
  return washes;
}

struct TankInTurn {
  TankTurn turn;
  TankFacts* tank;
};

bool is_one_tank(const TankTurn& a, const TankTurn& b) {
  return a.pass == b.pass || (a.rig == b.rig && !a.rig.is_nil());
}

/// May some of what was in the tank before still be in it?
bool carries(const TankInTurn& before, const TankInTurn& next, const Washes& washes) {
  if (!before.tank->may_stay) return false;
  if (before.turn.pass == next.turn.pass) return !next.tank->into_clean;
  const auto of_rig = washes.find(next.turn.rig);
  if (of_rig == washes.end()) return true;
  return std::none_of(of_rig->second.begin(), of_rig->second.end(), [&](std::int64_t washed) {
    return washed >= before.tank->washable && washed <= next.turn.start;
  });
}

/// Into `next`; false when all of it was in there already.
bool carry(const TankFacts& before, TankFacts& next) {
  bool is_new = before.has_tea && !next.has_tea;
  next.has_tea = next.has_tea || before.has_tea;
  for (const Id& lot : before.lots) {
    if (std::find(next.lots.begin(), next.lots.end(), lot) != next.lots.end()) continue;
    next.lots.push_back(lot);
    is_new = true;
  }
  return is_new;
}

}  // namespace

Result<void> WaitRules::carry_over(const Book& book, const Doubts& doubts) {
  TRY_ASSIGN(const Washes& washes, read_washes(book, doubts));
  std::vector<TankInTurn> in_order;
  for (auto& [id, tank] : tanks_)
    for (const TankTurn& turn : tank.turns) in_order.push_back({turn, &tank});
  std::sort(in_order.begin(), in_order.end(), [](const TankInTurn& a, const TankInTurn& b) {
    return a.turn != b.turn ? a.turn < b.turn : a.tank->load < b.tank->load;
  });
  std::vector<std::pair<const TankFacts*, TankFacts*>> steps;
  std::vector<const TankInTurn*>
      before;  // The one before, and others while it is in doubt whether that one came between.
  for (const TankInTurn& next : in_order) {
    if (!before.empty() && !is_one_tank(before.back()->turn, next.turn)) before.clear();
    for (const TankInTurn* one : before)
      if (carries(*one, next, washes)) steps.emplace_back(one->tank, next.tank);
    if (!next.tank->stands) continue;
    if (!doubts.has(next.tank->load) && !doubts.has(next.turn.pass)) before.clear();
    before.push_back(&next);
  }
  // Once, in the order of time; again only where people disagree about that order.
  for (bool again = true; again;) {
    again = false;
    for (const auto& [from, into] : steps) again = carry(*from, *into) || again;
  }
  return {};
}

}  // namespace steep
