#include "book/dose_scan.h"

#include <algorithm>
#include <map>
#include <unordered_map>

#include "base/sorting.h"

namespace steep {

namespace {

constexpr std::string_view kColumns =
    "SELECT uid, what_load, what_bed, lane, made_by, what_from_si, what_to_si, what_width_si, what_volume_si, "
    "what_how, when_start, when_finish, made_ms, struck IS NOT NULL, settled FROM k_dose ";

Result<std::vector<RawDose>> read_doses(Query& query, std::size_t about) {
  std::vector<RawDose> doses;
  doses.reserve(about);
  while (query.next()) {
    RawDose& dose = doses.emplace_back();
    dose.id = query.id(0);
    dose.load = query.id(1);
    dose.bed = query.id(2);
    dose.lane = query.integer(3);
    dose.made_by = query.id(4);
    dose.has_stretch = !query.is_null(5) && !query.is_null(6);
    if (dose.has_stretch) {
      dose.from = std::min(query.real(5), query.real(6));
      dose.to = std::max(query.real(5), query.real(6));
    }
    dose.width = query.maybe_real(7).value_or(0);
    dose.volume = query.maybe_real(8);
    const std::string_view how = query.text_view(9);
    dose.how = how == "skipped" ? DoseHow::Skipped : how == "part" ? DoseHow::Part : DoseHow::Done;
    dose.start = query.maybe_integer(10);
    dose.finish = query.maybe_integer(11);
    dose.made = query.integer(12);
    dose.struck = query.integer(13) != 0;
    if (!query.is_null(14)) dose.settled = query.text(14);
  }
  TRY(query.done());
  return doses;
}

}  // namespace

Result<std::vector<RawDose>> scan_doses(const Book& book, const Id& farm, std::int64_t since) {
  Query query = book.db().query(
      std::string(kColumns) +
      "WHERE COALESCE(when_finish, made_ms) >= ?1 AND (?2 = '' OR part >= ?2 || '/' AND part < ?2 || '0')");
  query.bind(1, since).bind(2, farm.is_nil() ? std::string() : farm.text());
  return read_doses(query, 4096);  // A year of a large farm has some thousands.
}

Result<std::vector<RawDose>> scan_doses_on(const Book& book, const SameGround& same, std::span<const Id> beds) {
  std::vector<RawDose> doses;
  for (const Id& bed : beds) {
    Query query = book.db().query(std::string(kColumns) + "WHERE what_bed = ?");
    query.bind(1, bed);
    TRY_ASSIGN(const std::vector<RawDose>& on, read_doses(query, 256));
    doses.insert(doses.end(), on.begin(), on.end());
  }
  sort_by_ground(same, doses);
  return doses;
}

Result<std::vector<Id>> beds_done_twice_at_once(const Book& book, const SameGround& same) {
  struct Work {
    std::size_t bed;  // as all numbers here by the order in which they were met
    std::int64_t begin, end;
  };
  std::vector<std::vector<Work>> on_grounds;
  std::vector<Id> beds;
  struct Numbers {
    std::size_t bed = 0, ground = 0;
  };
  std::unordered_map<Id, Numbers> known;
  std::unordered_map<Id, std::size_t> grounds;
  Query query = book.db().query(
      "SELECT what_bed, when_start, COALESCE(when_finish, made_ms) FROM k_dose WHERE struck IS NULL "
      "AND what_how IS NOT 'skipped'");
  while (query.next()) {
    const auto [of, is_new] = known.try_emplace(query.id(0));
    if (is_new) {
      of->second = {beds.size(), grounds.try_emplace(same.joined(of->first), grounds.size()).first->second};
      beds.push_back(of->first);
      on_grounds.resize(grounds.size());
    }
    const std::int64_t end = query.integer(2), begin = query.maybe_integer(1).value_or(end);
    on_grounds[of->second.ground].push_back({of->second.bed, std::min(begin, end), end});
  }
  TRY(query.done());
  std::vector<bool> twice(beds.size());
  for (auto& all : on_grounds) {  // As find_pairs goes.
    std::sort(all.begin(), all.end(), [](const Work& a, const Work& b) { return a.end < b.end; });
    for (std::size_t j = 1; j < all.size(); ++j)
      for (std::size_t i = j; i-- > 0 && all[i].end >= all[j].begin;) twice[all[i].bed] = twice[all[j].bed] = true;
  }
  std::vector<Id> found;
  for (std::size_t bed = 0; bed < beds.size(); ++bed)
    if (twice[bed]) found.push_back(beds[bed]);
  return found;
}

Result<std::int64_t> load_begun(const Book& book, const Id& load) {
  Query query = book.db().query(
      "SELECT min(COALESCE(l.filled, l.made_ms), COALESCE(p.start, l.made_ms)) FROM k_load l LEFT JOIN k_pass p ON "
      "p.uid = l.pass WHERE l.uid = ?");
  query.bind(1, load);
  const std::int64_t begun = query.next() ? query.integer(0) : INT64_MAX;
  TRY(query.done());
  return begun;
}

Result<std::int64_t> unfinished_since(const Book& book, const Id& dose) {
  Query query = book.db().query(
      "SELECT min(made_ms, COALESCE(when_start, made_ms), COALESCE(late_at, made_ms)), what_load FROM k_dose WHERE uid "
      "= ?");
  query.bind(1, dose);
  std::int64_t since = INT64_MAX;
  Id load;
  if (query.next()) {
    since = query.integer(0);
    load = query.id(1);
  }
  TRY(query.done());
  TRY_ASSIGN(const std::int64_t begun, load_begun(book, load));
  return std::min(since, begun);
}

namespace {

/// Sets the ground of each; its number among all grounds in their order, of each dose.
std::vector<std::uint32_t> ground_ranks(const SameGround& same, std::vector<RawDose>& doses) {
  std::unordered_map<Id, Id> ground;
  std::map<Id, std::uint32_t> rank;
  for (RawDose& dose : doses) {
    const auto [place, is_new] = ground.try_emplace(dose.bed);
    if (is_new) place->second = same.joined(dose.bed);
    dose.ground = place->second;
    if (is_new) rank.emplace(dose.ground, 0);
  }
  std::uint32_t next = 0;
  for (auto& [id, number] : rank) number = next++;
  std::unordered_map<Id, std::uint32_t> of_bed;
  std::vector<std::uint32_t> ranks;
  ranks.reserve(doses.size());
  for (const RawDose& dose : doses) {
    const auto [place, is_new] = of_bed.try_emplace(dose.bed);
    if (is_new) place->second = rank.at(dose.ground);
    ranks.push_back(place->second);
  }
  return ranks;
}

}  // namespace

void sort_by_ground(const SameGround& same, std::vector<RawDose>& doses) {
  // Small keys are sorted: a dose is large, and a book may have tens of thousands.
  struct Key {
    std::uint32_t ground, place;
    std::int64_t end;
  };
  const std::vector<std::uint32_t> ranks = ground_ranks(same, doses);
  std::vector<Key> keys;
  keys.reserve(doses.size());
  for (std::uint32_t i = 0; i < doses.size(); ++i) keys.push_back({ranks[i], i, doses[i].end()});
  std::sort(keys.begin(), keys.end(), [&doses](const Key& a, const Key& b) {
    if (a.ground != b.ground) return a.ground < b.ground;
    return a.end != b.end ? a.end < b.end : doses[a.place].id < doses[b.place].id;
  });
  std::vector<RawDose> sorted;
  sorted.reserve(doses.size());
  for (const Key& key : keys) sorted.push_back(std::move(doses[key.place]));
  doses = std::move(sorted);
}

}  // namespace steep
