#include "book/enter.h"

#include <algorithm>
#include <span>

#include "base/text.h"
#include "book/amount_kinds.h"
#include "book/bare_number.h"
#include "book/bed_polygon.h"
#include "book/called.h"
#include "book/codes.h"
#include "book/places.h"
#include "book/record_commands.h"
#include "book/saves.h"
#include "book/spelled.h"
#include "book/things.h"

namespace steep {
namespace {

bool is_not_taken_word(std::string_view typed) {
  const std::string word = lower(trim(typed));
  return word == "-" || word == "not taken" || word == "no se tomó" || word == "sin tomar";
}

std::string all_field_names(const KindDef& kind) {
  std::vector<std::string> names;
  for (const FieldDef& field : kind.fields) names.emplace_back(field.key);
  return join(names, ", ");
}

/// 'volume' → 'what.volume' where only one group has it.
Result<const FieldDef*> field_called(const KindDef& kind, std::string_view name) {
  std::string plain = lower(trim(name));
  std::replace(plain.begin(), plain.end(), '-', '_');
  if (const FieldDef* exact = find_field(kind, plain)) return exact;
  std::vector<const FieldDef*> found;
  const auto look = [&](std::span<const FieldDef> fields) {
    for (const FieldDef& field : fields) {
      const auto dot = field.key.find('.');
      if (dot != std::string_view::npos && field.key.substr(dot + 1) == plain) found.push_back(&field);
    }
  };
  look(kind.fields);
  if (found.empty()) look(common_fields());
  if (found.size() == 1) return found.front();
  if (found.empty())
    return refuse(Trouble::BadInput, "enter.no-field"_w, {name, kind.name, all_field_names(kind)}, name);
  std::vector<std::string> values{std::string(name)};
  for (const FieldDef* field : found) values.emplace_back(field->key);
  return refuse(Trouble::Ask, "enter.which-field"_w, values, std::string(name));
}

std::string spaced(std::string_view words) {
  std::string allowed(words);
  std::replace(allowed.begin(), allowed.end(), '|', ' ');
  return allowed;
}

bool is_word_of(std::string_view words, std::string_view word) {
  for (const std::string_view one : split(words, '|'))
    if (one == word) return true;
  return false;
}

struct Context {
  std::optional<Farm> farm;
  std::vector<Zone> zones;  ///< Whose clock may be meant: the farm's; of several farms each one's.
  std::string_view kind;
  std::string word;  ///< Of the kind's deciding field, typed or as it stands.
};

Result<Context> context_of(const Book& book, const EnterAs& as) {
  Context context;
  if (!as.farm.is_nil()) {
    TRY_ASSIGN(context.farm, read_farm(book, as.farm));
  } else {
    TRY_ASSIGN(const std::vector<Farm>& all, farms(book));
    if (all.size() == 1) context.farm = all.front();
    for (const Farm& farm : all) context.zones.push_back(farm.zone);
  }
  if (context.farm) context.zones = {context.farm->zone};
  if (context.zones.empty()) context.zones.emplace_back();
  return context;
}

Result<Stamp> time_of(std::string_view text, const Context& context, Stamp now) {
  TRY_ASSIGN(const Stamp& stamp, read_time(text, context.zones.front(), now));
  for (const Zone& zone : context.zones) {
    const auto other = read_time(text, zone, now);
    if (!other || other->at != stamp.at) return refuse(Trouble::Ask, "enter.whose-time"_w, {text});
  }
  return stamp;
}

/// What hangs on a record of a farm is that farm's, whichever is meant else.
EnterAs at_home(const Book& book, const KindDef& kind, const EnterFields& fields, EnterAs as) {
  for (const auto& [name, typed] : fields) {
    const auto field = field_called(kind, name);
    if (!field || kind.parent.empty() || (*field)->key != kind.parent) continue;
    const auto parent = find_record(book, (*field)->of, trim(typed), as.farm);
    const Id farm = parent ? farm_of(book, *parent) : Id{};
    if (!farm.is_nil()) as.farm = farm;
  }
  return as;
}

constexpr Dimension kAny[] = {
    Dimension::Mass,          Dimension::Volume,   Dimension::Length,          Dimension::Time,
    Dimension::Temperature,   Dimension::Speed,    Dimension::VolumePerArea,   Dimension::MassPerArea,
    Dimension::MassPerVolume, Dimension::Share,    Dimension::Count,           Dimension::Conductivity,
    Dimension::Area,          Dimension::Pressure, Dimension::VolumePerVolume, Dimension::Flow};

Result<FieldValue> read_amount(const FieldDef& field, std::string_view typed, std::span<const Dimension> wanted,
                               const Habits& habits) {
  // A bare number is asked about: nothing is stored without its unit.
  TRY_ASSIGN(const Written& read, read_quantity(typed, wanted, habits));
  return quantity_value(std::string(field.key), read.text);
}

/// `word`: of the deciding field, where the kind has one.
Result<FieldValue> read_quantity_field(std::string_view kind, const FieldDef& field, std::string_view word,
                                       std::string_view typed, const Habits& habits) {
  const std::string key(field.key);
  const auto takes = [&](char letter) { return field.types.find(letter) != std::string_view::npos; };
  const ReadingKind* reading = kind == "reading" && takes('n') ? find_reading_kind(word) : nullptr;
  if (takes('n') && (!reading || reading->bare)) {
    const auto number = read_number(typed, habits.mark);
    if (number && is_journal_number(number->text)) return number_value(key, number->text);
    if (reading) return refuse(Trouble::BadInput, "check.number"_w, {typed});
  }
  const std::string low = lower(trim(typed));
  const std::string_view words = reading ? reading->words : field.of;
  if (takes('w') && is_word_of(words, low)) return word_value(key, low);
  if (!words.empty() && reading) return refuse(Trouble::BadInput, "enter.word"_w, {typed, spaced(words)});
  const std::vector<Dimension> of_field =
      field.dimension ? std::vector<Dimension>{*field.dimension} : amount_dimensions(kind, field.key, word);
  const auto amount = read_amount(field, typed, of_field.empty() ? std::span<const Dimension>(kAny) : of_field, habits);
  const bool has_digits = typed.find_first_of("0123456789") != std::string_view::npos;
  if (!amount && takes('w') && !words.empty() && !has_digits)
    return refuse(Trouble::BadInput, "enter.word"_w, {typed, spaced(words)});
  return amount;
}

/// 'N20 0 ft 50 ft', a name or id before the two places: as the journal has it, by id.
Result<std::string> read_ground_piece(const Book& book, std::string_view item, const EnterAs& as) {
  std::size_t cut = item.size();
  for (int words = 0; words < 4 && cut != std::string_view::npos; ++words)
    cut = cut == 0 ? std::string_view::npos : item.rfind(' ', cut - 1);
  if (cut == std::string_view::npos || cut == 0)
    return refuse(Trouble::BadInput, "check.origin-piece"_w, {item}, "origin.beds");
  TRY_ASSIGN(const Id bed, find_record(book, "bed", trim(item.substr(0, cut)), as.farm));
  return bed.text() + ' ' + std::string(trim(item.substr(cut)));
}

Result<FieldValue> read_list(const Book& book, const FieldDef& field, std::string_view typed, const EnterAs& as) {
  std::vector<std::string> items;
  // Lists of references take names: beds, people.
  static constexpr std::pair<std::string_view, std::string_view> kNamed[] = {
      {"beds", "bed"}, {"order", "bed"}, {"people", "person"}};
  std::string_view kind;
  for (const auto& [key, of] : kNamed)
    if (field.key == key) kind = of;
  for (const std::string_view one : split(typed, ',')) {
    const std::string_view item = trim(one);
    if (item.empty()) continue;
    if (field.key == "origin.beds") {
      TRY_ASSIGN(std::string piece, read_ground_piece(book, item, as));
      items.push_back(std::move(piece));
      continue;
    }
    if (kind.empty()) {
      items.emplace_back(item);
      continue;
    }
    TRY_ASSIGN(const Id id, find_record(book, kind, item, as.farm));
    items.push_back(id.text());
  }
  return list_value(std::string(field.key), std::move(items));
}

Result<FieldValue> read_reference(const Book& book, const FieldDef& field, std::string_view text,
                                  const Context& context) {
  const std::string key(field.key);
  if (const auto id = Id::parse(text)) {
    if (book.kind_of(*id).empty()) return refuse(Trouble::NotFound, "enter.not-here"_w, {text});
    return reference_value(key, *id);
  }
  TRY_ASSIGN(const Id found, find_record(book, field.of, text, context.farm ? context.farm->id : Id{}));
  return reference_value(key, found);
}

Result<FieldValue> read_plain_number(std::string key, std::string_view text, const Habits& habits) {
  const auto number = read_number(text, habits.mark);
  if (!number && number.error().kind == Trouble::Ask) return tl::unexpected<Problem>(number.error());
  // A fraction is written as a decimal: the journal's numbers have no bars.
  const auto plain = number ? number->amount.decimal(9) : std::nullopt;
  if (!plain || !is_journal_number(*plain)) return refuse(Trouble::BadInput, "enter.number"_w, {text});
  return number_value(std::move(key), *plain);
}

Result<FieldValue> read_yes_no(std::string key, std::string_view text) {
  static constexpr std::string_view kYes = "yes|y|sí|si|true|1", kNo = "no|n|false|0";
  const std::string word = lower(text);
  if (is_word_of(kYes, word)) return yes_no_value(std::move(key), true);
  if (is_word_of(kNo, word)) return yes_no_value(std::move(key), false);
  return refuse(Trouble::BadInput, "enter.yes-no"_w, {text});
}

Result<FieldValue> read_text(std::string key, std::string_view text) {
  if (key == "size.polygon") TRY(area_of_corners(text));
  const std::string clean = clean_text(text);
  if (clean.empty()) return refuse(Trouble::BadInput, "enter.empty"_w, {key});
  return text_field_value(std::move(key), clean);
}

/// Of the types that the field takes ('qn', 'w' …; kinds.h), the first that fits.
Result<FieldValue> read_by_type(const Book& book, const FieldDef& field, std::string_view text, const EnterAs& as,
                                const Context& context) {
  const std::string key(field.key);
  const auto takes = [&](char letter) { return field.types.find(letter) != std::string_view::npos; };
  if (takes('r')) return read_reference(book, field, text, context);
  if (takes('q')) return read_quantity_field(context.kind, field, context.word, text, as.habits);
  if (takes('n')) return read_plain_number(key, text, as.habits);
  if (takes('b')) return read_yes_no(key, text);
  if (takes('d')) {
    const Date today = context.farm ? context.farm->day(book.now().at) : Zone().local(book.now().at).date;
    TRY_ASSIGN(const Date date, read_date(text, today));
    return date_value(key, date);
  }
  if (takes('i')) {
    TRY_ASSIGN(const Stamp stamp, time_of(text, context, book.now()));
    return instant_value(key, stamp);
  }
  if (takes('w') && !field.of.empty()) {
    const std::string word = lower(text);
    if (!is_word_of(field.of, word)) return refuse(Trouble::BadInput, "enter.word"_w, {text, spaced(field.of)});
    return word_value(key, word);
  }
  if (takes('c')) {
    if (!fits_type(FieldType::Censored, text)) return refuse(Trouble::BadInput, "enter.number-or-less"_w, {text});
    return FieldValue{key, FieldType::Censored, std::string(text), {}};
  }
  return read_text(key, text);
}

Result<FieldValue> read_one(const Book& book, const FieldDef& field, std::string_view typed, const EnterAs& as,
                            const Context& context) {
  if (is_not_taken_word(typed)) return not_taken(std::string(field.key));
  const std::string_view text = trim(typed);
  if (field.types.find('l') != std::string_view::npos) return read_list(book, field, text, as);
  Result<FieldValue> read = read_by_type(book, field, text, as, context);
  if (!read) read.error().place = field.key;
  return read;
}

}  // namespace

Result<FieldValue> read_field(const Book& book, const FieldDef& field, std::string_view typed, const EnterAs& as) {
  TRY_ASSIGN(const Context& context, context_of(book, as));
  return read_one(book, field, typed, as, context);
}

namespace {

std::string deciding_word(const KindDef& kind, const EnterFields& fields, const Record* old) {
  const std::string_view decides = deciding_field(kind.name);
  for (const auto& [name, typed] : fields)
    if (!decides.empty() && lower(trim(name)) == decides) return lower(trim(typed));
  const FieldValue* stands = old && !decides.empty() ? old->field(decides) : nullptr;
  return stands ? stands->text : std::string();
}

}  // namespace

Result<std::vector<FieldValue>> read_fields(const Book& book, std::string_view kind_name, const EnterFields& fields,
                                            const EnterAs& as, const Record* old) {
  const KindDef* kind = find_kind(kind_name);
  if (!kind) return refuse(Trouble::BadInput, "table.no-kind"_w, {kind_name});
  const EnterAs home = at_home(book, *kind, fields, as);
  TRY_ASSIGN(Context context, context_of(book, home));
  context.kind = kind->name;
  context.word = deciding_word(*kind, fields, old);
  std::vector<FieldValue> values;
  for (const auto& [name, typed] : fields) {
    TRY_ASSIGN(const FieldDef* field, field_called(*kind, name));
    const bool twice =
        std::any_of(values.begin(), values.end(), [&](const FieldValue& v) { return v.key == field->key; });
    if (twice) return refuse(Trouble::BadInput, "enter.twice"_w, {name}, name);
    TRY_ASSIGN(FieldValue value, read_one(book, *field, typed, home, context));
    values.push_back(std::move(value));
  }
  return values;
}

namespace {

const FieldValue* find(const std::vector<FieldValue>& fields, std::string_view key) {
  for (const FieldValue& field : fields)
    if (field.key == key) return &field;
  return nullptr;
}

Id reference_in(const std::vector<FieldValue>& fields, std::string_view key) {
  const FieldValue* field = find(fields, key);
  return field ? Id::parse(field->text).value_or(Id{}) : Id{};
}

std::optional<Written> quantity_in(const std::vector<FieldValue>& fields, std::string_view key) {
  const FieldValue* field = find(fields, key);
  if (!field || field->type != FieldType::Quantity) return std::nullopt;
  const auto read = parse_written(field->text);
  return read ? std::optional<Written>(*read) : std::nullopt;
}

/// A zone by its name alone: its rule is that of the table.
void add_zone_rule(std::vector<FieldValue>& fields) {
  const FieldValue* name = find(fields, "zone.name");
  if (!name || find(fields, "zone.rule")) return;
  if (const auto zone = Zone::from_name(name->text)) fields.push_back(text_field_value("zone.rule", zone->rule()));
}

/// A farm's own number is stored with its unit: '36' as the greatest age of a brew is asked about.
Result<void> give_units(std::string_view kind, std::vector<FieldValue>& fields, const Record* old,
                        const Habits& habits) {
  if (kind != "limit") return {};
  const FieldValue* which = find(fields, "which");
  if (!which && old) which = old->field("which");
  if (!which) return {};
  const std::string counted = which->text;
  for (FieldValue& field : fields) {
    TRY_ASSIGN(field, with_its_unit(std::move(field), counted, habits));
  }
  return {};
}

/// A bed without a stretch is meant whole, its sizes as they are today.
Result<void> complete_dose(const Book& book, std::vector<FieldValue>& fields) {
  const auto bed = read_bed(book, reference_in(fields, "what.bed"));
  if (!bed) return {};
  const BedSizeWritten size = bed_size_written(book, *bed);
  if (!find(fields, "what.from") && size.length)
    fields.push_back(quantity_value("what.from", write_quantity(0.0, *size.length->unit).text));
  if (!find(fields, "what.to") && size.length) fields.push_back(quantity_value("what.to", size.length->text));
  if (!find(fields, "what.width") && size.width) fields.push_back(quantity_value("what.width", size.width->text));
  if (find(fields, "what.how")) return {};
  const auto from = quantity_in(fields, "what.from"), to = quantity_in(fields, "what.to");
  const bool part =
      from && to && bed->length && (as<Length>(*from).si() > 0.01 || as<Length>(*to).si() < bed->length->si() - 0.01);
  fields.push_back(word_value("what.how", part ? "part" : "done"));
  return {};
}

Result<void> complete_harvest(const Book& book, std::vector<FieldValue>& fields) {
  const FieldValue* at = find(fields, "at");
  const auto bed = read_bed(book, reference_in(fields, "bed"));
  const auto stamp = at ? parse_stamp(at->text) : std::nullopt;
  if (find(fields, "code") || !bed || !stamp) return {};
  const auto farm = read_farm(book, bed->farm);
  if (!farm) return {};
  TRY_ASSIGN(const std::string& code, next_harvest_code(book, *farm, *bed, {}, farm->day(stamp->at)));
  fields.push_back(text_field_value("code", code));
  return {};
}

/// The farm, where there is but one that can be meant. A brew's plan lies in the house, a pass's and a picking's on the
/// farm.
void complete_farm(std::string_view kind, std::vector<FieldValue>& fields, const Context& context) {
  if (!context.farm || !find_field(*find_kind(kind), "farm") || find(fields, "farm")) return;
  const FieldValue* what = find(fields, "what");
  if (kind != "plan" || (what && what->text != "brew")) fields.push_back(reference_value("farm", context.farm->id));
}

/// What a form would have filled in by itself.
Result<void> complete(const Book& book, std::string_view kind, std::vector<FieldValue>& fields,
                      const Context& context) {
  complete_farm(kind, fields, context);
  if ((kind == "brew" || kind == "pass") && !find(fields, "number")) {
    TRY_ASSIGN(const Codes& codes, Codes::read(book));
    fields.push_back(number_value("number", std::to_string(codes.next(kind))));
  }
  // A pass written down afterwards is over, whether or not its finish is known.
  if (kind == "pass" && !find(fields, "finish")) fields.push_back(not_taken("finish"));
  if (kind == "farm") add_zone_rule(fields);
  if (kind == "dose") TRY(complete_dose(book, fields));
  if (kind == "harvest") TRY(complete_harvest(book, fields));
  return {};
}

}  // namespace

Result<Outcome> enter(Book& book, std::string_view kind, const EnterFields& fields, const EnterAs& as,
                      const Going& going) {
  TRY_ASSIGN(std::vector<FieldValue> values, read_fields(book, kind, fields, as));
  const KindDef& def = *find_kind(kind);
  TRY_ASSIGN(const Context& context, context_of(book, at_home(book, def, fields, as)));
  TRY(give_units(kind, values, nullptr, as.habits));
  const bool numbered = find(values, "number") != nullptr;
  TRY(complete(book, kind, values, context));
  for (const FieldDef& field : def.fields)
    if (field.required && !find(values, field.key)) {
      // Which farm is meant cannot be guessed when there are several.
      if (field.key == "farm") return refuse(Trouble::Ask, "enter.which-farm"_w, {}, "farm");
      return refuse(Trouble::BadInput, "enter.required"_w, {field.key}, field.key);
    }
  TRY_ASSIGN(std::vector<Caution> cautions, check_entry(book, kind, values, nullptr, going));
  TRY_ASSIGN(const std::vector<Caution>& same_name, name_cautions(book, kind, values, numbered));
  cautions.insert(cautions.end(), same_name.begin(), same_name.end());
  return write_entry(book, new_save(book, kind, std::move(values)), std::move(cautions), going);
}

Result<Outcome> amend(Book& book, const Id& record, const EnterFields& fields, const EnterAs& as, std::string_view why,
                      const Going& going) {
  TRY_ASSIGN(const Record& old, existing_record(book, record));
  EnterAs home = as;
  if (const Id farm = farm_of(book, record); !farm.is_nil()) home.farm = farm;
  TRY_ASSIGN(std::vector<FieldValue> values, read_fields(book, old.kind, fields, home, &old));
  TRY(give_units(old.kind, values, &old, as.habits));
  if (old.kind == "farm") add_zone_rule(values);
  return correct(book, record, std::move(values), {}, why, going);
}

}  // namespace steep
