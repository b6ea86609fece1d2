/// Loads with what was sprayed from them: what stayed in the tank from the one before, what each bed got.
#include "book/rows.h"
#include "book/tank_rest.h"
#include "book/work.h"

namespace steep {
namespace {

/// `rest`: what was in the tank before it, unless somebody wrote between two loads of a pass that the tank was cleaned.
void carry_over(const std::optional<Mix>& rest, bool is_first, LoadSheet& next) {
  if (!rest || (!is_first && next.load.before_cleaned.value_or(false))) return;
  next.stayed_tea = rest->tea;
  next.stayed_water = rest->water;
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

/// `rest`: in the tank when the first was filled.
Result<std::vector<LoadBalance>> balances_after(const Book& book, const Pass& pass, std::optional<Mix> rest,
                                                const Id& only) {
  TRY_ASSIGN(std::vector<Load> all, loads(book, pass.id));
  std::vector<LoadBalance> balances;
  for (Load& load : all) {
    LoadSheet sheet;
    sheet.load = std::move(load);
    TRY(add_poured(book, sheet));
    carry_over(rest, &load == &all.front(), sheet);
    const bool wanted = only.is_nil() || only == sheet.load.id;
    std::vector<DoseShare> parts;
    if (wanted) {
      TRY_ASSIGN(parts, measured_parts(book, sheet.load.id));
    }
    sheet.shares = share_load(volumes_of(pass, sheet), parts);
    rest = sheet.rest();
    if (wanted) balances.push_back({sheet.load, sheet.shares.overdrawn || poured_too_much(sheet, parts), rest});
  }
  return balances;
}

/// What was in the tank when the first load of the pass was filled.
Result<std::optional<Mix>> rest_before(const Book& book, const Pass& pass) {
  std::optional<Mix> rest;
  TRY_ASSIGN(const std::vector<Id>& measured, passes_measured_into(book, pass.id));
  for (auto id = measured.rbegin(); *id != pass.id; ++id) {
    TRY_ASSIGN(const Pass& before, read_pass(book, *id));
    TRY_ASSIGN(const std::vector<LoadBalance>& balances, balances_after(book, before, rest, {}));
    rest = balances.empty() ? std::nullopt : balances.back().rest;
  }
  return rest;
}

}  // namespace

std::optional<Mix> LoadSheet::rest() const {
  if (!load.is_closed() || !load.left) return std::nullopt;
  const Volume stays = std::max(Volume{}, *load.left - discarded);
  const Volume tea = stays * shares.tea_fraction.value_or(0);
  return Mix{tea, stays - tea};
}

Result<std::vector<LoadSheet>> load_sheets(const Book& book, const Pass& pass) {
  TRY_ASSIGN(std::vector<Load> all, loads(book, pass.id));
  TRY_ASSIGN(std::optional<Mix> rest, rest_before(book, pass));
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
    carry_over(rest, sheets.empty(), sheet);
    std::vector<DoseShare> parts;
    for (const Dose& dose : doses) {
      if (dose.load != sheet.load.id) continue;
      const auto width = width_for(pass, dose, swath);
      parts.push_back({width ? dose.stretch().length() * *width : Area{}, dose.volume.maybe(), dose.is_skipped()});
      sheet.doses.push_back(dose);
    }
    sheet.shares = share_load(volumes_of(pass, sheet), parts);
    sheet.volumes = sheet.shares.doses;
    rest = sheet.rest();
    sheets.push_back(std::move(sheet));
  }
  return sheets;
}

Result<std::vector<LoadBalance>> load_balances(const Book& book, const Pass& pass, const Id& only) {
  TRY_ASSIGN(const std::optional<Mix>& rest, rest_before(book, pass));
  return balances_after(book, pass, rest, only);
}

}  // namespace steep
