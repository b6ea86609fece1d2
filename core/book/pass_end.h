#pragma once
/// The end of a pass: sums, what is left over, what the waits are that it started, how the rig is washed.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/pass_start.h"
#include "book/pass_state.h"
#include "quantity/written.h"

namespace steep {

enum class LeftOver { PouredOn, PouredElsewhere, StaysInTank, NothingLeft };

/// The wait of one bed of the pass.
struct WaitStarted {
  Id bed;
  std::string name;
  Moment finish;
  Hold harvest, entry;
};

struct EndSheet {
  PassState state;
  int beds = 0, part = 0, skipped = 0;
  Length length;                     ///< Treated.
  std::optional<Area> area;          ///< Treated, in the sense of the rates.
  std::optional<Volume> spray, tea;  ///< On the beds; '~' while `is_estimate`.
  bool is_estimate = true;
  std::optional<Volume> went_in, tea_in;  ///< Over all loads.
  int loads = 0;
  Volume left;  ///< Proposed left over.
  /// Places where something was poured before, the last first: heap, bed or block, with its name.
  std::vector<std::pair<Id, std::string>> poured_before;
  std::vector<std::string> wash_methods;  ///< Of this rig before, the last first: '3 rinses, well water'.
  std::vector<WaitStarted> waits;         ///< In walking order.
  int open_beds = 0;                      ///< Not done and not skipped: 'leave them open?'
  std::optional<WeatherGiven> last_weather;
};
Result<EndSheet> end_sheet(const Book& book, const Id& pass, Moment now);

struct EndRequest {
  Id pass;
  std::optional<Written> left;  ///< Empty = not taken.
  LeftOver where = LeftOver::NothingLeft;
  Id place;                 ///< Of PouredOn.
  std::string place_words;  ///< Of PouredElsewhere.
  bool washed = false;
  std::string wash_method;
  Taken<bool> rinsed;
  WeatherGiven weather;
  std::optional<Moment> finish;  ///< Empty = now.
};
/// Closes the last load, writes the discard and the finish in one act of the farm, the wash in an act of
/// the house (no act spans parts). Trouble: Ask  more left over than the load can have left.
Result<Outcome> end_pass(Book& book, const EndRequest& request, const Going& going);

}  // namespace steep
