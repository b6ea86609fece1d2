#include "book/check_scope.h"

#include <algorithm>
#include <array>

#include "book/dose_scan.h"
#include "book/doubts.h"
#include "book/tank_rest.h"

namespace steep {
namespace {

void sort_unique(std::vector<Id>& ids) {
  std::sort(ids.begin(), ids.end());
  ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
}

/// What a record in doubt may name in any version.
struct Naming {
  std::string_view kind, field;
};
constexpr Naming kNamings[] = {
    {"dose", "what.load"}, {"dose", "what.bed"}, {"harvest", "bed"}, {"load-line", "amount.lot"}, {"lot", "material"}};

/// Not a kind: a load that came after one in its tank.
constexpr std::string_view kRestIn = "rest in";

}  // namespace

CheckScope::CheckScope(const Book& book, Touched touched) : book_(book), touched_(std::move(touched)) {}

double CheckScope::share() const {
  return touched_.ids.empty() ? 1 : static_cast<double>(next_) / static_cast<double>(touched_.ids.size());
}

Result<bool> CheckScope::step() {
  if (!open_.empty()) {
    const auto [id, kind] = open_.back();
    open_.pop_back();
    TRY(follow(id, kind));
    return true;
  }
  if (next_ < touched_.ids.size()) {
    const Id& id = touched_.ids[next_++];
    const std::string kind = book_.kind_of(id);
    // Of a bed or material met on the way not all was followed that hangs together with its own change.
    if (kind == "bed" || kind == "material" || met_.insert(id).second) TRY(follow(id, kind));
    return true;
  }
  if (!picked_since_.empty()) {
    const auto [bed, since] = *picked_since_.begin();
    picked_since_.erase(picked_since_.begin());
    TRY(add_picked(bed, since));
    return true;
  }
  // One list a step: those of a large take are long.
  const std::array lists{&passes, &loads, &doses, &harvests, &sales, &lots, &brews, &dosed};
  if (sorted_ == lists.size()) return false;
  sort_unique(*lists[sorted_++]);
  return true;
}

Result<void> CheckScope::add(std::string_view sql, const Id& id, std::vector<Id>& into) const {
  Query query = book_.db().query(sql);
  query.bind(1, id);
  while (query.next())
    if (const Id found = query.id(0); !found.is_nil()) into.push_back(found);
  return query.done();
}

Result<void> CheckScope::go_on(std::string_view sql, const Id& id, std::string_view kind) {
  std::vector<Id> found;
  TRY(add(sql, id, found));
  for (const Id& one : found) go_on(one, kind);
  return {};
}

void CheckScope::go_on(const Id& id, std::string_view kind) {
  if (met_.insert(id).second) open_.emplace_back(id, kind);
}

/// A load whose own lines did not change: less of it has to be looked at.
void CheckScope::go_on_with_rest(const std::vector<Id>& next) {
  for (const Id& load : next)
    if (met_.count(load) == 0 && met_rest_.insert(load).second) open_.emplace_back(load, kRestIn);
}

Result<Said> CheckScope::ever_said(const Id& id) {
  const auto known = std::lower_bound(touched_.said.begin(), touched_.said.end(), id,
                                      [](const Said& said, const Id& wanted) { return said.record < wanted; });
  if (known != touched_.said.end() && known->record == id) return *known;
  Said said;
  said.record = id;
  Query query = book_.db().query("SELECT c.body FROM record r JOIN change c ON c.rec = r.id WHERE r.uid = ?");
  query.bind(1, id);
  while (query.next())
    if (read_change(query.text_view(0), line_)) said.add(line_);
  TRY(query.done());
  return said;
}

/// `kind` is empty when no line of it counts: none does any more, or all wait.
Result<void> CheckScope::follow(const Id& id, std::string_view kind) {
  if (kind == kRestIn) return follow_rest(id);
  Said said;
  said.kind = kind;
  if (names_others(kind)) {
    TRY_ASSIGN(said, ever_said(id));
  }
  if (said.kind == "dose") return follow_dose(id, said);
  if (said.kind == "load") return follow_load(id, said);
  if (said.kind == "load-line") {
    for (const Id& lot : said.ids("amount.lot")) lots.push_back(lot);
    for (const Id& load : said.ids("load")) go_on(load, "load");
  }
  if (said.kind == "pass") {
    passes.push_back(id);
    for (const Id& rig : said.ids("rig")) TRY(follow_rig(rig, said.since, id));
    return go_on("SELECT uid FROM k_load WHERE pass = ?", id, "load");
  }
  if (said.kind == "wash") return follow_wash(id, said);
  if (said.kind == "discard") return follow_discard(said);
  if (said.kind == "harvest") return follow_harvest(id, said);
  if (said.kind == "sale") {
    sales.push_back(id);
    for (const Id& harvest : said.ids("harvest")) harvests.push_back(harvest);
  }
  if (said.kind == "planting")
    for (const Id& bed : said.ids("bed")) TRY(follow_bed(bed));
  if (said.kind == "hold") return look_at_pickings(said.ids("bed"), said.since);
  if (said.kind == "release")
    for (const Id& hold : said.ids("hold")) go_on(hold, "hold");
  if (said.kind == "lot") return follow_lot(id);
  if (said.kind == "brew") brews.push_back(id);
  if (said.kind == "brew-line")
    for (const Id& lot : said.ids("amount.lot")) lots.push_back(lot);
  if (said.kind == "event")
    for (const Id& brew : said.ids("brew")) brews.push_back(brew);
  if (said.kind == "material") return follow_material(id);
  if (said.kind == "label-line")
    for (const Id& material : said.ids("material")) TRY(follow_material(material));
  if (said.kind == "farm")
    TRY(
        add("SELECT h.uid FROM k_farm f JOIN k_harvest h ON h.part >= substr(f.part, 1, 27) AND "
            "h.part < substr(f.part, 1, 26) || '0' WHERE f.uid = ?",
            id, harvests));
  if (said.kind == "bed") TRY(follow_earlier_ground(said));
  if (said.kind == "book" || said.kind == "farm" || said.kind == "block" || said.kind == "bed")
    return follow_ground(id, said.kind);
  return {};
}

Result<std::vector<Id>> CheckScope::in_doubt(const Id& named, std::string_view kind) {
  if (!in_doubt_) {
    TRY_ASSIGN(const Doubts& doubts, Doubts::read(book_));
    in_doubt_.emplace();
    for (const auto& [id, of_kind] : doubts.records())
      for (const Naming& naming : kNamings)
        if (naming.kind == of_kind)
          for (const FieldValue& reading : doubts.readings(id, naming.field))
            if (const auto of = Id::parse(reading.text)) (*in_doubt_)[{*of, of_kind}].push_back(id);
  }
  const auto found = in_doubt_->find({named, std::string(kind)});
  return found == in_doubt_->end() ? std::vector<Id>() : found->second;
}

Result<const SameGround*> CheckScope::same_ground() {
  if (!same_) {
    TRY_ASSIGN(same_, SameGround::read(book_));
  }
  return &*same_;
}

Result<const std::vector<Id>*> CheckScope::connected(const Id& bed) {
  const auto [place, is_new] = connected_.try_emplace(bed);
  if (is_new) {
    TRY_ASSIGN(const SameGround* same, same_ground());
    place->second = same->connected(bed);
  }
  return &place->second;
}

/// Every dose and picking on the ground of a bed.
Result<void> CheckScope::follow_bed(const Id& bed) {
  TRY_ASSIGN(const std::vector<Id>* beds, connected(bed));
  for (const Id& one : *beds) {
    if (!met_.insert(one).second) continue;
    TRY(add_picked(one, INT64_MIN));
    TRY(add("SELECT uid FROM k_dose WHERE what_bed = ?", one, doses));
  }
  return {};
}

/// What a bed was joined with, or made of, before.
Result<void> CheckScope::follow_earlier_ground(const Said& said) {
  for (const Id& other : said.ids("same_as")) TRY(follow_bed(other));
  for (const GroundPiece& piece : ground_pieces(said.made_of)) TRY(follow_bed(piece.bed));
  return {};
}

/// Ground that became one, or two again: what was said of it by the records that are no longer asked has gone too.
Result<void> CheckScope::follow_ground(const Id& id, std::string_view kind) {
  if (kind == "bed") {
    TRY_ASSIGN(const std::vector<Id>* beds, connected(id));
    if (beds->size() > 1) TRY(follow_bed(id));
    TRY(add_picked(id, INT64_MIN));
  } else {
    TRY_ASSIGN(const SameGround* same, same_ground());
    for (const Id& bed : same->shared()) TRY(follow_bed(bed));
  }
  if (found_again_) return {};
  found_again_ = true;
  Query query = book_.db().query(
      "SELECT r.uid, r.kind FROM review v JOIN record r ON r.id = v.rec WHERE v.why IN ('finding.picked-inside-wait', "
      "'finding.picked-while-held', 'finding.picked-under-hold', 'finding.crop-not-on-label')");
  while (query.next()) (query.text_view(1) == "harvest" ? harvests : doses).push_back(query.id(0));
  return query.done();
}

/// A dose, its load, and what was picked later on its bed.
Result<void> CheckScope::follow_dose(const Id& dose, const Said& said) {
  doses.push_back(dose);
  std::int64_t since = said.since;
  for (const Id& load : said.ids("what.load")) {
    dosed.push_back(load);
    TRY_ASSIGN(const std::int64_t begun, load_begun(book_, load));
    since = std::min(since, begun);
  }
  return look_at_pickings(said.ids("what.bed"), since);
}

/// A load with all that was sprayed from it. What it said before may be of another brew or pass.
Result<void> CheckScope::follow_load(const Id& load, const Said& said) {
  loads.push_back(load);
  for (const Id& brew : said.ids("mix.brew")) brews.push_back(brew);
  if (const std::vector<Id> of = said.ids("pass"); of.size() > 1)
    for (const Id& pass : of) TRY(add("SELECT uid FROM k_load WHERE pass = ?", pass, loads));
  // What stayed of it, or no longer does, is in the next one.
  TRY_ASSIGN(const std::vector<Id>& next, loads_following(book_, load));
  go_on_with_rest(next);
  return follow_sprayed(load);
}

/// All that was sprayed from a load.
Result<void> CheckScope::follow_sprayed(const Id& load) {
  TRY_ASSIGN(const std::vector<Id>& doubtful, in_doubt(load, "dose"));
  for (const Id& dose : doubtful) go_on(dose, "dose");
  return go_on("SELECT uid FROM k_dose WHERE what_load = ?", load, "dose");
}

/// A load that something may have stayed into, and on from tank to tank.
Result<void> CheckScope::follow_rest(const Id& load) {
  loads.push_back(load);
  TRY_ASSIGN(const std::vector<Id>& next, loads_after(book_, load));
  go_on_with_rest(next);
  return follow_sprayed(load);
}

/// The first tankful of a rig from then on: what had stayed in the tank before may be in it now, or no longer.
Result<void> CheckScope::follow_rig(const Id& rig, std::int64_t since, const Id& except) {
  TRY_ASSIGN(const std::vector<Id>& next, first_loads_since(book_, rig, Moment{since}, except));
  go_on_with_rest(next);
  return {};
}

/// A wash, where it stands now and where it stood.
Result<void> CheckScope::follow_wash(const Id& wash, const Said& said) {
  std::int64_t now = said.since;
  Query query = book_.db().query("SELECT COALESCE(at, made_ms) FROM k_wash WHERE uid = ?");
  query.bind(1, wash);
  if (query.next()) now = query.integer(0);
  TRY(query.done());
  for (const Id& of : said.ids("of"))
    for (const std::int64_t since : {said.since, now}) TRY(follow_rig(of, since, {}));
  return {};
}

/// A lot, and the loads that it went into: its material decides their waits.
Result<void> CheckScope::follow_lot(const Id& lot) {
  lots.push_back(lot);
  TRY_ASSIGN(const std::vector<Id>& doubtful, in_doubt(lot, "load-line"));
  for (const Id& line : doubtful) go_on(line, "load-line");
  return go_on("SELECT load FROM k_load_line WHERE amount_lot = ?", lot, "load");
}

Result<void> CheckScope::follow_discard(const Said& said) {
  for (const Id& of : said.ids("of")) {
    if (book_.kind_of(of) == "load")
      go_on(of, "load");
    else
      brews.push_back(of);
  }
  return {};
}

/// A picking with its sales, and those that bear a code which it has or had.
Result<void> CheckScope::follow_harvest(const Id& harvest, const Said& said) {
  harvests.push_back(harvest);
  TRY(add("SELECT uid FROM k_sale WHERE harvest = ?", harvest, sales));
  for (const std::string& code : said.codes) {
    Query query = book_.db().query("SELECT uid FROM k_harvest WHERE code = ?");
    query.bind(1, code);
    while (query.next()) harvests.push_back(query.id(0));
    TRY(query.done());
  }
  return {};
}

Result<void> CheckScope::look_at_pickings(const std::vector<Id>& beds, std::int64_t since) {
  for (const Id& of : beds) {
    TRY_ASSIGN(const std::vector<Id>* ground, connected(of));
    for (const Id& bed : *ground) {
      std::int64_t& least = picked_since_.try_emplace(bed, since).first->second;
      least = std::min(least, since);
    }
  }
  return {};
}

Result<void> CheckScope::add_picked(const Id& bed, std::int64_t since) {
  TRY_ASSIGN(const std::vector<Id>& doubtful, in_doubt(bed, "harvest"));
  harvests.insert(harvests.end(), doubtful.begin(), doubtful.end());
  Query query = book_.db().query("SELECT uid FROM k_harvest WHERE bed = ? AND at >= ?");
  query.bind(1, bed).bind(2, since);
  while (query.next()) harvests.push_back(query.id(0));
  return query.done();
}

Result<void> CheckScope::follow_material(const Id& material) {
  if (!met_.insert(material).second) return {};
  TRY(add("SELECT uid FROM k_lot WHERE material = ?", material, lots));
  TRY_ASSIGN(const std::vector<Id>& doubtful, in_doubt(material, "lot"));
  for (const Id& lot : doubtful) go_on(lot, "lot");
  return go_on("SELECT DISTINCT l.load FROM k_load_line l JOIN k_lot t ON t.uid = l.amount_lot WHERE t.material = ?",
               material, "load");
}

}  // namespace steep
