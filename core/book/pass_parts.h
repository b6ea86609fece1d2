#pragma once
/// Pieces that the views and commands of a pass share. Only core/book includes this.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/pass_start.h"
#include "book/spelled.h"
#include "trade/share.h"
#include "trade/tea_time.h"

namespace steep {

/// The volume of two doses on one bed.
void add_volume(ShownVolume& sum, const ShownVolume& more);
/// 'North, Creek': distinct names in order.
std::string place_names(const std::vector<std::string>& blocks);

/// In which volumes of the start are written: the unit of the tank as typed, else gal or L as the farm has it.
const Unit& volume_unit(const StartSheet& sheet);

/// The last write of a pass that Undo takes back.
struct LastPress {
  Id record;  ///< The dose, or of a refill the load that it opened.
  Id bed, load;
  int load_number = 0;  ///< Of a refill.
  bool is_skip = false, is_refill = false;
};
Result<std::optional<LastPress>> last_press(const Book& book, const Id& pass);

}  // namespace steep
