#include "book/entry.h"

#include <algorithm>

#include "book/brew_commands.h"
#include "book/saves.h"

namespace steep {

std::optional<Written> amount_in_field(const FieldValue* field) {
  if (!field || field->type != FieldType::Quantity) return std::nullopt;
  const auto read = parse_written(field->text);
  return read ? std::optional<Written>(*read) : std::nullopt;
}

std::optional<Moment> moment_in_field(const FieldValue* field) {
  const auto stamp = field && field->type == FieldType::Instant ? parse_stamp(field->text) : std::nullopt;
  return stamp ? std::optional<Moment>(stamp->at) : std::nullopt;
}

Id reference_in_field(const FieldValue* field) {
  return field && field->type == FieldType::Reference ? Id::parse(field->text).value_or(Id{}) : Id{};
}

const FieldValue* Entry::given(std::string_view key) const {
  const auto found = std::find_if(fields.begin(), fields.end(), [&](const FieldValue& f) { return f.key == key; });
  return found == fields.end() ? nullptr : &*found;
}

const FieldValue* Entry::field(std::string_view key) const {
  const FieldValue* now = given(key);
  return now ? now : before(key);
}

bool Entry::changes(std::string_view key) const {
  const FieldValue *now = given(key), *stood = before(key);
  return now && (!stood || *now != *stood);
}

bool Entry::changes_any(std::initializer_list<std::string_view> keys) const {
  return std::any_of(keys.begin(), keys.end(), [&](std::string_view key) { return changes(key); });
}

std::string Entry::text(std::string_view key) const {
  const FieldValue* now = field(key);
  return now ? now->text : std::string();
}

Cautions::Cautions(const Going& going) : has_reason_(!clean_text(going.reason).empty()) {}

Result<void> Cautions::ask(Result<void> checked) {
  if (checked || checked.error().kind != Trouble::Ask || !has_reason_) return checked;
  all_.push_back({checked.error().word, checked.error().values, checked.error().place, {}});
  return {};
}

void Cautions::add(std::vector<Caution> cautions) {
  all_.insert(all_.end(), std::make_move_iterator(cautions.begin()), std::make_move_iterator(cautions.end()));
}

Result<std::vector<Caution>> check_entry(const Book& book, std::string_view kind, const std::vector<FieldValue>& fields,
                                         const Record* old, const Going& going) {
  const Entry entry(kind, fields, old);
  Cautions cautions(going);
  TRY(check_values(book, entry, cautions));
  TRY(check_beside(book, entry, cautions));
  return cautions.take();
}

Result<Outcome> write_entry(Book& book, Save save, std::vector<Caution> cautions, const Going& going) {
  const Id record = save.record;
  if (save.kind == "reading") return write_reading(book, {std::move(save)}, record, std::move(cautions), going);
  return write_with(book, {std::move(save)}, record, std::move(cautions), going);
}

}  // namespace steep
