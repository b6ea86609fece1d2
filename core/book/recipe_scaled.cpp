#include "book/recipe_scaled.h"

#include <algorithm>

#include "base/sorting.h"
#include "base/text.h"

namespace steep {
namespace {

/// 'volume amount' or 'volume low high', each quantity in its normal form; nullopt when it is neither.
std::optional<ScalingRow> table_row(const std::string& item, const Unit& unit) {
  std::vector<Written> parts;
  std::string piece;
  for (const std::string_view word : split(item, ' ')) {
    piece += (piece.empty() ? "" : " ") + std::string(word);
    if (auto read = parse_written(piece)) {
      parts.push_back(std::move(*read));
      piece.clear();
    }
  }
  if (!piece.empty() || parts.size() < 2 || parts.size() > 3 || parts[0].dimension() != Dimension::Volume)
    return std::nullopt;
  for (std::size_t i = 1; i < parts.size(); ++i)
    if (parts[i].dimension() != unit.dimension) return std::nullopt;
  const auto amount = [&](const Written& written) { return amount_in(si(written).to_double(), unit); };
  const double low = amount(parts[1]);
  return ScalingRow{as<Volume>(parts[0]), {low, parts.size() == 3 ? amount(parts[2]) : low}};
}

void read_amounts(RecipeStock& stock) {
  const RecipeLine& line = stock.line;
  if (!line.low && !line.high) return;
  const Written& low = line.low ? *line.low : *line.high;
  const Written& high = line.high ? *line.high : low;
  stock.unit = low.unit;
  stock.amount.low = low.amount.to_double();
  // A range across kinds ('1 cup to 2 lb') is no range: the low end stands. Equal ends stay equal, whatever the rounding.
  stock.amount.high = stock.amount.low;
  if (high.dimension() == low.dimension() && si(low) < si(high))
    stock.amount.high = amount_in(si(high).to_double(), *low.unit);
  if (line.scaling != "table") return;
  for (const std::string& item : line.table)
    if (const auto row = table_row(item, *stock.unit)) stock.table.push_back(*row);
}

Result<void> read_lots(const Book& book, const std::vector<Lot>& all, Date on, RecipeStock& stock) {
  for (const Lot& lot : all) {
    if (lot.material != stock.material.id || (lot.expires && *lot.expires < on)) continue;
    TRY_ASSIGN(const LotBalance& balance, lot_balance(book, lot.id));
    std::optional<double> left;
    if (stock.unit && balance.left && balance.uncounted == 0)
      left = in_unit_of(write_quantity(std::max(0.0, *balance.left), *balance.unit, 9), *stock.unit, stock.material);
    stock.lots.push_back(lot);
    stock.left.push_back(left);
  }
  return {};
}

}  // namespace

std::optional<double> RecipeStock::in_stock() const {
  if (left.empty()) return std::nullopt;
  double sum = 0;
  for (const auto& one : left) {
    if (!one) return std::nullopt;
    sum += *one;
  }
  return sum;
}

const Lot* RecipeStock::lot_for(double wanted) const {
  const Lot* best = nullptr;
  double most = -1;
  for (std::size_t i = 0; i < lots.size(); ++i) {
    const double here = left[i].value_or(0);
    if (here >= wanted && here > 0) return &lots[i];
    if (here > most) {
      most = here;
      best = &lots[i];
    }
  }
  return best;
}

Result<std::vector<RecipeStock>> recipe_stock(const Book& book, const Id& recipe, Date on) {
  TRY_ASSIGN(const std::vector<RecipeLine>& lines, recipe_lines(book, recipe));
  TRY_ASSIGN(std::vector<Lot> all, lots(book));
  sort_list(all, [](const Lot& a, const Lot& b) { return a.received < b.received; });
  std::vector<RecipeStock> stocks;
  for (const RecipeLine& line : lines) {
    RecipeStock stock;
    stock.line = line;
    if (auto material = read_material(book, line.material)) stock.material = std::move(*material);
    stock.material.id = line.material;
    read_amounts(stock);
    TRY(read_lots(book, all, on, stock));
    stocks.push_back(std::move(stock));
  }
  return stocks;
}

Result<AmountRange> scaled_line(const BrewRecipe& recipe, const RecipeStock& line, Volume fill) {
  if (!line.unit) return refuse(Trouble::BadInput, "recipe.amount"_w, {}, "amount");
  if (!line.table.empty()) return scaled_by_table(line.table, fill);
  TRY_ASSIGN(const double factor, scale_factor(recipe.reference.value_or(Volume{}), fill));
  return scaled_in_proportion(line.amount, factor);
}

}  // namespace steep
