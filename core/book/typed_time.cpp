// Days and times as people type them: 'tomorrow', '14 may', '4/5', '6:30 pm'.
#include <algorithm>

#include "base/text.h"
#include "book/enter.h"
#include "book/saves.h"
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

Result<Date> sensible(Date date, Date today) {
  if (date.year > today.year + 10 || date.year < today.year - 50)
    return refuse(Trouble::Ask, "enter.year-far"_w, {std::to_string(date.year)});
  return date;
}

}  // namespace

Result<Date> read_date(std::string_view typed, Date today) {
  const std::string_view text = trim(typed);
  const auto bad = [&] { return refuse(Trouble::BadInput, "enter.date"_w, {text}); };
  if (const auto iso = parse_date(text)) return sensible(*iso, today);
  const std::string low = lower(text);
  if (low == "today" || low == "hoy") return today;
  if (low == "yesterday" || low == "ayer") return today + -1;
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
    if (!is_date(year.value_or(today.year), month, day)) return bad();
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
  return bad();
}

Result<Stamp> read_time(std::string_view typed, const Zone& zone, Stamp now) {
  const std::string_view text = trim(typed);
  if (lower(text) == "now" || lower(text) == "ahora") return now;
  if (const auto stamp = parse_stamp(text)) return *stamp;
  const auto bad = [&] { return refuse(Trouble::BadInput, "enter.time"_w, {text}); };
  // The clock is the last word that holds a colon, with am or pm behind it.
  const auto colon = text.find(':');
  LocalTime local;
  local.date = zone.local(now.at).date;
  std::string_view day = text, clock;
  if (colon != std::string_view::npos) {
    auto begin = text.find_last_of(" T", colon);
    begin = begin == std::string_view::npos ? 0 : begin + 1;
    clock = trim(text.substr(begin));
    day = begin == 0 ? std::string_view{} : trim(text.substr(0, begin - 1));
    while (!day.empty() && day.back() == ',') day.remove_suffix(1);
    std::string low = lower(clock);
    bool pm = false, am = false;
    for (const std::string_view half : {"pm", "p.m.", "p. m."})
      if (low.size() > half.size() && std::string_view(low).substr(low.size() - half.size()) == half) {
        pm = true;
        low = std::string(trim(std::string_view(low).substr(0, low.size() - half.size())));
      }
    for (const std::string_view half : {"am", "a.m.", "a. m."})
      if (!pm && low.size() > half.size() && std::string_view(low).substr(low.size() - half.size()) == half) {
        am = true;
        low = std::string(trim(std::string_view(low).substr(0, low.size() - half.size())));
      }
    const auto pieces = split(low, ':');
    if (pieces.size() < 2 || pieces.size() > 3) return bad();
    const auto hour = parse_int(pieces[0]), minute = parse_int(pieces[1]);
    const auto second = pieces.size() == 3 ? parse_int(pieces[2]) : std::optional<std::int64_t>(0);
    if (!hour || !minute || !second || *minute < 0 || *minute > 59 || *second < 0 || *second > 59) return bad();
    if ((am || pm) && (*hour < 1 || *hour > 12)) return bad();
    local.hour = static_cast<int>(am || pm ? *hour % 12 + (pm ? 12 : 0) : *hour);
    if (local.hour < 0 || local.hour > 23) return bad();
    local.minute = static_cast<int>(*minute);
    local.second = static_cast<int>(*second);
  }
  if (!day.empty()) {
    TRY_ASSIGN(local.date, read_date(day, local.date));
  }
  if (clock.empty() && day.empty()) return bad();
  const std::vector<Moment> instants = zone.instants(local);
  if (instants.empty()) return refuse(Trouble::Ask, "enter.no-such-hour"_w, {text});
  if (instants.size() > 1)
    return refuse(Trouble::Ask, "enter.hour-twice"_w,
                  {text, stamp_text(zone.stamp(instants[0])), stamp_text(zone.stamp(instants[1]))});
  const Stamp stamp = zone.stamp(instants.front());
  // A plan may lie ahead, years from now nothing does.
  if (stamp.at > now.at + 10 * 366 * kDay)
    return refuse(Trouble::Ask, "enter.year-far"_w, {std::to_string(local.date.year)});
  return stamp;
}

}  // namespace steep
