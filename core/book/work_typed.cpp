#include "book/work_typed.h"

#include "base/text.h"
#include "book/enter.h"

namespace steep {
namespace {

bool is_day_or_time(const InputSpec& spec) {
  return spec.kind == InputKind::Date || spec.kind == InputKind::LocalTime || spec.kind == InputKind::Clock;
}

/// '2026-05-14', '2026-05-14 18:04' or '18:04'. Trouble: `first` where it is no better understood.
Result<std::string> normal_time(const InputSpec& spec, std::string_view typed, const Zone& zone, Moment now,
                                Problem first) {
  if (spec.kind == InputKind::Date) {
    TRY_ASSIGN(const Date day, read_date(typed, zone.local(now).date));
    return date_text(day);
  }
  const auto stamp = read_time(typed, zone, zone.stamp(now));
  if (!stamp) return tl::unexpected<Problem>(stamp.error().kind == Trouble::Ask ? stamp.error() : std::move(first));
  const std::string text = stamp_text(zone.stamp(stamp->at));
  return spec.kind == InputKind::Clock ? text.substr(11, 5) : text.substr(0, 10) + " " + text.substr(11, 5);
}

/// A cell, or all cells of a row.
Result<std::string> normal_cells(const InputSpec& spec, const std::string& typed, const Habits& habits,
                                 const Zone& zone, Moment now) {
  if (is_day_or_time(spec) && !trim(typed).empty()) {
    TRY_ASSIGN(const Value& value, read_as_typed(spec, typed, habits, nullptr, zone, now));
    return value.text;
  }
  if (spec.kind != InputKind::Row) return typed;
  std::vector<std::string> cells;
  for (const std::string_view cell : split(typed, ';')) {
    const std::size_t column = cells.size();
    if (column >= spec.columns.size()) return typed;
    TRY_ASSIGN(std::string normal, normal_cells(spec.columns[column], std::string(cell), habits, zone, now));
    cells.push_back(std::move(normal));
  }
  return join(cells, ";");
}

}  // namespace

Result<Value> read_as_typed(const InputSpec& spec, std::string_view typed, const Habits& habits,
                            const Unit* unit_if_bare, const Zone& zone, Moment now) {
  auto value = read_value(spec, typed, habits, unit_if_bare);
  if (value || !is_day_or_time(spec)) return value;
  TRY_ASSIGN(const std::string& normal, normal_time(spec, typed, zone, now, std::move(value.error())));
  return read_value(spec, normal, {});
}

Result<std::vector<Typed>> in_normal_form(const Calculation& calculation, std::vector<Typed> typed,
                                          const Habits& habits, const Zone& zone, Moment now) {
  for (Typed& one : typed)
    for (const InputSpec& spec : calculation.inputs) {
      if (spec.name != one.name) continue;
      TRY_ASSIGN(one.text, normal_cells(spec, one.text, habits, zone, now));
    }
  return typed;
}

}  // namespace steep
