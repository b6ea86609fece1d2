#pragma once
/// What has to be looked at again because of records that changed. Only core/book includes this.

#include <cstdint>
#include <optional>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include "book/book.h"
#include "book/same_ground.h"

namespace steep {

class CheckScope {
 public:
  CheckScope(const Book& book, std::vector<Id> touched);
  /// Follows one record to those that hang together with it; false when all were followed.
  Result<bool> step();
  double share() const;

  /// Complete, sorted and without repetition once step() said false.
  std::vector<Id> passes, loads, doses, harvests, lots, brews;
  std::vector<Id> dosed;  ///< Loads of which only a dose changed.

 private:
  Result<void> follow(const Id& id, std::string_view kind);
  Result<void> follow_dose(const Id& dose);
  Result<void> follow_ground(const Id& id, std::string_view kind);
  Result<void> follow_bed(const Id& bed);
  Result<const std::vector<Id>*> connected(const Id& bed);
  Result<const SameGround*> same_ground();
  Result<void> follow_material(const Id& material);
  Result<void> add(std::string_view sql, const Id& id, std::vector<Id>& into) const;
  /// All that the query gives will be followed as records of this kind.
  Result<void> go_on(std::string_view sql, const Id& id, std::string_view kind);
  void go_on(const Id& id, std::string_view kind);
  /// A bed and when it was sprayed: many doses of a take look at the same pickings.
  struct OfBed {
    Id bed;
    std::vector<std::int64_t> sprayed;
  };
  Result<void> follow_sprayed(OfBed of);

  const Book& book_;
  std::vector<Id> touched_;
  std::size_t next_ = 0;
  std::vector<std::pair<Id, std::string_view>> open_;  // found on the way
  std::unordered_set<Id> met_;                         // many ways lead to a load, dose, bed or material
  std::vector<OfBed> sprayed_;                         // looked at once all are known
  std::unordered_map<Id, std::size_t> sprayed_bed_;    // place there
  std::size_t sorted_ = 0;                             // lists
  std::optional<SameGround> same_;
  std::unordered_map<Id, std::vector<Id>> connected_;
  bool found_again_ = false;  // what already has a finding about ground
};

}  // namespace steep
