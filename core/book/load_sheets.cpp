/// Loads with what was sprayed from them: what stayed in the tank from the one before, what each bed got.
#include "book/rows.h"
#include "book/work.h"

namespace steep {
namespace {

/// What of the load before stays in the tank: its 'left', less what was poured out.
void carry_over(const LoadSheet& before, LoadSheet& next) {
  if (!before.load.is_closed() || !before.load.left) return;
  Volume stayed = *before.load.left - before.discarded;
  if (stayed.si() <= 0) return;
  const double part = before.shares.tea_fraction.value_or(0);
  next.stayed_tea = stayed * part;
  next.stayed_water = stayed - next.stayed_tea;
}

Result<void> add_poured(const Book& book, LoadSheet& sheet) {
  TRY_ASSIGN(const std::vector<Discard>& poured, discards(book, sheet.load.id));
  for (const Discard& discard : poured) sheet.discarded += discard.volume.value_or(Volume{});
  return {};
}

/// Its own, and what stayed in the tank.
LoadVolumes volumes_of(const Pass& pass, const LoadSheet& sheet) {
  LoadVolumes volumes;
  if (sheet.load.tea || sheet.load.brew.is_nil()) volumes.tea = sheet.load.tea.value_or(Volume{}) + sheet.stayed_tea;
  if (sheet.load.water) volumes.water = *sheet.load.water + sheet.stayed_water;
  volumes.closed = sheet.load.is_closed();
  volumes.left = sheet.load.left.maybe();
  volumes.spray_rate = pass.spray_rate.maybe();
  volumes.tea_rate = pass.tea_rate.maybe();
  return volumes;
}

/// What of a load was measured bed by bed.
Result<std::vector<DoseShare>> measured_parts(const Book& book, const Id& load) {
  std::vector<DoseShare> parts;
  Query query = book.db().query(
      "SELECT what_volume_si FROM k_dose WHERE what_load = ? AND struck IS NULL AND what_how IS NOT 'skipped' AND "
      "what_volume_si IS NOT NULL");
  query.bind(1, load);
  while (query.next()) parts.push_back({Area{}, Volume::from_si(query.real(0)), false});
  TRY(query.done());
  return parts;
}

/// What was measured and what was poured out are more than it held, by over 1 mL.
bool poured_too_much(const LoadSheet& sheet, const std::vector<DoseShare>& measured) {
  if (!sheet.shares.held || sheet.discarded.si() <= 0) return false;
  Volume out = sheet.discarded;
  for (const DoseShare& part : measured) out += part.measured.value_or(Volume{});
  return out.liters() > sheet.shares.held->liters() + 0.001;
}

std::optional<Length> width_for(const Pass& pass, const Dose& dose, std::optional<Length> swath) {
  if (pass.rate_area == RateArea::Swath && swath) return swath;
  return dose.width.maybe();
}

}  // namespace

Result<std::vector<LoadSheet>> load_sheets(const Book& book, const Pass& pass) {
  TRY_ASSIGN(std::vector<Load> all, loads(book, pass.id));
  TRY_ASSIGN(const std::vector<Dose>& doses, doses_of_pass(book, pass.id));
  std::optional<Length> swath;
  if (pass.rate_area == RateArea::Swath) {
    Query query = book.db().query(
        "SELECT COALESCE((SELECT result_swath_si FROM k_calibration WHERE uid = ?), (SELECT swath_si FROM k_rig WHERE "
        "uid = ?))");
    query.bind(1, pass.calibration).bind(2, pass.rig);
    if (query.next())
      if (const auto value = query.maybe_real(0)) swath = Length::from_si(*value);
    TRY(query.done());
  }
  std::vector<LoadSheet> sheets;
  for (Load& load : all) {
    LoadSheet sheet;
    sheet.load = std::move(load);
    TRY_ASSIGN(sheet.lines, load_lines(book, sheet.load.id));
    TRY(add_poured(book, sheet));
    if (!sheets.empty()) carry_over(sheets.back(), sheet);
    std::vector<DoseShare> parts;
    for (const Dose& dose : doses) {
      if (dose.load != sheet.load.id) continue;
      const auto width = width_for(pass, dose, swath);
      parts.push_back({width ? dose.stretch().length() * *width : Area{}, dose.volume.maybe(), dose.is_skipped()});
      sheet.doses.push_back(dose);
    }
    sheet.shares = share_load(volumes_of(pass, sheet), parts);
    sheet.volumes = sheet.shares.doses;
    sheets.push_back(std::move(sheet));
  }
  return sheets;
}

Result<std::vector<LoadBalance>> load_balances(const Book& book, const Pass& pass, const Id& only) {
  TRY_ASSIGN(std::vector<Load> all, loads(book, pass.id));
  std::vector<LoadBalance> balances;
  LoadSheet before;
  for (Load& load : all) {
    LoadSheet sheet;
    sheet.load = std::move(load);
    TRY(add_poured(book, sheet));
    carry_over(before, sheet);
    const bool wanted = only.is_nil() || only == sheet.load.id;
    std::vector<DoseShare> parts;
    if (wanted) {
      TRY_ASSIGN(parts, measured_parts(book, sheet.load.id));
    }
    sheet.shares = share_load(volumes_of(pass, sheet), parts);
    if (wanted) balances.push_back({sheet.load, sheet.shares.overdrawn || poured_too_much(sheet, parts)});
    before = std::move(sheet);
  }
  return balances;
}

}  // namespace steep
