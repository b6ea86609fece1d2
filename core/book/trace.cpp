#include "book/trace.h"

#include <algorithm>
#include <set>
#include <span>

#include "base/sorting.h"
#include "book/dose_scan.h"
#include "book/same_ground.h"
#include "book/tables.h"
#include "book/tank_rest.h"

namespace steep {
namespace {

// A strike takes along what hangs on the record. A dose that came afterwards and stands was sprayed out of that load and of
// that brew all the same, with what was in them.
const std::string kDoseStands = "c.struck IS NULL AND c.what_how IS NOT 'skipped')";
const std::string kLoadSprayed = "EXISTS(SELECT 1 FROM k_dose c WHERE c.what_load=k_load.uid AND " + kDoseStands;
const std::string kStruckLoadSprayed =
    "EXISTS(SELECT 1 FROM k_load s JOIN k_dose c ON c.what_load=s.uid WHERE s.uid=k_load_line.load AND s.struck IS NOT "
    "NULL AND " +
    kDoseStands;
const std::string kStruckBrewSprayed =
    "EXISTS(SELECT 1 FROM k_brew b JOIN k_load s ON s.mix_brew=b.uid JOIN k_dose c ON c.what_load=s.uid WHERE "
    "b.uid=k_brew_line.brew AND b.struck IS NOT NULL AND " +
    kDoseStands;

// Each gives from one record (?1) the next ones: id and stage word.
const std::string kLotIntoBrew =
    "SELECT brew,'brew' FROM k_brew_line WHERE amount_lot=?1 AND (struck IS NULL OR " + kStruckBrewSprayed + ')';
const std::string kLotIntoLoad =
    "SELECT load,'load' FROM k_load_line WHERE amount_lot=?1 AND (struck IS NULL OR " + kStruckLoadSprayed + ')';
const std::string kBrewIntoLoad =
    "SELECT uid,'load' FROM k_load WHERE mix_brew=?1 AND (struck IS NULL OR " + kLoadSprayed + ')';
const std::string kLotsOfLoad =
    "SELECT amount_lot,'lot' FROM k_load_line WHERE load=?1 AND amount_lot IS NOT NULL AND (struck IS NULL OR " +
    kStruckLoadSprayed + ')';
const std::string kLotsOfBrew =
    "SELECT amount_lot,'lot' FROM k_brew_line WHERE brew=?1 AND amount_lot IS NOT NULL AND (struck IS NULL OR " +
    kStruckBrewSprayed + ')';
const std::string_view kForward[] = {
    // a lot → brews, loads that used it
    kLotIntoBrew,
    kLotIntoLoad,
    // a brew → loads; a brew or load → what was poured out of it
    kBrewIntoLoad,
    "SELECT uid,'poured' FROM k_discard WHERE of=?1 AND struck IS NULL",
    // a load → its doses
    "SELECT uid,'dose' FROM k_dose WHERE what_load=?1 AND struck IS NULL AND what_how IS NOT 'skipped'",
};
const std::string_view kBackward[] = {
    "SELECT what_load,'load' FROM k_dose WHERE uid=?1",
    "SELECT mix_brew,'brew' FROM k_load WHERE uid=?1 AND mix_brew IS NOT NULL",
    kLotsOfLoad,
    kLotsOfBrew,
    "SELECT of,CASE WHEN EXISTS(SELECT 1 FROM k_brew WHERE uid=of) THEN 'brew' ELSE 'load' END FROM k_discard WHERE "
    "uid=?1",
};
// Of a bed, where a trace begins.
constexpr std::string_view kOnBed[] = {
    "SELECT uid,'dose' FROM k_dose WHERE what_bed=?1 AND struck IS NULL AND what_how IS NOT 'skipped'",
    "SELECT uid,'harvest' FROM k_harvest WHERE bed=?1 AND struck IS NULL",
    "SELECT uid,'poured' FROM k_discard WHERE (where_place=?1 OR where_place=(SELECT block FROM k_bed WHERE uid=?1)) "
    "AND struck IS NULL",
};
// A dose or discard (?1) and what was picked afterwards on a bed (?2) of its ground; a picking (?1) and what was done
// before. Column 5 is a dose of which nobody knows the finish, 6 when it was picked.
constexpr std::string_view kPickedAfterDose =
    "SELECT h.uid,h.stretch_from_si,h.stretch_to_si,d.what_from_si,d.what_to_si,iif(d.when_finish IS NULL,d.uid,NULL),"
    "h.at FROM k_dose d JOIN k_harvest h ON h.bed=?2 WHERE d.uid=?1 AND h.struck IS NULL AND (d.when_finish IS NULL OR "
    "h.at>=d.when_finish)";
constexpr std::string_view kPickedAfterPouring =
    "SELECT h.uid,h.stretch_from_si,h.stretch_to_si,NULL,NULL,NULL,h.at FROM k_discard d JOIN k_harvest h ON h.bed=?2 "
    "WHERE d.uid=?1 AND h.struck IS NULL AND h.at>=COALESCE(d.at,min(d.made_ms,COALESCE(d.late_at,d.made_ms)))";
constexpr std::string_view kSprayedBefore =
    "SELECT d.uid,h.stretch_from_si,h.stretch_to_si,d.what_from_si,d.what_to_si,iif(d.when_finish IS NULL,d.uid,NULL),"
    "h.at FROM k_harvest h JOIN k_dose d ON d.what_bed=?2 WHERE h.uid=?1 AND d.struck IS NULL AND d.what_how IS NOT "
    "'skipped' AND (d.when_finish IS NULL OR h.at>=d.when_finish)";
constexpr std::string_view kPouredBefore =
    "SELECT d.uid,h.stretch_from_si,h.stretch_to_si,NULL,NULL,NULL,h.at FROM k_harvest h JOIN k_discard d ON "
    "(d.where_place=?2 OR d.where_place=(SELECT block FROM k_bed WHERE uid=?2)) WHERE h.uid=?1 AND d.struck IS NULL "
    "AND h.at>=COALESCE(d.at,min(d.made_ms,COALESCE(d.late_at,d.made_ms)))";

/// Columns 1 and 2 a stretch of the bed picked, 3 and 4 of the bed sprayed: do they share ground? What is not known may.
bool shares_ground(const Query& row, const GroundSource& source) {
  const auto stretch = [&](int at) {
    return Stretch{Length::from_si(std::min(row.real(at), row.real(at + 1))),
                   Length::from_si(std::max(row.real(at), row.real(at + 1)))};
  };
  const bool sprayed_known = !row.is_null(3) && !row.is_null(4), picked_known = !row.is_null(1) && !row.is_null(2);
  if (!sprayed_known) return true;
  const Stretch sprayed = source.moved(stretch(3));
  if (!source.whole && sprayed.length().si() <= 0) return false;
  if (!picked_known) return true;
  const Stretch picked = stretch(1);
  return picked.from < sprayed.to && picked.to > sprayed.from;
}

TraceStage stage_of(std::string_view word) {
  if (word == "brew") return TraceStage::Brew;
  if (word == "load") return TraceStage::Load;
  if (word == "dose") return TraceStage::Dose;
  if (word == "harvest") return TraceStage::Harvest;
  if (word == "poured" || word == "discard") return TraceStage::Poured;
  return TraceStage::Lot;
}

/// Name, bed, stretch and time of a node.
Result<void> describe(const Book& book, TraceNode& node) {
  std::string_view sql;
  switch (node.stage) {
    case TraceStage::Lot: sql = "SELECT uid,NULL,NULL,NULL,made_ms FROM k_lot WHERE uid=?1"; break;
    case TraceStage::Brew:
      sql = "SELECT uid,NULL,NULL,NULL,COALESCE(met_water,made_ms) FROM k_brew WHERE uid=?1";
      break;
    case TraceStage::Load: sql = "SELECT uid,NULL,NULL,NULL,COALESCE(filled,made_ms) FROM k_load WHERE uid=?1"; break;
    case TraceStage::Dose:
      sql = "SELECT uid,what_bed,what_from_si,what_to_si,when_finish FROM k_dose WHERE uid=?1";
      break;
    case TraceStage::Harvest:
      sql = "SELECT uid,bed,stretch_from_si,stretch_to_si,at FROM k_harvest WHERE uid=?1";
      break;
    case TraceStage::Poured:
      sql = "SELECT uid,NULL,NULL,NULL,COALESCE(at,made_ms),where_place,where_words FROM k_discard WHERE uid=?1";
      break;
  }
  std::string words;
  bool time_known = true;
  auto query = book.db().query(sql);
  query.bind(1, node.record);
  if (query.next()) {
    node.bed = query.id(1);
    node.from_m = query.real(2);
    node.to_m = query.real(3);
    node.at = {query.integer(4)};
    time_known = !query.is_null(4);
    if (node.stage == TraceStage::Poured) {
      node.place = query.id(5);
      words = query.text(6);
    }
  }
  TRY(query.done());
  if (node.stage == TraceStage::Dose && !time_known) {
    TRY_ASSIGN(node.at.ms, unfinished_since(book, node.record));
  }
  node.name = record_name(book, node.stage == TraceStage::Dose     ? node.bed
                                : node.stage == TraceStage::Poured ? node.place
                                                                   : node.record);
  if (!words.empty()) node.name += (node.name.empty() ? "" : ", ") + words;
  return {};
}

class Walk {
 public:
  Walk(const Book& book, const SameGround& ground, Trace& trace)
      : book_(book),
        ground_(ground),
        trace_(trace),
        steps_(trace.forward ? std::span<const std::string_view>(kForward) : kBackward) {}

  Result<void> from(const Id& start, TraceStage stage, bool is_bed) {
    if (!is_bed) add(start, stage);
    if (is_bed)
      for (const Id& bed : ground_.same(start)) TRY(follow(bed, kOnBed));
    for (std::size_t i = 0; i < trace_.nodes.size(); ++i) {
      const TraceNode node = trace_.nodes[i];
      TRY(follow(node.record, steps_));
      if (node.stage == TraceStage::Load) TRY(follow_tank(node.record));
      if (trace_.forward && node.stage == TraceStage::Dose) TRY(follow_dose(node.record));
      if (trace_.forward && node.stage == TraceStage::Poured) TRY(follow_poured(node.record));
      if (!trace_.forward && node.stage == TraceStage::Harvest) TRY(follow_harvest(node.record));
    }
    for (TraceNode& node : trace_.nodes) TRY(describe(book_, node));
    sort_list(trace_.nodes, [](const TraceNode& a, const TraceNode& b) {
      return std::pair(a.stage, a.at) < std::pair(b.stage, b.at);
    });
    return {};
  }

 private:
  void add(const Id& record, TraceStage stage) {
    if (!seen_.insert(record).second) return;
    TraceNode node;
    node.record = record;
    node.stage = stage;
    trace_.nodes.push_back(node);
  }

  Result<void> follow(const Id& from, std::span<const std::string_view> steps) {
    for (const std::string_view sql : steps) {
      auto query = book_.db().query(sql);
      query.bind(1, from);
      while (query.next()) {
        const Id next = query.id(0);
        if (next.is_nil()) continue;
        add(next, stage_of(query.text(1)));
        trace_.links.push_back({from, next});
      }
      TRY(query.done());
    }
    return {};
  }

  /// The ids in the first column.
  Result<std::vector<Id>> ids(std::string_view sql, const Id& of) const {
    std::vector<Id> found;
    auto query = book_.db().query(sql);
    query.bind(1, of);
    while (query.next()) found.push_back(query.id(0));
    TRY(query.done());
    return found;
  }

  /// To the tankfuls that what stayed of it went into, or that some of it stayed from.
  Result<void> follow_tank(const Id& load) {
    TRY_ASSIGN(const std::vector<Id>& others, trace_.forward ? loads_after(book_, load) : loads_before(book_, load));
    for (const Id& other : others) {
      add(other, TraceStage::Load);
      trace_.links.push_back({load, other});
    }
    return {};
  }

  Result<void> follow_dose(const Id& dose) {
    TRY_ASSIGN(const std::vector<Id>& beds, ids("SELECT what_bed FROM k_dose WHERE uid=?1", dose));
    for (const Id& bed : beds) TRY(follow_to_pickings(dose, kPickedAfterDose, bed));
    return {};
  }

  /// On a bed, or on a block: nobody knows on which of its beds.
  Result<void> follow_poured(const Id& discard) {
    TRY_ASSIGN(const std::vector<Id>& beds,
               ids("SELECT b.uid FROM k_discard d JOIN k_bed b ON b.uid=d.where_place OR b.block=d.where_place WHERE "
                   "d.uid=?1",
                   discard));
    for (const Id& bed : beds) TRY(follow_to_pickings(discard, kPickedAfterPouring, bed));
    return {};
  }

  /// What was picked on the ground of `bed`.
  Result<void> follow_to_pickings(const Id& from, std::string_view sql, const Id& bed) {
    for (const Id& picked : ground_.connected(bed))
      for (const GroundSource& source : ground_.sources(picked))
        if (source.bed == bed) TRY(follow_to(from, sql, picked, source, TraceStage::Harvest));
    return {};
  }

  Result<void> follow_harvest(const Id& harvest) {
    TRY_ASSIGN(const std::vector<Id>& beds, ids("SELECT bed FROM k_harvest WHERE uid=?1", harvest));
    for (const Id& bed : beds)
      for (const GroundSource& source : ground_.sources(bed)) {
        TRY(follow_to(harvest, kSprayedBefore, source.bed, source, TraceStage::Dose));
        TRY(follow_to(harvest, kPouredBefore, source.bed, source, TraceStage::Poured));
      }
    return {};
  }

  Result<void> follow_to(const Id& from, std::string_view sql, const Id& bed, const GroundSource& source,
                         TraceStage stage) {
    auto query = book_.db().query(sql);
    query.bind(1, from).bind(2, bed);
    while (query.next()) {
      if (!shares_ground(query, source)) continue;
      if (const Id unfinished = query.id(5); !unfinished.is_nil()) {
        TRY_ASSIGN(const std::int64_t since, unfinished_since(book_, unfinished));
        if (query.integer(6) < since) continue;
      }
      const Id next = query.id(0);
      add(next, stage);
      trace_.links.push_back({from, next});
    }
    return query.done();
  }

  const Book& book_;
  const SameGround& ground_;
  Trace& trace_;
  std::span<const std::string_view> steps_;
  std::set<Id> seen_;
};

Result<Trace> walk(const Book& book, const Id& start, bool forward) {
  const Snapshot snapshot = book.snapshot();
  const std::string kind = book.kind_of(start);
  static constexpr std::string_view kStarts[] = {"lot", "brew", "load", "dose", "harvest", "discard", "bed"};
  if (std::find(std::begin(kStarts), std::end(kStarts), kind) == std::end(kStarts))
    return refuse(Trouble::NotFound, "trace.not-here"_w, {start.text()});
  Trace trace;
  trace.start = start;
  trace.forward = forward;
  TRY_ASSIGN(const SameGround& ground, SameGround::read(book));
  TRY(Walk(book, ground, trace).from(start, stage_of(kind), kind == "bed"));
  return trace;
}

}  // namespace

Result<Trace> trace_forward(const Book& book, const Id& start) { return walk(book, start, true); }
Result<Trace> trace_backward(const Book& book, const Id& start) { return walk(book, start, false); }

}  // namespace steep
