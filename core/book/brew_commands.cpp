#include "book/brew_commands.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "book/amount_kinds.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/entry.h"
#include "book/limit_kinds.h"
#include "book/places.h"
#include "book/recipe_scaled.h"
#include "book/saves.h"
#include "book/spelled.h"

namespace steep {
namespace {

std::string record_label(const Book& book, const Id& brew) {
  const auto codes = Codes::read(book);
  return code_value_text("brew", codes ? codes->text(brew) : std::string("?"));
}

/// What the recipe asks for of a material at this fill, in the line's own unit; nullopt when it has no line for it, or the
/// line cannot be scaled.
struct Asked {
  AmountRange amount;
  const Unit* unit = nullptr;
  Material material;
};
Result<std::optional<Asked>> asked_by_recipe(const Book& book, const BrewGiven& given, const Id& material, Date on) {
  if (given.recipe.is_nil() || !given.fill) return std::optional<Asked>{};
  TRY_ASSIGN(const BrewRecipe& recipe, read_recipe(book, given.recipe));
  TRY_ASSIGN(const std::vector<RecipeStock>& lines, recipe_stock(book, given.recipe, on));
  for (const RecipeStock& line : lines) {
    if (line.material.id != material) continue;
    if (const auto amount = scaled_line(recipe, line, as<Volume>(*given.fill)))
      return std::optional<Asked>(Asked{*amount, line.unit, line.material});
  }
  return std::optional<Asked>{};
}

Result<Outcome> set_brew_time(Book& book, const Id& id, std::string_view key, Moment at, const Going& going) {
  TRY_ASSIGN(const Brew& brew, read_brew(book, id));
  Cautions cautions(going);
  TRY(cautions.ask(check_when(at, book.now().at, key)));
  const bool off = key == "air_off";
  if (off && brew.air_on && at < brew.air_on->at)
    return refuse(Trouble::BadInput, "check.finish-before-start"_w, {}, "air_off");
  TRY_ASSIGN(Save save, change_save(book, id, {instant_value(std::string(key), stamp_of(book, at))}, going.reason));
  return write_with(book, {std::move(save)}, id, cautions.take(), going);
}

}  // namespace

Result<std::vector<Caution>> recipe_cautions(const Book& book, const BrewGiven& given, const ProductGiven& line,
                                             Moment at) {
  std::vector<Caution> cautions;
  if (line.lot.is_nil() || !line.amount) return cautions;
  TRY_ASSIGN(const Lot& lot, read_lot(book, line.lot));
  TRY_ASSIGN(const std::optional<Asked>& asked, asked_by_recipe(book, given, lot.material, Zone().local(at).date));
  if (!asked) return cautions;
  // Weight and volume meet only over the material's measured density.
  const auto amount = in_unit_of(*line.amount, *asked->unit, asked->material);
  if (!amount || (*amount <= asked->amount.high * 1.01 && *amount >= asked->amount.low * 0.99)) return cautions;
  const auto most =
      in_unit_of(write_quantity(asked->amount.high, *asked->unit, 9), *line.amount->unit, asked->material);
  if (!most) return cautions;
  const std::string most_text = amount_value_text(write_quantity(*most, *line.amount->unit));
  if (auto slip =
          unit_slip(*line.amount, si(write_quantity(*most, *line.amount->unit, 9)).to_double(), "amount.amount")) {
    slip->record = line.lot;
    slip->values.push_back(lot.name());
    slip->values.push_back(most_text);
    cautions.push_back(std::move(*slip));
  } else if (*amount > asked->amount.high * 1.01) {
    cautions.push_back(
        {"check.above-recipe"_w, {lot.name(), amount_value_text(*line.amount), most_text}, "amount.amount", line.lot});
  }
  return cautions;
}

Result<std::vector<Caution>> fill_cautions(const Book& book, const BrewGiven& given) {
  std::vector<Caution> cautions;
  if (given.vessel.is_nil()) return cautions;
  TRY_ASSIGN(const Vessel& vessel, read_vessel(book, given.vessel));
  const Taken<Volume> most = vessel.working ? vessel.working : vessel.nominal;
  if (given.fill && most && as<Volume>(*given.fill).si() > most->si() * 1.001)
    cautions.push_back({"check.over-working-volume"_w,
                        {vessel.name, amount_value_text(*given.fill), amount_value_text(*most)},
                        "fill",
                        given.vessel});
  return cautions;
}

Result<std::vector<Caution>> vessel_cautions(const Book& book, const BrewGiven& given, Moment at, const Id& brew) {
  TRY_ASSIGN(std::vector<Caution> cautions, fill_cautions(book, given));
  if (given.vessel.is_nil()) return cautions;
  TRY_ASSIGN(const Vessel& vessel, read_vessel(book, given.vessel));
  TRY_ASSIGN(const TankHistory& history, vessel_history(book, given.vessel, at, brew));
  if (!history.is_clean())
    cautions.push_back({"check.tank-not-cleaned"_w,
                        {vessel.name, record_label(book, history.held_brew), moment_value_text(*history.held_at)},
                        "vessel",
                        given.vessel});
  return cautions;
}

Result<Outcome> start_brew(Book& book, const BrewGiven& given, const Going& going) {
  const Stamp now = book.now();
  Cautions cautions(going);
  if (given.fill && (given.fill->dimension() != Dimension::Volume || given.fill->amount.is_zero()))
    return refuse(Trouble::BadInput, "check.fill"_w, {given.fill->text}, "fill");
  for (const auto* at : {&given.met_water, &given.air_on})
    if (*at) TRY(cautions.ask(check_when(**at, now.at, "air_on")));
  TRY_ASSIGN(std::vector<Caution> vessel, vessel_cautions(book, given, given.met_water.value_or(now.at)));
  cautions.add(std::move(vessel));
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  std::vector<FieldValue> fields{number_value("number", std::to_string(codes.next("brew")))};
  add_reference(fields, "recipe", given.recipe);
  add_reference(fields, "vessel", given.vessel);
  fields.push_back(quantity_or_not_taken("fill", given.fill));
  add_reference(fields, "water", given.water_source);
  add_reference(fields, "target", given.target);
  if (!given.treatment.empty()) fields.push_back(word_value("treatment.how", given.treatment));
  const auto add_time = [&](std::string key, const std::optional<Moment>& at) {
    if (at) fields.push_back(instant_value(std::move(key), stamp_of(book, *at)));
  };
  add_time("treatment.from", given.treatment_from);
  add_time("treatment.to", given.treatment_to);
  add_time("met_water", given.met_water);
  add_time("air_on", given.air_on);
  std::vector<Save> saves{new_save(book, "brew", std::move(fields))};
  const Id brew = saves.front().record;
  for (const ProductGiven& line : given.lines) {
    TRY_ASSIGN(std::vector<Caution> of_lot, lot_cautions(book, nullptr, line.lot, line.amount, now.at));
    cautions.add(std::move(of_lot));
    TRY_ASSIGN(std::vector<Caution> by_recipe, recipe_cautions(book, given, line, now.at));
    cautions.add(std::move(by_recipe));
    std::vector<FieldValue> line_fields{reference_value("brew", brew)};
    add_reference(line_fields, "amount.lot", line.lot);
    line_fields.push_back(quantity_or_not_taken("amount.amount", line.amount));
    saves.push_back(new_save(book, "brew-line", std::move(line_fields)));
  }
  if (!given.plan.is_nil()) {
    TRY_ASSIGN(const PlannedWork& planned, read_plan(book, given.plan));
    if (!planned.is_open()) return refuse(Trouble::BadInput, "plan.not-open"_w, {}, "plan");
    TRY_ASSIGN(Save became, change_save(book, given.plan, {reference_value("became", brew)}));
    saves.push_back(std::move(became));
  }
  return write_with(book, std::move(saves), brew, cautions.take(), going);
}

Result<Outcome> set_air_on(Book& book, const Id& brew, Moment at, const Going& going) {
  return set_brew_time(book, brew, "air_on", at, going);
}
Result<Outcome> set_air_off(Book& book, const Id& brew, Moment at, const Going& going) {
  return set_brew_time(book, brew, "air_off", at, going);
}

Result<Outcome> set_verdict(Book& book, const Id& brew, std::string_view word, std::string_view why,
                            const Going& going) {
  if (word != "ready" && word != "hold" && word != "do-not-use")
    return refuse(Trouble::BadInput, "check.verdict"_w, {word}, "verdict");
  // 'Ready' may stand alone; to hold or forbid asks for the reason.
  const std::string reason = clean_text(why);
  if (word != "ready" && reason.empty()) return refuse(Trouble::BadInput, "record.reason-asked"_w, {}, "verdict.why");
  std::vector<FieldValue> fields{word_value("verdict.word", word)};
  add_reference(fields, "verdict.by", going.person);
  add_text(fields, "verdict.why", reason);
  fields.push_back(instant_value("verdict.at", book.now()));
  TRY_ASSIGN(Save save, change_save(book, brew, std::move(fields)));
  return write_with(book, {std::move(save)}, brew, {}, going);
}

Result<Outcome> add_event(Book& book, const Id& brew, std::string_view what, Moment at,
                          const std::optional<Written>& amount, std::string_view note, const Going& going) {
  Cautions cautions(going);
  TRY(cautions.ask(check_when(at, book.now().at, "at")));
  if (amount) TRY(cautions.ask(check_amount("event", "amount", what, *amount)));
  std::vector<FieldValue> fields{reference_value("brew", brew), word_value("what", what),
                                 instant_value("at", stamp_of(book, at))};
  if (amount) fields.push_back(quantity_value("amount", amount->text));
  add_text(fields, "note", note);
  Save save = new_save(book, "event", std::move(fields));
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, cautions.take(), going);
}

namespace {

/// A number of °C typed into a field of °F: 0 to 32 of the one are 32 to 90 of the other.
void note_freezing(const ReadingGiven& given, std::vector<Caution>& cautions) {
  if (given.quantity != "temperature" || !given.value || given.value->unit != &unit("degF")) return;
  if (si(*given.value).to_double() >= 273.15 + 0.05) return;
  const double typed = given.value->amount.to_double();
  cautions.push_back(
      {"check.freezing"_w,
       {amount_value_text(*given.value), decimal(typed, 2) + " °C", decimal(typed * 9 / 5 + 32, 1) + " °F"},
       "value.value",
       given.of});
}

/// Under the highest floor that a farm has set.
Result<void> note_low_oxygen(const Book& book, const ReadingGiven& given, std::vector<Caution>& cautions) {
  if (given.quantity != "oxygen" || !given.value || given.value->dimension() != Dimension::MassPerVolume) return {};
  Query floors = book.db().query(
      "SELECT limit_value, limit_by FROM k_limit WHERE which = 'oxygen' AND struck IS NULL AND limit_value IS NOT "
      "NULL");
  std::string floor_text, by;
  double floor = 0;
  while (floors.next()) {
    FarmLimit limit;
    limit.which = "oxygen";
    limit.typed = floors.text(0);
    limit.value = parse_decimal(limit.typed).value_or(0);
    const auto written = limit_written(limit);
    if (!written || si(*written).to_double() <= floor) continue;
    floor = si(*written).to_double();
    floor_text = written->text;
    by = floors.text(1);
  }
  TRY(floors.done());
  if (floor > 0 && si(*given.value).to_double() < floor * (1 - 1e-9))
    cautions.push_back({"check.oxygen-under"_w,
                        {record_label(book, given.of), amount_value_text(*given.value), floor_text, by},
                        "value.value",
                        given.of});
  return {};
}

FieldValue reading_value(const ReadingGiven& given) {
  if (given.not_taken) return not_taken("value.value");
  if (given.value) return quantity_value("value.value", given.value->text);
  if (given.number) return number_value("value.value", *given.number);
  return word_value("value.value", given.word);
}

}  // namespace

Result<std::vector<Caution>> reading_cautions(const Book& book, const ReadingGiven& given) {
  std::vector<Caution> cautions;
  if (given.not_taken) return cautions;
  note_freezing(given, cautions);
  TRY(note_low_oxygen(book, given, cautions));
  return cautions;
}

Result<Outcome> write_reading(Book& book, std::vector<Save> saves, const Id& record, std::vector<Caution> cautions,
                              const Going& going) {
  const bool only_low =
      std::all_of(cautions.begin(), cautions.end(), [](const Caution& c) { return c.word == "check.oxygen-under"_w; });
  if (!only_low) return write_with(book, std::move(saves), record, std::move(cautions), going);
  TRY_ASSIGN(Outcome outcome, write_with(book, std::move(saves), record, {}, going));
  outcome.cautions = std::move(cautions);
  return outcome;
}

Result<Outcome> add_reading(Book& book, const ReadingGiven& given, const Going& going) {
  const Stamp now = book.now();
  const Moment at = given.at.value_or(now.at);
  Cautions cautions(going);
  TRY(cautions.ask(check_when(at, now.at, "at")));
  if (given.number && !parse_decimal(*given.number))
    return refuse(Trouble::BadInput, "check.number"_w, {*given.number}, "value.value");
  if (!given.not_taken && !given.value && !given.number && given.word.empty())
    return refuse(Trouble::BadInput, "check.reading-empty"_w, {}, "value.value");
  TRY(cautions.ask(check_reading(given.quantity, reading_value(given))));
  TRY_ASSIGN(std::vector<Caution> more, reading_cautions(book, given));
  cautions.add(std::move(more));
  std::vector<FieldValue> fields{reference_value("of", given.of), word_value("quantity", given.quantity),
                                 reading_value(given)};
  add_text(fields, "value.instrument", given.instrument);
  fields.push_back(instant_value("at", stamp_of(book, at)));
  std::vector<Save> saves{new_save(book, "reading", std::move(fields))};
  const Id record = saves.front().record;
  if (const std::string note = clean_text(given.note); !note.empty())
    saves.push_back(new_save(
        book, "note", {reference_value("of", record), text_field_value("text", note), instant_value("at", now)}));
  return write_reading(book, std::move(saves), record, cautions.take(), going);
}

Result<Outcome> add_note(Book& book, const Id& of, std::string_view text, const Going& going) {
  const std::string clean = clean_text(text);
  if (clean.empty()) return refuse(Trouble::BadInput, "record.note-empty"_w, {}, "text");
  Save save = new_save(book, "note",
                       {reference_value("of", of), text_field_value("text", clean), instant_value("at", book.now())});
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, {}, going);
}

Result<Outcome> add_wash(Book& book, const Id& of, std::string_view method, Moment at, const Going& going) {
  Cautions cautions(going);
  TRY(cautions.ask(check_when(at, book.now().at, "at")));
  const std::string kind = book.kind_of(of);
  if (kind != "rig" && kind != "vessel") return refuse(Trouble::BadInput, "check.wash-of"_w, {}, "of");
  TRY_ASSIGN(const TankHistory& history, kind == "rig" ? rig_history(book, of, at) : vessel_history(book, of, at));
  std::vector<FieldValue> fields{reference_value("of", of)};
  std::string held = history.held;
  if (held.empty() && !history.held_brew.is_nil()) {
    TRY_ASSIGN(const Codes& codes, Codes::read(book));
    held = "brew " + codes.text(history.held_brew);
  }
  add_text(fields, "held", held);
  add_text(fields, "how.method", method);
  add_reference(fields, "by", going.person);
  fields.push_back(instant_value("at", stamp_of(book, at)));
  Save save = new_save(book, "wash", std::move(fields));
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, cautions.take(), going);
}

namespace {

/// What a brew or load still has to give, as far as known: of a load what it held, less what was poured out.
Result<std::optional<Volume>> left_in(const Book& book, const Id& of) {
  if (book.kind_of(of) == "brew") {
    TRY_ASSIGN(const BrewBalance& balance, read_brew_balance(book, of));
    return balance.left;
  }
  TRY_ASSIGN(const Load& load, read_load(book, of));
  TRY_ASSIGN(const Pass& pass, read_pass(book, load.pass));
  TRY_ASSIGN(const std::vector<LoadSheet>& sheets, load_sheets(book, pass));
  for (const LoadSheet& sheet : sheets)
    if (sheet.load.id == of && sheet.shares.held) return std::optional(*sheet.shares.held - sheet.discarded);
  return std::optional<Volume>{};
}

}  // namespace

Result<void> check_poured(const Book& book, const Id& of, const Written& volume, Volume counted) {
  TRY_ASSIGN(const std::optional<Volume>& left, left_in(book, of));
  if (!left || as<Volume>(volume).si() <= left->si() + counted.si() + 1e-5) return {};
  return refuse(Trouble::Ask, "check.more-than-left"_w,
                {amount_value_text(volume), amount_value_text(std::max(Volume{}, *left + counted))}, "volume");
}

Result<Outcome> add_discard(Book& book, const Id& of, const std::optional<Written>& volume, const Id& place,
                            std::string_view words, Moment at, const Going& going) {
  Cautions cautions(going);
  TRY(cautions.ask(check_when(at, book.now().at, "at")));
  if (place.is_nil() && clean_text(words).empty())
    return refuse(Trouble::BadInput, "pass.poured-where"_w, {}, "where.words");
  if (volume) TRY(cautions.ask(check_poured(book, of, *volume, {})));
  std::vector<FieldValue> fields{reference_value("of", of), quantity_or_not_taken("volume", volume)};
  add_reference(fields, "where.place", place);
  add_text(fields, "where.words", words);
  fields.push_back(instant_value("at", stamp_of(book, at)));
  Save save = new_save(book, "discard", std::move(fields));
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, cautions.take(), going);
}

}  // namespace steep
