#pragma once
/// 'Alder Reach', the invented farm that the first run, the pictures and the tests share.
///
/// Three blocks, 44 beds, ten weeks of brews and passes up to the given moment, with what goes wrong
/// on real farms: a brew that turned sour, a wet bed skipped, half a bed, an entry written twice and
/// struck, a reading nobody took. Everything is written by the book's own commands at the moment at which it
/// happened, from a fixed seed: same moment in, same book out. Nothing in it waits or has to be settled.

#include <memory>
#include <string>

#include "book/book.h"

namespace steep {

struct DemoWish {
  Moment now;                                     ///< The season ends here.
  std::string zone_name = "America/Los_Angeles";  ///< Of the farm; an unknown one gives this one.
};

/// Makes the demo book in slices, so that a phone stays alive.
class DemoMaker {
 public:
  /// `place` must be an empty book, or not there yet; `committed` as in BookNeeds, may be empty.
  static Result<std::unique_ptr<DemoMaker>> start(const BookPlace& place, const DemoWish& wish,
                                                  std::function<void()> committed = {});
  ~DemoMaker();

  /// One step of the season. `share` = 0…1 done.
  struct Step {
    bool done = false;
    double share = 0;
  };
  Result<Step> step();

 private:
  struct Work;
  explicit DemoMaker(std::unique_ptr<Work> work);
  std::unique_ptr<Work> work_;
};

/// The whole season at once.
Result<void> make_demo(const BookPlace& place, const DemoWish& wish);

/// A second phone of the farm: takes `file` (a whole handover file of the demo book) into an empty book at
/// `place`, labelled 'Marek's phone', and writes a pass there that went over one bed in the very minutes in
/// which the first phone's last pass did: 'Same bed, twice?'.
Result<void> make_demo_phone(const BookPlace& place, const Book& farm_book, const DemoWish& wish);

}  // namespace steep
