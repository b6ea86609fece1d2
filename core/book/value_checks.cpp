// What single values of a record must be: kinds, ranges, order, days. Stops, and Asks that a reason goes through.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "book/amount_kinds.h"
#include "book/checks.h"
#include "book/entry.h"
#include "book/limit_kinds.h"
#include "book/spelled.h"
#include "trade/hold.h"

namespace steep {
namespace {

constexpr double kNoEnd = 1e15;

// ---- Amounts and numbers -----------------------------------------------------------------------

Result<void> check_amounts(const Entry& entry, Cautions& cautions) {
  const std::string_view decides = deciding_field(entry.kind);
  const std::string word = entry.text(decides);
  if (entry.kind == "reading") {
    const FieldValue* value = entry.field("value.value");
    if (value && entry.changes_any({"quantity", "value.value"})) return cautions.ask(check_reading(word, *value));
    return {};
  }
  for (const FieldDef& def : find_kind(entry.kind)->fields) {
    const bool asked = entry.changes(def.key) || (!decides.empty() && entry.changes(decides));
    const auto amount = asked && def.key != "limit.value" ? entry.amount(def.key) : std::nullopt;
    if (amount) TRY(cautions.ask(check_amount(entry.kind, def.key, word, *amount)));
  }
  return {};
}

/// Numbers without a unit; all others are 0 or more.
struct NumberField {
  std::string_view kind, field;
  double least, most;
  bool whole = false;
};
constexpr NumberField kNumbers[] = {
    {"farm", "place.latitude", -90, 90},
    {"farm", "place.longitude", -180, 180},
    {"farm", "tea_wait.days", 0, kLongestWaitDays, true},
    {"interval", "days", 1, kLongestWaitDays, true},
};

Result<void> check_number(std::string_view kind, const FieldValue& field) {
  const double number = parse_decimal(field.text).value_or(0);
  NumberField range{kind, field.key, 0, kNoEnd};
  for (const NumberField& row : kNumbers)
    if (row.kind == kind && row.field == field.key) range = row;
  if (number < 0 && range.most == kNoEnd) return refuse(Trouble::BadInput, "check.negative"_w, {field.text}, field.key);
  if (number >= range.least && number <= range.most && (!range.whole || number == std::floor(number))) return {};
  return refuse(Trouble::BadInput, range.whole ? "check.whole-number"_w : "check.number-range"_w,
                {field.text, decimal(range.least, 0), decimal(range.most, 0)}, field.key);
}

Result<void> check_numbers(const Entry& entry) {
  for (const FieldValue& field : entry.fields) {
    // A limit and a reading have tables of their own.
    const bool own_table = field.key == "limit.value" || field.key == "value.value";
    if (field.type == FieldType::Number && !own_table && entry.changes(field.key)) TRY(check_number(entry.kind, field));
  }
  return {};
}

Result<void> check_limit_value(const Entry& entry) {
  const FieldValue *which = entry.field("which"), *value = entry.field("limit.value");
  if (entry.kind != "limit" || !which || !value || !entry.changes_any({"which", "limit.value"})) return {};
  if (value->type == FieldType::Number)
    if (const auto number = parse_decimal(value->text)) return check_limit(which->text, *number);
  if (const auto written = amount_in_field(value)) return check_limit(which->text, *written);
  return {};
}

/// 'Done' with nothing.
Result<void> check_nothing(const Entry& entry, Cautions& cautions) {
  const auto none = [&](std::string_view key) {
    const auto amount = entry.changes(key) ? entry.amount(key) : std::nullopt;
    return amount && amount->amount.is_zero();
  };
  if (entry.kind == "brew" && none("fill"))
    return refuse(Trouble::BadInput, "check.fill"_w, {entry.text("fill")}, "fill");
  for (const std::string_view side : {"size.length", "size.width"})
    if (entry.kind == "bed" && none(side))
      return refuse(Trouble::BadInput, "check.bed-size"_w, {amount_value_text(*entry.amount(side))}, side);
  if (entry.kind == "harvest" && none("amount"))
    TRY(cautions.ask(
        refuse(Trouble::Ask, "check.picked-nothing"_w, {amount_value_text(*entry.amount("amount"))}, "amount")));
  if (entry.kind == "dose" && none("what.volume") && entry.text("what.how") != "skipped")
    TRY(cautions.ask(refuse(Trouble::Ask, "check.done-with-nothing"_w,
                            {amount_value_text(*entry.amount("what.volume"))}, "what.volume")));
  return {};
}

/// What cannot well be more than another amount of the record.
struct WithinField {
  std::string_view kind, inner, outer;
  WordId word;
};
constexpr WithinField kWithin[] = {
    {"vessel", "volume.working", "volume.nominal", "check.working-above-whole"_w},
    {"rig", "tank.dead", "tank.volume", "check.dead-above-tank"_w},
    {"recipe-line", "amount.low", "amount.high", "check.low-above-high"_w},
};

Result<void> check_within(const Entry& entry, Cautions& cautions) {
  for (const WithinField& row : kWithin) {
    if (row.kind != entry.kind || !entry.changes_any({row.inner, row.outer})) continue;
    const auto inner = entry.amount(row.inner), outer = entry.amount(row.outer);
    if (!inner || !outer || inner->dimension() != outer->dimension() || si(*inner) <= si(*outer)) continue;
    TRY(cautions.ask(
        refuse(Trouble::Ask, row.word, {amount_value_text(*inner), amount_value_text(*outer)}, row.inner)));
  }
  return {};
}

Result<void> check_rates(const Entry& entry) {
  if (!entry.changes_any({"rates.tea", "rates.spray"})) return {};
  const auto tea = entry.amount_of<VolumePerArea>("rates.tea"), spray = entry.amount_of<VolumePerArea>("rates.spray");
  if (tea && spray && tea->si() > spray->si() * (1 + 1e-9))
    return refuse(Trouble::BadInput, "loads.more-tea-than-spray"_w, {}, "rates.tea");
  return {};
}

// ---- Times -------------------------------------------------------------------------------------

/// What comes first and what after it, within one record.
constexpr std::pair<std::string_view, std::string_view> kTimesInOrder[] = {{"when.start", "when.finish"},
                                                                           {"start", "finish"},
                                                                           {"air_on", "air_off"},
                                                                           {"treatment.from", "treatment.to"},
                                                                           {"filled", "closed"}};
constexpr std::pair<std::string_view, std::string_view> kDaysInOrder[] = {
    {"planted", "ended"}, {"sown", "ended"}, {"sown", "planted"}, {"valid.from", "valid.to"}};

Result<void> check_order(const Entry& entry) {
  for (const auto& pair : kTimesInOrder) {
    if (!entry.changes_any({pair.first, pair.second})) continue;
    const auto from = entry.moment(pair.first), to = entry.moment(pair.second);
    if (from && to && *to < *from) return refuse(Trouble::BadInput, "check.finish-before-start"_w, {}, pair.second);
  }
  for (const auto& pair : kDaysInOrder) {
    if (!entry.changes_any({pair.first, pair.second})) continue;
    const auto from = parse_date(entry.text(pair.first)), to = parse_date(entry.text(pair.second));
    if (from && to && *to < *from)
      return refuse(Trouble::BadInput, "check.end-before-beginning"_w, {date_value_text(*from), date_value_text(*to)},
                    pair.second);
  }
  return {};
}

Result<void> check_times(const Book& book, const Entry& entry, Cautions& cautions) {
  const Moment now = book.now().at;
  for (const FieldValue& field : entry.fields) {
    const auto at = entry.changes(field.key) ? moment_in_field(&field) : std::nullopt;
    if (!at) continue;
    if (entry.kind == "hold" && field.key == "until") {
      if (*at <= now) return refuse(Trouble::BadInput, "check.hold-past"_w, {moment_value_text(*at)}, field.key);
    } else if (entry.kind == "plan") {
      TRY(cautions.ask(check_planned(*at, now, field.key)));
    } else if (field.key != "treatment.to") {  // Water that stands is written down with its end.
      TRY(cautions.ask(check_when(*at, now, field.key)));
    }
  }
  return {};
}

// ---- Places ------------------------------------------------------------------------------------

Result<void> check_stretch(const Book& book, const Entry& entry, Cautions& cautions) {
  const bool dose = entry.kind == "dose";
  const std::string_view from_key = dose ? "what.from" : "stretch.from", to_key = dose ? "what.to" : "stretch.to",
                         bed_key = dose ? "what.bed" : "bed";
  if (!entry.changes_any({from_key, to_key, bed_key})) return {};
  const auto from = entry.amount_of<Length>(from_key), to = entry.amount_of<Length>(to_key);
  if (!from || !to) return {};
  const Length far = std::max(*from, *to);
  if (std::abs(to->si() - from->si()) <= 0.01) {
    if (!dose) return refuse(Trouble::BadInput, "check.stretch-empty"_w, {amount_value_text(far)}, to_key);
    if (entry.text("what.how") != "skipped")
      TRY(cautions.ask(
          refuse(Trouble::Ask, "check.done-with-nothing"_w, {amount_value_text(*entry.amount(to_key))}, to_key)));
  }
  if (const auto bed = read_bed(book, entry.reference(bed_key));
      bed && bed->length && far.si() > bed->length->si() + 0.01) {
    // A bed with corners need not be as long all along.
    const Trouble trouble = bed->polygon.empty() ? Trouble::BadInput : Trouble::Ask;
    return cautions.ask(refuse(trouble, "check.beyond-bed"_w,
                               {bed->name, amount_value_text(far), amount_value_text(*bed->length)}, to_key));
  }
  return {};
}

/// 'id from to': a bed that is here, and ground that goes from the one place to the other.
bool is_ground_piece(const Book& book, const std::string& item) {
  const auto words = split(item, ' ');
  if (words.size() != 5) return false;
  const auto place = [&](std::size_t at) {
    const auto read = parse_written(std::string(words[at]) + ' ' + std::string(words[at + 1]));
    return read && read->dimension() == Dimension::Length ? std::optional(as<Length>(*read)) : std::nullopt;
  };
  const auto id = Id::parse(words[0]);
  const auto from = place(1), to = place(3);
  return id && book.kind_of(*id) == "bed" && from && to && to->si() > from->si() + 0.01;
}

Result<void> check_origin(const Book& book, const Entry& entry) {
  if (entry.kind != "bed" || !entry.changes("origin.beds")) return {};
  for (const std::string& item : entry.given("origin.beds")->items)
    if (!is_ground_piece(book, item))
      return refuse(Trouble::BadInput, "check.origin-piece"_w, {printable(item)}, "origin.beds");
  return {};
}

Result<void> check_farm(const Entry& entry) {
  if (entry.kind != "farm") return {};
  const std::string name = entry.text("zone.name"), rule = entry.text("zone.rule");
  if (entry.changes("zone.name") && !name.empty()) TRY(Zone::from_name(name));
  if (entry.changes("zone.rule") && !rule.empty()) TRY(Zone::from_rule(name, rule));
  const std::string pattern = entry.text("harvest_pattern");
  if (entry.changes("harvest_pattern") && !pattern.empty() && pattern.find("{copy}") == std::string::npos)
    return refuse(Trouble::BadInput, "check.harvest-pattern"_w, {pattern, "{copy}"}, "harvest_pattern");
  return {};
}

Result<void> check_poured_where(const Entry& entry) {
  const bool asked = entry.kind == "discard" && (!entry.was || entry.changes_any({"where.place", "where.words"}));
  if (asked && entry.reference("where.place").is_nil() && entry.text("where.words").empty())
    return refuse(Trouble::BadInput, "pass.poured-where"_w, {}, "where.words");
  return {};
}

}  // namespace

Result<void> check_values(const Book& book, const Entry& entry, Cautions& cautions) {
  TRY(check_amounts(entry, cautions));
  TRY(check_numbers(entry));
  TRY(check_limit_value(entry));
  TRY(check_nothing(entry, cautions));
  TRY(check_within(entry, cautions));
  TRY(check_rates(entry));
  TRY(check_stretch(book, entry, cautions));
  TRY(check_origin(book, entry));
  TRY(check_farm(entry));
  TRY(check_poured_where(entry));
  TRY(check_order(entry));
  return check_times(book, entry, cautions);
}

}  // namespace steep
