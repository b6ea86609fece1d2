#include "book/record_commands.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "book/rows.h"
#include "book/saves.h"
#include "book/spelled.h"
#include "book/work.h"

namespace steep {
namespace {

/// Fields of a group that are not given, as its stand-in has them.
void carry_along(const Record& record, std::vector<FieldValue>& fields) {
  std::set<std::string> groups;
  for (const FieldValue& field : fields) groups.insert(std::string(group_of(field.key)));
  for (const Group& group : record.groups) {
    if (groups.count(group.key) == 0 || group.heads.empty()) continue;
    for (const FieldValue& old : group.heads.front().fields) {
      const bool given =
          std::any_of(fields.begin(), fields.end(), [&](const FieldValue& f) { return f.key == old.key; });
      if (!given) fields.push_back(old);
    }
  }
}

const FieldValue* find(const std::vector<FieldValue>& fields, std::string_view key) {
  for (const FieldValue& field : fields)
    if (field.key == key) return &field;
  return nullptr;
}

}  // namespace

Result<void> refuse_mixing(const Record& record, const std::vector<FieldValue>& fields) {
  for (const Group& group : record.groups) {
    const bool touched =
        std::any_of(fields.begin(), fields.end(), [&](const FieldValue& f) { return group_of(f.key) == group.key; });
    if (!group.differs || !touched) continue;
    for (const Head& head : group.heads)
      for (const FieldValue& old : head.fields)
        if (!find(fields, old.key)) return refuse(Trouble::BadInput, "record.settle-first"_w, {}, old.key);
  }
  return {};
}

Result<Outcome> correct(Book& book, const Id& id, std::vector<FieldValue> fields, std::vector<ChangeRef> seen,
                        std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  TRY(refuse_mixing(record, fields));
  carry_along(record, fields);
  TRY_ASSIGN(std::vector<Caution> cautions, check_entry(book, record.kind, fields, &record, going));
  Save save;
  save.record = id;
  save.kind = record.kind;
  save.part = record.part;
  save.fields = std::move(fields);
  save.seen = seen.empty() ? record.heads() : std::move(seen);
  save.why = reason;
  return write_entry(book, std::move(save), std::move(cautions), going);
}

// ---- Striking --------------------------------------------------------------------------------

namespace {

/// Reference fields by which a record of `kind` hangs on its parent.
struct ChildLink {
  std::string_view kind, field;
};

std::vector<ChildLink> links_to(std::string_view parent_kind) {
  std::vector<ChildLink> links;
  for (const KindDef& kind : kinds()) {
    if (kind.rule != PartRule::OfParent) continue;
    const FieldDef* field = find_field(kind, kind.parent);
    if (!field) continue;
    if (field->of.empty()) {
      links.push_back({kind.name, kind.parent});
      continue;
    }
    for (const std::string_view of : split(field->of, '|'))
      if (of == parent_kind) links.push_back({kind.name, kind.parent});
  }
  return links;
}

Result<void> add_children(const Book& book, const Id& parent, std::vector<Id>& all) {
  std::vector<Id> found;
  for (const ChildLink& link : links_to(book.kind_of(parent))) {
    Query query = book.db().query("SELECT uid FROM " + wide_name(link.kind) + " WHERE \"" + wide_column(link.field) +
                                  "\" = ? AND struck IS NULL ORDER BY uid");
    query.bind(1, parent);
    while (query.next()) found.push_back(query.id(0));
    TRY(query.done());
  }
  for (const Id& child : found) {
    if (std::find(all.begin(), all.end(), child) != all.end()) continue;
    all.push_back(child);
    TRY(add_children(book, child, all));
  }
  return {};
}

}  // namespace

Result<std::vector<Id>> children_of(const Book& book, const Id& record) {
  std::vector<Id> all;
  TRY(add_children(book, record, all));
  return all;
}

Result<Outcome> strike(Book& book, const Id& id, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  if (record.kind == "book") return refuse(Trouble::BadInput, "record.not-the-book"_w);
  if (!record.struck.empty() && !record.differs())
    return refuse(Trouble::BadInput, "record.struck-already"_w, {record.struck});
  TRY_ASSIGN(const std::vector<Id>& children, children_of(book, id));
  std::vector<Save> saves;
  TRY_ASSIGN(Save first, change_save(book, id, {text_field_value("struck", reason)}));
  saves.push_back(std::move(first));
  for (const Id& child : children) {
    TRY_ASSIGN(Save save, change_save(book, child, {text_field_value("struck", reason)}));
    // A child lies in its parent's part; one that does not is not of this act.
    if (save.part == record.part) saves.push_back(std::move(save));
  }
  return write_with(book, std::move(saves), id, {}, going);
}

Result<Outcome> restore(Book& book, const Id& id, bool with_children, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  if (record.struck.empty() && !record.differs()) return refuse(Trouble::BadInput, "record.not-struck"_w);
  std::vector<Save> saves;
  TRY_ASSIGN(Save first, change_save(book, id, {not_taken("struck")}, reason));
  saves.push_back(std::move(first));
  if (with_children) {
    // Those that the same act struck.
    TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(id));
    std::set<Id> of_act;
    for (const HistoryLine& line : lines) {
      if (!find(line.change.fields, "struck") || find(line.change.fields, "struck")->type == FieldType::NotTaken)
        continue;
      Query query = book.db().query(
          "SELECT DISTINCT r.uid FROM change c JOIN record r ON r.id = c.rec JOIN lane l ON l.id = c.lane WHERE l.uid "
          "= ? AND c.act = ?");
      query.bind(1, line.change.lane).bind(2, line.change.act);
      while (query.next())
        if (query.id(0) != id) of_act.insert(query.id(0));
      TRY(query.done());
    }
    for (const Id& other : of_act) {
      // One whose lines wait, or came in a file that is set aside, is not here now.
      TRY_ASSIGN(const std::optional<Record>& child, book.record(other));
      if (!child || child->struck.empty()) continue;
      TRY_ASSIGN(Save save, change_save(book, other, {not_taken("struck")}, reason));
      saves.push_back(std::move(save));
    }
  }
  return write_with(book, std::move(saves), id, {}, going);
}

// ---- Same bed, twice? --------------------------------------------------------------------------

namespace {

Result<Save> settled_save(const Book& book, const Record& record, const Id& other, std::string_view reason) {
  std::vector<std::string> settled;
  if (const FieldValue* field = record.field("settled")) settled = field->items;
  if (std::find(settled.begin(), settled.end(), other.text()) == settled.end()) settled.push_back(other.text());
  TRY_ASSIGN(Save save, change_save(book, record.id, {list_value("settled", std::move(settled))}, reason));
  return save;
}

/// The dose's group 'what' with another stretch.
std::vector<FieldValue> with_stretch(const Record& dose, const Written& from, const Written& to) {
  std::vector<FieldValue> fields;
  for (const Group& group : dose.groups)
    if (group.key == "what") fields = group.heads.front().fields;
  for (FieldValue& field : fields) {
    if (field.key == "what.from") field = quantity_value("what.from", from.text);
    if (field.key == "what.to") field = quantity_value("what.to", to.text);
    if (field.key == "what.how") field = word_value("what.how", "part");
  }
  return fields;
}

}  // namespace

Result<Outcome> answer_same_bed_twice(Book& book, const TwiceRequest& request, const Going& going) {
  TRY_ASSIGN(const Record& first, existing_record(book, request.first));
  TRY_ASSIGN(const Record& second, existing_record(book, request.second));
  if (first.kind != "dose" || second.kind != "dose") return refuse(Trouble::BadInput, "settle.not-doses"_w);
  std::string why = clean_text(request.why);
  std::vector<Save> saves;
  if (request.answer == TwiceAnswer::SameWork) {
    const bool keep_first = request.kept != request.second;
    const Record &kept = keep_first ? first : second, &given_up = keep_first ? second : first;
    const std::string reason = why.empty() ? std::string(kLoggedTwice) : why;
    TRY_ASSIGN(Save strike_one, change_save(book, given_up.id,
                                            {text_field_value("struck", reason), reference_value("same_as", kept.id)}));
    saves.push_back(std::move(strike_one));
    return write_with(book, std::move(saves), given_up.id, {}, going);
  }
  if (request.answer == TwiceAnswer::EachAPart) {
    const auto met = parse_written(request.met.text);
    if (!met || met->dimension() != Dimension::Length)
      return refuse(Trouble::BadInput, "settle.met-where"_w, {request.met.text}, "met");
    TRY_ASSIGN(const Dose& a, read_dose(book, request.first));
    TRY_ASSIGN(const Dose& b, read_dose(book, request.second));
    const Length at = as<Length>(*met);
    const Length low = std::min(a.stretch().from, b.stretch().from), high = std::max(a.stretch().to, b.stretch().to);
    if (at.si() <= low.si() + 0.01 || at.si() >= high.si() - 0.01)
      return refuse(Trouble::BadInput, "settle.met-outside"_w,
                    {amount_value_text(*met), amount_value_text(low), amount_value_text(high)}, "met");
    const Unit& in = *met->unit;
    const Written from = write_quantity(low, in, 2), to = write_quantity(high, in, 2);
    const Record &near = request.first_at_zero_end ? first : second, &far = request.first_at_zero_end ? second : first;
    TRY_ASSIGN(Save one, settled_save(book, near, far.id, why));
    for (FieldValue& field : with_stretch(near, from, *met)) one.fields.push_back(std::move(field));
    TRY_ASSIGN(Save other, settled_save(book, far, near.id, why));
    for (FieldValue& field : with_stretch(far, *met, to)) other.fields.push_back(std::move(field));
    saves.push_back(std::move(one));
    saves.push_back(std::move(other));
    return write_with(book, std::move(saves), request.first, {}, going);
  }
  TRY_ASSIGN(Save one, settled_save(book, first, second.id, why));
  TRY_ASSIGN(Save other, settled_save(book, second, first.id, why));
  saves.push_back(std::move(one));
  saves.push_back(std::move(other));
  return write_with(book, std::move(saves), request.first, {}, going);
}

// ---- One thing, two records --------------------------------------------------------------------

Result<Outcome> join_same(Book& book, const Id& id, const Id& as_id, std::string_view why, const Going& going) {
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  TRY_ASSIGN(const Record& as, existing_record(book, as_id));
  if (record.kind != as.kind || id == as_id) return refuse(Trouble::BadInput, "record.join-kinds"_w);
  // Round in a ring two records would each point at the other.
  if (const FieldValue* back = as.field("same_as"); back && back->text == id.text())
    return refuse(Trouble::BadInput, "record.joined-already"_w);
  TRY_ASSIGN(Save save, change_save(book, id, {reference_value("same_as", as_id)}, clean_text(why)));
  return write_with(book, {std::move(save)}, id, {}, going);
}

Result<Outcome> part_same(Book& book, const Id& id, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(Save save, change_save(book, id, {not_taken("same_as")}, reason));
  return write_with(book, {std::move(save)}, id, {}, going);
}

Result<Outcome> say_not_same(Book& book, const Id& id, const Id& other, const Going& going) {
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  std::vector<std::string> others;
  if (const FieldValue* field = record.field("not_same")) others = field->items;
  if (std::find(others.begin(), others.end(), other.text()) == others.end()) others.push_back(other.text());
  TRY_ASSIGN(Save save, change_save(book, id, {list_value("not_same", std::move(others))}));
  return write_with(book, {std::move(save)}, id, {}, going);
}

}  // namespace steep
