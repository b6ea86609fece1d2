#include "screens/amount_sheet.h"

#include <algorithm>

#include "look/frame.h"
#include "look/sheet.h"

namespace steep {

void open_amount(AmountTyping& typing, std::string_view what, const std::optional<Written>& now, const Unit& unit) {
  typing = {};
  typing.what = what;
  typing.unit = now && now->unit ? now->unit->word : unit.word;
}

double usual_step(const Unit& unit) {
  struct Step {
    std::string_view word;
    double step;
  };
  static constexpr Step kSteps[] = {{"gal", 0.05},   {"imperial gal", 0.05},
                                    {"L", 0.1},      {"mL", 50},
                                    {"qt", 0.25},    {"ft", 1},
                                    {"m", 0.5},      {"mph", 1},
                                    {"km/h", 1},     {"m/s", 0.5},
                                    {"gal/acre", 1}, {"L/ha", 10},
                                    {"degF", 1},     {"degC", 0.5},
                                    {"fl oz", 1}};
  for (const Step& step : kSteps) {
    if (step.word == unit.word) return step.step;
  }
  return 1;
}

namespace {

/// Every unit that may be typed in, by name; which of them is chosen now.
struct UnitChoices {
  std::vector<std::string> labels;
  std::size_t chosen = 0;

  UnitChoices(const AmountTyping& typing, const AmountAsk& ask, const Words& words) {
    for (std::size_t i = 0; i < ask.units.size(); ++i) {
      labels.push_back(unit_label(*ask.units[i], 2, words));
      if (ask.units[i]->word == typing.unit) chosen = i;
    }
  }
};

NumberPadEvent draw_pad(AmountTyping& typing, const AmountAsk& ask, const UnitsShown& units,
                        const UnitChoices& unit_names, bool& closed) {
  const Words& words = look_words();
  std::vector<Choice> choices;
  for (const std::string& label : unit_names.labels) choices.push_back({.text = label});
  const std::string save = words("app.enter_amount"_w), why_not = words("app.type_a_number"_w);
  const std::string spoken = std::string(ask.title) + ", " + unit_spoken(*ask.units[unit_names.chosen], 2, words);
  NumberPad pad;
  pad.id = "amount-pad";
  pad.spoken = spoken;
  if (choices.size() > 1) {
    pad.units = choices;
    pad.unit_chosen = static_cast<int>(unit_names.chosen);
  } else if (!choices.empty()) {
    pad.unit = unit_names.labels.front();
  }
  pad.error = typing.error;
  pad.mark = units.mark == DecimalMark::Comma ? ',' : '.';
  pad.sign_key = ask.signs;
  pad.can_be_not_taken = ask.can_be_not_taken;
  pad.note_key = false;
  pad.save = save;
  pad.can_save = !typing.typed.empty();
  pad.why_not = why_not;
  Sheet sheet({.id = "amount", .title = ask.title});
  const NumberPadEvent event = number_pad(sheet.pen(), pad, typing.typed);
  closed = sheet.closed();
  return event;
}

/// The number converts: a person thinks of an amount, not of a figure.
void change_unit(AmountTyping& typing, const AmountAsk& ask, const UnitsShown& units, const Unit& from,
                 const Unit& to) {
  typing.unit = to.word;
  const auto now = read_quantity(typing.typed, ask.dimension, {units.mark, units.gallons}, &from);
  if (!now || to.dimension != ask.dimension) return;
  const Written converted = write_quantity(amount_in(si(*now).to_double(), to), to);
  typing.typed = converted.text.substr(0, converted.text.find(' '));
  if (units.mark == DecimalMark::Comma) std::replace(typing.typed.begin(), typing.typed.end(), '.', ',');
}

}  // namespace

AmountAnswer amount_sheet(AmountTyping& typing, const AmountAsk& ask, const UnitsShown& units) {
  const UnitChoices unit_names(typing, ask, look_words());
  const Unit& unit_now = *ask.units[unit_names.chosen];
  bool closed = false;
  const NumberPadEvent event = draw_pad(typing, ask, units, unit_names, closed);
  if (event.changed) typing.error.clear();
  if (event.unit >= 0 && static_cast<std::size_t>(event.unit) < ask.units.size())
    change_unit(typing, ask, units, unit_now, *ask.units[static_cast<std::size_t>(event.unit)]);

  AmountAnswer answer;
  if (event.not_taken) {
    answer.event = AmountEvent::NotTaken;
  } else if (event.saved && !typing.typed.empty()) {
    auto written = read_quantity(typing.typed, ask.dimension, {units.mark, units.gallons}, &unit_now);
    if (!written) {
      typing.error = look_words()(written.error());
      return answer;
    }
    answer = {AmountEvent::Saved, std::move(*written)};
  } else if (closed) {
    answer.event = AmountEvent::Closed;
  }
  if (answer.event != AmountEvent::None) typing = {};
  return answer;
}

}  // namespace steep
