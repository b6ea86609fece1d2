// Normal forms: the journal's own readers and writers.
#include "quantity/written.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "base/text.h"
#include "quantity/number_reading.h"
#include "quantity/written_make.h"

namespace steep {
namespace {

constexpr std::size_t kMostBytes = 40;

auto damaged(std::string_view text) { return refuse(Trouble::Damaged, "quantity.damaged"_w, {quoted(text)}); }

}  // namespace

bool may_be_negative(Dimension dimension) {
  return dimension == Dimension::Temperature || dimension == Dimension::TemperatureDifference;
}

std::string quoted(std::string_view typed) {
  constexpr std::size_t kMost = 60;
  std::string text = printable(trim(typed));
  if (text.size() <= kMost) return text;
  std::size_t end = kMost;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  return text.substr(0, end) + "…";
}

Result<Written> make_written(std::string_view number, const Fraction& amount, const Unit& unit,
                             std::string_view typed) {
  Written made{std::string(number) + " " + std::string(unit.word), amount, &unit};
  if (made.text.size() > kMostBytes) return refuse(Trouble::BadInput, "quantity.digits"_w, {quoted(typed)});
  if (amount.is_negative() && !may_be_negative(unit.dimension)) {
    return refuse(Trouble::BadInput, "quantity.negative"_w, {quoted(typed)});
  }
  const auto exact = exact_si(amount, unit);
  if (!exact) return refuse(Trouble::BadInput, "quantity.digits"_w, {quoted(typed)});
  if (unit.dimension == Dimension::Temperature && exact->is_negative()) {
    return refuse(Trouble::BadInput, "quantity.cold"_w, {quoted(typed)});
  }
  return made;
}

bool Written::operator==(const Written& other) const {
  if (unit == other.unit) return amount == other.amount;
  if (!unit || !other.unit || unit->dimension != other.unit->dimension || unit->dimension == Dimension::Count)
    return false;
  return si(*this) == si(other);
}

Fraction si(const Written& written) {
  assert(written.unit && "a quantity that no reader made");
  const auto value = exact_si(written.amount, *written.unit);
  assert(value && "a quantity that no reader made");
  return value.value_or(Fraction());
}

Result<Written> parse_written(std::string_view text) {
  // The number ends where the first unit word begins; no unit begins with a digit but '1000 ft2',
  // which stands as a unit only below a bar or alone after its number, and '100 gal' below a bar.
  const std::size_t unit_at = text.find_first_not_of("-0123456789./ ");
  if (text.size() > kMostBytes || unit_at == std::string_view::npos || unit_at < 2) return damaged(text);
  for (std::size_t space = text.find(' '); space != std::string_view::npos && space < unit_at;
       space = text.find(' ', space + 1)) {
    const Unit* unit = find_unit(text.substr(space + 1));
    const auto amount = unit ? parse_normal_number(text.substr(0, space)) : std::nullopt;
    if (!amount) continue;
    auto made = make_written(text.substr(0, space), *amount, *unit, text);
    if (!made) return damaged(text);
    return made;
  }
  return damaged(text);
}

Written write_quantity(double amount, const Unit& unit, int places) {
  assert(!std::isnan(amount) && places >= 0 && places <= 9);
  constexpr double kMost = 999'999'999'999'999;
  const std::string number = decimal(std::clamp(amount, -kMost, kMost), places);
  return {number + " " + std::string(unit.word), Fraction::from_decimal(number).value_or(Fraction()), &unit};
}

Result<WrittenNumber> read_number(std::string_view typed, DecimalMark mark) {
  const auto found = take_number(typed, mark);
  if (!found) return tl::unexpected<Problem>(found.error());
  if (!trim(found->rest).empty()) return refuse(Trouble::BadInput, "quantity.unreadable"_w, {quoted(typed)});
  if (found->readings.size() > 1 || found->spaced) {
    std::vector<std::string> values{quoted(typed)};
    for (const NumberReading& reading : found->readings) values.push_back(reading.text);
    return refuse(Trouble::Ask, found->spaced ? "quantity.ask-one"_w : "quantity.ask-two"_w, std::move(values));
  }
  return WrittenNumber{found->readings.front().text, found->readings.front().amount};
}

bool is_journal_number(std::string_view text) {
  if (text.starts_with('-')) text.remove_prefix(1);
  const std::size_t point = text.find('.');
  const std::string_view whole = text.substr(0, point);
  const auto all_digits = [](std::string_view digits, std::size_t most) {
    return !digits.empty() && digits.size() <= most && digits.find_first_not_of("0123456789") == std::string_view::npos;
  };
  return all_digits(whole, 15) && (point == std::string_view::npos || all_digits(text.substr(point + 1), 9));
}

Result<Fraction> parse_journal_number(std::string_view text) {
  if (!is_journal_number(text)) return damaged(text);
  return *Fraction::from_decimal(text);
}

}  // namespace steep
