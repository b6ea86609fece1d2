#pragma once
/// A handover file locked with a passphrase: for the way through mail, messengers and strange hands. Who lacks the
/// passphrase learns that it is a locked handover file, and about how large: no name, no day, no count.
///
///   {"format":"steepbook-locked","major":1,"passes":3,"memory":65536,"salt":"32 hex","stream":"48 hex"}
///   base64 of a message                            the first holds nothing: it proves passphrase and header
///   base64 of a message …                          each at most kPhotoPiece bytes of the file, gzip or plain; the last is marked
///
/// Key: Argon2id (RFC 9106, version 0x13, one lane) of the passphrase's bytes, `memory` in KiB. Messages: libsodium's
/// crypto_secretstream_xchacha20poly1305, whose start is `stream`; the first authenticates the header line besides. So
/// none of it can be changed, cut, moved or left out unnoticed. A lost passphrase cannot be recovered by anybody.

#include <cstdint>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/result.h"

namespace steep {

/// Bytes as they were typed: nothing trimmed, no letter turned into another form of itself. Wiped when it goes.
struct Passphrase {
  std::string typed;

  Passphrase() = default;
  explicit Passphrase(std::string text) : typed(std::move(text)) {}
  Passphrase(const Passphrase&) = default;
  Passphrase(Passphrase&& other) noexcept { typed.swap(other.typed); }
  Passphrase& operator=(Passphrase other) noexcept {
    typed.swap(other.typed);
    return *this;
  }
  ~Passphrase() { wipe(); }
  bool operator==(const Passphrase& to) const { return typed == to.typed; }
  bool empty() const { return typed.empty(); }
  void wipe();
};

/// What one guess of the passphrase costs: about a second on a phone.
struct LockCost {
  std::int64_t passes = 3;
  std::int64_t memory = 64 * 1024;  ///< KiB
};
/// A file that asks for more was made to stall a phone, or is damaged.
inline constexpr LockCost kMostLockCost{10, 64 * 1024};

/// Does it begin as a locked file does?
bool is_locked(std::string_view bytes);

/// Trouble: BadInput 'lock.empty' for an empty passphrase; System 'take.memory'.
Result<std::string> lock(std::string_view file, const Passphrase& passphrase, const RandomSource& random,
                         const LockCost& cost = {});

/// The file as it was before. Trouble, with the line as place:
///   BadInput     'lock.empty', 'lock.costs' past kMostLockCost
///   Ask          'lock.does_not_fit': another passphrase, or the first two lines are damaged: nobody can tell which
///   Damaged      'take.damaged' {line} or 'take.cut': the passphrase fits, what follows is not as it was written
///   Unsupported  'lock.newer';  System 'take.memory'
Result<std::string> unlock(std::string_view locked, const Passphrase& passphrase);

}  // namespace steep
