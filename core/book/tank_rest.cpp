#include "book/tank_rest.h"

#include <string>

#include "book/work.h"

namespace steep {
namespace {

/// Of load `l`: some of it may be left.
const std::string kMayStay =
    "l.struck IS NULL AND (l.left_si IS NULL OR l.left_si - COALESCE((SELECT sum(d.volume_si) FROM k_discard d WHERE "
    "d.of = l.uid AND d.struck IS NULL), 0) > " +
    std::to_string(kNothing) + ')';
/// The rig of pass `p` was washed after load `l`, before pass `q`. Washes are typed to the minute.
const std::string kWashed =
    "EXISTS(SELECT 1 FROM k_wash w WHERE w.struck IS NULL AND w.\"of\" = p.rig AND COALESCE(w.at, w.made_ms) BETWEEN "
    "COALESCE(l.closed / 60000 * 60000, l.filled + 1, p.start + 1) AND q.start)";
constexpr std::string_view kHasLoads = "EXISTS(SELECT 1 FROM k_load m WHERE m.pass = o.uid AND m.struck IS NULL)";

std::string outermost_number(const std::string& which, const std::string& pass, const std::string& where = {}) {
  return "(SELECT " + which + "(m.number_n) FROM k_load m WHERE m.pass = " + pass + " AND m.struck IS NULL" + where +
         ')';
}

/// The pass with the rig of `of` that began just before it ('<', newest first) or just after it ('>', oldest first).
std::string pass_beside(const std::string& of, const std::string& side, const std::string& order) {
  return "(SELECT o.uid FROM k_pass o WHERE o.start " + side + "= " + of + ".start AND (o.start " + side + ' ' + of +
         ".start OR o.uid " + side + ' ' + of + ".uid) AND o.rig = " + of + ".rig AND o.struck IS NULL AND " +
         std::string(kHasLoads) + " ORDER BY o.start" + order + ", o.uid" + order + " LIMIT 1)";
}
const std::string kPassBefore = pass_beside("q", "<", " DESC");
const std::string kPassAfter = pass_beside("p", ">", "");

// From one load (?1) to its neighbors.
const std::string kBeforeInPass =
    "SELECT l.uid FROM k_load n JOIN k_load l ON l.pass = n.pass WHERE n.uid = ?1 AND "
    "n.before_cleaned IS NOT 1 AND l.number_n = " +
    outermost_number("max", "n.pass", " AND m.number_n < n.number_n") + " AND " + kMayStay;
const std::string kFollowsInPass =
    "SELECT n.uid FROM k_load l JOIN k_load n ON n.pass = l.pass WHERE l.uid = ?1 AND n.struck IS NULL AND n.number_n "
    "= " +
    outermost_number("min", "l.pass", " AND m.number_n > l.number_n");
const std::string kAfterInPass = kFollowsInPass + " AND n.before_cleaned IS NOT 1 AND " + kMayStay;

const std::string kEnds = " AND l.number_n = " + outermost_number("max", "p.uid");
const std::string kBegins = " AND n.number_n = " + outermost_number("min", "q.uid");
const std::string kBeforePass =
    "SELECT l.uid FROM k_load n JOIN k_pass q ON q.uid = n.pass JOIN k_pass p ON p.uid = " + kPassBefore +
    " JOIN k_load l ON l.pass = p.uid WHERE n.uid = ?1" + kBegins + kEnds + " AND " + kMayStay + " AND NOT " + kWashed;
const std::string kFollowsPass =
    "SELECT n.uid FROM k_load l JOIN k_pass p ON p.uid = l.pass JOIN k_pass q ON q.uid = " + kPassAfter +
    " JOIN k_load n ON n.pass = q.uid WHERE l.uid = ?1 AND n.struck IS NULL" + kEnds + kBegins;
const std::string kAfterPass = kFollowsPass + " AND " + kMayStay + " AND NOT " + kWashed;

Result<std::vector<Id>> neighbors(const Book& book, const Id& load, std::string_view in_pass, std::string_view of_rig) {
  std::vector<Id> found;
  for (const std::string_view sql : {in_pass, of_rig}) {
    Query query = book.db().query(sql);
    query.bind(1, load);
    while (query.next()) found.push_back(query.id(0));
    TRY(query.done());
  }
  return found;
}

}  // namespace

Result<std::vector<Id>> loads_before(const Book& book, const Id& load) {
  return neighbors(book, load, kBeforeInPass, kBeforePass);
}

Result<std::vector<Id>> loads_after(const Book& book, const Id& load) {
  return neighbors(book, load, kAfterInPass, kAfterPass);
}

Result<std::vector<Id>> loads_following(const Book& book, const Id& load) {
  return neighbors(book, load, kFollowsInPass, kFollowsPass);
}

Result<std::vector<Id>> first_loads_since(const Book& book, const Id& rig, Moment since, const Id& except) {
  std::vector<Id> found;
  static const std::string kSql =
      "SELECT n.uid FROM k_load n WHERE n.struck IS NULL AND n.pass = (SELECT o.uid FROM k_pass o WHERE o.start >= ?2 "
      "AND "
      "o.rig = ?1 AND o.uid <> ?3 AND o.struck IS NULL AND " +
      std::string(kHasLoads) + " ORDER BY o.start, o.uid LIMIT 1)" +
      " AND n.number_n = " + outermost_number("min", "n.pass");
  Query query = book.db().query(kSql);
  query.bind(1, rig).bind(2, since.ms).bind(3, except);
  while (query.next()) found.push_back(query.id(0));
  TRY(query.done());
  return found;
}

namespace {

/// From pass to pass back in time, along those whose last load is `staying`.
Result<PassesInTank> passes_back(const Book& book, const Id& pass, const std::string& staying) {
  // Volumes from further back are diluted beyond measure; whoever looks for labels reads all passes at once then.
  constexpr std::size_t kFollowed = 8;
  PassesInTank found{{pass}};
  Query query = book.db().query(
      "SELECT l.pass FROM k_load n JOIN k_pass q ON q.uid = n.pass JOIN k_pass p ON p.uid = " + kPassBefore +
      " JOIN k_load l ON l.pass = p.uid WHERE n.pass = ?1" + kBegins + kEnds + " AND " + staying + " AND NOT " +
      kWashed + " LIMIT 1");
  for (;;) {
    query.bind(1, Id(found.passes.back()));
    const Id before = query.next() ? query.id(0) : Id{};
    TRY(query.done());
    if (before.is_nil()) return found;
    if (found.passes.size() == kFollowed) break;
    found.passes.push_back(before);
  }
  found.all = false;
  return found;
}

}  // namespace

Result<PassesInTank> passes_in_tank(const Book& book, const Id& pass) { return passes_back(book, pass, kMayStay); }

Result<std::vector<Id>> passes_measured_into(const Book& book, const Id& pass) {
  TRY_ASSIGN(PassesInTank found, passes_back(book, pass, kMayStay + " AND l.left_si IS NOT NULL"));
  return std::move(found.passes);
}

Result<std::optional<TankRest>> tank_rest(const Book& book, const Id& rig, Moment at, const Id& except) {
  static const std::string kSql =
      "SELECT l.uid, p.uid FROM k_pass p JOIN k_load l ON l.pass = p.uid JOIN (SELECT ?2 AS start) q WHERE p.uid = "
      "(SELECT o.uid FROM k_pass o WHERE o.start <= ?2 AND o.rig = ?1 AND o.uid <> ?3 AND o.struck IS NULL AND " +
      std::string(kHasLoads) + " ORDER BY o.start DESC, o.uid DESC LIMIT 1)" + kEnds + " AND " + kMayStay +
      " AND NOT " + kWashed + " LIMIT 1";
  Query query = book.db().query(kSql);
  query.bind(1, rig).bind(2, at.ms).bind(3, except);
  TankRest rest;
  if (query.next()) {
    rest.load = query.id(0);
    rest.pass = query.id(1);
  }
  TRY(query.done());
  if (rest.load.is_nil()) return std::optional<TankRest>();
  TRY_ASSIGN(const Pass& pass, read_pass(book, rest.pass));
  TRY_ASSIGN(const std::vector<LoadBalance>& balances, load_balances(book, pass, rest.load));
  if (!balances.empty()) rest.left = balances.front().rest;
  return std::optional(rest);
}

}  // namespace steep
