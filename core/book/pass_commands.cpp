#include "book/pass_commands.h"

#include <algorithm>
#include <cmath>

#include "book/checks.h"
#include "book/pass_parts.h"
#include "book/rows.h"
#include "book/saves.h"

namespace steep {
namespace {

/// The unit in which the bed's length was written, so that '100 ft' is halved to '50 ft'.
const Unit& length_unit(const Book& book, const Id& bed) {
  Query query = book.db().query("SELECT size_length FROM k_bed WHERE uid = ?");
  query.bind(1, bed);
  const Unit* found = nullptr;
  if (query.next())
    if (const auto written = parse_written(query.text_view(0)); written && written->dimension() == Dimension::Length)
      found = written->unit;
  (void)query.done();
  return found ? *found : unit("ft");
}

std::string place_text(Length place, const Unit& in) { return write_quantity(place, in, 2).text; }

struct DoseGiven {
  Id load, bed;
  Stretch stretch;
  bool whole = false, skipped = false;
  Stamp start, finish;
  std::optional<Written> volume;
  std::string note;
};

Save dose_save(const Book& book, const DoseGiven& given) {
  const Unit& in = length_unit(book, given.bed);
  std::vector<FieldValue> fields{reference_value("what.load", given.load), reference_value("what.bed", given.bed),
                                 quantity_value("what.from", place_text(given.stretch.from, in)),
                                 quantity_value("what.to", place_text(given.stretch.to, in))};
  Query width = book.db().query("SELECT size_width FROM k_bed WHERE uid = ?");
  width.bind(1, given.bed);
  if (width.next() && !width.is_null(0)) {
    fields.push_back(quantity_value("what.width", width.text(0)));
  } else {
    fields.push_back(not_taken("what.width"));
  }
  (void)width.done();
  fields.push_back(quantity_or_not_taken("what.volume", given.volume));
  fields.push_back(word_value("what.how", given.skipped ? "skipped" : given.whole ? "done" : "part"));
  fields.push_back(instant_value("when.start", given.start));
  fields.push_back(instant_value("when.finish", given.finish));
  add_text(fields, "note", given.note);
  return new_save(book, "dose", std::move(fields));
}

/// The pass as it stands, open, with the bed in hand. Refusals in words.
Result<PassState> working_state(const Book& book, const Id& pass, const Id& bed) {
  TRY_ASSIGN(PassState state, pass_state(book, pass, bed, book.now().at));
  if (state.is_ended) return refuse(Trouble::BadInput, "pass.ended"_w, {code_value_text("pass", state.code)});
  if (state.tank.load.is_nil()) return refuse(Trouble::BadInput, "pass.no-load"_w);
  return state;
}

const PassBed* bed_of(const PassState& state, const Id& bed) {
  for (const PassBed& row : state.beds)
    if (row.bed == bed) return &row;
  return nullptr;
}

Result<const PassBed*> open_bed(const PassState& state, const Id& bed) {
  const PassBed* row = bed_of(state, bed);
  if (!row) return refuse(Trouble::NotFound, "pass.bed-not-in-it"_w);
  if (row->open.empty()) return refuse(Trouble::BadInput, "pass.bed-is-done"_w, {row->name}, row->name);
  return row;
}

struct Times {
  Stamp start, finish;
};

Times times_of(const Book& book, const PassState& state, std::optional<Moment> start, std::optional<Moment> finish) {
  const Moment end = finish.value_or(book.now().at);
  const Moment begin = std::min(start.value_or(state.in_hand_since.value_or(end)), end);
  return {stamp_of(book, begin), stamp_of(book, end)};
}

bool is_whole(const PassBed& bed, Stretch stretch) {
  return stretch.from.si() <= 0.01 && stretch.to.si() >= bed.length.si() - 0.01;
}

Result<void> check_bed(const PassBed& bed, const Going& going) {
  if (bed.stop && !going.after_the_fact) return tl::unexpected<Problem>(*bed.stop);
  return {};
}

Result<void> check_volume(const std::optional<Written>& volume) {
  if (volume && volume->amount.is_zero()) return refuse(Trouble::Ask, "check.done-with-nothing"_w, {volume->text}, "what.volume");
  return {};
}

/// Writes doses over these stretches of one bed, the measured volume shared by length.
Result<Outcome> write_stretches(Book& book, const PassState& state, const PassBed& bed, const std::vector<Stretch>& stretches,
                                Times times, const std::optional<Written>& volume, std::string_view note, const Going& going) {
  TRY(check_bed(bed, going));
  TRY(check_volume(volume));
  double length = 0;
  for (const Stretch stretch : stretches) length += stretch.length().si();
  std::vector<Save> saves;
  for (const Stretch stretch : stretches) {
    DoseGiven given{state.tank.load, bed.bed, stretch, is_whole(bed, stretch), false, times.start, times.finish, volume, std::string(note)};
    if (volume && stretches.size() > 1 && length > 0)
      given.volume = write_quantity(as<Volume>(*volume) * (stretch.length().si() / length), *volume->unit);
    saves.push_back(dose_save(book, given));
  }
  const Id record = saves.front().record;
  return write_with(book, std::move(saves), record, bed.cautions, going);
}

/// The part of what is open that the walk reaches before `place`.
std::vector<Stretch> walked_to(const PassBed& bed, Length place) {
  std::vector<Stretch> out;
  for (const Stretch part : bed.open) {
    const Stretch reached = bed.from_far_end ? Stretch{std::max(part.from, place), part.to} : Stretch{part.from, std::min(part.to, place)};
    if (reached.length().si() > 0.01) out.push_back(reached);
  }
  return out;
}

}  // namespace

Result<Outcome> bed_done(Book& book, const DoneRequest& request, const Going& going) {
  TRY_ASSIGN(const PassState& state, working_state(book, request.pass, request.bed));
  TRY_ASSIGN(const PassBed* bed, open_bed(state, request.bed));
  const Times times = times_of(book, state, request.start, request.finish);
  return write_stretches(book, state, *bed, bed->open, times, request.volume, request.note, going);
}

Result<Outcome> bed_half(Book& book, const Id& pass, const Id& bed_id, bool other, const Going& going) {
  TRY_ASSIGN(const PassState& state, working_state(book, pass, bed_id));
  TRY_ASSIGN(const PassBed* bed, open_bed(state, bed_id));
  if (bed->length.si() <= 0) return refuse(Trouble::BadInput, "pass.no-length"_w, {bed->name}, bed->name);
  const Length middle = bed->length / 2;
  const bool far = bed->from_far_end != other;
  const Stretch half = far ? Stretch{middle, bed->length} : Stretch{Length{}, middle};
  return write_stretches(book, state, *bed, {half}, times_of(book, state, {}, {}), {}, {}, going);
}

Result<Outcome> bed_stretch(Book& book, const StretchRequest& request, const Going& going) {
  TRY_ASSIGN(const PassState& state, working_state(book, request.pass, request.bed));
  const PassBed* bed = bed_of(state, request.bed);
  if (!bed) return refuse(Trouble::NotFound, "pass.bed-not-in-it"_w);
  const Length a = as<Length>(request.from), b = as<Length>(request.to);
  const Stretch stretch{std::min(a, b), std::max(a, b)};
  if (stretch.length().si() <= 0.01) return refuse(Trouble::Ask, "check.done-with-nothing"_w, {request.to.text}, "what.to");
  if (bed->length.si() > 0 && stretch.to.si() > bed->length.si() + 0.01)
    return refuse(Trouble::BadInput, "check.beyond-bed"_w, {bed->name, amount_value_text(request.to), amount_value_text(bed->length)}, "what.to");
  const Times times = times_of(book, state, request.start, request.finish);
  return write_stretches(book, state, *bed, {stretch}, times, request.volume, request.note, going);
}

Result<Outcome> change_stretch(Book& book, const Id& dose_id, const Written& from, const Written& to, const Going& going) {
  TRY_ASSIGN(const Dose& dose, read_dose(book, dose_id));
  TRY_ASSIGN(const Bed& bed, read_bed(book, dose.bed));
  const Length a = std::min(as<Length>(from), as<Length>(to)), b = std::max(as<Length>(from), as<Length>(to));
  if (b.si() - a.si() <= 0.01) return refuse(Trouble::Ask, "check.done-with-nothing"_w, {to.text}, "what.to");
  if (bed.length && b.si() > bed.length->si() + 0.01)
    return refuse(Trouble::BadInput, "check.beyond-bed"_w, {bed.name, amount_value_text(to), amount_value_text(*bed.length)}, "what.to");
  TRY_ASSIGN(const std::optional<Record>& record, book.record(dose_id));
  if (!record) return refuse(Trouble::NotFound, "record.not-here"_w);
  // The group 'what' is written whole: its other fields are carried along as they stand.
  std::vector<FieldValue> fields;
  for (const Group& group : record->groups)
    if (group.key == "what") fields = group.heads.front().fields;
  const bool whole = bed.length && a.si() <= 0.01 && b.si() >= bed.length->si() - 0.01;
  for (FieldValue& field : fields) {
    if (field.key == "what.from") field = quantity_value("what.from", (as<Length>(from) <= as<Length>(to) ? from : to).text);
    if (field.key == "what.to") field = quantity_value("what.to", (as<Length>(from) <= as<Length>(to) ? to : from).text);
    if (field.key == "what.how") field = word_value("what.how", whole ? "done" : "part");
  }
  TRY_ASSIGN(Save save, change_save(book, dose_id, std::move(fields), going.reason));
  return write_with(book, {std::move(save)}, dose_id, {}, going);
}

Result<Outcome> skip_bed(Book& book, const Id& pass, const Id& bed_id, std::string_view reason, const Going& going) {
  const std::string why = clean_text(reason);
  if (why.empty()) return refuse(Trouble::BadInput, "pass.skip-reason"_w, {}, "note");
  TRY_ASSIGN(const PassState& state, working_state(book, pass, bed_id));
  TRY_ASSIGN(const PassBed* bed, open_bed(state, bed_id));
  const Stamp now = book.now();
  const Stretch rest{bed->open.front().from, bed->open.back().to};
  const DoseGiven given{state.tank.load, bed->bed, rest, false, true, now, now, std::nullopt, why};
  Save save = dose_save(book, given);
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, {}, going);
}

// ---- Undo ------------------------------------------------------------------------------------

namespace {

struct ActOf {
  Id lane;
  std::int64_t act = 0;
  bool operator==(const ActOf&) const = default;
};

Result<ActOf> act_of(const Book& book, const Id& record) {
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(record));
  if (lines.empty()) return ActOf{};
  return ActOf{lines.front().change.lane, lines.front().change.act};
}

Result<void> add_strike(const Book& book, const Id& record, std::vector<Save>& saves) {
  TRY_ASSIGN(Save save, change_save(book, record, {text_field_value("struck", std::string(kUndone))}));
  saves.push_back(std::move(save));
  return {};
}

/// A refill taken back: the new load goes, the load before is open again, the stretch it wrote too.
Result<void> add_refill_undo(const Book& book, const PassState& state, const LastPress& press, std::vector<Save>& saves) {
  TRY(add_strike(book, press.record, saves));
  TRY_ASSIGN(const std::vector<LoadLine>& lines, load_lines(book, press.record));
  for (const LoadLine& line : lines) TRY(add_strike(book, line.id, saves));
  TRY_ASSIGN(const ActOf& act, act_of(book, press.record));
  for (const LoadSheet& sheet : state.loads) {
    if (sheet.load.number != press.load_number - 1) continue;
    TRY_ASSIGN(Save open, change_save(book, sheet.load.id, {not_taken("closed"), not_taken("left")}));
    saves.push_back(std::move(open));
    for (const Dose& dose : sheet.doses) {
      TRY_ASSIGN(const ActOf& other, act_of(book, dose.id));
      if (other == act) TRY(add_strike(book, dose.id, saves));
    }
  }
  return {};
}

}  // namespace

Result<Outcome> undo_press(Book& book, const Id& pass, const Going& going) {
  TRY_ASSIGN(const PassState& state, pass_state(book, pass, {}, book.now().at));
  if (state.is_ended) return refuse(Trouble::BadInput, "pass.ended"_w, {code_value_text("pass", state.code)});
  TRY_ASSIGN(const std::optional<LastPress>& press, last_press(book, pass));
  Outcome nothing;
  if (!press) return nothing;
  std::vector<Save> saves;
  if (press->is_refill) {
    TRY(add_refill_undo(book, state, *press, saves));
  } else {
    // One press may have written several stretches of a bed: they go together.
    TRY_ASSIGN(const ActOf& act, act_of(book, press->record));
    for (const LoadSheet& sheet : state.loads)
      for (const Dose& dose : sheet.doses) {
        if (dose.id != press->record && dose.bed != press->bed) continue;
        TRY_ASSIGN(const ActOf& other, act_of(book, dose.id));
        if (other == act) TRY(add_strike(book, dose.id, saves));
      }
  }
  TRY_ASSIGN(Save count, change_save(book, pass, {number_value("undone", std::to_string(state.pass.undone + 1))}));
  saves.push_back(std::move(count));
  return write_with(book, std::move(saves), press->record, {}, going);
}

// ---- Refill ----------------------------------------------------------------------------------

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
    if (state.in_hand == i && bed.open_length().si() > 0) {
      double done = 0;
      for (const Stretch part : now_treated) done += part.length().si();
      spray *= std::max(0.0, 1 - done / bed.open_length().si());
    }
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

}  // namespace

Result<RefillSheet> refill_sheet(const Book& book, const Id& pass, const Id& chosen, std::optional<Length> at, Moment now) {
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
    treated = walked_to(*hand, at.value_or(sheet.proposed));
  }
  const LoadSheet& load = state.loads.back();
  sheet.went_in = load.shares.held;
  if (sheet.went_in) sheet.tea_in = state.tank.tea_of(*sheet.went_in);
  sheet.left = state.tank.dead;
  if (sheet.went_in) sheet.left = std::min(sheet.left, *sheet.went_in);
  sheet.left_tea = state.tank.tea_of(sheet.left);
  if (sheet.went_in) sheet.gone = *sheet.went_in - sheet.left;
  if (sheet.gone) sheet.gone_tea = state.tank.tea_of(*sheet.gone);
  for (const Dose& dose : load.doses)
    if (!dose.is_skipped()) sheet.on_length += dose.stretch().length();
  for (const Stretch part : treated) sheet.on_length += part.length();
  std::vector<Id> reached;
  for (const Dose& dose : load.doses)
    if (!dose.is_skipped() && std::find(reached.begin(), reached.end(), dose.bed) == reached.end()) reached.push_back(dose.bed);
  if (!treated.empty() && std::find(reached.begin(), reached.end(), hand->bed) == reached.end()) reached.push_back(hand->bed);
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

Result<Outcome> refill(Book& book, const RefillRequest& request, const Going& going) {
  TRY_ASSIGN(const PassState& state, working_state(book, request.pass, request.bed));
  const LoadSheet& closing = state.loads.back();
  if (request.left && closing.shares.held && as<Volume>(*request.left).si() > closing.shares.held->si() + 1e-6)
    return refuse(Trouble::Ask, "check.left-more-than-held"_w, {amount_value_text(*request.left), amount_value_text(*closing.shares.held)}, "left");
  std::vector<Caution> cautions;
  if (!request.brew.is_nil()) {
    TRY_ASSIGN(const Places& places, read_places(book, state.farm.id));
    std::optional<Volume> tea;
    if (request.tea) tea = as<Volume>(*request.tea);
    TRY_ASSIGN(cautions, brew_cautions(book, state.farm, places.limits, request.brew, tea, book.now().at));
  }
  Rig rig;
  if (auto found = read_rig(book, state.pass.rig)) rig = std::move(*found);
  if (rig.tank && request.tea && request.water && request.left) {
    const Volume in_tank = as<Volume>(*request.tea) + as<Volume>(*request.water) + as<Volume>(*request.left);
    if (in_tank.si() > rig.tank->si() * 1.001)
      cautions.push_back({"check.more-than-tank"_w, {amount_value_text(in_tank), amount_value_text(*rig.tank)}, "mix.water", rig.id});
  }

  std::vector<Save> saves;
  const Times times = times_of(book, state, {}, {});
  if (request.at && !request.bed.is_nil()) {
    TRY_ASSIGN(const PassBed* bed, open_bed(state, request.bed));
    const Length place = as<Length>(*request.at);
    if (bed->length.si() > 0 && place.si() > bed->length.si() + 0.01)
      return refuse(Trouble::BadInput, "check.beyond-bed"_w, {bed->name, amount_value_text(*request.at), amount_value_text(bed->length)}, "at");
    const std::vector<Stretch> treated = walked_to(*bed, place);
    if (!treated.empty()) TRY(check_bed(*bed, going));
    for (const Stretch stretch : treated)
      saves.push_back(dose_save(book, {state.tank.load, bed->bed, stretch, is_whole(*bed, stretch), false, times.start, times.finish, {}, {}}));
  }
  TRY_ASSIGN(Save close, change_save(book, state.tank.load,
                                     {quantity_or_not_taken("left", request.left), instant_value("closed", times.finish)}));
  saves.push_back(std::move(close));
  std::vector<FieldValue> fields{reference_value("pass", request.pass),
                                 number_value("number", std::to_string(state.tank.number + 1))};
  add_reference(fields, "mix.brew", request.brew);
  fields.push_back(quantity_or_not_taken("mix.tea", request.brew.is_nil() && !request.tea ? std::optional<Written>() : request.tea));
  add_reference(fields, "mix.source", request.water_source);
  fields.push_back(quantity_or_not_taken("mix.water", request.water));
  fields.push_back(instant_value("filled", times.finish));
  Save open = new_save(book, "load", std::move(fields));
  const Id record = open.record;
  saves.push_back(std::move(open));
  for (const ProductGiven& product : request.products) {
    std::vector<FieldValue> line{reference_value("load", record)};
    add_reference(line, "amount.lot", product.lot);
    line.push_back(quantity_or_not_taken("amount.amount", product.amount));
    saves.push_back(new_save(book, "load-line", std::move(line)));
    TRY_ASSIGN(const std::vector<Caution>& more, lot_cautions(book, &state.farm, product.lot, product.amount, book.now().at));
    cautions.insert(cautions.end(), more.begin(), more.end());
  }
  return write_with(book, std::move(saves), record, std::move(cautions), going);
}

}  // namespace steep
