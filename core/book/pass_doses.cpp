#include "book/pass_doses.h"

#include <algorithm>

#include "book/rows.h"
#include "book/spelled.h"

namespace steep {
namespace {

std::string place_text(Length place, const Unit& in) { return write_quantity(place, in, 2).text; }

}  // namespace

Save dose_save(const Book& book, const DoseGiven& given) {
  const auto bed = read_bed(book, given.bed);
  const BedSizeWritten size = bed ? bed_size_written(book, *bed) : BedSizeWritten{};
  // The unit in which the bed's length was written, so that '100 ft' is halved to '50 ft'.
  const Unit& in = size.length ? *size.length->unit : unit("ft");
  std::vector<FieldValue> fields{reference_value("what.load", given.load), reference_value("what.bed", given.bed),
                                 quantity_value("what.from", place_text(given.stretch.from, in)),
                                 quantity_value("what.to", place_text(given.stretch.to, in))};
  fields.push_back(size.width ? quantity_value("what.width", size.width->text) : not_taken("what.width"));
  fields.push_back(quantity_or_not_taken("what.volume", given.volume));
  fields.push_back(word_value("what.how", given.skipped ? "skipped" : given.whole ? "done" : "part"));
  fields.push_back(instant_value("when.start", given.start));
  fields.push_back(instant_value("when.finish", given.finish));
  add_text(fields, "note", given.note);
  return new_save(book, "dose", std::move(fields));
}

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

BedTimes times_of(const Book& book, const PassState& state, std::optional<Moment> start, std::optional<Moment> finish) {
  const Moment end = finish.value_or(book.now().at);
  Moment begin = std::min(start.value_or(state.in_hand_since.value_or(end)), end);
  // A pass left open over a meal or a night: nobody walked one bed for so long (common practice, no source).
  if (!start && end - begin > kHour)
    begin = end - static_cast<std::int64_t>(state.walk_time.value_or(Duration{}).seconds() * kSecond);
  return {stamp_of(book, begin), stamp_of(book, end)};
}

bool is_whole(const PassBed& bed, Stretch stretch) {
  return stretch.from.si() <= 0.01 && stretch.to.si() >= bed.length.si() - 0.01;
}

Result<void> check_bed(const PassBed& bed, const Going& going) {
  if (bed.stop && !going.after_the_fact) return tl::unexpected<Problem>(*bed.stop);
  return {};
}

std::vector<Stretch> walked_to(const PassBed& bed, Length place) {
  std::vector<Stretch> out;
  for (const Stretch part : bed.open) {
    const Stretch reached =
        bed.from_far_end ? Stretch{std::max(part.from, place), part.to} : Stretch{part.from, std::min(part.to, place)};
    if (reached.length().si() > 0.01) out.push_back(reached);
  }
  return out;
}

std::optional<Volume> spray_on(const PassBed& bed, const std::vector<Stretch>& parts) {
  Length length;
  for (const Stretch part : parts) length += part.length();
  if (length.si() <= 0) return Volume{};
  if (!bed.spray || bed.open_length().si() <= 0) return std::nullopt;
  return *bed.spray * std::min(1.0, length / bed.open_length());
}

}  // namespace steep
