#pragma once
/// Which waits does a tankful bring? The farm's rule after tea, and the labels of what was in it.
///
/// Read once for a farm; every answer holds all readings of facts in dispute. Only core/book includes this.

#include <compare>
#include <cstddef>
#include <deque>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "book/book.h"
#include "book/doubts.h"
#include "book/places.h"
#include "book/things.h"
#include "trade/aim.h"
#include "trade/hold.h"

namespace steep {

/// When it was in which tank: the loads of a pass by their numbers, the passes of a rig by their starts.
struct TankTurn {
  Id rig;
  std::int64_t start = 0;  ///< Of the pass, ms.
  Id pass;
  int number = 0;
  auto operator<=>(const TankTurn&) const = default;
};

/// A tankful as far as waits care: what went in, and what may have stayed in the tank from the one before.
struct TankFacts {
  Id load, pass, brew;
  std::vector<Aim> aims;   ///< All readings.
  bool known = false;      ///< Load and pass are on this copy, by every reading.
  bool struck = false;     ///< The strike took lines of what was in it along.
  bool has_tea = false;    ///< In any reading; also where nothing says what was in it.
  bool tells_tea = false;  ///< Something says how much tea, be it none.
  std::vector<Id> lots;    ///< In any reading; nil = a line whose lot was not taken.
  std::int64_t lane = 0;   ///< Row of the lane it was written in.
  int number = 0;
  std::vector<TankTurn> turns;  ///< All readings.
  std::int64_t washable = 0;    ///< A wash from then on is one after it, ms.
  bool stands = true;           ///< Not struck, or that is in doubt.
  bool may_stay = true;         ///< Some may be in the tank when the next is filled: nobody wrote that it was emptied.
  bool into_clean = false;      ///< The tank was cleaned before it, within its pass.
  std::optional<std::size_t> mix;  ///< WaitRules' number for all tanks that ask for the same; of those that it read.
};

/// What one treatment starts.
struct StartedHolds {
  Hold harvest, entry;
};

class WaitRules {
 public:
  /// `only_pass`: tankfuls of that pass alone, and of those whose rest may be in them. Where other farms share ground with
  /// this one, their rules and tankfuls are read too.
  static Result<WaitRules> read(const Book& book, const Farm& farm, const Doubts& doubts, const SameGround& ground,
                                const Id& only_pass = {});

  /// Of a load that is not here: not known.
  const TankFacts& tank(const Id& load) const;
  /// What the tank asks for this crop; empty crop = no planting on record there. For all readings of the tank.
  /// `shared`: on ground that other farms wrote down too (SameGround::is_shared): their rules stand beside this one's.
  const std::vector<RuleWait>& harvest(const TankFacts& tank, const std::string& crop, bool shared) const;
  const std::vector<RuleWait>& entry(const TankFacts& tank) const;
  /// The crop is on the label of the material (or the label holds for every crop, or does not bind).
  bool is_on_label(const Id& material, const std::string& crop) const;
  /// Materials in the tank whose label binds and lacks the crop.
  std::vector<Id> labels_without(const std::vector<Id>& lots, const std::string& crop) const;
  const std::string& material_name(const Id& material) const;
  Id material_of(const Id& lot) const;

  /// Can any tank of this farm bring a wait without a known end?
  bool has_unknown() const { return has_unknown_; }
  /// And one before entry?
  bool has_unknown_entry() const { return has_unknown_entry_; }
  /// The longest wait with a known end, a day added.
  std::int64_t longest_ms() const { return longest_ms_; }

  /// The hold over all readings of how the farm counts and of its zone; `shared` as above.
  Hold harvest_hold(const std::vector<Treatment>& treatments, bool shared) const;
  Hold entry_hold(const std::vector<Treatment>& treatments) const;
  /// What a dose out of this tank starts, over all that grows there (no crops = no planting on record). `finishes`: all
  /// readings of when it was done.
  StartedHolds holds_after(const TankFacts& tank, const std::vector<std::string>& crops,
                           const std::vector<Moment>& finishes, bool shared, bool in_question = false) const;

 private:
  /// One line of a label; while copies disagree, one for each reading.
  struct Line {
    std::vector<std::string> crops;  ///< Lower case; empty text = every crop.
    std::vector<Wait> harvest, entry;
    bool certain = true;  ///< Nobody disputes what it names, and that it stands.
  };
  struct Label {
    std::string name;
    bool binds = false;
    std::vector<Line> lines;
  };
  /// What one farm decided, with all readings.
  struct FarmRule {
    RuleSource source;
    std::vector<Wait> tea;
    std::vector<DayCounting> countings;
    std::vector<Zone> zones;
  };
  static FarmRule farm_rule(const Farm& farm, const Doubts& doubts);
  Result<void> read_labels(const Book& book, const Doubts& doubts);
  void add_line(const Doubts& doubts, const Id& id, const Id& material, Line row);
  Result<void> read_lots(const Book& book, const Doubts& doubts);
  /// The tankfuls of this farm, and of those beside it; nil = of all passes.
  Result<void> read_tanks(const Book& book, const Doubts& doubts, const Id& only_pass);
  Result<void> read_chained_tanks(const Book& book, const Doubts& doubts, const Id& only_pass);
  /// What else is in the tanks read before.
  Result<void> read_products(const Book& book, const Doubts& doubts);
  void add_product(const Doubts& doubts, const Id& id, const Id& load, const Id& lot);
  /// What stays in a tank is sprayed with the next load.
  Result<void> carry_over(const Book& book, const Doubts& doubts);
  /// How far back can a wait reach, and can one be without a known end?
  void find_reach();
  void number_mixes();
  std::size_t mix_of(const TankFacts& tank) const;
  std::vector<RuleWait> tea_waits(const TankFacts& tank, bool shared) const;
  void add_label_waits(const Id& lot, const std::string& crop, bool harvest, std::vector<RuleWait>& waits) const;

  Farm farm_;
  std::vector<FarmRule> rules_;  ///< This farm's own, then those of farms that share ground with it.
  std::unordered_map<Id, TankFacts> tanks_;
  std::unordered_map<Id, std::vector<Id>> lot_materials_;  ///< All readings.
  std::unordered_map<Id, Label> labels_;
  bool has_unknown_ = false, has_unknown_entry_ = false;
  std::int64_t longest_ms_ = 0;
  /// Answers given, by mix; a bed asks for each of its doses and crops, and seasons have a few mixes.
  using ByMix = std::deque<std::optional<std::vector<RuleWait>>>;  // grows, and what was handed out stays where it is
  mutable std::map<std::vector<Id>, std::size_t> mixes_;
  mutable std::map<std::string, ByMix, std::less<>> harvest_[2];  // by shared, crop
  mutable ByMix entry_;
};

}  // namespace steep
