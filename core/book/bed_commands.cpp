// What is entered from a bed's page: harvests, and holds set by hand.
#include <algorithm>

#include "book/bed_states.h"
#include "book/brew_commands.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/entry.h"
#include "book/places.h"
#include "book/saves.h"
#include "book/spelled.h"

namespace steep {
namespace {

/// Do two stretches share ground?
bool meet(Stretch a, Stretch b) { return a.from < b.to && b.from < a.to; }

/// The holds on what was picked: of its stretch, and of its planting; else the longest on the bed. It is held when all are.
std::vector<Hold> holds_on(const BedState& state, const HarvestGiven& picked) {
  std::vector<Hold> holds;
  if (picked.from && picked.to) {
    const Length a = as<Length>(*picked.from), b = as<Length>(*picked.to);
    std::vector<Hold> parts;
    for (const StretchState& part : state.stretches)
      if (meet(part.stretch, {std::min(a, b), std::max(a, b)})) parts.push_back(part.harvest.hold);
    if (!parts.empty()) holds.push_back(latest_hold(parts));
  }
  for (const PlantingState& one : state.plantings)
    if (!picked.planting.is_nil() && one.planting == picked.planting) holds.push_back(one.harvest.hold);
  if (holds.empty()) holds.push_back(state.harvest.hold);
  return holds;
}

std::vector<Caution> wait_cautions(const BedState* state, const std::string& bed, const HarvestGiven& picked,
                                   Moment at) {
  if (!state) return {};
  const std::vector<Hold> holds = holds_on(*state, picked);
  if (!std::all_of(holds.begin(), holds.end(), [&](const Hold& hold) { return hold.holds_at(at); })) return {};
  const Hold& hold = holds.front();
  std::vector<std::string> values{bed};
  if (hold.until) values.push_back(moment_value_text(*hold.until));
  return {{hold.state == Hold::State::Until ? "check.picked-inside-wait"_w : "check.picked-while-held"_w,
           std::move(values), "at", state->bed.id}};
}

}  // namespace

Result<std::vector<Caution>> harvest_cautions(const Book& book, const HarvestGiven& picked, Moment at) {
  TRY_ASSIGN(const Bed& bed, read_bed(book, picked.bed));
  TRY_ASSIGN(const BedStates& states, bed_states(book, bed.farm, at));
  return wait_cautions(states.bed(picked.bed), bed.name, picked, at);
}

Result<Outcome> add_harvest(Book& book, const HarvestGiven& given, const Going& going) {
  const Stamp now = book.now();
  const Moment at = given.at.value_or(now.at);
  Cautions cautions(going);
  TRY(cautions.ask(check_when(at, now.at, "at")));
  TRY_ASSIGN(const Bed& bed, read_bed(book, given.bed));
  TRY_ASSIGN(const Farm& farm, read_farm(book, bed.farm));
  TRY_ASSIGN(const BedStates& states, bed_states(book, farm.id, at));
  cautions.add(wait_cautions(states.bed(given.bed), bed.name, given, at));
  std::string crop;
  if (!given.planting.is_nil()) {
    TRY_ASSIGN(const std::vector<Planting>& plantings, plantings_of(book, given.bed));
    for (const Planting& planting : plantings)
      if (planting.id == given.planting) crop = planting.crop;
  } else {
    crop = states.places.crop_names(given.bed);
  }
  std::string code = clean_text(given.code);
  if (code.empty()) {
    TRY_ASSIGN(code, next_harvest_code(book, farm, bed, crop, farm.day(at)));
  }
  std::vector<FieldValue> fields{reference_value("bed", given.bed), instant_value("at", stamp_of(book, at)),
                                 text_field_value("code", code), quantity_or_not_taken("amount", given.amount)};
  if (given.from && given.to) {
    fields.push_back(quantity_value("stretch.from", given.from->text));
    fields.push_back(quantity_value("stretch.to", given.to->text));
  }
  add_reference(fields, "planting", given.planting);
  add_reference(fields, "by", going.person);
  Save save = new_save(book, "harvest", std::move(fields));
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, cautions.take(), going);
}

Result<Outcome> set_hold(Book& book, const Id& bed, bool harvest, bool entry, std::optional<Moment> until,
                         std::string_view why, const Going& going) {
  const std::string reason = clean_text(why);
  if (reason.empty()) return refuse(Trouble::BadInput, "record.reason-asked"_w, {}, "why");
  if (!harvest && !entry) return refuse(Trouble::BadInput, "check.hold-what"_w, {}, "what");
  if (until && *until <= book.now().at)
    return refuse(Trouble::BadInput, "check.hold-past"_w, {moment_value_text(*until)}, "until");
  std::vector<FieldValue> fields{reference_value("bed", bed),
                                 word_value("what", harvest && entry ? "both"
                                                    : harvest        ? "harvest"
                                                                     : "entry"),
                                 text_field_value("why", reason)};
  if (until) fields.push_back(instant_value("until", stamp_of(book, *until)));
  Save save = new_save(book, "hold", std::move(fields));
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, {}, going);
}

Result<Outcome> release_hold(Book& book, const Id& hold, std::string_view why, const Going& going) {
  const std::string reason = clean_text(why);
  if (reason.empty()) return refuse(Trouble::BadInput, "record.reason-asked"_w, {}, "why");
  Save save =
      new_save(book, "release",
               {reference_value("hold", hold), text_field_value("why", reason), instant_value("at", book.now())});
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, {}, going);
}

}  // namespace steep
