#include "book/things.h"

#include <algorithm>

#include "base/sorting.h"
#include "book/joined.h"
#include "book/places.h"
#include "book/rows.h"

namespace steep {
namespace {

void read_row(Rows& rows, Person& person) {
  person.name = rows.text("name");
  person.initials = rows.text("initials");
  person.role = rows.text("role");
  person.address = rows.text("address");
  person.licence = rows.text("licence.number");
  person.licence_expires = rows.date("licence.expires");
  person.language = rows.text("language");
}

void read_row(Rows& rows, Material& material) {
  material.name = rows.text("name");
  material.maker = rows.text("maker");
  material.kind = rows.text("kind");
  material.animal = rows.yes_no("animal");
  material.additive = rows.yes_no("additive");
  material.labelled = rows.yes_no("labelled");
  material.registration = rows.text("registration");
  material.allowed = rows.text("allowed.state");
  material.allowed_paper = rows.text("allowed.paper");
  material.density_weight = rows.quantity<Mass>("density.weight");
  material.density_volume = rows.quantity<Volume>("density.volume");
}

void read_row(Rows& rows, Lot& lot) {
  lot.material = rows.reference("material");
  lot.code = rows.text("code");
  lot.supplier = rows.text("supplier");
  lot.receipt = rows.text("receipt");
  lot.received = rows.date("received");
  lot.expires = rows.date("expires");
  lot.quantity = rows.written("quantity");
  lot.cost = rows.number("cost");
  lot.heap = rows.reference("heap");
}

void read_row(Rows& rows, Vessel& vessel) {
  vessel.name = rows.text("name");
  vessel.diffuser = rows.text("diffuser");
  vessel.nominal = rows.quantity<Volume>("volume.nominal");
  vessel.working = rows.quantity<Volume>("volume.working");
  vessel.depth = rows.quantity<Length>("depth");
  vessel.pump_flow = rows.quantity<Flow>("pump.flow");
  vessel.pump_pressure = rows.quantity<Pressure>("pump.pressure");
  vessel.outlets = rows.number("outlets");
}

void read_row(Rows& rows, Rig& rig) {
  rig.name = rows.text("name");
  rig.kind = rows.text("kind");
  rig.strainer = rows.text("strainer");
  rig.tank = rows.quantity<Volume>("tank.volume");
  rig.tank_typed = rows.written("tank.volume");
  rig.dead = rows.quantity<Volume>("tank.dead");
  rig.swath = rows.quantity<Length>("swath");
  rig.nozzle_size = rows.text("nozzles.size");
  rig.nozzle_count = rows.number("nozzles.count");
  rig.nozzle_spacing = rows.quantity<Length>("nozzles.spacing");
  rig.nozzle_pressure = rows.quantity<Pressure>("nozzles.pressure");
}

void read_row(Rows& rows, RigCalibration& calibration) {
  calibration.rig = rows.reference("rig");
  calibration.by = rows.reference("by");
  calibration.method = rows.text("result.method");
  calibration.rate = rows.quantity<VolumePerArea>("result.rate");
  calibration.area = rows.text("result.area") == "swath" ? RateArea::Swath : RateArea::BedTop;
  calibration.course = rows.quantity<Length>("result.course");
  calibration.swath = rows.quantity<Length>("result.swath");
  calibration.speed = rows.quantity<Speed>("result.speed");
  calibration.pressure = rows.quantity<Pressure>("result.pressure");
  calibration.date = rows.date("date");
}

void read_row(Rows& rows, BrewRecipe& recipe) {
  recipe.name = rows.text("name");
  recipe.word = rows.text("word");
  recipe.notes = rows.text("notes");
  recipe.source = rows.text("source");
  recipe.reference = rows.quantity<Volume>("reference");
  recipe.time = rows.quantity<Duration>("brewing.time");
  recipe.temperature = rows.quantity<Temperature>("brewing.temperature");
}

void read_row(Rows& rows, RecipeLine& line) {
  line.recipe = rows.reference("recipe");
  line.material = rows.reference("material");
  line.low = rows.written("amount.low");
  line.high = rows.written("amount.high");
  line.scaling = rows.text("scaling");
  line.table = rows.list("table");
}

void read_row(Rows& rows, WaterSource& source) {
  source.name = rows.text("name");
  source.kind = rows.text("kind");
  source.disinfectant = rows.text("disinfectant");
  source.test_date = rows.date("test.date");
  source.test_e_coli = rows.taken_text("test.e_coli");
  source.test_paper = rows.text("test.paper");
}

template <class T>
Result<std::vector<T>> all_of(const Book& book, std::string_view kind, Struck struck) {
  Rows rows(book, kind, struck == Struck::LeaveOut ? "WHERE struck IS NULL" : "");
  return read_all<T>(rows, [](Rows& r, T& record) { read_row(r, record); });
}

/// By name, struck ones behind.
template <class T>
Result<std::vector<T>> named(const Book& book, std::string_view kind, Struck struck) {
  TRY_ASSIGN(std::vector<T> all, all_of<T>(book, kind, struck));
  sort_list(all, [](const T& a, const T& b) {
    if (a.is_struck() != b.is_struck()) return b.is_struck();
    return a.name != b.name ? name_before(a.name, b.name) : a.id < b.id;
  });
  return all;
}

template <class T>
Result<T> one(const Book& book, std::string_view kind, const Id& id) {
  return read_one<T>(book, kind, id, "thing.not-here"_w, [](Rows& r, T& record) { read_row(r, record); });
}

template <class T>
Result<std::vector<T>> under(const Book& book, std::string_view kind, std::string_view column, const Id& parent) {
  Rows rows(book, kind, "WHERE struck IS NULL AND \"" + std::string(column) + "\" = ? ORDER BY uid");
  rows.query().bind(1, parent);
  return read_all<T>(rows, [](Rows& r, T& record) { read_row(r, record); });
}

Result<void> name_materials(const Book& book, std::vector<Lot>& lots) {
  Query query = book.db().query("SELECT name FROM k_material WHERE uid = ?");
  for (Lot& lot : lots) {
    query.bind(1, lot.material);
    if (query.next()) lot.material_name = query.text(0);
    TRY(query.done());
  }
  return {};
}

}  // namespace

std::string Lot::name() const {
  if (code.empty()) return material_name;
  return material_name.empty() ? code : material_name + ' ' + code;
}

int RigCalibration::age_days(Date today, const Zone& zone) const {
  const Date day = date ? *date : zone.local(made.at).date;
  return static_cast<int>(day_number(today) - day_number(day));
}

Result<std::vector<Person>> people(const Book& book, Struck struck) { return named<Person>(book, "person", struck); }
Result<std::vector<Material>> materials(const Book& book, Struck struck) {
  return named<Material>(book, "material", struck);
}
Result<std::vector<Vessel>> vessels(const Book& book, Struck struck) { return named<Vessel>(book, "vessel", struck); }
Result<std::vector<Rig>> rigs(const Book& book, Struck struck) { return named<Rig>(book, "rig", struck); }
Result<std::vector<BrewRecipe>> recipes(const Book& book, Struck struck) {
  return named<BrewRecipe>(book, "recipe", struck);
}
Result<std::vector<WaterSource>> water_sources(const Book& book, Struck struck) {
  return named<WaterSource>(book, "water-source", struck);
}

Result<std::vector<RecipeLine>> recipe_lines(const Book& book, const Id& recipe) {
  return under<RecipeLine>(book, "recipe-line", "recipe", recipe);
}

Result<std::vector<Lot>> lots(const Book& book, Struck struck) {
  TRY_ASSIGN(std::vector<Lot> all, all_of<Lot>(book, "lot", struck));
  TRY(name_materials(book, all));
  sort_list(all, [](const Lot& a, const Lot& b) {
    if (a.is_struck() != b.is_struck()) return b.is_struck();
    const std::string na = a.name(), nb = b.name();
    return na != nb ? name_before(na, nb) : a.id < b.id;
  });
  return all;
}

Result<Person> read_person(const Book& book, const Id& id) { return one<Person>(book, "person", id); }
Result<Material> read_material(const Book& book, const Id& id) { return one<Material>(book, "material", id); }
Result<Vessel> read_vessel(const Book& book, const Id& id) { return one<Vessel>(book, "vessel", id); }
Result<Rig> read_rig(const Book& book, const Id& id) { return one<Rig>(book, "rig", id); }
Result<BrewRecipe> read_recipe(const Book& book, const Id& id) { return one<BrewRecipe>(book, "recipe", id); }
Result<WaterSource> read_water_source(const Book& book, const Id& id) {
  return one<WaterSource>(book, "water-source", id);
}
Result<Lot> read_lot(const Book& book, const Id& id) {
  TRY_ASSIGN(Lot found, one<Lot>(book, "lot", id));
  std::vector<Lot> alone{found};
  TRY(name_materials(book, alone));
  return alone.front();
}

std::string person_name(const Book& book, const Id& id) {
  Query query = book.db().query("SELECT name FROM k_person WHERE uid = ?");
  query.bind(1, id);
  std::string name;
  if (query.next()) name = query.text(0);
  (void)query.done();
  return name;
}

std::string called_name(const Book& book, const Id& id) {
  const std::string name = person_name(book, id), first = name.substr(0, name.find(' '));
  Query query = book.db().query(
      "SELECT uid FROM k_person WHERE struck IS NULL AND substr(name || ' ', 1, length(?1) + 1) = ?1 || ' '");
  query.bind(1, first);
  std::vector<Id> so_called;
  while (query.next()) so_called.push_back(query.id(0));
  (void)query.done();
  if (so_called.size() <= 1) return first;
  const auto joined = Joined::read(book, "person");
  const auto shown = std::count_if(so_called.begin(), so_called.end(),
                                   [&](const Id& person) { return !joined || !joined->hides(person); });
  return shown <= 1 ? first : name;
}

// ---- Lots ------------------------------------------------------------------------------------

std::optional<double> in_unit_of(const Written& amount, const Unit& unit, const Material& material) {
  const double si_amount = si(amount).to_double();
  if (amount.dimension() == unit.dimension) {
    if (unit.dimension == Dimension::Count && amount.unit != &unit) return std::nullopt;
    return amount_in(si_amount, unit);
  }
  if (!material.density_weight || !material.density_volume || material.density_volume->si() <= 0) return std::nullopt;
  const double density = material.density_weight->si() / material.density_volume->si();
  if (density <= 0) return std::nullopt;
  if (amount.dimension() == Dimension::Volume && unit.dimension == Dimension::Mass)
    return amount_in(si_amount * density, unit);
  if (amount.dimension() == Dimension::Mass && unit.dimension == Dimension::Volume)
    return amount_in(si_amount / density, unit);
  return std::nullopt;
}

Result<LotBalance> lot_balance(const Book& book, const Id& id) {
  TRY_ASSIGN(const Lot& lot, read_lot(book, id));
  LotBalance balance;
  balance.received = lot.quantity;
  balance.unit = lot.quantity ? lot.quantity->unit : nullptr;
  Material material;
  if (const auto found = read_material(book, lot.material)) material = *found;
  for (const std::string_view kind : {"brew-line", "load-line"}) {
    Rows rows(book, kind, "WHERE struck IS NULL AND amount_lot = ?");
    rows.query().bind(1, id);
    while (rows.next()) {
      ++balance.uses;
      const Taken<Written> amount = rows.written("amount.amount");
      std::optional<double> counted;
      if (amount && balance.unit) counted = in_unit_of(*amount, *balance.unit, material);
      if (counted) {
        balance.used += *counted;
      } else {
        ++balance.uncounted;
      }
    }
    TRY(rows.done());
  }
  if (balance.unit)
    balance.left = amount_in(si(*lot.quantity).to_double(), *balance.unit) - balance.used - balance.discarded;
  return balance;
}

// ---- Machines --------------------------------------------------------------------------------

Result<std::vector<RigCalibration>> calibrations(const Book& book, const Id& rig) {
  TRY_ASSIGN(std::vector<RigCalibration> all, under<RigCalibration>(book, "calibration", "rig", rig));
  // Newest first; of one day the one written later.
  sort_list(all, [](const RigCalibration& a, const RigCalibration& b) {
    const auto day = [](const RigCalibration& c) {
      return c.date ? day_number(*c.date) : (c.made.at.ms + c.made.offset_minutes * kMinute) / kDay;
    };
    if (day(a) != day(b)) return day(a) > day(b);
    return a.made.at.ms != b.made.at.ms ? a.made.at.ms > b.made.at.ms : a.id > b.id;
  });
  return all;
}

Result<std::optional<RigCalibration>> calibration_in_force(const Book& book, const Id& rig) {
  TRY_ASSIGN(std::vector<RigCalibration> all, calibrations(book, rig));
  if (all.empty()) return std::optional<RigCalibration>{};
  return std::optional<RigCalibration>(std::move(all.front()));
}

namespace {

Result<void> add_last_wash(const Book& book, const Id& of, Moment at, TankHistory& history) {
  Query query = book.db().query(
      "SELECT uid, COALESCE(at, made_ms) AS done FROM k_wash WHERE struck IS NULL AND \"of\" = ? "
      "AND COALESCE(at, made_ms) <= ? ORDER BY done DESC LIMIT 1");
  query.bind(1, of).bind(2, at.ms);
  if (query.next()) {
    history.wash = query.id(0);
    history.cleaned = Moment{query.integer(1)};
  }
  return query.done();
}

}  // namespace

Result<TankHistory> rig_history(const Book& book, const Id& rig, Moment at, const Id& except_pass) {
  TankHistory history;
  Query query = book.db().query(
      "SELECT l.uid, COALESCE(l.filled, l.made_ms) AS done, l.mix_brew FROM k_load l JOIN k_pass p ON p.uid = l.pass "
      "WHERE l.struck IS NULL AND p.struck IS NULL AND p.rig = ? AND p.uid <> ? AND COALESCE(l.filled, l.made_ms) <= ? "
      "ORDER BY done DESC LIMIT 1");
  query.bind(1, rig).bind(2, except_pass).bind(3, at.ms);
  Id load;
  if (query.next()) {
    load = query.id(0);
    history.held_at = Moment{query.integer(1)};
    history.held_brew = query.id(2);
  }
  TRY(query.done());
  if (!load.is_nil()) {
    std::vector<std::string> names;
    Query lines = book.db().query(
        "SELECT m.name FROM k_load_line l JOIN k_lot t ON t.uid = l.amount_lot JOIN k_material m ON m.uid = t.material "
        "WHERE l.struck IS NULL AND l.load = ? ORDER BY m.name");
    lines.bind(1, load);
    while (lines.next()) names.push_back(lines.text(0));
    TRY(lines.done());
    history.tea_only = names.empty() && !history.held_brew.is_nil();
    for (const std::string& name : names) history.held += (history.held.empty() ? "" : ", ") + name;
  }
  TRY(add_last_wash(book, rig, at, history));
  return history;
}

Result<TankHistory> vessel_history(const Book& book, const Id& vessel, Moment at, const Id& except_brew) {
  TankHistory history;
  Query query = book.db().query(
      "SELECT uid, COALESCE(met_water, air_on, made_ms) AS done FROM k_brew WHERE struck IS NULL AND vessel = ? AND "
      "uid <> ? AND COALESCE(met_water, air_on, made_ms) <= ? ORDER BY done DESC LIMIT 1");
  query.bind(1, vessel).bind(2, except_brew).bind(3, at.ms);
  if (query.next()) {
    history.held_brew = query.id(0);
    history.held_at = Moment{query.integer(1)};
    history.tea_only = true;
  }
  TRY(query.done());
  TRY(add_last_wash(book, vessel, at, history));
  return history;
}

Result<std::vector<std::string>> wash_methods(const Book& book, const Id& rig_or_vessel) {
  std::vector<std::string> methods;
  Query query = book.db().query(
      "SELECT how_method, max(COALESCE(at, made_ms)) AS last FROM k_wash WHERE struck IS NULL AND how_method IS NOT "
      "NULL AND \"of\" = ? GROUP BY how_method ORDER BY last DESC LIMIT 3");
  query.bind(1, rig_or_vessel);
  while (query.next()) methods.push_back(query.text(0));
  TRY(query.done());
  return methods;
}

}  // namespace steep
