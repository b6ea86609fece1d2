#pragma once
/// Values of sentences that the reader's language, units and zone have to shape.
///
/// A Problem, Caution or Review carries its values as texts. A date, a time, an amount or a code in them
/// is tagged by the functions below and put into words by `spell` at the edge, never inside the core.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "base/moment.h"
#include "base/words.h"
#include "base/zone.h"
#include "quantity/quantities.h"
#include "quantity/units_shown.h"
#include "quantity/written.h"

namespace steep {

std::string date_value_text(Date date);                ///< '2 May', with the year when it is another.
std::string moment_value_text(Moment at);              ///< 'Fri 6:46 pm'.
std::string amount_value_text(const Written& amount);  ///< As typed, converted beside it where units differ.
std::string amount_value_text(Volume volume);          ///< In the unit that suits.
std::string amount_value_text(Length length);
std::string amount_value_text(VolumePerArea rate);
std::string amount_value_text(Duration time);
/// 'Brew 31 k7q': `kind` is a stored kind ('brew', 'pass', 'load', 'lot'), `code` its number.
std::string code_value_text(std::string_view kind, std::string_view code);
/// A stored word ('leaf', 'tank-not-clean') that has a text of its own: key `prefix.word`.
std::string word_value_text(std::string_view prefix, std::string_view word);

/// A record by its id; open_questions (questions.h) puts its name or code in when the list is read.
std::string record_value_text(const Id& record);
/// The id behind such a value; nullopt for every other one.
std::optional<Id> record_in_value(std::string_view value);

struct SpellAs {
  UnitsShown units;
  Zone zone;
  Date today;
};
/// The values as this reader sees them; untagged ones as they are, control characters removed.
std::vector<std::string> spell(const std::vector<std::string>& values, const Words& words, const SpellAs& as);
/// The whole sentence.
std::string spell(WordId word, const std::vector<std::string>& values, const Words& words, const SpellAs& as);
std::string spell(const Problem& problem, const Words& words, const SpellAs& as);

}  // namespace steep
