#include "trade/due.h"

#include <algorithm>

namespace steep {
namespace {

/// Sorts out the day on which `piece` is due.
DueStretch due_stretch(const Piece& piece, std::span<const TeaDose> doses, int days, Date today, const Zone& zone) {
  DueStretch result{piece.stretch, std::nullopt, std::nullopt, 0, 0};
  for (const std::size_t d : piece.covered_by)
    if (!result.last || doses[d].finish > *result.last) result.last = doses[d].finish;
  if (!result.last) return result;
  result.next = zone.local(*result.last).date + days;
  result.days_left = static_cast<int>(day_number(*result.next) - day_number(today));
  result.share_left = std::clamp(static_cast<double>(result.days_left) / days, 0.0, 1.0);
  return result;
}

}  // namespace

std::optional<Interval> interval_in_force(std::span<const Interval> all, bool on_soil) {
  std::optional<Interval> narrowest;
  for (const Interval& one : all) {
    if (one.on_soil != on_soil || one.days < 1) continue;
    if (!narrowest || one.place > narrowest->place || (one.place == narrowest->place && one.days < narrowest->days))
      narrowest = one;
  }
  return narrowest;
}

bool Due::any_due() const {
  return std::any_of(stretches.begin(), stretches.end(), [](const DueStretch& s) { return s.is_due(); });
}

bool Due::all_due() const {
  return std::all_of(stretches.begin(), stretches.end(), [](const DueStretch& s) { return s.is_due(); });
}

std::optional<Due> due(Stretch whole, std::span<const Interval> intervals, bool on_soil, std::span<const TeaDose> doses,
                       Date today, const Zone& zone) {
  const auto interval = interval_in_force(intervals, on_soil);
  if (!interval) return std::nullopt;
  std::vector<TeaDose> counted;
  std::vector<Stretch> parts;
  for (const TeaDose& dose : doses) {
    if (is_on_soil(dose.aim) != on_soil) continue;
    counted.push_back(dose);
    parts.push_back(dose.stretch);
  }
  Due result{*interval, {}};
  for (const Piece& piece : cut_into_pieces(whole, parts)) {
    const DueStretch next = due_stretch(piece, counted, interval->days, today, zone);
    // Two passes of one day (a bed done in two parts) leave no cut line.
    if (!result.stretches.empty() && result.stretches.back().next == next.next) {
      DueStretch& before = result.stretches.back();
      before.stretch.to = next.stretch.to;
      before.last = std::max(before.last, next.last);
    } else {
      result.stretches.push_back(next);
    }
  }
  if (result.stretches.empty()) return std::nullopt;
  return result;
}

}  // namespace steep
