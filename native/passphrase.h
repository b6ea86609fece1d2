#pragma once
/// Passphrases of locked handover files on the command line: from a file, or asked for on a terminal without showing them.

#include <optional>
#include <string>

#include "base/words.h"
#include "handover/lock.h"
#include "native/disk.h"

namespace steep {

/// The file's first line without its end; every other byte counts. Trouble: NotFound; BadInput 'lock.empty'.
Result<Passphrase> passphrase_in(const std::string& path);

/// Can somebody be asked: is standard input a terminal?
bool can_ask_passphrase();
/// What was typed after `question`; nullopt when it was given up (Ctrl-C, Ctrl-D).
std::optional<Passphrase> ask_passphrase(const std::string& question);

/// A new one: out of the file when one is named, else asked for twice. Trouble: BadInput 'lock.empty', 'lock.differ';
/// Unsupported 'cli.lock.no_terminal'; Conflict 'cli.lock.given_up'.
Result<Passphrase> new_passphrase(const std::string& file, const Words& words);

/// Opens what comes locked in one run of the program: one passphrase may fit many files.
class Unlocker {
 public:
  /// `file` names the file with the passphrase; empty = ask on the terminal.
  Unlocker(std::string file, const Words& words) : file_(std::move(file)), words_(words) {}
  /// The bytes as they were before the lock; plain ones as they are. `name` is for the question. Trouble: as of unlock();
  /// Unsupported 'cli.lock.no_terminal' when nobody can be asked, Conflict 'cli.lock.given_up'.
  Result<std::string> open(std::string bytes, const std::string& name);

 private:
  std::string file_;
  const Words& words_;
  std::optional<Passphrase> known_;
};

}  // namespace steep
