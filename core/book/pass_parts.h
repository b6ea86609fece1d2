#pragma once
/// Pieces that the views and commands of a pass share. Only core/book includes this.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/pass_start.h"
#include "book/pass_state.h"
#include "book/spelled.h"
#include "trade/share.h"
#include "trade/tea_time.h"

namespace steep {

/// The volume of two doses on one bed.
void add_volume(ShownVolume& sum, const ShownVolume& more);
/// 'North, Creek': distinct names in order.
std::string place_names(const std::vector<std::string>& blocks);

/// What the tank should still hold when `more` than its doses say was sprayed, by the rate: below 0 when it held less;
/// nullopt when a volume or the rate is not known.
std::optional<Volume> left_by_rate(const TankState& tank, std::optional<Volume> more = Volume{});
/// How far off what is read of a tank that held this much may be without a word.
Volume left_tolerance(Volume held);
/// Warn: far off what the rate says is left: a likely slip, a load that was not written, or a rate that is off. `more` as
/// in left_by_rate.
void check_left_by_rate(const TankState& tank, const std::optional<Written>& left, std::optional<Volume> more,
                        std::vector<Caution>& cautions);

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
