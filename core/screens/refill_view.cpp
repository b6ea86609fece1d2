#include <algorithm>
#include <cmath>

#include "screens/amounts.h"
#include "screens/form_text.h"
#include "screens/refill.h"
#include "screens/tea_left.h"

namespace steep {
namespace {

/// A place along the bed as people pace it: whole feet, half meters.
Written paced(Length length, const UnitsShown& units) {
  const Unit& unit = along_unit(units);
  const double step = units.system == System::Metric ? 0.5 : 1;
  return write_quantity(std::round(amount_in(length.si(), unit) / step) * step, unit, 1);
}

/// Tank volumes are filled by marks: to the hundredth of a gallon, the tenth of a liter.
std::optional<Written> marked(const std::optional<Volume>& volume, const UnitsShown& units) {
  if (!volume) return std::nullopt;
  return write_quantity(*volume, tank_unit(units), units.system == System::Metric ? 1 : 2);
}

void say_run_dry(RefillView& view, const RefillSheet& sheet, const Bed& bed, const Surroundings& around) {
  const Words& words = around.words;
  const PassBed& hand = sheet.state.beds[*sheet.bed];
  const Length at = as<Length>(view.at_now);
  view.has_bed = true;
  view.bed = hand.bed;
  view.number = hand.name;
  view.from_far_end = hand.from_far_end;
  view.at = hand.length.si() > 0 ? static_cast<float>(std::clamp(at / hand.length, 0.0, 1.0)) : 0;
  const std::string first = words("spray.load"_w, {std::to_string(sheet.number)});
  const std::string rest = words("refill.rest"_w, {std::to_string(sheet.number + 1)});
  view.left_text = hand.from_far_end ? rest : first;
  view.right_text = hand.from_far_end ? first : rest;
  const std::string zero = along_text({}, around.units, words), end = along_text(hand.length, around.units, words);
  view.zero = bed.zero_end.empty() ? zero : zero + ", " + bed.zero_end;
  view.end = bed.far_end.empty() ? end : end + ", " + bed.far_end;
  const Shown shown = show_parts(view.at_now, around.units, words);
  view.here = shown.text();
  view.at_value = shown.number;
  view.at_unit = shown.unit;
  view.spoken = words("refill.say_dry"_w, {hand.name, shown.speech()});
  view.at_spoken = words("refill.say_at"_w, {hand.name, shown.speech()});
  view.bed_length = write_quantity(hand.length, along_unit(around.units));
}

std::string last_digits(const std::string& name) {
  const auto digits = name.find_first_of("0123456789");
  return digits == std::string::npos ? name : name.substr(digits);
}

/// '½', '⅓': how much of the bed in hand is left for the next load, rounded down.
std::string rest_sign(const RefillView& view) {
  const float rest = view.from_far_end ? view.at : 1 - view.at;
  const BedsLeft::Part part = part_rounded_down(rest);
  return part == BedsLeft::Part::None ? std::string() : BedsLeft{0, part}.text();
}

void say_covers(RefillView& view, const RefillSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  view.covers_label = words("refill.covers"_w, {std::to_string(sheet.number + 1)});
  if (sheet.covers.empty()) return;
  const PassBed& first = sheet.state.beds[sheet.covers.front()];
  const PassBed& last = sheet.state.beds[sheet.covers.back()];
  const bool rest = sheet.bed && sheet.covers.front() == *sheet.bed && view.at > 0 && view.at < 1;
  if (sheet.covers.size() == 1) {
    view.covers = rest ? words("refill.rest_of"_w, {first.name}) : first.name;
  } else {
    view.covers = words(rest ? "refill.rest_to"_w : "refill.from_to"_w, {first.name, last.name});
  }
  double sum = 0;
  std::vector<double> parts;
  for (const std::size_t i : sheet.covers) {
    const PassBed& bed = sheet.state.beds[i];
    double share = bed.spray ? bed.spray->si() : bed.open_length().si();
    if (rest && i == *sheet.bed) share *= view.from_far_end ? view.at : 1 - view.at;
    parts.push_back(share);
    sum += share;
  }
  const double dead = sheet.state.tank.dead.si();
  const double all = sheet.in_tank ? sheet.in_tank->si() : sum + dead;
  view.sump_share = all > 0 ? static_cast<float>(dead / all) : 0;
  for (std::size_t k = 0; k < parts.size(); ++k) {
    const std::size_t i = sheet.covers[k];
    view.slabs.emplace_back(rest && i == *sheet.bed ? rest_sign(view) : last_digits(sheet.state.beds[i].name),
                            sum > 0 ? static_cast<float>(parts[k] / sum) * (1 - view.sump_share) : 0);
  }
  if (dead > 0) view.stays = words("refill.stays_in"_w, {tank_text(sheet.state.tank.dead, around.units, words)});
  view.covers_spoken = view.covers_label + " " + view.covers;
}

void say_closing(RefillView& view, const RefillSheet& sheet, const RefillInput& input, const Surroundings& around) {
  const Words& words = around.words;
  view.closes = words("refill.closes"_w, {std::to_string(sheet.number)});
  view.closes_note = sheet.last_is_part ? words.count("refill.beds_last_part"_w, sheet.beds)
                                        : words.count("refill.beds"_w, sheet.beds);
  view.left_now = form_amount(input.form, "left").value_or(*marked(sheet.left, around.units));
  const Shown shown = show_parts(view.left_now, around.units, words);
  view.left_label = words("refill.left_in_tank"_w);
  view.left_value = shown.number;
  view.left_unit = shown.unit;
  view.left_spoken = view.left_label + " " + shown.speech();
  if (!sheet.went_in) return;
  const auto tea_of = [&](Volume spray) { return sheet.state.tank.tea_of(spray); };
  const auto line = [&](std::string name, Volume volume, bool estimate, bool total) {
    const SprayShown spray = spray_shown(volume, tea_of(volume), estimate, around.units, words);
    view.ledger.push_back({std::move(name), spray.number, spray.words, total});
  };
  line(words("refill.went_in"_w), *sheet.went_in, false, false);
  line(words("refill.left_in_tank"_w), sheet.left, sheet.left_is_estimate, false);
  line(words("refill.on_length"_w, {along_text(sheet.on_length, around.units, words)}), *sheet.gone,
       sheet.left_is_estimate, true);
}

void say_dry(RefillView& view, const RefillSheet& sheet, const RefillInput& input, const Surroundings& around) {
  if (!sheet.left_by_rate) return;
  const Words& words = around.words;
  const std::string said = form_text(input.form, "dry");
  view.dry_question = words("refill.dry_question"_w);
  view.dry = words("refill.dry"_w);
  view.not_dry = words("refill.not_dry"_w, {tank_text(*sheet.left_by_rate, around.units, words)});
  view.dry_chosen = said == "yes" ? 0 : said == "no" ? 1 : -1;
  if (view.dry_chosen < 0) view.missing = words.count("start.missing"_w, 1, {words("refill.missing_dry"_w)});
  view.request.left_was_asked = true;
}

void say_next(RefillView& view, const RefillSheet& sheet, const RefillInput& input, const Surroundings& around) {
  const Words& words = around.words;
  view.next = words("refill.next"_w, {std::to_string(sheet.number + 1)});
  view.tea_label = words("start.tea"_w);
  view.water_label = sheet.water_name.empty() ? words("start.water"_w) : sheet.water_name;
  view.has_tea = !sheet.brew.is_nil();
  view.brew = view.has_tea ? words("brew.code"_w, {sheet.brew_code}) : std::string();
  view.tea_now = form_has(input.form, "tea") ? form_amount(input.form, "tea")
                 : sheet.next                ? marked(sheet.next->tea, around.units)
                                             : marked(sheet.state.tank.tea.maybe(), around.units);
  const Volume left = as<Volume>(view.left_now);
  const auto water_to_mark = [&](const Mix& mix, const std::optional<Written>& tea) {
    if (view.has_tea && !tea) return marked(mix.water, around.units);
    return marked(sheet.water_to_mark(mix, left, view.has_tea ? as<Volume>(*tea) : Volume{}), around.units);
  };
  view.water_now = form_has(input.form, "water") ? form_amount(input.form, "water")
                   : sheet.next                  ? water_to_mark(*sheet.next, view.tea_now)
                                                 : marked(sheet.state.tank.water.maybe(), around.units);
  const auto put = [&](const std::optional<Written>& written, const std::string& label, std::string& value,
                       std::string& unit, std::string& spoken) {
    CellShown cell = cell_shown(label, written, tank_unit(around.units), around.units, words);
    value = std::move(cell.value);
    unit = std::move(cell.unit);
    spoken = std::move(cell.spoken);
  };
  put(view.tea_now, view.tea_label, view.tea_value, view.tea_unit, view.tea_spoken);
  put(view.water_now, view.water_label, view.water_value, view.water_unit, view.water_spoken);
  if (sheet.full) {
    view.full_tea = marked(sheet.full->tea, around.units);
    view.full_water = water_to_mark(*sheet.full, view.full_tea);
  }
  view.fill_up = words("refill.fill_up"_w);
  if (view.water_now && (view.tea_now || !view.has_tea)) {
    const Volume in = left + as<Volume>(*view.water_now) + (view.has_tea ? as<Volume>(*view.tea_now) : Volume{});
    const Volume usable = std::max(Volume{}, in - sheet.state.tank.dead);
    const std::string spray = tank_text(in, around.units, words), can = tank_text(usable, around.units, words);
    view.sum = left.si() > 0 ? words("refill.sum_with_left"_w, {tank_text(left, around.units, words), spray, can})
                             : words("refill.sum"_w, {spray, can});
  }
}

Result<void> say_brews(RefillView& view, const RefillInput& input, const Surroundings& around) {
  if (!input.brews_open) return {};
  const Words& words = around.words;
  view.brews_title = words("start.brew_title"_w);
  TRY_ASSIGN(const std::vector<Brew>& all, usable_brews(around.book, around.now));
  for (const Brew& brew : all) {
    TRY_ASSIGN(const BrewSheet& facts, read_brew_sheet(around.book, brew.id));
    view.brews.push_back({brew.id.text(), words("brew.code"_w, {facts.code}), tea_left_text(facts.balance, around),
                          brew.id == view.request.brew});
  }
  return {};
}

}  // namespace

DraftFields draft_fields(const RefillInput& input) { return input.form; }
void from_draft(RefillInput& input, const DraftFields& fields) { input.form = fields; }

Result<RefillView> refill_view(const Surroundings& around, const RefillInput& input) {
  const Words& words = around.words;
  const auto typed_at = form_amount(input.form, "at");
  RefillTyped typed;
  if (typed_at) typed.at = as<Length>(*typed_at);
  if (const auto left = form_amount(input.form, "left")) typed.left = as<Volume>(*left);
  typed.dry = form_text(input.form, "dry") == "yes";
  TRY_ASSIGN(RefillSheet sheet, refill_sheet(around.book, around.record, around.other, typed, around.now));
  // Nothing in hand when it was pressed: the tank ran dry between beds.
  if (around.other.is_nil()) sheet.bed.reset();
  if (const Id chosen = form_id(input.form, "brew"); !chosen.is_nil() && chosen != sheet.brew) {
    TRY_ASSIGN(const BrewSheet& facts, read_brew_sheet(around.book, chosen));
    sheet.brew = chosen;
    sheet.brew_code = facts.code;
  }
  RefillView view;
  view.pass = around.record;
  view.units = around.units;
  view.title = words("spray.pass_title"_w, {sheet.state.code, sheet.state.place});
  view.second = sheet.brew_code.empty() ? words("refill.title"_w) : words("refill.second"_w, {sheet.brew_code});
  view.question = words("refill.question"_w);
  if (sheet.bed) {
    view.at_now = typed_at ? *typed_at : paced(sheet.proposed, around.units);
    view.proposed = typed_at ? std::string() : words("refill.proposed"_w);
    TRY_ASSIGN(const Bed& bed, read_bed(around.book, sheet.state.beds[*sheet.bed].bed));
    say_run_dry(view, sheet, bed, around);
  }
  say_covers(view, sheet, around);
  say_closing(view, sheet, input, around);
  say_dry(view, sheet, input, around);
  say_next(view, sheet, input, around);
  view.go = view.has_bed ? words("refill.go_on_with"_w, {view.number}) : words("refill.go_on"_w);
  if (input.problem) view.problem = around.sentence(*input.problem);

  view.request.pass = around.record;
  if (view.has_bed) {
    view.request.bed = view.bed;
    view.request.at = view.at_now;
  }
  view.request.left = view.left_now;
  view.request.brew = sheet.brew;
  view.request.tea = view.has_tea ? view.tea_now : std::nullopt;
  view.request.water = view.water_now;
  view.request.water_source = sheet.water_source;
  TRY(say_brews(view, input, around));
  return view;
}

}  // namespace steep
