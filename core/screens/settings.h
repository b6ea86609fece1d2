#pragma once
/// What a person chose on this device; kept beside the book, never in it.

#include <string>
#include <string_view>

#include "base/id.h"
#include "base/words.h"
#include "host/platform.h"
#include "look/tokens.h"
#include "quantity/units_shown.h"

namespace steep {

/// The keys of Platform::setting. Values are stored words; an unknown or empty one means 'as the device'.
namespace setting {
inline constexpr std::string_view kLanguage = "language";         ///< 'en', 'es'
inline constexpr std::string_view kUnits = "units";               ///< 'us', 'metric'
inline constexpr std::string_view kMark = "decimal-mark";         ///< '.', ','
inline constexpr std::string_view kTheme = "theme";               ///< 'auto', 'day', 'dusk'
inline constexpr std::string_view kTextSize = "text-size";        ///< '100' … '160'
inline constexpr std::string_view kHand = "hand";                 ///< 'right', 'left'
inline constexpr std::string_view kMotion = "motion";             ///< 'full', 'less'
inline constexpr std::string_view kPerson = "person";             ///< Id of who writes on this copy
inline constexpr std::string_view kFarm = "farm";                 ///< Id of the farm shown
inline constexpr std::string_view kWatchFolder = "watch-folder";  ///< Path; empty = none. The front end looks into it.
}  // namespace setting

enum class ThemeChoice { Auto, Day, Dusk };

struct Settings {
  Language language = Language::English;
  System system = System::Us;
  bool system_chosen = false;  ///< False: the farm's own units are shown.
  DecimalMark mark = DecimalMark::Point;
  ThemeChoice theme = ThemeChoice::Auto;
  int text_percent = 100;  ///< 100–160 in steps of 10.
  bool left_handed = false;
  bool less_motion = false;
  Id person;                 ///< Nil = nobody named yet.
  Id farm;                   ///< Nil = the book's first.
  std::string watch_folder;  ///< Empty = none.
  bool operator==(const Settings&) const = default;
};

Settings read_settings(Platform& platform);

}  // namespace steep
