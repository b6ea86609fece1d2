#pragma once
/// One bed: how it stands, and everything that happened on its ground.

#include <optional>
#include <string>
#include <vector>

#include "book/bed_states.h"
#include "book/book.h"
#include "book/codes.h"
#include "book/places.h"
#include "book/work.h"

namespace steep {

enum class BedLineKind { Tea, Spray, Skipped, Harvest, Planted, Ended, Note, HoldSet, Released };

/// One line of a bed's history.
struct BedLine {
  BedLineKind kind = BedLineKind::Note;
  Id record;
  Moment at;
  std::string struck, struck_by;  ///< Reason and who; struck lines stay.
  std::optional<Moment> struck_at;
  bool undone = false;  ///< A press taken back within its pass.
  std::string who;      ///< 'Ana'; who did it, else who wrote it.
  // Of doses:
  Id pass;
  std::string brew_code, pass_code;
  int load_number = 0;
  std::vector<std::string> materials;  ///< Other products in the tank.
  Aim aim = Aim::Leaf;
  Stretch stretch;
  bool part = false;  ///< Less than the whole bed.
  ShownVolume volume;
  std::string reason;  ///< Of a skip; text of a note; why of a hold.
  bool in_question = false;
  std::optional<Hold> entry;  ///< The entry wait that it started, for 'no entry 4 h, ended'.
  // Of harvests and plantings:
  Taken<Written> amount;
  std::string code, crop;
  Taken<double> plants;
  bool differs = false;      ///< Copies disagree about it.
  bool earlier_bed = false;  ///< Happened when this ground had another name: in `bed_name`.
  std::string bed_name;
};

/// Sums of one calendar year of the farm. Tea mix and other sprays are never added up.
struct SeasonSums {
  int year = 0;
  int tea_passes = 0;
  Volume tea_spray, tea;  ///< Spray with tea in it, and the tea in that.
  int other_passes = 0;
  Volume other_spray;
  int estimated = 0;  ///< Doses whose volume is '~' or not known.
};

struct BedPage {
  BedState state;
  Farm farm;
  Moment at;
  std::vector<BedLine> history;  ///< Newest first.
  SeasonSums season;
};

/// Trouble::NotFound "place.bed-not-here".
Result<BedPage> bed_page(const Book& book, const Id& bed, Moment at);

}  // namespace steep
