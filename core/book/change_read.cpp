// The reader of change lines: one pass, no recursion, nothing guessed.
#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <cstring>

#include "base/text.h"
#include "book/change.h"

namespace steep {
namespace {

constexpr std::size_t kMaxUnknownKeys = 64;

/// Goes forward over the line. The first trouble stays; every function answers false from then on.
class Cursor {
 public:
  explicit Cursor(std::string_view line) : line_(line) {}

  bool fail(WordId word, Trouble kind = Trouble::Damaged) {
    if (!failed_) problem_ = Problem{kind, word, {}, std::to_string(at_)};
    failed_ = true;
    return false;
  }
  const Problem& problem() const { return problem_; }
  std::size_t at() const { return at_; }
  bool at_end() const { return at_ == line_.size(); }
  bool sees(char c) const { return at_ < line_.size() && line_[at_] == c; }
  bool skip_if(char c) {
    if (!sees(c)) return false;
    ++at_;
    return true;
  }
  bool take(char c) { return skip_if(c) || fail("journal.line.shape"_w); }
  /// Past '"c":' where it stands just so.
  bool skip_key(char c) {
    const char* next = line_.data() + at_;
    if (line_.size() - at_ < 4 || next[0] != '"' || next[1] != c || next[2] != '"' || next[3] != ':') return false;
    at_ += 4;
    return true;
  }

  /// A whole number without leading zeros, exponent or point, at most 2^53.
  bool integer(std::int64_t& out, bool may_be_negative = false) {
    const bool negative = may_be_negative && skip_if('-');
    const std::size_t start = at_;
    std::int64_t value = 0;
    while (at_ < line_.size() && line_[at_] >= '0' && line_[at_] <= '9') {
      if (at_ - start == 16) return fail("journal.line.limit"_w);
      value = value * 10 + (line_[at_++] - '0');
    }
    if (at_ == start || (line_[start] == '0' && (at_ - start > 1 || negative))) return fail("journal.line.shape"_w);
    if (value > kMaxInteger) return fail("journal.line.limit"_w);
    out = negative ? -value : value;
    return true;
  }

  /// A string of at most `limit` bytes once its escapes are read.
  bool string(std::string& out, std::size_t limit) {
    std::string_view text;
    if (!view(text, limit)) return false;
    if (text.data() == scratch_.data())
      out.swap(scratch_);
    else
      out.assign(text);
    return true;
  }

  /// The same without a copy where nothing is escaped; valid until the next string.
  bool view(std::string_view& out, std::size_t limit) {
    if (!take('"')) return false;
    const std::size_t start = at_;
    bool ascii = true;
    skip_plain(ascii);
    if (at_ < line_.size() && line_[at_] == '"') {
      out = line_.substr(start, at_ - start);
      if (out.size() > limit) return fail("journal.line.limit"_w);
      if (!ascii && !is_utf8(out)) return fail("journal.line.text"_w);
      ++at_;
      return true;
    }
    scratch_.assign(line_.substr(start, at_ - start));
    if (!unescape(limit, ascii)) return false;
    out = scratch_;
    return true;
  }

  bool id(Id& out) {
    std::string_view text;
    if (!view(text, kMaxName)) return false;
    const auto id = Id::parse(text);
    if (!id) return fail("journal.line.value"_w);
    out = *id;
    return true;
  }

  bool refs(std::vector<ChangeRef>& out) {
    if (!take('[')) return false;
    if (skip_if(']')) return true;
    std::string_view text;
    do {
      if (out.size() == kMaxSeen) return fail("journal.line.limit"_w);
      if (!view(text, kMaxName)) return false;
      const auto ref = ChangeRef::parse(text);
      if (!ref) return fail("journal.line.value"_w);
      out.push_back(*ref);
    } while (skip_if(','));
    return take(']');
  }

  /// A value under a key of a newer version: string, integer, or a flat array of these.
  bool skip_value() {
    if (!skip_if('[')) return skip_scalar();
    if (skip_if(']')) return true;
    do {
      if (!skip_scalar()) return false;
    } while (skip_if(','));
    return take(']');
  }

 private:
  /// To the character that ends or breaks the string, eight at a time: files of a million lines go through here.
  void skip_plain(bool& ascii) {
    std::uint64_t tops = 0;
    for (; kLowestFirst && at_ + 8 <= line_.size(); at_ += 8) {
      const std::uint64_t eight = eight_from(line_.data() + at_), found = specials(eight);
      if (found != 0) {
        at_ += static_cast<std::size_t>(std::countr_zero(found)) / 8;
        tops |= eight & kTops & ((found & -found) - 1);
        ascii = ascii && tops == 0;
        return;
      }
      tops |= eight & kTops;
    }
    ascii = ascii && tops == 0;
    for (; at_ < line_.size(); ++at_) {
      const auto c = static_cast<unsigned char>(line_[at_]);
      if (c < 0x20 || c == '"' || c == '\\') return;
      ascii = ascii && c < 0x80;
    }
  }

  static constexpr bool kLowestFirst = std::endian::native == std::endian::little;
  static constexpr std::uint64_t kOnes = 0x0101010101010101u, kTops = 0x8080808080808080u;
  static std::uint64_t eight_from(const char* text) {
    std::uint64_t eight = 0;
    std::memcpy(&eight, text, 8);
    return eight;
  }
  /// The top bit of characters below 0x20, of '"' and of '\': the lowest bit set is right, a borrow may set higher ones.
  static std::uint64_t specials(std::uint64_t eight) {
    const auto below = [](std::uint64_t all, std::uint64_t limit) { return (all - kOnes * limit) & ~all & kTops; };
    return below(eight, 0x20) | below(eight ^ kOnes * '"', 1) | below(eight ^ kOnes * '\\', 1);
  }

  /// The rest of a string whose beginning lies in scratch_, from its first escape on.
  bool unescape(std::size_t limit, bool ascii) {
    while (at_ < line_.size()) {
      if (scratch_.size() > limit) return fail("journal.line.limit"_w);
      const char c = line_[at_];
      if (c == '"') {
        if (!ascii && !is_utf8(scratch_)) return fail("journal.line.text"_w);
        ++at_;
        return true;
      }
      if (c != '\\') return fail("journal.line.text"_w);
      if (!escape(scratch_)) return false;
      const std::size_t start = at_;
      skip_plain(ascii);
      scratch_.append(line_.substr(start, at_ - start));
    }
    return fail("journal.line.shape"_w);
  }

  bool skip_scalar() {
    std::int64_t ignored = 0;
    std::string_view text;
    return sees('"') ? view(text, kMaxLine) : integer(ignored, true);
  }

  bool escape(std::string& out) {
    ++at_;
    if (at_ == line_.size()) return fail("journal.line.shape"_w);
    switch (line_[at_++]) {
      case '"': out += '"'; return true;
      case '\\': out += '\\'; return true;
      case '/': out += '/'; return true;
      case 'b': out += '\b'; return true;
      case 'f': out += '\f'; return true;
      case 'n': out += '\n'; return true;
      case 'r': out += '\r'; return true;
      case 't': out += '\t'; return true;
      case 'u': return code_point(out);
      default: return fail("journal.line.text"_w);
    }
  }

  bool four_digits(std::uint32_t& out) {
    out = 0;
    for (int i = 0; i < 4; ++i, ++at_) {
      const char c = at_ < line_.size() ? line_[at_] : ' ';
      const int digit = c >= '0' && c <= '9'   ? c - '0'
                        : c >= 'a' && c <= 'f' ? c - 'a' + 10
                        : c >= 'A' && c <= 'F' ? c - 'A' + 10
                                               : -1;
      if (digit < 0) return fail("journal.line.text"_w);
      out = out << 4 | static_cast<std::uint32_t>(digit);
    }
    return true;
  }

  bool code_point(std::string& out) {
    std::uint32_t code = 0;
    if (!four_digits(code)) return false;
    if (code >= 0xD800 && code < 0xDC00) {
      std::uint32_t low = 0;
      if (!skip_if('\\') || !skip_if('u') || !four_digits(low) || low < 0xDC00 || low > 0xDFFF)
        return fail("journal.line.text"_w);
      code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
    } else if (code == 0 || (code >= 0xDC00 && code < 0xE000)) {
      return fail("journal.line.text"_w);
    }
    const auto add = [&out](std::uint32_t byte) { out += static_cast<char>(byte); };
    if (code < 0x80) {
      add(code);
    } else if (code < 0x800) {
      add(0xC0 | code >> 6);
      add(0x80 | (code & 63));
    } else if (code < 0x10000) {
      add(0xE0 | code >> 12);
      add(0x80 | (code >> 6 & 63));
      add(0x80 | (code & 63));
    } else {
      add(0xF0 | code >> 18);
      add(0x80 | (code >> 12 & 63));
      add(0x80 | (code >> 6 & 63));
      add(0x80 | (code & 63));
    }
    return true;
  }

  std::string_view line_;
  std::size_t at_ = 0;
  bool failed_ = false;
  Problem problem_;
  std::string scratch_;
};

/// The keys of a line in their order.
enum Key { V, L, N, P, T, C, W, Z, U, R, K, A, E, S, Why, F, M, Must, kKeys };
constexpr std::array<std::string_view, kKeys> kNames = {"v", "l", "n", "p", "t", "c",   "w", "z", "u",
                                                        "r", "k", "a", "e", "s", "why", "f", "m", "must"};
constexpr std::array<bool, kKeys> kNeeded = {true, true, true, false, true, true,  true, true,  true,
                                             true, true, true, false, true, false, true, false, false};

class Reader {
 public:
  Reader(std::string_view line, Change& into) : change_(into), cursor_(line) { clear(); }

  bool read() {
    if (!cursor_.take('{')) return false;
    do {
      if (!pair()) return false;
    } while (cursor_.skip_if(','));
    if (!cursor_.take('}')) return false;
    if (!cursor_.at_end()) return cursor_.fail("journal.line.shape"_w);
    change_.fields.resize(fields_);
    for (std::size_t i = 0; i < kKeys; ++i)
      if (kNeeded[i] && !present_[i]) return cursor_.fail("journal.line.missing"_w);
    return makes_sense();
  }

  const Problem& problem() const { return cursor_.problem(); }

 private:
  /// What a line may leave out. Fields are overwritten one by one.
  void clear() {
    change_.part.reset();
    change_.act_ends = change_.must = change_.unknown_keys = false;
    change_.seen.clear();
    change_.why.clear();
    change_.tips.clear();
    change_.fields.reserve(8);  // Most have fewer.
  }

  bool pair() {
    // Known keys come in their order, nearly all of one letter: that is a sixth of the reading.
    for (int key = last_ + 1; key < kKeys; ++key)
      if (kNames[static_cast<std::size_t>(key)].size() == 1 &&
          cursor_.skip_key(kNames[static_cast<std::size_t>(key)].front()))
        return known(key);
    std::string_view name;
    if (!cursor_.view(name, kMaxName)) return false;
    const auto found = std::find(kNames.begin(), kNames.end(), name);
    if (!cursor_.take(':')) return false;
    if (found == kNames.end()) {
      if (unknown_.size() == kMaxUnknownKeys) return cursor_.fail("journal.line.limit"_w);
      if (std::find(unknown_.begin(), unknown_.end(), name) != unknown_.end())
        return cursor_.fail("journal.line.shape"_w);
      unknown_.emplace_back(name);
      change_.unknown_keys = true;
      return cursor_.skip_value();
    }
    return known(static_cast<int>(found - kNames.begin()));
  }

  bool known(int key) {
    if (key <= last_) return cursor_.fail("journal.line.shape"_w);  // Twice, or out of order.
    last_ = key;
    present_[static_cast<std::size_t>(key)] = true;
    return value(static_cast<Key>(key));
  }

  bool value(Key key) {
    switch (key) {
      case V: {
        std::int64_t version = 0;
        if (!cursor_.integer(version)) return false;
        return version == 1 || cursor_.fail("journal.line.newer"_w, Trouble::Unsupported);
      }
      case L: return cursor_.id(change_.lane);
      case N: return cursor_.integer(change_.seq);
      case P: {
        std::string_view part;
        if (!cursor_.view(part, kMaxName)) return false;
        change_.part = Part::parse(part);
        return change_.part.has_value() || cursor_.fail("journal.line.value"_w);
      }
      case T: return cursor_.integer(change_.t);
      case C: return cursor_.integer(change_.c);
      case W: return cursor_.integer(change_.wall);
      case Z: {
        std::int64_t minutes = 0;
        if (!cursor_.integer(minutes, true)) return false;
        change_.zone_minutes = static_cast<int>(std::clamp<std::int64_t>(minutes, -10'000, 10'000));
        return true;
      }
      case U: return cursor_.id(change_.person);
      case R: return cursor_.id(change_.record);
      case K:
        return cursor_.string(change_.kind, kMaxName) &&
               (is_kind_name(change_.kind) || cursor_.fail("journal.line.value"_w));
      case A: return cursor_.integer(change_.act);
      case E: return flag(change_.act_ends);
      case S: return cursor_.refs(change_.seen);
      case Why: return cursor_.string(change_.why, kMaxWhy);
      case F: return fields();
      case M: return cursor_.refs(change_.tips);
      case Must: return flag(change_.must);
      case kKeys: break;
    }
    return cursor_.fail("journal.line.shape"_w);
  }

  bool flag(bool& out) {
    out = true;
    return cursor_.take('1');
  }

  bool fields() {
    if (!cursor_.take('[')) return false;
    if (cursor_.skip_if(']')) return true;
    do {
      if (fields_ == kMaxFields) return cursor_.fail("journal.line.limit"_w);
      if (fields_ == change_.fields.size()) change_.fields.emplace_back();
      if (!field(change_.fields[fields_])) return false;
      ++fields_;
    } while (cursor_.skip_if(','));
    return cursor_.take(']');
  }

  bool field(FieldValue& field) {
    if (!cursor_.take('[') || !cursor_.string(field.key, kMaxName)) return false;
    if (!is_field_key(field.key)) return cursor_.fail("journal.line.value"_w);
    for (std::size_t i = 0; i < fields_; ++i)
      if (change_.fields[i].key == field.key) return cursor_.fail("journal.line.shape"_w);
    std::string_view letter;
    if (!cursor_.take(',') || !cursor_.view(letter, kMaxName)) return false;
    if (letter.size() != 1 || letter[0] < 'a' || letter[0] > 'z') return cursor_.fail("journal.line.value"_w);
    field.type = static_cast<FieldType>(letter[0]);
    if (!cursor_.take(',')) return false;
    const bool list = cursor_.sees('[');
    if (is_known_type(field.type) && list != (field.type == FieldType::List))
      return cursor_.fail("journal.line.value"_w);
    field.items.clear();
    if (list) field.text.clear();
    if (list ? !items(field.items) : !cursor_.string(field.text, kMaxValue)) return false;
    if (!fits_type(field.type, field.text)) return cursor_.fail("journal.line.value"_w);
    return cursor_.take(']');
  }

  bool items(std::vector<std::string>& out) {
    if (!cursor_.take('[')) return false;
    if (cursor_.skip_if(']')) return true;
    do {
      if (out.size() == kMaxItems) return cursor_.fail("journal.line.limit"_w);
      if (!cursor_.string(out.emplace_back(), kMaxItem)) return false;
      if (!fits_item(out.back())) return cursor_.fail("journal.line.value"_w);
    } while (cursor_.skip_if(','));
    return cursor_.take(']');
  }

  /// What no single key shows.
  bool makes_sense() {
    const bool numbers = change_.seq >= 1 && change_.part.has_value() == (change_.seq == 1) && change_.act >= 1 &&
                         change_.act <= change_.seq && change_.seq - change_.act < kMaxActLines &&
                         change_.wall < kMaxWall && change_.zone_minutes >= -1440 && change_.zone_minutes <= 1440 &&
                         !change_.record.is_nil();
    if (!numbers) return cursor_.fail("journal.line.value"_w);
    for (const ChangeRef& ref : change_.seen)  // Nobody has seen his own line or a later one of his.
      if (ref.lane == change_.lane && ref.seq >= change_.seq) return cursor_.fail("journal.line.value"_w);
    return true;
  }

  Change& change_;
  Cursor cursor_;
  std::size_t fields_ = 0;
  std::array<bool, kKeys> present_{};
  int last_ = -1;
  std::vector<std::string> unknown_;
};

}  // namespace

Result<Change> read_change(std::string_view line) {
  Change change;
  TRY(read_change(line, change));
  return change;
}

Result<void> read_change(std::string_view line, Change& into) {
  if (line.size() > kMaxLine) return refuse(Trouble::Damaged, "journal.line.limit"_w, {}, "0");
  Reader reader(line, into);
  if (!reader.read()) return tl::unexpected<Problem>(reader.problem());
  return {};
}

}  // namespace steep
