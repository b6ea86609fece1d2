// Handover files locked with a passphrase. The parts of the library stand in lock_library_test.cpp; that another program,
// written from the description of the format alone, makes the same files is tested in tests/cli/lock_test.py.
#include "handover/lock.h"

#include <doctest/doctest.h>

#include "handover/give.h"
#include "handover/take.h"
#include "tests/unit/handover_copies.h"

using namespace steep;
using namespace steep::testing;

namespace {

// As cheap as the library allows: thousands of tries in a second. What it costs otherwise is no matter of what comes out.
constexpr LockCost kCheap{1, 8};

/// Numbers that look like chance and are the same in each run.
RandomSource chance(std::uint64_t seed) {
  return [state = seed * 2862933555777941757ULL + 3037000493ULL](std::span<std::uint8_t> bytes) mutable {
    for (auto& byte : bytes) {
      state = state * 6364136223846793005ULL + 1442695040888963407ULL;
      byte = static_cast<std::uint8_t>(state >> 56);
    }
  };
}

std::string some_bytes(std::size_t size) {
  std::string bytes(size, '\0');
  chance(7)({reinterpret_cast<std::uint8_t*>(bytes.data()), bytes.size()});
  return bytes;
}

std::string locked(std::string_view file, std::string passphrase = "nine wet boots", LockCost cost = kCheap,
                   std::uint64_t seed = 1) {
  const auto done = lock(file, Passphrase(std::move(passphrase)), chance(seed), cost);
  REQUIRE(done);
  return *done;
}

/// "(opened)", or the sentence's word.
std::string opening(std::string_view bytes, std::string passphrase = "nine wet boots") {
  const auto opened = unlock(bytes, Passphrase(std::move(passphrase)));
  return opened ? "(opened)" : std::string(opened.error().word.key);
}

std::string with_header(std::string_view header) {
  const std::string whole = locked("text");
  return std::string(header) + whole.substr(whole.find('\n'));
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find('\n', at);
    lines.emplace_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}
std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) (text += line) += '\n';
  return text;
}

}  // namespace

TEST_CASE("lock: what was locked opens again, of any size") {
  for (const std::size_t size : {0u, 1u, 44'999u, 45'000u, 45'001u, 90'000u, 100'001u}) {
    CAPTURE(size);
    const std::string file = some_bytes(size);
    const std::string bytes = locked(file);
    CHECK(is_locked(bytes));
    const auto opened = unlock(bytes, Passphrase("nine wet boots"));
    REQUIRE(opened);
    CHECK(*opened == file);
    // The header, the proof, a line each 45,000 bytes; lines that mail and share sheets carry.
    CHECK(lines_of(bytes).size() == 2 + std::max<std::size_t>(1, (size + 44'999) / 45'000));
    CHECK(bytes.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/=\n",
                                  bytes.find('\n')) == std::string::npos);
  }
}

TEST_CASE("lock: two files of the same bytes have nothing in common but the costs") {
  const auto one = lines_of(locked("text")), other = lines_of(locked("text", "nine wet boots", kCheap, 2));
  CHECK(one[0] != other[0]);
  CHECK(one[1] != other[1]);
  CHECK(one[2] != other[2]);
}

TEST_CASE("lock: a passphrase is its bytes as typed") {
  const std::string bytes = locked("text", "Compás 9 ");
  CHECK(opening(bytes, "Compás 9 ") == "(opened)");
  for (const std::string wrong :
       {"Compás 9", " Compás 9 ", "compás 9 ", "Compas 9 ", "Compa\u0301s 9 ", "Compás  9 ", "x"}) {
    CAPTURE(wrong);
    CHECK(opening(bytes, wrong) == "lock.does_not_fit");
  }
  CHECK(opening(bytes, "") == "lock.empty");
  CHECK(std::string(lock("text", Passphrase(), chance(1), kCheap).error().word.key) == "lock.empty");
  const std::string zeros("a\0b", 3), long_one(3000, 'x');
  CHECK(opening(locked("text", zeros), zeros) == "(opened)");
  CHECK(opening(locked("text", zeros), "a") == "lock.does_not_fit");
  CHECK(opening(locked("text", long_one), long_one) == "(opened)");
}

TEST_CASE("lock: no byte can be another, and none can be missing") {
  const std::string file = some_bytes(150), bytes = locked(file);
  for (std::size_t at = 0; at < bytes.size(); ++at) {
    for (const int change : {0x01, 0x02, 0x20, 0x80}) {
      std::string other = bytes;
      other[at] = static_cast<char>(other[at] ^ change);
      CAPTURE(at);
      CAPTURE(change);
      CHECK(opening(other) != "(opened)");
    }
    CHECK(opening(bytes.substr(0, at)) != "(opened)");
    CHECK(opening(bytes.substr(0, at) + bytes.substr(at + 1)) != "(opened)");
  }
  // Of a long one, at places that fall into each of its messages.
  const std::string large = locked(some_bytes(200'000));
  for (std::size_t at = 0; at < large.size(); at += 1999) {
    std::string other = large;
    other[at] = other[at] == 'A' ? 'B' : 'A';
    CHECK(opening(other) != "(opened)");
    CHECK(opening(large.substr(0, at)) != "(opened)");
  }
}

TEST_CASE("lock: messages cannot be moved, left out, put in or come from another file") {
  const auto lines = lines_of(locked(some_bytes(200'000)));  // header, proof, 45,000 × 4, 20,000
  REQUIRE(lines.size() == 7);
  auto moved = lines;
  std::swap(moved[3], moved[4]);
  CHECK(opening(joined(moved)) == "take.damaged");
  auto without = lines;
  without.erase(without.begin() + 3);
  CHECK(opening(joined(without)) == "take.damaged");
  auto twice = lines;
  twice.insert(twice.begin() + 3, lines[3]);
  CHECK(opening(joined(twice)) == "take.damaged");
  auto cut = lines;
  cut.pop_back();
  CHECK(opening(joined(cut)) == "take.cut");
  auto more = lines;
  more.push_back(lines[2]);
  CHECK(opening(joined(more)) == "take.damaged");
  CHECK(opening(joined(lines) + "x") == "take.damaged");
  auto of_other = lines;
  of_other[4] = lines_of(locked(some_bytes(200'000), "nine wet boots", kCheap, 2))[4];
  CHECK(opening(joined(of_other)) == "take.damaged");
  auto no_proof = lines;
  no_proof.erase(no_proof.begin() + 1);
  CHECK(opening(joined(no_proof)) == "lock.does_not_fit");
  // Which line it is, for whoever looks for the damage.
  const auto problem = unlock(joined(moved), Passphrase("nine wet boots"));
  CHECK(problem.error().kind == Trouble::Damaged);
  CHECK(problem.error().place == "line 4");
  CHECK(problem.error().values == std::vector<std::string>{"4"});
}

TEST_CASE("lock: a header cannot ask for more than a phone has") {
  const std::string rest =
      R"("salt":"000102030405060708090a0b0c0d0e0f","stream":"000102030405060708090a0b0c0d0e0f1011121314151617"})";
  const auto says = [&](std::string_view costs) {
    return opening(with_header(R"({"format":"steepbook-locked","major":1,)" + std::string(costs) + rest));
  };
  // At the limits it is tried, and does not fit; one beyond it is not.
  CHECK(says(R"("passes":10,"memory":8,)") == "lock.does_not_fit");
  CHECK(says(R"("passes":11,"memory":8,)") == "lock.costs");
  CHECK(says(R"("passes":1,"memory":65536,)") == "lock.does_not_fit");
  CHECK(says(R"("passes":1,"memory":65537,)") == "lock.costs");
  CHECK(says(R"("passes":4294967297,"memory":8,)") == "lock.costs");
  CHECK(says(R"("passes":1,"memory":9007199254740991,)") == "lock.costs");
  CHECK(says(R"("passes":1,"memory":7,)") == "take.damaged");
  CHECK(says(R"("passes":0,"memory":8,)") == "take.damaged");
  CHECK(says(R"("passes":-1,"memory":8,)") == "take.damaged");
  CHECK(says(R"("passes":1,"memory":-8,)") == "take.damaged");
  CHECK(says(R"("passes":"1","memory":8,)") == "take.damaged");
  CHECK(says(R"("memory":8,)") == "take.damaged");
  CHECK(says(R"("passes":1,)") == "take.damaged");
  // What locks write stays within.
  CHECK(LockCost().passes <= kMostLockCost.passes);
  CHECK(LockCost().memory <= kMostLockCost.memory);
}

TEST_CASE("lock: headers that are none") {
  const auto says = [&](std::string_view header) { return opening(with_header(header)); };
  const std::string start = R"({"format":"steepbook-locked",)";
  CHECK(says(start + R"("major":2,"passes":1,"memory":8,"salt":"","stream":""})") == "lock.newer");
  CHECK(
      says(
          start +
          R"("major":0,"passes":1,"memory":8,"salt":"000102030405060708090a0b0c0d0e0f","stream":"000102030405060708090a0b0c0d0e0f1011121314151617"})") ==
      "take.damaged");
  CHECK(
      says(
          start +
          R"("major":1,"passes":1,"memory":8,"salt":"000102030405060708090a0b0c0d0e","stream":"000102030405060708090a0b0c0d0e0f1011121314151617"})") ==
      "take.damaged");
  CHECK(says(start + R"("major":1,"passes":1,"memory":8,"salt":"000102030405060708090a0b0c0d0e0f","stream":"00"})") ==
        "take.damaged");
  CHECK(says(start + R"("major":1,"passes":1,"memory":8})") == "take.damaged");
  CHECK(says(start) == "take.damaged");
  CHECK(says(start + std::string(200'000, ' ') + "}") == "take.damaged");
  CHECK(opening("") == "take.cut");
  CHECK(opening(start) == "take.cut");
  CHECK(opening(start + "\n") == "take.damaged");
  // A line that no message can be, before anything is computed from it.
  const std::string whole = locked("text");
  const std::string first = whole.substr(0, whole.find('\n') + 1);
  CHECK(opening(first + std::string(60'028, 'A') + "\n") == "take.damaged");
  CHECK(opening(first + "####\n") == "take.damaged");
  CHECK(opening(first + "\n") == "lock.does_not_fit");
}

TEST_CASE("lock: a book travels locked, and nothing of it shows") {
  Copy office("Office", 1), phone("Phone", 2);
  office.start();
  GiveRequest request;
  request.lock = GiveRequest::Lock{Passphrase("nine wet boots"), chance(3)};
  for (const Packing packing : {Packing::Gzip, Packing::Plain}) {
    request.packing = packing;
    const auto given = give(*office.book, request);
    REQUIRE(given);
    CHECK(given->file.name ==
          (packing == Packing::Gzip ? "locked-2026-05-14.steepbook" : "locked-2026-05-14.steepbook.txt"));
    CHECK(file_nature(given->file.bytes) == FileNature::Locked);
    for (const std::string_view word : {"Alder Reach", "Ana Leland", "\"Office\"", "\"changes\"", "\"lane\""})
      CHECK(given->file.bytes.find(word) == std::string::npos);
    // Whoever reads it without a passphrase is told so, and the book is as it was.
    const auto refused = take_in(*phone.book, given->file);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().word == "take.locked"_w);
    CHECK(refused.error().kind == Trouble::Ask);
    CHECK_FALSE(phone.book->is_started());
  }
  const auto given = give(*office.book, request);
  REQUIRE(given);
  const auto opened = unlock(given->file.bytes, Passphrase("nine wet boots"));
  REQUIRE(opened);
  CHECK(file_nature(*opened) == FileNature::Gzip);
  phone.take({given->file.name, *opened, ""});
  CHECK(phone.book->name() == "Alder Reach");
  CHECK(phone.book->change_count() == office.book->change_count());

  // Locked once more it is no handover file: locks do not nest.
  const auto twice = unlock(locked(given->file.bytes), Passphrase("nine wet boots"));
  REQUIRE(twice);
  CHECK(take_in(*phone.book, {"x", *twice, ""}).error().word == "take.locked"_w);
}

TEST_CASE("lock: photos go inside") {
  Copy office("Office", 1);
  office.start();
  GiveRequest request;
  request.photos.push_back({sha256(some_bytes(90'000)), "foam on the brew", some_bytes(90'000)});
  const auto plain = give(*office.book, request);
  REQUIRE(plain);
  request.lock = GiveRequest::Lock{Passphrase("nine wet boots"), chance(3)};
  const auto given = give(*office.book, request);
  REQUIRE(given);
  CHECK(given->photos == plain->photos);
  CHECK(*unlock(given->file.bytes, Passphrase("nine wet boots")) == plain->file.bytes);
}
