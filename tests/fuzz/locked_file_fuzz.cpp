// Opening a locked file. For any bytes: no crash, a decision, and what opens is what was locked, whole: nobody without
// the passphrase can make another.
#include <algorithm>
#include <cstdlib>

#include "fuzz.h"
#include "handover/lock.h"

using namespace steep;

namespace {

const Passphrase kPassphrase("wet hands at six");

std::vector<std::string> contents() {
  return {"", "one line\n", std::string(300, '\0'), std::string(50'000, 'x')};  // The last in two messages.
}

int run(const std::uint8_t* data, std::size_t size) {
  const auto opened = unlock({reinterpret_cast<const char*>(data), size}, kPassphrase);
  if (!opened) {
    if (opened.error().word.key.empty()) std::abort();
    return 0;
  }
  static const std::vector<std::string> known = contents();
  if (std::find(known.begin(), known.end(), *opened) == known.end()) std::abort();
  return 0;
}

std::vector<std::string> seeds() {
  std::uint8_t next = 1;
  const RandomSource count_up = [&](std::span<std::uint8_t> bytes) {
    for (std::uint8_t& byte : bytes) byte = next++;
  };
  std::vector<std::string> all;
  for (const std::string& content : contents()) {
    auto locked = lock(content, kPassphrase, count_up, {.passes = 1, .memory = 8});
    if (!locked) std::abort();
    all.push_back(std::move(*locked));
  }
  return all;
}

const FuzzEntry entry{{"locked-file", run, seeds, 20}};

}  // namespace
