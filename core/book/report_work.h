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

struct ReportWork {
  const Book& book;
  ReportData& data;
  Places places;
  Codes codes;
  Doubts doubts;
  WaitRules rules;
  std::map<Id, std::vector<Planting>> plantings;  ///< Of each bed under any of its ids, ended ones too.
  std::set<Id> in_question, left_out;
  std::vector<std::string> names_in_order;
};

template <class T>
void add_once(std::vector<T>& list, const T& value) {
  if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
}

/// What grew on the bed that day.
std::vector<const Planting*> grew_on(const ReportWork& work, const Id& bed, Date day);
/// One pass with its doses, products, rules and sums (report_pass.cpp).
Result<ReportPass> report_pass(const ReportWork& work, const Pass& from);

}  // namespace steep
