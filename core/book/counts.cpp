#include "book/counts.h"

#include <cmath>

#include "base/text.h"
#include "book/change.h"
#include "book/checks.h"
#include "book/entry.h"
#include "book/rows.h"
#include "book/saves.h"

namespace steep {
namespace {

void read_row(Rows& rows, Count& count) {
  count.of = rows.reference("of");
  count.what = rows.text("what");
  count.result.value = rows.text("result.value");
  count.result.per = rows.text("result.per");
  count.result.low = rows.number("result.low").maybe();
  count.result.high = rows.number("result.high").maybe();
  count.result.confidence = rows.number("result.confidence").maybe();
  count.result.estimated = rows.yes_no("result.estimated").value_or(false);
  count.behind.method = rows.text("behind.method");
  count.behind.counted = rows.number("behind.counted").maybe();
  count.behind.looked_at = rows.number("behind.looked_at").maybe();
  count.behind.objective = rows.number("behind.objective").maybe();
  count.behind.dilution = rows.number("behind.dilution").maybe();
  count.behind.drop = rows.written("behind.drop").maybe();
  count.behind.inputs = rows.text("behind.inputs");
  count.at = rows.instant("at");
}

constexpr int kDigits = 3;  ///< More than any count deserves.

Result<void> add_number(std::vector<FieldValue>& fields, std::string key, const std::optional<double>& value,
                        int digits) {
  if (!value) return {};
  const auto text = count_number(*value, digits);
  if (!text) return refuse(Trouble::BadInput, "check.number"_w, {decimal(*value, 9)}, key);
  fields.push_back(number_value(std::move(key), *text));
  return {};
}

Result<void> check_result(const CountResult& result) {
  const bool bound = result.value.starts_with('<') || result.value.starts_with('>');
  const auto value = parse_decimal(bound ? std::string_view(result.value).substr(1) : std::string_view(result.value));
  if (!fits_type(FieldType::Censored, result.value) || !value || *value < 0)
    return refuse(Trouble::BadInput, "check.number"_w, {result.value}, "result.value");
  // The number is rounded, its interval may be a little less so.
  const double slack = *value * 0.05 + 1e-9;
  const bool holds = (!result.low || *result.low <= *value + slack) && (!result.high || *result.high >= *value - slack);
  if (!bound && !holds) return refuse(Trouble::BadInput, "check.interval"_w, {result.value}, "result.low");
  return {};
}

}  // namespace

Result<std::vector<Count>> counts(const Book& book, const Id& of) {
  Rows rows(book, "count", "WHERE \"of\" = ? AND struck IS NULL ORDER BY COALESCE(at, made_ms), uid");
  rows.query().bind(1, of);
  return read_all<Count>(rows, [](Rows& row, Count& count) { read_row(row, count); });
}

Result<Outcome> add_count(Book& book, const CountGiven& given, const Going& going) {
  const Stamp now = book.now();
  const Moment at = given.at.value_or(now.at);
  Cautions cautions(going);
  TRY(cautions.ask(check_when(at, now.at, "at")));
  TRY(check_result(given.result));
  std::vector<FieldValue> fields{reference_value("of", given.of)};
  add_text(fields, "what", given.what);
  fields.push_back({"result.value", FieldType::Censored, given.result.value, {}});
  fields.push_back(word_value("result.per", given.result.per));
  TRY(add_number(fields, "result.low", given.result.low, kDigits));
  TRY(add_number(fields, "result.high", given.result.high, kDigits));
  TRY(add_number(fields, "result.confidence", given.result.confidence, 6));
  if (given.result.estimated) fields.push_back(yes_no_value("result.estimated", true));
  const CountBehind& behind = given.behind;
  fields.push_back(word_value("behind.method", behind.method));
  TRY(add_number(fields, "behind.counted", behind.counted, 15));
  TRY(add_number(fields, "behind.looked_at", behind.looked_at, 15));
  TRY(add_number(fields, "behind.objective", behind.objective, 15));
  if (behind.drop) fields.push_back(quantity_value("behind.drop", behind.drop->text));
  TRY(add_number(fields, "behind.dilution", behind.dilution, 15));
  add_text(fields, "behind.inputs", behind.inputs);
  fields.push_back(instant_value("at", stamp_of(book, at)));
  Save save = new_save(book, "count", std::move(fields));
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, cautions.take(), going);
}

std::optional<std::string> count_number(double value, int digits) {
  if (!std::isfinite(value)) return std::nullopt;
  if (value == 0) return "0";
  const int power = static_cast<int>(std::floor(std::log10(std::abs(value))));
  const double last = std::pow(10.0, power - digits + 1);
  const std::string text = decimal(power - digits + 1 < 0 ? value : std::round(value / last) * last,
                                   std::min(9, std::max(0, digits - 1 - power)));
  if (!fits_type(FieldType::Number, text) || text == "0") return std::nullopt;
  return text;
}

}  // namespace steep
