// The load in the tank closed, the next one opened.
#include <algorithm>

#include "book/checks.h"
#include "book/entry.h"
#include "book/pass_commands.h"
#include "book/pass_doses.h"
#include "book/pass_parts.h"
#include "book/spelled.h"

namespace steep {
namespace {

Mix mix_of(Volume spray, double tea_fraction) {
  const Volume tea = spray * tea_fraction;
  return {tea, spray - tea};
}

/// Part of tea for the next load: by the rates, else as in the load before.
std::optional<double> next_tea_fraction(const PassState& state) {
  if (state.pass.tea_rate && state.pass.spray_rate && state.pass.spray_rate->si() > 0)
    return *state.pass.tea_rate / *state.pass.spray_rate;
  return state.tank.tea_fraction;
}

void plan_next(RefillSheet& sheet, std::optional<Volume> tank_volume, const std::vector<Stretch>& now_treated) {
  const PassState& state = sheet.state;
  const auto fraction = next_tea_fraction(state);
  double needed = 0;
  bool known = true;
  std::vector<std::pair<std::size_t, double>> beds;
  const std::size_t first = state.in_hand.value_or(0);
  for (std::size_t step = 0; step < state.beds.size(); ++step) {
    const std::size_t i = (first + step) % state.beds.size();
    const PassBed& bed = state.beds[i];
    if (bed.open.empty()) continue;
    known = known && bed.spray.has_value();
    double spray = bed.spray.value_or(Volume{}).si();
    if (state.in_hand == i) spray -= spray_on(bed, now_treated).value_or(Volume{}).si();
    if (spray <= 0 && bed.spray) continue;
    beds.emplace_back(i, spray);
    needed += spray;
  }
  const Volume dead = state.tank.dead, left = sheet.left;
  if (tank_volume && fraction) sheet.full = mix_of(std::max(Volume{}, *tank_volume - left), *fraction);
  if (known && fraction && !beds.empty()) {
    Volume add = std::max(Volume{}, Volume::from_si(needed) + dead - left);
    if (tank_volume) add = std::min(add, std::max(Volume{}, *tank_volume - left));
    sheet.next = mix_of(add, *fraction);
  } else if (state.tank.tea && state.tank.water) {
    sheet.next = Mix{*state.tank.tea, *state.tank.water};
  } else {
    sheet.next = sheet.full;
  }
  if (!sheet.next) return;
  sheet.in_tank = sheet.next->spray() + left;
  sheet.can_spray = std::max(Volume{}, *sheet.in_tank - dead);
  double rest = sheet.can_spray->si();
  for (const auto& [i, spray] : beds) {
    if (rest <= 1e-9) break;
    sheet.covers.push_back(i);
    rest -= spray;
  }
}

/// Refilled about where the rate says that it runs dry, it is dry: what the pump cannot reach is left. Refilled well
/// before that, what the rate says.
void propose_left(RefillSheet& sheet, const PassBed* hand, const std::vector<Stretch>& treated, bool dry) {
  const TankState& tank = sheet.state.tank;
  sheet.left = std::min(tank.dead, tank.in_full.value_or(tank.dead));
  const auto by_rate = left_by_rate(tank, hand ? spray_on(*hand, treated) : Volume{});
  if (!by_rate) return;
  // Rates hold to about a bed (common practice, no source), and nothing is proposed that would then be asked about.
  Volume about;
  if (hand && hand->spray && hand->open_length().si() > 0)
    about = std::min(*hand->spray * (hand->length / hand->open_length()), left_tolerance(*tank.in_full));
  if (*by_rate - sheet.left <= about) return;
  sheet.left_by_rate = by_rate;
  sheet.left_is_estimate = !dry;
  if (!dry) sheet.left = *by_rate;
}

}  // namespace

Result<RefillSheet> refill_sheet(const Book& book, const Id& pass, const Id& chosen, const RefillTyped& typed,
                                 Moment now) {
  RefillSheet sheet;
  TRY_ASSIGN(sheet.state, pass_state(book, pass, chosen, now));
  const PassState& state = sheet.state;
  if (state.tank.load.is_nil()) return refuse(Trouble::BadInput, "pass.no-load"_w);
  sheet.load = state.tank.load;
  sheet.number = state.tank.number;
  sheet.bed = state.in_hand;
  const PassBed* hand = state.hand();
  std::vector<Stretch> treated;
  if (hand) {
    // Dry on a later bed by the rate: then nothing of this one is proposed, the person knows better.
    sheet.proposed = hand->from_far_end ? hand->length : Length{};
    if (state.dry_bed == state.in_hand) sheet.proposed = state.dry_at;
    treated = walked_to(*hand, typed.at.value_or(sheet.proposed));
  }
  const LoadSheet& load = state.loads.back();
  sheet.went_in = load.shares.held;
  propose_left(sheet, hand, treated, typed.dry);
  if (typed.left) {
    sheet.left = *typed.left;
    sheet.left_is_estimate = false;
    sheet.left_by_rate.reset();
  }
  if (sheet.went_in) sheet.gone = std::max(Volume{}, *sheet.went_in - sheet.left);
  for (const Dose& dose : load.doses)
    if (!dose.is_skipped()) sheet.on_length += dose.stretch().length();
  for (const Stretch part : treated) sheet.on_length += part.length();
  std::vector<Id> reached;
  for (const Dose& dose : load.doses)
    if (!dose.is_skipped() && std::find(reached.begin(), reached.end(), dose.bed) == reached.end())
      reached.push_back(dose.bed);
  if (!treated.empty() && std::find(reached.begin(), reached.end(), hand->bed) == reached.end())
    reached.push_back(hand->bed);
  sheet.beds = static_cast<int>(reached.size());
  if (hand && !treated.empty()) {
    Length done;
    for (const Stretch part : treated) done += part.length();
    sheet.last_is_part = hand->open_length().si() - done.si() > 0.01;
  }
  Rig rig;
  if (auto found = read_rig(book, state.pass.rig)) rig = std::move(*found);
  plan_next(sheet, rig.tank.maybe(), treated);
  sheet.brew = state.tank.brew;
  sheet.brew_code = state.tank.brew_code;
  sheet.water_source = load.load.water_source;
  if (const auto source = read_water_source(book, sheet.water_source)) sheet.water_name = source->name;
  return sheet;
}

namespace {

/// Of the brew that is drawn from, and of a tank that would run over.
Result<std::vector<Caution>> refill_cautions(const Book& book, const PassState& state, const RefillRequest& request) {
  std::vector<Caution> cautions;
  if (!request.brew.is_nil()) {
    TRY_ASSIGN(const Places& places, read_places(book, state.farm.id));
    std::optional<Volume> tea;
    if (request.tea) tea = as<Volume>(*request.tea);
    TRY_ASSIGN(cautions, brew_cautions(book, places.limits, request.brew, tea, book.now().at));
  }
  Rig rig;
  if (auto found = read_rig(book, state.pass.rig)) rig = std::move(*found);
  if (!rig.tank || !request.tea || !request.water || !request.left) return cautions;
  const Volume in_tank = as<Volume>(*request.tea) + as<Volume>(*request.water) + as<Volume>(*request.left);
  if (in_tank.si() > rig.tank->si() * 1.001)
    cautions.push_back(
        {"check.more-than-tank"_w, {amount_value_text(in_tank), amount_value_text(*rig.tank)}, "mix.water", rig.id});
  return cautions;
}

/// What the load that is closed brought onto the bed in hand.
Result<void> add_treated(const Book& book, const PassState& state, const RefillRequest& request, const BedTimes& times,
                         const Going& going, std::vector<Save>& saves, std::vector<Caution>& cautions) {
  if (!request.at || request.bed.is_nil()) return {};
  TRY_ASSIGN(const PassBed* bed, open_bed(state, request.bed));
  const Length place = as<Length>(*request.at);
  if (bed->length.si() > 0 && place.si() > bed->length.si() + 0.01)
    return refuse(Trouble::BadInput, "check.beyond-bed"_w,
                  {bed->name, amount_value_text(*request.at), amount_value_text(bed->length)}, "at");
  const std::vector<Stretch> treated = walked_to(*bed, place);
  if (treated.empty()) return {};
  TRY(check_bed(*bed, going));
  cautions.insert(cautions.end(), bed->cautions.begin(), bed->cautions.end());
  for (const Stretch stretch : treated)
    saves.push_back(dose_save(
        book, {state.tank.load, bed->bed, stretch, is_whole(*bed, stretch), false, times.start, times.finish, {}, {}}));
  return {};
}

Save load_save(const Book& book, const RefillRequest& request, int number, Stamp filled) {
  std::vector<FieldValue> fields{reference_value("pass", request.pass), number_value("number", std::to_string(number))};
  add_reference(fields, "mix.brew", request.brew);
  fields.push_back(quantity_or_not_taken("mix.tea", request.tea));
  add_reference(fields, "mix.source", request.water_source);
  fields.push_back(quantity_or_not_taken("mix.water", request.water));
  fields.push_back(instant_value("filled", filled));
  return new_save(book, "load", std::move(fields));
}

}  // namespace

Result<Outcome> refill(Book& book, const RefillRequest& request, const Going& going) {
  TRY_ASSIGN(const PassState& state, working_state(book, request.pass, request.bed));
  const LoadSheet& closing = state.loads.back();
  Cautions asked(going);
  TRY(asked.ask(check_left(request.left, closing.shares.held)));
  TRY_ASSIGN(std::vector<Caution> of_refill, refill_cautions(book, state, request));
  asked.add(std::move(of_refill));
  std::vector<Caution> cautions = asked.take();
  const PassBed* bed = request.at ? bed_of(state, request.bed) : nullptr;
  const auto on_bed = bed ? spray_on(*bed, walked_to(*bed, as<Length>(*request.at))) : Volume{};
  if (!request.left_was_asked) check_left_by_rate(state.tank, request.left, on_bed, cautions);

  std::vector<Save> saves;
  const BedTimes times = times_of(book, state, {}, {});
  TRY(add_treated(book, state, request, times, going, saves, cautions));
  TRY_ASSIGN(Save close,
             change_save(book, state.tank.load,
                         {quantity_or_not_taken("left", request.left), instant_value("closed", times.finish)}));
  saves.push_back(std::move(close));
  saves.push_back(load_save(book, request, state.tank.number + 1, times.finish));
  const Id record = saves.back().record;
  for (const ProductGiven& product : request.products) {
    std::vector<FieldValue> line{reference_value("load", record)};
    add_reference(line, "amount.lot", product.lot);
    line.push_back(quantity_or_not_taken("amount.amount", product.amount));
    saves.push_back(new_save(book, "load-line", std::move(line)));
    TRY_ASSIGN(const std::vector<Caution>& more,
               lot_cautions(book, &state.farm, product.lot, product.amount, book.now().at));
    cautions.insert(cautions.end(), more.begin(), more.end());
  }
  return write_with(book, std::move(saves), record, std::move(cautions), going);
}

}  // namespace steep
