#include "book/check_scope.h"

#include <algorithm>
#include <array>
#include <iterator>

#include "book/checker.h"

namespace steep {
namespace {

void sort_unique(std::vector<Id>& ids) {
  std::sort(ids.begin(), ids.end());
  ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
}

}  // namespace

CheckScope::CheckScope(const Book& book, std::vector<Id> touched) : book_(book), touched_(std::move(touched)) {}

double CheckScope::share() const {
  return touched_.empty() ? 1 : static_cast<double>(next_) / static_cast<double>(touched_.size());
}

Result<bool> CheckScope::step() {
  if (!open_.empty()) {
    const auto [id, kind] = open_.back();
    open_.pop_back();
    TRY(follow(id, kind));
    return true;
  }
  if (next_ < touched_.size()) {
    const Id& id = touched_[next_++];
    const std::string kind = book_.kind_of(id);
    if (kind != "load" && kind != "dose")
      TRY(follow(id, kind));
    else if (met_.insert(id).second)
      TRY(follow(id, kind));
    return true;
  }
  if (!sprayed_.empty()) {
    OfBed of = std::move(sprayed_.back());
    sprayed_.pop_back();
    TRY(follow_sprayed(std::move(of)));
    return true;
  }
  // One list a step: those of a large take are long.
  const std::array lists{&passes, &loads, &doses, &harvests, &lots, &brews, &dosed};
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

Result<void> CheckScope::follow(const Id& id, std::string_view kind) {
  if (kind == "dose") return follow_dose(id);
  if (kind == "load") {
    loads.push_back(id);
    TRY(add("SELECT mix_brew FROM k_load WHERE uid = ?", id, brews));
    return go_on("SELECT uid FROM k_dose WHERE what_load = ?", id, "dose");
  }
  if (kind == "load-line") {
    TRY(add("SELECT amount_lot FROM k_load_line WHERE uid = ?", id, lots));
    return go_on("SELECT load FROM k_load_line WHERE uid = ?", id, "load");
  }
  if (kind == "pass") {
    passes.push_back(id);
    return go_on("SELECT uid FROM k_load WHERE pass = ?", id, "load");
  }
  if (kind == "discard") {
    TRY(add("SELECT d.\"of\" FROM k_discard d JOIN k_load l ON l.uid = d.\"of\" WHERE d.uid = ?", id, loads));
    return add("SELECT d.\"of\" FROM k_discard d JOIN k_brew b ON b.uid = d.\"of\" WHERE d.uid = ?", id, brews);
  }
  if (kind == "harvest") {
    harvests.push_back(id);
    return add("SELECT o.uid FROM k_harvest h JOIN k_harvest o ON o.code = h.code WHERE h.uid = ?", id, harvests);
  }
  if (kind == "planting") {
    std::vector<Id> beds;
    TRY(add("SELECT bed FROM k_planting WHERE uid = ?", id, beds));
    for (const Id& bed : beds) TRY(follow_bed(bed));
    return {};
  }
  if (kind == "lot") lots.push_back(id);
  if (kind == "brew") brews.push_back(id);
  if (kind == "brew-line") return add("SELECT amount_lot FROM k_brew_line WHERE uid = ?", id, lots);
  if (kind == "event") return add("SELECT brew FROM k_event WHERE uid = ?", id, brews);
  if (kind == "material") return follow_material(id);
  if (kind == "label-line") {
    std::vector<Id> materials;
    TRY(add("SELECT material FROM k_label_line WHERE uid = ?", id, materials));
    for (const Id& material : materials) TRY(follow_material(material));
  }
  if (kind == "farm")
    TRY(
        add("SELECT h.uid FROM k_farm f JOIN k_harvest h ON h.part >= substr(f.part, 1, 27) AND "
            "h.part < substr(f.part, 1, 26) || '0' WHERE f.uid = ?",
            id, harvests));
  if (kind == "book" || kind == "farm" || kind == "block" || kind == "bed") return follow_ground(id, kind);
  return {};
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
    TRY(add("SELECT uid FROM k_harvest WHERE bed = ?", one, harvests));
    TRY(add("SELECT uid FROM k_dose WHERE what_bed = ?", one, doses));
  }
  return {};
}

/// Ground that became one, or two again: what was said of it by the records that are no longer asked has gone too.
Result<void> CheckScope::follow_ground(const Id& id, std::string_view kind) {
  if (kind == "bed") {
    TRY_ASSIGN(const std::vector<Id>* beds, connected(id));
    if (beds->size() > 1) TRY(follow_bed(id));
    TRY(add("SELECT uid FROM k_harvest WHERE bed = ?", id, harvests));
  } else {
    TRY_ASSIGN(const SameGround* same, same_ground());
    for (const Id& bed : same->shared()) TRY(follow_bed(bed));
  }
  if (found_again_) return {};
  found_again_ = true;
  Query query = book_.db().query(
      "SELECT r.uid, r.kind FROM review v JOIN record r ON r.id = v.rec WHERE v.why IN ('finding.picked-inside-wait', "
      "'finding.picked-while-held', 'finding.crop-not-on-label')");
  while (query.next()) (query.text_view(1) == "harvest" ? harvests : doses).push_back(query.id(0));
  return query.done();
}

/// A dose, its load, and what was picked later on its bed.
Result<void> CheckScope::follow_dose(const Id& dose) {
  doses.push_back(dose);
  Query query =
      book_.db().query("SELECT what_load, what_bed, COALESCE(when_finish, made_ms) FROM k_dose WHERE uid = ?");
  query.bind(1, dose);
  std::vector<std::pair<Id, std::int64_t>> treated;
  while (query.next()) {
    if (const Id load = query.id(0); !load.is_nil()) dosed.push_back(load);
    treated.emplace_back(query.id(1), query.integer(2));
  }
  TRY(query.done());
  for (const auto& [sprayed, finish] : treated) {
    TRY_ASSIGN(const std::vector<Id>* beds, connected(sprayed));
    for (const Id& bed : *beds) {
      const auto [place, is_new] = sprayed_bed_.try_emplace(bed, sprayed_.size());
      if (is_new) sprayed_.push_back({bed, {}});
      sprayed_[place->second].sprayed.push_back(finish);
    }
  }
  return {};
}

/// What was picked on a bed within the longest look back after one of its sprays, each once.
Result<void> CheckScope::follow_sprayed(OfBed of) {
  std::vector<std::int64_t>& finishes = of.sprayed;
  std::sort(finishes.begin(), finishes.end());
  Query query = book_.db().query("SELECT at, uid FROM k_harvest WHERE bed = ? AND at >= ?");
  query.bind(1, of.bed).bind(2, finishes.front());
  while (query.next()) {
    // Of the sprays before it the last is nearest.
    const auto after = std::upper_bound(finishes.begin(), finishes.end(), query.integer(0));
    if (*std::prev(after) + kLongestLookBack > query.integer(0)) harvests.push_back(query.id(1));
  }
  return query.done();
}

Result<void> CheckScope::follow_material(const Id& material) {
  if (!met_.insert(material).second) return {};
  TRY(add("SELECT uid FROM k_lot WHERE material = ?", material, lots));
  return go_on("SELECT DISTINCT l.load FROM k_load_line l JOIN k_lot t ON t.uid = l.amount_lot WHERE t.material = ?",
               material, "load");
}

}  // namespace steep
