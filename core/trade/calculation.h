#pragma once
/// A calculation of the trade as data: name, inputs, outputs, source, and the function that answers.
///
/// The command line (`work NAME`), and every screen that offers calculations, read this table and need
/// to know no single calculation. A calculation lives in a `work_*.cpp` beside the formula it calls;
/// `calculations.cpp` lists them all. Names are stable for ever: programs call them.
///
/// To add one: write the pure function, then its entry (specs, example, run) in a `work_*.cpp`, add one
/// line to calculations.cpp, and its words to the string files: title, inputs, results, and in
/// 'work-limits.NAME' the range in which it answers. A test runs every example.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/moment.h"
#include "base/result.h"
#include "base/words.h"
#include "base/zone.h"
#include "quantity/quantities.h"
#include "quantity/units_shown.h"
#include "quantity/written.h"

namespace steep {

enum class InputKind {
  Quantity,   ///< With a unit: '15 gal/ac'.
  Number,     ///< A bare number, may be negative; '1.2e6' and '1.2 x 10^6' too.
  Whole,      ///< A whole number, 0 or more.
  Date,       ///< '2026-05-14'.
  LocalTime,  ///< '2026-05-14 18:04', on the farm's clock; '2026-11-01 01:30 -04:00' where it comes twice.
  Clock,      ///< '18:04'.
  Word,       ///< One of `words`.
  Text,       ///< Anything.
  YesNo,      ///< 'yes' or 'no'.
  Row,        ///< Several columns, separated by ';': '50 lb; 40 %; 1 %'. A column may be left empty if optional.
};

/// One input. Build with the functions below: `quantity_input("depth", Dimension::Length, "…"_w).optional()`.
struct InputSpec {
  std::string_view name;  ///< Kebab-case: '--spray-rate'.
  WordId help;            ///< What it is, in a few words.
  InputKind kind = InputKind::Quantity;
  Dimension dimension = Dimension::Number;  ///< Of Quantity; Number: any kind of quantity.
  Dimension other = Dimension::Number;      ///< A second kind that fits (weight or volume); Number: none.
  std::string_view standard;                ///< Taken when nothing is given, as a person would type it.
  bool required = true;
  bool many = false;       ///< May be given more than once.
  std::string_view words;  ///< Of Word: choices separated by '|'.
  std::span<const InputSpec> columns;

  // Written out: clang 14 takes no lambda of a template in constant expressions here.
  constexpr InputSpec optional() const {
    InputSpec spec = *this;
    spec.required = false;
    return spec;
  }
  constexpr InputSpec or_standard(std::string_view text) const {
    InputSpec spec = optional();
    spec.standard = text;
    return spec;
  }
  constexpr InputSpec repeated() const {
    InputSpec spec = *this;
    spec.many = true;
    return spec;
  }
  constexpr InputSpec or_by(Dimension second) const {
    InputSpec spec = *this;
    spec.other = second;
    return spec;
  }
};

// Constant expressions, so that tables of specs cost nothing at start.
constexpr InputSpec quantity_input(std::string_view name, Dimension dimension, WordId help) {
  InputSpec spec;
  spec.name = name;
  spec.help = help;
  spec.dimension = dimension;
  return spec;
}
constexpr InputSpec plain_input(std::string_view name, InputKind kind, WordId help) {
  InputSpec spec;
  spec.name = name;
  spec.help = help;
  spec.kind = kind;
  return spec;
}
constexpr InputSpec word_input(std::string_view name, std::string_view words, WordId help) {
  InputSpec spec = plain_input(name, InputKind::Word, help);
  spec.words = words;
  return spec;
}
constexpr InputSpec row_input(std::string_view name, std::span<const InputSpec> columns, WordId help) {
  InputSpec spec = plain_input(name, InputKind::Row, help);
  spec.columns = columns;
  return spec;
}

enum class OutputKind {
  Quantity,
  Air,  ///< A Quantity that is a flow of air: air_unit() says in what it is shown.
  Number,
  Fixed,  ///< A number in a unit that is shown as it stands and never turned into the reader's: '/mL', 'mm' in a microscope.
  Whole,
  Word,
  Date,
  LocalTime,
  Text,
};

/// One output: its unit is fixed for ever, whatever units the person likes to see.
struct OutputSpec {
  std::string_view name;  ///< Kebab-case; a '*' stands for a number ('load-*-tea').
  OutputKind kind = OutputKind::Number;
  std::string_view unit;  ///< Of Quantity and Air: a stored word of quantity/unit.h. Of Fixed: as it stands, or empty.
  int places = 2;         ///< Decimal places that deserve to be shown in that unit; of Fixed: significant digits.
  WordId label;           ///< What it is, in a few words; {0} = the number that '*' stands for.
};

/// One value given: what was typed, and how it was read.
struct Value {
  std::string text;                   ///< Normal form.
  std::optional<Written> written;     ///< Of Quantity.
  double number = 0;                  ///< SI of a quantity, a number, or 1 for yes and 0 for no.
  Date date;                          ///< Of Date and LocalTime.
  LocalTime time;                     ///< Of LocalTime and Clock (date unused there).
  std::optional<int> offset_minutes;  ///< Of LocalTime, where it was typed: says which of two equal clocks is meant.
  std::vector<std::optional<Value>> columns;  ///< Of Row: one for each column.

  bool is_yes() const { return number != 0; }
  template <class Q>
  Q as() const {
    return Q::from_si(number);
  }
  Dimension dimension() const { return written ? written->dimension() : Dimension::Number; }
};

/// What a calculation gets: every required input is there, standards are filled in.
class Inputs {
 public:
  struct Given {
    const InputSpec* spec;
    Value value;
    bool is_standard = false;  ///< Not given by the person.
  };
  Inputs() = default;
  explicit Inputs(const Habits& habits) : habits_(habits) {}
  /// The first value of that name; nullptr when it was not given and has no standard.
  const Value* find(std::string_view name) const;
  std::vector<const Value*> all(std::string_view name) const;
  /// Of an input that is required or has a standard.
  const Value& operator[](std::string_view name) const;
  template <class Q>
  std::optional<Q> maybe(std::string_view name) const {
    const Value* value = find(name);
    return value ? std::optional<Q>(value->as<Q>()) : std::nullopt;
  }
  template <class Q>
  Q get(std::string_view name) const {
    return (*this)[name].as<Q>();
  }
  const std::vector<Given>& given() const { return given_; }
  /// How the person writes, for texts that only the calculation itself can read.
  const Habits& habits() const { return habits_; }
  void add(Given given) { given_.push_back(std::move(given)); }

 private:
  Habits habits_;
  std::vector<Given> given_;
};

/// So much of something that a person named: what is to be weighed out, shown in the reader's units.
struct NamedAmount {
  double low = 0, high = 0;  ///< In `unit`, that of the recipe.
  const Unit* unit = nullptr;
};

/// One line of an answer.
struct ResultValue {
  std::string name;  ///< As in its spec, '*' replaced: 'load-2-tea'.
  const OutputSpec* spec = nullptr;
  double number = 0;                  ///< In the spec's unit; unused for Word, Date, LocalTime, Text.
  std::string text;                   ///< Of Word (a stored word), Date and LocalTime (ISO), Text.
  int ordinal = 0;                    ///< What '*' stands for.
  std::string named;                  ///< What '*' stands for, where a person gave it a name: 'kelp'.
  std::optional<NamedAmount> amount;  ///< Of Text: what `text` says of it.
};

struct Remark {
  enum class Tone { Plain, Caution };
  WordId word;
  std::vector<std::string> values;
  Tone tone = Tone::Plain;
  std::vector<std::pair<std::size_t, NamedAmount>> amounts;  ///< Which of the values are amounts, and what they are.
};

/// One way to read an input that can be read in several; the person chooses.
struct PossibleReading {
  std::string_view input;  ///< Which one.
  std::string text;        ///< What to put there instead: '1:4 tea to water'.
  WordId word;             ///< What it means, in words.
  std::vector<std::string> values;
};

/// One step of the way: the formula as in its source, and with the numbers put in.
struct Step {
  std::string of;       ///< Names of the results that come by it, as in their specs, with a blank between.
  int ordinal = 0;      ///< Of this one alone of the results with '*'; 0 = of all.
  std::string formula;  ///< 'GPA = 5940 · GPM / (mph · in)'
  std::string numbers;  ///< '5940 × 0.79 / (3 × 18) = 86.9'; 't = 20 °C, S = 0 → 8.7 mg/L'
  bool named = false;   ///< A name that somebody gave stands in place of the formula: 'kelp'.
  /// The numbers as they stand below the formula: with '= ' before them, unless they begin by naming one.
  std::string below() const;
};

struct Calculation;

/// Built line by line; `of` gives the specs, so that a name that is not declared is our mistake (assert).
class Answer {
 public:
  explicit Answer(const Calculation& of) : of_(&of) {}
  /// A number in the spec's own unit.
  void number(std::string_view name, double value, int ordinal = 0);
  /// A quantity, put into the spec's unit.
  template <class Q>
  void quantity(std::string_view name, Q value, int ordinal = 0) {
    si(name, value.si(), ordinal);
  }
  void si(std::string_view name, double si, int ordinal = 0);
  void text(std::string_view name, std::string text, int ordinal = 0);
  /// 'kelp: 5 cup' as text; people read it in their own units.
  void amount(std::string_view name, std::string_view named, const NamedAmount& amount, std::string text, int ordinal);
  /// What a person calls the results of this ordinal.
  void call(int ordinal, std::string_view named);
  void note(WordId word, Values values = {});
  void caution(WordId word, Values values = {}, std::vector<std::pair<std::size_t, NamedAmount>> amounts = {});
  /// A name in `of` that is not declared is our mistake (assert).
  void step(std::string_view of, std::string_view formula, std::string_view numbers, int ordinal = 0);
  /// The same of something that a person named; the name is never turned into another language.
  void named_step(std::string_view of, std::string_view name, std::string_view numbers, int ordinal = 0);
  void reading(std::string_view input, std::string_view text, WordId word, Values values);

  /// How this result came about: its own steps, in their order.
  std::vector<const Step*> steps_of(const ResultValue& result) const;

  std::vector<ResultValue> results;
  std::vector<Remark> notes;
  std::vector<Step> steps;
  std::vector<PossibleReading> readings;  ///< None or several.

 private:
  ResultValue& add(std::string_view name, int ordinal);
  const Calculation* of_;
};

struct Calculation {
  std::string_view name;  ///< 'oxygen': `steepbook work oxygen`.
  std::string_view
      topic;  ///< Where it is offered: 'mix', 'water', 'air', 'brew', 'spray', 'weather', 'field', 'wait', 'compost', 'count', 'money', 'plan'.
  WordId title;  ///< The question it answers.
  std::span<const InputSpec> inputs;
  std::span<const OutputSpec> outputs;
  std::string_view source;   ///< Author, title, year; or 'common practice, no source'.
  std::string_view example;  ///< As typed behind `work NAME`: '--temperature "68 F"'.
  Result<Answer> (*run)(const Inputs&);
};

/// All, by topic in the order in which they are offered.
std::span<const Calculation* const> all_calculations();
/// nullptr when there is none of that name.
const Calculation* find_calculation(std::string_view name);

/// One input as typed.
struct Typed {
  std::string name;
  std::string text;
};

/// Reads what was typed, by the specs. Trouble: BadInput for an unknown or missing name, a single input
/// given twice, or text that cannot be read; Ask where two readings are possible. `place` = the input's name.
Result<Inputs> read_inputs(const Calculation& calculation, std::span<const Typed> typed, const Habits& habits);
/// One value by its spec. `unit_if_bare`: the unit shown beside the field; without it a bare number is asked about.
Result<Value> read_value(const InputSpec& spec, std::string_view typed, const Habits& habits,
                         const Unit* unit_if_bare = nullptr);

/// The units to offer for it where none was written: usual_units of its kind, but of a density others than of what is
/// dissolved.
std::vector<const Unit*> units_to_offer(const InputSpec& spec);

/// '-04:00', as it stands behind a clock that comes twice.
std::string offset_text(int minutes);

/// Splits an example or a line of a script as a shell would: blanks separate, double quotes keep together.
/// '--name value' pairs behind the name; '--name=value' too.
std::vector<Typed> read_command_line(std::string_view line);

/// A result in words: unit of the reader's system for text, the fixed unit with `fixed_units`.
std::string result_text(const ResultValue& result, const UnitsShown& units, const Words& words,
                        bool fixed_units = false);

/// The same with number and unit apart; of words, dates and texts all is in `number`.
Shown result_shown(const ResultValue& result, const UnitsShown& units, const Words& words, bool fixed_units = false);
/// The results as people read them: one that reads like another in their units ('gal/acre' and 'L/ha') comes once.
std::vector<const ResultValue*> results_to_read(const Answer& answer, const UnitsShown& units, const Words& words);
/// The values of a remark with its amounts in the reader's words; their units stay, for they may be what was slipped.
std::vector<std::string> remark_values(const Remark& remark, const UnitsShown& units, const Words& words);
/// What it is, in words: 'Tea to put in, load 2', 'Kelp: least'.
std::string label_text(const ResultValue& result, const Words& words);
/// The same of the spec alone, for a list of results.
std::string label_text(const OutputSpec& spec, const Words& words);
/// Where it comes from, in the reader's language.
std::string source_text(const Calculation& calculation, const Words& words);
/// The range in which it answers, and what it leaves out; in words.
std::string limits_text(const Calculation& calculation, const Words& words);

/// For steps: `digits` significant digits, plain decimal, '·10^n' only far off ('4.09·10^7').
std::string figure(double value, int digits = 6);

}  // namespace steep
