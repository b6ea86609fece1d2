#include "screens/settings.h"

#include <algorithm>

#include "base/text.h"

namespace steep {

Settings read_settings(Platform& platform) {
  Settings s;
  std::string language = platform.setting(setting::kLanguage);
  if (language.empty()) language = platform.language();
  s.language = language_from_code(std::string_view(language).substr(0, 2));

  const std::string units = platform.setting(setting::kUnits);
  s.system_chosen = units == "us" || units == "metric";
  s.system = units == "metric" ? System::Metric : System::Us;

  const std::string mark = platform.setting(setting::kMark);
  const char of_device = platform.decimal_mark();
  s.mark = (mark.empty() ? of_device == ',' : mark == ",") ? DecimalMark::Comma : DecimalMark::Point;

  const std::string theme = platform.setting(setting::kTheme);
  s.theme = theme == "day" ? ThemeChoice::Day : theme == "dusk" ? ThemeChoice::Dusk : ThemeChoice::Auto;

  if (const auto percent = parse_int(platform.setting(setting::kTextSize))) {
    s.text_percent = static_cast<int>(std::clamp<std::int64_t>(*percent / 10 * 10, 100, 160));
  } else {
    // The device's own text size, in our steps.
    const float scale = platform.device_look().text_scale;
    s.text_percent = std::clamp(static_cast<int>(scale * 10 + 0.5f) * 10, 100, 160);
  }
  s.left_handed = platform.setting(setting::kHand) == "left";
  const std::string motion = platform.setting(setting::kMotion);
  s.less_motion = motion == "less" || (motion.empty() && platform.device_look().less_motion);
  if (const auto id = Id::parse(platform.setting(setting::kPerson))) s.person = *id;
  if (const auto id = Id::parse(platform.setting(setting::kFarm))) s.farm = *id;
  s.watch_folder = platform.setting(setting::kWatchFolder);
  return s;
}

}  // namespace steep
