// Days and times as people type them: 'tomorrow', '14 may', '4/5', '6:30 pm'.
#include <algorithm>

#include "base/text.h"
#include "book/enter.h"
#include "book/spelled.h"

namespace steep {

namespace {

/// 1–12 for the name of a month in English or Spanish, its first three letters at least; 0 = none.
int month_named(std::string_view word) {
  static constexpr std::string_view kMonths[12] = {"january|enero",   "february|febrero",   "march|marzo",
                                                   "april|abril",     "may|mayo",           "june|junio",
                                                   "july|julio",      "august|agosto",      "september|septiembre",
                                                   "october|octubre", "november|noviembre", "december|diciembre"};
  const std::string low = lower(word);
  if (low.size() < 3) return 0;
  for (int i = 0; i < 12; ++i)
    for (const std::string_view name : split(kMonths[i], '|'))
      if (name.substr(0, low.size()) == low) return i + 1;
  return 0;
}

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  std::size_t begin = 0;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    if (i < text.size() && text[i] != ' ' && text[i] != ',' && text[i] != '/' && text[i] != '.') continue;
    if (i > begin) words.push_back(text.substr(begin, i - begin));
    begin = i + 1;
  }
  return words;
}

/// 31 April: the month is shorter. Anything else is no day at all.
Result<Date> no_such_day(std::string_view typed, int year, int month, int day) {
  int last = 31;
  while (last > 28 && !is_date(year, month, last)) --last;
  if (!is_date(year, month, last) || day <= last || day > 31) return refuse(Trouble::BadInput, "enter.date"_w, {typed});
  return refuse(Trouble::BadInput, "enter.date-month-short"_w, {typed, std::to_string(last)});
}

Result<Date> sensible(Date date, Date today) {
  if (date.year > today.year + 10 || date.year < today.year - 50)
    return refuse(Trouble::Ask, "enter.year-far"_w, {std::to_string(date.year)});
  return date;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

auto not_a_time(std::string_view typed) { return refuse(Trouble::BadInput, "enter.time"_w, {typed}); }

/// 'z', '-05:00' behind a clock: in minutes, cut off `text`.
std::optional<int> take_offset(std::string_view& text) {
  constexpr std::size_t kLength = 6;
  if (text.size() > 1 && text.back() == 'z' && is_digit(text[text.size() - 2])) {
    text.remove_suffix(1);
    return 0;
  }
  if (text.size() <= kLength) return std::nullopt;
  const std::string_view end = text.substr(text.size() - kLength);
  const bool shaped = (end[0] == '+' || end[0] == '-') && is_digit(end[1]) && end[3] == ':';
  const auto hours = parse_int(end.substr(1, 2)), minutes = parse_int(end.substr(4));
  if (!shaped || !hours || !minutes || *hours > 14 || *minutes > 59) return std::nullopt;
  text = trim(text.substr(0, text.size() - kLength));
  return static_cast<int>(*hours * 60 + *minutes) * (end[0] == '-' ? -1 : 1);
}

enum class Half { None, Am, Pm, Hours };

/// 'am', 'p. m.', or the 'h' of '22 h', cut off `text`.
Half take_half(std::string_view& text) {
  static constexpr std::pair<std::string_view, Half> kHalves[] = {
      {"pm", Half::Pm},    {"p.m.", Half::Pm}, {"p. m.", Half::Pm},  {"am", Half::Am},   {"a.m.", Half::Am},
      {"a. m.", Half::Am}, {"h", Half::Hours}, {"hrs", Half::Hours}, {"hs", Half::Hours}};
  for (const auto& [word, half] : kHalves) {
    if (!text.ends_with(word)) continue;
    const std::string_view before = trim(text.substr(0, text.size() - word.size()));
    if (before.empty() || !is_digit(before.back())) continue;  // 'march' ends in an 'h' too.
    text = before;
    return half;
  }
  return Half::None;
}

/// The clock at the end, cut off `text`: '18:04', '18:04:30', '6:04 pm', '6 pm', '22 h', '22h30'; none = only a day stands there.
Result<std::optional<LocalTime>> take_clock(std::string_view& text, std::string_view typed) {
  std::string_view rest = text;
  const Half half = take_half(rest);
  const std::size_t gap = rest.find_last_of(" t,");  // 't' as in '2026-05-14t18:04'.
  const std::size_t begin = gap == std::string_view::npos ? 0 : gap + 1;
  std::string digits(rest.substr(begin));
  if (digits.empty() || !is_digit(digits[0])) return std::optional<LocalTime>();
  std::replace(digits.begin(), digits.end(), 'h', ':');
  const auto pieces = split(digits, ':');
  if (pieces.size() == 1 && half == Half::None) return std::optional<LocalTime>();
  constexpr int kMost[] = {23, 59, 59};
  int parts[3] = {0, 0, 0};
  if (pieces.size() > 3) return not_a_time(typed);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const auto number = parse_int(pieces[i]);
    if (!number || *number < 0 || *number > kMost[i]) return not_a_time(typed);
    parts[i] = static_cast<int>(*number);
  }
  if (half == Half::Am || half == Half::Pm) {
    if (parts[0] < 1 || parts[0] > 12) return not_a_time(typed);
    parts[0] = parts[0] % 12 + (half == Half::Pm ? 12 : 0);
  }
  text = trim(rest.substr(0, gap == std::string_view::npos ? 0 : gap));
  return std::optional<LocalTime>({{}, parts[0], parts[1], parts[2]});
}

/// '14 may at', 'hoy a las' without what joins the day to its clock.
std::string_view without_at(std::string_view day) {
  for (const std::string_view word : {"at", "a las", "a la", ","}) {
    if (!day.ends_with(word)) continue;
    const std::string_view before = day.substr(0, day.size() - word.size());
    if (word == "," || before.empty() || before.back() == ' ') return without_at(trim(before));
  }
  return day;
}

/// A day alone is not a time: which hour is for the person to say.
Result<Stamp> ask_hour(std::string_view typed, std::string_view day, Date today) {
  const auto date = read_date(day, today);
  if (date) return refuse(Trouble::Ask, "enter.hour-asked"_w, {typed});
  if (date.error().kind == Trouble::Ask) return tl::unexpected<Problem>(date.error());
  return not_a_time(typed);
}

Result<Stamp> instant_of(const LocalTime& local, std::optional<int> offset, const Zone& zone, std::string_view typed) {
  if (offset) {
    const std::int64_t minutes = local.hour * 60 + local.minute - *offset;
    return Stamp{{day_number(local.date) * kDay + minutes * kMinute + local.second * kSecond}, *offset};
  }
  const std::vector<Moment> instants = zone.instants(local);
  if (instants.empty()) return refuse(Trouble::Ask, "enter.no-such-hour"_w, {typed});
  if (instants.size() > 1)
    return refuse(Trouble::Ask, "enter.hour-twice"_w,
                  {typed, stamp_text(zone.stamp(instants[0])), stamp_text(zone.stamp(instants[1]))});
  return zone.stamp(instants.front());
}

}  // namespace

Result<Date> read_date(std::string_view typed, Date today) {
  const std::string_view text = trim(typed);
  const auto bad = [&] { return refuse(Trouble::BadInput, "enter.date"_w, {text}); };
  if (const auto iso = parse_date(text)) return sensible(*iso, today);
  const std::string low = lower(text);
  if (low == "today" || low == "hoy") return today;
  if (low == "yesterday" || low == "ayer") return today + -1;
  if (low == "tomorrow" || low == "mañana" || low == "manana") return today + 1;
  std::vector<std::string_view> words = words_of(text);
  words.erase(std::remove_if(words.begin(), words.end(), [](std::string_view w) { return w == "de" || w == "of"; }),
              words.end());
  if (words.size() < 2 || words.size() > 3) return bad();
  std::optional<int> year;
  if (words.size() == 3) {
    const auto number = parse_int(words[2]);
    if (!number || words[2].size() != 4) return bad();
    year = static_cast<int>(*number);
  }
  const auto day_of = [](std::string_view word) { return parse_int(word).value_or(0); };
  const int second = month_named(words[1]), first = month_named(words[0]);
  if (second != 0 || first != 0) {
    const int month = second != 0 ? second : first;
    const int day = static_cast<int>(day_of(second != 0 ? words[0] : words[1]));
    if (!is_date(year.value_or(today.year), month, day))
      return no_such_day(text, year.value_or(today.year), month, day);
    return sensible({year.value_or(today.year), month, day}, today);
  }
  // Digits alone: '4/5' is the 4th of May or the 5th of April.
  const int a = static_cast<int>(day_of(words[0])), b = static_cast<int>(day_of(words[1]));
  const int of = year.value_or(today.year);
  const bool day_first = is_date(of, b, a), month_first = is_date(of, a, b);
  if (day_first && month_first && a != b) {
    const Date one{of, b, a}, other{of, a, b};
    return refuse(Trouble::Ask, "enter.date-two-ways"_w,
                  {text, date_text(one), date_text(other), date_value_text(one), date_value_text(other)});
  }
  if (day_first) return sensible({of, b, a}, today);
  if (month_first) return sensible({of, a, b}, today);
  return b >= 1 && b <= 12 ? no_such_day(text, of, b, a) : no_such_day(text, of, a, b);
}

bool names_offset(std::string_view typed) {
  const std::string low = lower(trim(typed));
  std::string_view rest = low;
  return parse_stamp(trim(typed)) || take_offset(rest);
}

Result<Stamp> read_time(std::string_view typed, const Zone& zone, Stamp now) {
  const std::string_view text = trim(typed);
  const std::string low = lower(text);
  if (low == "now" || low == "ahora") return now;
  if (const auto stamp = parse_stamp(text)) return *stamp;
  std::string_view day = low;
  const std::optional<int> offset = take_offset(day);
  TRY_ASSIGN(const std::optional<LocalTime>& clock, take_clock(day, text));
  day = without_at(day);
  const Date today = zone.local(now.at).date;
  if (!clock) return ask_hour(text, day, today);
  LocalTime local = *clock;
  local.date = today;
  if (!day.empty()) {
    TRY_ASSIGN(local.date, read_date(day, today));
  }
  TRY_ASSIGN(const Stamp stamp, instant_of(local, offset, zone, text));
  // A plan may lie ahead, years from now nothing does.
  if (stamp.at > now.at + 10 * 366 * kDay)
    return refuse(Trouble::Ask, "enter.year-far"_w, {std::to_string(local.date.year)});
  return stamp;
}

}  // namespace steep
