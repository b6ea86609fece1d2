// steepbook_fuzz TARGET seeds FOLDER: writes the good inputs into files.
// steepbook_fuzz [TARGET] [RUNS] [SEED]: damages good inputs, and damages those that were taken again.
// Runs of the same seed are the same on every machine; a failure prints target, seed and run.
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "fuzz.h"

namespace {

constexpr std::size_t kPool = 256, kLongest = 80'000;

const char* target_name = "";
unsigned long long seed = 1, run_number = 0;

void report(int signal_number) {
  std::fprintf(stderr, "fuzz: %s failed at seed %llu, run %llu (signal %d)\n", target_name, seed, run_number,
               signal_number);
  std::signal(signal_number, SIG_DFL);
  std::raise(signal_number);
}

/// xorshift64
struct Chance {
  std::uint64_t state;
  std::uint64_t next() {
    state ^= state << 13;
    state ^= state >> 7;
    return state ^= state << 17;
  }
  std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>((next() >> 11) % n); }
};

/// Pieces on which readers have stumbled before.
constexpr const char* kPieces[] = {"\"",
                                   "\\",
                                   "\\u0000",
                                   "\\ud83c",
                                   "\\udf31",
                                   "[",
                                   "]",
                                   "{",
                                   "}",
                                   ",",
                                   ":",
                                   "[[[[[[[[",
                                   "-",
                                   "1e309",
                                   "9007199254740993",
                                   "00",
                                   "null",
                                   "true",
                                   "\xC0\xAF",
                                   "\xED\xA0\x80",
                                   "\xEF\xBB\xBF",
                                   "\xF4\x90\x80\x80",
                                   "\n",
                                   "\r",
                                   "\t",
                                   ".",
                                   "/",
                                   " ",
                                   "\"f\":[]",
                                   "\"s\":[]",
                                   "../../x"};

std::string damage(std::string text, const std::vector<std::string>& pool, Chance& chance) {
  for (std::size_t n = 1 + chance.below(4); n-- > 0;) {
    const std::size_t at = chance.below(text.size() + 1);
    switch (chance.below(8)) {
      case 0:
        if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << chance.below(8)));
        break;
      case 1:
        if (at < text.size()) text[at] = static_cast<char>(chance.next());
        break;
      case 2: text.erase(at, chance.below(16)); break;
      case 3: text.insert(at, text.substr(chance.below(text.size() + 1), chance.below(64))); break;
      case 4: text.insert(at, kPieces[chance.below(std::size(kPieces))]); break;
      case 5: text.resize(at); break;
      case 6: text.insert(at, std::string(chance.below(600), "[1a\"\\\x80"[chance.below(6)])); break;
      case 7: {
        const std::string& other = pool[chance.below(pool.size())];
        text = text.substr(0, at) + other.substr(chance.below(other.size() + 1));
        break;
      }
    }
  }
  if (text.size() > kLongest) text.resize(kLongest);
  return text;
}

void fuzz(const FuzzTarget& target, unsigned long long runs) {
  target_name = target.name;
  Chance chance{seed * 0x9E3779B97F4A7C15u + 88172645463325252u};
  std::vector<std::string> pool = target.seeds();
  const std::size_t seeds = pool.size();
  for (run_number = 0; run_number < runs; ++run_number) {
    std::string text = damage(pool[chance.below(pool.size())], pool, chance);
    target.run(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
    if (!chance.below(16)) {  // Damage goes on from damaged inputs too.
      if (pool.size() < kPool)
        pool.push_back(std::move(text));
      else
        pool[seeds + chance.below(kPool - seeds)] = std::move(text);
    }
  }
  std::printf("%s: %llu damaged inputs\n", target.name, runs);
}

/// One file each, for a fuzzer that brings its own way of changing them.
void write_seeds(const FuzzTarget& target, const std::string& folder) {
  int number = 0;
  for (const std::string& seed_text : target.seeds()) {
    std::FILE* file = std::fopen((folder + "/seed-" + std::to_string(number++)).c_str(), "wb");
    if (file == nullptr) continue;
    std::fwrite(seed_text.data(), 1, seed_text.size(), file);
    std::fclose(file);
  }
}

}  // namespace

int main(int count, char** arguments) {
  const char* wanted = count > 1 ? arguments[1] : "all";
  const bool seeds_only = count > 3 && std::strcmp(arguments[2], "seeds") == 0;
  const unsigned long long runs = count > 2 ? std::strtoull(arguments[2], nullptr, 10) : 20'000;
  seed = count > 3 ? std::strtoull(arguments[3], nullptr, 10) : 1;
  for (const int number : {SIGABRT, SIGSEGV, SIGFPE}) std::signal(number, report);
  bool found = false;
  for (const FuzzTarget& target : fuzz_targets()) {
    if (std::strcmp(wanted, "all") != 0 && std::strcmp(wanted, target.name) != 0) continue;
    found = true;
    if (seeds_only)
      write_seeds(target, arguments[3]);
    else
      fuzz(target, runs / target.weight + 1);
  }
  if (!found) std::fprintf(stderr, "fuzz: no target called %s\n", wanted);
  return found ? 0 : 2;
}
