#pragma once
/// The checks that run after a write or a take, each over one record as the book stands: picked inside a wait, lot
/// overdrawn, load or brew gave more than it held, crop missing on a label, finish before start, code given twice, more
/// sold than was picked or before it was. Only core/book includes this.
///
/// What many records have in common (a bed's treatments and plantings, a tank's labels, a farm's rules) is
/// read once: a Checker may be used only while the book does not change.

#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "book/book.h"
#include "book/checks.h"
#include "book/doubts.h"
#include "book/hand_holds.h"
#include "book/places.h"
#include "book/same_ground.h"
#include "book/wait_rules.h"
#include "book/work.h"

namespace steep {

/// Harvests are held against treatments of at most so long before, where no wait on record is longer.
inline constexpr std::int64_t kLongestLookBack = 400 * kDay;

class Checker {
 public:
  explicit Checker(const Book& book) : book_(book) {}
  std::vector<Review> findings;

  /// Nothing to say about a record that is not on this copy, or struck.
  Result<void> check_pass(const Id& pass);
  /// Gave no load more than it held? What stayed in the tank goes on to the next one, so of a load that changed
  /// all loads of its pass are looked at, once, and added to `examined`.
  Result<void> check_loads_beside(const Id& load, std::vector<Id>& examined);
  /// Of a load that only gave more or less: itself alone.
  Result<void> check_load(const Id& load);
  Result<void> check_brew(const Id& brew);
  Result<void> check_lot(const Id& lot);
  /// A dose: its times, and whether the labels in its tank name the crops of its bed on that day.
  Result<void> check_dose(const Id& dose);
  /// Picked inside a wait, as the record stands now? Its code given twice? More sold of it than was picked?
  Result<void> check_harvest(const Id& harvest);
  /// Sold before it was picked?
  Result<void> check_sale(const Id& sale);
  /// Doses within whose wait it was picked, as the record stands now: on its bed under any id, and on beds that
  /// this one was made of. By their finish.
  Result<std::vector<Id>> doses_holding(const Id& harvest);

 private:
  /// A dose by one of its readings.
  struct Treated {
    Id dose, load;
    std::int64_t since = 0, latest = 0;  // its finish; when that is not known, the earliest and the latest it can be
    bool finish_known = true;
  };
  /// One in dispute, as one version lays it on a bed; without a stretch all of it.
  struct Disputed {
    Treated dose;
    std::optional<Stretch> stretch;
  };
  struct GroundOf {
    bool is_here = false, shared = false;
    Id farm;
    std::vector<Planting> plantings;
    std::vector<GroundSource> sources;
    bool waits_read = false;     // only pickings ask for them
    std::vector<Treated> doses;  // by `since`; skipped ones and those struck for good left out
    std::vector<SetHold> holds;  // by their ends or releases
  };
  struct FarmRules {
    Farm farm;
    WaitRules rules;
  };
  struct KnownPass {
    std::optional<Pass> pass;  // nullopt = not on this copy
    bool checked = false;      // all its loads
    std::optional<bool> may_hold_products;
  };
  struct Picked;

  void add(const Id& record, std::string_view group, WordId word, Values values, Moment since);
  Result<KnownPass*> pass_of(const Id& load);
  void note(const LoadBalance& balance);
  const Farm* farm(const Id& id);
  Result<const SameGround*> same_ground();
  Result<GroundOf*> ground(const Id& bed);
  Result<void> add_treated(const GroundSource& source, GroundOf& of);
  Result<void> add_disputed(const GroundSource& source, GroundOf& of);
  Result<void> read_disputed(const Id& dose);
  Result<std::vector<Treated>> readings_of_time(const Id& dose, std::int64_t earliest, std::int64_t latest);
  Result<void> add_hand_holds(const GroundSource& source, GroundOf& of);
  Result<std::optional<Moment>> released_at(const Id& hold);
  Result<void> read_waits(GroundOf& of);
  Result<const Doubts*> doubts();
  Result<bool> may_hold_products(const Id& load);
  Result<bool> had_products(const Id& pass);
  Result<const FarmRules*> rules_for(const Id& farm);
  Result<void> check_code(const Id& harvest, const std::string& code, Moment at);
  Result<void> check_sold(const Id& harvest, Moment at);
  struct Inside;
  /// The picking by each of its readings; none when it is not here, or struck.
  Result<std::vector<Picked>> read_picked(const Id& harvest);
  /// The waits inside which it was picked, one a dose, and the holds set by hand.
  Result<std::vector<Inside>> waits_around(const Picked& picked);
  Result<void> add_dose_waits(const Picked& picked, const GroundOf& ground, std::vector<Inside>& inside);
  static void keep_most_cautious(std::vector<Inside>& inside, Inside wait);
  static bool is_inside_wait(const FarmRules& of, const Treated& dose, const Picked& picked, const std::string& crop,
                             std::optional<Date> started, bool shared, Hold& hold);

  const Book& book_;
  std::optional<Doubts> doubts_;
  std::optional<std::unordered_map<Id, std::vector<Disputed>>> disputed_;  // doses, by bed
  std::optional<SameGround> same_;
  std::unordered_map<Id, GroundOf> grounds_;
  std::unordered_map<Id, KnownPass> passes_;
  std::unordered_map<Id, std::optional<Farm>> farms_;
  std::map<Id, FarmRules> rules_;
};

}  // namespace steep
