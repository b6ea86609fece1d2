#include "screens/work_result.h"

#include "base/text.h"
#include "quantity/time_shown.h"

namespace steep {
namespace {

bool is_text(OutputKind kind) {
  return kind != OutputKind::Quantity && kind != OutputKind::Air && kind != OutputKind::Number &&
         kind != OutputKind::Whole;
}

/// '2026-06-03 18:04' as 'Wed 6:04 pm'; what is no such text stays.
std::string local_reading(const std::string& iso, bool with_clock, const Surroundings& around) {
  const auto date = parse_date(iso.substr(0, 10));
  if (!date) return iso;
  if (!with_clock) return show_day(*date, around.today, around.words);
  InputSpec spec;
  spec.kind = InputKind::LocalTime;
  const auto value = read_value(spec, iso.substr(0, 16), {});  // Seconds and offset say nothing here.
  return value ? show_when(value->time, around.today, around.units.clock, around.words) : iso;
}

}  // namespace

std::string result_label(const ResultValue& result, const Words& words) {
  return sentence_case(label_text(result, words));
}

Shown result_reading(const ResultValue& result, const Surroundings& around) {
  Shown shown = result_shown(result, around.units, around.words);
  if (result.spec->kind == OutputKind::Date || result.spec->kind == OutputKind::LocalTime)
    shown.number = local_reading(result.text, result.spec->kind == OutputKind::LocalTime, around);
  return shown;
}

WorkAnswer shown_answer(const Calculation& calculation, const Answer& answer, const Surroundings& around) {
  const Words& words = around.words;
  WorkAnswer view;
  bool numbered = false;
  for (const ResultValue& result : answer.results) numbered = numbered || result.ordinal > 0;
  for (const ResultValue* result : results_to_read(answer, around.units, words)) {
    const Shown shown = result_reading(*result, around);
    WorkAnswer::Line line;
    line.name = result->name;
    line.words = result_label(*result, words);
    line.number = shown.number;
    line.unit = shown.unit;
    line.spoken = line.words + ", " + shown.speech();
    line.is_text = is_text(result->spec->kind);
    // Where a list came out, no single number is the answer.
    line.is_main = view.lines.empty() && !numbered;
    for (const Step* step : answer.steps_of(*result)) line.steps.push_back(show_step(*step, around.units, words));
    view.lines.push_back(std::move(line));
  }
  for (const Remark& note : answer.notes)
    (note.tone == Remark::Tone::Caution ? view.cautions : view.notes)
        .push_back(spell(note.word, remark_values(note, around.units, words), words, around.spell_as()));
  view.how = words("work.how"_w);
  view.source_word = words("work.source"_w);
  view.source = source_text(calculation, words);
  view.limits_word = words("work.limits"_w);
  view.limits = limits_text(calculation, words);
  for (const PossibleReading& reading : answer.readings)
    view.readings.push_back({std::string(reading.input), reading.text, words(reading.word, reading.values)});
  view.which = words("work.which_meant"_w);
  return view;
}

}  // namespace steep
