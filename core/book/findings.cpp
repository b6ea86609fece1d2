// Checks that run after every write and every take, over what was touched and what hangs together with it.
#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "book/bed_states.h"
#include "book/checks.h"
#include "book/doubts.h"
#include "book/rows.h"
#include "book/spelled.h"
#include "book/take_checks.h"
#include "book/wait_rules.h"

namespace steep {
namespace {

/// Harvests are held against treatments of at most so long before: no label asks for more.
constexpr std::int64_t kLongestLookBack = 400 * kDay;

struct Scope {
  std::set<Id> passes, loads, doses, harvests, lots, brews, codes;
};

Result<void> add_ids(const Book& book, std::string_view sql, const Id& id, std::set<Id>& into) {
  Query query = book.db().query(sql);
  query.bind(1, id);
  while (query.next())
    if (const Id found = query.id(0); !found.is_nil()) into.insert(found);
  return query.done();
}

constexpr std::string_view kBindingLoads =
    "SELECT DISTINCT l.load FROM k_load_line l JOIN k_lot t ON t.uid = l.amount_lot WHERE t.material = ?";

/// What has to be looked at again because of one record.
Result<void> widen(const Book& book, const Id& id, const std::string& kind, Scope& scope) {
  if (kind == "dose") {
    scope.doses.insert(id);
    TRY(add_ids(book, "SELECT what_load FROM k_dose WHERE uid = ?", id, scope.loads));
    // Picked later on this bed?
    TRY(add_ids(book,
                "SELECT h.uid FROM k_dose d JOIN k_harvest h ON h.bed = d.what_bed WHERE d.uid = ? AND "
                "h.at >= COALESCE(d.when_finish, d.made_ms) AND h.at < COALESCE(d.when_finish, d.made_ms) + 34560000000",
                id, scope.harvests));
  } else if (kind == "load" || kind == "load-line") {
    std::set<Id> loads;
    if (kind == "load") {
      loads.insert(id);
      TRY(add_ids(book, "SELECT mix_brew FROM k_load WHERE uid = ?", id, scope.brews));
    } else {
      TRY(add_ids(book, "SELECT load FROM k_load_line WHERE uid = ?", id, loads));
      TRY(add_ids(book, "SELECT amount_lot FROM k_load_line WHERE uid = ?", id, scope.lots));
    }
    for (const Id& load : loads) {
      scope.loads.insert(load);
      std::set<Id> doses;
      TRY(add_ids(book, "SELECT uid FROM k_dose WHERE what_load = ?", load, doses));
      for (const Id& dose : doses) TRY(widen(book, dose, "dose", scope));
    }
  } else if (kind == "pass") {
    scope.passes.insert(id);
    std::set<Id> loads;
    TRY(add_ids(book, "SELECT uid FROM k_load WHERE pass = ?", id, loads));
    for (const Id& load : loads) TRY(widen(book, load, "load", scope));
  } else if (kind == "discard") {
    TRY(add_ids(book, "SELECT d.\"of\" FROM k_discard d JOIN k_load l ON l.uid = d.\"of\" WHERE d.uid = ?", id, scope.loads));
    TRY(add_ids(book, "SELECT d.\"of\" FROM k_discard d JOIN k_brew b ON b.uid = d.\"of\" WHERE d.uid = ?", id, scope.brews));
  } else if (kind == "harvest") {
    scope.harvests.insert(id);
    TRY(add_ids(book, "SELECT o.uid FROM k_harvest h JOIN k_harvest o ON o.code = h.code WHERE h.uid = ?", id, scope.harvests));
  } else if (kind == "planting") {
    TRY(add_ids(book, "SELECT h.uid FROM k_planting p JOIN k_harvest h ON h.bed = p.bed WHERE p.uid = ?", id, scope.harvests));
    TRY(add_ids(book, "SELECT d.uid FROM k_planting p JOIN k_dose d ON d.what_bed = p.bed WHERE p.uid = ?", id, scope.doses));
  } else if (kind == "lot") {
    scope.lots.insert(id);
  } else if (kind == "brew-line") {
    TRY(add_ids(book, "SELECT amount_lot FROM k_brew_line WHERE uid = ?", id, scope.lots));
  } else if (kind == "brew") {
    scope.brews.insert(id);
  } else if (kind == "event") {
    TRY(add_ids(book, "SELECT brew FROM k_event WHERE uid = ?", id, scope.brews));
  } else if (kind == "material" || kind == "label-line") {
    std::set<Id> materials;
    if (kind == "material") {
      materials.insert(id);
    } else {
      TRY(add_ids(book, "SELECT material FROM k_label_line WHERE uid = ?", id, materials));
    }
    for (const Id& material : materials) {
      TRY(add_ids(book, "SELECT uid FROM k_lot WHERE material = ?", material, scope.lots));
      std::set<Id> loads;
      TRY(add_ids(book, kBindingLoads, material, loads));
      for (const Id& load : loads) TRY(widen(book, load, "load", scope));
    }
  } else if (kind == "farm") {
    TRY(add_ids(book, "SELECT h.uid FROM k_farm f JOIN k_harvest h ON h.part >= substr(f.part, 1, 27) AND "
                      "h.part < substr(f.part, 1, 26) || '0' WHERE f.uid = ?",
                id, scope.harvests));
  }
  return {};
}

class Checker {
 public:
  explicit Checker(const Book& book) : book_(book) {}
  std::vector<Finding> findings;

  Result<void> check_pass(const Id& id) {
    Query query = book_.db().query("SELECT start, finish FROM k_pass WHERE uid = ? AND struck IS NULL");
    query.bind(1, id);
    if (query.next() && !query.is_null(0) && !query.is_null(1) && query.integer(1) < query.integer(0))
      add(id, "finish", "finding.finish-before-start"_w, {record_value_text(id)}, Moment{query.integer(0)});
    return query.done();
  }

  /// What stayed in the tank goes on to the next load: all of a pass are looked at, and added to `loads`.
  Result<void> check_loads(std::set<Id>& loads) {
    std::set<Id> passes;
    for (const Id& load : loads) TRY(add_ids(book_, "SELECT pass FROM k_load WHERE uid = ?", load, passes));
    for (const Id& id : passes) {
      auto pass = read_pass(book_, id);
      if (!pass) continue;  // Not on this copy yet.
      TRY_ASSIGN(const std::vector<LoadSheet> sheets, load_sheets(book_, *pass));
      for (const LoadSheet& sheet : sheets) {
        loads.insert(sheet.load.id);
        if (sheet.shares.overdrawn)
          add(sheet.load.id, "mix", "finding.load-gave-more"_w, {record_value_text(id), std::to_string(sheet.load.number)},
              sheet.load.filled ? sheet.load.filled->at : sheet.load.made.at);
      }
    }
    return {};
  }

  Result<void> check_brew(const Id& id) {
    auto brew = read_brew(book_, id);
    if (!brew || brew->is_struck()) return {};
    TRY_ASSIGN(const BrewBalance balance, read_brew_balance(book_, id));
    if (balance.is_overdrawn())
      add(id, "fill", "finding.brew-overdrawn"_w, {record_value_text(id), amount_value_text(-*balance.left)}, brew->made.at);
    if (brew->air_on && brew->air_off && brew->air_off->at < brew->air_on->at)
      add(id, "air_off", "finding.finish-before-start"_w, {record_value_text(id)}, brew->air_on->at);
    return {};
  }

  Result<void> check_lot(const Id& id) {
    auto lot = read_lot(book_, id);
    if (!lot || lot->is_struck()) return {};
    TRY_ASSIGN(const LotBalance balance, lot_balance(book_, id));
    if (balance.is_overdrawn())
      add(id, "quantity", "finding.lot-overdrawn"_w,
          {record_value_text(id), amount_value_text(write_quantity(-*balance.left, *balance.unit))}, lot->made.at);
    return {};
  }

  /// A dose: its times, and whether the labels in its tank name the crops of its bed on that day.
  Result<void> check_dose(const Id& id) {
    auto dose = read_dose(book_, id);
    if (!dose || dose->is_struck() || dose->is_skipped()) return {};
    if (dose->start && dose->finish && dose->finish->at < dose->start->at)
      add(id, "when", "finding.finish-before-start"_w, {record_value_text(dose->bed)}, dose->start->at);
    Query labels = book_.db().query(
        "SELECT m.uid FROM k_load_line l JOIN k_lot t ON t.uid = l.amount_lot JOIN k_material m ON m.uid = t.material "
        "WHERE l.load = ? AND l.struck IS NULL AND (m.labelled = 1 OR (m.labelled IS NULL AND m.kind = 'pesticide'))");
    labels.bind(1, dose->load);
    std::vector<Id> materials;
    while (labels.next()) materials.push_back(labels.id(0));
    TRY(labels.done());
    if (materials.empty()) return {};
    auto bed = read_bed(book_, dose->bed);
    if (!bed) return {};
    auto farm = read_farm(book_, bed->farm);
    if (!farm) return {};
    const Moment at = dose->finish ? dose->finish->at : dose->made.at;
    TRY_ASSIGN(const std::vector<Planting> plantings, plantings_of(book_, dose->bed));
    for (const Planting& planting : plantings) {
      if (!planting.grows_on(farm->day(at))) continue;
      for (const Id& material : materials) {
        TRY_ASSIGN(const std::vector<LabelLine> lines, label_lines(book_, material));
        const bool named = std::any_of(lines.begin(), lines.end(), [&](const LabelLine& line) {
          return line.crop.empty() || lower(line.crop) == lower(planting.crop);
        });
        if (!named)
          add(id, "what", "finding.crop-not-on-label"_w,
              {record_value_text(dose->bed), record_value_text(material), planting.crop}, at);
      }
    }
    return {};
  }

  /// Picked inside a wait, as the record stands now?
  Result<void> check_harvest(const Id& id) {
    Rows rows(book_, "harvest", "WHERE uid = ?");
    rows.query().bind(1, id);
    if (!rows.next()) return rows.done();
    RecordFacts facts;
    rows.facts(facts);
    const Id bed_id = rows.reference("bed"), planting_id = rows.reference("planting");
    const Taken<Stamp> at = rows.instant("at");
    const std::string code = rows.text("code");
    TRY(rows.done());
    if (facts.is_struck() || !at) return {};
    if (!code.empty()) {
      Query twice = book_.db().query("SELECT count(*) FROM k_harvest WHERE code = ? AND struck IS NULL");
      twice.bind(1, code);
      if (twice.next() && twice.integer(0) > 1) add(id, "code", "finding.code-twice"_w, {code}, at->at);
      TRY(twice.done());
    }
    auto bed = read_bed(book_, bed_id);
    if (!bed) return {};
    TRY_ASSIGN(const std::vector<Dose> doses, doses_on_bed(book_, bed_id, Struck::Include));
    std::vector<const Dose*> near;
    const WaitRules* rules = nullptr;
    const Doubts* doubts = nullptr;
    for (const Dose& dose : doses) {
      const Moment finish = dose.finish ? dose.finish->at : dose.made.at;
      if (dose.is_skipped() || finish > at->at || finish < at->at - kLongestLookBack) continue;
      if (!rules) TRY(rules_for(bed->farm, rules, doubts));
      if (dose.is_struck() && !doubts->counts_although_struck(dose.id)) continue;
      near.push_back(&dose);
    }
    if (near.empty()) return {};
    TRY_ASSIGN(const std::vector<Planting> plantings, plantings_of(book_, bed_id));
    const Farm& farm = farms_.find(bed->farm)->second.farm;
    std::vector<std::pair<std::string, std::optional<Date>>> crops;
    for (const Planting& planting : plantings)
      if (planting.id == planting_id || (planting_id.is_nil() && planting.grows_on(farm.day(at->at))))
        crops.emplace_back(planting.crop, planting.started());
    if (crops.empty()) crops.emplace_back();
    for (const Dose* dose : near)
      for (const auto& [crop, started] : crops) {
        Treatment treatment;
        const Moment finish = dose->finish ? dose->finish->at : dose->made.at;
        treatment.finishes = {finish};
        for (const RuleWait& rule : rules->harvest(rules->tank(dose->load), crop)) {
          const bool endless = std::any_of(rule.readings.begin(), rule.readings.end(), [](Wait w) { return !w.is_known(); });
          // The crop was not there when it was sprayed: no label can have named it.
          if (endless && started && finish < farm.zone.start_of(*started)) continue;
          treatment.harvest.push_back(rule);
        }
        const Hold hold = rules->harvest_hold({treatment});
        if (!hold.holds_at(at->at)) continue;
        const bool known = hold.state == Hold::State::Until;
        std::vector<std::string> values{record_value_text(bed_id), date_value_text(farm.day(at->at)), date_value_text(farm.day(finish))};
        if (known) values.push_back(moment_value_text(*hold.until));
        add(id, "at", known ? "finding.picked-inside-wait"_w : "finding.picked-while-held"_w, std::move(values), at->at);
        break;
      }
    return {};
  }

 private:
  struct FarmRules {
    Farm farm;
    WaitRules rules;
  };

  void add(const Id& record, std::string group, WordId word, std::vector<std::string> values, Moment since) {
    for (const Finding& one : findings)
      if (one.record == record && one.word == word && one.values == values) return;
    findings.push_back({record, std::move(group), word, std::move(values), since});
  }

  Result<void> rules_for(const Id& farm, const WaitRules*& rules, const Doubts*& doubts) {
    if (!doubts_) {
      TRY_ASSIGN(Doubts read, Doubts::read(book_));
      doubts_ = std::move(read);
    }
    doubts = &*doubts_;
    auto found = farms_.find(farm);
    if (found == farms_.end()) {
      TRY_ASSIGN(Farm of, read_farm(book_, farm));
      TRY_ASSIGN(WaitRules read, WaitRules::read(book_, of, *doubts_));
      found = farms_.emplace(farm, FarmRules{std::move(of), std::move(read)}).first;
    }
    rules = &found->second.rules;
    return {};
  }

  const Book& book_;
  std::optional<Doubts> doubts_;
  std::map<Id, FarmRules> farms_;
};

}  // namespace

Result<std::vector<Finding>> check_records(const Book& book, std::span<const Id> touched, std::vector<Id>& examined) {
  Scope scope;
  for (const Id& id : touched) TRY(widen(book, id, book.kind_of(id), scope));
  Checker checker(book);
  for (const Id& id : scope.passes) TRY(checker.check_pass(id));
  TRY(checker.check_loads(scope.loads));
  for (const Id& id : scope.brews) TRY(checker.check_brew(id));
  for (const Id& id : scope.lots) TRY(checker.check_lot(id));
  for (const Id& id : scope.doses) TRY(checker.check_dose(id));
  for (const Id& id : scope.harvests) TRY(checker.check_harvest(id));
  for (const auto* set : {&scope.passes, &scope.loads, &scope.doses, &scope.harvests, &scope.lots, &scope.brews})
    examined.insert(examined.end(), set->begin(), set->end());
  for (const Finding& finding : checker.findings) examined.push_back(finding.record);
  return std::move(checker.findings);
}

void take_checks(const Book& book, std::span<const Id> touched, std::vector<Id>& examined, std::vector<Review>& findings) {
  auto found = check_records(book, touched, examined);
  // A check that cannot be read hides nothing of the book: its findings stay away until the next write.
  if (!found) return;
  for (Finding& finding : *found)
    findings.push_back({finding.record, std::move(finding.group), finding.word, std::move(finding.values), finding.since});
}

}  // namespace steep
