#pragma once
/// A tired grower with wet hands: presses anything, types anything, goes back, turns the phone, lets time pass, and is let
/// down by the phone's clock and storage. `Hand::act` does one such thing; `Hand::fault` says what is wrong after it.

#include <array>
#include <cstdint>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "tests/screens/app_run.h"

namespace steep::test {

/// Remembers how often storage was asked, so that a write that asked nobody shows.
class WatchedPlatform : public FakePlatform {
 public:
  using FakePlatform::FakePlatform;
  long keeps = 0;
  void keep() override {
    ++keeps;
    FakePlatform::keep();
  }
};

class Hand {
 public:
  Hand(AppRun& r, WatchedPlatform& p, std::uint64_t seed) : run(r), platform(p), random_(seed) {
    counter_ = run.book().counter();
    keeps_ = platform.keeps;
  }

  AppRun& run;
  WatchedPlatform& platform;
  std::vector<File> files;        ///< One of them is what a person picks.
  std::vector<std::string> told;  ///< What was done, in order.
  bool may_lose_storage = true;   ///< Writes fail for a while.
  bool may_turn_clock_back = true;

  void act();
  /// Empty = nothing.
  std::string fault();
  /// From wherever one is, by what stands on the screen alone. False: no way.
  bool go_home();
  std::string story(std::size_t last = 40) const;

 private:
  std::uint64_t below(std::uint64_t n) { return random_() % n; }
  bool chance(int percent) { return static_cast<int>(below(100)) < percent; }
  template <class List>
  const auto& one_of(const List& list) {
    return list[below(list.size())];
  }
  void press_any();
  void tap_any(int times);
  void type_any();
  void turn();
  void pass_time();
  void other_settings();
  void trouble_or_not();
  const Item* any_item();
  bool press_named(Role role, const std::string& name);
  std::string word(WordId id) const { return Words(run.app().language())(id); }

  std::mt19937_64 random_;
  std::uint64_t counter_ = 0;
  long keeps_ = 0;
  bool press_lost_ = false;
};

}  // namespace steep::test
