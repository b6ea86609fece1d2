#include "book/report_data.h"

#include "base/sorting.h"
#include "base/text.h"
#include "book/checker.h"
#include "book/lane_tips.h"
#include "book/photos.h"
#include "book/report_work.h"
#include "book/rows.h"
#include "book/same_bed.h"
#include "book/strike.h"
#include "book/tables.h"

namespace steep {
namespace {

/// Block by block as people walk, within a block by name.
std::vector<BedInOrder> beds_in_order(const Book& book, const Places& places) {
  std::vector<BedInOrder> beds;
  std::map<Id, std::size_t> blocks;
  for (const Bed& bed : places.beds) {
    blocks.emplace(bed.block, blocks.size());
    beds.push_back({bed.id, bed.block, bed.name, record_name(book, bed.id)});
  }
  sort_list(beds, [&](const BedInOrder& a, const BedInOrder& b) {
    return a.block != b.block ? blocks[a.block] < blocks[b.block] : name_before(a.name, b.name);
  });
  return beds;
}

bool was_loaded(const Book& book, const Id& brew) {
  Query query = book.db().query("SELECT 1 FROM k_load WHERE mix_brew = ? AND struck IS NULL");
  query.bind(1, brew);
  const bool found = query.next();
  (void)query.done();
  return found;
}

/// A rig of this farm's passes, a vessel of its brews.
bool was_used_here(const ReportData& data, const Id& vessel_or_rig) {
  return std::any_of(data.passes.begin(), data.passes.end(),
                     [&](const ReportPass& pass) { return pass.pass.rig == vessel_or_rig; }) ||
         std::any_of(data.brews.begin(), data.brews.end(),
                     [&](const ReportBrew& brew) { return brew.sheet.brew.vessel == vessel_or_rig; });
}

Result<void> add_brews(ReportWork& work) {
  std::set<Id> wanted;
  for (const ReportPass& pass : work.data.passes) wanted.insert(pass.brews.begin(), pass.brews.end());
  TRY_ASSIGN(const std::vector<Brew>& all, brews(work.book));
  for (const Brew& brew : all) {
    const Taken<Stamp> begun = brew.met_water ? brew.met_water : brew.air_on;
    const Date day = work.data.farm.day(begun ? begun->at : brew.made.at);
    const bool of_days = day >= work.data.from && day <= work.data.to;
    ReportBrew line;
    TRY_ASSIGN(line.poured, report_poured(work.book, brew.id));
    // A brew that was poured out and went nowhere else belongs to the record too; one of another farm's passes does not.
    if (wanted.count(brew.id) == 0 && (!of_days || line.poured.empty() || was_loaded(work.book, brew.id))) continue;
    TRY_ASSIGN(line.sheet, read_brew_sheet(work.book, brew.id));
    for (const ReportPass& pass : work.data.passes)
      if (std::find(pass.brews.begin(), pass.brews.end(), brew.id) != pass.brews.end())
        line.used_in.push_back(pass.code);
    work.data.brews.push_back(std::move(line));
  }
  return {};
}

/// Of its planting; where none is named, all that grew there on that day.
std::string crop_of(const ReportWork& work, const Harvest& harvest) {
  if (std::string crop = record_name(work.book, harvest.planting); !crop.empty()) return crop;
  std::vector<std::string> crops;
  std::optional<Stretch> stretch;
  if (harvest.from && harvest.to)
    stretch = {std::min(*harvest.from, *harvest.to), std::max(*harvest.from, *harvest.to)};
  for (const Planting* planting : grew_on(work, harvest.bed, stretch, work.data.farm.day(harvest.at.at)))
    add_once(crops, planting->crop);
  return join(crops, ", ");
}

Result<std::vector<Sale>> sales_of(const Book& book, const Id& harvest) {
  std::vector<Sale> sales;
  Rows rows(book, "sale", "WHERE struck IS NULL AND harvest = ? ORDER BY COALESCE(at, made_ms)");
  rows.query().bind(1, harvest);
  while (rows.next()) {
    Sale& sale = sales.emplace_back();
    rows.facts(sale);
    sale.harvest = harvest;
    sale.amount = rows.written("amount");
    sale.to = rows.text("to");
    sale.at = rows.instant("at");
  }
  TRY(rows.done());
  return sales;
}

Result<void> add_washes(ReportWork& work, Moment from, Moment end) {
  Rows rows(work.book, "wash",
            "WHERE struck IS NULL AND COALESCE(at, made_ms) >= ? AND COALESCE(at, made_ms) < ? ORDER BY COALESCE(at, "
            "made_ms) DESC");
  rows.query().bind(1, from.ms).bind(2, end.ms);
  while (rows.next()) {
    ReportWash line;
    rows.facts(line.wash);
    line.wash.of = rows.reference("of");
    line.wash.held = rows.text("held");
    line.wash.method = rows.text("how.method");
    line.wash.strength = rows.text("how.strength");
    line.wash.rinsed = rows.yes_no("rinsed");
    line.wash.by = rows.reference("by");
    line.wash.at = rows.instant("at");
    work.data.washes.push_back(std::move(line));
  }
  TRY(rows.done());
  // Where the book is of several farms, the others' washes are not this one's.
  TRY_ASSIGN(const std::vector<Farm>& all, farms(work.book));
  if (all.size() > 1)
    std::erase_if(work.data.washes, [&](const ReportWash& line) { return !was_used_here(work.data, line.wash.of); });
  for (ReportWash& line : work.data.washes) {
    line.of = record_name(work.book, line.wash.of);
    line.by = person_name(work.book, line.wash.by);
  }
  return {};
}

/// Few lines carry a reason: only their records are read.
Result<void> add_reasons(ReportWork& work) {
  Query query = work.book.db().query(
      "SELECT DISTINCT r.uid FROM change c JOIN record r ON r.id = c.rec WHERE instr(c.body, '\"why\":') > 0");
  std::vector<Id> found;
  while (query.next()) found.push_back(query.id(0));
  TRY(query.done());
  for (const Id& id : found) {
    TRY_ASSIGN(const std::optional<Record>& record, work.book.record(id));
    if (!record) continue;
    std::vector<std::string> whys;
    for (const Group& group : record->groups)
      for (const Head& head : group.heads)
        if (group.key != "struck" && !head.why.empty()) add_once(whys, head.why);
    if (!whys.empty()) work.data.reasons[id] = join(whys, "; ");
  }
  return {};
}

Result<std::vector<Release>> releases_of(const Book& book, const Id& hold) {
  std::vector<Release> found;
  Rows rows(book, "release", "WHERE struck IS NULL AND hold = ? ORDER BY COALESCE(at, made_ms)");
  rows.query().bind(1, hold);
  while (rows.next()) {
    Release release;
    rows.facts(release);
    release.hold = hold;
    release.why = rows.text("why");
    release.at = rows.instant("at");
    found.push_back(std::move(release));
  }
  TRY(rows.done());
  return found;
}

Moment released_at(const Release& release) { return release.at ? release.at->at : release.made.at; }

/// Those that a person set by hand and that held on some of these days.
Result<void> add_holds(ReportWork& work, Moment from, Moment end) {
  Rows rows(work.book, "hold", "WHERE struck IS NULL ORDER BY made_ms DESC, uid");
  std::vector<ReportHold> found;
  while (rows.next()) {
    ReportHold line;
    rows.facts(line.hold);
    if (line.hold.part.farm != work.data.farm.id || line.hold.happened() >= end) continue;
    line.hold.bed = rows.reference("bed");
    line.hold.from = rows.quantity<Length>("stretch.from");
    line.hold.to = rows.quantity<Length>("stretch.to");
    const std::string what = rows.text("what");
    line.hold.harvest = what != "entry";
    line.hold.entry = what != "harvest";
    line.hold.until = rows.instant("until");
    line.hold.why = rows.text("why");
    if (line.hold.until && line.hold.until->at < from) continue;
    found.push_back(std::move(line));
  }
  TRY(rows.done());
  for (ReportHold& line : found) {
    TRY_ASSIGN(line.releases, releases_of(work.book, line.hold.id));
    if (!line.releases.empty() && released_at(line.releases.front()) < from) continue;
    for (const Release& release : line.releases) line.released_by.push_back(person_name(work.book, release.made_by));
    line.bed = record_name(work.book, line.hold.bed);
    line.by = person_name(work.book, line.hold.made_by);
    work.data.holds.push_back(std::move(line));
  }
  return {};
}

Result<void> add_harvests(ReportWork& work, Moment from, Moment end) {
  Rows rows(work.book, "harvest", "WHERE struck IS NULL AND at >= ? AND at < ? ORDER BY at DESC, uid");
  rows.query().bind(1, from.ms).bind(2, end.ms);
  std::vector<ReportHarvest> found;
  while (rows.next()) {
    ReportHarvest line;
    rows.facts(line.harvest);
    if (line.harvest.part.farm != work.data.farm.id) continue;
    line.harvest.bed = rows.reference("bed");
    line.harvest.planting = rows.reference("planting");
    line.harvest.by = rows.reference("by");
    line.harvest.from = rows.quantity<Length>("stretch.from");
    line.harvest.to = rows.quantity<Length>("stretch.to");
    line.harvest.at = rows.instant("at").value_or(line.harvest.made);
    line.harvest.amount = rows.written("amount");
    line.harvest.code = rows.text("code");
    found.push_back(std::move(line));
  }
  TRY(rows.done());
  Checker checker(work.book);
  for (ReportHarvest& line : found) {
    line.bed = record_name(work.book, line.harvest.bed);
    line.by = person_name(work.book, line.harvest.by.is_nil() ? line.harvest.made_by : line.harvest.by);
    line.crop = crop_of(work, line.harvest);
    TRY_ASSIGN(line.sales, sales_of(work.book, line.harvest.id));
    // Also of doses before the days of the report, and of those on another record of this ground.
    TRY_ASSIGN(line.inside_wait_of, checker.doses_holding(line.harvest.id));
    work.data.harvests.push_back(std::move(line));
  }
  return {};
}

/// Struck records of these days beside the doses that stand under their pass.
Result<void> add_struck(ReportWork& work, Moment from, Moment end) {
  for (const KindDef& kind : kinds()) {
    if (kind.name == "dose") continue;
    Query query = work.book.db().query("SELECT uid, struck, part FROM " + wide_name(kind.name) +
                                       " WHERE struck IS NOT NULL AND struck <> ?");
    query.bind(1, kUndone);
    std::vector<std::pair<Id, std::string>> found;
    while (query.next()) {
      const auto part = Part::parse(query.text_view(2));
      if (part && !part->farm.is_nil() && part->farm != work.data.farm.id) continue;
      found.emplace_back(query.id(0), query.text(1));
    }
    TRY(query.done());
    for (const auto& [id, why] : found) {
      TRY_ASSIGN(const std::optional<Record>& record, work.book.record(id));
      if (!record) continue;
      ReportStruck line;
      line.record = id;
      line.kind = std::string(kind.name);
      line.what = record_name(work.book, id);
      line.why = why;
      if (const Head* strike = strike_of(*record)) {
        line.by = person_name(work.book, strike->person);
        line.at = Moment{strike->wall};
      }
      if (line.at >= from && line.at < end) work.data.struck.push_back(std::move(line));
    }
  }
  sort_list(work.data.struck, [](const ReportStruck& a, const ReportStruck& b) { return a.at > b.at; });
  return {};
}

/// The newest first, and everybody who took part.
Result<void> add_passes(ReportWork& work, Date from, Date to) {
  ReportData& data = work.data;
  TRY_ASSIGN(const std::vector<Pass>& all, passes(work.book, data.farm.id, from, to));
  std::set<Id> people_seen;
  for (auto one = all.rbegin(); one != all.rend(); ++one) {
    TRY_ASSIGN(ReportPass pass, report_pass(work, *one));
    for (const ReportDose& dose : pass.doses) data.on_unknown_beds += !dose.dose.is_skipped() && dose.bed.empty();
    data.undone += pass.undone;
    for (const Id& id : pass.people_ids)
      if (people_seen.insert(id).second)
        if (auto person = read_person(work.book, id)) data.people.push_back(std::move(*person));
    data.passes.push_back(std::move(pass));
  }
  return {};
}

}  // namespace

Result<ReportData> report_data(const Book& book, const Id& farm, Date from, Date to) {
  TRY(days_in_order(from, to));
  const Snapshot snapshot = book.snapshot();
  ReportData data;
  TRY_ASSIGN(data.farm, read_farm(book, farm));
  data.from = from;
  data.to = to;
  data.made = book.now();
  data.book_name = book.name();
  data.copy_label = book.copy_label();
  data.demo = book.is_demo();
  TRY_ASSIGN(Places places, read_places(book, farm, to));
  TRY_ASSIGN(Codes codes, Codes::read(book));
  TRY_ASSIGN(Doubts doubts, Doubts::read(book));
  TRY_ASSIGN(WaitRules rules, WaitRules::read(book, data.farm, doubts, places.same));
  ReportWork work{book, data, std::move(places), std::move(codes), std::move(doubts), std::move(rules), {}, {}, {}, {}};
  work.beds_in_order = beds_in_order(book, work.places);
  for (const auto* list : {&work.places.beds, &work.places.others})
    for (const Bed& bed : *list) {
      TRY_ASSIGN(const std::vector<Planting>& of, plantings_of(book, work.places.same, bed.id));
      work.plantings[bed.id] = of;
    }
  TRY_ASSIGN(const std::vector<DosePair>& pairs, same_bed_pairs(book, farm));
  work.left_out = left_out_of_totals(pairs);
  for (const DosePair& pair : pairs) {
    work.in_question.insert(pair.first);
    work.in_question.insert(pair.second);
  }
  TRY_ASSIGN(data.totals, farm_totals(book, farm, from, to));
  TRY(add_passes(work, from, to));
  const Moment begin = data.farm.zone.start_of(from), end = data.farm.zone.start_of(to + 1);
  TRY_ASSIGN(data.photos, photos_between(book, farm, begin, end));
  TRY(add_brews(work));
  TRY(add_washes(work, begin, end));
  TRY(add_holds(work, begin, end));
  TRY(add_harvests(work, begin, end));
  TRY(add_struck(work, begin, end));
  TRY(add_reasons(work));
  TRY_ASSIGN(data.questions, open_questions(book, farm));
  TRY_ASSIGN(data.counts, question_counts(book, farm));
  data.digest = book.digest_code();
  data.tips = tip_codes(book);
  TRY_ASSIGN(const std::vector<Book::Batch>& batches, book.batches());
  for (const Book::Batch& batch : batches) data.batches_aside += batch.aside;
  return data;
}

}  // namespace steep
