#include "paper/paper_sheet.h"

#include "base/text.h"
#include "quantity/time_shown.h"

namespace steep {

std::string PaperSheet::day(Moment at) const { return show_short_day(data.farm.day(at), kFarFromToday, words); }

std::string PaperSheet::clock(Moment at) const { return show_clock(data.farm.zone.local(at), units.clock, words); }

std::string PaperSheet::when(Moment at) const { return day(at) + ", " + clock(at); }

std::vector<std::string> PaperSheet::span(Moment from, std::optional<Moment> to) const {
  if (!to) return {words("paper.from"_w, {day(from)}), clock(from)};
  if (from == *to) return {day(from), clock(from)};
  if (data.farm.day(from) != data.farm.day(*to)) return {when(from) + " –", when(*to)};
  const Zone& zone = data.farm.zone;
  return {day(from), show_clock_span(zone.local(from), zone.local(*to), units.clock, words)};
}

std::string PaperSheet::clock_since(Moment start, Moment at) const {
  const Date day = data.farm.day(at), first = data.farm.day(start);
  return day == first ? clock(at) : show_short_day(day, first, words) + " " + clock(at);
}

std::vector<std::string> PaperSheet::first_and_last(Moment first, Moment last) const {
  // What ends with a day ends at its midnight, and is meant as the day.
  const auto ends_a_day = [&](Moment end) { return data.farm.zone.start_of(data.farm.day(end)) == end; };
  if (!ends_a_day(first) || !ends_a_day(last)) return span(first, last);
  if (first == last) return {day(first)};
  return {day(first) + " –", day(last)};
}

std::string PaperSheet::bed_length(Length length) const {
  return show_in(unit(units.system == System::Us ? "ft" : "m"), length.si(), units, words).text();
}

std::string PaperSheet::stretch(Stretch stretch) const {
  const Unit& in = unit(units.system == System::Us ? "ft" : "m");
  return words("paper.stretch"_w, {show_in(in, stretch.from.si(), units, words).number, bed_length(stretch.to)});
}

std::string PaperSheet::field_area(Area area) const {
  const bool us = units.system == System::Us;
  const Unit& field = unit(us ? "acre" : "ha");
  const bool small = area.si() < si_of(0.1, field);
  return show_in(small ? unit(us ? "ft2" : "m2") : field, area.si(), units, words).text();
}

std::string PaperSheet::reason(const std::string& why) const { return words.stored("why." + why, why); }

std::string PaperSheet::spray(std::optional<Volume> spray, std::optional<Volume> tea, bool estimate) const {
  if (!spray) return words("paper.volume_not_known"_w);
  const std::string amount = (estimate ? "~" : "") + show(*spray, units, words);
  if (!tea || tea->si() <= 0) return words("paper.spray"_w, {amount});
  const Unit& unit = suited_unit(Dimension::Volume, spray->si(), units);
  return words("paper.spray_tea"_w, {amount, show_in(unit, tea->si(), units, words).number});
}

std::string PaperSheet::spray(const VolumeSum& sum, bool has_tea) const {
  std::string text = spray(sum.spray, has_tea ? std::optional(sum.tea) : std::nullopt, sum.estimated > 0);
  if (has_tea && sum.tea_not_known > 0) text += "; " + words.count("paper.without_tea"_w, sum.tea_not_known);
  if (sum.not_known > 0) text += "; " + words.count("paper.without_volume"_w, sum.not_known);
  return text;
}

std::string PaperSheet::how(HowKnown how) const {
  switch (how) {
    case HowKnown::Measured: return words("paper.how.measured"_w);
    case HowKnown::Share: return words("paper.how.share"_w);
    case HowKnown::Rate: return words("paper.how.rate"_w);
    case HowKnown::NotKnown: return words("paper.how.not_known"_w);
    case HowKnown::Skipped: return words("paper.how.skipped"_w);
  }
  return {};
}

std::string PaperSheet::hold_end(const Hold& hold) const {
  const std::string end = hold.until ? (hold.whole_day ? day(*hold.until) : when(*hold.until)) : "";
  switch (hold.state) {
    case Hold::State::None: return words("paper.no_wait"_w);
    case Hold::State::Until:
      return hold.to_settle > 0 ? words.count("paper.hold_settle"_w, hold.to_settle, {end}) : end;
    case Hold::State::NotKnown: break;
  }
  const Contributor* governing = hold.governing();
  const std::string why = governing ? words(unknown_wait_word(governing->wait.kind)) : "";
  return end.empty() ? words("paper.held"_w, {why}) : words("paper.held_not_before"_w, {why, end});
}

std::string PaperSheet::rule(const RuleWait& rule) const {
  const RuleSource& source = rule.source;
  std::string text;
  switch (source.kind) {
    case RuleSource::Kind::FarmTea: text = words("paper.rule.farm"_w, {source.name}); break;
    case RuleSource::Kind::Label: text = words("paper.rule.label"_w, {source.name}); break;
    case RuleSource::Kind::Standard: text = source.name; break;
    case RuleSource::Kind::ByHand: text = words("paper.rule.by_hand"_w, {source.name}); break;
  }
  if (!source.section.empty()) text += ", " + source.section;
  if (source.dated) text += ", " + show_short_day(*source.dated, kFarFromToday, words);
  std::vector<std::string> amounts;
  if (rule.readings.empty()) amounts.push_back(words(unknown_wait_word(Wait::Kind::NotKnown)));
  for (const Wait wait : rule.readings)
    amounts.push_back(wait.kind == Wait::Kind::Days    ? words.count("paper.days"_w, wait.amount)
                      : wait.kind == Wait::Kind::Hours ? words.count("paper.hours"_w, wait.amount)
                                                       : words(unknown_wait_word(wait.kind)));
  return text + ": " + join(amounts, ", ");
}

std::string PaperSheet::written(const RecordFacts& facts) const {
  const std::string at = when(facts.made.at);
  if (facts.late_from.empty()) return words("paper.written"_w, {at});
  return words("paper.written_from"_w, {at, words.stored("word." + facts.late_from, facts.late_from)});
}

std::string PaperSheet::reason_given(const Id& record) const {
  const auto found = data.reasons.find(record);
  return found == data.reasons.end() ? std::string() : words("paper.reason"_w, {found->second});
}

std::string PaperSheet::wind(const Weather& weather) const {
  if (weather.not_taken) return not_taken();
  if (weather.is_empty()) return words("paper.not_written"_w);
  std::vector<std::string> pieces;
  const std::string direction = words.stored("start.direction." + weather.direction, weather.direction);
  if (weather.wind)
    pieces.push_back(show(*weather.wind, units, words) + (direction.empty() ? "" : " " + direction));
  else if (!direction.empty())
    pieces.push_back(direction);
  if (weather.temperature) pieces.push_back(show(*weather.temperature, units, words));
  if (!weather.sky.empty()) pieces.push_back(words.stored("start.sky." + weather.sky, weather.sky));
  if (!weather.where.empty()) pieces.push_back(weather.where);
  return join(pieces, ", ");
}

}  // namespace steep
