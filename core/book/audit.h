#pragma once
/// Who changed what, when, on which copy, and what stood there before: of one record or of the whole book.

#include <optional>
#include <string>
#include <vector>

#include "base/zone.h"
#include "book/book.h"
#include "book/tables.h"

namespace steep {

/// One field as a change wrote it, beside what its author had seen there.
struct FieldChange {
  FieldValue now;
  /// Distinct old values; several where the author saw versions that differed, none where nothing stood there.
  std::vector<FieldValue> before;
};
struct RecordChange {
  HistoryLine line;
  std::vector<FieldChange> fields;
  bool creates = false;  ///< Its author saw nothing: a new record.
};

/// The record's history by cause first, time second. Also changes that wait, and those of files set aside.
Result<std::vector<RecordChange>> changes_of(const Book& book, const Id& record);

struct AuditOptions {
  std::optional<Id> record = {};           ///< Only this one.
  std::optional<Id> farm = {};             ///< Only records of this farm (and the house).
  std::string kind = {};                   ///< Only records of this kind; empty = of all.
  std::optional<Date> from = {}, to = {};  ///< By the day of writing, on the farm's clock.
};
/// One row for every field of every change, in the order of writing: when, by whom, on which copy, of which
/// record, before, now, why, the change's address and hash. Texts as they stand in the journal, times on the farm's clock.
/// Trouble::BadInput "table.no-kind", "table.days".
Result<Table> audit_table(const Book& book, const AuditOptions& options = {});

}  // namespace steep
