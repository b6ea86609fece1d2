#pragma once
/// A recipe for one fill: what goes in, from which lot, and whether there is enough of it.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/things.h"
#include "trade/recipe.h"

namespace steep {

/// One line of a recipe with what is in stock of its material.
struct RecipeStock {
  RecipeLine line;
  Material material;
  const Unit* unit = nullptr;               ///< The line's own; nullptr = the recipe names no amount.
  AmountRange amount;                       ///< As the recipe is written, in `unit`.
  std::vector<ScalingRow> table;            ///< Its own table, in `unit`; empty = in proportion.
  std::vector<Lot> lots;                    ///< Of the material, not expired on the day, the oldest first.
  std::vector<std::optional<double>> left;  ///< Of each lot, in `unit`; nullopt = not known.
  /// All of it together; nullopt when nothing is on record or one lot's rest is not known.
  std::optional<double> in_stock() const;
  /// The oldest lot with at least this much, else the one with most; nullptr without any.
  const Lot* lot_for(double amount) const;
};
/// In the order in which the lines were written. `on`: the day of the brew. Trouble: NotFound  the recipe.
Result<std::vector<RecipeStock>> recipe_stock(const Book& book, const Id& recipe, Date on);

/// The line for this fill; a range stays a range. Trouble: BadInput  no amount, no reference volume (but with a table);
/// OutOfRange  the fill lies outside the line's own table.
Result<AmountRange> scaled_line(const BrewRecipe& recipe, const RecipeStock& line, Volume fill);

}  // namespace steep
