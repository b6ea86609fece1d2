#include "native/passphrase.h"

#include <termios.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <fstream>
#include <iostream>

namespace steep {
namespace {

constexpr int kTries = 3;

auto given_up() { return refuse(Trouble::Conflict, "cli.lock.given_up"_w); }

/// The terminal without echo, until this goes. Signals meanwhile only end the reading, so that the echo comes back.
class Silence {
 public:
  Silence() {
    ::tcgetattr(STDIN_FILENO, &before_);
    termios silent = before_;
    silent.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    struct sigaction wake {};
    wake.sa_handler = [](int) {};
    for (std::size_t i = 0; i < kSignals.size(); ++i) ::sigaction(kSignals[i], &wake, &handlers_[i]);
    ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &silent);
  }
  Silence(const Silence&) = delete;
  Silence& operator=(const Silence&) = delete;
  ~Silence() {
    ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
    for (std::size_t i = 0; i < kSignals.size(); ++i) ::sigaction(kSignals[i], &handlers_[i], nullptr);
  }

 private:
  static constexpr std::array kSignals{SIGINT, SIGTERM, SIGHUP, SIGQUIT};
  termios before_{};
  std::array<struct sigaction, kSignals.size()> handlers_{};
};

}  // namespace

Result<Passphrase> passphrase_in(const std::string& path) {
  TRY_ASSIGN(std::string bytes, read_file(path));
  Passphrase whole(std::move(bytes));
  Passphrase line(whole.typed.substr(0, whole.typed.find('\n')));
  if (line.typed.ends_with('\r')) line.typed.pop_back();  // Written by an editor of another system.
  if (line.empty()) return refuse(Trouble::BadInput, "lock.empty"_w, {}, path);
  return line;
}

bool can_ask_passphrase() { return ::isatty(STDIN_FILENO) == 1; }

std::optional<Passphrase> ask_passphrase(const std::string& question) {
  Passphrase answer;
  answer.typed.reserve(256);  // Moved to no other place while it is typed.
  bool entered = false;
  {
    const Silence silence;  // Before the question: whoever answers at once is not shown either.
    std::cerr << question << ": " << std::flush;
    for (char c = 0; ::read(STDIN_FILENO, &c, 1) == 1;) {
      entered = c == '\n';
      if (entered) break;
      answer.typed += c;
    }
  }
  std::cerr << "\n";
  if (!entered) return std::nullopt;
  return answer;
}

Result<Passphrase> new_passphrase(const std::string& file, const Words& words) {
  if (!file.empty()) return passphrase_in(file);
  if (!can_ask_passphrase()) return refuse(Trouble::Unsupported, "cli.lock.no_terminal"_w);
  auto first = ask_passphrase(words("cli.lock.new"_w));
  if (!first) return given_up();
  if (first->empty()) return refuse(Trouble::BadInput, "lock.empty"_w);
  const auto second = ask_passphrase(words("cli.lock.again"_w));
  if (!second) return given_up();
  if (!(*first == *second)) return refuse(Trouble::BadInput, "lock.differ"_w);
  return std::move(*first);
}

Result<std::string> Unlocker::open(std::string bytes, const std::string& name) {
  if (!is_locked(bytes)) return bytes;
  const bool by_file = !file_.empty();
  if (by_file && !known_) {
    TRY_ASSIGN(known_, passphrase_in(file_));
  }
  Result<std::string> opened = refuse(Trouble::Unsupported, "cli.lock.no_terminal"_w);
  if (known_) opened = unlock(bytes, *known_);
  if (by_file || opened) return opened;
  for (int i = 0; i < kTries && can_ask_passphrase(); ++i) {
    auto typed = ask_passphrase(words_("cli.lock.of"_w, {name}));
    if (!typed) return given_up();
    opened = unlock(bytes, *typed);
    if (opened) known_ = std::move(typed);
    if (opened || opened.error().word != "lock.does_not_fit"_w) break;
    if (i + 1 < kTries) std::cerr << words_("lock.does_not_fit"_w) << "\n";
  }
  return opened;
}

}  // namespace steep
