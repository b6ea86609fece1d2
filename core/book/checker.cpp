#include "book/checker.h"

#include <algorithm>

#include "book/dose_scan.h"
#include "book/harvest_balance.h"
#include "book/spelled.h"
#include "book/tank_rest.h"

namespace steep {

void Checker::add(const Id& record, std::string_view group, WordId word, Values values, Moment since) {
  for (auto one = findings.rbegin(); one != findings.rend() && one->record == record; ++one)
    if (one->why == word && std::equal(one->values.begin(), one->values.end(), values.begin(), values.end())) return;
  findings.push_back({record, std::string(group), word, {values.begin(), values.end()}, since});
}

Result<void> Checker::check_pass(const Id& pass) {
  Query query = book_.db().query("SELECT start, finish FROM k_pass WHERE uid = ? AND struck IS NULL");
  query.bind(1, pass);
  if (query.next() && !query.is_null(0) && !query.is_null(1) && query.integer(1) < query.integer(0))
    add(pass, "finish", "finding.finish-before-start"_w, {record_value_text(pass)}, Moment{query.integer(0)});
  return query.done();
}

// ---- Loads and lots ----------------------------------------------------------------------------

Result<Checker::KnownPass*> Checker::pass_of(const Id& load) {
  Query query = book_.db().query("SELECT pass FROM k_load WHERE uid = ?");
  query.bind(1, load);
  const Id id = query.next() ? query.id(0) : Id{};
  TRY(query.done());
  const auto [place, is_new] = passes_.try_emplace(id);
  if (is_new)
    if (auto pass = read_pass(book_, id)) place->second.pass = std::move(*pass);
  return &place->second;
}

void Checker::note(const LoadBalance& balance) {
  const Load& load = balance.load;
  if (balance.overdrawn)
    add(load.id, "mix", "finding.load-gave-more"_w, {record_value_text(load.pass), std::to_string(load.number)},
        load.filled ? load.filled->at : load.made.at);
}

Result<void> Checker::check_loads_beside(const Id& load, std::vector<Id>& examined) {
  TRY_ASSIGN(KnownPass * of, pass_of(load));
  if (!of->pass || of->checked) return {};
  of->checked = true;
  TRY_ASSIGN(const std::vector<LoadBalance>& balances, load_balances(book_, *of->pass));
  for (const LoadBalance& balance : balances) {
    examined.push_back(balance.load.id);
    note(balance);
  }
  return {};
}

Result<void> Checker::check_load(const Id& load) {
  TRY_ASSIGN(KnownPass * of, pass_of(load));
  if (!of->pass || of->checked) return {};
  TRY_ASSIGN(const std::vector<LoadBalance>& balances, load_balances(book_, *of->pass, load));
  for (const LoadBalance& balance : balances) note(balance);
  return {};
}

Result<void> Checker::check_brew(const Id& id) {
  auto brew = read_brew(book_, id);
  if (!brew || brew->is_struck()) return {};
  TRY_ASSIGN(const BrewBalance& balance, read_brew_balance(book_, id));
  if (balance.is_overdrawn())
    add(id, "fill", "finding.brew-overdrawn"_w, {record_value_text(id), amount_value_text(-*balance.left)},
        brew->made.at);
  if (brew->air_on && brew->air_off && brew->air_off->at < brew->air_on->at)
    add(id, "air_off", "finding.finish-before-start"_w, {record_value_text(id)}, brew->air_on->at);
  return {};
}

Result<void> Checker::check_lot(const Id& id) {
  auto lot = read_lot(book_, id);
  if (!lot || lot->is_struck()) return {};
  TRY_ASSIGN(const LotBalance& balance, lot_balance(book_, id));
  if (balance.is_overdrawn())
    add(id, "quantity", "finding.lot-overdrawn"_w,
        {record_value_text(id), amount_value_text(write_quantity(-*balance.left, *balance.unit))}, lot->made.at);
  return {};
}

// ---- Labels ------------------------------------------------------------------------------------

/// Did anything but tea and water go into a tank in this pass, or in those of which something may still be in it?
Result<bool> Checker::had_products(const Id& pass) {
  TRY_ASSIGN(const PassesInTank& in_tank, passes_in_tank(book_, pass));
  Query query =
      book_.db().query("SELECT 1 FROM k_load l JOIN k_load_line p ON p.load = l.uid WHERE l.pass = ? LIMIT 1");
  bool found = !in_tank.all;
  for (const Id& one : in_tank.passes) {
    query.bind(1, one);
    found = found || query.next();
    TRY(query.done());
  }
  return found;
}

/// Before all rules are read: had it, or is that in doubt?
Result<bool> Checker::may_hold_products(const Id& load) {
  TRY_ASSIGN(const Doubts* open, doubts());
  if (!open->empty()) return true;
  TRY_ASSIGN(KnownPass * of, pass_of(load));
  if (!of->pass) return true;
  if (!of->may_hold_products) {
    TRY_ASSIGN(of->may_hold_products, had_products(of->pass->id));
  }
  return *of->may_hold_products;
}

Result<void> Checker::check_dose(const Id& id) {
  Query query = book_.db().query(
      "SELECT what_load, what_bed, when_start, when_finish FROM k_dose WHERE uid = ? AND struck IS NULL AND "
      "what_how IS NOT 'skipped'");
  query.bind(1, id);
  if (!query.next()) return query.done();
  const Id load = query.id(0), bed = query.id(1);
  const auto start = query.maybe_integer(2), finish = query.maybe_integer(3);
  TRY(query.done());
  Moment at{finish.value_or(0)};
  if (!finish) {
    TRY_ASSIGN(at.ms, unfinished_since(book_, id));
  }
  if (start && finish && *finish < *start)
    add(id, "when", "finding.finish-before-start"_w, {record_value_text(bed)}, Moment{*start});
  TRY_ASSIGN(const bool products, may_hold_products(load));
  if (!products) return {};
  TRY_ASSIGN(const GroundOf* of, ground(bed));
  if (!of->is_here || farm(of->farm) == nullptr) return {};
  TRY_ASSIGN(const FarmRules* rules, rules_for(of->farm));
  const TankFacts& tank = rules->rules.tank(load);
  if (tank.lots.empty()) return {};
  const Date day = rules->farm.day(at);
  for (const Planting& planting : of->plantings)
    if (planting.grows_on(day))
      for (const Id& material : rules->rules.labels_without(tank.lots, planting.crop))
        add(id, "what", "finding.crop-not-on-label"_w,
            {record_value_text(bed), record_value_text(material), planting.crop}, at);
  return {};
}

// ---- Harvests and sales ------------------------------------------------------------------------

Result<void> Checker::check_code(const Id& harvest, const std::string& code, Moment at) {
  if (code.empty()) return {};
  Query twice = book_.db().query("SELECT count(*) FROM k_harvest WHERE code = ? AND struck IS NULL");
  twice.bind(1, code);
  if (twice.next() && twice.integer(0) > 1) add(harvest, "code", "finding.code-twice"_w, {code}, at);
  return twice.done();
}

Result<void> Checker::check_sold(const Id& harvest, Moment at) {
  TRY_ASSIGN(const HarvestBalance& balance, read_harvest_balance(book_, harvest));
  if (balance.is_oversold())
    add(harvest, "amount", "finding.oversold"_w,
        {record_value_text(harvest), amount_value_text(write_quantity(-*balance.left, *balance.picked->unit))}, at);
  return {};
}

Result<void> Checker::check_sale(const Id& sale) {
  Query query = book_.db().query(
      "SELECT s.harvest, s.at, h.at FROM k_sale s JOIN k_harvest h ON h.uid = s.harvest WHERE s.uid = ? AND "
      "s.struck IS NULL AND s.at IS NOT NULL AND h.at IS NOT NULL");
  query.bind(1, sale);
  if (query.next()) {
    const Moment sold{query.integer(1)}, picked{query.integer(2)};
    if (is_before_picking(sold, picked))
      add(sale, "at", "finding.sold-before-picked"_w,
          {record_value_text(query.id(0)), moment_value_text(sold), moment_value_text(picked)}, sold);
  }
  return query.done();
}

// ---- What is read once -------------------------------------------------------------------------

/// nullptr when it is not on this copy.
const Farm* Checker::farm(const Id& id) {
  const auto [place, is_new] = farms_.try_emplace(id);
  if (is_new)
    if (auto read = read_farm(book_, id)) place->second = std::move(*read);
  return place->second ? &*place->second : nullptr;
}

Result<const SameGround*> Checker::same_ground() {
  if (!same_) {
    TRY_ASSIGN(same_, SameGround::read(book_));
  }
  return &*same_;
}

Result<const Doubts*> Checker::doubts() {
  if (!doubts_) {
    TRY_ASSIGN(doubts_, Doubts::read(book_));
  }
  return &*doubts_;
}

Result<Checker::GroundOf*> Checker::ground(const Id& bed) {
  const auto [place, is_new] = grounds_.try_emplace(bed);
  GroundOf& of = place->second;
  if (!is_new) return &of;
  auto known = read_bed(book_, bed);
  if (!known) return &of;
  of.is_here = true;
  of.farm = known->farm;
  TRY_ASSIGN(const SameGround* same, same_ground());
  of.shared = same->is_shared(bed);
  of.sources = same->sources(bed);
  TRY_ASSIGN(of.plantings, plantings_of(book_, *same, bed));
  return &of;
}

Result<const Checker::FarmRules*> Checker::rules_for(const Id& id) {
  auto found = rules_.find(id);
  if (found == rules_.end()) {
    TRY_ASSIGN(const Doubts* open, doubts());
    TRY_ASSIGN(const SameGround* same, same_ground());
    TRY_ASSIGN(Farm of, read_farm(book_, id));
    TRY_ASSIGN(WaitRules read, WaitRules::read(book_, of, *open, *same));
    found = rules_.emplace(id, FarmRules{std::move(of), std::move(read)}).first;
  }
  return &found->second;
}

}  // namespace steep
