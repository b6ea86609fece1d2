#include "book/saves.h"

#include "base/text.h"
#include "base/version.h"
#include "book/spelled.h"

namespace steep {
namespace {

/// A clock that cannot be right gives no time of work: a wait counted from 1970 would have ended long ago.
/// Times that a person typed are far from what it shows, and pass.
Result<void> check_clock(const Book& book, const std::vector<Save>& saves) {
  const Moment now = book.now().at;
  if (now.ms >= kProgramBornMs) return {};
  for (const Save& save : saves)
    for (const FieldValue& field : save.fields) {
      const auto stamp = field.type == FieldType::Instant ? parse_stamp(field.text) : std::nullopt;
      if (stamp && std::abs(stamp->at - now) < kDay)
        return refuse(Trouble::Ask, "check.clock-wrong"_w, {moment_value_text(now)}, field.key);
    }
  return {};
}

/// Why it was corrected, and why all the same.
void keep_reason(std::string& why, const std::string& reason) {
  if (why.empty())
    why = reason;
  else if (why != reason && why.size() + reason.size() + 2 <= kMaxWhy)
    why += "; " + reason;
}

}  // namespace

Save new_save(const Book& book, std::string_view kind, std::vector<FieldValue> fields, std::string_view why) {
  Save save;
  save.record = book.new_record();
  save.kind = std::string(kind);
  save.fields = std::move(fields);
  save.why = std::string(why);
  return save;
}

Result<Save> change_save(const Book& book, const Id& record, std::vector<FieldValue> fields, std::string_view why) {
  TRY_ASSIGN(const std::optional<Record>& found, book.record(record));
  if (!found) return refuse(Trouble::NotFound, "record.not-here"_w);
  Save save;
  save.record = record;
  save.kind = found->kind;
  save.part = found->part;
  save.fields = std::move(fields);
  save.seen = found->heads();
  save.why = std::string(why);
  return save;
}

FieldValue quantity_or_not_taken(std::string key, const std::optional<Written>& value) {
  return value ? quantity_value(std::move(key), value->text) : not_taken(std::move(key));
}

void add_reference(std::vector<FieldValue>& fields, std::string key, const Id& id) {
  if (!id.is_nil()) fields.push_back(reference_value(std::move(key), id));
}

void add_text(std::vector<FieldValue>& fields, std::string key, std::string_view text) {
  const std::string clean = clean_text(text);
  if (!clean.empty()) fields.push_back(text_field_value(std::move(key), clean));
}

void add_weather(std::vector<FieldValue>& fields, std::string_view group, const WeatherGiven& weather) {
  if (!weather.is_answered()) return;
  const auto key = [&](std::string_view field) { return std::string(group) + '.' + std::string(field); };
  fields.push_back(quantity_or_not_taken(key("wind"), weather.wind));
  fields.push_back(quantity_or_not_taken(key("temperature"), weather.temperature));
  add_text(fields, key("direction"), weather.direction);
  add_text(fields, key("sky"), weather.sky);
  add_text(fields, key("where"), weather.where);
}

Stamp stamp_of(const Book& book, Moment at) { return {at, book.now().offset_minutes}; }

std::string clean_text(std::string_view text) { return std::string(trim(printable(text))); }

Result<Outcome> write_with(Book& book, std::vector<Save> saves, const Id& record, std::vector<Caution> cautions,
                           const Going& going) {
  Outcome outcome;
  outcome.record = record;
  outcome.cautions = std::move(cautions);
  TRY(check_clock(book, saves));
  const std::string reason = clean_text(going.reason);
  if (!outcome.cautions.empty() && reason.empty()) return outcome;
  if (!outcome.cautions.empty() && !saves.empty()) keep_reason(saves.front().why, reason);
  TRY(book.write(saves, going.person));
  outcome.written = true;
  return outcome;
}

Result<Record> existing_record(const Book& book, const Id& id) {
  TRY_ASSIGN(const std::optional<Record>& found, book.record(id));
  if (!found) return refuse(Trouble::NotFound, "record.not-here"_w);
  return *found;
}

Result<std::string> asked_reason(std::string_view why) {
  std::string reason = clean_text(why);
  if (reason.empty()) return refuse(Trouble::BadInput, "record.reason-asked"_w, {}, "why");
  return reason;
}

}  // namespace steep
