#include "book/work_typed.h"

#include "base/text.h"
#include "book/enter.h"

namespace steep {
namespace {

bool is_day_or_time(const InputSpec& spec) {
  return spec.kind == InputKind::Date || spec.kind == InputKind::LocalTime || spec.kind == InputKind::Clock;
}

/// Whose clock is meant.
struct Clocks {
  const Zone& typed;       ///< Of 'today', and of times without a zone.
  const Zone& calculated;  ///< On which a time that names its difference from world time is put.
};

/// '2026-05-14', '2026-05-14 18:04' or '18:04'. Trouble: `first` where it is no better understood.
Result<std::string> normal_time(const InputSpec& spec, std::string_view typed, const Clocks& clocks, Moment now,
                                Problem first) {
  const Zone& zone = clocks.typed;
  if (spec.kind == InputKind::Date) {
    TRY_ASSIGN(const Date day, read_date(typed, zone.local(now).date));
    return date_text(day);
  }
  const auto stamp = read_time(typed, zone, zone.stamp(now));
  if (!stamp) return tl::unexpected<Problem>(stamp.error().kind == Trouble::Ask ? stamp.error() : std::move(first));
  const bool one_moment = names_offset(typed);
  // A clock alone comes every day; on which day the difference holds, nobody said.
  if (one_moment && spec.kind == InputKind::Clock) return tl::unexpected<Problem>(std::move(first));
  const Stamp local = (one_moment ? clocks.calculated : zone).stamp(stamp->at);
  const std::string text = stamp_text(local);
  if (spec.kind == InputKind::Clock) return text.substr(11, 5);
  return text.substr(0, 10) + " " + text.substr(11, 5) + (one_moment ? " " + offset_text(local.offset_minutes) : "");
}

Result<Value> read_on(const InputSpec& spec, std::string_view typed, const Habits& habits, const Unit* unit_if_bare,
                      const Clocks& clocks, Moment now) {
  auto value = read_value(spec, typed, habits, unit_if_bare);
  if (value || !is_day_or_time(spec)) return value;
  TRY_ASSIGN(const std::string& normal, normal_time(spec, typed, clocks, now, std::move(value.error())));
  return read_value(spec, normal, {});
}

/// A cell, or all cells of a row.
Result<std::string> normal_cells(const InputSpec& spec, const std::string& typed, const Habits& habits,
                                 const Clocks& clocks, Moment now) {
  if (is_day_or_time(spec) && !trim(typed).empty()) {
    TRY_ASSIGN(const Value& value, read_on(spec, typed, habits, nullptr, clocks, now));
    return value.text;
  }
  if (spec.kind != InputKind::Row) return typed;
  std::vector<std::string> cells;
  for (const std::string_view cell : split(typed, ';')) {
    const std::size_t column = cells.size();
    if (column >= spec.columns.size()) return typed;
    TRY_ASSIGN(std::string normal, normal_cells(spec.columns[column], std::string(cell), habits, clocks, now));
    cells.push_back(std::move(normal));
  }
  return join(cells, ";");
}

}  // namespace

Result<Value> read_as_typed(const InputSpec& spec, std::string_view typed, const Habits& habits,
                            const Unit* unit_if_bare, const Zone& zone, Moment now) {
  return read_on(spec, typed, habits, unit_if_bare, {zone, zone}, now);
}

namespace {

/// The zone in which the calculation counts, where it names one.
std::optional<Zone> zone_of(const Calculation& calculation, std::span<const Typed> typed) {
  std::string_view name;
  for (const InputSpec& spec : calculation.inputs)
    if (spec.name == "zone") name = spec.standard;
  for (const Typed& one : typed)
    if (one.name == "zone") name = one.text;
  const auto zone = Zone::from_name(name);
  return zone ? std::optional(*zone) : std::nullopt;
}

}  // namespace

Result<std::vector<Typed>> in_normal_form(const Calculation& calculation, std::vector<Typed> typed,
                                          const Habits& habits, const Zone& zone, Moment now) {
  const std::optional<Zone> own = zone_of(calculation, typed);
  const Clocks clocks{zone, own ? *own : zone};
  for (Typed& one : typed)
    for (const InputSpec& spec : calculation.inputs) {
      if (spec.name != one.name) continue;
      TRY_ASSIGN(one.text, normal_cells(spec, one.text, habits, clocks, now));
    }
  return typed;
}

}  // namespace steep
