#pragma once
/// Names and stored texts as people are told them, in the reader's language.

#include <string>
#include <string_view>

#include "base/words.h"

namespace steep {

/// 'Lot K-19', 'Spray on N1': the kind and the name of a record; the kind alone where it has no name.
std::string kind_and_name(std::string_view kind, std::string_view name, const Words& words);
/// What a tank or vessel held: 'brew 13, Wettable sulfur' → 'Té 13, Wettable sulfur'. Brews are stored by their code
/// in English, the rest are names.
std::string held_text(std::string_view stored, const Words& words);

}  // namespace steep
