#include "book/bare_number.h"

#include "book/limit_kinds.h"
#include "book/saves.h"
#include "quantity/unit.h"

namespace steep {

Result<FieldValue> with_its_unit(FieldValue number, std::string_view which, const Habits& habits) {
  const LimitKind* limit = find_limit_kind(which);
  if (number.type != FieldType::Number || !limit) return number;
  const Unit& own = unit(limit->unit);
  const Dimension dimension = own.dimension;
  // 36 h or 36 min, 8 mph or 8 km/h: a farm would be warned by the wrong one. Days and hours of the day have no rival.
  const bool rivals =
      dimension == Dimension::Time || dimension == Dimension::Speed || dimension == Dimension::Temperature;
  const bool sure = !rivals || limit->unit == "day" || which.starts_with("hour-");
  // The journal's number has a point, whatever mark the person writes.
  const auto read =
      read_quantity(number.text, dimension, Habits(DecimalMark::Point, habits.gallons), sure ? &own : nullptr);
  if (read) return quantity_value(number.key, read->text);
  Problem problem = read.error();
  problem.place = number.key;
  return tl::unexpected<Problem>(std::move(problem));
}

}  // namespace steep
