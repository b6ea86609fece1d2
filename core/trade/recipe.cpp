#include "trade/recipe.h"

#include <cmath>

#include "base/sorting.h"

namespace steep {
namespace {

bool is_positive(double x) { return std::isfinite(x) && x > 0; }
bool is_range(AmountRange r) { return std::isfinite(r.high) && r.low >= 0 && r.low <= r.high; }

}  // namespace

Result<Volume> working_volume(Volume nominal, Volume headroom) {
  if (!is_positive(nominal.si())) return refuse(Trouble::BadInput, "recipe.volume"_w, {}, "vessel");
  if (!(headroom.si() >= 0) || headroom >= nominal)
    return refuse(Trouble::BadInput, "recipe.headroom"_w, {}, "headroom");
  return nominal - headroom;
}

Result<double> scale_factor(Volume reference, Volume fill) {
  if (!is_positive(reference.si())) return refuse(Trouble::BadInput, "recipe.volume"_w, {}, "reference");
  if (!is_positive(fill.si())) return refuse(Trouble::BadInput, "recipe.volume"_w, {}, "fill");
  return fill / reference;
}

Result<AmountRange> scaled_in_proportion(AmountRange reference, double factor) {
  if (!is_range(reference)) return refuse(Trouble::BadInput, "recipe.amount"_w, {}, "amount");
  if (!is_positive(factor)) return refuse(Trouble::BadInput, "recipe.volume"_w, {}, "fill");
  return AmountRange{reference.low * factor, reference.high * factor};
}

Result<AmountRange> scaled_by_table(std::span<const ScalingRow> table, Volume fill) {
  std::vector<ScalingRow> rows(table.begin(), table.end());
  sort_list(rows, [](const ScalingRow& a, const ScalingRow& b) { return a.fill < b.fill; });
  if (rows.size() < 2) return refuse(Trouble::BadInput, "recipe.table"_w, {}, "table");
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (!is_range(rows[i].amount) || !is_positive(rows[i].fill.si()) || (i > 0 && rows[i].fill == rows[i - 1].fill))
      return refuse(Trouble::BadInput, "recipe.table"_w, {}, "table");
  if (!(fill >= rows.front().fill && fill <= rows.back().fill))
    return refuse(Trouble::OutOfRange, "recipe.outside-table"_w, {}, "fill");
  std::size_t above = 1;
  while (above + 1 < rows.size() && rows[above].fill < fill) ++above;
  const ScalingRow &low = rows[above - 1], &high = rows[above];
  const double t = (fill - low.fill) / (high.fill - low.fill);
  return AmountRange{std::lerp(low.amount.low, high.amount.low, t), std::lerp(low.amount.high, high.amount.high, t)};
}

UseCheck compare_use(double used, AmountRange scaled, double tolerance) {
  if (used > scaled.high * (1 + tolerance)) return UseCheck::Above;
  if (used < scaled.low * (1 - tolerance)) return UseCheck::Below;
  return UseCheck::Within;
}

}  // namespace steep
