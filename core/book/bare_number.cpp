#include "book/bare_number.h"

#include "book/limit_kinds.h"
#include "book/saves.h"
#include "quantity/unit.h"

namespace steep {
namespace {

/// What a value is counted in; `sure` = a number alone says enough.
struct Counted {
  std::string_view what, unit;
  bool sure;
};

constexpr Counted kReadings[] = {{"temperature", "degF", false}, {"oxygen", "mg/L", true}, {"ec", "mS/cm", false},
                                 {"moisture", "%", true},        {"wind", "mph", false},   {"humidity", "%", true}};

std::optional<Counted> counted(std::string_view kind, std::string_view what) {
  if (kind == "reading")
    for (const Counted& one : kReadings)
      if (one.what == what) return one;
  const LimitKind* limit = kind == "limit" ? find_limit_kind(what) : nullptr;
  if (!limit) return std::nullopt;
  const Dimension dimension = unit(limit->unit).dimension;
  // 36 h or 36 min, 8 mph or 8 km/h: a farm would be warned by the wrong one. Days and hours of the day have no rival.
  const bool rivals =
      dimension == Dimension::Time || dimension == Dimension::Speed || dimension == Dimension::Temperature;
  return Counted{what, limit->unit, !rivals || limit->unit == "day" || what.starts_with("hour-")};
}

}  // namespace

Result<FieldValue> with_its_unit(FieldValue number, std::string_view kind, std::string_view what,
                                 const Habits& habits) {
  const auto in = counted(kind, what);
  if (number.type != FieldType::Number || !in) return number;
  const Unit& own = unit(in->unit);
  // The journal's number has a point, whatever mark the person writes.
  const auto read =
      read_quantity(number.text, own.dimension, Habits(DecimalMark::Point, habits.gallons), in->sure ? &own : nullptr);
  if (read) return quantity_value(number.key, read->text);
  Problem problem = read.error();
  problem.place = number.key;
  return tl::unexpected<Problem>(std::move(problem));
}

}  // namespace steep
