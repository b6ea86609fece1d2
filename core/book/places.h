#pragma once
/// The farm and its ground: blocks, beds in walking order, what grows in them, the farm's own limits.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "base/zone.h"
#include "book/book.h"
#include "book/facts.h"
#include "book/same_ground.h"
#include "quantity/quantities.h"
#include "quantity/units_shown.h"
#include "trade/due.h"
#include "trade/hold.h"
#include "trade/stretch.h"

namespace steep {

struct Farm : RecordFacts {
  std::string name;
  std::string client;  ///< Empty = own farm.
  std::string address;
  Taken<double> latitude, longitude;  ///< Degrees, north and east positive.
  Taken<Length> elevation;
  Zone zone;  ///< UTC while `zone_known` is false.
  bool zone_known = false;
  DayCounting counting = DayCounting::Dates;
  System units = System::Us;
  std::string certifier, plan_number;
  std::vector<std::string> rules;
  /// Days from tea on leaves to picking. Not taken = 'not decided'; both that and never asked are a hold.
  Taken<int> tea_wait_days;
  std::string tea_wait_by;
  std::string harvest_pattern;  ///< '{bed}-{day}-{copy}' when the farm has none of its own.

  Date day(Moment at) const { return zone.local(at).date; }
};

/// A limit that the farm set itself, with whose number it is. `which`: a stored word of the kind 'limit'.
struct FarmLimit : RecordFacts {
  Id farm;
  std::string which;
  Taken<double> value;  ///< SI of a quantity, or the bare number.
  std::string typed;    ///< '6 mg/L', '90'.
  std::string by;
};

struct FarmInterval : RecordFacts {
  Id farm;
  Id on;  ///< Farm, block or planting; nil with `crop`.
  std::string crop;
  bool on_soil = false;
  int days = 0;
};

struct Block : RecordFacts {
  Id farm;
  std::string name;
  std::string kind;       ///< 'open', 'tunnel', 'greenhouse', or empty.
  std::vector<Id> order;  ///< Beds in walking order, as far as given.
};

struct Bed : RecordFacts {
  Id farm, block;
  std::string name, block_name;
  Taken<Length> length, width;    ///< As measured; where one is missing, so that both make the area within the corners.
  std::string polygon;            ///< The corners.
  std::string zero_end, far_end;  ///< 'lane', 'creek'; may be empty.
  std::optional<Date> valid_from, valid_to;
  std::vector<GroundPiece> origin;
  std::string origin_how;  ///< 'split', 'joined', 'renamed', 'moved', or empty.

  /// 0 to its length; of no length when that is not known.
  Stretch whole() const { return {Length{}, length.value_or(Length{})}; }
  /// nullopt when length or width is not known.
  std::optional<Area> area() const;
  std::optional<Area> area_of(Stretch stretch) const;
  bool is_valid_on(Date day) const { return (!valid_from || *valid_from <= day) && (!valid_to || day <= *valid_to); }
};

struct Planting : RecordFacts {
  Id bed;
  std::string crop, variety;
  Taken<Length> from, to;
  Taken<double> plants;
  std::optional<Date> sown, planted, first_harvest, ended;
  Taken<bool> touches_soil;

  /// The first of sown and planted; nullopt when neither is known.
  std::optional<Date> started() const;
  bool grows_on(Date day) const;
  /// Its stretch of the bed; the whole bed where not given.
  Stretch stretch(const Bed& of) const;
};

/// Everything about one farm's ground on one day, in one reading.
struct Places {
  Farm farm;
  std::vector<Block> blocks;        ///< By name, the way people count ('N2' before 'N10').
  std::vector<Bed> beds;            ///< In walking order: block by block, the block's own order, then by name.
  std::vector<Bed> others;          ///< Beds not shown: not valid on the day, or the same as one that is shown.
  std::vector<Planting> plantings;  ///< Of these beds under any of their ids, growing on the day; struck ones left out.
  std::vector<FarmInterval> intervals;
  std::vector<FarmLimit> limits;

  /// By id; follows 'same as', so either of two joined beds finds the one that is shown.
  const Bed* bed(const Id& id) const;
  /// Also one that is not shown.
  const Bed* any_bed(const Id& id) const;
  /// Shown beds that records of this bed tell of: one of this farm, or several where another farm's may be either.
  std::vector<const Bed*> beds_told_of(const Id& id) const;
  const Block* block(const Id& id) const;
  const FarmLimit* limit(std::string_view which) const;
  /// Of one bed, in the order of their stretches.
  std::vector<const Planting*> crops_of(const Id& bed) const;
  /// 'lettuce, radish'; empty when nothing grows there.
  std::string crop_names(const Id& bed) const;
  /// Intervals that reach this planting (or, with nullptr, the bare bed), for trade's `due`.
  std::vector<Interval> intervals_for(const Bed& bed, const Planting* planting) const;

  std::vector<std::pair<Id, Id>> joined;  ///< Bed that is not shown → bed it is the same as; sorted.
  SameGround same;                        ///< What was done there holds here.

  /// Made by read_places, so that a look-up costs the same on a farm of any size.
  std::unordered_map<Id, std::size_t> index;  ///< Place in `beds`, joined beds included.
  /// Bed of another farm → places in `beds` of those that may be the same ground.
  std::unordered_map<Id, std::vector<std::size_t>> elsewhere;
  std::vector<std::vector<std::size_t>> planted;  ///< For each bed its places in `plantings`, by stretch.
};

/// Farms that are not struck, own ones first, then by name.
Result<std::vector<Farm>> farms(const Book& book);
/// Trouble::NotFound "place.no-farm".
Result<Farm> read_farm(const Book& book, const Id& id);
/// `on`: which day's beds and plantings; empty = today of the farm.
Result<Places> read_places(const Book& book, const Id& farm, std::optional<Date> on = {});
/// The same, shared: the book keeps the last that was read until a record changes that it was read from.
Result<std::shared_ptr<const Places>> kept_places(const Book& book, const Id& farm, Date on);
/// One bed, valid or not, struck or not. Trouble::NotFound "place.bed-not-here".
Result<Bed> read_bed(const Book& book, const Id& id);
/// Its sides as a dose keeps them: as typed, or those that its corners make. Empty = not known.
struct BedSizeWritten {
  std::optional<Written> length, width;
};
BedSizeWritten bed_size_written(const Book& book, const Bed& bed);
/// All plantings of a bed and of beds that are or may be the same, ended ones too, newest first.
Result<std::vector<Planting>> plantings_of(const Book& book, const Id& bed);
Result<std::vector<Planting>> plantings_of(const Book& book, const SameGround& ground, const Id& bed);
/// The farm whose part a record lies in; nil for the house and for records not here.
Id farm_of(const Book& book, const Id& record);

/// Finds a bed by what a person typed: case, spaces, dashes and leading zeros aside ('b-7', 'B 7',
/// 'B07' are B7). Trouble: Ask  the name fits beds of several blocks, or only looks like one
/// ('ß7': values[0] as typed, then the names that may be meant); NotFound  none is near.
Result<Id> bed_by_name(std::span<const Bed> beds, std::string_view typed);
/// 'N2' before 'N10'; case aside. For sorting names.
bool name_before(std::string_view a, std::string_view b);

}  // namespace steep
