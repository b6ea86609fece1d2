// One pass of an inspection report: its doses, products, rules and sums.
#include "base/sorting.h"
#include "base/text.h"
#include "book/dose_scan.h"
#include "book/report_work.h"
#include "book/rows.h"
#include "book/tables.h"

namespace steep {
namespace {

std::string lane_label(const Book& book, const Id& lane) {
  for (const Lane& one : book.lanes())
    if (one.id == lane) return one.mine ? book.copy_label() : one.label;
  return {};
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
    line.part =
        !from.is_skipped() && (done.from.si() > kOneCentimeter || done.to.si() < whole.to.si() - kOneCentimeter);
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
          if (const std::string name = record_name(work.book, brew->recipe); !name.empty())
            add_once(pass.recipes, name);
      }
    }
    pass.has_tea = pass.has_tea || sheet.load.tea.value_or(Volume{}).si() > 0;
    for (const LoadLine& line : sheet.lines) {
      auto product = std::find_if(pass.products.begin(), pass.products.end(),
                                  [&](const ReportProduct& p) { return p.lot == line.lot; });
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

/// Names of beds and crops as they are met.
struct Met {
  std::vector<std::string> beds, crops;
};

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
  if (!line.bed.empty()) add_once(met.beds, line.bed);
  note_hold(line.entry, pass.entry_first, pass.entry_last, pass.entry_unknown);
  note_hold(line.harvest, pass.harvest_first, pass.harvest_last, pass.harvest_unknown);
  const TankFacts& tank = work.rules.tank(line.dose.load);
  const bool shared = work.places.same.is_shared(line.dose.bed);
  for (const std::string_view text : split(line.crops, ',')) {
    const std::string crop(trim(text));
    if (!crop.empty()) add_once(met.crops, crop);
    add_rules(work.rules, tank, crop, shared, pass);
  }
}

/// Beds of which only a part was done by the end of this pass.
void add_parts(ReportPass& pass, const std::vector<std::string>& beds) {
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

std::vector<const Planting*> grew_on(const ReportWork& work, const Id& bed, Date day) {
  std::vector<const Planting*> found;
  const auto of = work.plantings.find(bed);
  if (of == work.plantings.end()) return found;
  for (const Planting& planting : of->second)
    if (planting.grows_on(day)) found.push_back(&planting);
  return found;
}

Result<ReportPass> report_pass(const ReportWork& work, const Pass& from) {
  ReportPass pass;
  pass.pass = from;
  pass.code = work.codes.text(from.id);
  pass.undone = from.undone;
  TRY_ASSIGN(pass.loads, load_sheets(work.book, from));
  TRY(add_products(work, pass.loads, pass));
  TRY_ASSIGN(const std::optional<Length>& swath, add_people_and_rig(work, pass));
  Met met;
  for (const LoadSheet& sheet : pass.loads)
    for (std::size_t i = 0; i < sheet.doses.size(); ++i) {
      TRY_ASSIGN(ReportDose line, report_dose(work, sheet.doses[i], sheet.load.number, sheet.volumes[i]));
      if (!line.dose.is_skipped()) sum_up(work, line, swath, pass, met);
      pass.doses.push_back(std::move(line));
    }
  sort_list(pass.doses, [](const ReportDose& a, const ReportDose& b) {
    const auto at = [](const ReportDose& d) { return d.dose.finish ? d.dose.finish->at : d.dose.made.at; };
    return at(a) < at(b);
  });
  add_parts(pass, met.beds);
  pass.beds = bed_ranges(met.beds, work.names_in_order);
  pass.crops = join(met.crops, ", ");
  TRY(add_struck_doses(work, pass));
  return pass;
}

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

}  // namespace steep
