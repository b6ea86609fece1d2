#pragma once
/// The work as it was written down: brews, passes, loads, doses and what follows from them.

#include <algorithm>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/facts.h"
#include "book/things.h"
#include "quantity/quantities.h"
#include "quantity/written.h"
#include "trade/aim.h"
#include "trade/loads.h"
#include "trade/mix.h"
#include "trade/share.h"
#include "trade/stretch.h"

namespace steep {

class SameGround;

struct BrewLine : RecordFacts {
  Id brew, lot;
  Taken<Written> amount;
};
/// Fed, topped up, moved, power cut.
struct BrewEvent : RecordFacts {
  Id brew;
  std::string what;
  Taken<Stamp> at;
  Taken<Written> amount;
  std::string note;
};
struct Reading : RecordFacts {
  Id of;
  std::string quantity;    ///< 'temperature', 'oxygen', 'smell' …
  Taken<Written> value;    ///< Of a measured quantity, with its unit.
  Taken<double> number;    ///< pH, and other bare numbers.
  std::string word;        ///< Of smell and foam.
  bool not_taken = false;  ///< The slot is kept: it was not read.
  std::string instrument;
  Taken<Stamp> at;
  std::optional<Date> checked;  ///< The instrument's last check.
};

struct Brew : RecordFacts {
  Taken<double> number;
  Id recipe, vessel, water, target;
  Taken<Volume> fill;
  Taken<Written> fill_typed;
  std::string treatment;  ///< 'none', 'stand', 'aerate', 'neutralize', or empty.
  Taken<Stamp> treatment_from, treatment_to;
  Taken<Stamp> met_water, air_on, air_off;
  std::string verdict;  ///< 'ready', 'hold', 'do-not-use', or empty.
  Id verdict_by;
  std::string verdict_why;
  Taken<Stamp> verdict_at;
};

/// filled (+ topped up) = loaded + discarded + left.
struct BrewBalance {
  Taken<Volume> filled;  ///< With what was topped up.
  Volume loaded, discarded;
  std::optional<Volume> left;   ///< nullopt while the fill is not known; may be negative.
  int loads = 0;                ///< Tankfuls it went into.
  bool volume_missing = false;  ///< A load or discard has no volume: the balance is not complete.
  bool is_overdrawn() const { return left && left->si() < -1e-6; }
};

/// A brew with all that hangs on it.
struct BrewSheet {
  Brew brew;
  std::string code;  ///< '31', '12 m4t'.
  std::string recipe_name, vessel_name, water_name;
  std::vector<BrewLine> lines;
  std::vector<Lot> lots;          ///< One for each line.
  std::vector<BrewEvent> events;  ///< By time.
  std::vector<Reading> readings;  ///< By time.
  BrewBalance balance;
  std::string verdict_by_name;
};

struct Weather {
  Taken<Speed> wind;
  std::string direction;
  Taken<Temperature> temperature;
  std::string sky, where;
  bool not_taken = false;  ///< Asked, and not taken.
  bool is_empty() const { return !wind && !temperature && direction.empty() && sky.empty(); }
};

struct Pass : RecordFacts {
  Id farm, rig, calibration;
  Taken<double> number;
  Aim aim = Aim::Leaf;
  std::vector<Id> people;
  Stamp start;
  Taken<Stamp> finish;
  Weather weather_start, weather_finish;
  Taken<VolumePerArea> tea_rate, spray_rate;  ///< Not taken = 'don't know'.
  RateArea rate_area = RateArea::BedTop;
  Walk walk = Walk::SameEnd;
  bool from_far_end = false;
  std::vector<Id> beds;  ///< Planned, in walking order.
  int undone = 0;        ///< Presses taken back.
  bool is_open() const { return !is_struck() && !finish.is_there(); }
};

struct Load : RecordFacts {
  Id pass, brew, water_source;
  int number = 0;
  Taken<Volume> tea, water;  ///< That went in.
  Taken<Stamp> filled, closed;
  Taken<std::string> before_held;  ///< What the tank last held.
  Taken<bool> before_cleaned;
  Taken<Volume> left;  ///< In the tank at its end.
  bool is_closed() const { return closed.is_there(); }
};
struct LoadLine : RecordFacts {
  Id load, lot;
  Taken<Written> amount;
};

enum class DoseHow { Done, Part, Skipped };
struct Dose : RecordFacts {
  Id load, bed;
  Taken<Length> from, to, width;
  Taken<Volume> volume;  ///< Only if measured.
  DoseHow how = DoseHow::Done;
  Taken<Stamp> start, finish;
  std::string note;         ///< Also the reason of a skip.
  std::vector<Id> settled;  ///< Doses about which 'Same bed, twice?' was answered.

  bool is_skipped() const { return how == DoseHow::Skipped; }
  Stretch stretch() const;  ///< 0–0 where from or to is missing.
  Area area() const;        ///< Length × width as they were; 0 where not known.
};

struct Discard : RecordFacts {
  Id of, place;
  Taken<Volume> volume;
  std::string words;
  Taken<Stamp> at;
};
struct Wash : RecordFacts {
  Id of, lot, by;
  std::string held, method, strength;
  Taken<bool> rinsed;
  Taken<Stamp> at;
};
struct Harvest : RecordFacts {
  Id bed, planting, by;
  Taken<Length> from, to;
  Stamp at;
  Taken<Written> amount;
  std::string code;
};
struct Sale : RecordFacts {
  Id harvest;
  Taken<Written> amount;
  std::string to;
  Taken<Stamp> at;
};
/// A hold that a person set by hand.
struct HandHold : RecordFacts {
  Id bed;
  Taken<Length> from, to;
  bool harvest = false, entry = false;
  Taken<Stamp> until;  ///< None = until released.
  std::string why;
};
struct Release : RecordFacts {
  Id hold;
  std::string why;
  Taken<Stamp> at;
};
/// An amount chosen for a planned brew.
struct PlannedAmount {
  Id of;  ///< A lot, or a material of which no lot was here.
  Written amount;
};
struct PlannedWork : RecordFacts {
  std::string what;  ///< 'brew', 'pass', 'pick'.
  Id farm, recipe, vessel, became, rig, water;
  Taken<Stamp> at;          ///< Of a brew: air on; of a pass: the first bed.
  Taken<Stamp> water_from;  ///< Of a brew: its water has to stand from then.
  std::vector<Id> beds;
  std::optional<Aim> aim;
  std::vector<PlannedAmount> lines;  ///< Of a brew, where a person chose an amount; the others are the recipe's.
  std::vector<Id> brews;             ///< Of a pass: the plans whose tea it takes.
  Taken<Volume> volume;              ///< Of a brew: gallons of tea.
  Taken<Written> volume_typed, tea_rate_typed, spray_rate_typed;
  Taken<VolumePerArea> tea_rate, spray_rate;
  RateArea rate_area = RateArea::BedTop;
  std::string not_done;  ///< Reason; empty = open or done.
  bool is_open() const { return !is_struck() && became.is_nil() && not_done.empty(); }
  /// Names one of these beds.
  bool is_on(std::span<const Id> of) const {
    return std::find_first_of(beds.begin(), beds.end(), of.begin(), of.end()) != beds.end();
  }
};
struct Note : RecordFacts {
  Id of;
  std::string text;
  Taken<Stamp> at;
};

/// By id, struck or not. Trouble::NotFound "thing.not-here".
Result<Brew> read_brew(const Book& book, const Id& id);
Result<BrewSheet> read_brew_sheet(const Book& book, const Id& id);
Result<BrewBalance> read_brew_balance(const Book& book, const Id& id);
Result<Pass> read_pass(const Book& book, const Id& id);
Result<Load> read_load(const Book& book, const Id& id);
Result<Dose> read_dose(const Book& book, const Id& id);

/// Not struck, newest first.
Result<std::vector<Brew>> brews(const Book& book, Struck struck = Struck::LeaveOut);
/// Tea in it that no verdict forbids, air on or off, something left as far as known; newest first.
Result<std::vector<Brew>> usable_brews(const Book& book, Moment now);
/// Of this recipe, found ready by a person after the air went on; the newest 40, newest first.
Result<std::vector<Brew>> ready_brews(const Book& book, const Id& recipe);
/// By start. `from`/`to`: civil days of the farm, both included. Struck ones left out unless asked for, or a dose of theirs came
/// afterwards and stands (review.late_child): it counts, and with it what it was sprayed out of. So with loads and their lines.
Result<std::vector<Pass>> passes(const Book& book, const Id& farm, std::optional<Date> from = {},
                                 std::optional<Date> to = {}, Struck struck = Struck::LeaveOut);
/// The pass that is still open on this copy; nullopt = none. (Another copy's open pass is not ours.) It keeps
/// the next one from starting and files from being taken, until it is ended.
Result<std::optional<Id>> open_pass(const Book& book);
/// The pass to go on with: the open one, or one of the last day that this copy began before it took new lanes
/// (its storage was lost or restored meanwhile). Such a one hinders nothing: it may be a twin's.
Result<std::optional<Id>> pass_to_go_on(const Book& book);
/// By number, then id.
Result<std::vector<Load>> loads(const Book& book, const Id& pass, Struck struck = Struck::LeaveOut);
Result<std::vector<LoadLine>> load_lines(const Book& book, const Id& load);
/// Of one pass, in order of writing.
Result<std::vector<Dose>> doses_of_pass(const Book& book, const Id& pass, Struck struck = Struck::LeaveOut);
Result<std::vector<Dose>> doses_on_bed(const Book& book, const Id& bed, Struck struck = Struck::LeaveOut);
Result<std::vector<Discard>> discards(const Book& book, const Id& of);
Result<std::vector<Reading>> readings(const Book& book, const Id& of);
/// Passes and pickings of a farm that are still to be done, by time.
Result<std::vector<PlannedWork>> open_plans(const Book& book, const Id& farm);
/// Pickings planned for a time, of this farm and of those that share ground with it.
Result<std::vector<PlannedWork>> planned_picks(const Book& book, const SameGround& ground, const Id& farm);
/// Brews of the house that are still to be made, by time.
Result<std::vector<PlannedWork>> open_brew_plans(const Book& book);
Result<PlannedWork> read_plan(const Book& book, const Id& id);
Result<std::vector<Note>> notes(const Book& book, const Id& of);

/// The doses of one load with the volume that each shows: measured, share, or '~' rate × area. What stayed
/// in the tank from the load before is in it, also from the rig's pass before.
struct LoadSheet {
  Load load;
  std::vector<LoadLine> lines;
  std::vector<Dose> doses;           ///< Not struck, in order of writing.
  std::vector<ShownVolume> volumes;  ///< One for each dose.
  LoadShares shares;
  Volume stayed_tea, stayed_water;  ///< From the load before, in the tank when this one was filled.
  Volume discarded;
  /// In the tank at its end, less what was poured out; nullopt while it is not closed, or nobody wrote what was left.
  std::optional<Mix> rest() const;
};
/// All loads of a pass, in order.
Result<std::vector<LoadSheet>> load_sheets(const Book& book, const Pass& pass);

struct LoadBalance {
  Load load;
  bool overdrawn = false;   ///< Measured and left, or measured and poured out, are more than it held.
  std::optional<Mix> rest;  ///< As LoadSheet::rest().
};
/// All loads of a pass in order, or only one, without reading what each bed got.
Result<std::vector<LoadBalance>> load_balances(const Book& book, const Pass& pass, const Id& only = {});

}  // namespace steep
