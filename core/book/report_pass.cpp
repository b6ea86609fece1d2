// One pass of an inspection report: its doses, products, rules and sums.
#include "base/sorting.h"
#include "base/text.h"
#include "book/called.h"
#include "book/dose_scan.h"
#include "book/report_work.h"
#include "book/rows.h"
#include "book/strike.h"
#include "book/tables.h"

namespace steep {
namespace {

/// Who struck it, when.
Result<void> add_strike(const ReportWork& work, ReportDose& dose) {
  TRY_ASSIGN(const std::optional<Record>& record, work.book.record(dose.dose.id));
  if (const Head* strike = record ? strike_of(*record) : nullptr) {
    dose.struck_by = person_name(work.book, strike->person);
    dose.struck_at = Moment{strike->wall};
  }
  return {};
}

/// By every load and every finish that copies give it.
void add_waits(const ReportWork& work, ReportDose& line) {
  const Dose& dose = line.dose;
  std::vector<Moment> finishes;
  if (work.doubts.has(dose.id))
    finishes = work.doubts.finishes(dose.id);
  else if (dose.finish)
    finishes.push_back(dose.finish->at);
  std::vector<Id> loads;
  for (const FieldValue& reading : work.doubts.readings(dose.id, "what.load"))
    add_once(loads, Id::parse(reading.text).value_or(Id{}));
  if (loads.empty()) loads.push_back(dose.load);
  std::vector<Hold> harvest, entry;
  for (const Id& load : loads) {
    const StartedHolds started = work.rules.holds_after(work.rules.tank(load), line.crops, finishes,
                                                        work.places.same.is_shared(dose.bed), line.in_question);
    harvest.push_back(started.harvest);
    entry.push_back(started.entry);
  }
  line.harvest = latest_hold(harvest);
  line.entry = latest_hold(entry);
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
    line.bed = record_name(work.book, from.bed);
    const Stretch whole = line.place.whole(), done = from.stretch();
    line.part =
        !from.is_skipped() && (done.from.si() > kOneCentimeter || done.to.si() < whole.to.si() - kOneCentimeter);
  }
  const Moment finish = from.finish ? from.finish->at : from.made.at;
  line.late = is_late(from, finish);
  std::optional<Stretch> stretch;
  if (from.from && from.to) stretch = from.stretch();
  for (const Planting* planting : grew_on(work, from.bed, stretch, work.data.farm.day(finish)))
    add_once(line.crops, planting->crop);
  line.who = person_name(work.book, from.made_by);
  line.copy = lane_label(work.book, from.lane);
  if (from.is_struck()) {
    TRY(add_strike(work, line));
    return line;
  }
  if (from.is_skipped()) return line;
  add_waits(work, line);
  const TankFacts& tank = work.rules.tank(from.load);
  if (!tank.brew.is_nil() && from.finish)
    if (auto brew = read_brew(work.book, tank.brew); brew && brew->met_water)
      if (const auto time = tea_time(brew->met_water->at, from.finish->at)) line.time = *time;
  return line;
}

void add_rule(std::vector<RuleWait>& rules, const RuleWait& rule) {
  const auto same = [&](const RuleWait& one) { return one.source == rule.source && one.readings == rule.readings; };
  if (std::none_of(rules.begin(), rules.end(), same)) rules.push_back(rule);
}

/// Rules behind the waits of a dose, the governing one first.
void add_rules(const WaitRules& rules, const TankFacts& tank, const std::string& crop, bool shared, ReportPass& pass) {
  for (const RuleWait& rule : rules.harvest(tank, crop, shared)) add_rule(pass.harvest_rules, rule);
  for (const RuleWait& rule : rules.entry(tank)) add_rule(pass.entry_rules, rule);
}

void note_hold(const Hold& hold, std::optional<Moment>& first, std::optional<Moment>& last, bool& unknown) {
  unknown = unknown || hold.state == Hold::State::NotKnown;
  if (!hold.until) return;
  if (!first || *hold.until < *first) first = hold.until;
  if (!last || *hold.until > *last) last = hold.until;
}

ReportProduct product_of(const Book& book, const Id& lot_id) {
  ReportProduct made;
  made.lot = lot_id;
  const auto lot = read_lot(book, lot_id);
  if (!lot) return made;
  made.lot_code = lot->code;
  made.material = lot->material;
  if (auto material = read_material(book, lot->material)) {
    made.material_name = material->name;
    made.registration = material->registration;
    made.maker = material->maker;
  }
  return made;
}

void add_product(const ReportWork& work, const LoadLine& line, std::vector<ReportProduct>& products) {
  auto product =
      std::find_if(products.begin(), products.end(), [&](const ReportProduct& p) { return p.lot == line.lot; });
  if (product == products.end()) product = products.insert(product, product_of(work.book, line.lot));
  if (line.amount) {
    product->amounts.push_back(*line.amount);
  } else {
    ++product->not_taken;
  }
}

void add_brew(const ReportWork& work, const Id& id, ReportPass& pass) {
  if (id.is_nil()) return;
  pass.has_tea = true;
  if (std::find(pass.brews.begin(), pass.brews.end(), id) != pass.brews.end()) return;
  pass.brews.push_back(id);
  pass.brew_codes.push_back(work.codes.text(id));
  if (auto brew = read_brew(work.book, id))
    if (const std::string name = record_name(work.book, brew->recipe); !name.empty()) add_once(pass.recipes, name);
}

Result<void> add_loads(const ReportWork& work, ReportPass& pass) {
  TRY_ASSIGN(std::vector<LoadSheet> sheets, load_sheets(work.book, pass.pass));
  for (LoadSheet& sheet : sheets) {
    ReportLoad load;
    load.brew_code = sheet.load.brew.is_nil() ? std::string() : work.codes.text(sheet.load.brew);
    load.water = record_name(work.book, sheet.load.water_source);
    TRY_ASSIGN(load.poured, report_poured(work.book, sheet.load.id));
    add_brew(work, sheet.load.brew, pass);
    pass.has_tea = pass.has_tea || sheet.load.tea.value_or(Volume{}).si() > 0;
    for (const LoadLine& line : sheet.lines) {
      add_product(work, line, pass.products);
      add_product(work, line, load.products);
    }
    load.sheet = std::move(sheet);
    pass.loads.push_back(std::move(load));
  }
  return {};
}

/// Who sprayed, with which rig. Its swath.
Result<std::optional<Length>> add_people_and_rig(const ReportWork& work, ReportPass& pass) {
  std::optional<Length> swath;
  if (auto rig = read_rig(work.book, pass.pass.rig)) {
    pass.rig_name = rig->name;
    swath = rig->swath.maybe();
  }
  TRY_ASSIGN(const std::vector<RigCalibration>& calibrated, calibrations(work.book, pass.pass.rig));
  for (const RigCalibration& one : calibrated)
    if (one.id == pass.pass.calibration) pass.calibration = one;
  if (pass.calibration && pass.calibration->swath) swath = pass.calibration->swath.maybe();
  for (const Id& person : pass.pass.people) {
    pass.people.push_back(person_name(work.book, person));
    pass.people_ids.push_back(person);
  }
  return swath;
}

/// A bed that the pass sprayed, under whichever of its ids.
struct MetBed {
  Id id;  ///< Of the bed as it is shown today, where it is.
  std::string told;
  Stretch whole;  ///< Of no length when that is not known.
  std::vector<Stretch> done;

  /// How much of it, each stretch once however often it was sprayed; nullopt when all of it.
  std::optional<Length> done_in_part() const {
    if (whole.length().si() <= kOneCentimeter) return std::nullopt;
    Length sum;
    for (const Piece& piece : cut_into_pieces(whole, done))
      if (!piece.covered_by.empty()) sum += piece.stretch.length();
    return sum.si() < whole.length().si() - kOneCentimeter ? std::optional(sum) : std::nullopt;
  }
};

/// Beds and crops as they are met.
struct Met {
  std::vector<MetBed> beds;
  std::vector<std::string> crops;
};

void meet(const ReportWork& work, const ReportDose& line, Met& met) {
  const Bed* shown = work.places.bed(line.dose.bed);
  const Bed& bed = shown ? *shown : line.place;
  auto found = std::find_if(met.beds.begin(), met.beds.end(), [&](const MetBed& one) { return one.id == bed.id; });
  if (found == met.beds.end())
    found = met.beds.insert(found, {bed.id, record_name(work.book, bed.id), bed.whole(), {}});
  const bool known = line.dose.from && line.dose.to;
  found->done.push_back(known ? line.dose.stretch() : bed.whole());
}

/// A dose that was sprayed, in the sums, rules and waits of its pass.
void sum_up(const ReportWork& work, const ReportDose& line, std::optional<Length> swath, ReportPass& pass, Met& met) {
  if (!line.left_out) {
    const Length length = line.dose.stretch().length();
    pass.length += length;
    pass.bed_top += line.dose.area();
    if (swath) pass.swath_area += length * *swath;
    pass.used.add(line.volume);
  }
  pass.in_question += line.in_question;
  if (!line.bed.empty()) meet(work, line, met);
  note_hold(line.entry, pass.entry_first, pass.entry_last, pass.entry_unknown);
  note_hold(line.harvest, pass.harvest_first, pass.harvest_last, pass.harvest_unknown);
  const TankFacts& tank = work.rules.tank(line.dose.load);
  const bool shared = work.places.same.is_shared(line.dose.bed);
  for (const std::string& crop : line.crops) {
    add_once(met.crops, crop);
    add_rules(work.rules, tank, crop, shared, pass);
  }
  if (line.crops.empty()) add_rules(work.rules, tank, {}, shared, pass);
}

/// A bed that is done whole stands in the ranges, one done in part with its length.
void tell_beds(const ReportWork& work, const Met& met, ReportPass& pass) {
  std::vector<Id> whole;
  std::vector<std::string> gone;  // Of earlier: no longer in the walking order.
  for (const MetBed& bed : met.beds) {
    if (const auto part = bed.done_in_part()) {
      pass.parts.emplace_back(bed.told, *part);
    } else if (work.places.bed(bed.id)) {
      whole.push_back(bed.id);
    } else {
      gone.push_back(bed.told);
    }
  }
  pass.beds = bed_ranges(whole, work.beds_in_order);
  for (const std::string& name : gone) pass.beds += (pass.beds.empty() ? "" : ", ") + name;
}

/// Presses undone within the pass are counted on paper, listed only in the history.
Result<void> add_struck_doses(const ReportWork& work, ReportPass& pass) {
  TRY_ASSIGN(const std::vector<Dose>& all, doses_of_pass(work.book, pass.pass.id, Struck::Include));
  for (const Dose& dose : all) {
    if (!dose.is_struck() || dose.struck == kUndone) continue;
    TRY_ASSIGN(ReportDose line, report_dose(work, dose, 0, {}));
    pass.struck.push_back(std::move(line));
  }
  return {};
}

}  // namespace

namespace {

bool stands_on(const Planting& planting, Stretch stretch) {
  const double begin = planting.from ? planting.from->si() : 0;
  return begin < stretch.to.si() - kOneCentimeter &&
         (!planting.to || planting.to->si() > stretch.from.si() + kOneCentimeter);
}

}  // namespace

bool is_late(const RecordFacts& facts, Moment happened) {
  return facts.late_at.is_there() || !facts.late_from.empty() || facts.made.at - happened > kHour;
}

Result<std::vector<ReportPoured>> report_poured(const Book& book, const Id& of) {
  std::vector<ReportPoured> poured;
  TRY_ASSIGN(const std::vector<Discard>& all, discards(book, of));
  for (const Discard& discard : all)
    poured.push_back({discard, book.kind_of(discard.place), record_name(book, discard.place)});
  return poured;
}

std::vector<const Planting*> grew_on(const std::vector<Planting>& plantings, const std::optional<Stretch>& stretch,
                                     Date day) {
  std::vector<const Planting*> found;
  for (const Planting& planting : plantings)
    if (planting.grows_on(day) && (!stretch || stands_on(planting, *stretch))) found.push_back(&planting);
  sort_list(found, [](const Planting* a, const Planting* b) {
    return a->from.value_or(Length{}) < b->from.value_or(Length{});
  });
  return found;
}

std::vector<const Planting*> grew_on(const ReportWork& work, const Id& bed, const std::optional<Stretch>& stretch,
                                     Date day) {
  const auto of = work.plantings.find(bed);
  return of == work.plantings.end() ? std::vector<const Planting*>{} : grew_on(of->second, stretch, day);
}

Result<ReportPass> report_pass(const ReportWork& work, const Pass& from) {
  ReportPass pass;
  pass.pass = from;
  pass.code = work.codes.text(from.id);
  pass.undone = from.undone;
  TRY(add_loads(work, pass));
  TRY_ASSIGN(const std::optional<Length>& swath, add_people_and_rig(work, pass));
  Met met;
  for (const ReportLoad& load : pass.loads)
    for (std::size_t i = 0; i < load.sheet.doses.size(); ++i) {
      const LoadSheet& sheet = load.sheet;
      TRY_ASSIGN(ReportDose line, report_dose(work, sheet.doses[i], sheet.load.number, sheet.volumes[i]));
      if (!line.dose.is_skipped()) sum_up(work, line, swath, pass, met);
      pass.doses.push_back(std::move(line));
    }
  sort_list(pass.doses, [](const ReportDose& a, const ReportDose& b) {
    const auto at = [](const ReportDose& d) { return d.dose.finish ? d.dose.finish->at : d.dose.made.at; };
    return at(a) < at(b);
  });
  tell_beds(work, met, pass);
  pass.crops = join(met.crops, ", ");
  TRY(add_struck_doses(work, pass));
  return pass;
}

std::string bed_ranges(const std::vector<Id>& beds, const std::vector<BedInOrder>& in_order) {
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < in_order.size(); ++i)
    if (std::find(beds.begin(), beds.end(), in_order[i].id) != beds.end()) places.push_back(i);
  const auto letters = [](const std::string& name) { return name.substr(0, name.find_first_of("0123456789")); };
  // Never from one block into the next.
  const auto neighbors = [&](std::size_t a, std::size_t b) {
    return b == a + 1 && in_order[a].block == in_order[b].block &&
           letters(in_order[a].name) == letters(in_order[b].name);
  };
  std::vector<std::string> pieces;
  for (std::size_t i = 0; i < places.size();) {
    std::size_t last = i;
    while (last + 1 < places.size() && neighbors(places[last], places[last + 1])) ++last;
    const BedInOrder &first = in_order[places[i]], &end = in_order[places[last]];
    if (last > i + 1) {
      // The block stands before the range when any bed in it needs it.
      const auto needs = std::find_if(in_order.begin() + places[i], in_order.begin() + places[last] + 1,
                                      [](const BedInOrder& bed) { return bed.told != bed.name; });
      const std::string block = needs <= in_order.begin() + places[last]
                                    ? needs->told.substr(0, needs->told.size() - needs->name.size())
                                    : std::string();
      pieces.push_back(block + first.name + "–" + end.name);
    } else {
      pieces.push_back(first.told);
      if (last > i) pieces.push_back(end.told);
    }
    i = last + 1;
  }
  return join(pieces, ", ");
}

}  // namespace steep
