#include "trade/step_words.h"

#include <algorithm>
#include <vector>

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
