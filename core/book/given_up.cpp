#include "book/given_up.h"

#include <algorithm>
#include <set>

#include "book/same_ground.h"
#include "book/saves.h"

namespace steep {
namespace {

/// All that a dose was given up for: copies may have said different ones, and none of them is a stand-in here.
std::vector<Id> given_up_for(const Record& dose) {
  std::vector<Id> others;
  for (const Group& group : dose.groups) {
    if (group.key != "same_as") continue;
    for (const Head& head : group.heads)
      for (const FieldValue& field : head.fields)
        if (const auto id = Id::parse(field.text); field.type == FieldType::Reference && id) others.push_back(*id);
  }
  return others;
}

DoseSays says_of(const Record& dose) {
  DoseSays says;
  says.struck = !dose.struck.empty();
  says.given_up_for = given_up_for(dose);
  for (const Group& group : dose.groups) {
    if (group.key == "what") says.place_in_dispute = group.differs;
    if (group.key != "struck") continue;
    for (const Head& head : group.heads)
      for (const FieldValue& field : head.fields)
        says.struck_by_some = says.struck_by_some || field.type == FieldType::Text;
  }
  if (const FieldValue* how = dose.field("what.how")) says.skipped = how->text == "skipped";
  if (const FieldValue* bed = dose.field("what.bed")) says.bed = Id::parse(bed->text).value_or(Id{});
  return says;
}

enum class ByReading { Standing, Any };

/// Follows what was given up for what.
class Followed {
 public:
  /// `instead`: doses as they would be, in place of what the book has.
  explicit Followed(const Book& book, ByReading reading = ByReading::Standing, const DosesSaid* instead = nullptr)
      : book_(book), reading_(reading), instead_(instead) {}

  Result<std::optional<DoseSays>> read(const Id& id) const {
    if (instead_ != nullptr)
      if (const auto found = instead_->find(id); found != instead_->end()) return std::optional(found->second);
    TRY_ASSIGN(const std::optional<Record>& record, book_.record(id));
    return record ? std::optional(says_of(*record)) : std::nullopt;
  }

  /// Does the work of a dose still stand in those that it was given up for? Round a ring it does not.
  Result<bool> stands(const Id& id, const DoseSays& dose) {
    const auto [place, is_new] = stands_.try_emplace(id, false);
    if (!is_new) return place->second;
    bool all = true;
    for (const Id& other : dose.given_up_for) {
      TRY_ASSIGN(const bool one, tells_of(other, dose));
      all = all && one;
    }
    stands_[id] = all;
    return all;
  }

 private:
  /// One that is not here, was skipped, or lies on other ground meanwhile tells nothing of it.
  Result<bool> tells_of(const Id& id, const DoseSays& dose) {
    TRY_ASSIGN(const std::optional<DoseSays>& other, read(id));
    if (!other) return false;
    if (reading_ == ByReading::Any && other->place_in_dispute) return false;
    if (other->struck || (reading_ == ByReading::Any && other->struck_by_some)) {
      if (other->given_up_for.empty()) return false;
      return stands(id, *other);
    }
    if (other->skipped) return false;
    if (!dose.bed || !other->bed || *dose.bed == *other->bed) return true;
    TRY_ASSIGN(const SameGround& ground, SameGround::read(book_));
    const std::vector<Id> same = ground.same(*dose.bed);
    return std::find(same.begin(), same.end(), *other->bed) != same.end();
  }

  const Book& book_;
  ByReading reading_;
  const DosesSaid* instead_;
  std::map<Id, bool> stands_;
};

/// Struck doses that were given up for one that does not plainly stand or is in dispute, or for which copies named different
/// ones. Looked for often, and there are hardly any; those given up for good grow with the years.
constexpr std::string_view kLookedAt[] = {
    "SELECT a.uid FROM k_dose a LEFT JOIN k_dose b ON b.uid = a.same_as WHERE a.same_as IS NOT NULL AND a.struck IS "
    "NOT NULL AND (b.uid IS NULL OR b.struck IS NOT NULL OR b.what_how IS 'skipped' OR b.what_bed IS NOT a.what_bed)",
    "SELECT k.uid FROM review v JOIN k_dose k ON k.rec = v.rec WHERE v.why = 'review.differs' AND v.grp = 'same_as' "
    "AND k.struck IS NOT NULL",
    "SELECT a.uid FROM review v JOIN k_dose b ON b.rec = v.rec JOIN k_dose a ON a.same_as = b.uid WHERE v.why = "
    "'review.differs' AND v.grp IN ('struck', 'what') AND a.struck IS NOT NULL"};

Result<std::set<Id>> given_up(const Book& book) {
  std::set<Id> doses;
  for (const std::string_view sql : kLookedAt) {
    Query query = book.db().query(sql);
    while (query.next()) doses.insert(query.id(0));
    TRY(query.done());
  }
  return doses;
}

}  // namespace

namespace {

Result<GivenUpFor> given_up_among(const std::set<Id>& doses, Followed& followed) {
  GivenUpFor found;
  for (const Id& id : doses) {
    TRY_ASSIGN(const std::optional<DoseSays>& dose, followed.read(id));
    if (!dose || !dose->struck || dose->given_up_for.empty()) continue;
    TRY_ASSIGN(const bool stands, followed.stands(id, *dose));
    if (!stands) found[id] = dose->given_up_for;
  }
  return found;
}

/// All whose end decides about `from`.
std::set<Id> decided_by(const GivenUpFor& given_up, const Id& from) {
  std::set<Id> all;
  std::vector<Id> open{from};
  while (!open.empty()) {
    const auto found = given_up.find(open.back());
    open.pop_back();
    if (found == given_up.end()) continue;
    for (const Id& other : found->second)
      if (given_up.count(other) > 0 && all.insert(other).second) open.push_back(other);
  }
  return all;
}

}  // namespace

Result<GivenUpFor> given_up_for_none(const Book& book) {
  TRY_ASSIGN(const std::set<Id>& doses, given_up(book));
  Followed followed(book);
  return given_up_among(doses, followed);
}

Result<GivenUpFor> given_up_in_any_reading(const Book& book) {
  TRY_ASSIGN(const std::set<Id>& doses, given_up(book));
  Followed followed(book, ByReading::Any);
  return given_up_among(doses, followed);
}

std::vector<Id> to_ask_about(const GivenUpFor& given_up) {
  std::vector<Id> asked;
  for (const auto& [dose, others] : given_up) {
    const Id& id = dose;  // A lambda of C++20 in clang 14 takes no parts of a pair.
    const std::set<Id> deciding = decided_by(given_up, id);
    if (std::all_of(deciding.begin(), deciding.end(),
                    [&](const Id& one) { return id <= one && decided_by(given_up, one).count(id) > 0; }))
      asked.push_back(id);
  }
  return asked;
}

Result<std::vector<Id>> would_be_given_up(const Book& book, const DosesSaid& changed) {
  std::set<Id> doses;
  for (const auto& [id, says] : changed) doses.insert(id);
  Query query = book.db().query("SELECT uid, same_as FROM k_dose WHERE same_as IS NOT NULL AND struck IS NOT NULL");
  while (query.next())
    if (changed.count(query.id(1)) > 0) doses.insert(query.id(0));
  TRY(query.done());
  Followed followed(book, ByReading::Standing, &changed);
  TRY_ASSIGN(GivenUpFor given_up, given_up_among(doses, followed));
  TRY_ASSIGN(const GivenUpFor& before, given_up_for_none(book));
  for (const auto& [id, others] : before) given_up.erase(id);
  return to_ask_about(given_up);
}

Result<Outcome> count_given_up(Book& book, const Id& dose, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(Save save, change_save(book, dose, {not_taken("struck"), not_taken("same_as")}, reason));
  return write_with(book, {std::move(save)}, dose, {}, going);
}

Result<Outcome> leave_given_up(Book& book, const Id& dose, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  std::vector<Save> saves;
  std::vector<Id> all = {dose};
  for (std::size_t i = 0; i < all.size(); ++i) {
    TRY_ASSIGN(const std::optional<Record>& record, book.record(all[i]));
    const std::vector<Id> others = record ? given_up_for(*record) : std::vector<Id>();
    if (others.empty() || record->struck.empty()) continue;
    TRY_ASSIGN(Save save, change_save(book, all[i], {text_field_value("struck", reason), not_taken("same_as")}));
    saves.push_back(std::move(save));
    for (const Id& other : others)
      if (std::find(all.begin(), all.end(), other) == all.end()) all.push_back(other);
  }
  if (saves.empty()) return refuse(Trouble::BadInput, "record.not-struck"_w);
  return write_with(book, std::move(saves), dose, {}, going);
}

}  // namespace steep
