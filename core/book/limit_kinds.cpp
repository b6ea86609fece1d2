#include "book/limit_kinds.h"

#include "base/text.h"
#include "book/spelled.h"
#include "quantity/unit.h"

namespace steep {
namespace {

// Ranges leave room for whatever a farm may mean and keep slips out: a brew of two weeks, a storm, a pile's heat.
constexpr LimitKind kLimits[] = {
    {"oxygen", LimitUse::Brew, "mg/L", true, 0, 20, {}},
    {"brew-age", LimitUse::Brew, "h", true, 0, 14 * 24, {}},
    {"air-off", LimitUse::Brew, "h", true, 0, 14 * 24, {}},
    {"reserve", LimitUse::Plan, "%", true, 0, 100, "5 %"},
    {"air-target", LimitUse::Plan, "L/min/gal", true, 0, 20, "1 L/min/gal"},
    {"load-time", LimitUse::Plan, "min", true, 1, 24 * 60, "45 min"},
    {"loading-time", LimitUse::Plan, "min", true, 0, 24 * 60, "30 min"},
    {"water-stand", LimitUse::Plan, "h", true, 0, 14 * 24, "24 h"},
    {"water-aerate", LimitUse::Plan, "h", true, 0, 14 * 24, "12 h"},
    {"calibration-age", LimitUse::Field, "day", true, 0, 3660, {}},
    {"wind-low", LimitUse::Field, "m/s", true, 0, 15, {}},
    {"wind-high", LimitUse::Field, "m/s", true, 0, 15, {}},
    {"temperature-low", LimitUse::Field, "degC", false, -10, 60, {}},
    {"temperature-high", LimitUse::Field, "degC", false, -10, 60, {}},
    {"hour-from", LimitUse::Field, "h", true, 0, 24, {}},
    {"hour-to", LimitUse::Field, "h", true, 0, 24, {}},
};

constexpr double kRounding = 1e-9;

/// The units in which people write such a value.
std::string_view units_written_in(const LimitKind& kind) {
  switch (unit(kind.unit).dimension) {
    case Dimension::Speed: return "mph, km/h, m/s";
    case Dimension::Temperature: return "°F, °C";
    case Dimension::Time: return kind.unit == "day" ? kind.unit : "h, min";
    default: return kind.unit;
  }
}

Result<void> wrong_unit(const LimitKind& kind, std::string value) {
  return refuse(Trouble::BadInput, "limit.unit"_w,
                {word_value_text("limit-name", kind.which), std::move(value), std::string(units_written_in(kind))},
                "limit.value");
}

Result<void> check_range(const LimitKind& kind, double amount) {
  if (amount >= kind.least - kRounding && amount <= kind.most + kRounding) return {};
  const auto shown = [&](double end) { return amount_value_text(write_quantity(end, unit(kind.unit), 0)); };
  return refuse(Trouble::OutOfRange, "limit.range"_w,
                {word_value_text("limit-name", kind.which), shown(kind.least), shown(kind.most)}, "limit.value");
}

}  // namespace

std::span<const LimitKind> limit_kinds() { return kLimits; }

const LimitKind* find_limit_kind(std::string_view which) {
  for (const LimitKind& kind : kLimits)
    if (kind.which == which) return &kind;
  return nullptr;
}

Result<void> check_limit(std::string_view which, const Written& value) {
  const LimitKind* kind = find_limit_kind(which);
  if (!kind) return {};
  if (value.dimension() == Dimension::Number) return check_limit(which, value.amount.to_double());
  if (value.dimension() != unit(kind->unit).dimension) return wrong_unit(*kind, value.text);
  return check_range(*kind, amount_in(si(value).to_double(), unit(kind->unit)));
}

Result<void> check_limit(std::string_view which, double bare) {
  const LimitKind* kind = find_limit_kind(which);
  if (!kind) return {};
  if (!kind->bare) return wrong_unit(*kind, decimal(bare, 6));
  return check_range(*kind, bare);
}

std::optional<Written> limit_written(const FarmLimit& limit) {
  const LimitKind* kind = find_limit_kind(limit.which);
  if (!limit.value || !kind) return std::nullopt;
  const Unit& own = unit(kind->unit);
  if (auto written = parse_written(limit.typed))
    return written->dimension() == own.dimension ? std::optional(*written) : std::nullopt;
  return kind->bare ? std::optional(write_quantity(*limit.value, own)) : std::nullopt;
}

std::optional<double> limit_si(std::span<const FarmLimit> limits, std::string_view which) {
  for (const FarmLimit& limit : limits) {
    if (limit.which != which) continue;
    if (const auto written = limit_written(limit)) return si(*written).to_double();
  }
  return std::nullopt;
}

}  // namespace steep
