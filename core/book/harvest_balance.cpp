#include "book/harvest_balance.h"

#include "book/rows.h"
#include "book/spelled.h"

namespace steep {
namespace {

/// nullopt: of another kind. 12 heads and 12 boxes are both counts, and of two kinds.
std::optional<double> in_unit_of(const Written& amount, const Unit& unit) {
  if (amount.dimension() != unit.dimension) return std::nullopt;
  if (unit.dimension == Dimension::Count && amount.unit != &unit) return std::nullopt;
  return amount_in(si(amount).to_double(), unit);
}

}  // namespace

Result<HarvestBalance> read_harvest_balance(const Book& book, const Id& harvest) {
  HarvestBalance balance;
  Rows rows(book, "harvest", "WHERE uid = ?");
  rows.query().bind(1, harvest);
  if (rows.next()) {
    balance.code = rows.text("code");
    balance.picked_at = rows.instant("at");
    balance.picked = rows.written("amount");
  }
  TRY(rows.done());
  if (!balance.picked) return balance;
  const Unit& unit = *balance.picked->unit;
  double left = amount_in(si(*balance.picked).to_double(), unit);
  Rows sales(book, "sale", "WHERE struck IS NULL AND harvest = ?");
  sales.query().bind(1, harvest);
  while (sales.next())
    if (const Taken<Written> amount = sales.written("amount")) left -= in_unit_of(*amount, unit).value_or(0);
  TRY(sales.done());
  balance.left = left;
  return balance;
}

bool is_before_picking(Moment sold, Moment picked) { return sold.ms < picked.ms / kMinute * kMinute; }

Result<std::vector<Caution>> sale_cautions(const Book& book, const Id& harvest, const std::optional<Written>& amount,
                                           const std::optional<Moment>& at, const std::optional<Written>& counted) {
  std::vector<Caution> cautions;
  TRY_ASSIGN(HarvestBalance balance, read_harvest_balance(book, harvest));
  if (amount && balance.left) {
    const Unit& unit = *balance.picked->unit;
    if (counted) *balance.left += in_unit_of(*counted, unit).value_or(0);
    const auto sold = in_unit_of(*amount, unit);
    if (sold && *sold > *balance.left + 1e-9)
      cautions.push_back({"check.lot-overdrawn"_w,
                          {balance.code, amount_value_text(*amount),
                           amount_value_text(write_quantity(std::max(0.0, *balance.left), unit))},
                          "amount",
                          harvest});
  }
  if (at && balance.picked_at && is_before_picking(*at, balance.picked_at->at))
    cautions.push_back(
        {"check.sold-before-picked"_w, {balance.code, moment_value_text(balance.picked_at->at)}, "at", harvest});
  return cautions;
}

}  // namespace steep
