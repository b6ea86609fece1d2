#pragma once
/// What the parts of an inspection report share while it is read from the book. Only core/book includes this.

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "book/codes.h"
#include "book/doubts.h"
#include "book/report_data.h"
#include "book/wait_rules.h"

namespace steep {

/// A bed of the farm: block by block in walking order, within a block by name, as ranges are read.
struct BedInOrder {
  Id id, block;
  std::string name, told;  ///< `told`: as on paper, with its block where the name alone is not enough.
};
/// 'N1–N14', 'C3, C5–C12', 'North B1–B4': neighbours by name joined, nothing in between that is not in `beds`.
std::string bed_ranges(const std::vector<Id>& beds, const std::vector<BedInOrder>& in_order);

struct ReportWork {
  const Book& book;
  ReportData& data;
  Places places;
  Codes codes;
  Doubts doubts;
  WaitRules rules;
  std::map<Id, std::vector<Planting>> plantings;  ///< Of each bed under any of its ids, ended ones too.
  std::set<Id> in_question, left_out;
  std::vector<BedInOrder> beds_in_order;
};

template <class T>
void add_once(std::vector<T>& list, const T& value) {
  if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
}

/// Of a bed's plantings those that grew that day on this stretch of it, in the order of their stretches.
std::vector<const Planting*> grew_on(const std::vector<Planting>& plantings, const std::optional<Stretch>& stretch,
                                     Date day);
/// What grew that day on this stretch of the bed; without one, on any of it.
std::vector<const Planting*> grew_on(const ReportWork& work, const Id& bed, const std::optional<Stretch>& stretch,
                                     Date day);
/// What was poured out of a brew or load.
Result<std::vector<ReportPoured>> report_poured(const Book& book, const Id& of);
/// One pass with its doses, products, rules and sums (report_pass.cpp).
Result<ReportPass> report_pass(const ReportWork& work, const Pass& from);

}  // namespace steep
