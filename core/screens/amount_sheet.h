#pragma once
/// One amount typed on the number pad: a sheet that any form opens for one of its quantities.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "look/number_pad.h"
#include "quantity/written.h"
#include "screens/page.h"

namespace steep {

/// What is being typed; part of a page's input.
struct AmountTyping {
  std::string what;   ///< Which quantity of the form; empty = the sheet is closed.
  std::string typed;  ///< Digits with the mark of the Decimals setting.
  std::string unit;   ///< Stored word of the chosen unit.
  std::string error;
  bool operator==(const AmountTyping&) const = default;
  bool is_open() const { return !what.empty(); }
};

struct AmountAsk {
  std::string_view title = {};              ///< 'Tea in load 1'
  Dimension dimension = Dimension::Volume;  ///< Of the unit that is chosen now.
  std::vector<const Unit*> units;           ///< Offered; the first is taken when none was chosen.
  bool can_be_not_taken = false;
  bool signs = false;
};

enum class AmountEvent { None, Saved, NotTaken, Closed };
struct AmountAnswer {
  AmountEvent event = AmountEvent::None;
  std::optional<Written> written;  ///< Of Saved.
};

/// Opens it on a value: `now` is shown as the last one, typing starts anew.
void open_amount(AmountTyping& typing, std::string_view what, const std::optional<Written>& now, const Unit& unit);
/// Draws the sheet; closes it on an answer.
AmountAnswer amount_sheet(AmountTyping& typing, const AmountAsk& ask, const UnitsShown& units);

/// Steps of a stepper in this unit: 0.05 gal, 0.1 L, 1 ft, 0.5 m, 1 gal/acre, 10 L/ha.
double usual_step(const Unit& unit);

}  // namespace steep
