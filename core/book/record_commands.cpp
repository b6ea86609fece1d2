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

std::vector<ChangeRef> struck_heads(const Record& record) {
  std::vector<ChangeRef> heads;
  for (const Group& group : record.groups)
    if (group.key == "struck")
      for (const Head& head : group.heads) heads.push_back(head.ref);
  return heads;
}

Result<void> add_children(const Book& book, const Id& parent, Struck struck, std::vector<Id>& all) {
  std::vector<Id> found;
  for (const ChildLink& link : links_to(book.kind_of(parent))) {
    Query query =
        book.db().query("SELECT uid FROM " + wide_name(link.kind) + " WHERE \"" + wide_column(link.field) + "\" = ?" +
                        (struck == Struck::Include ? "" : " AND struck IS NULL") + " ORDER BY uid");
    query.bind(1, parent);
    while (query.next()) found.push_back(query.id(0));
    TRY(query.done());
  }
  for (const Id& child : found) {
    if (std::find(all.begin(), all.end(), child) != all.end()) continue;
    all.push_back(child);
    TRY(add_children(book, child, struck, all));
  }
  return {};
}

/// An act by its lane and its first line.
using Act = std::pair<Id, std::int64_t>;

/// The acts of the strike that stands: those of the heads and, where somebody said that it stays struck, the one
/// before. A strike that was taken back is none of them.
Result<std::set<Act>> standing_strike(const Book& book, const Record& record) {
  std::set<Act> acts;
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(record.id));
  std::vector<ChangeRef> open = struck_heads(record);
  for (std::size_t i = 0; i < open.size(); ++i)
    for (const HistoryLine& line : lines) {
      const FieldValue* struck = line.ref == open[i] ? find(line.change.fields, "struck") : nullptr;
      if (!struck || struck->type == FieldType::NotTaken) continue;
      if (acts.emplace(line.change.lane, line.change.act).second)
        open.insert(open.end(), line.change.seen.begin(), line.change.seen.end());
    }
  return acts;
}

/// Was it struck by these acts alone? One that somebody also struck by itself is not theirs to bring back.
Result<bool> is_struck_by(const Book& book, const Record& child, const std::set<Act>& acts) {
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(child.id));
  const std::vector<ChangeRef> heads = struck_heads(child);
  return std::all_of(lines.begin(), lines.end(), [&](const HistoryLine& line) {
    return std::find(heads.begin(), heads.end(), line.ref) == heads.end() ||
           acts.count({line.change.lane, line.change.act}) != 0;
  });
}

}  // namespace

Result<std::vector<Id>> children_of(const Book& book, const Id& record) {
  std::vector<Id> all;
  TRY(add_children(book, record, Struck::LeaveOut, all));
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
    TRY_ASSIGN(const std::set<Act>& acts, standing_strike(book, record));
    std::vector<Id> children;
    TRY(add_children(book, id, Struck::Include, children));
    for (const Id& other : children) {
      // One whose lines wait, or came in a file that is set aside, is not here now.
      TRY_ASSIGN(const std::optional<Record>& child, book.record(other));
      if (!child || child->struck.empty()) continue;
      TRY_ASSIGN(const bool theirs, is_struck_by(book, *child, acts));
      if (!theirs) continue;
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

namespace {

bool is_joined_with(const Record& record, const Id& other) {
  const FieldValue* same = record.field("same_as");
  return same && same->type == FieldType::Reference && same->text == other.text();
}

std::vector<std::string> said_two_of(const Record& record) {
  const FieldValue* field = record.field("not_same");
  return field ? field->items : std::vector<std::string>();
}

/// Takes back that `record` is not `other`, where somebody said so.
Result<void> unsay_two(const Book& book, const Record& record, const Id& other, std::string_view why,
                       std::vector<Save>& saves) {
  std::vector<std::string> rest = said_two_of(record);
  if (std::erase(rest, other.text()) == 0) return {};
  FieldValue field = rest.empty() ? not_taken("not_same") : list_value("not_same", std::move(rest));
  TRY_ASSIGN(Save save, change_save(book, record.id, {std::move(field)}, why));
  saves.push_back(std::move(save));
  return {};
}

/// Records that the act which joined this one joined too, and that are still joined by it: the beds of a block.
Result<std::vector<Id>> joined_along(const Book& book, const Record& record) {
  std::vector<Id> found;
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(record.id));
  for (const Group& group : record.groups) {
    if (group.key != "same_as") continue;
    for (const Head& head : group.heads) {
      const auto line =
          std::find_if(lines.begin(), lines.end(), [&](const HistoryLine& l) { return l.ref == head.ref; });
      if (line == lines.end()) continue;
      Query act = book.db().query(
          "SELECT r.uid, c.seq FROM change c JOIN record r ON r.id = c.rec JOIN lane l ON l.id = c.lane WHERE l.uid "
          "= ? AND c.act = ? AND r.uid <> ?");
      act.bind(1, line->ref.lane).bind(2, line->change.act).bind(3, record.id);
      while (act.next()) {
        TRY_ASSIGN(const std::optional<Record>& other, book.record(act.id(0)));
        if (!other) continue;
        for (const Group& joined : other->groups)
          for (const Head& one : joined.heads)
            if (joined.key == "same_as" && one.ref.lane == line->ref.lane && one.ref.seq == act.integer(1))
              found.push_back(other->id);
      }
      TRY(act.done());
    }
  }
  return found;
}

/// Saves that part it from what it is joined with, and what was joined along with it.
Result<void> part_from(const Book& book, const Record& record, std::string_view why, std::vector<Save>& saves) {
  TRY_ASSIGN(std::vector<Id> all, joined_along(book, record));
  all.insert(all.begin(), record.id);
  for (const Id& id : all) {
    TRY_ASSIGN(Save save, change_save(book, id, {not_taken("same_as")}, why));
    saves.push_back(std::move(save));
  }
  return {};
}

}  // namespace

Result<Outcome> join_same(Book& book, const Id& id, const Id& as_id, std::string_view why, const Going& going) {
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  TRY_ASSIGN(const Record& as, existing_record(book, as_id));
  if (record.kind != as.kind || id == as_id) return refuse(Trouble::BadInput, "record.join-kinds"_w);
  std::vector<Save> saves;
  TRY(unsay_two(book, record, as_id, clean_text(why), saves));
  TRY(unsay_two(book, as, id, clean_text(why), saves));
  // Round in a ring two records would each point at the other.
  if (is_joined_with(as, id) && saves.empty()) return refuse(Trouble::BadInput, "record.joined-already"_w);
  if (!is_joined_with(as, id)) {
    if (saves.empty() || saves.front().record != id) {
      TRY_ASSIGN(Save save, change_save(book, id, {}, clean_text(why)));
      saves.insert(saves.begin(), std::move(save));
    }
    saves.front().fields.push_back(reference_value("same_as", as_id));
  }
  return write_with(book, std::move(saves), id, {}, going);
}

Result<Outcome> part_same(Book& book, const Id& id, std::string_view why, const Going& going) {
  TRY_ASSIGN(const std::string& reason, asked_reason(why));
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  std::vector<Save> saves;
  TRY(part_from(book, record, reason, saves));
  // Two copies may have joined the two, each the other way.
  if (const FieldValue* same = record.field("same_as"); same && same->type == FieldType::Reference) {
    TRY_ASSIGN(const std::optional<Record>& other, book.record(Id::parse(same->text).value_or(Id{})));
    if (other && is_joined_with(*other, id)) TRY(part_from(book, *other, reason, saves));
  }
  return write_with(book, std::move(saves), id, {}, going);
}

Result<Outcome> say_not_same(Book& book, const Id& id, const Id& other_id, const Going& going) {
  TRY_ASSIGN(const Record& record, existing_record(book, id));
  TRY_ASSIGN(const std::optional<Record>& other, book.record(other_id));
  std::vector<std::string> others = said_two_of(record);
  if (std::find(others.begin(), others.end(), other_id.text()) == others.end()) others.push_back(other_id.text());
  std::vector<Save> saves;
  if (is_joined_with(record, other_id)) TRY(part_from(book, record, {}, saves));
  if (other && is_joined_with(*other, id)) TRY(part_from(book, *other, {}, saves));
  auto own = std::find_if(saves.begin(), saves.end(), [&](const Save& save) { return save.record == id; });
  if (own == saves.end()) {
    TRY_ASSIGN(Save save, change_save(book, id, {}));
    own = saves.insert(saves.begin(), std::move(save));
  }
  own->fields.push_back(list_value("not_same", std::move(others)));
  return write_with(book, std::move(saves), id, {}, going);
}

}  // namespace steep
