#include "book/spelled.h"

#include "base/text.h"
#include "quantity/time_shown.h"
#include "quantity/typeable.h"

namespace steep {
namespace {

/// Tags start with a sign that no typed text can hold (control characters are removed at the form).
constexpr char kTag = '\x1f';

std::string tagged(char letter, std::string_view text) { return {std::string{kTag, letter} + std::string(text)}; }

std::string si_text(char letter, double si) { return tagged(letter, decimal(si, 12)); }

std::string spell_one(const std::string& value, const Words& words, const SpellAs& as) {
  if (value.size() < 2 || value[0] != kTag) return printable(value);
  const std::string_view text = std::string_view(value).substr(2);
  const auto number = [&] { return parse_decimal(text).value_or(0); };
  switch (value[1]) {
    case 'd': {
      const auto date = parse_date(text);
      return date ? show_day(*date, as.today, words) : printable(text);
    }
    case 'm': {
      const auto ms = parse_int(text);
      return ms ? show_when(as.zone.local(Moment{*ms}), as.today, as.units.clock, words) : printable(text);
    }
    case 'q': {
      const auto written = parse_written(text);
      return written ? show_both(*written, as.units, words) : printable(text);
    }
    case 'v': return show(Volume::from_si(number()), as.units, words);
    case 'l': return show(Length::from_si(number()), as.units, words);
    case 'r': return show(VolumePerArea::from_si(number()), as.units, words);
    case 't': return show_duration(Duration::from_si(number()), words);
    case 'c':
    case 'w': {
      const auto gap = text.find(' ');
      const std::string first(text.substr(0, gap));
      const std::string rest(gap == std::string_view::npos ? std::string_view{} : text.substr(gap + 1));
      if (value[1] == 'w') return words.stored(first + '.' + rest, rest);
      std::string code = words.stored("code." + first, first + " {0}");
      if (const auto place = code.find("{0}"); place != std::string::npos) code.replace(place, 3, printable(rest));
      return code;
    }
    default: return printable(text);
  }
}

}  // namespace

std::string date_value_text(Date date) { return tagged('d', date_text(date)); }
std::string moment_value_text(Moment at) { return tagged('m', std::to_string(at.ms)); }
std::string amount_value_text(const Written& amount) { return tagged('q', amount.text); }
std::string amount_value_text(Volume volume) { return si_text('v', volume.si()); }
std::string amount_value_text(Length length) { return si_text('l', length.si()); }
std::string amount_value_text(VolumePerArea rate) { return si_text('r', rate.si()); }
std::string amount_value_text(Duration time) { return si_text('t', time.si()); }
std::string code_value_text(std::string_view kind, std::string_view code) {
  return tagged('c', std::string(kind) + ' ' + std::string(code));
}
std::string word_value_text(std::string_view prefix, std::string_view word) {
  return tagged('w', std::string(prefix) + ' ' + std::string(word));
}

std::string record_value_text(const Id& record) { return tagged('n', record.text()); }

std::optional<Id> record_in_value(std::string_view value) {
  if (value.size() < 2 || value[0] != kTag || value[1] != 'n') return std::nullopt;
  return Id::parse(value.substr(2));
}

std::vector<std::string> spell(const std::vector<std::string>& values, const Words& words, const SpellAs& as) {
  std::vector<std::string> out;
  for (const std::string& value : values) out.push_back(spell_one(value, words, as));
  return out;
}

std::string spell(WordId word, const std::vector<std::string>& values, const Words& words, const SpellAs& as) {
  return words(word, spell(values, words, as));
}

namespace {

/// The readings that a question of read_quantity offers, each so that typing it answers the question.
std::vector<std::string> offered(std::vector<std::string> values, const Words& words, const SpellAs& as) {
  std::vector<Written> readings;
  for (std::size_t i = 1; i < values.size(); ++i)
    if (auto reading = parse_written(values[i])) readings.push_back(std::move(*reading));
  if (readings.size() + 1 != values.size()) return spell(values, words, as);
  for (std::size_t i = 0; i < readings.size(); ++i) values[i + 1] = typeable(readings[i], readings, as.units, words);
  return values;
}

}  // namespace

std::string spell(const Problem& problem, const Words& words, const SpellAs& as) {
  if (problem.kind == Trouble::Ask && problem.word.key.starts_with("quantity.ask"))
    return words(problem.word, offered(problem.values, words, as));
  return words(problem.word, spell(problem.values, words, as));
}

}  // namespace steep
