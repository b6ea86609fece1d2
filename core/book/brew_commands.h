#pragma once
/// Brews as they are made: filled, fed, read, judged. And what is entered from a bed's page.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/pass_start.h"
#include "book/work.h"
#include "quantity/written.h"

namespace steep {

struct BrewGiven {
  Id plan;  ///< The intended brew that this becomes; nil = none.
  Id recipe, vessel, water_source, target;
  std::optional<Written> fill;  ///< Empty = not taken.
  std::string treatment;        ///< 'none', 'stand', 'aerate', 'neutralize', or empty.
  std::optional<Moment> treatment_from, treatment_to;
  std::optional<Moment> met_water, air_on;  ///< Empty = not yet.
  std::vector<ProductGiven> lines;
};
/// Outcome::record = the brew. Warns: food above the recipe, fill over the working volume, vessel not
/// cleaned since it held something else, lot expired or over-drawn.
Result<Outcome> start_brew(Book& book, const BrewGiven& given, const Going& going);
Result<Outcome> set_air_on(Book& book, const Id& brew, Moment at, const Going& going);
Result<Outcome> set_air_off(Book& book, const Id& brew, Moment at, const Going& going);
/// 'ready', 'hold', 'do-not-use': a person's, with name and reason.
Result<Outcome> set_verdict(Book& book, const Id& brew, std::string_view word, std::string_view why,
                            const Going& going);
/// 'fed', 'topped-up', 'moved', 'power-cut'.
Result<Outcome> add_event(Book& book, const Id& brew, std::string_view what, Moment at,
                          const std::optional<Written>& amount, std::string_view note, const Going& going);

struct ReadingGiven {
  Id of;
  std::string quantity;               ///< Stored word: 'oxygen', 'temperature', 'ph' …
  std::optional<Written> value;       ///< Of a measured quantity.
  std::optional<std::string> number;  ///< pH: a number of the journal.
  std::string word;                   ///< Of smell and foam.
  bool not_taken = false;
  std::string instrument;
  std::string note;          ///< Written beside the reading, in one act; empty = none.
  std::optional<Moment> at;  ///< Empty = now.
};
/// Trouble: BadInput  pH outside 0–14 (offers a tenth), negative; Ask  685 °F, 84 mg/L (values[1] = what may
/// be meant). Warns: oxygen under the farm's floor, a likely unit slip (20 °F: '20 °C = 68 °F?').
Result<Outcome> add_reading(Book& book, const ReadingGiven& given, const Going& going);
/// A low reading is the reading itself: it is kept at once and shown, nobody has to argue with it.
Result<Outcome> write_reading(Book& book, std::vector<Save> saves, const Id& record, std::vector<Caution> cautions,
                              const Going& going);

/// Of a bed; code by the farm's pattern when empty. Warns when picked inside a wait.
struct HarvestGiven {
  Id bed, planting;
  std::optional<Written> from, to, amount;
  std::optional<Moment> at;
  std::string code;
};
Result<Outcome> add_harvest(Book& book, const HarvestGiven& given, const Going& going);
/// Of any record. Trouble: BadInput "record.note-empty".
Result<Outcome> add_note(Book& book, const Id& of, std::string_view text, const Going& going);
/// A hold set by hand, and its release; both with a reason.
Result<Outcome> set_hold(Book& book, const Id& bed, bool harvest, bool entry, std::optional<Moment> until,
                         std::string_view why, const Going& going);
Result<Outcome> release_hold(Book& book, const Id& hold, std::string_view why, const Going& going);
/// Of a vessel or rig.
Result<Outcome> add_wash(Book& book, const Id& of, std::string_view method, Moment at, const Going& going);
/// Poured out of a brew or load.
Result<Outcome> add_discard(Book& book, const Id& of, const std::optional<Written>& volume, const Id& place,
                            std::string_view words, Moment at, const Going& going);

// ---- The same checks, for a record that comes as fields (enter.h) ---------------------------------

/// Warns of a reading: oxygen under the floor, freezing.
Result<std::vector<Caution>> reading_cautions(const Book& book, const ReadingGiven& given);
/// Of one line: above the recipe at this fill, a likely unit slip.
Result<std::vector<Caution>> recipe_cautions(const Book& book, const BrewGiven& given, const ProductGiven& line,
                                             Moment at);
/// Over the working volume of the vessel.
Result<std::vector<Caution>> fill_cautions(const Book& book, const BrewGiven& given);
/// That, and a vessel not cleaned since it held something else than `brew`.
Result<std::vector<Caution>> vessel_cautions(const Book& book, const BrewGiven& given, Moment at, const Id& brew = {});
/// Picked inside a wait.
Result<std::vector<Caution>> harvest_cautions(const Book& book, const HarvestGiven& picked, Moment at);
/// More poured out than was left: Ask. `counted`: what the discard that is corrected took.
Result<void> check_poured(const Book& book, const Id& of, const Written& volume, Volume counted);

}  // namespace steep
