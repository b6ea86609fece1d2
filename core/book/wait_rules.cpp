#include "book/wait_rules.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "book/rows.h"
#include "book/tank_rest.h"
#include "book/wait_days.h"

namespace steep {
namespace {

bool is_in(const std::string& text, const std::vector<std::string>& list) {
  return std::find(list.begin(), list.end(), text) != list.end();
}

template <class T>
void add_once(std::vector<T>& list, const T& value) {
  if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
}

Aim aim_of(std::string_view word) { return word == "soil" ? Aim::Soil : word == "drench" ? Aim::Drench : Aim::Leaf; }

/// A label's wait as typed: days count as the farm counts, everything shorter in hours.
Wait wait_of(const std::string& typed) {
  const auto written = parse_written(typed);
  if (!written || written->dimension() != Dimension::Time) return Wait::not_known();
  const double seconds = si(*written).to_double();
  const double days = seconds / 86400.0;
  const bool in_days = si_of(1, *written->unit) >= 86400.0;
  if (in_days && days <= kLongestWaitDays) return Wait::days(static_cast<int>(std::ceil(days - 1e-9)));
  if (days <= kLongestWaitDays) return Wait::hours(static_cast<int>(std::ceil(seconds / 3600.0 - 1e-9)));
  return Wait::not_known();
}

std::vector<Wait> waits_typed(const std::string& typed) { return {typed.empty() ? Wait::not_known() : wait_of(typed)}; }

/// The readings of one wait field of a label line; `row` where nobody disputes it.
std::vector<Wait> waits(const Doubts& doubts, const Id& line, std::string_view key, std::vector<Wait> row) {
  std::vector<Wait> all;
  for (const FieldValue& reading : doubts.readings(line, key))
    add_once(all, reading.type == FieldType::NotTaken ? Wait::not_known() : wait_of(reading.text));
  return all.empty() ? row : all;
}

std::int64_t bound_ms(Wait wait) {
  if (!wait.is_known()) return 0;
  // A civil day may have 25 hours; the day of the finish itself is added.
  return wait.kind == Wait::Kind::Hours ? wait.amount * kHour : (wait.amount + std::int64_t{1}) * 25 * kHour;
}

}  // namespace

std::optional<int> whole_wait_days(std::optional<double> days) {
  if (!days || !(*days >= 0) || *days > kLongestWaitDays) return std::nullopt;
  return static_cast<int>(std::ceil(*days - 1e-9));
}

WaitRules::FarmRule WaitRules::farm_rule(const Farm& farm, const Doubts& doubts) {
  FarmRule rule;
  rule.source = {RuleSource::Kind::FarmTea, farm.name, farm.tea_wait_by, std::nullopt};
  for (const FieldValue& reading : doubts.readings(farm.id, "tea_wait.days")) {
    const auto days = reading.type == FieldType::Number ? whole_wait_days(parse_decimal(reading.text)) : std::nullopt;
    add_once(rule.tea, days ? Wait::days(*days) : Wait::undecided());
  }
  if (rule.tea.empty()) rule.tea.push_back(farm.tea_wait_days ? Wait::days(*farm.tea_wait_days) : Wait::undecided());
  for (const FieldValue& reading : doubts.readings(farm.id, "counting"))
    add_once(rule.countings, reading.text == "hours" ? DayCounting::Hours : DayCounting::Dates);
  if (rule.countings.empty()) rule.countings.push_back(farm.counting);
  // Where nobody knows which midnight is meant, no date ends before as many whole days.
  if (!farm.zone_known) add_once(rule.countings, DayCounting::Hours);
  for (const FieldValue& reading : doubts.readings(farm.id, "zone.rule"))
    if (auto zone = Zone::from_rule("", reading.text)) rule.zones.push_back(std::move(*zone));
  for (const FieldValue& reading : doubts.readings(farm.id, "zone.name"))
    if (auto zone = Zone::from_name(reading.text)) rule.zones.push_back(std::move(*zone));
  if (rule.zones.empty()) rule.zones.push_back(farm.zone);
  return rule;
}

Result<void> WaitRules::read_labels(const Book& book, const Doubts& doubts) {
  Query materials = book.db().query("SELECT uid, name, kind, labelled FROM k_material");
  while (materials.next()) {
    const Id id = materials.id(0);
    Label label;
    label.name = materials.text(1);
    label.binds = !materials.is_null(3) && materials.integer(3) != 0;
    bool may_not_say = materials.is_null(3), may_be_pesticide = materials.text_view(2) == "pesticide";
    for (const FieldValue& reading : doubts.readings(id, "labelled")) {
      label.binds = label.binds || reading.text == "yes";
      may_not_say = may_not_say || reading.type == FieldType::NotTaken;
    }
    for (const FieldValue& reading : doubts.readings(id, "kind"))
      may_be_pesticide = may_be_pesticide || reading.text == "pesticide";
    label.binds = label.binds || (may_not_say && may_be_pesticide);
    labels_[id] = std::move(label);
  }
  TRY(materials.done());
  Query lines = book.db().query("SELECT uid, material, crop, wait_harvest, wait_entry, struck FROM k_label_line");
  while (lines.next()) {
    const Id id = lines.id(0);
    const bool struck = !lines.is_null(5);
    if (struck && !doubts.counts_although_struck(id)) continue;
    add_line(doubts, id, lines.id(1),
             {{lower(lines.text_view(2))}, waits_typed(lines.text(3)), waits_typed(lines.text(4)), !struck});
  }
  TRY(lines.done());
  for (const Id& id : doubts.only_waiting("label-line"))
    add_line(doubts, id, {}, {{""}, waits_typed(""), waits_typed(""), false});
  return {};
}

/// A line of a label, on each material that people give it; `row`: where nobody disputes it.
void WaitRules::add_line(const Doubts& doubts, const Id& id, const Id& material, Line row) {
  std::vector<std::string> crops;
  for (const FieldValue& reading : doubts.readings(id, "crop")) add_once(crops, lower(reading.text));
  std::vector<Id> materials;
  for (const FieldValue& reading : doubts.readings(id, "material"))
    if (const auto of = Id::parse(reading.text)) add_once(materials, *of);
  for (const FieldValue& reading : doubts.readings(id, "struck"))
    row.certain = row.certain && reading.type == FieldType::NotTaken;
  row.certain = row.certain && crops.size() < 2 && materials.size() < 2;
  if (!crops.empty()) row.crops = std::move(crops);
  if (materials.empty()) materials.push_back(material);
  row.harvest = waits(doubts, id, "wait.harvest", std::move(row.harvest));
  row.entry = waits(doubts, id, "wait.entry", std::move(row.entry));
  for (const Id& one : materials)
    if (const auto label = labels_.find(one); label != labels_.end()) label->second.lines.push_back(row);
}

Result<void> WaitRules::read_lots(const Book& book, const Doubts& doubts) {
  Query lots = book.db().query("SELECT uid, material FROM k_lot");
  while (lots.next()) {
    std::vector<Id>& of = lot_materials_[lots.id(0)];
    for (const FieldValue& reading : doubts.readings(lots.id(0), "material"))
      if (const auto id = Id::parse(reading.text)) add_once(of, *id);
    if (of.empty()) of.push_back(lots.id(1));
  }
  return lots.done();
}

namespace {

/// Does the load say what of tea is in it?
bool has_tea(const Doubts& doubts, const TankFacts& tank, std::optional<double> tea) {
  if (!tank.brew.is_nil() || tea.value_or(0) > 0) return true;
  for (const FieldValue& reading : doubts.readings(tank.load, "mix.brew"))
    if (reading.type == FieldType::Reference) return true;
  for (const FieldValue& reading : doubts.readings(tank.load, "mix.tea")) {
    const auto volume = parse_written(reading.text);
    if (volume && !volume->amount.is_zero()) return true;
  }
  return false;
}

/// m³ poured out of each load for certain; nil = of all passes.
Result<std::unordered_map<Id, double>> poured_out(const Book& book, const Doubts& doubts, const Id& only_pass) {
  std::unordered_map<Id, double> poured;
  Query query = book.db().query(
      std::string("SELECT uid, of, volume_si FROM k_discard WHERE struck IS NULL AND volume_si IS NOT NULL") +
      (only_pass.is_nil() ? "" : " AND of IN (SELECT uid FROM k_load WHERE pass = ?1)"));
  if (!only_pass.is_nil()) query.bind(1, only_pass);
  while (query.next())
    if (!doubts.has(query.id(0))) poured[query.id(1)] += query.real(2);
  TRY(query.done());
  return poured;
}

/// What a pass says of all its tankfuls.
struct PassFacts {
  bool is_here = false;
  std::string aim;
  Id rig;
  std::int64_t start = 0;
};

Result<PassFacts> read_facts(const Book& book, const Id& pass) {
  PassFacts facts;
  Query query = book.db().query("SELECT aim, rig, start FROM k_pass WHERE uid = ?");
  query.bind(1, pass);
  if (query.next()) facts = {true, query.text(0), query.id(1), query.integer(2)};
  TRY(query.done());
  return facts;
}

void add_aims(const Doubts& doubts, const Id& pass, const PassFacts& facts, TankFacts& tank) {
  for (const FieldValue& reading : doubts.readings(pass, "aim")) add_once(tank.aims, aim_of(reading.text));
  if (facts.is_here && !doubts.has(pass)) add_once(tank.aims, aim_of(facts.aim));
}

/// With every rig and start that people give the pass.
void add_turns(const Doubts& doubts, const Id& pass, const PassFacts& facts, int number, TankFacts& tank) {
  std::vector<Id> rigs;
  for (const FieldValue& reading : doubts.readings(pass, "rig")) add_once(rigs, Id::parse(reading.text).value_or(Id{}));
  std::vector<std::int64_t> starts;
  for (const FieldValue& reading : doubts.readings(pass, "start"))
    if (const auto stamp = parse_stamp(reading.text)) add_once(starts, stamp->at.ms);
  if (rigs.empty()) rigs.push_back(facts.rig);
  if (starts.empty()) starts.push_back(facts.start);
  for (const Id& rig : rigs)
    for (const std::int64_t start : starts) tank.turns.push_back({rig, start, pass, number});
}

/// Of all passes that people give the load, and all numbers there; by the row where nobody disputes them.
Result<void> add_passes(const Book& book, const Doubts& doubts, const PassFacts& row, TankFacts& tank) {
  std::vector<Id> passes;
  for (const FieldValue& reading : doubts.readings(tank.load, "pass"))
    if (const auto pass = Id::parse(reading.text)) add_once(passes, *pass);
  std::vector<int> numbers;
  for (const FieldValue& reading : doubts.readings(tank.load, "number"))
    add_once(numbers, static_cast<int>(parse_decimal(reading.text).value_or(0)));
  if (passes.empty()) passes.push_back(tank.pass);
  if (numbers.empty()) numbers.push_back(tank.number);
  for (const Id& pass : passes) {
    PassFacts facts = row;
    if (pass != tank.pass) {
      TRY_ASSIGN(facts, read_facts(book, pass));
    }
    tank.known = tank.known && facts.is_here;
    add_aims(doubts, pass, facts, tank);
    for (const int one : numbers) add_turns(doubts, pass, facts, one, tank);
  }
  if (tank.aims.empty()) tank.aims.push_back(aim_of(row.aim));
  return {};
}

}  // namespace

Result<void> WaitRules::read_tanks(const Book& book, const Doubts& doubts, const Id& only_pass) {
  TRY_ASSIGN(const auto poured, poured_out(book, doubts, only_pass));
  // Of all farms where there are several: a bed may have been sprayed in another farm's pass.
  Query loads = book.db().query(
      "SELECT l.uid, l.pass, l.mix_brew, l.mix_tea_si, p.uid, p.aim, p.rig, p.start, l.lane, l.number_n, l.struck, "
      "l.before_cleaned, l.left_si, COALESCE(l.closed / 60000 * 60000, l.filled + 1, p.start + 1) FROM k_load l LEFT "
      "JOIN k_pass p ON p.uid = l.pass WHERE (p.farm = ?1 OR "
      "p.farm IS NULL OR (SELECT count(*) FROM k_farm) > 1) AND (?2 IS NULL OR l.pass = ?2)");
  loads.bind(1, farm_.id);
  if (!only_pass.is_nil()) loads.bind(2, only_pass);
  while (loads.next()) {
    TankFacts tank;
    tank.load = loads.id(0);
    tank.pass = loads.id(1);
    tank.brew = loads.id(2);
    tank.known = true;
    const auto tea = loads.maybe_real(3);
    tank.has_tea = has_tea(doubts, tank, tea);
    tank.tells_tea = tank.has_tea || tea;
    const PassFacts pass{!loads.is_null(4), loads.text(5), loads.id(6), loads.integer(7)};
    tank.number = static_cast<int>(loads.maybe_real(9).value_or(0));
    TRY(add_passes(book, doubts, pass, tank));
    tank.lane = loads.integer(8);
    tank.struck = !loads.is_null(10);
    tank.into_clean = loads.integer(11) != 0 && !doubts.has(tank.load);
    const auto left = loads.maybe_real(12);
    tank.washable = loads.integer(13);  // typed to the minute
    const auto out = poured.find(tank.load);
    const bool something = !left || *left - (out == poured.end() ? 0 : out->second) > kNothing;
    tank.stands = !tank.struck || doubts.counts_although_struck(tank.load);
    tank.may_stay = tank.stands && (something || doubts.has(tank.load));
    tanks_.emplace(tank.load, std::move(tank));
  }
  return loads.done();
}

/// Of one pass, with those before it of which something may still be in its tank.
Result<void> WaitRules::read_chained_tanks(const Book& book, const Doubts& doubts, const Id& only_pass) {
  TRY_ASSIGN(const PassesInTank& in_tank, passes_in_tank(book, only_pass));
  // Where people disagree, other passes may have been in that tank.
  const bool disputed = std::any_of(doubts.records().begin(), doubts.records().end(), [](const auto& record) {
    return record.second == "pass" || record.second == "load" || record.second == "discard" || record.second == "wash";
  });
  if (disputed || !in_tank.all) return read_tanks(book, doubts, {});
  for (const Id& pass : in_tank.passes) TRY(read_tanks(book, doubts, pass));
  return {};
}

Result<void> WaitRules::read_products(const Book& book, const Doubts& doubts) {
  Query products = book.db().query("SELECT uid, load, amount_lot, struck FROM k_load_line");
  while (products.next()) {
    const Id id = products.id(0);
    const auto tank = tanks_.find(products.id(1));
    if (tank == tanks_.end() && !doubts.has(id)) continue;
    const bool struck = !products.is_null(3) && !doubts.counts_although_struck(id);
    // Struck with its load: a dose that came afterwards was sprayed out of that tank all the same.
    if (struck && (tank == tanks_.end() || !tank->second.struck)) continue;
    add_product(doubts, id, products.id(1), products.id(2));
  }
  TRY(products.done());
  for (const Id& id : doubts.only_waiting("load-line")) add_product(doubts, id, {}, {});
  // 'An unknown wait is a hold': where nothing says what a tank held, it may have been tea.
  for (auto& [id, tank] : tanks_) tank.has_tea = tank.has_tea || (!tank.tells_tea && tank.lots.empty());
  return {};
}

/// A product, in each load that people give it; `load` and `lot`: where nobody disputes them.
void WaitRules::add_product(const Doubts& doubts, const Id& id, const Id& load, const Id& lot) {
  const auto references = [&](std::string_view key, const Id& row) {
    std::vector<Id> ids;
    for (const FieldValue& reading : doubts.readings(id, key)) add_once(ids, Id::parse(reading.text).value_or(Id{}));
    if (ids.empty()) ids.push_back(row);
    return ids;
  };
  const std::vector<Id> lots = references("amount.lot", lot);
  for (const Id& of : references("load", load))
    if (const auto tank = tanks_.find(of); tank != tanks_.end())
      for (const Id& one : lots) add_once(tank->second.lots, one);
}

void WaitRules::find_reach() {
  for (const FarmRule& rule : rules_)
    for (const Wait wait : rule.tea) {
      has_unknown_ = has_unknown_ || wait == Wait::undecided();
      longest_ms_ = std::max(longest_ms_, bound_ms(wait));
    }
  for (const auto& [id, label] : labels_) {
    has_unknown_ = has_unknown_ || label.binds;
    const bool tells_entry = std::any_of(label.lines.begin(), label.lines.end(), [](const Line& line) {
      return line.certain &&
             std::all_of(line.entry.begin(), line.entry.end(), [](Wait wait) { return wait.is_known(); });
    });
    has_unknown_entry_ = has_unknown_entry_ || (label.binds && !tells_entry);
    for (const Line& line : label.lines)
      for (const auto* list : {&line.harvest, &line.entry})
        for (const Wait wait : *list) longest_ms_ = std::max(longest_ms_, bound_ms(wait));
  }
  for (const auto& [id, tank] : tanks_) {
    const bool not_here = !tank.known || std::any_of(tank.lots.begin(), tank.lots.end(), [&](const Id& lot) {
      return lot_materials_.find(lot) == lot_materials_.end();
    });
    has_unknown_ = has_unknown_ || not_here;
    has_unknown_entry_ = has_unknown_entry_ || not_here;
  }
}

Result<WaitRules> WaitRules::read(const Book& book, const Farm& farm, const Doubts& doubts, const SameGround& ground,
                                  const Id& only_pass) {
  WaitRules rules;
  rules.farm_ = farm;
  rules.rules_.push_back(farm_rule(farm, doubts));
  for (const Id& id : ground.farms_beside(farm.id)) {
    TRY_ASSIGN(const Farm other, read_farm(book, id));
    rules.rules_.push_back(farm_rule(other, doubts));
  }
  TRY(rules.read_labels(book, doubts));
  TRY(rules.read_lots(book, doubts));
  TRY(only_pass.is_nil() ? rules.read_tanks(book, doubts, {}) : rules.read_chained_tanks(book, doubts, only_pass));
  TRY(rules.read_products(book, doubts));
  TRY(rules.carry_over(book, doubts));
  rules.number_mixes();
  rules.find_reach();
  return rules;
}

const TankFacts& WaitRules::tank(const Id& load) const {
  static const TankFacts kUnknown;
  const auto found = tanks_.find(load);
  return found == tanks_.end() ? kUnknown : found->second;
}

Id WaitRules::material_of(const Id& lot) const {
  const auto found = lot_materials_.find(lot);
  return found == lot_materials_.end() ? Id{} : found->second.front();
}

const std::string& WaitRules::material_name(const Id& material) const {
  static const std::string kNone;
  const auto found = labels_.find(material);
  return found == labels_.end() ? kNone : found->second.name;
}

bool WaitRules::is_on_label(const Id& material, const std::string& crop) const {
  const auto found = labels_.find(material);
  if (found == labels_.end() || !found->second.binds) return true;
  const std::string wanted = lower(crop);
  return std::any_of(found->second.lines.begin(), found->second.lines.end(), [&](const Line& line) {
    return line.certain && (is_in(wanted, line.crops) || is_in("", line.crops));
  });
}

std::vector<Id> WaitRules::labels_without(const std::vector<Id>& lots, const std::string& crop) const {
  std::vector<Id> without;
  for (const Id& lot : lots) {
    const Id material = material_of(lot);
    if (!is_on_label(material, crop)) add_once(without, material);
  }
  return without;
}

std::vector<RuleWait> WaitRules::tea_waits(const TankFacts& tank, bool shared) const {
  std::vector<RuleWait> waits;
  if (!tank.has_tea) return waits;
  for (const FarmRule& rule : rules_) {
    const bool own = &rule == &rules_.front();
    if (!own && (!shared || rule.tea == rules_.front().tea)) continue;
    if (auto wait = tea_rule_wait(tank.aims, rule.source, rule.tea)) waits.push_back(std::move(*wait));
  }
  return waits;
}

void WaitRules::add_label_waits(const Id& lot, const std::string& crop, bool harvest,
                                std::vector<RuleWait>& waits) const {
  const RuleSource unknown{RuleSource::Kind::Label, "", crop, std::nullopt};
  const auto of = lot_materials_.find(lot);
  if (of == lot_materials_.end()) {
    waits.push_back({unknown, {Wait::not_known()}});
    return;
  }
  for (const Id& material : of->second) {
    const auto found = labels_.find(material);
    if (found == labels_.end()) {
      // The material is not on this copy: nobody can say that it brings no wait.
      waits.push_back({unknown, {Wait::not_known()}});
      continue;
    }
    const Label& label = found->second;
    if (!label.binds) continue;
    const RuleSource source{RuleSource::Kind::Label, label.name, crop, std::nullopt};
    const std::string wanted = lower(crop);
    bool named = false;
    for (const Line& line : label.lines) {
      // Where no crop is on record every line speaks, and the longest governs.
      if (harvest && !crop.empty() && !is_in(wanted, line.crops) && !is_in("", line.crops)) continue;
      const std::vector<Wait>& readings = harvest ? line.harvest : line.entry;
      // Of entry, one line of the label that says it speaks for the label.
      if (!harvest && readings == std::vector<Wait>{Wait::not_known()}) continue;
      named = named || line.certain;
      waits.push_back({source, readings});
    }
    if (!named) waits.push_back({source, {harvest ? Wait::not_on_label() : Wait::not_known()}});
  }
}

/// The same mix gives the same answer: one number for all tanks alike.
std::size_t WaitRules::mix_of(const TankFacts& tank) const {
  if (tank.mix) return *tank.mix;
  std::vector<Id> key = tank.lots;
  Id marks;
  marks.bytes[0] = tank.has_tea;
  marks.bytes[1] = tank.known;
  for (const Aim aim : tank.aims) marks.bytes[2] |= static_cast<std::uint8_t>(1 << static_cast<int>(aim));
  key.push_back(marks);
  return mixes_.try_emplace(std::move(key), mixes_.size()).first->second;
}

void WaitRules::number_mixes() {
  for (auto& [id, tank] : tanks_) {
    std::sort(tank.lots.begin(), tank.lots.end());
    tank.mix = mix_of(tank);
  }
}

namespace {

/// The place of a mix among the answers; empty: not asked for yet.
template <class Answers>
auto& answer_of(Answers& answers, std::size_t mix) {
  if (answers.size() <= mix) answers.resize(mix + 1);
  return answers[mix];
}

}  // namespace

const std::vector<RuleWait>& WaitRules::harvest(const TankFacts& tank, const std::string& crop, bool shared) const {
  auto& waits = answer_of(harvest_[shared ? 1 : 0][crop], mix_of(tank));
  if (waits) return *waits;
  waits = tea_waits(tank, shared);
  if (!tank.known) waits->push_back({{RuleSource::Kind::Label, "", crop, std::nullopt}, {Wait::not_known()}});
  for (const Id& lot : tank.lots) add_label_waits(lot, crop, true, *waits);
  return *waits;
}

const std::vector<RuleWait>& WaitRules::entry(const TankFacts& tank) const {
  auto& waits = answer_of(entry_, mix_of(tank));
  if (waits) return *waits;
  waits.emplace();
  if (!tank.known) waits->push_back({{RuleSource::Kind::Label, "", "", std::nullopt}, {Wait::not_known()}});
  for (const Id& lot : tank.lots) add_label_waits(lot, "", false, *waits);
  return *waits;
}

Hold WaitRules::harvest_hold(const std::vector<Treatment>& treatments, bool shared) const {
  std::optional<Hold> worst;
  for (const FarmRule& rule : rules_) {
    for (const DayCounting counting : rule.countings)
      for (const Zone& zone : rule.zones) {
        Hold hold = steep::harvest_hold(treatments, counting, zone);
        if (!worst || (hold.until && (!worst->until || *hold.until > *worst->until))) worst = std::move(hold);
      }
    if (!shared) break;
  }
  if (worst->until) {  // On the farm's own clock, whosever midnight it was.
    worst->first_day = farm_.zone.local(*worst->until).date;
    worst->whole_day = farm_.zone.start_of(*worst->first_day) == *worst->until;
  }
  return *worst;
}

Hold WaitRules::entry_hold(const std::vector<Treatment>& treatments) const {
  return steep::entry_hold(treatments, farm_.zone);
}

StartedHolds WaitRules::holds_after(const TankFacts& tank, const std::vector<std::string>& crops,
                                    const std::vector<Moment>& finishes, bool shared, bool in_question) const {
  Treatment treatment;
  treatment.finishes = finishes;
  treatment.in_question = in_question;
  static const std::vector<std::string> kNoCrop{""};
  std::vector<Hold> harvests;
  for (const std::string& crop : crops.empty() ? kNoCrop : crops) {
    treatment.harvest = harvest(tank, crop, shared);
    harvests.push_back(harvest_hold({treatment}, shared));
  }
  treatment.harvest.clear();
  treatment.entry = entry(tank);
  return {latest_hold(harvests), entry_hold({treatment})};
}

}  // namespace steep
