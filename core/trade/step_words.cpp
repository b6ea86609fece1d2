#include "trade/step_words.h"

#include <algorithm>
#include <vector>

#include "quantity/unit.h"

namespace steep {
namespace {

/// Letters and figures of one word; all else, Greek letters too, parts words.
bool in_word(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_'; }

/// Where the words end that begin at `from`, each one blank behind the other; at most so many as a known phrase has.
std::vector<std::size_t> ends_of_words(std::string_view text, std::size_t from) {
  constexpr std::size_t kMost = 6;
  std::vector<std::size_t> ends;
  for (std::size_t at = from; at < text.size() && in_word(text[at]) && ends.size() < kMost; ++at) {
    while (at < text.size() && in_word(text[at])) ++at;
    ends.push_back(at);
    if (at == text.size() || text[at] != ' ') break;
  }
  return ends;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// A unit behind its number: 'cup' in '2 1/2 cup', 'gal/acre', 'fl oz/1000 ft2'.
struct UnitInText {
  const Unit* unit = nullptr;  ///< The longest that begins there; nullptr: none does.
  std::size_t end = 0;
};
UnitInText unit_in_text(std::string_view text, std::size_t from) {
  constexpr std::size_t kMostParts = 5;  // 'imperial fl oz/imperial gal'
  UnitInText found;
  if (from < 2 || text[from - 1] != ' ' || !is_digit(text[from - 2])) return found;
  for (std::size_t at = from, part = 0; part < kMostParts; ++part, ++at) {
    while (at < text.size() && in_word(text[at])) ++at;
    if (const Unit* unit = find_unit(text.substr(from, at - from))) found = {unit, at};
    if (at + 1 >= text.size() || (text[at] != ' ' && text[at] != '/') || !in_word(text[at + 1])) break;
  }
  return found;
}

/// Is the number that ends there 'exactly one' in the grammar of both languages: 1, or less as a fraction?
bool is_one(std::string_view before) {
  const std::size_t blank = before.find_last_not_of("0123456789/.,");
  const std::string_view number = before.substr(blank == std::string_view::npos ? 0 : blank + 1);
  const bool ends_more = before.size() > number.size() && (static_cast<unsigned char>(before[blank]) >= 0x80 ||
                                                           (blank > 0 && is_digit(before[blank - 1])));
  return !ends_more && (number == "1" || number.find('/') != std::string_view::npos);
}

/// Steps are written with a point.
std::string in_marks(std::string text, const UnitsShown& units) {
  if (units.mark == DecimalMark::Point) return text;
  for (std::size_t i = 1; i + 1 < text.size(); ++i)
    if (text[i] == '.' && is_digit(text[i - 1]) && is_digit(text[i + 1])) text[i] = ',';
  return text;
}

}  // namespace

StepShown show_step(const Step& step, const UnitsShown& units, const Words& words) {
  StepShown shown{step.formula, in_marks(step_words(step.below(), words), units)};
  if (!step.named) shown.formula = step_words(step.formula, words);
  // What is no equation may be a section of a rule: '7 CFR 205.203(c)'.
  if (step.formula.find(" = ") != std::string::npos) shown.formula = in_marks(std::move(shown.formula), units);
  return shown;
}

std::string step_words(std::string_view text, const Words& words) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::vector<std::size_t> ends = ends_of_words(text, at);
    if (ends.empty()) {
      out += text[at++];
      continue;
    }
    // English stays as the calculation wrote it.
    const UnitInText behind = words.language() == Language::English ? UnitInText{} : unit_in_text(text, at);
    if (behind.unit) {
      out += unit_label(*behind.unit, is_one(text.substr(0, at - 1)) ? 1 : 2, words);
      at = behind.end;
      continue;
    }
    const auto phrase = [&](std::size_t end) { return "formula." + std::string(text.substr(at, end - at)); };
    const auto longest =
        std::find_if(ends.rbegin(), ends.rend(), [&](std::size_t end) { return words.has(phrase(end)); });
    const std::size_t end = longest != ends.rend() ? *longest : ends.front();
    out += words.stored(phrase(end), text.substr(at, end - at));
    at = end;
  }
  return out;
}

}  // namespace steep
