// A pass pressed at random beside a plain model of it: what a button said is what stands in the book, Undo takes back exactly
// the press before, a bouncing glove records once, and a kill loses nothing.
#include <doctest/doctest.h>

#include <cstdlib>
#include <map>
#include <random>

#include "book/pass_state.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

/// What a bed got, from its zero end, in feet; or why it was skipped.
struct BedGot {
  std::vector<std::pair<int, int>> treated;
  std::string skipped;
  bool operator==(const BedGot&) const = default;
  std::string text() const {
    std::string all = skipped;
    for (const auto& [from, to] : treated) all += std::to_string(from) + "–" + std::to_string(to) + " ";
    return all;
  }
};
struct Got {
  std::map<std::string, BedGot> beds;
  std::size_t loads = 0, doses = 0;
  bool operator==(const Got&) const = default;
  std::string text() const {
    std::string all = std::to_string(loads) + " loads, " + std::to_string(doses) + " doses:";
    for (const auto& [name, bed] : beds) all += " " + name + " " + bed.text() + ";";
    return all;
  }
};

constexpr int kFeet = 100;

class PassWalk {
 public:
  PassWalk(const std::string& name, std::uint64_t seed, int beds) : phone_(name, beds), random_(seed) { start(); }

  void walk(int presses);

 private:
  struct FewBeds {
    TempBook file;
    FakePlatform platform;
    FewBeds(const std::string& name, int beds) : file(name), platform(file.path) { make_farm(platform, beds); }
  };
  std::uint64_t below(std::uint64_t n) { return random_() % n; }
  bool chance(int percent) { return static_cast<int>(below(100)) < percent; }
  PassState state() {
    const auto open = open_pass(run_.book());
    REQUIRE(open);
    REQUIRE(*open);
    auto now = pass_state(run_.book(), **open, {}, phone_.platform.clock);
    REQUIRE(now);
    return std::move(*now);
  }
  Got got();
  void start();
  void one_press();
  bool press_done(const std::string& bed);
  void press_half(const std::string& bed);
  void press_other_half();
  void press_skip(const std::string& bed);
  void press_undo();
  void press_refill(const std::string& bed);
  void take_another();
  void write(Got expected, bool is_offered_half = false);
  /// Of the bed in hand by its button: empty = all are over.
  std::string in_hand();
  /// By a press, or by a finger that bounces.
  bool tap(std::string_view name) { return chance(50) ? run_.press(name) : run_.tap(name, chance(50) ? 2 : 1); }

  FewBeds phone_;
  AppRun run_{phone_.platform, small_phone()};
  std::mt19937_64 random_;
  Got now_;
  std::vector<Got> before_;  ///< Of each press, the last one last.
  std::string half_of_;      ///< The bed whose half was the last press.
  bool far_first_ = false, turns_ = false;
};

Got PassWalk::got() {
  Got all;
  const PassState pass = state();
  all.loads = pass.loads.size();
  for (const LoadSheet& load : pass.loads) all.doses += load.doses.size();
  for (const PassBed& bed : pass.beds) {
    BedGot& one = all.beds[bed.name];
    for (const Stretch& part : bed.treated)
      one.treated.emplace_back(static_cast<int>(std::lround(part.from.si() / 0.3048)),
                               static_cast<int>(std::lround(part.to.si() / 0.3048)));
    if (bed.progress == BedProgress::Skipped || (bed.open.empty() && bed.progress == BedProgress::Part))
      one.skipped = bed.skip_reason;
  }
  return all;
}

void PassWalk::start() {
  REQUIRE(run_.press("Start pass…"));
  REQUIRE(run_.press("At which rates?"));
  REQUIRE(run_.press("I don't know the rates"));
  REQUIRE(run_.press("Close"));
  REQUIRE(run_.press("Which brew, leaf or soil?"));
  REQUIRE(run_.press("Brew: on leaf"));
  REQUIRE(run_.press("Brew: Brew 31…"));
  REQUIRE(run_.press("Tea, not answered, type another value"));
  REQUIRE(run_.press("Not taken"));
  turns_ = chance(50);
  far_first_ = chance(50);
  REQUIRE(run_.press(turns_ ? "How do you walk?: Turn at each bed" : "How do you walk?: Same end each bed"));
  REQUIRE(run_.press(far_first_ ? "Start from: far end" : "Start from: lane"));
  REQUIRE(run_.press("Weather now: Not taken"));
  // The thumb that starts the pass bounces: that is no first bed.
  REQUIRE(run_.tap("Start · N1", 2));
  now_ = got();
  CHECK(now_.doses == 0);
}

std::string PassWalk::in_hand() {
  for (const Item& item : run_.app().items().items()) {
    const std::size_t rest = item.name.find(" rest done, then"), whole = item.name.find(" done, then");
    if (item.role == Role::Button && (rest != std::string::npos || whole != std::string::npos))
      return item.name.substr(0, std::min(rest, whole));
  }
  return {};
}

/// What the book holds after a press that writes.
void PassWalk::write(Got expected, bool is_offered_half) {
  before_.push_back(now_);
  CHECK(got().text() == expected.text());
  now_ = got();
  if (!is_offered_half) half_of_.clear();
}

bool PassWalk::press_done(const std::string& bed) {
  Got next = now_;
  BedGot& one = next.beds[bed];
  // What was open becomes a dose of its own: before and behind what was treated.
  const bool inside = one.treated.size() == 1 && one.treated[0].first > 0 && one.treated[0].second < kFeet;
  next.doses += inside ? 2 : 1;
  one = {{{0, kFeet}}, {}};
  REQUIRE(tap(bed + (now_.beds[bed].treated.empty() ? " done, then…" : " rest done, then…")));
  write(next);
  return true;
}

void PassWalk::press_half(const std::string& bed) {
  const int index = std::stoi(bed.substr(1)) - 1;
  const bool far = far_first_ != (turns_ && index % 2 == 1);
  Got next = now_;
  next.beds[bed].treated = {far ? std::pair{kFeet / 2, kFeet} : std::pair{0, kFeet / 2}};
  next.doses += 1;
  REQUIRE(tap("Half of " + bed + (far ? ", far end" : ", lane end")));
  half_of_ = bed;
  write(next, true);
}

void PassWalk::press_other_half() {
  Got next = now_;
  auto& treated = next.beds[half_of_].treated;
  treated = {treated[0].first == 0 ? std::pair{kFeet / 2, kFeet} : std::pair{0, kFeet / 2}};
  REQUIRE(run_.press("Other half of " + half_of_));
  CHECK(got().text() == next.text());
  now_ = next;  // The same dose: Undo takes it back with the half it was.
}

void PassWalk::press_skip(const std::string& bed) {
  Got next = now_;
  next.beds[bed].skipped = "wet";
  next.doses += 1;
  REQUIRE(tap("Skip " + bed + ", with reason"));
  CHECK(got().text() == now_.text());  // A second tap at the same place chose no reason.
  REQUIRE(run_.press("Why skip " + bed + "?: wet"));
  write(next);
}

void PassWalk::press_undo() {
  if (before_.empty()) {
    CHECK_FALSE(run_.find("Undo nothing")->enabled);
    return;
  }
  REQUIRE(tap("Undo…"));
  CHECK(got().text() == before_.back().text());
  now_ = before_.back();
  before_.pop_back();
  half_of_.clear();
}

void PassWalk::press_refill(const std::string& bed) {
  REQUIRE(run_.press("Refill, load…"));
  CHECK(got().text() == now_.text());
  if (chance(30)) {  // Looked at and left.
    run_.app().back();
    run_.settle();
    return;
  }
  Got next = now_;
  next.loads += 1;
  const std::string go = bed.empty() ? "Refilled, go on" : "Refilled, on with " + bed;
  REQUIRE(tap(go));
  // Without rates nobody can say where it ran dry: nothing of the bed in hand is proposed.
  write(next);
  if (!bed.empty()) CHECK(in_hand() == bed);
}

void PassWalk::take_another() {
  std::vector<std::string> rows;
  for (const Item& item : run_.app().items().items())
    if (item.role == Role::Row && item.name.find("chard, waiting") != std::string::npos) rows.push_back(item.name);
  if (rows.empty()) return;
  const std::string row = rows[below(rows.size())], bed = row.substr(0, row.find(' '));
  REQUIRE(run_.press(row));
  CHECK(in_hand() == bed);
  CHECK(got().text() == now_.text());
}

void PassWalk::one_press() {
  phone_.platform.wait(static_cast<std::int64_t>(below(4)) * 20 * kSecond + kSecond);
  const std::string bed = in_hand();
  const auto what = below(100);
  if (what < 5) {
    run_.kill_and_open();
    CHECK(got().text() == now_.text());
  } else if (what < 12) {
    take_another();
  } else if (what < 28) {
    press_undo();
  } else if (what < 36 && now_.loads < 9) {
    press_refill(bed);
  } else if (bed.empty()) {
    CHECK(run_.shows("End pass…"));
  } else if (what < 46) {
    press_skip(bed);
  } else if (what < 60 && now_.beds[bed].treated.empty()) {
    press_half(bed);
  } else if (what < 70 && !half_of_.empty()) {
    press_other_half();
  } else {
    press_done(bed);
  }
}

void PassWalk::walk(int presses) {
  for (int i = 0; i < presses; ++i) {
    one_press();
    INFO("press ", i, ", ", now_.text(), "\n", run_.screen());
    REQUIRE(got().text() == now_.text());
  }
  const auto health = run_.book().check();
  REQUIRE(health);
  CHECK(health->tables_match);
}

TEST_CASE("random pass: the buttons keep their word, from one bed to six") {
  const char* more = std::getenv("STEEPBOOK_PRESSES");
  const std::uint64_t seeds = more ? std::strtoull(more, nullptr, 10) * 4 : 6;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    CAPTURE(seed);
    PassWalk("random-pass", seed, 1 + static_cast<int>(seed % 6)).walk(60);
  }
}

}  // namespace
