#pragma once
/// The kinds of records and their fields, as data.
///
/// Everything that treats all kinds alike (journal, wide tables, `enter`, `list`, CSV, review)
/// reads this table; nothing else lists the kinds. Names are the trade's own and are stored:
/// a field never changes meaning, unit or type, a word is never renamed. Add, never change.

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/result.h"
#include "quantity/dimension.h"

namespace steep {

/// Type letters of values in the journal; for ever. Every field also takes NotTaken.
enum class FieldType : char {
  Number = 'n',       ///< -?\d{1,15}(\.\d{1,9})?
  Quantity = 'q',     ///< as typed in normal form: '22 kg', '2 1/2 cup'; ≤ 40 bytes
  Text = 't',         ///< ≤ 32 KiB of UTF-8
  Word = 'w',         ///< one of a list of stored words
  YesNo = 'b',        ///< 'yes' / 'no'
  Date = 'd',         ///< 'YYYY-MM-DD', no zone
  Instant = 'i',      ///< RFC 3339 with offset
  Reference = 'r',    ///< id of a record
  ContentHash = 'h',  ///< 64 hexadecimal digits
  Censored = 'c',     ///< number with '<' or '>' kept: '<1'
  NotTaken = 'x',     ///< not taken, not known, or taken back; text is empty
  List = 'l',         ///< list of short texts
};

/// Which share of the book a kind lies in. A record belongs to one part for ever.
enum class PartRule {
  HouseBase,  ///< people, materials, rigs …
  HouseYear,  ///< brews and what hangs on them
  FarmBase,   ///< places and rules of one farm
  FarmYear,   ///< work on one farm
  OfParent,   ///< the part of the record it hangs on (line, event, reading, note …)
};

/// A closed share of the book: the house or one farm, its base or one year. Text: 'house/base',
/// 'house/2026', '<farm id>/base', '<farm id>/2026'.
struct Part {
  Id farm;       ///< Nil = the house.
  int year = 0;  ///< 0 = base.
  auto operator<=>(const Part&) const = default;
  std::string text() const;
  static std::optional<Part> parse(std::string_view text);
};

struct FieldDef {
  std::string_view key;    ///< 'group.field', or a lone field, its own group.
  std::string_view types;  ///< Allowed type letters beside 'x': "q", "nq" …
  /// Dimension of a quantity; empty where the record says (limits, readings).
  std::optional<Dimension> dimension = std::nullopt;
  /// Kind a reference points to ("bed"), several by '|' ("brew|load"), or the stored words of a word field by '|'.
  std::string_view of = {};
  bool required = false;  ///< A new record without it is refused.
};

struct KindDef {
  std::string_view name;  ///< Singular, hyphens: 'water-source'. Stored, and the word on the command line.
  PartRule rule;
  std::string_view parent;           ///< For OfParent: key of the reference that decides ('brew', 'of' …).
  std::span<const FieldDef> fields;  ///< Without the common ones.
};

/// All kinds, in the order in which they are best read: places, people and things, work.
std::span<const KindDef> kinds();
const KindDef* find_kind(std::string_view name);
/// A field of the kind, the common ones included; nullptr = unknown (kept, shown raw).
const FieldDef* find_field(const KindDef& kind, std::string_view key);
/// struck, late.at, late.from, same_as, not_same: fields of every kind.
std::span<const FieldDef> common_fields();
/// 'what.load' → 'what'; 'note' → 'note'.
std::string_view group_of(std::string_view key);

}  // namespace steep
