#pragma once
/// One piece of ground in several records: which beds' records tell of the ground that a bed lies on?
///
/// Beds that people joined; beds of two starts that may be one (twins.h: until somebody says that they are two); and
/// the beds of earlier that a bed was made of. Every wait, every check and every trace asks here, so that none
/// overlooks what was written down under another id. Only core/book includes this.

#include <cstddef>
#include <string>
#include <unordered_map>
#include <vector>

#include "base/id.h"
#include "base/result.h"
#include "trade/stretch.h"

namespace steep {

class Book;

/// A piece of ground that a bed was made of: `from` of bed `bed` now lies at `at` of the new one.
struct GroundPiece {
  Id bed;
  Stretch from;
  Length at;
};
/// 'ID 0 ft 50 ft' a piece: bed, from, to; end to end along the new bed. Of an unreadable stretch: all of the bed.
std::vector<GroundPiece> ground_pieces(const std::vector<std::string>& items);

/// A bed whose records tell of the ground, and where that lies on the bed asked for.
struct GroundSource {
  Id bed;
  bool whole = true;  ///< All of `bed`; else `part` of it.
  Stretch part;
  Length shift;  ///< Place on the bed asked for = place on `bed` + shift.
  /// The stretch as it lies on the bed asked for; of no length when it lies outside.
  Stretch moved(Stretch stretch) const;
};

class SameGround {
 public:
  static Result<SameGround> read(const Book& book);

  /// The bed itself first, then all that are joined with it or may be the same: one ground, end for end.
  std::vector<Id> same(const Id& bed) const;
  /// Those of same(), and the beds that any of them was made of.
  std::vector<GroundSource> sources(const Id& bed) const;
  /// Every bed that shares ground with it in any way, itself included: what has to be looked at again.
  std::vector<Id> connected(const Id& bed) const;
  /// One id for all beds that people joined with it.
  Id joined(const Id& bed) const;
  /// Another farm wrote this ground down too: the rules of both speak.
  bool is_shared(const Id& bed) const;
  /// Farms whose ground is, at least in part, that of this one.
  std::vector<Id> farms_beside(const Id& farm) const;
  /// Beds of which another farm has a record.
  std::vector<Id> shared() const;

 private:
  using Links = std::unordered_map<Id, std::vector<Id>>;
  static std::vector<Id> joined_with(const Links& links, const Id& bed);

  Links joins_, offers_, heirs_;  // both ways; heirs_: a bed → beds made of it
  std::unordered_map<Id, std::vector<GroundPiece>> origin_;
  std::unordered_map<Id, Id> farm_;
};

}  // namespace steep
