#pragma once
/// The sheet that starts a pass: what is known, what is proposed, what is missing.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/places.h"
#include "book/tank_rest.h"
#include "book/things.h"
#include "book/work.h"
#include "quantity/written.h"
#include "trade/loads.h"

namespace steep {

/// Weather as the sheet gives it.
struct WeatherGiven {
  bool not_taken = false;  ///< One press.
  std::optional<Written> wind, temperature;
  std::string direction, sky, where;
  bool is_answered() const { return not_taken || wind || temperature || !direction.empty() || !sky.empty(); }
};

/// A product beside the tea.
struct ProductGiven {
  Id lot;
  std::optional<Written> amount;  ///< nullopt = not taken.
};

/// What a person has chosen so far; what is empty is proposed. The screen keeps this as its form.
struct StartChoices {
  Id farm;
  Id plan;               ///< An intended pass: what it says is proposed. Nil = one for about now.
  bool no_plan = false;  ///< None of them.
  Id person;             ///< Who is at the device.
  std::vector<Id> others;
  std::vector<Id> beds;  ///< In any order; empty = the beds due of the block with most of them.
  Id rig;
  std::optional<Aim> aim;
  Id brew;
  bool no_tea = false;  ///< Products in water alone.
  std::optional<Written> tea_rate, spray_rate;
  std::optional<RateArea> rate_area;
  bool rates_unknown = false;         ///< 'Don't know' is an answer.
  std::optional<Written> tea, water;  ///< What went into load 1.
  bool volumes_not_taken = false;
  Id water_source;
  std::vector<ProductGiven> products;
  std::optional<Walk> walk;
  std::optional<bool> from_far_end;
  WeatherGiven weather;
};

enum class StartMissing { Person, Rig, Beds, Aim, Brew, Rates, Load, Walk, Weather };

struct StartSheet {
  StartChoices chosen;  ///< With the proposals filled in.
  Places places;
  std::optional<PlannedWork> planned;  ///< The plan that this becomes; `chosen.plan` is its id.
  std::string place;                   ///< 'North'.
  std::vector<Bed> beds;               ///< In walking order.
  Length length;                       ///< Of all beds.
  std::optional<Area> area;            ///< In the sense of the rates; nullopt: a size is not known.
  std::string person_name;
  std::vector<std::string> other_names;
  std::optional<Rig> rig;
  std::optional<RigCalibration> calibration;
  std::optional<Brew> brew;
  std::string brew_code;
  BrewBalance brew_balance;
  std::optional<WaterSource> water;
  std::optional<LoadPlanInput> loading;  ///< nullopt while rates, tank or sizes are not known.
  std::optional<LoadPlan> plan;          ///< Of `loading`; nullopt when it cannot be sprayed so.
  std::optional<Mix> on_beds;            ///< Spray and tea for all beds.
  std::optional<TankRest> rest;          ///< Of the rig's pass before: may still be in the tank.
  std::string rest_code;                 ///< Of that pass: '47'.
  Volume stays() const { return rest && rest->left ? rest->left->spray() : Volume{}; }
  /// What is in the tank with load 1 as it stands, and the bed and place where it will run dry.
  std::optional<Volume> load_spray;
  std::string load_ends_bed;
  Length load_ends_at;
  bool load_is_full = false, load_lasts = false;
  std::vector<StartMissing> missing;  ///< In the order of the sheet; empty = can start.
  /// The last weather that somebody wrote on this farm within two hours, as a one-press proposal.
  std::optional<WeatherGiven> last_weather;
  std::vector<Caution> cautions;        ///< Those that start_pass would give.
  std::vector<std::string> people_ids;  ///< Texts for the list field, in order.
  std::vector<Problem> stops;           ///< Beds whose crop is not on a label in the tank.
};
Result<StartSheet> start_sheet(const Book& book, const StartChoices& choices, Moment now);

/// Writes the pass with its load 1 and products. Trouble::BadInput "pass.missing" when something is,
/// "check.crop-not-on-label" (Stop before work), Conflict "pass.already-open".
/// Outcome::record = the pass.
Result<Outcome> start_pass(Book& book, const StartChoices& choices, const Going& going);

}  // namespace steep
