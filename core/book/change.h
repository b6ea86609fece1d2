#pragma once
/// One line of the journal: one save by one person on one record. Written once, kept byte for byte.
///
/// {"v":1,"l":lane,"n":seq,"t":ms,"c":counter,"w":wall ms,"z":zone minutes,"u":person,"r":record,
///  "k":kind,"a":act,"e":1,"s":[what the author saw],"why":reason,"f":[[key,type,value]…]}
///
/// Keys in this order; a first line of a lane carries also "p":part after "n", and any line may carry
/// "m":[tips of other lanes learned since this lane's last save] and "must":1 at its end.
/// The hash of a line is SHA-256(hash of the line before || line bytes), the first one's
/// predecessor being SHA-256("steepbook/1" || lane text). Nothing is ever re-serialised.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "base/moment.h"
#include "base/result.h"
#include "base/sha256.h"
#include "book/kinds.h"

namespace steep {

/// The address of a change: 'lane.sequence.tag', the tag being the first 8 hexadecimal digits of
/// its hash, so that a forked lane stays exact.
struct ChangeRef {
  Id lane;
  std::int64_t seq = 0;  ///< From 1.
  std::uint32_t tag = 0;
  auto operator<=>(const ChangeRef&) const = default;
  std::string text() const;
  static std::optional<ChangeRef> parse(std::string_view text);
};
ChangeRef ref_of(const Id& lane, std::int64_t seq, const Hash& hash);
/// First 8 hexadecimal digits of the hash, as a number.
std::uint32_t tag_of(const Hash& hash);

/// One field as written: its key, its type letter, its value as text.
struct FieldValue {
  std::string key;
  FieldType type = FieldType::Text;
  std::string text;                ///< Of NotTaken empty; of List empty.
  std::vector<std::string> items;  ///< Of List.
  bool operator==(const FieldValue&) const = default;
};
FieldValue text_field_value(std::string key, std::string text);
FieldValue quantity_value(std::string key, std::string normal_form);
FieldValue number_value(std::string key, std::string number);
FieldValue word_value(std::string key, std::string_view word);
FieldValue yes_no_value(std::string key, bool yes);
FieldValue date_value(std::string key, Date date);
FieldValue instant_value(std::string key, Stamp stamp);
FieldValue reference_value(std::string key, const Id& id);
FieldValue not_taken(std::string key);
FieldValue list_value(std::string key, std::vector<std::string> items);

struct Change {
  Id lane;
  std::int64_t seq = 0;
  std::optional<Part> part;  ///< Of line 1.
  std::int64_t t = 0;        ///< Hybrid logical clock, ms; picks the stand-in among concurrent heads only.
  std::int64_t c = 0;        ///< Its counter.
  std::int64_t wall = 0;     ///< Raw wall clock, ms; 0 ≤ wall < 2^47.
  int zone_minutes = 0;
  Id person;  ///< Nil before anybody is named.
  Id record;
  std::string kind;
  std::int64_t act = 0;  ///< Sequence of the act's first line.
  bool act_ends = false;
  std::vector<ChangeRef> seen;
  std::string why;
  std::vector<FieldValue> fields;
  std::vector<ChangeRef> tips;  ///< "m"
  bool must = false;            ///< A newer program is needed to show this record.
  bool unknown_keys = false;    ///< The line had top-level keys of a newer version.
};

/// Limits on a line, each with a test.
inline constexpr std::size_t kMaxLine = 64 * 1024, kMaxFields = 256, kMaxSeen = 1000, kMaxValue = 32 * 1024,
                             kMaxItems = 1000, kMaxItem = 200, kMaxQuantity = 40, kMaxWhy = 2 * 1024, kMaxName = 64;
inline constexpr std::int64_t kMaxActLines = 10'000, kMaxWall = std::int64_t{1} << 47,
                              kMaxInteger = std::int64_t{1} << 53;

/// The line without its newline. Values must already be valid for their type.
std::string write_change(const Change& change);
/// Strict and without recursion: every rule of the grammar, limits included. No white space, keys in
/// their order. Unknown top-level keys with a string, integer or flat array are skipped (a newer
/// minor version); unknown kinds, fields and type letters are kept. Trouble::Unsupported for another
/// "v", Trouble::Damaged for all else, `place` = byte within the line.
Result<Change> read_change(std::string_view line);
/// The same into one that is there already: of a million lines none asks for memory. Of no use after a refusal.
Result<void> read_change(std::string_view line, Change& into);

/// Does `text` fit the grammar of its type letter? Of a quantity the shape alone: the unit may be
/// one of a newer version. Letters of a newer version take any text.
bool fits_type(FieldType type, std::string_view text);
/// One item of a list: at most kMaxItem bytes of UTF-8 without control characters.
bool fits_item(std::string_view item);
bool is_known_type(FieldType type);
/// 'water-source'; 'what.load' or 'note'. At most kMaxName bytes.
bool is_kind_name(std::string_view text);
bool is_field_key(std::string_view text);
/// Quoted and escaped as in a change line.
void write_json_string(std::string& out, std::string_view text);

Hash chain_start(const Id& lane);
Hash chain_next(const Hash& before, std::string_view line);

}  // namespace steep
