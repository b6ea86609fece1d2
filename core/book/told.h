#pragma once
/// Names and stored texts as people are told them, in the reader's language.

#include <string>
#include <string_view>

#include "base/words.h"

namespace steep {

/// 'what.load' of a dose → 'load'.
std::string field_name(std::string_view kind, std::string_view key, const Words& words);
/// A group as people say it: 'what was done'; of a lone field its name.
std::string group_name(std::string_view kind, std::string_view group, const Words& words);
/// A stored word of the field: 'ready', 'over the rim'.
std::string stored_word(std::string_view key, std::string_view word, const Words& words);
/// A text as it stands in the record; where our own screens put a stored word or code into it, in words: reasons of
/// strikes and skips, wind and sky, what a tank held.
std::string text_told(std::string_view key, std::string_view text, const Words& words);
/// 'Lot K-19', 'Spray on N1': the kind and the name of a record; the kind alone where it has no name.
std::string kind_and_name(std::string_view kind, std::string_view name, const Words& words);
/// What a tank or vessel held: 'brew 13, Wettable sulfur' → 'Té 13, Wettable sulfur'. Brews are stored by their code
/// in English, the rest are names.
std::string held_text(std::string_view stored, const Words& words);

}  // namespace steep
