// What other records say to an entry: balances, waits, tanks, limits of the farm. Asks that a reason goes through, and Warns.
#include <algorithm>

#include "base/text.h"
#include "book/brew_commands.h"
#include "book/checks.h"
#include "book/entry.h"
#include "book/harvest_balance.h"
#include "book/places.h"
#include "book/spelled.h"
#include "book/tables.h"
#include "book/tank_rest.h"
#include "book/work.h"

namespace steep {
namespace {

constexpr double kDrop = 1e-5;  // m³; what rounding may make of equal volumes.

Volume volume_or_none(const FieldValue* field) { return amount_in_field<Volume>(field).value_or(Volume{}); }

/// The farm whose clock and limits count: the record's own, that of what it hangs on, or the only one.
Result<std::optional<Farm>> farm_of_entry(const Book& book, const Entry& entry) {
  Id farm = entry.was ? entry.was->part.farm : entry.reference("farm");
  for (const std::string_view key : {"pass", "load", "what.load", "bed", "of"})
    if (farm.is_nil()) farm = farm_of(book, entry.reference(key));
  if (farm.is_nil()) {
    TRY_ASSIGN(const std::vector<Farm>& all, farms(book));
    return all.size() == 1 ? std::optional(all.front()) : std::nullopt;
  }
  TRY_ASSIGN(const Farm& found, read_farm(book, farm));
  return std::optional(found);
}

// ---- Places ------------------------------------------------------------------------------------

/// '1000 ft in a block of 100 ft beds'.
Result<void> beside_bed(const Book& book, const Entry& entry, Cautions& cautions) {
  const auto length = entry.amount("size.length");
  const Id block = entry.reference("block");
  if (!length || block.is_nil() || !entry.changes_any({"size.length", "block"})) return {};
  Query query = book.db().query(
      "SELECT size_length_si FROM k_bed WHERE block = ? AND struck IS NULL AND size_length_si IS NOT NULL AND uid <> ? "
      "ORDER BY 1");
  query.bind(1, block).bind(2, entry.id());
  std::vector<double> others;
  while (query.next()) others.push_back(query.real(0));
  TRY(query.done());
  if (others.empty()) return {};
  const double middle = others[others.size() / 2], mine = as<Length>(*length).si();
  if (mine > 4 * middle || mine < middle / 4)
    cautions.add({"check.bed-unlike-others"_w,
                  {amount_value_text(*length), amount_value_text(Length::from_si(middle))},
                  "size.length",
                  block});
  return {};
}

// ---- Brews -------------------------------------------------------------------------------------

Result<void> beside_reading(const Book& book, const Entry& entry, Cautions& cautions) {
  if (!entry.changes_any({"quantity", "value.value", "of"})) return {};
  const FieldValue* value = entry.field("value.value");
  ReadingGiven given;
  given.of = entry.reference("of");
  given.quantity = entry.text("quantity");
  given.value = amount_in_field(value);
  TRY_ASSIGN(std::vector<Caution> more, reading_cautions(book, given));
  cautions.add(std::move(more));
  return {};
}

Result<void> beside_brew(const Book& book, const Entry& entry, Cautions& cautions) {
  if (!entry.changes_any({"fill", "vessel"})) return {};
  BrewGiven given;
  given.vessel = entry.reference("vessel");
  given.fill = entry.amount("fill");
  TRY_ASSIGN(std::vector<Caution> more,
             vessel_cautions(book, given, entry.moment("met_water").value_or(book.now().at), entry.id()));
  cautions.add(std::move(more));
  return {};
}

/// A lot's state and balance; into a brew also what its recipe asks for.
Result<void> beside_line(const Book& book, const Entry& entry, Cautions& cautions) {
  if (!entry.changes_any({"amount.lot", "amount.amount", "brew", "load"})) return {};
  const Id lot = entry.reference("amount.lot");
  const auto amount = entry.amount("amount.amount");
  const bool same_lot = entry.was && entry.was->struck.empty() && reference_in_field(entry.before("amount.lot")) == lot;
  const auto counted = same_lot ? amount_in_field(entry.before("amount.amount")) : std::nullopt;
  TRY_ASSIGN(const std::optional<Farm>& farm, farm_of_entry(book, entry));
  const Moment now = book.now().at;
  TRY_ASSIGN(std::vector<Caution> more, lot_cautions(book, farm ? &*farm : nullptr, lot, amount, now, counted));
  cautions.add(std::move(more));
  if (entry.kind != "brew-line") return {};
  TRY_ASSIGN(const Brew& brew, read_brew(book, entry.reference("brew")));
  BrewGiven given;
  given.recipe = brew.recipe;
  given.fill = brew.fill_typed.maybe();
  TRY_ASSIGN(std::vector<Caution> by_recipe, recipe_cautions(book, given, {lot, amount}, now));
  cautions.add(std::move(by_recipe));
  return {};
}

// ---- Passes ------------------------------------------------------------------------------------

Result<void> beside_pass(const Book& book, const Entry& entry, Cautions& cautions) {
  TRY_ASSIGN(const std::optional<Farm>& farm, farm_of_entry(book, entry));
  const bool at_start = entry.changes_any({"weather_start.wind", "weather_start.temperature", "start"}),
             at_finish = entry.changes_any({"weather_finish.wind", "weather_finish.temperature"});
  if (!farm || (!at_start && !at_finish)) return {};
  TRY_ASSIGN(const Places& places, read_places(book, farm->id));
  const Moment start = entry.moment("start").value_or(book.now().at);
  if (at_start)
    cautions.add(weather_cautions(*farm, places.limits, entry.amount_of<Speed>("weather_start.wind"),
                                  entry.amount_of<Temperature>("weather_start.temperature"), start));
  if (at_finish)  // The hours of spraying are asked about at the start.
    for (Caution& caution : weather_cautions(*farm, places.limits, entry.amount_of<Speed>("weather_finish.wind"),
                                             entry.amount_of<Temperature>("weather_finish.temperature"), start))
      if (caution.place == "weather_start") {
        caution.place = "weather_finish";
        cautions.add(std::move(caution));
      }
  return {};
}

/// A time more than a day away from its pass is a slip of the day.
Result<void> check_near(const Pass& pass, const Entry& entry, std::initializer_list<std::string_view> keys,
                        Cautions& cautions) {
  const Moment end = pass.finish ? std::max(pass.finish->at, pass.start.at) : pass.start.at;
  for (const std::string_view key : keys) {
    const auto at = entry.changes(key) ? entry.moment(key) : std::nullopt;
    if (!at || (*at >= pass.start.at - kDay && *at <= end + kDay)) continue;
    TRY(cautions.ask(refuse(Trouble::Ask, "check.far-from-pass"_w,
                            {moment_value_text(*at), moment_value_text(pass.start.at)}, key)));
  }
  return {};
}

/// What the tank held with this load in it; nullopt while a volume is not known.
Result<std::optional<Volume>> held_of(const Book& book, const Pass& pass, const Id& load) {
  TRY_ASSIGN(const std::vector<LoadSheet>& sheets, load_sheets(book, pass));
  for (const LoadSheet& sheet : sheets)
    if (sheet.load.id == load) return sheet.shares.held;
  return std::optional<Volume>{};
}

/// In the tank from the load before this one, of this pass or of the rig's pass before.
Result<Volume> stayed_before(const Book& book, const Entry& entry, const Pass& pass) {
  const FieldValue* number = entry.field("number");
  const double mine = number ? parse_decimal(number->text).value_or(0) : 1e9;
  TRY_ASSIGN(const std::vector<LoadSheet>& sheets, load_sheets(book, pass));
  std::optional<Mix> rest;
  bool is_first = true;
  for (const LoadSheet& sheet : sheets) {
    if (sheet.load.number >= mine || sheet.load.id == entry.id()) continue;
    rest = sheet.rest();
    is_first = false;
  }
  if (is_first) {
    TRY_ASSIGN(const std::optional<TankRest>& of_rig, tank_rest(book, pass.rig, pass.start.at, pass.id));
    if (of_rig) rest = of_rig->left;
  } else if (entry.text("before.cleaned") == "yes") {
    rest.reset();
  }
  return rest.value_or(Mix{}).spray();
}

/// More in the tank than it holds, or more left than was in it.
Result<void> check_tank(const Book& book, const Entry& entry, const Pass& pass, Cautions& cautions) {
  const auto tea = entry.amount_of<Volume>("mix.tea"), water = entry.amount_of<Volume>("mix.water");
  if (!entry.changes_any({"mix.tea", "mix.water", "left"})) return {};
  TRY_ASSIGN(const Volume stayed, stayed_before(book, entry, pass));
  const Volume known = tea.value_or(Volume{}) + water.value_or(Volume{}) + stayed;
  if (const auto rig = read_rig(book, pass.rig); rig && rig->tank && known.si() > rig->tank->si() * 1.001)
    cautions.add(
        {"check.more-than-tank"_w, {amount_value_text(known), amount_value_text(*rig->tank)}, "mix.water", rig->id});
  const bool all_known = water && (tea || entry.reference("mix.brew").is_nil());
  const bool is_volume = entry.amount_of<Volume>("left").has_value();
  return all_known && is_volume ? cautions.ask(check_left(entry.amount("left"), known)) : Result<void>();
}

Result<void> beside_load(const Book& book, const Entry& entry, Cautions& cautions) {
  TRY_ASSIGN(const Pass& pass, read_pass(book, entry.reference("pass")));
  TRY(check_near(pass, entry, {"filled", "closed"}, cautions));
  TRY(check_tank(book, entry, pass, cautions));
  if (!entry.changes_any({"mix.brew", "mix.tea", "filled"})) return {};
  const Moment at = entry.moment("filled").value_or(pass.start.at);
  const Id brew = entry.reference("mix.brew");
  if (!brew.is_nil()) {
    TRY_ASSIGN(const Places& places, read_places(book, pass.farm));
    const bool same = entry.was && entry.was->struck.empty() && reference_in_field(entry.before("mix.brew")) == brew;
    TRY_ASSIGN(std::vector<Caution> of_brew,
               brew_cautions(book, places.limits, brew, entry.amount_of<Volume>("mix.tea"), at,
                             same ? volume_or_none(entry.before("mix.tea")) : Volume{}));
    cautions.add(std::move(of_brew));
  }
  if (pass.rig.is_nil() || !entry.changes_any({"mix.brew", "filled"})) return {};
  TRY_ASSIGN(std::vector<Caution> of_tank, tank_cautions(book, pass.rig, brew, at, pass.id));
  cautions.add(std::move(of_tank));
  return {};
}

Result<void> check_bed_twice(const Book& book, const Entry& entry, Cautions& cautions) {
  const auto start = entry.moment("when.start"), finish = entry.moment("when.finish");
  if (!finish || entry.text("what.how") == "skipped") return {};
  if (!entry.changes_any({"what.bed", "what.from", "what.to", "what.how", "when.start", "when.finish"})) return {};
  const auto a = entry.amount_of<Length>("what.from"), b = entry.amount_of<Length>("what.to");
  const Stretch stretch = a && b ? Stretch{std::min(*a, *b), std::max(*a, *b)} : Stretch{};
  const Id bed = entry.reference("what.bed");
  TRY_ASSIGN(const std::vector<Id>& others,
             overlapping_doses(book, bed, stretch, start.value_or(*finish), *finish, entry.id()));
  if (!others.empty())
    cautions.add(
        {"check.same-bed-twice"_w, {record_name(book, bed), moment_value_text(*finish)}, "when", others.front()});
  return {};
}

/// A pass goes over beds of its own farm, or over ground that is one of them under another farm's name.
Result<void> refuse_other_farm(const Book& book, const Entry& entry) {
  if (!entry.changes_any({"what.load", "what.bed"})) return {};
  const Id bed = entry.reference("what.bed");
  const Id of_pass = farm_of(book, entry.reference("what.load")), of_bed = farm_of(book, bed);
  if (of_pass.is_nil() || of_bed.is_nil() || of_pass == of_bed) return {};
  TRY_ASSIGN(const SameGround& ground, SameGround::read(book));
  for (const Id& one : ground.same(bed))
    if (farm_of(book, one) == of_pass) return {};
  TRY_ASSIGN(const Farm& pass_farm, read_farm(book, of_pass));
  TRY_ASSIGN(const Farm& bed_farm, read_farm(book, of_bed));
  return refuse(Trouble::BadInput, "enter.other-farm"_w, {bed_farm.name, pass_farm.name}, "what.bed");
}

Result<void> beside_dose(const Book& book, const Entry& entry, Cautions& cautions) {
  TRY(refuse_other_farm(book, entry));
  TRY_ASSIGN(const Load& load, read_load(book, entry.reference("what.load")));
  TRY_ASSIGN(const Pass& pass, read_pass(book, load.pass));
  TRY(check_near(pass, entry, {"when.start", "when.finish"}, cautions));
  TRY(check_bed_twice(book, entry, cautions));
  if (const auto width = entry.amount_of<Length>("what.width"); width && entry.changes("what.width"))
    if (const auto bed = read_bed(book, entry.reference("what.bed")); bed && bed->width)
      if (width->si() > 4 * bed->width->si() || width->si() < bed->width->si() / 4)
        cautions.add({"check.width-unlike-bed"_w,
                      {amount_value_text(*entry.amount("what.width")), bed->name, amount_value_text(*bed->width)},
                      "what.width",
                      bed->id});
  const auto volume = entry.amount_of<Volume>("what.volume");
  if (!volume || !entry.changes_any({"what.volume", "what.load"})) return {};
  TRY_ASSIGN(const std::optional<Volume>& held, held_of(book, pass, load.id));
  if (!held || volume->si() <= held->si() + kDrop) return {};
  return cautions.ask(refuse(Trouble::Ask, "check.dose-more-than-held"_w,
                             {amount_value_text(*entry.amount("what.volume")), amount_value_text(*held)},
                             "what.volume"));
}

Result<void> beside_discard(const Book& book, const Entry& entry, Cautions& cautions) {
  const auto volume = entry.amount("volume");
  const Id of = entry.reference("of");
  if (!volume || !entry.changes_any({"volume", "of"})) return {};
  const bool same = entry.was && entry.was->struck.empty() && reference_in_field(entry.before("of")) == of;
  return cautions.ask(check_poured(book, of, *volume, same ? volume_or_none(entry.before("volume")) : Volume{}));
}

Result<void> beside_harvest(const Book& book, const Entry& entry, Cautions& cautions) {
  const auto at = entry.moment("at");
  if (!at || !entry.changes_any({"bed", "planting", "stretch.from", "stretch.to", "at"})) return {};
  HarvestGiven picked;
  picked.bed = entry.reference("bed");
  picked.planting = entry.reference("planting");
  picked.from = entry.amount("stretch.from");
  picked.to = entry.amount("stretch.to");
  TRY_ASSIGN(std::vector<Caution> more, harvest_cautions(book, picked, *at));
  cautions.add(std::move(more));
  return {};
}

Result<void> beside_sale(const Book& book, const Entry& entry, Cautions& cautions) {
  if (!entry.changes_any({"harvest", "amount", "at"})) return {};
  const Id harvest = entry.reference("harvest");
  const bool same = entry.was && entry.was->struck.empty() && reference_in_field(entry.before("harvest")) == harvest;
  TRY_ASSIGN(std::vector<Caution> more, sale_cautions(book, harvest, entry.amount("amount"), entry.moment("at"),
                                                      same ? amount_in_field(entry.before("amount")) : std::nullopt));
  cautions.add(std::move(more));
  return {};
}

Result<void> beside_plan(const Book& book, const Entry& entry, Cautions& cautions) {
  const auto volume = entry.amount_of<Volume>("volume");
  if (!volume || !entry.changes_any({"volume", "vessel"})) return {};
  BrewGiven given;
  given.vessel = entry.reference("vessel");
  given.fill = entry.amount("volume");
  TRY_ASSIGN(std::vector<Caution> more, fill_cautions(book, given));
  cautions.add(std::move(more));
  return {};
}

}  // namespace

Result<void> check_beside(const Book& book, const Entry& entry, Cautions& cautions) {
  using Beside = Result<void> (*)(const Book&, const Entry&, Cautions&);
  static constexpr std::pair<std::string_view, Beside> kBeside[] = {
      {"reading", beside_reading}, {"bed", beside_bed},         {"brew", beside_brew}, {"brew-line", beside_line},
      {"load-line", beside_line},  {"pass", beside_pass},       {"load", beside_load}, {"dose", beside_dose},
      {"discard", beside_discard}, {"harvest", beside_harvest}, {"sale", beside_sale}, {"plan", beside_plan},
  };
  for (const auto& row : kBeside)
    if (row.first == entry.kind) return row.second(book, entry, cautions);
  return {};
}

}  // namespace steep
