#pragma once
/// Entering a record of any kind by the names of its fields: the command line, forms that treat all kinds alike.

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/zone.h"
#include "book/book.h"
#include "book/caution.h"
#include "quantity/written.h"

namespace steep {

/// How texts are read.
struct EnterAs {
  Habits habits;
  Id farm;  ///< Whose beds, zone and units are meant; nil = the only farm, else Ask.
};

/// Field names as in kinds.cpp, without their group where that is unique: 'bed=N7', 'volume=1.5 gal',
/// 'what.from=0 ft'. '-' or 'not taken' = not taken. A list is separated by ','. A reference is an id, a
/// name or a code ('B7', 'brew 31', 'Ana'). A time is '2026-05-14 18:04', '18:04' (today) or RFC 3339.
using EnterFields = std::vector<std::pair<std::string, std::string>>;

/// What the texts mean, before anything is written.
/// Trouble: BadInput  unknown kind or field, a value that doesn't read; Ask  two readings; NotFound  a
/// reference to nothing. Problem::place = the field. `old`: the record that they go to; nullptr = a new one.
Result<std::vector<FieldValue>> read_fields(const Book& book, std::string_view kind, const EnterFields& fields,
                                            const EnterAs& as, const Record* old = nullptr);
/// The value of one field.
Result<FieldValue> read_field(const Book& book, const FieldDef& field, std::string_view typed, const EnterAs& as);
/// A record by id, name or code, of one of the kinds ('bed', 'brew|load'; empty = any), also with the word for its kind
/// before it: 'lot K-19', 'cama N7', 'load 48 / 2'. Trouble: NotFound, Ask.
/// Where names are equal, those of `farm` go before, and the end of the id tells the rest apart: 'Rosa ncqewx'.
Result<Id> find_record(const Book& book, std::string_view kinds, std::string_view typed, const Id& farm);
/// The same among what was struck, to bring it back.
Result<Id> find_struck(const Book& book, std::string_view kinds, std::string_view typed);
/// Local time as people type it, in the farm's zone: '28 nov 10 pm', '22h30', 'mañana 6:00'. Ask for a day without its hour,
/// for the hour that came twice or not at all, for a day that can be read two ways, and for one that lies decades off.
Result<Stamp> read_time(std::string_view typed, const Zone& zone, Stamp now);
/// Does it say its difference from world time: '…Z', '… -05:00'? Such a time is one moment, whatever the zone.
bool names_offset(std::string_view typed);
/// '2026-05-14', '14 May 2026', '14 may', 'tomorrow'; digits alone that read two ways are Ask.
Result<Date> read_date(std::string_view typed, Date today);

/// Reads, checks and writes one record (entered after the fact). Brews and passes get a number, harvests
/// a code, when none is given. Outcome::record = the new record.
Result<Outcome> enter(Book& book, std::string_view kind, const EnterFields& fields, const EnterAs& as,
                      const Going& going);
/// The same over an existing record: a correction (record_commands.h). `why` is its reason; Going::reason goes on in spite
/// of what the checks say.
Result<Outcome> amend(Book& book, const Id& record, const EnterFields& fields, const EnterAs& as, std::string_view why,
                      const Going& going);

}  // namespace steep
