#pragma once
/// Starting a farm, and its own rules.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/places.h"
#include "quantity/written.h"

namespace steep {

/// 'North, 24 beds, 100 ft × 30 in'.
struct BlockGiven {
  std::string name;
  std::string prefix;  ///< Before the bed numbers; empty = the name's first letter, or more if taken.
  int beds = 0;
  std::optional<Written> length, width;
  std::string kind;  ///< 'open', 'tunnel', 'greenhouse', or empty.
  std::string zero_end, far_end;
};
/// Reads that line as people write it: 'North, 24 beds, 100 ft × 30 in', 'Túnel, 8 camas, 24 m x 75 cm'.
/// Trouble::BadInput "start.block-line" with what was not understood.
Result<BlockGiven> read_block_line(std::string_view typed, const Habits& habits, System units);

struct FarmGiven {
  std::string name, address, client;
  std::string zone_name;  ///< IANA.
  System units = System::Us;
  DayCounting counting = DayCounting::Dates;
  std::vector<BlockGiven> blocks;
  /// Days from tea on leaves to picking; empty = 'not decided', which is an answer.
  std::optional<int> tea_wait_days;
  std::string person_name;  ///< Who starts it; empty when `Going::person` exists.
  std::string person_address;
};
/// The book (when the file is empty: named after the farm), the person, the farm, its blocks and beds.
/// Outcome::record = the farm. Trouble::Conflict "book.demo-real" in a demo book.
struct StartedFarm {
  Id farm, person;
  std::vector<Id> blocks, beds;
};
Result<StartedFarm> start_farm(Book& book, const FarmGiven& given, const Going& going);
/// One more block with its beds.
Result<Outcome> add_block(Book& book, const Id& farm, const BlockGiven& given, const Going& going);

/// The farm's rule after tea on leaves. Empty = 'not decided': a hold on each bed sprayed.
Result<Outcome> set_farm_rule(Book& book, const Id& farm, std::optional<int> days, std::string_view by,
                              const Going& going);
/// A limit with whose number it is; empty takes it back. Trouble: as check_limit (limit_kinds.h).
Result<Outcome> set_limit(Book& book, const Id& farm, std::string_view which, const std::optional<Written>& value,
                          std::string_view by, const Going& going);
/// `on`: farm, block or planting; or nil and a crop. Empty days take it back (strike).
Result<Outcome> set_interval(Book& book, const Id& farm, const Id& on, std::string_view crop, bool on_soil,
                             std::optional<int> days, const Going& going);

}  // namespace steep
