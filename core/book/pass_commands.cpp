#include "book/pass_commands.h"

#include <algorithm>

#include "book/checks.h"
#include "book/pass_doses.h"
#include "book/spelled.h"

namespace steep {
namespace {

Result<void> check_volume(const std::optional<Written>& volume) {
  if (volume && volume->amount.is_zero())
    return refuse(Trouble::Ask, "check.done-with-nothing"_w, {volume->text}, "what.volume");
  return {};
}

/// Writes doses over these stretches of one bed, the measured volume shared by length.
Result<Outcome> write_stretches(Book& book, const PassState& state, const PassBed& bed,
                                const std::vector<Stretch>& stretches, BedTimes times,
                                const std::optional<Written>& volume, std::string_view note, const Going& going) {
  TRY(check_bed(bed, going));
  TRY(check_volume(volume));
  double length = 0;
  for (const Stretch stretch : stretches) length += stretch.length().si();
  std::vector<Save> saves;
  for (const Stretch stretch : stretches) {
    DoseGiven given{state.tank.load, bed.bed,      stretch, is_whole(bed, stretch), false,
                    times.start,     times.finish, volume,  std::string(note)};
    if (volume && stretches.size() > 1 && length > 0)
      given.volume = write_quantity(as<Volume>(*volume) * (stretch.length().si() / length), *volume->unit);
    saves.push_back(dose_save(book, given));
  }
  const Id record = saves.front().record;
  return write_with(book, std::move(saves), record, bed.cautions, going);
}

}  // namespace

Result<Outcome> bed_done(Book& book, const DoneRequest& request, const Going& going) {
  TRY_ASSIGN(const PassState& state, working_state(book, request.pass, request.bed));
  TRY_ASSIGN(const PassBed* bed, open_bed(state, request.bed));
  const BedTimes times = times_of(book, state, request.start, request.finish);
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

Result<Outcome> change_stretch(Book& book, const Id& dose_id, const Written& from, const Written& to,
                               const Going& going) {
  TRY_ASSIGN(const Dose& dose, read_dose(book, dose_id));
  TRY_ASSIGN(const Bed& bed, read_bed(book, dose.bed));
  const Length a = std::min(as<Length>(from), as<Length>(to)), b = std::max(as<Length>(from), as<Length>(to));
  if (b.si() - a.si() <= 0.01) return refuse(Trouble::Ask, "check.done-with-nothing"_w, {to.text}, "what.to");
  if (bed.length && b.si() > bed.length->si() + 0.01)
    return refuse(Trouble::BadInput, "check.beyond-bed"_w,
                  {bed.name, amount_value_text(to), amount_value_text(*bed.length)}, "what.to");
  TRY_ASSIGN(const std::optional<Record>& record, book.record(dose_id));
  if (!record) return refuse(Trouble::NotFound, "record.not-here"_w);
  // The group 'what' is written whole: its other fields are carried along as they stand.
  std::vector<FieldValue> fields;
  for (const Group& group : record->groups)
    if (group.key == "what") fields = group.heads.front().fields;
  const bool whole = bed.length && a.si() <= 0.01 && b.si() >= bed.length->si() - 0.01;
  for (FieldValue& field : fields) {
    if (field.key == "what.from")
      field = quantity_value("what.from", (as<Length>(from) <= as<Length>(to) ? from : to).text);
    if (field.key == "what.to")
      field = quantity_value("what.to", (as<Length>(from) <= as<Length>(to) ? to : from).text);
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

}  // namespace steep
