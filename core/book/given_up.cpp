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

/// Follows what was given up for what.
class Followed {
 public:
  explicit Followed(const Book& book) : book_(book) {}

  /// Does the work of `dose` still stand in those that it was given up for? Round a ring it does not.
  Result<bool> stands(const Record& dose) {
    const auto [place, is_new] = stands_.try_emplace(dose.id, false);
    if (!is_new) return place->second;
    bool all = true;
    for (const Id& other : given_up_for(dose)) {
      TRY_ASSIGN(const bool one, tells_of(other, dose));
      all = all && one;
    }
    stands_[dose.id] = all;
    return all;
  }

 private:
  /// One that is not here, was skipped, or lies on other ground meanwhile tells nothing of it.
  Result<bool> tells_of(const Id& id, const Record& dose) {
    TRY_ASSIGN(const std::optional<Record>& other, book_.record(id));
    if (!other) return false;
    if (!other->struck.empty()) {
      if (given_up_for(*other).empty()) return false;
      return stands(*other);
    }
    if (const FieldValue* how = other->field("what.how"); how && how->text == "skipped") return false;
    const FieldValue *bed = dose.field("what.bed"), *other_bed = other->field("what.bed");
    if (!bed || !other_bed || bed->text == other_bed->text) return true;
    TRY_ASSIGN(const SameGround& ground, SameGround::read(book_));
    const std::vector<Id> same = ground.same(Id::parse(bed->text).value_or(Id{}));
    return std::any_of(same.begin(), same.end(), [&](const Id& one) { return one.text() == other_bed->text; });
  }

  const Book& book_;
  std::map<Id, bool> stands_;
};

/// Struck doses that were given up for one that does not plainly stand, or for which copies named different ones. Looked for
/// often, and there are hardly any; those given up for good grow with the years.
constexpr std::string_view kAsked[] = {
    "SELECT a.uid FROM k_dose a LEFT JOIN k_dose b ON b.uid = a.same_as WHERE a.same_as IS NOT NULL AND a.struck IS "
    "NOT NULL AND (b.uid IS NULL OR b.struck IS NOT NULL OR b.what_how IS 'skipped' OR b.what_bed IS NOT a.what_bed)",
    "SELECT k.uid FROM review v JOIN k_dose k ON k.rec = v.rec WHERE v.why = 'review.differs' AND v.grp = 'same_as' "
    "AND k.struck IS NOT NULL"};

Result<std::set<Id>> given_up(const Book& book) {
  std::set<Id> doses;
  for (const std::string_view sql : kAsked) {
    Query query = book.db().query(sql);
    while (query.next()) doses.insert(query.id(0));
    TRY(query.done());
  }
  return doses;
}

}  // namespace

Result<std::map<Id, std::vector<Id>>> given_up_for_none(const Book& book) {
  std::map<Id, std::vector<Id>> found;
  TRY_ASSIGN(const std::set<Id>& doses, given_up(book));
  Followed followed(book);
  for (const Id& id : doses) {
    TRY_ASSIGN(const std::optional<Record>& dose, book.record(id));
    if (!dose) continue;
    TRY_ASSIGN(const bool stands, followed.stands(*dose));
    if (!stands) found[id] = given_up_for(*dose);
  }
  return found;
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
