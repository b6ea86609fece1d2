#include "book/save_rules.h"

#include <algorithm>

#include "base/text.h"
#include "quantity/written.h"

namespace steep {
namespace {

bool is_listed(std::string_view list, std::string_view word) {
  for (const std::string_view one : split(list, '|'))
    if (one == word) return true;
  return false;
}

/// All saves of one write, looked at together: they may point to each other.
class Planner {
 public:
  Planner(Store& store, std::span<const Save> saves) : store_(store), saves_(saves), parts_(saves.size()) {}

  Result<std::vector<PlannedSave>> plan() {
    std::vector<PlannedSave> planned;
    for (std::size_t i = 0; i < saves_.size(); ++i) {
      TRY_ASSIGN(auto one, plan_one(i));
      planned.push_back(std::move(one));
    }
    return planned;
  }

 private:
  Result<PlannedSave> plan_one(std::size_t i) {
    const Save& save = saves_[i];
    const KindDef* kind = find_kind(save.kind);
    if (kind == nullptr) return refuse(Trouble::BadInput, "journal.write.kind"_w, {save.kind});
    if (save.record.is_nil()) return refuse(Trouble::BadInput, "journal.write.record"_w, {save.kind});
    if (save.fields.empty() || save.fields.size() > kMaxFields || save.seen.size() > kMaxSeen ||
        save.why.size() > kMaxWhy || !is_utf8(save.why))
      return refuse(Trouble::BadInput, "journal.write.size"_w, {save.kind});

    PlannedSave planned;
    planned.save = &save;
    planned.fields = save.fields;
    TRY_ASSIGN(planned.part, part_of(i, 0));
    TRY_ASSIGN(auto known, store_.book->record(save.record));
    if (known && known->part != planned.part) known.reset();  // Another record that has the same id.
    if (known && known->kind != save.kind)
      return refuse(Trouble::Conflict, "journal.write.other_kind"_w, {save.kind, known->kind});
    for (const FieldValue& field : save.fields) {
      if (given(save, field.key) != &field)
        return refuse(Trouble::BadInput, "journal.write.twice"_w, {field.key}, field.key);
      TRY(check_field(*kind, field, known ? &*known : nullptr));
    }
    TRY(check_demo(save, known.has_value()));
    if (!known && !has_earlier(i)) TRY(check_required(*kind, save));
    TRY(check_seen(save));
    planned.seen = save.seen;
    std::sort(planned.seen.begin(), planned.seen.end());
    planned.seen.erase(std::unique(planned.seen.begin(), planned.seen.end()), planned.seen.end());
    if (known) carry_along(*kind, *known, planned);
    return planned;
  }

  bool has_earlier(std::size_t i) const {
    return std::any_of(saves_.begin(), saves_.begin() + static_cast<std::ptrdiff_t>(i),
                       [&](const Save& other) { return other.record == saves_[i].record; });
  }

  // ---- Fields ----

  Result<void> check_field(const KindDef& kind, const FieldValue& field, const Record* known) {
    const FieldDef* def = find_field(kind, field.key);
    if (def == nullptr) {  // Only carried along, as it stood.
      if (known != nullptr && stood(*known, field)) return {};
      return refuse(Trouble::BadInput, "journal.write.field"_w, {field.key, kind.name}, field.key);
    }
    if (field.type == FieldType::NotTaken)
      return field.text.empty() && field.items.empty() ? Result<void>() : value_refused(field);
    if (def->types.find(static_cast<char>(field.type)) == std::string_view::npos) return value_refused(field);
    return check_value(*def, field, known);
  }

  static Result<void> value_refused(const FieldValue& field) {
    return refuse(Trouble::BadInput, "journal.write.value"_w, {field.text, field.key}, field.key);
  }

  Result<void> check_value(const FieldDef& def, const FieldValue& field, const Record* known) {
    if (!fits_type(field.type, field.text)) return value_refused(field);
    switch (field.type) {
      case FieldType::Quantity: {
        const auto written = parse_written(field.text);
        if (!written) return tl::unexpected<Problem>(written.error());
        if (def.dimension && written->dimension() != *def.dimension)
          return refuse(Trouble::BadInput, "journal.write.unit"_w, {field.text, field.key}, field.key);
        return {};
      }
      case FieldType::Word:
        if (!is_listed(def.of, field.text))
          return refuse(Trouble::BadInput, "journal.write.word"_w, {field.text, field.key}, field.key);
        return {};
      case FieldType::Text:
        if (def.key == "struck" && trim(field.text).empty())
          return refuse(Trouble::BadInput, "journal.write.reason"_w, {}, field.key);
        return {};
      case FieldType::List:
        if (field.items.size() > kMaxItems || !std::all_of(field.items.begin(), field.items.end(), fits_item))
          return value_refused(field);
        return {};
      case FieldType::Reference: return check_reference(def, field, known);
      default: return {};
    }
  }

  Result<void> check_reference(const FieldDef& def, const FieldValue& field, const Record* known) {
    const Id id = *Id::parse(field.text);
    std::string kind = store_.book->kind_of(id);
    for (const Save& save : saves_)
      if (save.record == id) kind = save.kind;
    if (kind.empty()) {  // It may have been here before us: what stood may stand again.
      if (known != nullptr && stood(*known, field)) return {};
      return refuse(Trouble::NotFound, "journal.write.nothing"_w, {field.key}, field.key);
    }
    if (!def.of.empty() && !is_listed(def.of, kind))
      return refuse(Trouble::BadInput, "journal.write.reference"_w, {field.key, kind}, field.key);
    return {};
  }

  static bool stood(const Record& known, const FieldValue& field) {
    for (const Group& group : known.groups)
      for (const Head& head : group.heads)
        if (std::find(head.fields.begin(), head.fields.end(), field) != head.fields.end()) return true;
    return false;
  }

  static Result<void> check_required(const KindDef& kind, const Save& save) {
    for (const FieldDef& def : kind.fields) {
      if (!def.required) continue;
      const bool there = std::any_of(save.fields.begin(), save.fields.end(), [&](const FieldValue& field) {
        return field.key == def.key && field.type != FieldType::NotTaken;
      });
      if (!there) return refuse(Trouble::BadInput, "journal.write.missing"_w, {def.key, save.kind}, def.key);
    }
    return {};
  }

  /// One book record a start; a demo never turns into a real one, nor back.
  Result<void> check_demo(const Save& save, bool known) {
    if (save.kind != "book" || !store_.book->is_started()) return {};
    if (!known) return refuse(Trouble::Conflict, "journal.write.started"_w, {store_.name});
    for (const FieldValue& field : save.fields)
      if (field.key == "mode" && (field.text == "demo") != store_.demo)
        return refuse(Trouble::Conflict, "journal.write.demo"_w, {store_.name});
    return {};
  }

  /// A line that saw something unknown here would wait for ever.
  Result<void> check_seen(const Save& save) {
    for (const ChangeRef& ref : save.seen) {
      TRY_ASSIGN(const Presence& there, presence(store_, ref));
      if (there != Presence::Ready) return refuse(Trouble::NotFound, "journal.write.seen"_w, {ref.text()});
    }
    return {};
  }

  /// Fields that a newer program put into a group go on as they stood in the version that the author saw.
  static void carry_along(const KindDef& kind, const Record& known, PlannedSave& planned) {
    std::vector<std::string> groups;
    for (const FieldValue& field : planned.fields) groups.emplace_back(group_of(field.key));
    for (const Group& group : known.groups) {
      if (std::find(groups.begin(), groups.end(), group.key) == groups.end()) continue;
      for (const Head& head : group.heads) {
        if (!std::binary_search(planned.seen.begin(), planned.seen.end(), head.ref)) continue;
        for (const FieldValue& field : head.fields) {
          const bool given = std::any_of(planned.fields.begin(), planned.fields.end(),
                                         [&](const FieldValue& other) { return other.key == field.key; });
          if (!given && find_field(kind, field.key) == nullptr) planned.fields.push_back(field);
        }
        break;
      }
    }
  }

  // ---- Parts ----

  static const FieldValue* given(const Save& save, std::string_view key) {
    for (const FieldValue& field : save.fields)
      if (field.key == key) return &field;
    return nullptr;
  }

  /// The part a referred record lies in; nullopt when it is nowhere.
  Result<std::optional<Part>> part_of_record(const Id& record, int depth) {
    for (std::size_t k = 0; k < saves_.size(); ++k) {
      if (saves_[k].record != record) continue;
      TRY_ASSIGN(const Part& part, part_of(k, depth + 1));
      return std::optional(part);
    }
    return store_.book->part_of(record);
  }

  Result<Part> part_of(std::size_t i, int depth) {
    if (parts_[i]) return *parts_[i];
    const Save& save = saves_[i];
    if (save.part) return *(parts_[i] = save.part);
    if (const auto known = store_.book->part_of(save.record)) return *(parts_[i] = *known);
    if (depth > 8) return no_part(save);  // They point to each other in a ring.
    TRY_ASSIGN(const Part& part, new_part(save, depth));
    return *(parts_[i] = part);
  }

  static tl::unexpected<Problem> no_part(const Save& save) {
    return refuse(Trouble::BadInput, "journal.write.part"_w, {save.kind});
  }

  Result<Part> new_part(const Save& save, int depth) {
    const KindDef* kind = find_kind(save.kind);
    if (kind == nullptr) return refuse(Trouble::BadInput, "journal.write.kind"_w, {save.kind});
    switch (kind->rule) {
      case PartRule::HouseBase: return Part{};
      case PartRule::HouseYear: return Part{{}, year_of(save)};
      case PartRule::OfParent: {
        const FieldValue* parent = given(save, kind->parent);
        const auto id = parent == nullptr ? std::nullopt : Id::parse(parent->text);
        if (!id) return refuse(Trouble::BadInput, "journal.write.missing"_w, {kind->parent, save.kind}, kind->parent);
        TRY_ASSIGN(const auto& part, part_of_record(*id, depth));
        if (!part) return refuse(Trouble::NotFound, "journal.write.nothing"_w, {kind->parent}, kind->parent);
        return *part;
      }
      case PartRule::FarmBase:
      case PartRule::FarmYear: break;
    }
    if (save.kind == "farm") return Part{save.record, 0};
    const int year = kind->rule == PartRule::FarmYear ? year_of(save) : 0;
    for (const FieldDef& def : kind->fields) {
      const FieldValue* field = given(save, def.key);
      if (field == nullptr || field->type != FieldType::Reference) continue;
      const auto id = Id::parse(field->text);
      if (!id) continue;
      TRY_ASSIGN(const auto& part, part_of_record(*id, depth));
      if (part && !part->farm.is_nil()) return Part{part->farm, year};
    }
    if (save.kind == "plan") return Part{{}, year};  // Of a brew.
    return no_part(save);
  }

  /// Civil year of the work where it was written down; of the writing when it has no time of its own.
  int year_of(const Save& save) const {
    Stamp when = store_.needs.now();
    for (const std::string_view key : {"start", "at", "met_water", "air_on", "treatment.from"}) {
      const FieldValue* field = given(save, key);
      const auto stamp = field == nullptr ? std::nullopt : parse_stamp(field->text);
      if (!stamp) continue;
      when = *stamp;
      break;
    }
    const std::int64_t local = when.at.ms + when.offset_minutes * kMinute;
    const std::int64_t day = local >= 0 ? local / kDay : (local - kDay + 1) / kDay;
    return std::clamp(date_from_day_number(day).year, 1000, 9999);
  }

  Store& store_;
  std::span<const Save> saves_;
  std::vector<std::optional<Part>> parts_;
};

}  // namespace

Result<std::vector<PlannedSave>> plan_saves(Store& store, std::span<const Save> saves) {
  return Planner(store, saves).plan();
}

}  // namespace steep
