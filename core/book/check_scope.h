#pragma once
/// What has to be looked at again because of records that changed. Only core/book includes this.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include "book/book.h"
#include "book/said.h"
#include "book/same_ground.h"
#include "book/take_checks.h"

namespace steep {

class CheckScope {
 public:
  CheckScope(const Book& book, Touched touched);
  /// Follows one record to those that hang together with it; false when all were followed.
  Result<bool> step();
  double share() const;

  /// Complete, sorted and without repetition once step() said false.
  std::vector<Id> passes, loads, doses, harvests, sales, lots, brews;
  std::vector<Id> dosed;  ///< Loads of which only a dose changed.

 private:
  /// Of those just folded it is at hand, of others their lines are read.
  Result<Said> ever_said(const Id& id);
  Result<void> follow(const Id& id, std::string_view kind);
  Result<void> follow_dose(const Id& dose, const Said& said);
  Result<void> follow_load(const Id& load, const Said& said);
  Result<void> follow_sprayed(const Id& load);
  Result<void> follow_rest(const Id& load);
  Result<void> follow_rig(const Id& rig, std::int64_t since, const Id& except);
  Result<void> follow_wash(const Id& wash, const Said& said);
  Result<void> follow_lot(const Id& lot);
  Result<void> follow_discard(const Said& said);
  Result<void> follow_harvest(const Id& harvest, const Said& said);
  Result<void> follow_ground(const Id& id, std::string_view kind);
  Result<void> follow_earlier_ground(const Said& said);
  Result<void> follow_bed(const Id& bed);
  Result<const std::vector<Id>*> connected(const Id& bed);
  Result<const SameGround*> same_ground();
  Result<void> follow_material(const Id& material);
  Result<void> add(std::string_view sql, const Id& id, std::vector<Id>& into) const;
  /// All that the query gives will be followed as records of this kind.
  Result<void> go_on(std::string_view sql, const Id& id, std::string_view kind);
  void go_on(const Id& id, std::string_view kind);
  void go_on_with_rest(const std::vector<Id>& next);
  /// Records of this kind that name it in any version, while people disagree about them.
  Result<std::vector<Id>> in_doubt(const Id& named, std::string_view kind);
  /// What was picked on this ground from then on will be looked at.
  Result<void> look_at_pickings(const std::vector<Id>& beds, std::int64_t since);
  Result<void> add_picked(const Id& bed, std::int64_t since);

  const Book& book_;
  Touched touched_;
  std::size_t next_ = 0;
  std::vector<std::pair<Id, std::string_view>> open_;  // found on the way
  std::unordered_set<Id> met_;                         // many ways lead to a load, dose, bed or material
  std::unordered_set<Id> met_rest_;
  /// Beds, and since when: many doses of a take look at the same pickings, once all are known.
  std::unordered_map<Id, std::int64_t> picked_since_;
  std::size_t sorted_ = 0;  // lists
  Change line_;             // room for one, used for the next
  std::optional<SameGround> same_;
  std::optional<std::map<std::pair<Id, std::string>, std::vector<Id>>> in_doubt_;
  std::unordered_map<Id, std::vector<Id>> connected_;
  bool found_again_ = false;  // what already has a finding about ground
};

}  // namespace steep
