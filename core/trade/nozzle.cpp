#include "trade/nozzle.h"

#include <cmath>

namespace steep {
namespace {

bool is_usable(double si) { return std::isfinite(si) && si > 0; }
constexpr Flow per_minute(double liters) { return Flow::from_liters_per_minute(liters); }

// ISO 10625: nominal flow at 3 bar. Rows as in the standard's table, smallest first.
constexpr IsoNozzle kNozzles[] = {
    {"01", "orange", per_minute(0.4)},     {"015", "green", per_minute(0.6)},      {"02", "yellow", per_minute(0.8)},
    {"025", "lilac", per_minute(1.0)},     {"03", "blue", per_minute(1.2)},        {"04", "red", per_minute(1.6)},
    {"05", "brown", per_minute(2.0)},      {"06", "gray", per_minute(2.4)},        {"08", "white", per_minute(3.2)},
    {"10", "light-blue", per_minute(4.0)}, {"15", "light-green", per_minute(6.0)}, {"20", "black", per_minute(8.0)},
};

}  // namespace

Result<Flow> flow_at_pressure(Flow known, Pressure at, Pressure wanted) {
  if (!is_usable(known.si())) return refuse(Trouble::OutOfRange, "nozzle.flow"_w, {}, "flow");
  if (!is_usable(at.si()) || !is_usable(wanted.si()))
    return refuse(Trouble::OutOfRange, "nozzle.pressure"_w, {}, "pressure");
  return known * std::sqrt(wanted / at);
}

Result<Pressure> pressure_for_flow(Flow known, Pressure at, Flow wanted) {
  if (!is_usable(known.si()) || !is_usable(wanted.si()))
    return refuse(Trouble::OutOfRange, "nozzle.flow"_w, {}, "flow");
  if (!is_usable(at.si())) return refuse(Trouble::OutOfRange, "nozzle.pressure"_w, {}, "pressure");
  const double ratio = wanted / known;
  return at * (ratio * ratio);
}

std::span<const IsoNozzle> iso_nozzles() { return kNozzles; }

const IsoNozzle* find_iso_nozzle(std::string_view size) {
  for (const IsoNozzle& nozzle : kNozzles) {
    const bool leading_zero = nozzle.size.front() == '0';
    if (nozzle.size == size || (leading_zero && nozzle.size.substr(1) == size && size.size() == 1)) return &nozzle;
  }
  return nullptr;
}

const IsoNozzle* nearest_iso_nozzle(Flow flow, Pressure at) {
  const auto at_3_bar = flow_at_pressure(flow, at, Pressure::from_bar(3));
  if (!at_3_bar) return nullptr;
  const IsoNozzle* nearest = nullptr;
  double least = 0.12;
  for (const IsoNozzle& nozzle : kNozzles) {
    const double off = std::abs(*at_3_bar / nozzle.nominal - 1);
    if (off < least) {
      least = off;
      nearest = &nozzle;
    }
  }
  return nearest;
}

Result<NozzleCheck> check_nozzle(Flow measured, Flow fresh, double worn, double clogged) {
  if (!is_usable(measured.si()) || !is_usable(fresh.si()))
    return refuse(Trouble::OutOfRange, "nozzle.flow"_w, {}, "flow");
  NozzleCheck check;
  check.change = measured / fresh - 1;
  constexpr double kRounding = 1e-12;  // Exactly 10 % over counts as 10 % over.
  if (check.change >= worn - kRounding) check.state = NozzleState::Worn;
  if (check.change <= -clogged + kRounding) check.state = NozzleState::Clogged;
  return check;
}

}  // namespace steep
