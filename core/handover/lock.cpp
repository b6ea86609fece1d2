#include "handover/lock.h"

#include <sodium/crypto_pwhash_argon2id.h>
#include <sodium/crypto_secretstream_xchacha20poly1305.h>
#include <sodium/utils.h>
#include <array>
#include <optional>

#include "base/sha256.h"
#include "handover/base64.h"
#include "handover/flat_object.h"
#include "handover/frame.h"

namespace steep {
namespace {

constexpr std::string_view kStart = "{\"format\":\"steepbook-locked\"";
constexpr int kLockMajor = 1;
constexpr std::size_t kAdded = crypto_secretstream_xchacha20poly1305_ABYTES;  ///< To each message.
constexpr std::size_t kLongestLine = (kPhotoPiece + kAdded + 2) / 3 * 4;
constexpr std::int64_t kLeastMemory = crypto_pwhash_argon2id_MEMLIMIT_MIN / 1024;

using Salt = std::array<std::uint8_t, crypto_pwhash_argon2id_SALTBYTES>;
using Start = std::array<std::uint8_t, crypto_secretstream_xchacha20poly1305_HEADERBYTES>;

/// Never null: memcpy in the library must not see that, even with nothing to copy.
const unsigned char* raw(std::string_view bytes) {
  return reinterpret_cast<const unsigned char*>(bytes.empty() ? "" : bytes.data());
}
unsigned char* raw(std::string& bytes) { return reinterpret_cast<unsigned char*>(bytes.data()); }

/// What the first line says.
struct LockHeader {
  LockCost cost;
  Salt salt{};
  Start start{};
};

std::string written(const LockHeader& header) {
  return FlatWriter()
      .text("format", "steepbook-locked")
      .integer("major", kLockMajor)
      .integer("passes", header.cost.passes)
      .integer("memory", header.cost.memory)
      .text("salt", hex(header.salt))
      .text("stream", hex(header.start))
      .finish();
}

auto damaged(std::int64_t line) {
  const std::string number = std::to_string(line);
  return refuse(Trouble::Damaged, "take.damaged"_w, {number}, "line " + number);
}

Result<LockHeader> read_lock_header(std::string_view line) {
  const auto object = FlatObject::read(line);
  if (!object) return damaged(1);
  const auto major = object->integer("major"), passes = object->integer("passes"), memory = object->integer("memory");
  if (major && *major > kLockMajor) return refuse(Trouble::Unsupported, "lock.newer"_w, {}, "line 1");
  LockHeader header;
  const bool whole = major && *major == kLockMajor && passes && *passes >= 1 && memory && *memory >= kLeastMemory &&
                     parse_hex(object->text("salt"), header.salt) && parse_hex(object->text("stream"), header.start);
  if (!whole) return damaged(1);
  header.cost = {*passes, *memory};
  if (header.cost.passes > kMostLockCost.passes || header.cost.memory > kMostLockCost.memory)
    return refuse(Trouble::BadInput, "lock.costs"_w, {}, "line 1");
  return header;
}

/// The messages of one file, in their order; what is secret of it is wiped when it goes.
class Stream {
 public:
  Stream() = default;
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;
  ~Stream() { sodium_memzero(&state_, sizeof state_); }

  Result<void> begin(const LockHeader& header, const Passphrase& passphrase) {
    if (passphrase.empty()) return refuse(Trouble::BadInput, "lock.empty"_w, {}, "passphrase");
    unsigned char key[crypto_secretstream_xchacha20poly1305_KEYBYTES];
    const int made = crypto_pwhash_argon2id(key, sizeof key, passphrase.typed.data(), passphrase.typed.size(),
                                            header.salt.data(), static_cast<unsigned long long>(header.cost.passes),
                                            static_cast<std::size_t>(header.cost.memory) * 1024,
                                            crypto_pwhash_argon2id_ALG_ARGON2ID13);
    // Both sides begin alike. init_push would also draw the start, from a random source of the library's own.
    crypto_secretstream_xchacha20poly1305_init_pull(&state_, header.start.data(), key);
    sodium_memzero(key, sizeof key);
    if (made != 0) return refuse(Trouble::System, "take.memory"_w);
    return {};
  }

  std::string seal(std::string_view bytes, std::string_view beside, bool last) {
    std::string message(bytes.size() + kAdded, '\0');
    crypto_secretstream_xchacha20poly1305_push(&state_, raw(message), nullptr, raw(bytes), bytes.size(), raw(beside),
                                               beside.size(), last ? kFinal : kMessage);
    return message;
  }

  struct Opened {
    std::string bytes;
    bool last = false;
  };
  /// nullopt when it is not the message that was sealed here.
  std::optional<Opened> open(std::string_view message, std::string_view beside) {
    if (message.size() < kAdded) return std::nullopt;
    Opened opened;
    opened.bytes.resize(message.size() - kAdded);
    unsigned char mark = 0;
    if (crypto_secretstream_xchacha20poly1305_pull(&state_, raw(opened.bytes), nullptr, &mark, raw(message),
                                                   message.size(), raw(beside), beside.size()) != 0)
      return std::nullopt;
    opened.last = mark == kFinal;
    return opened;
  }

 private:
  static constexpr unsigned char kMessage = crypto_secretstream_xchacha20poly1305_TAG_MESSAGE,
                                 kFinal = crypto_secretstream_xchacha20poly1305_TAG_FINAL;
  crypto_secretstream_xchacha20poly1305_state state_;
};

/// The lines of the file in turn; each has to end.
struct Lines {
  std::string_view rest;
  std::int64_t number = 0;
  Result<std::string_view> next() {
    ++number;
    const std::size_t end = rest.find('\n');
    if (end == std::string_view::npos)
      return refuse(Trouble::Damaged, "take.cut"_w, {}, "line " + std::to_string(number));
    const std::string_view line = rest.substr(0, end);
    rest.remove_prefix(end + 1);
    return line;
  }
  /// A line of a message, out of its letters.
  Result<std::string> next_message() {
    TRY_ASSIGN(const std::string_view line, next());
    if (line.size() > kLongestLine) return damaged(number);
    auto message = from_base64(line);
    if (!message) return damaged(number);
    return std::move(*message);
  }
};

}  // namespace

void Passphrase::wipe() {
  typed.resize(typed.capacity());  // Also what was deleted again.
  sodium_memzero(typed.data(), typed.size());
  typed.clear();
}

bool is_locked(std::string_view bytes) { return bytes.starts_with(kStart); }

Result<std::string> lock(std::string_view file, const Passphrase& passphrase, const RandomSource& random,
                         const LockCost& cost) {
  LockHeader header{cost, {}, {}};
  random(header.salt);
  random(header.start);
  Stream stream;
  TRY(stream.begin(header, passphrase));
  std::string locked = written(header);
  const std::string first = base64(stream.seal({}, locked, false));
  locked.reserve(locked.size() + first.size() + file.size() / kPhotoPiece * (kLongestLine + 1) + kLongestLine + 3);
  (locked += '\n') += first;
  locked += '\n';
  for (std::size_t at = 0; at == 0 || at < file.size(); at += kPhotoPiece)
    (locked += base64(stream.seal(file.substr(at, kPhotoPiece), {}, file.size() - at <= kPhotoPiece))) += '\n';
  return locked;
}

Result<std::string> unlock(std::string_view locked, const Passphrase& passphrase) {
  Lines lines{locked};
  TRY_ASSIGN(const std::string_view first, lines.next());
  TRY_ASSIGN(const LockHeader& header, read_lock_header(first));
  TRY_ASSIGN(const std::string& proof, lines.next_message());
  Stream stream;
  TRY(stream.begin(header, passphrase));
  const auto fits = stream.open(proof, first);
  if (!fits || fits->last || !fits->bytes.empty()) return refuse(Trouble::Ask, "lock.does_not_fit"_w, {}, "passphrase");

  std::string file;
  file.reserve(lines.rest.size() / 4 * 3);
  for (bool last = false; !last;) {
    if (lines.rest.empty()) return refuse(Trouble::Damaged, "take.cut"_w, {}, "end");
    TRY_ASSIGN(const std::string& message, lines.next_message());
    const auto opened = stream.open(message, {});
    if (!opened) return damaged(lines.number);
    file += opened->bytes;
    last = opened->last;
  }
  if (!lines.rest.empty()) return damaged(lines.number + 1);
  return file;
}

}  // namespace steep
