#include "book/report_data.h"

#include <algorithm>
#include <set>

#include "base/sorting.h"
#include "base/text.h"
#include "book/codes.h"
#include "book/doubts.h"
#include "book/checker.h"
#include "book/dose_scan.h"
#include "book/pass_parts.h"
#include "book/photos.h"
#include "book/rows.h"
#include "book/tables.h"
#include "book/wait_rules.h"

namespace steep {
namespace {

struct ReportWork {
  const Book& book;
  ReportData& data;
  Places places;
  Codes codes;
  Doubts doubts;
  WaitRules rules;
  std::map<Id, std::vector<Planting>> plantings;  // of each bed under any of its ids, ended ones too
  std::set<Id> in_question, left_out;
  std::vector<std::string> names_in_order;
};

template <class T>
void add_once(std::vector<T>& list, const T& value) {
  if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
}

std::string lane_label(const Book& book, const Id& lane) {
  for (const Lane& one : book.lanes())
    if (one.id == lane) return one.mine ? book.copy_label() : one.label;
  return {};
}

std::vector<const Planting*> grew_on(const ReportWork& work, const Id& bed, Date day) {
  std::vector<const Planting*> found;
  const auto of = work.plantings.find(bed);
  if (of == work.plantings.end()) return found;
  for (const Planting& planting : of->second)
    if (planting.grows_on(day)) found.push_back(&planting);
  return found;
}

/// Who struck it, when.
Result<void> add_strike(const ReportWork& work, ReportDose& dose) {
  TRY_ASSIGN(const std::optional<Record>& record, work.book.record(dose.dose.id));
  if (!record) return {};
  for (const Group& group : record->groups) {
    if (group.key != "struck" || group.heads.empty()) continue;
    dose.struck_by = person_name(work.book, group.heads.front().person);
    dose.struck_at = Moment{group.heads.front().wall};
  }
  return {};
}

Result<ReportDose> report_dose(const ReportWork& work, const Dose& from, int load_number, const ShownVolume& volume) {
  ReportDose line;
  line.dose = from;
  line.load_number = load_number;
  line.volume = volume;
  line.differs = !from.differs.empty();
  line.in_question = work.in_question.count(from.id) != 0;
  line.left_out = work.left_out.count(from.id) != 0;
  if (auto bed = read_bed(work.book, from.bed)) {
    line.place = std::move(*bed);
    line.bed = line.place.name;
    const Stretch whole = line.place.whole(), done = from.stretch();
    line.part = !from.is_skipped() && (done.from.si() > kOneCentimeter || done.to.si() < whole.to.si() - kOneCentimeter);
  }
  const Moment finish = from.finish ? from.finish->at : from.made.at;
  std::vector<std::string> crops;
  const auto grew = grew_on(work, from.bed, work.data.farm.day(finish));
  for (const Planting* planting : grew) add_once(crops, planting->crop);
  line.crops = join(crops, ", ");
  line.who = person_name(work.book, from.made_by);
  line.copy = lane_label(work.book, from.lane);
  if (from.is_struck()) {
    TRY(add_strike(work, line));
    return line;
  }
  if (from.is_skipped()) return line;
  const TankFacts& tank = work.rules.tank(from.load);
  if (crops.empty()) crops.emplace_back();
  const bool shared = work.places.same.is_shared(from.bed);
  std::vector<Hold> holds;
  std::vector<Moment> finishes;
  for (const FieldValue& reading : work.doubts.readings(from.id, "when.finish"))
    if (const auto stamp = parse_stamp(reading.text)) finishes.push_back(stamp->at);
  if (finishes.empty() && from.finish) finishes.push_back(from.finish->at);
  for (const std::string& crop : crops) {
    Treatment treatment;
    treatment.finishes = finishes;
    treatment.harvest = work.rules.harvest(tank, crop, shared);
    treatment.in_question = line.in_question;
    holds.push_back(work.rules.harvest_hold({treatment}, shared));
  }
  line.harvest = latest_hold(holds);
  Treatment treatment;
  treatment.finishes = finishes;
  treatment.entry = work.rules.entry(tank);
  treatment.in_question = line.in_question;
  line.entry = work.rules.entry_hold({treatment});
  if (!tank.brew.is_nil() && from.finish)
    if (auto brew = read_brew(work.book, tank.brew); brew && brew->met_water)
      if (const auto time = tea_time(brew->met_water->at, from.finish->at)) line.time = *time;
  return line;
}

/// Rules behind the waits of a dose, the governing one first.
void add_rules(const WaitRules& rules, const TankFacts& tank, const std::string& crop, bool shared, ReportPass& pass) {
  for (const RuleWait& rule : rules.harvest(tank, crop, shared)) add_once(pass.harvest_rules, rule.source);
  for (const RuleWait& rule : rules.entry(tank)) add_once(pass.entry_rules, rule.source);
}

void note_hold(const Hold& hold, std::optional<Moment>& first, std::optional<Moment>& last, bool& unknown) {
  unknown = unknown || hold.state == Hold::State::NotKnown;
  if (!hold.until) return;
  if (!first || *hold.until < *first) first = hold.until;
  if (!last || *hold.until > *last) last = hold.until;
}

Result<void> add_products(const ReportWork& work, const std::vector<LoadSheet>& loads, ReportPass& pass) {
  for (const LoadSheet& sheet : loads) {
    if (!sheet.load.brew.is_nil()) {
      pass.has_tea = true;
      if (std::find(pass.brews.begin(), pass.brews.end(), sheet.load.brew) == pass.brews.end()) {
        pass.brews.push_back(sheet.load.brew);
        pass.brew_codes.push_back(work.codes.text(sheet.load.brew));
        if (auto brew = read_brew(work.book, sheet.load.brew))
          if (const std::string name = record_name(work.book, brew->recipe); !name.empty()) add_once(pass.recipes, name);
      }
    }
    pass.has_tea = pass.has_tea || sheet.load.tea.value_or(Volume{}).si() > 0;
    for (const LoadLine& line : sheet.lines) {
      auto product = std::find_if(pass.products.begin(), pass.products.end(), [&](const ReportProduct& p) { return p.lot == line.lot; });
      if (product == pass.products.end()) {
        ReportProduct made;
        made.lot = line.lot;
        if (auto lot = read_lot(work.book, line.lot)) {
          made.lot_code = lot->code;
          made.material = lot->material;
          if (auto material = read_material(work.book, lot->material)) {
            made.material_name = material->name;
            made.registration = material->registration;
            made.maker = material->maker;
          }
        }
        pass.products.push_back(std::move(made));
        product = pass.products.end() - 1;
      }
      if (line.amount) {
        product->amounts.push_back(*line.amount);
      } else {
        ++product->not_taken;
      }
    }
  }
  return {};
}

Result<ReportPass> report_pass(ReportWork& work, const Pass& from) {
  ReportPass pass;
  pass.pass = from;
  pass.code = work.codes.text(from.id);
  pass.undone = from.undone;
  TRY_ASSIGN(pass.loads, load_sheets(work.book, from));
  TRY(add_products(work, pass.loads, pass));
  std::optional<Length> swath;
  if (auto rig = read_rig(work.book, from.rig)) {
    pass.rig_name = rig->name;
    swath = rig->swath.maybe();
  }
  TRY_ASSIGN(const std::vector<RigCalibration>& calibrated, calibrations(work.book, from.rig));
  for (const RigCalibration& one : calibrated)
    if (one.id == from.calibration) pass.calibration = one;
  if (pass.calibration && pass.calibration->swath) swath = pass.calibration->swath.maybe();
  for (const Id& person : from.people) {
    pass.people.push_back(person_name(work.book, person));
    pass.people_ids.push_back(person);
  }
  std::vector<std::string> beds, crops;
  for (const LoadSheet& sheet : pass.loads)
    for (std::size_t i = 0; i < sheet.doses.size(); ++i) {
      TRY_ASSIGN(ReportDose line, report_dose(work, sheet.doses[i], sheet.load.number, sheet.volumes[i]));
      if (!line.dose.is_skipped()) {
        work.data.on_unknown_beds += line.bed.empty();
        if (!line.left_out) {
          pass.length += line.dose.stretch().length();
          pass.bed_top += line.dose.area();
          if (swath) pass.swath_area += line.dose.stretch().length() * *swath;
          pass.used.add(line.volume);
        }
        pass.in_question += line.in_question;
        if (!line.bed.empty()) add_once(beds, line.bed);
        for (const std::string_view crop : split(line.crops, ','))
          if (const auto plain = trim(crop); !plain.empty()) add_once(crops, std::string(plain));
        note_hold(line.entry, pass.entry_first, pass.entry_last, pass.entry_unknown);
        note_hold(line.harvest, pass.harvest_first, pass.harvest_last, pass.harvest_unknown);
        const TankFacts& tank = work.rules.tank(line.dose.load);
        const bool shared = work.places.same.is_shared(line.dose.bed);
        std::vector<std::string> crops_here;
        for (const std::string_view crop : split(line.crops, ',')) crops_here.emplace_back(trim(crop));
        for (const std::string& crop : crops_here) add_rules(work.rules, tank, crop, shared, pass);
      }
      pass.doses.push_back(std::move(line));
    }
  sort_list(pass.doses, [](const ReportDose& a, const ReportDose& b) {
    const auto at = [](const ReportDose& d) { return d.dose.finish ? d.dose.finish->at : d.dose.made.at; };
    return at(a) < at(b);
  });
  // Beds of which only a part was done by the end of this pass.
  for (const std::string& name : beds) {
    Length done;
    std::optional<Length> whole;
    for (const ReportDose& dose : pass.doses)
      if (dose.bed == name && !dose.dose.is_skipped()) {
        done += dose.dose.stretch().length();
        whole = dose.place.length.maybe();
      }
    if (whole && done.si() < whole->si() - kOneCentimeter) pass.parts.emplace_back(name, done);
  }
  pass.beds = bed_ranges(beds, work.names_in_order);
  pass.crops = join(crops, ", ");
  TRY_ASSIGN(const std::vector<Dose>& all, doses_of_pass(work.book, from.id, Struck::Include));
  for (const Dose& dose : all) {
    // Presses undone within the pass are counted on paper, listed only in the history.
    if (!dose.is_struck() || dose.struck == kUndone) continue;
    TRY_ASSIGN(ReportDose line, report_dose(work, dose, 0, {}));
    pass.struck.push_back(std::move(line));
  }
  return pass;
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
    TRY_ASSIGN(line.discards, discards(work.book, brew.id));
    // A brew that went nowhere else than on the ground belongs to the record too.
    if (wanted.count(brew.id) == 0 && !(of_days && !line.discards.empty())) continue;
    TRY_ASSIGN(line.sheet, read_brew_sheet(work.book, brew.id));
    for (const ReportPass& pass : work.data.passes)
      if (std::find(pass.brews.begin(), pass.brews.end(), brew.id) != pass.brews.end()) line.used_in.push_back(pass.code);
    work.data.brews.push_back(std::move(line));
  }
  return {};
}

Result<void> add_washes(ReportWork& work, Moment from, Moment end) {
  Rows rows(work.book, "wash", "WHERE struck IS NULL AND COALESCE(at, made_ms) >= ? AND COALESCE(at, made_ms) < ? ORDER BY COALESCE(at, made_ms) DESC");
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
  for (ReportWash& line : work.data.washes) {
    line.of = record_name(work.book, line.wash.of);
    line.by = person_name(work.book, line.wash.by);
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
    line.crop = record_name(work.book, line.harvest.planting);
    if (line.crop.empty()) {
      std::vector<std::string> crops;
      for (const Planting* planting : grew_on(work, line.harvest.bed, work.data.farm.day(line.harvest.at.at))) add_once(crops, planting->crop);
      line.crop = join(crops, ", ");
    }
    Rows sales(work.book, "sale", "WHERE struck IS NULL AND harvest = ? ORDER BY COALESCE(at, made_ms)");
    sales.query().bind(1, line.harvest.id);
    while (sales.next()) {
      Sale sale;
      sales.facts(sale);
      sale.harvest = line.harvest.id;
      sale.amount = sales.written("amount");
      sale.to = sales.text("to");
      sale.at = sales.instant("at");
      line.sales.push_back(std::move(sale));
    }
    TRY(sales.done());
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
    Query query = work.book.db().query("SELECT uid, struck, part FROM " + wide_name(kind.name) + " WHERE struck IS NOT NULL AND struck <> ?");
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
      for (const Group& group : record->groups) {
        if (group.key != "struck" || group.heads.empty()) continue;
        line.by = person_name(work.book, group.heads.front().person);
        line.at = Moment{group.heads.front().wall};
      }
      if (line.at >= from && line.at < end) work.data.struck.push_back(std::move(line));
    }
  }
  sort_list(work.data.struck, [](const ReportStruck& a, const ReportStruck& b) { return a.at > b.at; });
  return {};
}

}  // namespace

std::string bed_ranges(const std::vector<std::string>& names, const std::vector<std::string>& order) {
  std::vector<std::pair<std::size_t, std::string>> places;
  for (const std::string& name : names)
    places.emplace_back(static_cast<std::size_t>(std::find(order.begin(), order.end(), name) - order.begin()), name);
  sort_list(places, [](const auto& a, const auto& b) { return a.first < b.first; });
  std::string out;
  for (std::size_t i = 0; i < places.size();) {
    std::size_t last = i;
    // Neighbours of one block: 'N1–N14', never from one block into the next.
    const auto letters = [](const std::string& name) { return name.substr(0, name.find_first_of("0123456789")); };
    while (last + 1 < places.size() && places[last + 1].first == places[last].first + 1 &&
           letters(places[last + 1].second) == letters(places[i].second))
      ++last;
    if (!out.empty()) out += ", ";
    out += places[i].second;
    if (last == i + 1) out += ", " + places[last].second;
    if (last > i + 1) out += "–" + places[last].second;
    i = last + 1;
  }
  return out;
}

Result<ReportData> report_data(const Book& book, const Id& farm, Date from, Date to) {
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
  for (const Bed& bed : work.places.beds) work.names_in_order.push_back(bed.name);
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
  TRY_ASSIGN(const std::vector<Pass>& all, passes(book, farm, from, to));
  std::set<Id> people_seen;
  for (auto one = all.rbegin(); one != all.rend(); ++one) {
    TRY_ASSIGN(ReportPass pass, report_pass(work, *one));
    data.undone += pass.undone;
    for (const Id& id : pass.people_ids)
      if (people_seen.insert(id).second)
        if (auto person = read_person(book, id)) data.people.push_back(std::move(*person));
    data.passes.push_back(std::move(pass));
  }
  const Moment begin = data.farm.zone.start_of(from), end = data.farm.zone.start_of(to + 1);
  TRY_ASSIGN(data.photos, photos_between(book, farm, begin, end));
  TRY(add_brews(work));
  TRY(add_washes(work, begin, end));
  TRY(add_harvests(work, begin, end));
  TRY(add_struck(work, begin, end));
  TRY_ASSIGN(data.questions, open_questions(book, farm));
  TRY_ASSIGN(data.counts, question_counts(book, farm));
  data.digest = book.digest_code();
  data.tips = tip_codes(book);
  TRY_ASSIGN(const std::vector<Book::Batch>& batches, book.batches());
  for (const Book::Batch& batch : batches) data.batches_aside += batch.aside;
  return data;
}

std::vector<std::string> tip_codes(const Book& book) {
  std::vector<std::string> codes;
  for (const Lane& lane : book.lanes()) {
    if (lane.last_seq == 0) continue;
    std::string part = lane.part.text();
    if (!lane.part.farm.is_nil())
      if (const auto farm = read_farm(book, lane.part.farm)) part = farm->name + part.substr(part.find('/'));
    codes.push_back((lane.mine ? book.copy_label() : lane.label) + ' ' + part + ' ' + std::to_string(lane.last_seq) + ' ' + hex(lane.tip).substr(0, 8));
  }
  return codes;
}

Result<std::optional<std::string>> find_tip(const Book& book, std::int64_t seq, std::uint32_t tag) {
  for (const Lane& lane : book.lanes()) {
    bool found = false;
    TRY(book.each_line(lane.id, seq, [&](const Book::Line& line) {
      found = found || (line.seq == seq && tag_of(line.hash) == tag);
      return line.seq == seq && !found;
    }));
    if (found) return std::optional((lane.mine ? book.copy_label() : lane.label) + ' ' + lane.part.text());
  }
  return std::optional<std::string>();
}

}  // namespace steep
