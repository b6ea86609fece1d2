// Random histories (history.h) against the model (model.h).
//
// The number of histories: STEEPBOOK_HISTORIES, 60 when not set. A failing one names its number;
// STEEPBOOK_HISTORY=N runs that one alone.
#include <cstdlib>

#include "tests/unit/history.h"

using namespace steep;
using namespace steep::test;

namespace {

std::uint64_t number(const char* name, std::uint64_t otherwise) {
  const char* text = std::getenv(name);
  return text == nullptr ? otherwise : std::strtoull(text, nullptr, 10);
}

}  // namespace

TEST_CASE("random histories end in one journal and one state (I1-I12, I14-I18, I20)") {
  const std::uint64_t only = number("STEEPBOOK_HISTORY", 0), count = number("STEEPBOOK_HISTORIES", 60);
  std::size_t changes = 0;
  History::Counts counts;
  for (std::uint64_t seed = only == 0 ? 1 : only; seed <= (only == 0 ? count : only); ++seed) {
    CAPTURE(seed);
    History history(seed, seed % 3 == 0 ? Clocks::Mad : seed % 3 == 1 ? Clocks::Jumping : Clocks::Fair);
    history.run();
    changes += history.changes();
    counts += history.counts();
    if (seed % 5 != 0) continue;
    // I11: other clocks may pick other stand-ins, never other heads or conflicts.
    const auto structure = history.structure();
    for (const Clocks clocks : {Clocks::Fair, Clocks::Jumping, Clocks::Mad}) {
      History again(seed, clocks);
      again.run();
      CHECK(again.structure() == structure);
    }
  }
  MESSAGE(changes, " changes, ", counts.files, " files: ", counts.deltas, " of what was lacking, ", counts.of_parts,
          " of some parts, ", counts.cut, " of pieces, ", counts.damaged, " damaged and refused; ", counts.forks,
          " lanes forked, ", counts.joins, " starts joined, ", counts.newer, " lines of a newer version, ",
          counts.acts_struck, " strikes with children, ", counts.waiting, " files of which lines wait");
  if (only != 0 || count < 30) return;
  // A history in which nothing of the kind happens would prove nothing.
  for (const std::size_t happened : {counts.deltas, counts.of_parts, counts.cut, counts.damaged, counts.forks,
                                     counts.joins, counts.newer, counts.acts_struck, counts.waiting})
    CHECK(happened > 0);
}

TEST_CASE("a struck record is restored with its children although one of them is not here now: its file is set aside") {
  History history(7568, Clocks::Fair);  // In which it happens, as the long run found.
  history.run();
  CHECK(history.changes() > 0);
}
