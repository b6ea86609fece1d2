#pragma once
/// People and things of the house: who works, what is used, from which lot, with which machine.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/zone.h"
#include "book/book.h"
#include "book/facts.h"
#include "quantity/quantities.h"
#include "quantity/written.h"

namespace steep {

struct Person : RecordFacts {
  std::string name, initials, role, address;
  std::string licence;
  std::optional<Date> licence_expires;
  std::string language;  ///< 'en', 'es', or empty.
};

struct Material : RecordFacts {
  std::string name, maker, kind;
  Taken<bool> animal, additive, labelled;
  std::string registration;
  std::string allowed, allowed_paper;  ///< 'yes', 'restricted', 'no', 'ask'.
  Taken<Mass> density_weight;          ///< Weight of …
  Taken<Volume> density_volume;        ///< … this volume, if the farm measured it.

  bool is_compost() const { return kind == "compost" || kind == "worm-compost" || kind == "extract-base"; }
};

struct Lot : RecordFacts {
  Id material;
  std::string material_name, code, supplier, receipt;
  std::optional<Date> received, expires;
  Taken<Written> quantity;
  Taken<double> cost;
  Id heap;
  std::string name() const;  ///< 'Worm castings C-0412', or the material alone.
};

/// What came, what was used, what is left. Amounts of another kind than the lot's own (volume against
/// weight) count only with the material's measured density; else they are named in `uncounted`.
struct LotBalance {
  Taken<Written> received;         ///< As typed.
  double used = 0, discarded = 0;  ///< In `unit`.
  std::optional<double> left;      ///< In `unit`; nullopt when the lot's amount is not known. May be negative.
  const Unit* unit = nullptr;      ///< The lot's own; nullptr when its amount is not known.
  int uses = 0, uncounted = 0;
  bool is_overdrawn() const { return left && *left < -1e-9; }
};

struct Vessel : RecordFacts {
  std::string name, diffuser;
  Taken<Volume> nominal, working;
  Taken<Length> depth;
  Taken<Flow> pump_flow;
  Taken<Pressure> pump_pressure;
  Taken<double> outlets;
};

struct Rig : RecordFacts {
  std::string name, kind, strainer;
  Taken<Volume> tank, dead;   ///< Dead: what the pump cannot reach.
  Taken<Written> tank_typed;  ///< With the kind of gallon as it was written.
  Taken<Length> swath;
  std::string nozzle_size;
  Taken<double> nozzle_count;
  Taken<Length> nozzle_spacing;
  Taken<Pressure> nozzle_pressure;
};

/// What a vessel or rig held last, and whether it was cleaned since.
struct TankHistory {
  std::optional<Moment> held_at;  ///< When it was last filled; nullopt = never on record.
  std::string held;               ///< Names of brews and materials: 'copper', 'Brew 31'.
  Id held_brew;                   ///< The brew, when tea was in it.
  bool tea_only = false;          ///< Nothing but tea (and water) was in it.
  std::optional<Moment> cleaned;  ///< Last wash at or before the moment asked for; nullopt = none.
  Id wash;
  /// Cleaned after it was last filled?
  bool is_clean() const { return !held_at || (cleaned && *cleaned >= *held_at); }
};

enum class RateArea { BedTop, Swath };

struct RigCalibration : RecordFacts {
  Id rig, by;
  std::string method;
  Taken<VolumePerArea> rate;  ///< Spray per area of …
  RateArea area = RateArea::BedTop;
  Taken<Length> course, swath;
  Taken<Speed> speed;
  Taken<Pressure> pressure;
  std::optional<Date> date;  ///< Of the walk; else the day it was written.
  int age_days(Date today, const Zone& zone) const;
};

struct BrewRecipe : RecordFacts {
  std::string name, word, notes, source;  ///< word: 'tea' or 'extract'; decides nothing.
  Taken<Volume> reference;
  Taken<Duration> time;
  Taken<Temperature> temperature;
};

struct RecipeLine : RecordFacts {
  Id recipe, material;
  Taken<Written> low, high;  ///< A range stays one; equal or only `low` for one amount.
  std::string scaling;       ///< 'proportion' or 'table'.
  std::vector<std::string> table;
};

struct WaterSource : RecordFacts {
  std::string name, kind, disinfectant;
  std::optional<Date> test_date;
  Taken<std::string> test_e_coli;  ///< Per 100 mL, with '<' or '>' as written.
  std::string test_paper;
};

/// All by name; struck ones, where they are asked for, behind the others.
enum class Struck { LeaveOut, Include };
Result<std::vector<Person>> people(const Book& book, Struck struck = Struck::LeaveOut);
Result<std::vector<Material>> materials(const Book& book, Struck struck = Struck::LeaveOut);
Result<std::vector<Lot>> lots(const Book& book, Struck struck = Struck::LeaveOut);
Result<std::vector<Vessel>> vessels(const Book& book, Struck struck = Struck::LeaveOut);
Result<std::vector<Rig>> rigs(const Book& book, Struck struck = Struck::LeaveOut);
Result<std::vector<BrewRecipe>> recipes(const Book& book, Struck struck = Struck::LeaveOut);
Result<std::vector<RecipeLine>> recipe_lines(const Book& book, const Id& recipe);
Result<std::vector<WaterSource>> water_sources(const Book& book, Struck struck = Struck::LeaveOut);

/// One, struck or not. Trouble::NotFound "thing.not-here".
Result<Person> read_person(const Book& book, const Id& id);
Result<Material> read_material(const Book& book, const Id& id);
Result<Lot> read_lot(const Book& book, const Id& id);
Result<Vessel> read_vessel(const Book& book, const Id& id);
Result<Rig> read_rig(const Book& book, const Id& id);
Result<BrewRecipe> read_recipe(const Book& book, const Id& id);
Result<WaterSource> read_water_source(const Book& book, const Id& id);

/// The amount in another unit; weight and volume meet only over the material's measured density. nullopt: they don't.
std::optional<double> in_unit_of(const Written& amount, const Unit& unit, const Material& material);
/// Name of any person; empty when not on this copy.
std::string person_name(const Book& book, const Id& id);
/// What people here call the person: 'Ana', or the whole name where two have that first name. For lists; papers take
/// the whole name.
std::string called_name(const Book& book, const Id& id);
Result<LotBalance> lot_balance(const Book& book, const Id& lot);
/// The newest calibration of the rig that is not struck, by day of the walk; nullopt = none.
Result<std::optional<RigCalibration>> calibration_in_force(const Book& book, const Id& rig);
Result<std::vector<RigCalibration>> calibrations(const Book& book, const Id& rig);
/// As things stood at `at`: fills and washes after it are left out. `except_pass`: its own loads don't count.
Result<TankHistory> rig_history(const Book& book, const Id& rig, Moment at, const Id& except_pass = {});
Result<TankHistory> vessel_history(const Book& book, const Id& vessel, Moment at, const Id& except_brew = {});
/// How it was washed before, the last way first: at most three.
Result<std::vector<std::string>> wash_methods(const Book& book, const Id& rig_or_vessel);

}  // namespace steep
