#include "book/enter.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "book/bare_number.h"
#include "book/bed_polygon.h"
#include "book/brew_commands.h"
#include "book/called.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/places.h"
#include "book/saves.h"
#include "book/spelled.h"
#include "book/tables.h"
#include "book/things.h"
#include "book/wide.h"

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

bool is_word_of(std::string_view words, std::string_view word) {
  for (const std::string_view one : split(words, '|'))
    if (one == word) return true;
  return false;
}

struct Context {
  std::optional<Farm> farm;
};

Result<Context> context_of(const Book& book, const EnterAs& as) {
  Context context;
  if (!as.farm.is_nil()) {
    TRY_ASSIGN(context.farm, read_farm(book, as.farm));
    return context;
  }
  TRY_ASSIGN(const std::vector<Farm>& all, farms(book));
  if (all.size() == 1) context.farm = all.front();
  return context;
}

Result<FieldValue> not_a_word(const FieldDef& field, std::string_view typed) {
  std::string allowed(field.of);
  std::replace(allowed.begin(), allowed.end(), '|', ' ');
  return refuse(Trouble::BadInput, "enter.word"_w, {typed, allowed}, field.key);
}

Result<FieldValue> read_quantity_field(const FieldDef& field, std::string_view typed, const Habits& habits) {
  const std::string key(field.key);
  const bool number_too = field.types.find('n') != std::string_view::npos;
  if (number_too)
    if (auto number = read_number(typed, habits.mark); number && is_journal_number(number->text))
      return number_value(key, number->text);
  if (field.dimension) {
    // A bare number is asked about: nothing is stored without its unit.
    auto read = read_quantity(typed, *field.dimension, habits);
    if (!read) {
      Problem problem = read.error();
      problem.place = key;
      return tl::unexpected<Problem>(std::move(problem));
    }
    return quantity_value(key, read->text);
  }
  static constexpr Dimension kAny[] = {
      Dimension::Mass,          Dimension::Volume,   Dimension::Length,          Dimension::Time,
      Dimension::Temperature,   Dimension::Speed,    Dimension::VolumePerArea,   Dimension::MassPerArea,
      Dimension::MassPerVolume, Dimension::Share,    Dimension::Count,           Dimension::Conductivity,
      Dimension::Area,          Dimension::Pressure, Dimension::VolumePerVolume, Dimension::Flow};
  auto read = read_quantity(typed, kAny, habits);
  if (read) return quantity_value(key, read->text);
  if (field.types.find('w') != std::string_view::npos) {
    if (is_word_of(field.of, lower(trim(typed)))) return word_value(key, lower(trim(typed)));
    if (typed.find_first_of("0123456789") == std::string_view::npos) return not_a_word(field, typed);
  }
  Problem problem = read.error();
  problem.place = key;
  return tl::unexpected<Problem>(std::move(problem));
}

Result<FieldValue> read_list(const Book& book, const FieldDef& field, std::string_view typed, const EnterAs& as) {
  std::vector<std::string> items;
  // Lists of references take names: beds, people.
  static constexpr std::pair<std::string_view, std::string_view> kNamed[] = {
      {"beds", "bed"}, {"order", "bed"}, {"people", "person"}};
  std::string_view kind;
  for (const auto& [key, of] : kNamed)
    if (field.key == key) kind = of;
  for (const std::string_view piece : split(typed, ',')) {
    const std::string_view item = trim(piece);
    if (item.empty()) continue;
    if (kind.empty()) {
      items.emplace_back(item);
      continue;
    }
    TRY_ASSIGN(const Id id, find_record(book, kind, item, as.farm));
    items.push_back(id.text());
  }
  return list_value(std::string(field.key), std::move(items));
}

Result<FieldValue> read_one(const Book& book, const FieldDef& field, std::string_view typed, const EnterAs& as,
                            const Context& context) {
  const std::string key(field.key);
  if (is_not_taken_word(typed)) return not_taken(key);
  const std::string_view text = trim(typed);
  const auto takes = [&](char letter) { return field.types.find(letter) != std::string_view::npos; };
  const auto placed = [&](Problem problem) {
    problem.place = key;
    return tl::unexpected<Problem>(std::move(problem));
  };
  if (takes('l')) return read_list(book, field, text, as);
  if (takes('r')) {
    if (const auto id = Id::parse(text)) {
      if (book.kind_of(*id).empty()) return refuse(Trouble::NotFound, "enter.not-here"_w, {text}, key);
      return reference_value(key, *id);
    }
    auto found = find_record(book, field.of, text, context.farm ? context.farm->id : Id{});
    if (!found) return placed(found.error());
    return reference_value(key, *found);
  }
  if (takes('q')) return read_quantity_field(field, text, as.habits);
  if (takes('n')) {
    auto number = read_number(text, as.habits.mark);
    if (!number && number.error().kind == Trouble::Ask) return placed(number.error());
    if (!number) return refuse(Trouble::BadInput, "enter.number"_w, {text}, key);
    // A fraction is written as a decimal: the journal's numbers have no bars.
    const auto plain = number->amount.decimal(9);
    if (!plain || !is_journal_number(*plain)) return refuse(Trouble::BadInput, "enter.number"_w, {text}, key);
    return number_value(key, *plain);
  }
  if (takes('b')) {
    const std::string word = lower(text);
    if (word == "yes" || word == "y" || word == "sí" || word == "si" || word == "true" || word == "1")
      return yes_no_value(key, true);
    if (word == "no" || word == "n" || word == "false" || word == "0") return yes_no_value(key, false);
    return refuse(Trouble::BadInput, "enter.yes-no"_w, {text}, key);
  }
  if (takes('d')) {
    const Date today = context.farm ? context.farm->day(book.now().at) : Zone().local(book.now().at).date;
    auto date = read_date(text, today);
    if (!date) return placed(date.error());
    return date_value(key, *date);
  }
  if (takes('i')) {
    auto stamp = read_time(text, context.farm ? context.farm->zone : Zone(), book.now());
    if (!stamp) return placed(stamp.error());
    return instant_value(key, *stamp);
  }
  if (takes('w') && !field.of.empty()) {
    const std::string word = lower(text);
    if (!is_word_of(field.of, word)) return not_a_word(field, text);
    return word_value(key, word);
  }
  if (takes('c')) {
    FieldValue value{key, FieldType::Censored, std::string(text), {}};
    if (!fits_type(FieldType::Censored, value.text))
      return refuse(Trouble::BadInput, "enter.number-or-less"_w, {text}, key);
    return value;
  }
  if (key == "size.polygon")
    if (const auto area = area_of_corners(text); !area) return placed(area.error());
  const std::string clean = clean_text(text);
  if (clean.empty()) return refuse(Trouble::BadInput, "enter.empty"_w, {key}, key);
  return text_field_value(key, clean);
}

}  // namespace

Result<FieldValue> read_field(const Book& book, const FieldDef& field, std::string_view typed, const EnterAs& as) {
  TRY_ASSIGN(const Context& context, context_of(book, as));
  return read_one(book, field, typed, as, context);
}

Result<std::vector<FieldValue>> read_fields(const Book& book, std::string_view kind_name, const EnterFields& fields,
                                            const EnterAs& as) {
  const KindDef* kind = find_kind(kind_name);
  if (!kind) return refuse(Trouble::BadInput, "table.no-kind"_w, {kind_name});
  TRY_ASSIGN(const Context& context, context_of(book, as));
  std::vector<FieldValue> values;
  for (const auto& [name, typed] : fields) {
    TRY_ASSIGN(const FieldDef* field, field_called(*kind, name));
    const bool twice =
        std::any_of(values.begin(), values.end(), [&](const FieldValue& v) { return v.key == field->key; });
    if (twice) return refuse(Trouble::BadInput, "enter.twice"_w, {name}, name);
    TRY_ASSIGN(FieldValue value, read_one(book, *field, typed, as, context));
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

/// Nothing is stored without its unit: '36' as the greatest age of a brew is asked about, '6' of oxygen is 6 mg/L.
Result<void> give_units(std::string_view kind, std::vector<FieldValue>& fields, const Record* old,
                        const Habits& habits) {
  const std::string_view what_key = kind == "limit" ? "which" : "quantity";
  if (kind != "limit" && kind != "reading") return {};
  const FieldValue* what = find(fields, what_key);
  if (!what && old) what = old->field(what_key);
  if (!what) return {};
  const std::string counted = what->text;
  for (FieldValue& field : fields) {
    TRY_ASSIGN(field, with_its_unit(std::move(field), kind, counted, habits));
  }
  return {};
}

/// What a form would have filled in by itself.
Result<void> complete(const Book& book, std::string_view kind, std::vector<FieldValue>& fields,
                      const Context& context) {
  if (context.farm && find_field(*find_kind(kind), "farm") && !find(fields, "farm") && kind != "plan")
    fields.push_back(reference_value("farm", context.farm->id));
  if ((kind == "brew" || kind == "pass") && !find(fields, "number")) {
    TRY_ASSIGN(const Codes& codes, Codes::read(book));
    fields.push_back(number_value("number", std::to_string(codes.next(kind))));
  }
  // A pass written down afterwards is over, whether or not its finish is known.
  if (kind == "pass" && !find(fields, "finish")) fields.push_back(not_taken("finish"));
  if (kind == "plan" && context.farm && !find(fields, "farm")) {
    // A brew's plan lies in the house, a pass's and a picking's on the farm.
    const FieldValue* what = find(fields, "what");
    if (what && what->text != "brew") fields.push_back(reference_value("farm", context.farm->id));
  }
  if (kind == "dose") {
    // A bed without a stretch is meant whole, its sizes as they are today.
    if (auto bed = read_bed(book, reference_in(fields, "what.bed"))) {
      Query query = book.db().query("SELECT size_length, size_width FROM k_bed WHERE uid = ?");
      query.bind(1, bed->id);
      if (query.next()) {
        const std::string length = query.text(0), width = query.text(1);
        const auto in = parse_written(length);
        if (!find(fields, "what.from") && in)
          fields.push_back(quantity_value("what.from", write_quantity(0.0, *in->unit).text));
        if (!find(fields, "what.to") && in) fields.push_back(quantity_value("what.to", length));
        if (!find(fields, "what.width") && !width.empty()) fields.push_back(quantity_value("what.width", width));
      }
      TRY(query.done());
      if (!find(fields, "what.how")) {
        const auto from = quantity_in(fields, "what.from"), to = quantity_in(fields, "what.to");
        const bool part = from && to && bed->length &&
                          (as<Length>(*from).si() > 0.01 || as<Length>(*to).si() < bed->length->si() - 0.01);
        fields.push_back(word_value("what.how", part ? "part" : "done"));
      }
    }
  }
  if (kind == "harvest" && !find(fields, "code")) {
    auto bed = read_bed(book, reference_in(fields, "bed"));
    const FieldValue* at = find(fields, "at");
    const auto stamp = at ? parse_stamp(at->text) : std::nullopt;
    if (bed && stamp)
      if (auto farm = read_farm(book, bed->farm)) {
        TRY_ASSIGN(const std::string& code, next_harvest_code(book, *farm, *bed, {}, farm->day(stamp->at)));
        fields.push_back(text_field_value("code", code));
      }
  }
  return {};
}

ReadingGiven reading_given(const std::vector<FieldValue>& fields) {
  ReadingGiven given;
  given.of = reference_in(fields, "of");
  if (const FieldValue* quantity = find(fields, "quantity")) given.quantity = quantity->text;
  given.value = quantity_in(fields, "value.value");
  const FieldValue* value = find(fields, "value.value");
  given.not_taken = value == nullptr || value->type == FieldType::NotTaken;
  if (value != nullptr && value->type == FieldType::Number) given.number = value->text;
  if (value != nullptr && value->type == FieldType::Word) given.word = value->text;
  return given;
}

/// Ask and Warn for an entry after the fact.
Result<std::vector<Caution>> cautions_for(const Book& book, std::string_view kind,
                                          const std::vector<FieldValue>& fields, const Context& context,
                                          const Going& going) {
  if (kind == "reading") return reading_cautions(book, reading_given(fields), going);
  std::vector<Caution> cautions;
  const Moment now = book.now().at;
  if (kind == "bed") {
    // '1000 ft in a block of 100 ft beds'.
    const auto length = quantity_in(fields, "size.length");
    const Id block = reference_in(fields, "block");
    if (length && !block.is_nil()) {
      Query query = book.db().query(
          "SELECT size_length_si FROM k_bed WHERE block = ? AND struck IS NULL AND size_length_si IS NOT NULL ORDER BY "
          "1");
      query.bind(1, block);
      std::vector<double> others;
      while (query.next()) others.push_back(query.real(0));
      TRY(query.done());
      if (!others.empty()) {
        const double middle = others[others.size() / 2], mine = as<Length>(*length).si();
        if (mine > 4 * middle || mine < middle / 4)
          cautions.push_back({"check.bed-unlike-others"_w,
                              {amount_value_text(*length), amount_value_text(Length::from_si(middle))},
                              "size.length",
                              block});
      }
    }
  }
  if (kind == "brew-line" || kind == "load-line") {
    TRY_ASSIGN(cautions, lot_cautions(book, context.farm ? &*context.farm : nullptr, reference_in(fields, "amount.lot"),
                                      quantity_in(fields, "amount.amount"), now));
  }
  if (kind == "dose") {
    const FieldValue *start = find(fields, "when.start"), *finish = find(fields, "when.finish"),
                     *how = find(fields, "what.how");
    const auto from = start ? parse_stamp(start->text) : std::nullopt,
               to = finish ? parse_stamp(finish->text) : std::nullopt;
    if (to && how && how->text != "skipped") {
      const auto a = quantity_in(fields, "what.from"), b = quantity_in(fields, "what.to");
      const Stretch stretch = a && b ? Stretch{as<Length>(*a), as<Length>(*b)} : Stretch{};
      TRY_ASSIGN(const std::vector<Id>& others, overlapping_doses(book, reference_in(fields, "what.bed"), stretch,
                                                                  from ? from->at : to->at, to->at, {}));
      if (!others.empty())
        cautions.push_back({"check.same-bed-twice"_w,
                            {record_name(book, reference_in(fields, "what.bed")), moment_value_text(to->at)},
                            "when",
                            others.front()});
    }
  }
  if (kind == "pass" && context.farm) {
    std::optional<Speed> wind;
    std::optional<Temperature> temperature;
    if (const auto typed = quantity_in(fields, "weather_start.wind")) wind = as<Speed>(*typed);
    if (const auto typed = quantity_in(fields, "weather_start.temperature")) temperature = as<Temperature>(*typed);
    const FieldValue* start = find(fields, "start");
    const auto at = start ? parse_stamp(start->text) : std::nullopt;
    TRY_ASSIGN(const Places& places, read_places(book, context.farm->id));
    cautions = weather_cautions(*context.farm, places.limits, wind, temperature, at ? at->at : now);
  }
  return cautions;
}

}  // namespace

Result<Outcome> enter(Book& book, std::string_view kind, const EnterFields& fields, const EnterAs& as,
                      const Going& going) {
  TRY_ASSIGN(std::vector<FieldValue> values, read_fields(book, kind, fields, as));
  TRY_ASSIGN(const Context& context, context_of(book, as));
  TRY(give_units(kind, values, nullptr, as.habits));
  const bool numbered = find(values, "number") != nullptr;
  TRY(complete(book, kind, values, context));
  const KindDef& def = *find_kind(kind);
  for (const FieldDef& field : def.fields)
    if (field.required && !find(values, field.key)) {
      // Which farm is meant cannot be guessed when there are several.
      if (field.key == "farm") return refuse(Trouble::Ask, "enter.which-farm"_w, {}, "farm");
      return refuse(Trouble::BadInput, "enter.required"_w, {field.key}, field.key);
    }
  TRY(check_fields(book, std::string(kind), values, nullptr));
  TRY_ASSIGN(std::vector<Caution> cautions, cautions_for(book, kind, values, context, going));
  TRY_ASSIGN(const std::vector<Caution>& same_name, name_cautions(book, kind, values, numbered));
  cautions.insert(cautions.end(), same_name.begin(), same_name.end());
  Save save = new_save(book, kind, std::move(values));
  const Id record = save.record;
  if (kind == "reading") return write_reading(book, {std::move(save)}, record, std::move(cautions), going);
  return write_with(book, {std::move(save)}, record, std::move(cautions), going);
}

Result<Outcome> amend(Book& book, const Id& record, const EnterFields& fields, const EnterAs& as, const Going& going) {
  const std::string kind = book.kind_of(record);
  if (kind.empty()) return refuse(Trouble::NotFound, "record.not-here"_w);
  TRY_ASSIGN(std::vector<FieldValue> values, read_fields(book, kind, fields, as));
  TRY_ASSIGN(const std::optional<Record>& old, book.record(record));
  if (!old) return refuse(Trouble::NotFound, "record.not-here"_w);
  TRY(give_units(kind, values, &*old, as.habits));
  TRY(refuse_mixing(*old, values));
  // Fields of the groups that were not named stay as they stand.
  std::set<std::string> groups;
  for (const FieldValue& value : values) groups.insert(std::string(group_of(value.key)));
  for (const Group& group : old->groups) {
    if (groups.count(group.key) == 0 || group.heads.empty()) continue;
    for (const FieldValue& field : group.heads.front().fields)
      if (!find(values, field.key)) values.push_back(field);
  }
  TRY(check_fields(book, kind, values, &*old));
  const std::string why = clean_text(going.reason);
  if (why.empty()) return refuse(Trouble::BadInput, "record.reason-asked"_w, {}, "why");
  TRY_ASSIGN(Save save, change_save(book, record, std::move(values), why));
  return write_with(book, {std::move(save)}, record, {}, going);
}

}  // namespace steep
