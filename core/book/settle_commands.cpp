#include "book/settle_commands.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <tuple>

#include "base/sorting.h"
#include "base/text.h"
#include "book/differing.h"
#include "book/saves.h"
#include "book/twins.h"

namespace steep {
namespace {

/// Calls `then(record, group)` with every fact that differs, in the order of the review list. There may be thousands: their
/// histories are not read.
template <class Then>
Result<void> each_differing(const Book& book, Then then) {
  TRY_ASSIGN(const std::vector<Review>& reviews, book.reviews());
  std::set<Id> met;
  for (const Review& review : reviews) {
    if (review.why != "review.differs"_w || !met.insert(review.record).second) continue;
    TRY_ASSIGN(const std::optional<Record>& record, book.record(review.record));
    if (!record) continue;
    for (const Group& group : record->groups)
      if (group.differs) then(*record, group);
  }
  return {};
}

/// The version that only this copy wrote; nullopt when it has none, or two.
std::optional<std::size_t> version_of(const Group& group, const std::map<Id, Id>& copies, const Id& copy) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < group.heads.size(); ++i) {
    const auto lane = copies.find(group.heads[i].ref.lane);
    if (lane == copies.end() || lane->second != copy) continue;
    if (found) return std::nullopt;
    found = i;
  }
  return found;
}

}  // namespace

Result<Outcome> stay_struck(Book& book, const Id& id, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  if (record.struck.empty()) return refuse(Trouble::BadInput, "record.not-struck"_w);
  TRY_ASSIGN(Save save, change_save(book, id, {text_field_value("struck", record.struck)}, reason));
  return write_with(book, {std::move(save)}, id, {}, going);
}

Result<Outcome> keep_child(Book& book, const Id& id, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  const KindDef* kind = find_kind(record.kind);
  const FieldValue* parent = kind && kind->rule == PartRule::OfParent ? record.field(kind->parent) : nullptr;
  if (!parent) return refuse(Trouble::BadInput, "record.no-parent"_w);
  std::vector<std::string> settled;
  if (const FieldValue* field = record.field("settled")) settled = field->items;
  if (std::find(settled.begin(), settled.end(), parent->text) == settled.end()) settled.push_back(parent->text);
  TRY_ASSIGN(Save save, change_save(book, id, {list_value("settled", std::move(settled))}, reason));
  return write_with(book, {std::move(save)}, id, {}, going);
}

// ---- Facts of one record -----------------------------------------------------------------------

namespace {

Result<std::vector<FieldValue>> chosen_fields(const Record& record, const FactChoice& choice) {
  const auto group = std::find_if(record.groups.begin(), record.groups.end(),
                                  [&](const Group& one) { return one.key == choice.group; });
  if (group == record.groups.end()) return refuse(Trouble::NotFound, "settle.no-group"_w, {choice.group});
  if (!group->differs) return refuse(Trouble::BadInput, "settle.agrees"_w);
  if (choice.typed.empty()) {
    if (choice.choice >= group->heads.size())
      return refuse(Trouble::BadInput, "settle.no-choice"_w, {std::to_string(choice.choice + 1)});
    return group->heads[choice.choice].fields;
  }
  for (const FieldValue& field : choice.typed)
    if (group_of(field.key) != choice.group) return refuse(Trouble::BadInput, "settle.one-group"_w, {field.key});
  for (const Head& head : group->heads)
    for (const FieldValue& field : head.fields)
      if (std::none_of(choice.typed.begin(), choice.typed.end(),
                       [&](const FieldValue& typed) { return typed.key == field.key; }))
        return refuse(Trouble::BadInput, "settle.whole-fact"_w, {field.key}, field.key);
  return choice.typed;
}

}  // namespace

Result<Outcome> settle_facts(Book& book, const Id& id, std::span<const FactChoice> choices, std::string_view why,
                             const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  TRY_ASSIGN(Save save, change_save(book, id, {}, reason));
  bool typed = false;
  for (const FactChoice& choice : choices) {
    TRY_ASSIGN(const std::vector<FieldValue>& fields, chosen_fields(record, choice));
    save.fields.insert(save.fields.end(), fields.begin(), fields.end());
    typed = typed || !choice.typed.empty();
  }
  if (save.fields.empty()) return refuse(Trouble::BadInput, "settle.agrees"_w);
  // A version that somebody wrote down was checked where it was written.
  std::vector<Caution> cautions;
  if (typed) {
    TRY_ASSIGN(cautions, check_entry(book, record.kind, save.fields, &record, going));
  }
  return write_entry(book, std::move(save), std::move(cautions), going);
}

Result<Outcome> settle(Book& book, const Id& id, std::string_view group, std::size_t choice, std::string_view why,
                       const Going& going) {
  const FactChoice fact{std::string(group), choice, {}};
  return settle_facts(book, id, std::span(&fact, 1), why, going);
}

// ---- All of one side ---------------------------------------------------------------------------

Result<std::vector<SidedFact>> facts_of_side(const Book& book, const Id& copy) {
  std::vector<SidedFact> facts;
  const std::map<Id, Id> copies = copies_of_lanes(book);
  TRY(each_differing(book, [&](const Record& record, const Group& group) {
    if (const auto choice = version_of(group, copies, copy)) facts.push_back({record.id, group.key, *choice});
  }));
  return facts;
}

Result<std::vector<Side>> sides(const Book& book) {
  std::map<Id, Side> by_copy;
  const std::map<Id, Id> copies = copies_of_lanes(book);
  std::map<Id, std::string> labels;  // of lanes
  for (const Lane& lane : book.lanes()) labels[lane.id] = lane.mine ? book.copy_label() : lane.label;
  TRY(each_differing(book, [&](const Record&, const Group& group) {
    for (const Head& head : group.heads) {
      const Id& copy = copies.at(head.ref.lane);
      if (!version_of(group, copies, copy)) continue;
      Side& side = by_copy[copy];
      side.copy = copy;
      side.label = side.called = labels[head.ref.lane];
      ++side.facts;
    }
  }));
  std::vector<Side> sides;
  for (const auto& [copy, side] : by_copy) sides.push_back(side);
  for (Side& side : sides)
    if (std::count_if(sides.begin(), sides.end(), [&](const Side& one) { return one.label == side.label; }) > 1)
      side.called += " (" + short_code(side.copy) + ')';
  sort_list(sides, [](const Side& a, const Side& b) { return std::tie(a.label, a.copy) < std::tie(b.label, b.copy); });
  return sides;
}

Result<Side> side_called(const Book& book, std::string_view typed) {
  TRY_ASSIGN(const std::vector<Side>& all, sides(book));
  std::vector<Side> found;
  std::vector<std::string> which;
  for (const Side& side : all) {
    const bool meant = typed == side.copy.text() || typed == short_code(side.copy) ||
                       (!typed.empty() && (typed == side.label || typed == side.called));
    if (!meant) continue;
    found.push_back(side);
    which.push_back(side.called);
  }
  if (found.size() == 1) return found.front();
  if (found.empty()) return refuse(Trouble::NotFound, "settle.nothing-of"_w, {typed});
  return refuse(Trouble::Ask, "settle.which-side"_w, {std::string(typed), join(which, ", ")});
}

Result<Outcome> settle_side(Book& book, const Id& copy, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const std::vector<SidedFact>& facts, facts_of_side(book, copy));
  if (facts.empty()) return refuse(Trouble::NotFound, "settle.nothing-of"_w, {copy.text()});
  std::vector<Save> saves;
  for (const SidedFact& fact : facts) {
    TRY_ASSIGN(const Record& record, existing_record(book, fact.record));
    if (saves.empty() || saves.back().record != fact.record) {
      TRY_ASSIGN(Save save, change_save(book, fact.record, {}, reason));
      saves.push_back(std::move(save));
    }
    for (const Group& group : record.groups)
      if (group.key == fact.group)
        for (const FieldValue& field : group.heads[fact.choice].fields) saves.back().fields.push_back(field);
  }
  // More than an act holds are several, each whole in itself.
  constexpr auto kMost = static_cast<std::ptrdiff_t>(kMaxActLines);
  Outcome outcome;
  for (auto from = saves.begin(); from != saves.end();) {
    const auto to = from + std::min(kMost, saves.end() - from);
    std::vector<Save> act(std::make_move_iterator(from), std::make_move_iterator(to));
    TRY_ASSIGN(outcome, write_with(book, std::move(act), facts.front().record, {}, going));
    from = to;
  }
  return outcome;
}

// ---- One piece of ground -----------------------------------------------------------------------

Result<Outcome> join_ground(Book& book, const Id& block, const Id& as, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::vector<TwinBeds>& twins, twin_beds(book));
  std::vector<Save> saves;
  TRY_ASSIGN(Save first, change_save(book, block, {reference_value("same_as", as)}, clean_text(why)));
  saves.push_back(std::move(first));
  for (const TwinBeds& pair : twins) {
    const bool turned = pair.block == as && pair.other_block == block;
    if (pair.said || (!turned && !(pair.block == block && pair.other_block == as))) continue;
    TRY_ASSIGN(Save save, change_save(book, turned ? pair.other : pair.bed,
                                      {reference_value("same_as", turned ? pair.bed : pair.other)}, clean_text(why)));
    saves.push_back(std::move(save));
  }
  if (saves.size() == 1) return refuse(Trouble::NotFound, "record.no-twins"_w);
  return write_with(book, std::move(saves), block, {}, going);
}

}  // namespace steep
