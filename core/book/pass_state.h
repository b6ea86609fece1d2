#pragma once
/// Everything that the spraying screen needs from one pass, in one reading.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/places.h"
#include "book/work.h"
#include "trade/hold.h"

namespace steep {

enum class BedProgress { Open, Part, Done, Skipped };

struct PassBed {
  Id bed;
  std::string name, block, crops;
  Length length, width;
  BedProgress progress = BedProgress::Open;
  std::vector<Stretch> treated;  ///< In this pass, from the zero end, merged.
  std::vector<Stretch> open;     ///< What is left to do, from the zero end.
  std::optional<Moment> finish;  ///< Of its last dose in this pass.
  std::string skip_reason;       ///< Of Skipped: as stored ('wet', 'picked', 'covered', 'clogged', or words).
  std::vector<Id> doses;         ///< Not struck, in order of writing.
  int load_number = 0;           ///< Load that treated it last; 0 = none yet.
  bool from_far_end = false;     ///< Where the walk enters this bed.
  /// Estimated for what is open (for the whole bed once done): spray and the tea in it.
  std::optional<Volume> spray, tea;
  /// What it got, once something is done: measured, share or '~'.
  ShownVolume got;
  bool will_be_next_load = false;      ///< Lies behind the place where the tank runs dry.
  std::optional<Moment> planned_pick;  ///< The next picking planned here.
  bool pick_inside_wait = false;       ///< That picking falls inside the wait a dose now would start.
  std::vector<Caution> cautions;       ///< Warn when this bed is in hand.
  std::optional<Problem> stop;         ///< A label in the tank lacks a crop of it: this bed cannot be sprayed.
  Length open_length() const;
};

/// The load in the tank.
struct TankState {
  Id load;
  int number = 0;
  Id brew;
  std::string brew_code;
  Taken<Volume> tea, water;         ///< That went in with this load.
  std::optional<Volume> in_full;    ///< In the tank when filled, with what stayed; nullopt: not known.
  std::optional<Volume> used;       ///< '~': rate × area, measured where measured.
  std::optional<Volume> left;       ///< '~': in_full − used, never below 0.
  std::optional<Volume> can_spray;  ///< left − what the pump cannot reach, never below 0.
  Volume dead;
  std::optional<double> tea_fraction;
  std::optional<Volume> tea_of(Volume spray) const;
};

/// Whole beds and a fraction, rounded down to ¼ ⅓ ½ ⅔ ¾.
struct BedsLeft {
  int whole = 0;
  enum class Part { None, Quarter, Third, Half, TwoThirds, ThreeQuarters } part = Part::None;
  /// '5½'.
  std::string text() const;
};
/// The fraction of a bed, 0–1, rounded down.
BedsLeft::Part part_rounded_down(double fraction);

/// What Undo would take back.
struct UndoStep {
  enum class What { Nothing, Dose, Skip, Refill } what = What::Nothing;
  Id record;
  std::string bed;      ///< 'N10'.
  int load_number = 0;  ///< Of Refill: the load it would close again.
};

struct PassState {
  Pass pass;
  std::string code;   ///< '48', '12 m4t'.
  std::string place;  ///< 'North', or 'North, Creek'.
  Farm farm;
  std::string rig_name;
  std::vector<PassBed> beds;           ///< As planned, then others that got a dose.
  std::optional<std::size_t> in_hand;  ///< The chosen bed, else the first open one; nullopt = all are done.
  std::optional<std::size_t> next;     ///< The open bed after it.
  TankState tank;
  std::vector<LoadSheet> loads;
  int loads_expected = 0;               ///< With the beds that are open; at least the loads so far.
  int done = 0, skipped = 0, open = 0;  ///< Beds; a part counts as open.
  std::optional<BedsLeft> beds_left;    ///< In the tank; nullopt when rate or volumes are not known.
  /// Where the tank runs dry; nullopt when it lasts for all open beds, or is not known.
  std::optional<std::size_t> dry_bed;
  Length dry_at;  ///< From that bed's zero end.
  /// The rates in force and the one that really came out (closed loads, three beds or more).
  std::optional<VolumePerArea> spray_rate, real_rate;
  RateArea rate_area = RateArea::BedTop;
  bool rate_is_off = false;  ///< They differ by over 20 %.
  /// Of the bed in hand, for a dose that would finish now.
  Hold harvest_if_now, entry_if_now;
  bool rule_undecided = false;
  std::optional<Duration> walk_time;    ///< For what is open of the bed in hand, by the calibration's speed.
  std::optional<Moment> in_hand_since;  ///< Finish of the last press, or the start.
  UndoStep undo;
  std::optional<Caution> extract_note;  ///< 'becomes tea at 60 min', from 50 min on.
  bool is_ended = false;
  const PassBed* hand() const { return in_hand ? &beds[*in_hand] : nullptr; }
};

/// `chosen`: the bed that a person tapped; nil = the first open one in walking order.
Result<PassState> pass_state(const Book& book, const Id& pass, const Id& chosen, Moment now);

}  // namespace steep
