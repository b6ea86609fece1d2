#pragma once
/// Putting saves together: what commands have in common. Only core/book includes this.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/pass_start.h"
#include "quantity/written.h"

namespace steep {

/// A save of a new record.
Save new_save(const Book& book, std::string_view kind, std::vector<FieldValue> fields, std::string_view why = {});
/// A save over an existing record, having seen all its heads as they are now. Trouble::NotFound.
Result<Save> change_save(const Book& book, const Id& record, std::vector<FieldValue> fields, std::string_view why = {});

/// Present = the quantity; nullopt = not taken.
FieldValue quantity_or_not_taken(std::string key, const std::optional<Written>& value);
/// Adds a reference or text only when there is one.
void add_reference(std::vector<FieldValue>& fields, std::string key, const Id& id);
void add_text(std::vector<FieldValue>& fields, std::string key, std::string_view text);
/// All fields of a weather group; nothing when it was not answered.
void add_weather(std::vector<FieldValue>& fields, std::string_view group, const WeatherGiven& weather);
/// With the offset that this copy's clock has now.
Stamp stamp_of(const Book& book, Moment at);

/// Texts from people: control characters out, ends trimmed.
std::string clean_text(std::string_view text);

/// By id, struck or not. Trouble::NotFound "record.not-here".
Result<Record> existing_record(const Book& book, const Id& id);
/// A reason as typed, without blanks around. Trouble::BadInput "record.reason-asked" when nothing is left.
Result<std::string> asked_reason(std::string_view why);

/// Copies differ about a fact that is to be rewritten in part: the rest would come from one of them unseen.
/// Trouble::BadInput "record.settle-first".
Result<void> refuse_mixing(const Record& record, const std::vector<FieldValue>& fields);

/// The checks of one kind over what a person writes now: values given and, over an existing record, those that stay
/// (`old`). What came by a file is not checked here. Trouble: BadInput (Stop); Ask without a reason to go on. What is left
/// are Warns, and Asks gone on with.
Result<std::vector<Caution>> check_entry(const Book& book, std::string_view kind, const std::vector<FieldValue>& fields,
                                         const Record* old, const Going& going);
/// Writes one that was checked. A low reading is the reading itself: kept at once, see write_reading.
Result<Outcome> write_entry(Book& book, Save save, std::vector<Caution> cautions, const Going& going);

/// Writes them as one transaction. Trouble: Ask "check.clock-wrong" when a time of work comes from a clock
/// that cannot be right. With cautions and no reason nothing is written; with a reason it is
/// kept as the `why` of the first save, behind a reason that it has.
Result<Outcome> write_with(Book& book, std::vector<Save> saves, const Id& record, std::vector<Caution> cautions,
                           const Going& going);

}  // namespace steep
