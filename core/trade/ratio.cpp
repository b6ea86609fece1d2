#include "trade/ratio.h"

#include <cmath>
#include <optional>
#include <string>

#include "base/text.h"
#include "quantity/written.h"

namespace steep {
namespace {

struct Split {
  double first = 0, second = 0;
  std::string_view sign;  ///< What stood between them.
  std::string_view rest;  ///< What stood behind them.
};

/// The digits and marks at the front, cut off `text`. Ask where they read two ways: '1,000'.
Result<double> take_number(std::string_view& text, DecimalMark mark) {
  constexpr std::size_t kMost = 12;
  std::size_t end = 0;
  while (end < text.size() && end < kMost &&
         ((text[end] >= '0' && text[end] <= '9') || text[end] == '.' || text[end] == ','))
    ++end;
  TRY_ASSIGN(const WrittenNumber& number, read_number(text.substr(0, end), mark));
  text = trim(text.substr(end));
  return number.amount.to_double();
}

Result<Split> take_apart(std::string_view text, DecimalMark mark) {
  Split split;
  TRY_ASSIGN(split.first, take_number(text, mark));
  for (const std::string_view sign : {":", "+", "/", "to", "in", "a", "en"})
    if (split.sign.empty() && text.starts_with(sign)) split.sign = sign;
  text = trim(text.substr(split.sign.size()));
  if (split.sign.empty()) return split;
  TRY_ASSIGN(split.second, take_number(text, mark));
  split.rest = text;
  return split;
}

}  // namespace

Result<std::vector<Parts>> read_ratio(std::string_view written, DecimalMark mark) {
  const std::string text = lower(trim(written));
  const auto unreadable = refuse(Trouble::BadInput, "ratio.unreadable"_w, {written}, "ratio");
  auto split = take_apart(text, mark);
  if (!split && split.error().kind == Trouble::Ask) {
    split.error().place = "ratio";
    return tl::unexpected<Problem>(std::move(split.error()));
  }
  if (!split || split->sign.empty() || !(split->first > 0) || !(split->second > 0)) return unreadable;
  const double a = split->first, b = split->second;
  using Readings = std::vector<Parts>;

  if (split->sign == "in" || split->sign == "en") {
    if (a > b || !split->rest.empty()) return unreadable;
    return Readings{{a, b - a}};
  }
  const bool tea_first = split->rest == "tea to water" || split->rest == "té a agua" || split->rest == "te a agua";
  const bool water_first = split->rest == "water to tea" || split->rest == "agua a té" || split->rest == "agua a te";
  if (!split->rest.empty() && !tea_first && !water_first) return unreadable;
  if (tea_first) return Readings{{a, b}};
  if (water_first) return Readings{{b, a}};
  if (split->sign == "/") {
    if (a >= b) return unreadable;
    return Readings{{a, b - a}, {a, b}};  // A quarter of it, or one to four?
  }
  if (a > b) return Readings{{b, a}, {a, b}};  // '4 to 1': mostly water, or mostly tea?
  return Readings{{a, b}};
}

Result<Mix> mix_for_spray(Volume spray, Parts parts) {
  if (!(spray.si() > 0) || !std::isfinite(spray.si())) return refuse(Trouble::BadInput, "ratio.volume"_w, {}, "spray");
  if (!(parts.tea >= 0) || !(parts.water >= 0) || !(parts.all() > 0))
    return refuse(Trouble::BadInput, "ratio.parts"_w, {}, "ratio");
  const Volume tea = spray * (parts.tea / parts.all());
  return Mix{tea, spray - tea};
}

Result<Mix> mix_from_tea(Volume tea, Parts parts) {
  if (!(tea.si() > 0) || !std::isfinite(tea.si())) return refuse(Trouble::BadInput, "ratio.volume"_w, {}, "tea");
  if (!(parts.tea > 0) || !(parts.water >= 0)) return refuse(Trouble::BadInput, "ratio.parts"_w, {}, "ratio");
  return Mix{tea, tea * (parts.water / parts.tea)};
}

std::optional<Parts> small_parts(double tea_fraction) {
  constexpr int kMostParts = 20;
  for (int all = 1; all <= kMostParts; ++all) {
    const double tea = std::round(tea_fraction * all);
    if (tea >= 1 && std::abs(tea / all / tea_fraction - 1) <= 0.01) return Parts{tea, all - tea};
  }
  return std::nullopt;
}

}  // namespace steep
